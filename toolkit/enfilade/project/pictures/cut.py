"""What is left of a picture file once everything but the picture is cut away."""

from __future__ import annotations

import struct
from collections.abc import Callable
from dataclasses import dataclass
from functools import wraps
from typing import Final

from enfilade.errors import Refused
from enfilade.project.pictures.exif import Exif

__all__ = ["MOST_PARTS", "Cut", "damaged", "whole_or_refused"]

MOST_PARTS: Final = 100_000
"""Segments or chunks of one file; no camera writes nearly as many (own choice)."""


@dataclass(frozen=True, slots=True)
class Cut:
    """A picture file without the data about the picture, and what that data said of how to show it."""

    data: bytes
    exif: Exif
    moves: bool = False
    """The file held several pictures that follow each other in time."""


def damaged(why: str) -> Refused:
    """Return the refusal of a file that breaks off or does not hold what its format asks for."""
    return Refused(
        f"the picture is damaged ({why})", expected="a whole picture", do="open it in a viewer and save it again"
    )


def whole_or_refused(cut: Callable[[bytes], Cut]) -> Callable[[bytes], Cut]:
    """Let a reader index and unpack freely: where something is not there, the picture is refused."""

    @wraps(cut)
    def reader(data: bytes) -> Cut:
        try:
            return cut(data)
        except (IndexError, KeyError, struct.error) as error:
            raise damaged("a part is missing") from error

    return reader
