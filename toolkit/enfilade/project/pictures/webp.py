"""WebP files, chunk by chunk.

WebP container specification (RFC 9649, section 2): 2.3 (chunks), 2.4 (header), 2.7 (the extended
format, its flags and the order of its chunks) (recalled).
"""

from __future__ import annotations

import struct
from collections.abc import Iterator

from enfilade.project.pictures.cut import MOST_PARTS, Cut, damaged, whole_or_refused
from enfilade.project.pictures.exif import Exif, read_exif
from enfilade.project.pictures.profiles import plain_profile

__all__ = ["cut_webp"]

_HAS_PROFILE, _HAS_ALPHA, _MOVES = 0x20, 0x10, 0x02


@whole_or_refused
def cut_webp(data: bytes) -> Cut:
    """Return a WebP file with its picture, transparency and colour profile, and nothing else.

    A file that moves keeps its frames, and says so; whoever shows it must draw the first one.

    Raises:
        Refused: It breaks off, or holds no picture.
    """
    chunks: dict[bytes, bytes] = {}
    frames: list[bytes] = []
    for kind, body in _chunks(data):
        if kind == b"ANMF":
            frames.append(body)
        else:
            chunks.setdefault(kind, body)
    exif = read_exif(chunks[b"EXIF"].removeprefix(b"Exif\0\0")) if b"EXIF" in chunks else Exif()
    extended = chunks.get(b"VP8X")
    moves = bool(extended and extended[0] & _MOVES)
    parts = [(b"ANIM", chunks[b"ANIM"]), *((b"ANMF", frame) for frame in frames)] if moves else _still(chunks)
    if not parts or (moves and not frames):
        raise damaged("it holds no picture")
    if extended is not None:
        profile = plain_profile(chunks.get(b"ICCP", b""))
        flags = extended[0] & (_HAS_ALPHA | _MOVES) | (_HAS_PROFILE if profile else 0)
        colours = [(b"ICCP", profile)] if profile else []
        parts = [(b"VP8X", bytes((flags, 0, 0, 0)) + extended[4:10]), *colours, *parts]
    body = b"WEBP" + b"".join(_written(kind, content) for kind, content in parts)
    return Cut(b"RIFF" + struct.pack("<I", len(body)) + body, exif, moves=moves)


def _still(chunks: dict[bytes, bytes]) -> list[tuple[bytes, bytes]]:
    for kind in (b"VP8 ", b"VP8L"):
        if kind in chunks:
            alpha = [(b"ALPH", chunks[b"ALPH"])] if kind == b"VP8 " and b"ALPH" in chunks else []
            return [*alpha, (kind, chunks[kind])]
    return []


def _chunks(data: bytes) -> Iterator[tuple[bytes, bytes]]:
    """Yield name and content of the chunks of the file; what stands behind its own end is passed over."""
    (size,) = struct.unpack_from("<I", data, 4)
    end = 8 + size
    if end > len(data):
        raise damaged("it breaks off")
    at = 12
    for _ in range(MOST_PARTS):
        if end <= at <= end + 1:  # The last filling byte may be left out.
            return
        kind, length = struct.unpack_from("<4sI", data[:end], at) if at + 8 <= end else (b"", end)
        if at + 8 + length > end:
            raise damaged("it breaks off inside a chunk")
        yield kind, data[at + 8 : at + 8 + length]
        at += 8 + length + length % 2
    raise damaged(f"more than {MOST_PARTS} chunks")


def _written(kind: bytes, body: bytes) -> bytes:
    return kind + struct.pack("<I", len(body)) + body + bytes(len(body) % 2)
