"""Which record of a file a piece is, told from what stands round it: the piece itself may be damaged."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Any, Final

from enfilade.project.readable import readable

__all__ = ["place_in"]

_MARK: Final = "\x00damaged"
_ID: Final = re.compile(r'\A\s*\{\s*"id"\s*:\s*"([^"\\]{1,64})"')


def place_in(parts: Sequence[str | int], piece: int, pieces: Mapping[int, bytes]) -> str:
    """Return the place of a damaged piece, as errors of a project's file write it: `things/island`.

    Args:
        parts: Glue and pieces of the file, in their order.
        piece: The piece.
        pieces: What is left of all pieces; those that cannot be read at all are missing.
    Returns:
        The place; its last step is the record's id where the piece still tells it, else its number, counted from 1.
        Empty when it cannot be told.
    """
    mark = json.dumps({_MARK: 1})
    texts = (
        part if isinstance(part, str) else mark if part == piece else pieces.get(part, b"{}").decode("utf-8", "replace")
        for part in parts
    )
    try:
        steps = next(_steps(json.loads("".join(texts))), None)
    except (ValueError, RecursionError):
        return ""
    if steps is None:
        return ""
    told = _ID.match(pieces.get(piece, b"").decode("utf-8", "replace"))
    if told and steps:
        steps[-1] = told[1]
    return "/".join(readable(step) for step in steps)


def _steps(plain: Any) -> Iterator[list[str]]:
    if isinstance(plain, dict):
        if _MARK in plain:
            yield []
        for name, value in plain.items():
            yield from ([name, *rest] for rest in _steps(value))
    elif isinstance(plain, list):
        for number, value in enumerate(plain, 1):
            id = value.get("id") if isinstance(value, dict) else None
            yield from ([str(id or number), *rest] for rest in _steps(value))
