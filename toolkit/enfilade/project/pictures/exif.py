"""The two facts that are read from a camera's own data: which way is up, and the day.

CIPA DC-008 (Exif 2.32): 4.5 for the structure, which is that of TIFF 6.0, and 4.6 for the tags
(recalled). Everything else in it - position, maker, serial number, small picture - is never looked at.
"""

from __future__ import annotations

import contextlib
import datetime as dt
import re
import struct
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

__all__ = ["Exif", "read_exif"]

_ORIENTATION: Final = 0x0112
_EXIF_FOLDER: Final = 0x8769
_TAKEN: Final = (0x9003, 0x9004)
"""DateTimeOriginal and, for what was digitized from film, DateTimeDigitized."""
_ASCII, _SHORT, _LONG = 2, 3, 4
_MOST_ENTRIES: Final = 1000
_DAY: Final = re.compile(rb"(\d{4}):(\d\d):(\d\d)")


@dataclass(frozen=True, slots=True)
class Exif:
    """Orientation 1 to 8 as Exif numbers it (1: as stored), and the day on which the picture was taken."""

    orientation: int = 1
    taken_on: dt.date | None = None


@dataclass(frozen=True, slots=True)
class _Entry:
    tag: int
    kind: int
    count: int
    value: bytes


def read_exif(tiff: bytes) -> Exif:
    """Read what is needed, and nothing where the data is damaged.

    Args:
        tiff: The data from its byte-order mark on (`II` or `MM`).
    """
    order = {b"II*\0": "<", b"MM\0*": ">"}.get(tiff[:4])
    if order is None:
        return Exif()
    orientation, taken_on = 1, None
    with contextlib.suppress(struct.error, IndexError):
        for entry in _entries(tiff, order, _number(tiff[4:8], order)):
            if entry.tag == _ORIENTATION and entry.kind == _SHORT:
                orientation = struct.unpack(order + "H", entry.value[:2])[0]
            elif entry.tag == _EXIF_FOLDER and entry.kind == _LONG:
                taken_on = _taken_on(tiff, order, _number(entry.value, order))
    return Exif(orientation if 1 <= orientation <= 8 else 1, taken_on)


def _taken_on(tiff: bytes, order: str, at: int) -> dt.date | None:
    days: dict[int, dt.date] = {}
    with contextlib.suppress(struct.error, IndexError):
        for entry in _entries(tiff, order, at):
            if entry.tag in _TAKEN and entry.kind == _ASCII and entry.count >= 10:
                start = _number(entry.value, order)
                with contextlib.suppress(ValueError):  # 0000:00:00 is written where the clock was never set.
                    if day := _DAY.match(tiff[start : start + 10]):
                        days[entry.tag] = dt.date(*map(int, day.groups()))
    return next((days[tag] for tag in _TAKEN if tag in days), None)


def _entries(tiff: bytes, order: str, at: int) -> Iterator[_Entry]:
    (count,) = struct.unpack_from(order + "H", tiff, at)
    for i in range(min(count, _MOST_ENTRIES)):
        yield _Entry(*struct.unpack_from(order + "HHI4s", tiff, at + 2 + 12 * i))


def _number(value: bytes, order: str) -> int:
    number: int = struct.unpack(order + "I", value)[0]
    return number
