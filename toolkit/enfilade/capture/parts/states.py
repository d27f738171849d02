"""The earlier states of the house: when each stood, what changed, and the way back to it."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path
from typing import Any, Final

from enfilade.capture.desk import Desk
from enfilade.capture.sight import Sight, text_of
from enfilade.editing.merging.changes import changes
from enfilade.editing.merging.merging import merged
from enfilade.errors import EnfiladeError, NotFound, Refused
from enfilade.files import read_bytes
from enfilade.project.photos import FOLDER as PHOTOS
from enfilade.project.project import Project
from enfilade.project.reading import project_from
from enfilade.project.store import kept_states, time_kept
from enfilade.times import when_words

__all__ = ["HANDLERS", "NAME", "let_go", "shown"]

NAME: Final = "states"
_TOLD: Final = 6
_COUNTED: Final = (("spaces", "room"), ("things", "thing"), ("decisions", "decision"))


def shown(desk: Desk, sight: Sight) -> dict[str, Any]:
    """Return the house as it is and its earlier states, the newest first, with what changed since the one before."""
    kept = kept_states(desk.folder)
    houses = [desk.project, *(_read(path) for path in kept)]
    whens = ["now", *_whens(kept)]
    keys = ["", *(path.name for path in kept)]
    return {
        "states": [
            {
                "key": key,
                "when": when,
                "counts": _counts(house) if house is not None else "",
                **_changed(house, _older(houses, index)),
            }
            for index, (key, when, house) in enumerate(zip(keys, whens, houses, strict=True))
        ]
    }


def _whens(kept: tuple[Path, ...]) -> list[str]:
    """Return until when each state stood; to the second where several stood within a minute."""
    plain = [when_words(time_kept(path)) for path in kept]
    exact = [when_words(time_kept(path), seconds=True) for path in kept]
    return [f"until {long if plain.count(short) > 1 else short}" for short, long in zip(plain, exact, strict=True)]


def _older(houses: list[Project | None], index: int) -> Project | None:
    """Return the nearest earlier state that can be read; None when there is none."""
    return next((house for house in houses[index + 1 :] if house is not None), None)


def _counts(house: Project) -> str:
    counts = [(len(getattr(house, name)), word) for name, word in _COUNTED]
    return ", ".join(f"{count} {word}{'' if count == 1 else 's'}" for count, word in counts)


def _changed(house: Project | None, older: Project | None) -> dict[str, Any]:
    if house is None:
        return {"changed": [], "more": 0, "note": "It cannot be read any more."}
    if older is None:
        return {"changed": [], "more": 0, "note": "The earliest state that is kept."}
    told = _between(_Same(older), _Same(house))
    return {"changed": list(told[:_TOLD]), "more": max(0, len(told) - _TOLD), "note": "" if told else "Nothing."}


class _Same:
    """A house as a key of what is remembered: the same object says the same."""

    def __init__(self, house: Project) -> None:
        self.house = house

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Same) and other.house is self.house

    def __hash__(self) -> int:
        return id(self.house)


@lru_cache(maxsize=64)
def _between(older: _Same, newer: _Same) -> tuple[str, ...]:
    return tuple(changes(older.house, newer.house))


@lru_cache(maxsize=64)
def _read(path: Path) -> Project | None:
    """Return a kept state, read once: its file is named by its time and content, and is never changed."""
    try:
        return project_from(read_bytes(path), path.name)
    except EnfiladeError:
        return None


def let_go() -> None:
    """Forget what was read of earlier states: their files have changed."""
    _read.cache_clear()
    _between.cache_clear()


def _go_back(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    key = text_of(message, "key", longest=100)
    path = next((one for one in kept_states(desk.folder) if one.name == key), None)
    if path is None:
        raise NotFound("this state is not kept any more", do="choose another one")
    state = _read(path)
    if state is None:
        raise Refused("this state cannot be read any more", do="choose another one")
    for photograph in state.photographs:
        if not (desk.folder / PHOTOS / photograph.file).is_file():
            name = f"photograph “{photograph.caption}”" if photograph.caption else "a photograph"
            raise Refused(f"{name} of that state is not in the folder any more", do="choose another state")
    when = f"until {when_words(time_kept(path))}"
    # What is the same stays the same object, so that what was found for it is remembered.
    desk.change(f"went back to the house as it was {when}", merged(desk.project, desk.project, state).project)
    return f"The house is as it was {when}. Undo takes it back."


HANDLERS: Final = {"go back": _go_back}
