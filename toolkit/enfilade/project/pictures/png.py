"""PNG files, chunk by chunk.

PNG specification, third edition (ISO/IEC 15948 for the second): clauses 5.2 to 5.4 (signature, chunks,
their check sums), 11.2 and 11.3 (what each chunk holds), 13.5 (the eXIf chunk's place) (recalled).
"""

from __future__ import annotations

import struct
import zlib
from collections.abc import Iterator
from typing import Final

from enfilade.project.pictures.cut import MOST_PARTS, Cut, damaged, whole_or_refused
from enfilade.project.pictures.exif import Exif, read_exif
from enfilade.project.pictures.profiles import LARGEST_PROFILE_BYTES, plain_profile

__all__ = ["cut_png"]

_SIGNATURE: Final = b"\x89PNG\r\n\x1a\n"
_KEPT: Final = frozenset(b"IHDR PLTE tRNS gAMA cHRM sRGB cICP sBIT bKGD pHYs".split())
_CHANNELS: Final = {0: 1, 2: 3, 3: 1, 4: 2, 6: 4}
"""Samples a pixel by colour type (11.2.1)."""
_PASSES: Final = ((0, 0, 8, 8), (4, 0, 8, 8), (0, 4, 4, 8), (2, 0, 4, 4), (0, 2, 2, 4), (1, 0, 2, 2), (0, 1, 1, 2))
"""Interlacing: first column and row of each pass, and the steps to the next (8.2)."""
_STEP: Final = 1 << 16


@whole_or_refused
def cut_png(data: bytes) -> Cut:
    """Return a PNG file with the chunks that show its picture, and nothing else.

    Of a file that moves the still picture is left. The coded picture is copied byte for byte, up to where it ends.

    Raises:
        Refused: It breaks off, its check sums are wrong, or it unpacks to more than its picture.
    """
    head: list[bytes] = []
    coded: list[bytes] = []
    exif: Exif | None = None
    seen: set[bytes] = set()
    for kind, body in _chunks(data):
        if kind == b"IDAT":
            coded.append(body)
        elif kind == b"eXIf" and exif is None:
            exif = read_exif(body)
        elif not coded and kind not in seen:  # Each of them stands once, before the picture.
            if kind == b"iCCP" and (plain := _profile(body)):
                head.append(_written(kind, plain))
            elif kind in _KEPT:
                head.append(_written(kind, body))
        seen.add(kind)
    if not head or not coded:
        raise damaged("it holds no picture")
    picture = _without_rest(b"".join(coded), _unpacked_bytes(head[0]))
    whole = b"".join((_SIGNATURE, *head, _written(b"IDAT", picture), _written(b"IEND", b"")))
    return Cut(whole, exif or Exif(), moves=b"acTL" in seen)


def _chunks(data: bytes) -> Iterator[tuple[bytes, bytes]]:
    """Yield name and content of the chunks before the last; those with a wrong check sum only where none is needed."""
    at = len(_SIGNATURE)
    for count in range(MOST_PARTS):
        length, kind = struct.unpack_from(">I4s", data, at)
        end = at + 8 + length
        body = data[at + 8 : end]
        (check,) = struct.unpack_from(">I", data, end)
        if (count == 0) != (kind == b"IHDR"):
            raise damaged("its parts stand in the wrong order")
        if kind == b"IEND":
            return
        if zlib.crc32(body, zlib.crc32(kind)) == check:
            yield kind, body
        elif not kind[0] & 0x20:  # A capital: nothing can be shown without it (5.4).
            raise damaged("a check sum is wrong")
        at = end + 4
    raise damaged(f"more than {MOST_PARTS} chunks")


def _written(kind: bytes, body: bytes) -> bytes:
    return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(body, zlib.crc32(kind)))


def _profile(body: bytes) -> bytes:
    """Return the content of an iCCP chunk with the profile made plain and a name that says nothing."""
    name, _, packed = body.partition(b"\0")
    unpacking = zlib.decompressobj()
    try:
        profile = unpacking.decompress(packed[1:], LARGEST_PROFILE_BYTES + 1) if len(name) < 80 else b""
    except zlib.error:
        return b""
    plain = plain_profile(profile)
    return b"profile\0\0" + zlib.compress(plain) if plain else b""


def _unpacked_bytes(header: bytes) -> int:
    """Return how many bytes the picture takes before it is filtered away: a filter byte and its samples a row."""
    width, height, depth, colour, _, _, interlaced = struct.unpack_from(">IIBBBBB", header, 8)
    if not width or not height or colour not in _CHANNELS or depth not in (1, 2, 4, 8, 16):
        raise damaged("its size or colours are none that exist")
    bits = depth * _CHANNELS[colour]
    total = 0
    for column, row, across, down in _PASSES if interlaced else ((0, 0, 1, 1),):
        columns, rows = -(-(width - column) // across), -(-(height - row) // down)
        if columns > 0 and rows > 0:
            total += rows * (1 + (columns * bits + 7) // 8)
    return total


def _without_rest(packed: bytes, unpacked_bytes: int) -> bytes:
    """Return a packed stream without what stands behind its end, after unpacking it a little at a time."""
    unpacking = zlib.decompressobj()
    met = at = 0
    try:
        while not unpacking.eof and at < len(packed) and met <= unpacked_bytes:
            rest, at = packed[at : at + _STEP], at + _STEP
            while rest and not unpacking.eof and met <= unpacked_bytes:
                met += len(unpacking.decompress(rest, 16 * _STEP))
                rest = unpacking.unconsumed_tail
    except zlib.error as error:
        raise damaged("its picture cannot be unpacked") from error
    if met != unpacked_bytes or not unpacking.eof:
        raise damaged("its picture is not as large as it says")
    return packed[: min(at, len(packed)) - len(unpacking.unused_data)]
