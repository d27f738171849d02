"""Why work could not be saved, and what to do about it, in people's words."""

from __future__ import annotations

import errno
from pathlib import Path
from typing import Final

from enfilade.errors import BadRecord, Conflict, EnfiladeError
from enfilade.project.store import DRAFTS, FILE

__all__ = ["Trouble", "folder_gone", "kept_where", "trouble_of", "unreadable"]

_FULL: Final = frozenset({errno.ENOSPC, getattr(errno, "EDQUOT", errno.ENOSPC)})
_CLOSED: Final = frozenset({errno.EACCES, errno.EPERM, errno.EROFS})
_AGAIN: Final = "It is tried again by itself."


class Trouble(Exception):  # noqa: N818 - it says why, and is told, not raised further
    """Why the house cannot be saved now.

    Args:
        words: What is wrong, a sentence.
        do: What a person can do about it.
    """

    def __init__(self, words: str, do: str = "") -> None:
        super().__init__(words)
        self.words = words
        self.do = do


def trouble_of(error: EnfiladeError, folder: Path) -> Trouble:
    """Return what an error of saving means to the person at the page."""
    cause = error.__cause__
    number = cause.errno if isinstance(cause, OSError) else None
    if number in _FULL:
        return Trouble("Not saved: the disk is full.", f"Make room on the disk that holds {folder}. {_AGAIN}")
    if number in _CLOSED:
        words = f"Not saved: the folder {folder} may not be written."
        return Trouble(words, f"Ask whoever owns it to let you write there. {_AGAIN}")
    if isinstance(error, BadRecord):
        return Trouble(
            f"Not saved: {'; '.join(fault.what for fault in error.faults[:2])}.",
            f"Put back what is missing from {folder}. {_AGAIN}",
        )
    if isinstance(error, Conflict):
        return Trouble("Not saved yet: another window holds the project's folder.", _AGAIN)
    return Trouble(f"Not saved: {error.what}.", f"{_sentence(error.do)}{_AGAIN}")


def folder_gone(folder: Path) -> Trouble:
    """Return what to say when the project's folder is not there."""
    return Trouble(
        f"Not saved: the folder {folder} is gone.",
        "It was moved or taken away, or its disk is not connected. Put it back, and saving goes on by itself.",
    )


def unreadable(error: EnfiladeError, folder: Path) -> Trouble:
    """Return what to say when another hand wrote something into the project's file that is no project."""
    place = error.faults[0].place if isinstance(error, BadRecord) else ""
    where = f" (it makes no sense from {place})" if place.startswith("line") else ""
    return Trouble(
        f"Not saved: the project's file was changed by another hand and cannot be read{where}.",
        f"Nothing was written over it. Mend {folder / FILE}, or choose below.",
    )


def kept_where(place: Path | None, folder: Path) -> str:
    """Say where the work is kept meanwhile."""
    if place is None:
        return "Meanwhile your work is kept in this window alone: leave it open."
    if place.parent == folder:
        return f"Meanwhile your work is kept beside the project, in {DRAFTS}."
    return f"Meanwhile your work is kept in {place}."


def _sentence(text: str) -> str:
    return f"{text[:1].upper()}{text[1:].rstrip('.')}. " if text else ""
