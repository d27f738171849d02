"""Project boxes that were damaged, or made to harm, each with the words that its refusal must hold."""

from __future__ import annotations

import json
import struct
import zlib
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

from box_making import Raw, boxed, good_box, good_members, own_header, raws, sealed_box, summed, zipped

__all__ = ["HOSTILE", "Hostile"]

SAME = "versions/0002/project.json"


def manifest(change: Callable[[dict[str, Any]], Any], *, seal: bool = False) -> Callable[[], bytes]:
    """Return the good box with another manifest."""

    def made() -> bytes:
        members = good_members()
        plain = json.loads(members["manifest.json"])
        change(plain)
        return sealed_box(plain, members) if seal else boxed({**members, "manifest.json": json.dumps(plain).encode()})

    return made


def _entry(change: Callable[[Raw], Raw], name: str = SAME) -> Callable[[], bytes]:
    """Return the good box with one member written otherwise."""
    return lambda: zipped([change(one) if one.name == name.encode() else one for one in raws(good_members())])


def _extra(name: str, data: bytes = b"x", **more: Any) -> Callable[[], bytes]:
    """Return the good box with one more member, whose name is in the list of checksums."""
    raw = name.encode("utf-8", "surrogatepass")

    def made() -> bytes:
        honest = [one for one in raws(summed({**good_members(), name: data})) if one.name != raw]
        return zipped([*honest, Raw(raw, data, **{"flags": 0 if name.isascii() else 0x0800, **more})])

    return made


def _path(path: str, *, member: str = SAME) -> Callable[[], bytes]:
    """Return a box, sealed and summed, that has a version with an odd path."""
    return manifest(lambda plain: plain["versions"][1]["files"].update({path: member}), seal=True)


def _member(name: str, data: bytes) -> Callable[[], bytes]:
    """Return the good box, summed, with other bytes in a member."""
    return lambda: boxed({**good_members(), name: data})


def _sealed_member(name: str, data: Callable[[bytes], bytes]) -> Callable[[], bytes]:
    """Return a box, sealed and summed, with other bytes in a member."""

    def made() -> bytes:
        members = good_members()
        members[name] = data(members[name])
        return sealed_box(json.loads(members["manifest.json"]), members)

    return made


def _set(*way: Any, to: Any) -> Callable[[dict[str, Any]], None]:
    def change(plain: dict[str, Any]) -> None:
        at: Any = plain
        for step in way[:-1]:
            at = at[step]
        at[way[-1]] = to

    return change


def _swapped(plain: dict[str, Any]) -> None:
    plain["versions"].reverse()


def _overlapping() -> bytes:
    """Return a box with a member that stands inside the stored bytes of another one."""
    inner = Raw(b"files/inner", b"hello", method=0)
    about = {"flags": 0, "method": 0, "crc": zlib.crc32(b"hello"), "packed": 5, "size": 5, "name": b"files/inner"}
    outer = Raw(b"files/outer", own_header(inner, about) + b"hello", method=0)
    entries = raws(good_members())
    at = zipped([*entries, outer]).index(outer.data)
    return zipped([*entries, outer, replace(inner, hidden=True, said={"offset": at})])


def _bomb_of_overlaps() -> bytes:
    """Return one packed block that many entries share, as the known bombs of that kind do."""
    data = bytes(1_000_000)
    one = Raw(b"README.txt", data)
    long = len(zlib.compress(data)) - 6
    shared = {"offset": 0, "packed": long, "size": len(data), "crc": zlib.crc32(data)}
    return zipped([one, *(Raw(f"files/{n:04d}".encode(), b"", hidden=True, said=shared) for n in range(3_000))])


def _repeated_key() -> bytes:
    members = good_members()
    text = members["manifest.json"].decode()
    members["manifest.json"] = text.replace('"number": 2', '"number": 2, "number": 2').encode()
    return boxed(members)


@dataclass(frozen=True)
class Hostile:
    """A box, and what its refusal must say: the place first."""

    what: str
    made: Callable[[], bytes]
    words: tuple[str, ...]


