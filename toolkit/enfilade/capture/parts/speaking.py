"""How the house is told: how fast, how long, from which room to which, in which parts; and what it is filmed with."""

from __future__ import annotations

from typing import Any, Final

from enfilade.capture.desk import Desk
from enfilade.capture.parts.fields import set_field
from enfilade.capture.sight import Sight, text_of
from enfilade.capture.telling import time_words
from enfilade.editing.forms.forms import Field, Forms
from enfilade.editing.forms.offers import Offers
from enfilade.project.people import Show
from enfilade.project.speaking import Filming, Speaking
from enfilade.trade.speech import Rate, rate, rates

__all__ = ["HANDLERS", "NAME", "shown"]

NAME: Final = "speaking"
_SPEAKING: Final = ("show", "speaking")
_FILMING: Final = ("show", "filming")
_IN_THE_SCRIPT: Final = frozenset({"recap", "lead_in"})
"""What joins the parts is written where it is said."""
_SILENT: Final = "silent-"
"""Rates of silent reading are none to speak at."""
_HELP: Final = {
    "target_s": "such as 8, or 7 min 30 s; when empty: as long as it takes",
    "first": "when empty: at the way in",
    "last": "",
    "lenses_mm": "",
    "walk_mm_s": "how fast one walks from room to room",
    "parts": "a long house is told in parts; each begins with what was told before, and ends with what comes",
}


def shown(desk: Desk, sight: Sight) -> dict[str, Any]:
    """Return the forms of how it is told and filmed, the published rates of speech, and all of it in a sentence."""
    project = desk.project
    offers = Offers(project)
    forms = Forms(project, offers, desk.drafts, without=_IN_THE_SCRIPT)
    told = [_helped(field) for field in forms.form(_SPEAKING)]
    filmed = [_helped(field) for field in forms.form(_FILMING)]
    return {
        "set": (project.show.speaking, project.show.filming) != (Speaking(), Filming()),
        "words": _words(project.show, {space.id: space.name for space in project.spaces}),
        "wrong": any("error" in field for field in (*told, *filmed)),
        "told": told,
        "filmed": filmed,
        "rates": [{"value": one.id, "label": _rate_words(one)} for one in _spoken_rates()],
        "rate": next((one.id for one in _spoken_rates() if one.wpm == project.show.speaking.rate_wpm), ""),
        "source": _source_words(project.show.speaking.rate_wpm),
        "lists": offers.told,
    }


def _helped(field: Field) -> Field:
    helped = field | ({"help": _HELP[field["name"]]} if field["name"] in _HELP else {})
    return helped | ({"unit": "minutes"} if field["name"] == "target_s" else {})


def _words(show: Show, names: dict[str, str]) -> str:
    speaking = show.speaking
    words = [f"{speaking.rate_wpm:g} words a minute"]
    if speaking.target_s is not None:
        words.append(f"{time_words(speaking.target_s)} in all")
    if speaking.first in names:
        words.append(f"begins in {names[speaking.first or '']}")
    if speaking.last in names:
        words.append(f"{names[speaking.last or '']} saved for last")
    if speaking.parts:
        words.append(f"in {len(speaking.parts)} parts" if len(speaking.parts) > 1 else "in one part")
    return "; ".join(words)


def _spoken_rates() -> list[Rate]:
    return [one for one in rates() if not one.id.startswith(_SILENT)]


def _rate_words(one: Rate) -> str:
    between = f", {one.low:g} to {one.high:g}" if one.low is not None and one.high is not None else ""
    return f"{one.title}: {one.wpm:g}{between if one.usual is not None else f'{between}, the middle of it'}"


def _source_words(wpm: float) -> str:
    """Return where the present rate is published; empty when it is nobody's."""
    found = [one for one in _spoken_rates() if one.wpm == wpm]
    if not found:
        return ""
    source = found[0].source
    return f"{', '.join(part for part in (source.document, source.body, source.edition) if part)} ({source.known})."


def _take(desk: Desk, sight: Sight, message: dict[str, Any]) -> dict[str, Any]:
    """Take a published rate."""
    found = rate(text_of(message, "rate", longest=64))
    set_field(desk, (*_SPEAKING, "rate_wpm"), f"{found.wpm:g}")
    return {"say": f"{found.wpm:g} words a minute: {found.title}"}


HANDLERS: Final = {"take rate": _take}
