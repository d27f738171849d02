"""The zip file round a box, read by its published layout and strictly: nothing in it is hidden, doubled or unsaid.

Layout: PKWARE, APPNOTE.TXT, .ZIP File Format Specification, sections 4.3 and 4.4 (recalled). Members must fill the file
from its first byte to the directory, so that none overlaps another and no program can find other members than these.
"""

from __future__ import annotations

import os
import stat
import struct
import zlib
from dataclasses import dataclass
from pathlib import Path
from typing import BinaryIO, Final

from enfilade.archive.box.directory import STREAMED, Entry, bad, directory_of, entries_of, refuse_odd_extra
from enfilade.archive.box.layout import MOST_BYTES
from enfilade.archive.paths import twins
from enfilade.errors import NotFound, Refused
from enfilade.project.readable import readable

__all__ = ["Container", "Member", "container_of", "opened"]

_LOCAL: Final = struct.Struct("<4s5H3L2H")
_DESCRIPTORS: Final = (12, 16)
_READ: Final = os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_BINARY", 0)


@dataclass(frozen=True)
class Member:
    """A member: where its packed bytes stand in the file, and what they are to give.

    Attributes:
        start, packed: First byte, and how many.
        deflated: They are deflated; else they are stored as they are.
        size, crc: Of what they give.
    """

    name: str
    start: int
    packed: int
    deflated: bool
    size: int
    crc: int


@dataclass(frozen=True)
class Container:
    """A zip file that was found to be in order.

    Attributes:
        path: The file.
        members: By name; folders are left out.
    """

    path: Path
    members: dict[str, Member]

    def read(self, name: str) -> bytes:
        """Return what a member holds; never more than it says.

        Raises:
            NotFound, Refused: The file is gone or cannot be read.
            BadRecord: The member is damaged, or gives other than it says.
        """
        member = self.members[name]
        with opened(self.path) as stream:
            stream.seek(member.start)
            data = stream.read(member.packed)
        if member.deflated:
            data = _inflated(data, member, str(self.path))
        if len(data) != member.size or zlib.crc32(data) != member.crc:
            raise bad(self.path, name, "is damaged: it does not give what the directory says", "its size and checksum")
        return data


def _inflated(data: bytes, member: Member, path: str) -> bytes:
    unzip = zlib.decompressobj(-15)
    try:
        found = unzip.decompress(data, member.size + 1)
    except zlib.error as error:
        raise bad(path, member.name, f"is damaged ({error})", "what was packed") from error
    if not unzip.eof or unzip.unused_data:
        raise bad(path, member.name, "gives other than the directory says", f"{member.size} bytes")
    return found


def opened(path: Path) -> BinaryIO:
    """Open a box's file, refusing links and what is no plain file.

    Raises:
        NotFound, Refused: It is not there, or cannot be read.
    """
    try:
        handle = os.open(path, _READ)
    except FileNotFoundError as error:
        raise NotFound(f"{path} does not exist", do="check the path") from error
    except (OSError, ValueError) as error:
        what = "is a link" if os.path.islink(path) else f"cannot be read ({getattr(error, 'strerror', '') or error})"
        raise Refused(f"{str(path)!r} {what}", expected="a project box, a plain file") from error
    if not stat.S_ISREG(os.fstat(handle).st_mode):
        os.close(handle)
        raise Refused(f"{path} is not a plain file", expected="a project box")
    return os.fdopen(handle, "rb")


def container_of(path: Path) -> Container:
    """Read the directory of a zip file and hold it against every member's own header; nothing is unpacked yet.

    Raises:
        NotFound, Refused: It is not there, or cannot be read.
        BadRecord: It is no zip file, or holds something that a box does not.
    """
    with opened(path) as stream:
        try:
            return Container(path, _members(stream, path))
        except OSError as error:
            raise Refused(f"{path} cannot be read ({error.strerror or error})", do="check the disk") from error


def _members(stream: BinaryIO, path: Path) -> dict[str, Member]:
    directory, at, count = directory_of(stream, path)
    found: dict[str, Member] = {}
    end, whole = 0, 0
    entries = sorted(entries_of(directory, count, path), key=lambda entry: entry.offset)
    for entry in entries:
        loose = entry.offset - end
        if loose < 0:
            raise bad(path, entry.name, "overlaps another file of the box", "bytes of its own")
        if loose not in (0, *_DESCRIPTORS) or (loose and not found):
            raise bad(path, entry.name, f"{loose} bytes before it belong to no file", "files one after the other")
        start = _start(stream, entry, path)
        end = start + entry.packed
        whole += entry.size
        if whole > MOST_BYTES:
            raise bad(path, entry.name, "with it the box holds more than can be taken", f"at most {MOST_BYTES} bytes")
        if entry.name in found:
            raise bad(path, entry.name, "stands twice in the box", "each file once")
        found[entry.name] = Member(entry.name, start, entry.packed, entry.method == 8, entry.size, entry.crc)
    if at - end not in (0, *_DESCRIPTORS):
        raise bad(path, "directory", f"{at - end} bytes before it belong to no file", "files one after the other")
    if (pair := twins(name.rstrip("/") for name in found if not name.endswith("/"))) is not None:
        raise bad(
            path, pair[1], f"is one file with {readable(repr(pair[0]), 200)} on some machines", "a name of its own"
        )
    return {name: member for name, member in found.items() if not name.endswith("/")}


def _start(stream: BinaryIO, entry: Entry, path: Path) -> int:
    """Return where a member's bytes begin, after holding its own header against the directory."""
    stream.seek(entry.offset)
    head = stream.read(_LOCAL.size)
    if len(head) < _LOCAL.size or head[:4] != b"PK\x03\x04":
        raise bad(path, entry.name, "does not begin where the directory says", "its own header")
    _, _, flags, method, _, _, crc, packed, size, names, extras = _LOCAL.unpack(head)
    raw, extra = stream.read(names), stream.read(extras)
    said, told = (crc, packed, size), (entry.crc, entry.packed, entry.size)
    streamed = bool(flags & STREAMED)
    agrees = (flags, method, raw) == (entry.flags, entry.method, entry.raw) and len(extra) == extras
    if not agrees or not (said == told or (streamed and said == (0, 0, 0))):
        raise bad(path, entry.name, "its own header says other than the directory", "one and the same")
    refuse_odd_extra(extra, entry.name, path)
    return entry.offset + _LOCAL.size + int(names) + int(extras)
