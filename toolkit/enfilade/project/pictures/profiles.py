"""Colour profiles without the names, dates and serial numbers of the device that they describe.

ICC.1:2022, clauses 7.2 (header), 7.3 (tag table), 9 and 10 (tags and their types) (recalled). Profiles
of screens and cameras carry their maker, model and sometimes a serial number, partly in private tags.
"""

from __future__ import annotations

import struct
from typing import Final

__all__ = ["LARGEST_PROFILE_BYTES", "plain_profile"]

LARGEST_PROFILE_BYTES: Final = 4 * 1024 * 1024
_MOST_TAGS: Final = 100
_HEADER: Final = 128
_COLOURS: Final = frozenset(
    b"rXYZ gXYZ bXYZ wtpt bkpt rTRC gTRC bTRC kTRC chad cicp lumi gamt A2B0 A2B1 A2B2 B2A0 B2A1 B2A2 "
    b"D2B0 D2B1 D2B2 D2B3 B2D0 B2D1 B2D2 B2D3".split()
)
"""The tags that say how numbers become colours; all others name, date or describe."""
_PARAMETERS: Final = {bytes((0, kind)): count for kind, count in enumerate((1, 3, 4, 5, 7))}
"""How many numbers a parametric curve of each kind takes."""
_UNNAMED: Final = "Unnamed"


def plain_profile(profile: bytes) -> bytes | None:
    """Return a profile that shows the same colours and names no device; None where it cannot be read."""
    if not _HEADER + 4 <= len(profile) <= LARGEST_PROFILE_BYTES or profile[36:40] != b"acsp":
        return None
    tags = _colour_tags(profile)
    if not tags:
        return None
    text = _text_4 if profile[8] >= 4 else _text_2
    unnamed = {b"desc": text(_UNNAMED, b"desc"), b"cprt": text(_UNNAMED, b"text")}
    return _written(_plain_header(profile), unnamed | tags)


def _colour_tags(profile: bytes) -> dict[bytes, bytes]:
    (count,) = struct.unpack_from(">I", profile, _HEADER)
    tags: dict[bytes, bytes] = {}
    if count > _MOST_TAGS or len(profile) < _HEADER + 4 + 12 * count:
        return {}
    for i in range(count):
        name, start, size = struct.unpack_from(">4sII", profile, _HEADER + 4 + 12 * i)
        if name in _COLOURS:
            if start + size > len(profile) or size < 8:
                return {}
            tag = profile[start : start + size]
            tags[name] = tag[: _length(tag)]
    return tags


def _length(tag: bytes) -> int:
    """Return how long a tag of one colour, curve or matrix is by its type (clause 10); tables as long as they are."""
    kind = tag[:4]
    if kind == b"curv":
        return 12 + 2 * int.from_bytes(tag[8:12], "big")
    if kind == b"para":
        return 12 + 4 * _PARAMETERS.get(tag[8:10], 0)
    return {b"XYZ ": 20, b"sf32": 44, b"cicp": 12}.get(kind, len(tag))


def _plain_header(profile: bytes) -> bytes:
    header = bytearray(profile[:_HEADER])
    # The method, the date (a fixed one, since none is no date), the platform, the maker, the model, the
    # creator and the fingerprint of the whole; the rest of the header says how to read the colours.
    for start, end in ((4, 8), (40, 44), (48, 56), (80, _HEADER)):
        header[start:end] = bytes(end - start)
    header[24:36] = struct.pack(">6H", 2000, 1, 1, 0, 0, 0)
    return bytes(header)


def _written(header: bytes, tags: dict[bytes, bytes]) -> bytes:
    at = _HEADER + 4 + 12 * len(tags)
    table, body, places = [struct.pack(">I", len(tags))], b"", dict[bytes, int]()
    for name, data in tags.items():
        if data not in places:  # Curves are often shared by the three colours.
            places[data] = at + len(body)
            body += data + bytes(-len(data) % 4)
        table.append(struct.pack(">4sII", name, places[data], len(data)))
    whole = header + b"".join(table) + body
    return struct.pack(">I", len(whole)) + whole[4:]


def _text_2(words: str, kind: bytes) -> bytes:
    """Return a text as profiles of version 2 hold it: plain, or with empty places for other scripts."""
    text = words.encode("ascii") + b"\0"
    if kind == b"text":
        return b"text\0\0\0\0" + text
    return b"desc\0\0\0\0" + struct.pack(">I", len(text)) + text + bytes(4 + 4 + 2 + 1 + 67)


def _text_4(words: str, kind: bytes) -> bytes:
    """Return a text as profiles of version 4 hold it: one language, in UTF-16."""
    text = words.encode("utf-16-be")
    return b"mluc\0\0\0\0" + struct.pack(">II2s2sII", 1, 12, b"en", b"US", len(text), 28) + text
