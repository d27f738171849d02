"""Typed text that could not be taken yet, kept beside the project, so that no reload and no dead kernel loses it."""

from __future__ import annotations

import contextlib
import datetime as dt
import json
import math
from collections.abc import Container
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from enfilade.capture.plain_data import plain_data
from enfilade.capture.side_places import ready, side_places
from enfilade.capture.windows import Window, is_open
from enfilade.errors import EnfiladeError, NotFound, Refused
from enfilade.files import fingerprint, locked, read_bytes, sweep_parts, write_bytes

__all__ = ["FILE", "Draft", "Drafts"]

FILE: Final = "typed.json"
_FORMAT: Final = 1
_LARGEST: Final = 8 * 1024 * 1024
_MOST: Final = 1000
"""So many unfinished texts at most; beyond that the oldest go."""
_STEPS: Final = 16
_STEP: Final = 2000
_TYPED: Final = 500_000
"""Longest typed text, as JSON [signs]."""

_Path = tuple[str, ...]


@dataclass(frozen=True)
class Draft:
    """Typed text that could not be taken yet, and why."""

    typed: Any
    error: str = ""


class Drafts:
    """Typed text that could not be taken yet, by the path of its field.

    All windows on a project share one file, in which each changes its own entries alone. What a window left that is
    open no more becomes the next one's.

    Args:
        folder: Of the project.
        window: Whose drafts these are.
    Attributes:
        trouble: Why they are kept in memory alone; empty while they are kept on a disk.
    """

    def __init__(self, folder: Path, window: Window) -> None:
        self.trouble = ""
        self._folder = folder
        self._window = window
        self._mine: dict[_Path, Draft] = {}
        self._seen: set[tuple[str, str]] = set()
        self.adopt()

    def get(self, path: _Path) -> Draft | None:
        """Return what was typed into a field and not taken."""
        return self._mine.get(tuple(path))

    def paths(self) -> tuple[_Path, ...]:
        """Return the fields that hold such text."""
        return tuple(self._mine)

    def keep(self, path: _Path, typed: Any, error: str = "") -> None:
        """Keep what was typed into a field.

        Raises:
            Refused: It is no plain text, number or list of them, or is far too long.
        """
        path = tuple(path)
        _refuse_odd(path, typed)
        draft = Draft(typed, str(error)[:_STEP])
        if self._mine.get(path) == draft:
            return
        self._mine.pop(path, None)
        self._mine[path] = draft  # as the newest
        while len(self._mine) > _MOST:
            self._mine.pop(next(iter(self._mine)))
        self._write()

    def drop(self, path: _Path) -> None:
        """Forget what was typed into a field: it was taken, or given up."""
        if self._mine.pop(tuple(path), None) is not None:
            self._write()

    def adopt(self) -> bool:
        """Take over what windows left that are open no more; True when there was any.

        Where this window has text of its own for a field, that stays.
        """
        left = [
            one
            for place in side_places(self._folder)
            for one in _entries(place)
            if one["by"] != self._window.id and (one["by"], one["when"]) not in self._seen
            if not is_open(place, one["by"])
        ]
        stay = set()
        for one in sorted(left, key=lambda one: str(one["when"]), reverse=True):
            mine = self._mine.setdefault(tuple(one["at"]), Draft(one["typed"], one["error"]))
            if mine.typed != one["typed"]:
                stay.add(one["by"])  # It is kept for who opens the house when this window's own text is done with.
        if left:
            self._seen |= {(one["by"], one["when"]) for one in left}
            self._write({one["by"] for one in left} - stay)
        return bool(left)

    def _write(self, gone: Container[str] = ()) -> None:
        """Write this window's entries in the best place that takes them, and out of the others.

        Args:
            gone: Windows whose entries are this window's now.
        """
        fault = ""
        written = False
        for place in side_places(self._folder):
            try:
                self._write_in(place, {} if written else self._mine, gone)
                written = True
            except EnfiladeError as error:
                fault = fault or str(error)
        self.trouble = "" if written or not self._mine else fault

    def _write_in(self, place: Path, mine: dict[_Path, Draft], gone: Container[str]) -> None:
        if not mine and not (place / FILE).exists():
            return
        ready(place, self._folder)
        self._window.hold(place)
        with locked(place):
            sweep_parts(place)
            there = _entries(place, aside=True)
            now = dt.datetime.now(dt.UTC).isoformat()
            known = {tuple(one["at"]): one for one in there if one["by"] == self._window.id}
            new = [one for one in there if one["by"] != self._window.id and one["by"] not in gone]
            new += [_entry(path, draft, self._window.id, now, known.get(path)) for path, draft in mine.items()]
            if new != there:
                text = json.dumps({"format": _FORMAT, "typed": new}, ensure_ascii=False, indent=1)
                write_bytes(place / FILE, text.encode("utf-8", "surrogatepass"))


def _entry(path: _Path, draft: Draft, by: str, now: str, known: dict[str, Any] | None) -> dict[str, Any]:
    new = {"at": list(path), "typed": draft.typed, "error": draft.error, "by": by}
    if known is not None and all(known[name] == value for name, value in new.items()):
        return known
    return {**new, "when": now}


def _refuse_odd(path: _Path, typed: Any) -> None:
    try:
        length = len(json.dumps(typed, allow_nan=False))
    except (TypeError, ValueError, RecursionError) as error:
        raise Refused("what was typed is no plain text") from error
    if length > _TYPED:
        raise Refused(f"what was typed has {length} signs", expected=f"at most {_TYPED}")
    if not 0 < len(path) <= _STEPS or not all(isinstance(step, str) and len(step) <= _STEP for step in path):
        raise Refused("what was typed belongs to no field")


def _entries(place: Path, *, aside: bool = False) -> list[dict[str, Any]]:
    """Return what a file holds; none when it is not there, or cannot be read.

    Args:
        place: Folder of the file.
        aside: Move a file that cannot be read out of the way, under another name.
    """
    try:
        if place.is_symlink():
            raise Refused(f"{place} is a link")
        data = read_bytes(place / FILE, largest=_LARGEST)
    except NotFound:
        return []
    except EnfiladeError:
        return []  # A link, a pipe: whoever writes there next replaces it whole.
    try:
        return _read(data)
    except (ValueError, RecursionError):
        if aside:
            with contextlib.suppress(OSError):
                (place / FILE).rename(place / f"typed-unreadable-{fingerprint(data)[:12]}.json")
        return []


def _read(data: bytes) -> list[dict[str, Any]]:
    plain = json.loads(data.decode("utf-8", "surrogatepass"), parse_constant=_no_constant)
    if not isinstance(plain, dict) or plain.get("format") != _FORMAT or not isinstance(plain.get("typed"), list):
        raise ValueError("no drafts")
    entries = [_checked(one) for one in plain["typed"]]
    return entries[-10 * _MOST :]


def _checked(one: Any) -> dict[str, Any]:
    one = plain_data(one)  # What one of its windows could not show would stand on the page of every other.
    if not isinstance(one, dict) or not isinstance(one.get("at"), list):
        raise ValueError("no draft")
    _refuse_odd(tuple(one["at"]), one.get("typed"))
    if not all(isinstance(one.get(name), str) for name in ("error", "by", "when")):
        raise ValueError("no draft")
    return {name: one[name] for name in ("at", "typed", "error", "by", "when")}


def _no_constant(name: str) -> float:
    raise ValueError(f"{name} is {math.nan}")