_OTHER = ("climbs", "'..'")
HOSTILE = [
    # No box at all
    Hostile("empty", lambda: b"", ("end of the file: a file of 0 bytes",)),
    Hostile("garbage", lambda: b"garbage" * 100, ("end of the file: is no end of a zip",)),
    Hostile("an empty zip", lambda: zipped([]), ("README.txt: is missing",)),
    Hostile("another zip", lambda: zipped(raws({"a.txt": b"a"})), ("README.txt: is missing",)),
    Hostile("cut short", lambda: good_box()[:-30], ("end of the file",)),
    Hostile("half of it", lambda: good_box()[: len(good_box()) // 2], ("end of the file",)),
    Hostile("something behind it", lambda: good_box() + b"more", ("end of the file",)),
    Hostile("something before it", lambda: b"more" + good_box(), ("end of the file: the directory is not where",)),
    Hostile("a program before it", lambda: zipped(raws(good_members()), head=b"#!/bin/sh\n"), ("belong to no file",)),
    Hostile("a comment", lambda: zipped(raws(good_members()), comment=b"hello"), ("end of the file",)),
    Hostile("in parts", lambda: zipped(raws(good_members()), disk=1), ("one part of several",)),
    Hostile("more entries said", lambda: zipped(raws(good_members()), count=99), ("directory/", "is no entry")),
    Hostile("fewer entries said", lambda: zipped(raws(good_members()), count=3), ("directory: goes on after its 3",)),
    Hostile("65,535 entries said", lambda: zipped(raws(good_members()), count=65535), ("65535 files", "at most")),
    # Names
    Hostile("climbing", _extra("../out.txt"), _OTHER),
    Hostile("climbing inside", _extra("files/../../out.txt"), _OTHER),
    Hostile("absolute", _extra("/tmp/out.txt"), ("it is absolute",)),
    Hostile("a drive", _extra("C:/out.txt"), ("it names a drive",)),
    Hostile("a drive alone", _extra("c:out.txt"), ("it names a drive",)),
    Hostile("a share", _extra("//server/share/out.txt"), ("it is absolute",)),
    Hostile("backslashes", _extra("..\\out.txt"), ("U+005C",)),
    Hostile("a stream", _extra("README.txt:hidden"), ("U+003A",)),
    Hostile("NUL", _extra("files/a\x00.txt"), ("U+0000",)),
    Hostile("a line end", _extra("files/a\nb"), ("U+000A",)),
    Hostile("an escape", _extra("files/\x1b[2J"), ("U+001B",)),
    Hostile("turned about", _extra("files/\u202egpj.exe"), ("U+202E",)),
    Hostile("half a pair", _extra("files/\ud800"), ("directory/", "UTF-8")),
    Hostile("no name", _extra(""), ("it has 0 signs",)),
    Hostile("a long name", _extra("files/" + "a" * 500), ("it has 506 signs",)),
    Hostile("a long step", _extra("files/" + "a" * 250), ("a step of it has over",)),
    Hostile("a device", _extra("files/CON"), ("name of a device",)),
    Hostile("a device with an ending", _extra("files/lpt1.txt"), ("name of a device",)),
    Hostile("a dot at the end", _extra("manifest.json."), ("ends with a dot",)),
    Hostile("a space at the end", _extra("manifest.json "), ("ends with a space",)),
    Hostile("a dot as a step", _extra("./manifest.json"), ("a step of it is '.'",)),
    Hostile("two slashes", _extra("files//a"), ("a step of it is empty",)),
    Hostile("equal but for case", _extra("MANIFEST.json"), ("is one file with",)),
    Hostile("equal but for its accents", _extra("files/e\u0301"), ("named by no version",)),
    Hostile(
        "two forms of an accent",
        lambda: zipped([*raws(good_members()), *raws({"files/\u00e9": b"", "files/e\u0301": b""})]),
        ("is one file with",),
    ),
    Hostile(
        "a file that is a folder too",
        lambda: zipped([*raws(good_members()), *raws({"files": b"x"})]),
        ("is one file with",),
    ),
    Hostile(
        "twice", lambda: zipped([*raws(good_members()), Raw(b"manifest.json", b"{}")]), ("manifest.json: stands twice",)
    ),
    Hostile("a folder with bytes", _extra("files/sub/", b"x", outer=0), ("is a folder that holds bytes",)),
    Hostile("a name in another script, not said", _extra("files/\u00e9", flags=0), ("not said to be",)),
    # Kinds
    Hostile("a link", _extra("files/a", b"/etc/passwd", outer=0o120777 << 16), ("files/a: is a link",)),
    Hostile("a pipe", _extra("files/a", outer=0o010644 << 16), ("files/a: is no plain file",)),
    Hostile("a device file", _extra("files/a", outer=0o060644 << 16), ("files/a: is no plain file",)),
    Hostile("a socket", _extra("files/a", outer=0o140644 << 16), ("files/a: is no plain file",)),
    Hostile("a file as a folder", _extra("files/a/", b"", outer=0o100644 << 16), ("files/a/: is no plain file",)),
    Hostile("a volume's name", _extra("files/a", outer=0x08), ("files/a: is no plain file",)),
    Hostile("encrypted", _entry(lambda one: replace(one, flags=1)), (SAME, "is encrypted")),
    Hostile("a strange method", _entry(lambda one: replace(one, method=14)), (SAME, "packed in an odd way")),
    Hostile("strange flags", _entry(lambda one: replace(one, flags=0x2000)), (SAME, "packed in an odd way")),
    Hostile(
        "another size in an extra field",
        _entry(lambda one: replace(one, extra=struct.pack("<2H8x", 1, 8))),
        (SAME, "extra field"),
    ),
    Hostile(
        "another name in an extra field",
        _entry(lambda one: replace(one, extra=struct.pack("<2H5x", 0x7075, 5))),
        (SAME, "extra field"),
    ),
    Hostile("a broken extra field", _entry(lambda one: replace(one, extra=b"\x99")), (SAME, "extra field")),
    # Headers that lie
    Hostile(
        "another name in the header",
        _entry(lambda one: replace(one, own={"name": b"versions/0009/project.json"})),
        (SAME, "its own header says other"),
    ),
    Hostile(
        "another method in the header", _entry(lambda one: replace(one, own={"method": 0})), (SAME, "its own header")
    ),
    Hostile("another size in the header", _entry(lambda one: replace(one, own={"size": 1})), (SAME, "its own header")),
    Hostile(
        "a size too small",
        _entry(lambda one: replace(one, own={"size": 9}, said={"size": 9})),
        (SAME, "other than the directory says"),
    ),
    Hostile(
        "a size too large",
        _entry(lambda one: replace(one, own={"size": 10**5}, said={"size": 10**5})),
        (SAME, "damaged"),
    ),
    Hostile(
        "a wrong checksum of the zip",
        _entry(lambda one: replace(one, own={"crc": 7}, said={"crc": 7})),
        (SAME, "damaged"),
    ),
    Hostile("an offset elsewhere", _entry(lambda one: replace(one, said={"offset": 5})), (SAME,)),
    Hostile(
        "an offset past the end", _entry(lambda one: replace(one, said={"offset": 2**32 - 2})), ("belong to no file")
    ),
    Hostile("on another disk", _entry(lambda one: replace(one, said={"disk": 3})), (SAME,)),
    Hostile("packed data that are none", _entry(lambda one: replace(one, packed=b"\xff" * 90)), (SAME, "damaged")),
    Hostile(
        "packed data with more behind",
        _entry(lambda one: replace(one, packed=zlib.compress(one.data)[2:-4] + b"more")),
        (SAME, "other than the directory says"),
    ),
    Hostile("overlapping", _overlapping, ("overlaps another file",)),
    # Bombs
    Hostile("a bomb", _extra("files/a", bytes(60_000_000)), ("files/a", "would grow from")),
    Hostile(
        "a larger file than any",
        _entry(lambda one: replace(one, said={"size": 2**31}, own={"size": 2**31})),
        (SAME, "at most"),
    ),
    Hostile(
        "a bomb that says it is small",
        _entry(lambda one: replace(one, packed=zlib.compress(bytes(50_000_000))[2:-4])),
        (SAME, "other than the directory says"),
    ),
    Hostile("a bomb of overlaps", _bomb_of_overlaps, ("files/0000: overlaps another file",)),
    # The list of files
    Hostile(
        "a file too many",
        _member("files/stranger.txt", b"x"),
        ("files/stranger.txt: lies in the box and is named by no",),
    ),
    Hostile(
        "a checksum that is another",
        lambda: zipped(raws({**good_members(), "README.txt": b"other"})),
        ("README.txt: is damaged",),
    ),
    Hostile(
        "no checksum", lambda: zipped(raws({**good_members(), "SHA256SUMS": b""})), ("README.txt: has no checksum",)
    ),
    Hostile(
        "a checksum of nothing",
        lambda: zipped(raws({**good_members(), "SHA256SUMS": good_members()["SHA256SUMS"] + b"0" * 64 + b"  ghost\n"})),
        ("SHA256SUMS: names 'ghost'",),
    ),
    Hostile(
        "a checksum twice",
        lambda: zipped(raws({**good_members(), "SHA256SUMS": good_members()["SHA256SUMS"] * 2})),
        ("SHA256SUMS/line 8",),
    ),
    Hostile(
        "no list of checksums",
        lambda: zipped(raws({**good_members(), "SHA256SUMS": b"\xff"})),
        ("SHA256SUMS: is not UTF-8",),
    ),
    # The manifest
    Hostile("no JSON", _member("manifest.json", b"{"), ("manifest.json/line 1",)),
    Hostile("a key twice", _repeated_key, ("manifest.json/", "key stands twice")),
    Hostile("deep", _member("manifest.json", b'{"box": 1, "a": ' + b"[" * 100_000), ("nest over 40 deep",)),
    Hostile("no format", manifest(lambda plain: plain.pop("box")), ("manifest.json/box: this is no project box",)),
    Hostile("a newer format", manifest(_set("box", to=2)), ("manifest.json/box: format 2 is newer", "update enfilade")),
    Hostile("true as a format", manifest(_set("box", to=True)), ("manifest.json/box",)),
    Hostile("who is a number", manifest(_set("versions", 2, "who", to=7)), ("manifest.json/versions/3/who:",)),
    Hostile(
        "no why", manifest(lambda plain: plain["versions"][2].pop("why")), ("manifest.json/versions/3/why: is missing",)
    ),
    Hostile(
        "a field too many", manifest(_set("versions", 0, "run", to="rm")), ("manifest.json/versions/1/run: is nothing",)
    ),
    Hostile("no versions", manifest(_set("versions", to=[])), ("manifest.json/versions:",)),
    Hostile(
        "a day that is none",
        manifest(_set("versions", 0, "on", to="2026-02-30T00:00:00Z")),
        ("manifest.json/versions/1/on", "no moment"),
    ),
    Hostile("a day in words", manifest(_set("versions", 0, "on", to="yesterday")), ("manifest.json/versions/1/on",)),
    Hostile(
        "a gap", manifest(_set("versions", 1, "number", to=5)), ("manifest.json/versions/2/number: 5 stands there",)
    ),
    Hostile("versions swapped", manifest(_swapped), ("manifest.json/versions/1/number",)),
    Hostile("half a pair in who", manifest(_set("versions", 0, "who", to="\ud800")), ("manifest.json/versions/1/who",)),
    Hostile(
        "a zero byte in who",
        manifest(_set("versions", 0, "who", to="a\x00b")),
        ("manifest.json/versions/1/who: a zero byte",),
    ),
    Hostile("an odd id", manifest(_set("project", "id", to="../x")), ("manifest.json/project/id",)),
    Hostile("a huge number", _member("manifest.json", b'{"box": ' + b"9" * 100_000 + b"}"), ("has 100000 digits",)),
    Hostile(
        "no record",
        manifest(lambda plain: plain["versions"][1]["files"].pop("project.json")),
        ("project.json is missing",),
    ),
    Hostile("a path that climbs", _path("../../out.txt"), ("manifest.json/versions/2/files", "climbs")),
    Hostile("an absolute path", _path("/etc/cron.d/x"), ("manifest.json/versions/2/files", "absolute")),
    Hostile("a path on a drive", _path("C:\\out.txt"), ("manifest.json/versions/2/files", "drive")),
    Hostile("a path that is another's twin", _path("Project.json"), ("one file on some machines",)),
    Hostile("a path below a file", _path("project.json/x"), ("one file on some machines",)),
    Hostile(
        "a path to no member",
        manifest(_set("versions", 1, "files", "light/a", to="files/ghost")),
        ("manifest.json/versions/2/files/light/a", "is no file"),
    ),
    Hostile(
        "a path to the manifest",
        manifest(_set("versions", 1, "files", "light/a", to="manifest.json")),
        ("manifest.json/versions/2/files/light/a", "is no file"),
    ),
    # Forgeries
    Hostile(
        "another who",
        manifest(_set("versions", 1, "who", to="somebody else")),
        ("manifest.json/versions/2/seal: does not fit",),
    ),
    Hostile(
        "an earlier day",
        manifest(_set("versions", 0, "on", to="2001-01-01T00:00:00Z")),
        ("manifest.json/versions/1/seal",),
    ),
    Hostile("a record changed and summed again", _member(SAME, b"{}"), ("manifest.json/versions/2/seal",)),
    Hostile(
        "a photograph left out",
        manifest(
            lambda plain: [
                plain["versions"][1]["files"].pop(path)
                for path in list(plain["versions"][1]["files"])
                if path.startswith("photos/")
            ]
        ),
        ("manifest.json/versions/2/seal",),
    ),
    Hostile("sealed again, and no record", _sealed_member(SAME, lambda data: b"{}"), (f"{SAME}/format: is missing",)),
    Hostile("sealed again, and cut short", _sealed_member(SAME, lambda data: data[:-50]), (f"{SAME}/line ",)),
    Hostile(
        "sealed again, and of a newer format",
        _sealed_member(SAME, lambda data: data.replace(b'"format": 1', b'"format": 9')),
        (f"{SAME}/format: 9 is newer",),
    ),
    Hostile(
        "sealed again, and another project",
        _sealed_member(SAME, lambda data: data.replace(b'"id": "test-house"', b'"id": "other"', 1)),
        (f"{SAME}: is the record of other",),
    ),
    Hostile("another name", manifest(_set("project", "name", to="Other")), ("manifest.json/project/name",)),
]
