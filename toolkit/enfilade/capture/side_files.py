"""Whole versions of a house that its own file could not take, kept beside it until it can."""

from __future__ import annotations

import contextlib
import datetime as dt
import json
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from enfilade.capture.side_places import ready, side_places
from enfilade.capture.windows import Window, is_open
from enfilade.errors import EnfiladeError
from enfilade.files import fingerprint, locked, read_bytes, sweep_parts, write_bytes
from enfilade.project.project import Project
from enfilade.project.reading import project_from

__all__ = ["Found", "SideFiles", "put_aside"]

_FORMAT: Final = 1
_POINTER: Final = re.compile(r"unsaved-([0-9a-f]{12})\.json")
_CONTENT: Final = re.compile(r"[0-9a-f]{64}\.json")
_LARGEST_POINTER: Final = 10_000
_MOST: Final = 20


@dataclass(frozen=True)
class Found:
    """Work that a window could not save before it was closed.

    Attributes:
        key: The window's id.
        place: The folder where it was kept.
        when: When it was last changed [UTC].
        base: The saved house that it began with.
        mine: The house as that window had it.
    """

    key: str
    place: Path
    when: dt.datetime
    base: Project
    mine: Project


class SideFiles:
    """The version of one window, named by content; a small file beside it says which it is and what it began with."""

    def __init__(self, folder: Path, window: Window) -> None:
        self.where: Path | None = None
        self._folder = folder
        self._window = window
        self._names: tuple[str, ...] = ()
        self._known: dict[tuple[Any, ...], Found | None] = {}

    def put(self, base: bytes, mine: bytes) -> Path | None:
        """Keep a version in the best place that takes it, instead of the one before.

        Returns:
            The folder; None when no place takes it.
        """
        names = (_name(base), _name(mine))
        if self.where is not None and names == self._names and (self.where / names[1]).exists():
            return self.where
        for place in side_places(self._folder):
            try:
                self._put_in(place, names, base, mine)
            except EnfiladeError:
                continue
            before, self.where = (self.where, self._names), place
            self._names = names
            self._clear(*before)
            return place
        return None

    def drop(self) -> None:
        """Remove the version: the project's own file has taken it."""
        if self.where is not None:
            before, self.where, self._names = (self.where, self._names), None, ()
            self._clear(*before)

    def found(self) -> list[Found]:
        """Return what windows left that are open no more, the oldest first."""
        found = [
            one
            for place in side_places(self._folder)
            for key in _left(place)
            if key != self._window.id and not is_open(place, key) and (one := self._read(place, key)) is not None
        ]
        return sorted(found, key=lambda one: one.when)[:_MOST]

    def forget(self, found: Found) -> None:
        """Remove what a window left."""
        names = _names_in(found.place, found.key)
        with contextlib.suppress(OSError):
            _pointer(found.place, found.key).unlink()
        _remove(found.place, names)

    def _read(self, place: Path, key: str) -> Found | None:
        """Return what a window left, read once; None when it cannot be read: then it is left where it is."""
        plain = _plain(place, key)
        when, names = str(plain.get("when")), _names_in(place, key)
        about = (place, key, when, names)
        if about not in self._known:
            self._known[about] = _found(place, key, when, names)
        return self._known[about]

    def _put_in(self, place: Path, names: tuple[str, str], base: bytes, mine: bytes) -> None:
        ready(place, self._folder)
        self._window.hold(place)
        now = dt.datetime.now(dt.UTC).isoformat()
        plain = {"format": _FORMAT, "when": now, "base": names[0], "mine": names[1]}
        with locked(place):
            sweep_parts(place)
            for name, data in zip(names, (base, mine), strict=True):
                if not (place / name).is_file():
                    write_bytes(place / name, data)
            write_bytes(_pointer(place, self._window.id), json.dumps(plain, indent=1).encode())

    def _clear(self, place: Path | None, names: tuple[str, ...]) -> None:
        if place is None:
            return
        if place != self.where:
            with contextlib.suppress(OSError):
                _pointer(place, self._window.id).unlink()
        _remove(place, names)


def put_aside(folder: Path, data: bytes) -> Path | None:
    """Keep a file that cannot be read, before another takes its place; return where, None when nowhere."""
    for place in side_places(folder):
        try:
            ready(place, folder)
            path = place / f"unreadable-{fingerprint(data)[:12]}.json"
            write_bytes(path, data)
        except EnfiladeError:
            continue
        return path
    return None


def _name(data: bytes) -> str:
    return f"{fingerprint(data)}.json"


def _pointer(place: Path, key: str) -> Path:
    return place / f"unsaved-{key}.json"


def _left(place: Path) -> Iterator[str]:
    with contextlib.suppress(OSError):
        if not place.is_symlink():
            for path in place.iterdir():
                if match := _POINTER.fullmatch(path.name):
                    yield match[1]


def _found(place: Path, key: str, when: str, names: tuple[str, ...]) -> Found | None:
    try:
        day = dt.datetime.fromisoformat(when).astimezone(dt.UTC)
        base, mine = (project_from(read_bytes(place / name), name) for name in names)
    except (EnfiladeError, ValueError, OverflowError):
        return None
    return Found(key, place, day, base, mine)


def _names_in(place: Path, key: str) -> tuple[str, ...]:
    plain = _plain(place, key)
    return tuple(name for field in ("base", "mine") if _CONTENT.fullmatch(name := str(plain.get(field))))


def _plain(place: Path, key: str) -> dict[str, Any]:
    try:
        plain = json.loads(read_bytes(_pointer(place, key), largest=_LARGEST_POINTER))
    except (EnfiladeError, ValueError, RecursionError):
        return {}
    return plain if isinstance(plain, dict) else {}


def _remove(place: Path, names: tuple[str, ...]) -> None:
    """Remove versions that no window's file names any more."""
    used = {name for key in _left(place) for name in _names_in(place, key)}
    for name in names:
        if name not in used:
            with contextlib.suppress(OSError):
                (place / name).unlink()
