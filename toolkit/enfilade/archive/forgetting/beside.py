"""What lies beside a record, without names: the studio's file, what was found, and other files."""

from __future__ import annotations

import json
import tomllib
from collections.abc import Iterator
from typing import Any, Final

from enfilade.project.issues import FOLDER as ISSUED
from enfilade.project.names import Names
from enfilade.project.photos import FOLDER as PHOTOS

__all__ = ["file_without", "findings_without", "gone"]

_IDS: Final = frozenset({"id", "space", "subjects", "assumed"})
_FIXED: Final = frozenset({"rule", "level", "because", "unit", "how", "verdict"})
"""Fields of a finding that hold ids, or words of a fixed list."""
_SHORTEST_IN_BYTES: Final = 5
"""A shorter word stands by chance in any picture or font."""


def gone(path: str) -> bool:
    """Tell whether a file goes as a whole: photographs, and what was told to somebody."""
    return path.split("/", 1)[0] in (PHOTOS, ISSUED)


def findings_without(data: bytes, names: Names) -> bytes | None:
    """Return findings, as a version keeps them, without names; None when they cannot be read."""
    try:
        plain = json.loads(data)
    except (ValueError, RecursionError):
        return None
    if not isinstance(plain, list):
        return None
    lines = [json.dumps(_without(one, names, ""), ensure_ascii=False) for one in plain]
    return ("[\n" + ",\n".join(lines) + "\n]\n").encode()


def _without(value: Any, names: Names, field: str) -> Any:
    if isinstance(value, dict):
        return {key: value[key] if key in _FIXED else _without(value[key], names, key) for key in value}
    if isinstance(value, list):
        return [_without(one, names, field) for one in value]
    if isinstance(value, str):
        return names.out_of_ids(value) if field in _IDS else names.out_of(value)
    return value


def file_without(path: str, data: bytes, names: Names) -> bytes | None:
    """Return another file of a version without names; None when it must go, since names cannot be taken out of it.

    A text stays with other words in their place; a picture or a font in which a name stands goes.
    """
    if names.out_of_text(path) != path:
        return None
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        low = data.lower()
        telling = [word.encode() for word in names.telling if len(word) >= _SHORTEST_IN_BYTES]
        return None if any(word in low or word.decode().encode("utf-16-le") in low for word in telling) else data
    told = names.out_of_text(text)
    if path.endswith(".toml") and _names_in_toml(told, names):
        return None
    return data if told == text else told.encode()


def _names_in_toml(text: str, names: Names) -> bool:
    """Tell whether a table cannot be read any more, or holds a name that is written with escapes."""
    try:
        plain = tomllib.loads(text)
    except (tomllib.TOMLDecodeError, RecursionError):
        return True
    return any(names.out_of_text(one) != one for one in _strings(plain))


def _strings(value: Any) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for key, inner in value.items():
            yield key
            yield from _strings(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from _strings(inner)
