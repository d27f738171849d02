"""Which windows work on a project: each holds a file while it lives, so that one that died is known from its lock."""

from __future__ import annotations

import contextlib
import os
import re
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Final

from enfilade.files import Held, hold

__all__ = ["Window", "is_open", "others"]

_UNWATCHED_S: Final = 150.0
"""A page asks at least once a minute, also while it is hidden; after this long nobody looks at it any more."""

_NAME: Final = re.compile(r"\.window-([0-9a-f]{12})\.lock")


class Window:
    """One window on a project: a process that holds it on its desk.

    Attributes:
        id: Twelve hexadecimal digits, new for each.
    """

    def __init__(self) -> None:
        self.id = os.urandom(6).hex()
        self._held: dict[Path, Held] = {}

    def hold(self, place: Path) -> None:
        """Say in a folder that this window is open; nothing happens where nothing can be written."""
        if place not in self._held and (held := hold(_file(place, self.id), tries=5)) is not None:
            self._held[place] = held

    def looked(self) -> None:
        """Say that somebody still looks through this window; see `others`."""
        for place in self._held:
            with contextlib.suppress(OSError):
                os.utime(_file(place, self.id))

    def close(self) -> None:
        """Say that the window is closed; so does the end of the process, in whatever way it comes."""
        for held in self._held.values():
            held.let_go()
        self._held.clear()


def is_open(place: Path, id: str) -> bool:
    """Tell whether a window is open that said so in a folder."""
    path = _file(place, id)
    return _NAME.fullmatch(path.name) is not None and path.exists() and not _swept(path)


def others(place: Path, window: Window) -> int:
    """Return through how many other windows somebody looks, and remove what those left that died.

    The process behind a page that was shut may live on for a while; nobody looks through it.
    """
    ids = [id for id in _ids(place) if id != window.id]
    return sum(is_open(place, id) and _watched(_file(place, id)) for id in ids)


def _watched(path: Path) -> bool:
    with contextlib.suppress(OSError):
        return time.time() - path.stat().st_mtime < _UNWATCHED_S
    return False


def _file(place: Path, id: str) -> Path:
    return place / f".window-{id}.lock"


def _ids(place: Path) -> Iterator[str]:
    with contextlib.suppress(OSError):
        for entry in os.scandir(place):
            if match := _NAME.fullmatch(entry.name):
                yield match[1]


def _swept(path: Path) -> bool:
    """Remove the file of a window that died; False when its window holds it."""
    held = hold(path)
    if held is None:
        # Where nothing may be written, nobody's lock can be tried; such a window can save nothing here either.
        return not os.access(path, os.W_OK)
    held.let_go()
    return True
