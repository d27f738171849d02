"""What lies beside a record, without names: the studio's file, what was found, and other files."""

from __future__ import annotations

import json
import tomllib
from collections.abc import Iterator
from typing import Any, Final

from enfilade.archive.forgetting.bytes_of_names import encoding_of, hidden_in, stands_in_bytes
from enfilade.project.issues import FOLDER as ISSUED
from enfilade.project.names import Names
from enfilade.project.photos import FOLDER as PHOTOS

__all__ = ["file_without", "findings_without", "gone"]

_IDS: Final = frozenset({"id", "space", "subjects", "assumed"})
_FIXED: Final = frozenset({"rule", "level", "because", "unit", "how", "verdict"})
"""Fields of a finding that hold ids, or words of a fixed list."""
_CLOSED: Final = (b"PK\x03\x04", b"%PDF", b"\x1f\x8b", b"7z\xbc\xaf", b"Rar!", b"BZh", b"\xfd7zXZ", b"\xd0\xcf\x11\xe0")
"""How files begin in which text is packed and cannot be looked through (the formats' own descriptions; recalled)."""


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

    A text stays with other words in their place; a picture or a font in which a name stands goes, and so does whatever
    packs its text.
    """
    if names.out_of_text(path) != path:
        return None
    if data.startswith(_CLOSED):
        return None
    encoding = encoding_of(data)
    if encoding is None:
        return None if stands_in_bytes(data, names.telling) else data
    text = data.decode(encoding)
    told = names.out_of_text(text)
    if hidden_in(told, names) or (path.endswith(".toml") and _names_in_toml(told, names)):
        return None
    return data if told == text else told.encode(encoding, "replace")


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
