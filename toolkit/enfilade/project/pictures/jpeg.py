"""JPEG files, segment by segment, without unpacking the picture.

ITU-T T.81: B.1.1 (markers), B.2 (order of segments), table B.1 (codes); JFIF 1.02 for APP0; ICC.1:2022
annex B for profiles in APP2 (recalled). A second picture (CIPA DC-007) stands after the end of the first.
"""

from __future__ import annotations

import re
import struct
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from enfilade.project.pictures.cut import MOST_PARTS, Cut, damaged, whole_or_refused
from enfilade.project.pictures.exif import Exif, read_exif
from enfilade.project.pictures.profiles import LARGEST_PROFILE_BYTES, plain_profile

__all__ = ["MOST_SCANS", "cut_jpeg"]

MOST_SCANS: Final = 40
"""Passes over one picture. Encoders write about ten; each costs whoever shows it the time of a whole picture."""

_START, _END, _SCAN = 0xD8, 0xD9, 0xDA
_FRAMES: Final = frozenset(range(0xC0, 0xD0)) - {0xC4, 0xC8, 0xCC}
_TABLES: Final = frozenset({0xC4, 0xCC, 0xDB, 0xDC, 0xDD})
_HUFFMAN, _QUANTIZATION = 0xC4, 0xDB
_ALONE: Final = frozenset({0x01, *range(0xD0, 0xD8)})
_APP0, _APP1, _APP2, _APP14 = 0xE0, 0xE1, 0xE2, 0xEE
_MARKER: Final = re.compile(rb"\xff[^\x00\xff]")
_AFTER_SCAN: Final = re.compile(rb"\xff[^\x00\xd0-\xd7\xff]")
_PROFILE: Final = b"ICC_PROFILE\0"
_PROFILE_PIECE: Final = 65_519


@dataclass(frozen=True, slots=True)
class _Segment:
    code: int
    body: bytes
    data: bytes = b""
    """Of a scan: the coded picture that follows its head."""


@whole_or_refused
def cut_jpeg(data: bytes) -> Cut:
    """Return the first picture of a JPEG file with its tables and colour profile, and nothing else.

    The coded picture is copied byte for byte.

    Raises:
        Refused: It breaks off, or holds what no camera writes.
    """
    first: dict[int, bytes] = {}
    pieces: dict[int, bytes] = {}
    picture: list[bytes] = []
    exif: Exif | None = None
    frames = scans = 0
    for segment in _segments(data):
        code, body = segment.code, segment.body
        if code in _FRAMES or code in _TABLES or code == _SCAN:
            if not _fills(code, body):
                raise damaged("a table is not as long as it says")
            frames += code in _FRAMES
            scans += code == _SCAN
            picture += (_written(code, body), segment.data)
        elif code in (_APP0, _APP14) and (plain := _plain(code, body)):
            first.setdefault(code, _written(code, plain))
        elif code == _APP1 and body.startswith(b"Exif\0") and exif is None:
            exif = read_exif(body[6:])
        elif code == _APP2 and body.startswith(_PROFILE) and len(body) > 14:
            pieces.setdefault(body[12], body[14:])
    if frames != 1 or not 0 < scans <= MOST_SCANS:
        raise damaged(f"{frames} frames and {scans} passes; a photograph has one frame, and at most {MOST_SCANS}")
    head = [*(first[code] for code in sorted(first)), *_profile(pieces)]
    return Cut(b"".join((b"\xff\xd8", *head, *picture, b"\xff\xd9")), exif or Exif())


def _segments(data: bytes) -> Iterator[_Segment]:
    """Yield the segments up to the end of the first picture; what stands between them is passed over."""
    at = 2
    for _ in range(MOST_PARTS):
        marker = _MARKER.search(data, at)
        if marker is None:
            raise damaged("it breaks off before its end")
        code, at = data[marker.start() + 1], marker.end()
        if code == _END:
            return
        if code == _START:
            raise damaged("a second picture begins inside the first")
        if code in _ALONE:
            continue
        (length,) = struct.unpack_from(">H", data, at)
        if length < 2 or at + length > len(data):
            raise damaged("it breaks off inside a segment")
        body, at = data[at + 2 : at + length], at + length
        if code == _SCAN:
            scan = _AFTER_SCAN.search(data, at)
            if scan is None:
                raise damaged("it breaks off inside the picture")
            yield _Segment(code, body, data[at : scan.start()])
            at = scan.start()
        else:
            yield _Segment(code, body)
    raise damaged(f"more than {MOST_PARTS} segments")


def _fills(code: int, body: bytes) -> bool:
    """Tell whether a segment holds what it says and nothing behind it (T.81, B.2.2 to B.2.5)."""
    if code in _FRAMES:
        return len(body) == 6 + 3 * body[5]
    if code == _SCAN:
        return len(body) == 4 + 2 * body[0]
    at = 0
    while at < len(body):
        if code == _QUANTIZATION:
            at += 129 if body[at] >> 4 else 65
        elif code == _HUFFMAN:
            at += 17 + sum(body[at + 1 : at + 17])
        else:
            at += 2
    return at == len(body)


def _written(code: int, body: bytes) -> bytes:
    return struct.pack(">BBH", 0xFF, code, len(body) + 2) + body


def _plain(code: int, body: bytes) -> bytes:
    """Return what a decoder needs of the two segments that say how colours are coded; empty where it is neither."""
    if code == _APP0 and body.startswith(b"JFIF\0"):
        return body[:12] + b"\0\0" if len(body) >= 14 else b""  # without the small picture that may follow
    return body[:12] if body.startswith(b"Adobe") and len(body) >= 12 else b""


def _profile(pieces: dict[int, bytes]) -> list[bytes]:
    """Return the segments of the colour profile, made plain; none where it is not whole."""
    whole = b"".join(pieces[i] for i in sorted(pieces))[: LARGEST_PROFILE_BYTES + 1]
    plain = plain_profile(whole)
    if plain is None:
        return []
    parts = [plain[i : i + _PROFILE_PIECE] for i in range(0, len(plain), _PROFILE_PIECE)]
    return [_written(_APP2, _PROFILE + bytes((i, len(parts))) + part) for i, part in enumerate(parts, 1)]
