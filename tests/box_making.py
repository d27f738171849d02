"""Project boxes for tests: a good one, and ways to write one field by field, so that each can lie."""

from __future__ import annotations

import datetime as dt
import functools
import hashlib
import io
import json
import struct
import tempfile
import zipfile
import zlib
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from enfilade.archive.archive import Archive
from enfilade.archive.box import write_box
from enfilade.archive.versions import Version, seal_of
from enfilade.project.store import load, save
from project_folders import good_plain, put

__all__ = [
    "Raw",
    "boxed",
    "good_box",
    "good_members",
    "own_header",
    "raws",
    "resealed",
    "sealed_box",
    "summed",
    "zipped",
]


@functools.cache
def good_box() -> bytes:
    """Return a box of three versions of a small house with a photograph."""
    with tempfile.TemporaryDirectory() as folder:
        home = Path(folder) / "house"
        put(home, good_plain())
        with Archive(str(Path(folder) / "archive.sqlite")) as archive:
            archive.keep(home, why="before the tender", who="the designer")
            for name in ("The second", "The third"):
                project = load(home)
                changed = project.model_copy(update={"name": name})
                changed._loaded = project._loaded
                save(changed, home)
                archive.keep(home, who="the designer")
            return write_box(archive, load(home).id, Path(folder) / "box.zip").read_bytes()


@functools.cache
def _members() -> dict[str, bytes]:
    with zipfile.ZipFile(io.BytesIO(good_box())) as box:
        return {entry.filename: box.read(entry) for entry in box.infolist()}


def good_members() -> dict[str, bytes]:
    """Return what lies in the good box, by name."""
    return dict(_members())


@dataclass(frozen=True)
class Raw:
    """A member as it is to stand in a zip file, lies and all.

    Attributes:
        packed: What stands there in place of the packed data.
        hidden: The directory alone tells of it.
        said, own: Fields of the directory's entry, and of the member's own header, in place of the true ones.
    """

    name: bytes
    data: bytes
    method: int = 8
    flags: int = 0
    outer: int = 0o100644 << 16
    extra: bytes = b""
    packed: bytes | None = None
    hidden: bool = False
    said: dict[str, int] = field(default_factory=dict)
    own: dict[str, Any] = field(default_factory=dict)


def own_header(entry: Raw, own: dict[str, Any]) -> bytes:
    """Return a member's own header."""
    return (
        struct.pack(
            "<4s5H3L2H",
            b"PK\x03\x04",
            20,
            own["flags"],
            own["method"],
            0,
            33,
            own["crc"],
            own["packed"],
            own["size"],
            len(own["name"]),
            len(entry.extra),
        )
        + own["name"]
        + entry.extra
    )


def zipped(entries: list[Raw], *, head: bytes = b"", tail: bytes = b"", comment: bytes = b"", **end: int) -> bytes:
    """Return a zip file, written field by field (PKWARE, APPNOTE.TXT, 4.3; recalled), so that each can lie."""
    whole, directory = head, b""
    for entry in entries:
        squeeze = zlib.compressobj(6, zlib.DEFLATED, -15)
        true = squeeze.compress(entry.data) + squeeze.flush() if entry.method == 8 else entry.data
        packed = true if entry.packed is None else entry.packed
        about: dict[str, Any] = {
            "flags": entry.flags, "method": entry.method, "crc": zlib.crc32(entry.data), "packed": len(packed),
            "size": len(entry.data), "name": entry.name, "offset": len(whole), "disk": 0,
        }  # fmt: skip
        own, said = {**about, **entry.own}, {**about, **entry.said}
        if not entry.hidden:
            whole += own_header(entry, own) + packed
        directory += struct.pack(
            "<4s6H3L5H2L", b"PK\x01\x02", 0x0314, 20, said["flags"], said["method"], 0, 33, said["crc"], said["packed"],
            said["size"], len(entry.name), len(entry.extra), 0, said["disk"], 0, entry.outer, said["offset"],
        ) + entry.name + entry.extra  # fmt: skip
    count = end.get("count", len(entries))
    at = end.get("at", len(whole))
    size = end.get("size", len(directory))
    last = struct.pack("<4s4H2LH", b"PK\x05\x06", end.get("disk", 0), 0, count, count, size, at, len(comment))
    return whole + directory + last + comment + tail


def raws(members: dict[str, bytes]) -> list[Raw]:
    """Return members as they stand in an honest zip file."""
    return [
        Raw(name.encode("utf-8", "surrogatepass"), data, flags=0 if name.isascii() else 0x0800)
        for name, data in members.items()
    ]


def summed(members: dict[str, bytes]) -> dict[str, bytes]:
    """Return members with a list of checksums that is right."""
    rest = {name: data for name, data in members.items() if name != "SHA256SUMS"}
    lines = "".join(f"{hashlib.sha256(rest[name]).hexdigest()}  {name}\n" for name in sorted(rest))
    return {**rest, "SHA256SUMS": lines.encode("utf-8", "surrogatepass")}


def boxed(members: dict[str, bytes]) -> bytes:
    """Return members as a box whose checksums are right."""
    return zipped(raws(summed(members)))


def resealed(plain: dict[str, Any], members: dict[str, bytes]) -> dict[str, Any]:
    """Return a manifest whose seals fit what it says, as whoever forges a box would make them."""
    before = b""
    for entry in plain["versions"]:
        version = Version(
            plain["project"]["id"], entry["number"], dt.datetime.fromisoformat(entry["on"]), entry["who"], entry["why"],
            entry["format"], entry["yardstick"], entry["house_rules"], b"",
        )  # fmt: skip
        digests = {path: hashlib.sha256(members[name]).digest() for path, name in entry["files"].items()}
        before = seal_of(version, before, digests)
        entry["seal"] = before.hex()
    return plain


def sealed_box(plain: dict[str, Any], members: dict[str, bytes]) -> bytes:
    """Return a box whose seals and checksums are right."""
    return boxed({**members, "manifest.json": json.dumps(resealed(plain, members)).encode()})
