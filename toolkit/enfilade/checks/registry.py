"""What a check is: a function that declares what it reads, and receives only that."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final, Literal

from enfilade.errors import OutOfRange
from enfilade.findings import Finding
from enfilade.project.things import KINDS

if TYPE_CHECKING:
    from enfilade.checks.view import View
    from enfilade.standards.yardsticks import Yardstick

__all__ = ["CHECKS", "EVERYTHING", "PARTS", "Check", "Judge", "check"]

Judge = Callable[["View", "Yardstick"], Iterator[Finding]]

PARTS: Final = frozenset({"openings", "household", "brief", "decisions", "products", "finishes", "script", "show"})
"""Parts of the record that are not things, which a check declares like a kind."""

EVERYTHING: Final = frozenset(KINDS) | PARTS
"""What a check of the house declares that may look at any figure of the record, such as one of what is said."""

CHECKS: Final[list[Check]] = []
"""Every check, in the order of its module's import."""


@dataclass(frozen=True)
class Check:
    """A registered check.

    Attributes:
        name: `module.function`, unique.
        reads: Kinds of things and parts of the record that it receives.
        scope: Whether it judges one space at a time or the house.
        uses: Uses of spaces that it applies to; None for all.
        options: Names of the yardstick's options that it asks for.
        judge: The function.
    """

    name: str
    reads: frozenset[str]
    scope: Literal["space", "house"]
    uses: frozenset[str] | None
    options: frozenset[str]
    judge: Judge


def check(
    *,
    reads: Iterable[str],
    scope: Literal["space", "house"] = "space",
    uses: Iterable[str] | None = None,
    options: Iterable[str] = (),
) -> Callable[[Judge], Judge]:
    """Register a check; see `Check` for the arguments.

    Raises:
        OutOfRange: It reads something that is neither a kind nor a part of the record.
    """

    def register(judge: Judge) -> Judge:
        declared = frozenset(reads)
        unknown = declared - KINDS.keys() - PARTS
        if unknown:
            raise OutOfRange(
                f"check {judge.__name__} reads {sorted(unknown)}", expected="kinds of things, or " + ", ".join(PARTS)
            )
        CHECKS.append(
            Check(
                name=f"{judge.__module__.rpartition('.')[2]}.{judge.__name__}",
                reads=declared,
                scope=scope,
                uses=None if uses is None else frozenset(uses),
                options=frozenset(options),
                judge=judge,
            )
        )
        return judge

    return register
