"""A copy of an archive's file held against what was kept, before it takes the place of an earlier one.

SQLite's own check sees torn pages, not other bytes or rows in well-formed ones: digests and seals do.
"""

from __future__ import annotations

import contextlib
import datetime as dt
import sqlite3
import time
from collections.abc import Callable, Iterator, Mapping
from functools import lru_cache
from itertools import groupby
from pathlib import Path
from typing import Final

from enfilade.archive.cutting import digest, is_whole, joined, pieces_of, unpacked
from enfilade.archive.versions import Version, seal_of
from enfilade.errors import Refused

__all__ = ["damaged_parts"]

_LONGEST_S: Final = 10.0
"""So long files are put together, the newest first: the older ones were looked at on the days before (own choice)."""
_AT_HAND: Final = 50_000
_VERSIONS: Final = (
    'SELECT p.id, p.project, p.latest, v.id, v.number, v."on", v.who, v.why, v.format, v.yardstick, v.house_rules, '
    "v.seal FROM projects p LEFT JOIN versions v ON v.project = p.id ORDER BY p.id, v.number"
)
_FILES: Final = (
    "SELECT h.version, h.path, f.digest FROM version_files h JOIN files f ON f.id = h.file ORDER BY h.version"
)


def damaged_parts(copy: Path, *, longest_s: float = _LONGEST_S) -> int:
    """Return how many parts of an archive's file are not what was kept.

    Every piece is held against its digest and every version against its seal; files are put together and held against
    theirs for a while, the newest first.

    Args:
        copy: The file, which nobody else has open.
        longest_s: How long to put files together.
    """
    try:
        with contextlib.closing(sqlite3.connect(copy)) as connection:
            connection.execute("PRAGMA trusted_schema = OFF")
            return sum(_pieces(connection)) + sum(_seals(connection)) + sum(_files(connection, longest_s))
    except (sqlite3.Error, TypeError, ValueError, AttributeError):
        return 1  # A table is missing, or something of another kind stands where a text or a number belongs.


def _pieces(connection: sqlite3.Connection) -> Iterator[bool]:
    for name, data in connection.execute("SELECT digest, data FROM pieces"):
        yield not is_whole(data, name)


def _files(connection: sqlite3.Connection, longest_s: float) -> Iterator[bool]:
    @lru_cache(_AT_HAND)
    def piece(id: int) -> bytes:
        [data] = connection.execute("SELECT data FROM pieces WHERE id = ?", (id,)).fetchone() or (b"",)
        return unpacked(data)

    until = time.monotonic() + longest_s
    for name, manifest in connection.execute("SELECT digest, manifest FROM files ORDER BY id DESC"):
        yield not _is_file(name, manifest, piece)
        if time.monotonic() > until:
            return


def _is_file(name: bytes, manifest: bytes, piece: Callable[[int], bytes]) -> bool:
    try:
        parts = pieces_of(manifest)
        return digest(joined(parts, {part: piece(part) for part in parts if isinstance(part, int)})) == name
    except Refused:
        return False


def _seals(connection: sqlite3.Connection) -> Iterator[bool]:
    digests: dict[int, dict[str, bytes]] = {}
    for version, path, name in connection.execute(_FILES):
        digests.setdefault(version, {})[path] = name
    for (_, project, latest), rows in groupby(connection.execute(_VERSIONS), key=lambda row: row[:3]):
        numbers, seal = [], b""
        for _, _, _, row, number, on, *words in rows:
            numbers.append(number)
            yield number is not None and not _fits(project, number, on, words, seal, digests.get(row, {}))
            seal = words[-1]
        yield numbers != [*range(1, latest + 1)]


def _fits(project: str, number: int, on: str, words: list[object], before: bytes, files: Mapping[str, bytes]) -> bool:
    version = Version(project, number, dt.datetime.fromisoformat(on), *words)  # type: ignore[arg-type]
    return seal_of(version, before, files) == version.seal
