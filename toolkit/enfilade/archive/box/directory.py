"""The directory of a box's zip file, read strictly: what it says of every member.

Layout: PKWARE, APPNOTE.TXT, .ZIP File Format Specification, sections 4.3.12 and 4.3.16 (recalled).
"""

from __future__ import annotations

import os
import stat
import struct
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import BinaryIO, Final

from enfilade.archive.box.layout import LARGEST_BYTES, MOST_MEMBERS, MOST_RATIO, SMALL_BYTES
from enfilade.archive.paths import fault_in
from enfilade.errors import BadRecord, Fault
from enfilade.project.readable import readable

__all__ = ["STREAMED", "Entry", "bad", "directory_of", "entries_of", "refuse_odd_extra"]

_END: Final = struct.Struct("<4s4H2LH")
_ENTRY: Final = struct.Struct("<4s6H3L5H2L")
STREAMED: Final = 0x0008
"""Flag of a member whose sizes stand behind it."""
_UTF8: Final = 0x0800
_SPEED: Final = 0x0006
_REGULAR_DOS: Final = 0x27
_FOLDER_DOS: Final = 0x10
_OTHER_SIZE: Final = 0x0001
_OTHER_NAME: Final = 0x7075


@dataclass(frozen=True)
class Entry:
    """What the directory says of a member; `raw` is its name in bytes, `offset` where its own header begins."""

    name: str
    raw: bytes
    flags: int
    method: int
    crc: int
    packed: int
    size: int
    offset: int


def entries_of(directory: bytes, count: int, path: Path) -> Iterator[Entry]:
    """Yield the entries of a directory.

    Raises:
        BadRecord: One is no plain file of a box.
    """
    at = 0
    for number in range(1, count + 1):
        if directory[at : at + 4] != b"PK\x01\x02" or at + _ENTRY.size > len(directory):
            raise bad(path, f"directory/{number}", "is no entry", f"{count} entries, as the end of the file says")
        (_, _, _, flags, method, _, _, crc, packed, size, names, extras, comments, disk, _, outer, offset) = (
            _ENTRY.unpack_from(directory, at)
        )  # fmt: skip
        raw = directory[at + _ENTRY.size : at + _ENTRY.size + names]
        extra = directory[at + _ENTRY.size + names : at + _ENTRY.size + names + extras]
        at += _ENTRY.size + names + extras + comments
        place = f"directory/{number}"
        name = _name(raw, flags, path, place)
        _refuse_odd_kind(name, outer, disk, path)
        if flags & 1:
            raise bad(path, name, "is encrypted", "a box that anyone can read")
        if flags & ~(STREAMED | _UTF8 | _SPEED) or method not in (0, 8):
            raise bad(
                path, name, f"is packed in an odd way (method {method}, flags {flags:#06x})", "stored or deflated"
            )
        refuse_odd_extra(extra, name, path)
        _refuse_size(name, method, packed, size, path)
        yield Entry(name, raw, flags, method, crc, packed, size, offset)
    if at != len(directory):
        raise bad(path, "directory", f"goes on after its {count} entries", f"{count} entries")


def _name(raw: bytes, flags: int, path: Path, place: str) -> str:
    try:
        name = raw.decode("utf-8" if flags & _UTF8 else "ascii")
    except UnicodeDecodeError as error:
        raise bad(path, place, "its name is no UTF-8, or not said to be", "a name in UTF-8") from error
    if fault := fault_in(name.removesuffix("/")):
        raise bad(path, place, f"the name {readable(repr(name), 200)}: {fault}", "a plain path inside the box")
    return name


def _refuse_odd_kind(name: str, outer: int, disk: int, path: Path) -> None:
    kind, folder = stat.S_IFMT(outer >> 16), name.endswith("/")
    if kind not in (0, stat.S_IFDIR if folder else stat.S_IFREG):
        what = "is a link" if kind == stat.S_IFLNK else "is no plain file"
        raise bad(path, name, what, "plain files")
    if outer & 0xFFFF & ~(_REGULAR_DOS | (_FOLDER_DOS if folder else 0)) or disk:
        raise bad(path, name, "is no plain file", "plain files")


def _refuse_size(name: str, method: int, packed: int, size: int, path: Path) -> None:
    if name.endswith("/") and size:
        raise bad(path, name, "is a folder that holds bytes", "files, and folders that hold nothing")
    if max(size, packed) > LARGEST_BYTES:
        raise bad(path, name, f"says that it holds {max(size, packed)} bytes", f"at most {LARGEST_BYTES}")
    if method == 0 and packed != size:
        raise bad(path, name, f"is stored, yet has two sizes ({packed} and {size})", "one size")
    if size > SMALL_BYTES and size > packed * MOST_RATIO:
        raise bad(path, name, f"would grow from {packed} to {size} bytes", f"at most {MOST_RATIO} times")


def refuse_odd_extra(extra: bytes, name: str, path: Path) -> None:
    """Refuse an extra field that tells of another size or name than the entry does.

    Raises:
        BadRecord: There is one, or they cannot be read.
    """
    if _extra_kinds(extra) & {_OTHER_SIZE, _OTHER_NAME, None}:
        raise bad(path, name, "has an extra field that tells of another size or name", "plain zip, under 4 GiB")


def _extra_kinds(extra: bytes) -> set[int | None]:
    """Return the kinds of extra fields; None among them when they cannot be read."""
    kinds: set[int | None] = set()
    while extra:
        if len(extra) < 4:
            return {*kinds, None}
        kind, long = struct.unpack_from("<2H", extra)
        if len(extra) < 4 + long:
            return {*kinds, None}
        kinds.add(kind)
        extra = extra[4 + long :]
    return kinds


def directory_of(stream: BinaryIO, path: Path) -> tuple[bytes, int, int]:
    """Return the bytes of the directory, where it begins, and how many entries it says it has.

    Raises:
        BadRecord: It is no zip file, or none in one piece.
    """
    size = stream.seek(0, os.SEEK_END)
    if size < _END.size:
        raise bad(path, "end of the file", f"a file of {size} bytes is no box", "a zip file")
    stream.seek(size - _END.size)
    sign, disk, disk_of, here, count, long, at, comment = _END.unpack(stream.read(_END.size))
    if sign != b"PK\x05\x06" or comment:
        raise bad(path, "end of the file", "is no end of a zip file", "a box, whole, and nothing behind it")
    if disk or disk_of or here != count:
        raise bad(path, "end of the file", "the box is one part of several", "a zip file in one piece")
    if count > MOST_MEMBERS:
        raise bad(path, "end of the file", f"the box holds {count} files", f"at most {MOST_MEMBERS}")
    if at + long != size - _END.size:
        raise bad(path, "end of the file", "the directory is not where it says", "a directory just before the end")
    stream.seek(at)
    return stream.read(long), at, count


def bad(path: Path | str, place: str, what: str, expected: str) -> BadRecord:
    """Return the error for one place of a box."""
    return BadRecord(str(path), [Fault(readable(place, 200), what, expected)])
