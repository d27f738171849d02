"""What a font file says of itself: its families, and whether it may be embedded.

Source: OpenType specification (ISO/IEC 14496-22), the table directory, the tables `name` and `OS/2` (`fsType`).
Recalled in its numbers; held against fontTools in the tests.
"""

from __future__ import annotations

import struct
from dataclasses import dataclass
from typing import Final

from enfilade.errors import Refused

__all__ = ["FontFacts", "font_facts"]

_KINDS: Final = {b"\x00\x01\x00\x00": "ttf", b"OTTO": "otf", b"true": "ttf"}
_OTHERS: Final = {b"ttcf": "a collection of fonts", b"wOFF": "a web font", b"wOF2": "a web font"}
_EXPECTED: Final = "a font as one TTF or OTF file"
_FAMILY_IDS: Final = (16, 1, 21)
"""Typographic family, family, and family by weight, width and slope alone."""
_USAGE, _RESTRICTED, _NO_SUBSET, _BITMAPS_ONLY = 0x000F, 0x0002, 0x0100, 0x0200
_NEEDED: Final = (b"cmap", b"head", b"name", b"OS/2")


@dataclass(frozen=True)
class FontFacts:
    """What is read from a font file.

    Attributes:
        kind: `ttf` or `otf`.
        families: The names of its family, at least one.
        embedding: `fsType`, the licence bits.
    """

    kind: str
    families: tuple[str, ...]
    embedding: int


def font_facts(data: bytes) -> FontFacts:
    """Return what a font file says of itself.

    Args:
        data: The whole file.
    Raises:
        Refused: It is no TTF or OTF file, is damaged, names no family, or its licence bits forbid that it is
            embedded, or that only the letters used are.
    """
    kind = _KINDS.get(data[:4])
    if kind is None:
        seems = _OTHERS.get(data[:4])
        raise Refused(f"the file is {seems}" if seems else "the file is no font", expected=_EXPECTED)
    try:
        tables = _tables(data)
        missing = [name.decode("latin-1") for name in _NEEDED if name not in tables]
        if missing:
            raise Refused(f"the font lacks its table {missing[0]}", expected=_EXPECTED)
        (embedding,) = struct.unpack_from(">H", tables[b"OS/2"], 8)
        families = _families(tables[b"name"])
    except (struct.error, IndexError) as error:
        raise Refused("the font is damaged", expected=_EXPECTED) from error
    if not families:
        raise Refused("the font names no family", expected=_EXPECTED)
    _refuse_unless_embeddable(embedding)
    return FontFacts(kind, families, embedding)


def _refuse_unless_embeddable(embedding: int) -> None:
    do = "ask its maker for a licence, or take another font"
    # Where several bits are set, as early versions allowed, the least restrictive holds.
    if embedding & _USAGE == _RESTRICTED:
        raise Refused(
            "the font's licence bits (fsType) forbid embedding", expected="a font that may be embedded", do=do
        )
    if embedding & _BITMAPS_ONLY:
        raise Refused(
            "the font's licence bits (fsType) allow bitmaps alone", expected="outlines may be embedded", do=do
        )
    if embedding & _NO_SUBSET:
        what = "the font's licence bits (fsType) forbid that only the letters used are embedded"
        raise Refused(what, expected="a font that may be cut down", do=do)


def _tables(data: bytes) -> dict[bytes, bytes]:
    (count,) = struct.unpack_from(">H", data, 4)
    found = {}
    for place in range(count):
        tag, _, offset, length = struct.unpack_from(">4sLLL", data, 12 + 16 * place)
        if offset + length > len(data):
            raise Refused("the font is cut short", expected=_EXPECTED)
        found[tag] = data[offset : offset + length]
    return found


def _families(table: bytes) -> tuple[str, ...]:
    _, count, strings = struct.unpack_from(">HHH", table, 0)
    found: dict[int, list[str]] = {}
    for place in range(count):
        platform, encoding, _, name, length, offset = struct.unpack_from(">HHHHHH", table, 6 + 12 * place)
        raw = table[strings + offset : strings + offset + length]
        if name in _FAMILY_IDS and len(raw) == length:
            text = _decoded(platform, encoding, raw)
            if text and text.isprintable():
                found.setdefault(name, []).append(text)
    return tuple(dict.fromkeys(text for id in _FAMILY_IDS for text in found.get(id, ())))


def _decoded(platform: int, encoding: int, raw: bytes) -> str:
    if platform in (0, 3) and len(raw) % 2 == 0:
        return raw.decode("utf-16-be", "ignore").strip()
    return raw.decode("mac-roman", "ignore").strip() if (platform, encoding) == (1, 0) else ""
