"""The head of the page: the house, what can be undone, how it is kept, and what must be chosen first."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final, Literal

from enfilade.capture.desk import Desk, Found
from enfilade.capture.opening import SECTIONS
from enfilade.capture.sight import Sight, text_of
from enfilade.times import when_words

__all__ = ["HANDLERS", "NAME", "QUIET", "acts", "shown"]

NAME: Final = "head"
QUIET: Final = frozenset({"look"})
_NAMED: Final = 8
_SECTIONS: Final = {
    "tell": {
        "speaking": "How it is told", "route": "The order", "script": "The script", "timing": "Time", "shots": "Shots",
        "documents": "Documents",
    },
    "keep": {
        "archive": "The archive", "found": "Find", "lessons": "Lessons", "comparison": "Compare",
        "passing": "Passing on", "aftercare": "What is handed over", "states": "Earlier states",
        "forgetting": "Forgetting",
    },
}  # fmt: skip
"""Parts of a page that is long, by what they are called: links under the title lead to them."""


def shown(desk: Desk, sight: Sight) -> dict[str, Any]:
    """Return the name of the house, the acts, what can be undone and done again, and how the work is kept."""
    saved = desk.saved
    return {
        "name": desk.project.name,
        "acts": acts(sight.act, desk.addresses),
        "sections": [{"name": name, "words": words} for name, words in _SECTIONS.get(sight.act, {}).items()],
        "undo": desk.undo_words,
        "redo": desk.redo_words,
        "saved": {"words": saved.words, "trouble": saved.trouble, "do": saved.do},
        "others": desk.others,
        "question": _question(desk),
        "found": [_found(desk, one) for one in desk.found],
    }


def acts(here: str, addresses: Mapping[str, str]) -> list[dict[str, Any]]:
    """Return the five acts with their addresses, None where an address is not known."""
    return [{"name": act, "href": addresses.get(act), "here": act == here} for act in SECTIONS]


def _question(desk: Desk) -> dict[str, Any] | None:
    asked = desk.question
    if asked is None:
        return None
    return {
        "kind": asked.kind,
        "key": asked.key,
        "words": asked.words,
        "lines": [
            {"key": one.key, "about": one.about, "mine": one.mine, "theirs": one.theirs, "why": one.why}
            for one in asked.lines
        ],
    }


def _found(desk: Desk, found: Found) -> dict[str, Any]:
    told = desk.told(found)
    return {
        "key": found.key,
        "when": when_words(found.when),
        "what": list(told[:_NAMED]),
        "more": max(0, len(told) - _NAMED),
    }


def _undo(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    return f"Undone: {desk.undo()}"


def _redo(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    return f"Done again: {desk.redo()}"


def _look(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    """Look at the disk, and say what is new; nothing when nothing is."""
    before = (desk.saved, desk.question, desk.found, desk.others, desk.drafts.paths())
    changed = desk.look()
    saved, question, found, others, typed = before
    said = []
    if desk.question is not None and desk.question is not question:
        said.append(desk.question.words)
    elif changed or desk.saved != saved:
        said.append(f"{desk.saved.words} {desk.saved.do}".strip())
    if len(desk.found) > len(found):
        said.append("Work that was not saved has been found; it is offered at the head of the page.")
    if desk.others != others:
        said.append(_open_in(desk.others))
    if desk.drafts.paths() != typed:
        said.append("What was typed before, and not finished, has been put back.")
    return " ".join(said)


def _open_in(others: int) -> str:
    if not others:
        return "This house is open in this window alone."
    return f"This house is open in {'another window' if others == 1 else f'{others} other windows'} too."


def _keep_mine(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    return _answered(desk, "mine", message)


def _take_theirs(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    return _answered(desk, "theirs", message)


def _answered(desk: Desk, side: Literal["mine", "theirs"], message: dict[str, Any]) -> str:
    return desk.answer(side, text_of(message, "key", longest=64))


def _bring_back(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    return desk.bring_back(text_of(message, "key", longest=64))


def _leave_out(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    return desk.discard(text_of(message, "key", longest=64))


HANDLERS: Final = {
    "undo": _undo,
    "redo": _redo,
    "look": _look,
    "keep mine": _keep_mine,
    "take theirs": _take_theirs,
    "bring back": _bring_back,
    "leave out": _leave_out,
}
