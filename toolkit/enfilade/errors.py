"""One family of errors: each says what, how much, what was expected, and what to do."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

__all__ = [
    "BadRecord",
    "Conflict",
    "EnfiladeError",
    "Fault",
    "NewerFormat",
    "NotFound",
    "OutOfRange",
    "Refused",
    "require_positive",
]


class EnfiladeError(Exception):
    """What every error of the toolkit descends from.

    Args:
        what: What is wrong, with the value that was met.
        expected: What would have been right.
        do: What the reader can do about it.
    """

    def __init__(self, what: str, *, expected: str = "", do: str = "") -> None:
        self.what = what
        self.expected = expected
        self.do = do
        super().__init__(what)

    def __str__(self) -> str:
        text = self.what
        if self.expected:
            text += f"; expected {self.expected}"
        if self.do:
            text += f"; {self.do}"
        return text


# ruff: noqa: N818 - the names say what is wrong, and each is an error by its base.


class OutOfRange(EnfiladeError, ValueError):
    """A number lies outside the range for which the answer is true."""


class NotFound(EnfiladeError, LookupError):
    """A name, row or file that was asked for does not exist."""


class Refused(EnfiladeError, ValueError):
    """Input that cannot be read or must not be trusted."""


class Conflict(EnfiladeError, RuntimeError):
    """The disk holds something other than what was loaded; nothing was written."""


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing wrong with a file: where (`record/field`), what, and what was expected."""

    place: str
    what: str
    expected: str = ""

    def __str__(self) -> str:
        tail = f"; expected {self.expected}" if self.expected else ""
        return f"{self.place}: {self.what}{tail}"


class BadRecord(Refused):
    """A project file holds something that cannot exist.

    Args:
        file: Name of the file, as the user gave it.
        faults: Every fault that was found, at least one.
    """

    def __init__(self, file: str, faults: Sequence[Fault]) -> None:
        self.file = file
        self.faults = tuple(faults)
        super().__init__("\n".join(f"{file}: {fault}" for fault in self.faults))

    def __str__(self) -> str:
        return f"{self.what}\n{self.do}" if self.do else self.what

    def __reduce__(self) -> tuple[Any, ...]:
        # A worker process hands its error back as a pickle, which would call the class with the message alone.
        return type(self), (self.file, self.faults), {"do": self.do}


class NewerFormat(BadRecord):
    """A project file is whole, and of a format that only a newer version reads."""


def require_positive(**values: float) -> None:
    """Refuse a number that is zero, negative or not finite, by its name.

    Raises:
        OutOfRange: One of the values is not above 0.
    """
    for name, value in values.items():
        if not (math.isfinite(value) and value > 0):
            raise OutOfRange(f"{name} is {value!r}", expected="a finite number above 0")
