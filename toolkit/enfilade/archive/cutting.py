"""A file cut into its records and put together again, byte for byte.

A project's file has a record a line. Each is a piece of its own; what stands between is glue. Equal pieces are kept
once, so that a version that changes one decision adds one piece. Files in any other form come back byte for byte as
well; they only share less.
"""

from __future__ import annotations

import hashlib
import json
import zlib
from collections.abc import Mapping, Sequence
from contextlib import suppress
from typing import Final

from enfilade.errors import Refused

__all__ = [
    "LARGEST_BYTES",
    "Cut",
    "cut",
    "digest",
    "is_whole",
    "joined",
    "manifest_of",
    "packed",
    "pieces_of",
    "reads",
    "unpacked",
]

Cut = list[str | bytes]
"""Glue as text, pieces as bytes, in the order of the file."""

LARGEST_BYTES: Final = 64 * 1024 * 1024
_SHORTEST: Final = 80
"""A record shorter than this is kept as glue: a row of its own would take more room."""
_PLAIN: Final = b"\x00"
_ZIPPED: Final = b"\x01"
_LEAST: Final = 200
_WORTH: Final = 0.9
_SMALL: Final = 4096
_LOOKED_AT: Final = 65_536
"""Photographs are compressed already: so much of a file tells whether the rest is worth the time."""


def digest(data: bytes) -> bytes:
    """Return the SHA-256 of some bytes, 32 bytes long."""
    return hashlib.sha256(data).digest()


def cut(data: bytes) -> Cut:
    """Return a file as glue and pieces; whatever is no text is one piece.

    >>> b"".join(part.encode() if isinstance(part, str) else part for part in cut(b'{"a": 1}\\n'))
    b'{"a": 1}\\n'
    """
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError:
        return [data]
    parts: Cut = []
    glue = ""
    for line in text.splitlines(keepends=True):
        start, end = line.find("{"), len(line.rstrip().removesuffix(","))
        if start < 0 or end - start < _SHORTEST or line[end - 1] != "}":
            glue += line
            continue
        parts += [glue + line[:start], line[start:end].encode()]
        glue = line[end:]
    if not parts and len(glue) >= _SHORTEST:
        return [data]
    return [*parts, glue] if glue else parts


def manifest_of(parts: Sequence[str | bytes], numbers: Mapping[bytes, int]) -> bytes:
    """Return what says how a file is put together.

    Args:
        parts: Glue, and the digests of the pieces between, in the order of the file.
        numbers: The number under which each piece is kept, by its digest.
    """
    plain = [part if isinstance(part, str) else numbers[part] for part in parts]
    return packed(json.dumps(plain, ensure_ascii=False, separators=(",", ":")).encode())


def pieces_of(manifest: bytes) -> list[str | int]:
    """Return glue and the numbers of pieces, in their order.

    Raises:
        Refused: It is no manifest.
    """
    try:
        plain = json.loads(unpacked(manifest))
    except (ValueError, RecursionError) as error:
        raise Refused(f"the list of a file's pieces is damaged ({error})") from error
    if not isinstance(plain, list) or not all(type(part) in (str, int) for part in plain):
        raise Refused("the list of a file's pieces is damaged")
    return plain


def reads(manifest: bytes) -> bool:
    """Tell whether the list of a file's pieces can be read."""
    try:
        pieces_of(manifest)
    except Refused:
        return False
    return True


def joined(parts: Sequence[str | int], pieces: Mapping[int, bytes]) -> bytes:
    """Put a file together again.

    Raises:
        Refused: A piece is missing.
    """
    try:
        return b"".join(part.encode() if isinstance(part, str) else pieces[part] for part in parts)
    except KeyError as error:
        raise Refused(f"piece {error.args[0]} of a file is missing") from error


def packed(data: bytes) -> bytes:
    """Return bytes as they are kept: compressed where that saves room."""
    if len(data) >= _LEAST and (len(data) <= _SMALL or _shrinks(data[:_LOOKED_AT])):
        zipped = _zipped(data)
        if len(zipped) < len(data) * _WORTH:
            return _ZIPPED + zipped
    return _PLAIN + data


def is_whole(kept: bytes, name: bytes) -> bool:
    """Tell whether a piece, as it is kept, still is the one of its digest."""
    with suppress(Refused):
        return digest(unpacked(kept)) == name
    return False


def _zipped(data: bytes) -> bytes:
    if len(data) > _SMALL:
        return zlib.compress(data, 6)
    # A small window is made ready in a tenth of the time, and holds the whole of a record.
    zipper = zlib.compressobj(6, zlib.DEFLATED, 12, 5)
    return zipper.compress(data) + zipper.flush()


def _shrinks(beginning: bytes) -> bool:
    return len(zlib.compress(beginning, 1)) < len(beginning) * _WORTH


def unpacked(kept: bytes, *, largest: int = LARGEST_BYTES) -> bytes:
    """Return what `packed` was given.

    Raises:
        Refused: It is damaged, or larger than `largest` bytes.
    """
    if not isinstance(kept, bytes):
        raise Refused("a piece of a file is damaged (no bytes stand there)")
    if kept[:1] == _PLAIN:
        return kept[1:]
    if kept[:1] != _ZIPPED:
        raise Refused("a piece of a file is damaged (it begins with an unknown sign)")
    unzip = zlib.decompressobj()
    try:
        data = unzip.decompress(kept[1:], largest + 1)
    except zlib.error as error:
        raise Refused(f"a piece of a file is damaged ({error})") from error
    if len(data) > largest or not unzip.eof:
        raise Refused(f"a piece of a file is damaged or holds over {largest} bytes")
    return data
