"""What became of sizes, decisions and answers between two states of a house, as the trade says it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, Final

from enfilade.checks.answers import answers_by_finding
from enfilade.editing.forms.called import shortened
from enfilade.editing.forms.shown import length_words
from enfilade.editing.merging.saying import Words
from enfilade.lengths import System, show_length
from enfilade.project.choices import Answer, Decision
from enfilade.project.project import Project
from enfilade.project.spaces import Opening
from enfilade.project.thing import Thing
from enfilade.walkthrough.change_words import Told

__all__ = ["called", "told_apart"]

_DECISION: Final = 0
_SIZE: Final = 30
_ANSWER: Final = 28
_LONG: Final = 160
_TOPS: Final = ("island", "peninsula", "counter", "table", "desk")
"""Kinds whose width is their length to whoever speaks of them."""
_LIES: Final = ("island", "peninsula", "table", "desk")


def told_apart(before: Project, after: Project, findings: Mapping[str, tuple[str, str]]) -> tuple[list[Told], Project]:
    """Return what became of sizes, decisions and answers, and the later state without these changes.

    What is left of the later state is for `told_changes`, so that nothing is told twice and nothing is lost.

    Args:
        findings: Room and words of the findings that were answered, by id.
    """
    words, told = Words(after, before), list[Told]()
    left = {
        "things": tuple(_without_sizes(words, before.things_by_id.get(one.id), one, after, told)
                        for one in after.things),
        "openings": _openings(words, before, after, told),
        "decisions": tuple(_without_move(before, one, told) for one in after.decisions),
        "answers": before.answers,
    }  # fmt: skip
    told += _answers(before, after, findings)
    return told, after.model_copy(update=left)


# -- sizes


def _without_sizes(words: Words, was: Thing | None, now: Thing, after: Project, told: list[Told]) -> Thing:
    if was is None:
        return now
    parts, same = list[str](), dict[str, Any]()
    for field, (more, less) in {"width_mm": _along(now.kind), "depth_mm": _across(now.kind)}.items():
        _part(was, now, field, more, less, after.show.units, parts, same)
    up_mm = now.bottom_mm - was.bottom_mm
    if abs(now.top_mm - was.top_mm - up_mm) < 0.05 and _shows(up_mm, after.show.units):
        parts.append(f"{show_length(abs(up_mm), after.show.units)} {'higher' if up_mm > 0 else 'lower'} up the wall")
        same |= {"bottom_mm": was.bottom_mm, "top_mm": was.top_mm}
    else:
        _part(was, now, "top_mm", "taller", "lower", after.show.units, parts, same)
    if parts:
        told.append(Told(_SIZE, now.space, f"{words.record(('things', now.id))} is {'; '.join(parts)}"))
    return now.model_copy(update=same) if same else now


def _along(kind: str) -> tuple[str, str]:
    return ("longer", "shorter") if kind in _TOPS else ("wider", "narrower")


def _across(kind: str) -> tuple[str, str]:
    return ("wider", "narrower") if kind in _LIES else ("deeper", "shallower")


def _part(
    was: Any, now: Any, field: str, more: str, less: str, units: System, parts: list[str], same: dict[str, Any]
) -> None:
    before_mm, after_mm = getattr(was, field), getattr(now, field)
    if not _shows(after_mm - before_mm, units):
        return
    # As the record's own field shows it.
    far, now_is, was_is = (length_words(one, field, units) for one in (abs(after_mm - before_mm), after_mm, before_mm))
    figures = f"now {now_is}, was {was_is}"
    parts.append(f"{far} {more if after_mm > before_mm else less} ({figures})")
    same[field] = before_mm


def _shows(far_mm: float, units: System) -> bool:
    """Tell whether a difference is seen in the units that are read; a smaller one is told by its field."""
    return show_length(abs(far_mm), units) != show_length(0.0, units)


def _openings(words: Words, before: Project, after: Project, told: list[Told]) -> tuple[Opening, ...]:
    old = {one.id: one for one in before.openings}
    left = []
    for now in after.openings:
        was, parts, same = old.get(now.id), list[str](), dict[str, Any]()
        if was is not None:
            _part(was, now, "width_mm", "wider", "narrower", after.show.units, parts, same)
            _part(was, now, "height_mm", "taller", "lower", after.show.units, parts, same)
        if parts:
            room = after.walls_by_id[now.wall][0].id if now.wall in after.walls_by_id else ""
            told.append(Told(_SIZE - 10, room, f"{words.record(('openings', now.id))} is {'; '.join(parts)}"))
        left.append(now.model_copy(update=same) if same else now)
    return tuple(left)


# -- decisions


def _without_move(before: Project, now: Decision, told: list[Told]) -> Decision:
    was = next((one for one in before.decisions if one.id == now.id), None)
    if was is None or (was.choice, was.status, was.changed) == (now.choice, now.status, now.changed):
        return now
    if said := "; ".join(_moves(was, now)):
        room = now.spaces[0] if len(now.spaces) == 1 else ""
        told.append(Told(_DECISION, room, f"{called(now)} {said}"))
    return was


def called(decision: Decision) -> str:
    """Return a decision as a sentence begins with it."""
    return f"decision {decision.number}, \u201c{shortened(decision.title, _LONG)}\u201d,"


def _moves(was: Decision, now: Decision) -> Iterator[str]:
    open_was, open_now = was.status == "undecided", now.status == "undecided"
    if open_now and not open_was:
        yield "was reopened" + (f"; it was {_taken(was)}" if was.chosen else "")
        if now.choice not in (None, was.choice):
            yield f"marked for now is {_taken(now)}"
    elif open_was and not open_now:
        yield "is settled" + (f": {_taken(now)}" if now.chosen else "")
    elif was.choice != now.choice and open_now:
        yield f"is still open; marked for now is {_taken(now)}, was {_taken(was)}"
    elif was.choice != now.choice and was.choice is not None:
        yield f"was reversed: now {_taken(now)}, was {_taken(was)}"
    elif was.choice != now.choice:
        yield f"has its choice recorded: {_taken(now)}"
    if now.status != was.status and not open_now and not (open_was and now.status == "planned"):
        yield {"built": "is built", "planned": "is planned, and no longer built"}.get(now.status, "was changed on site")
    if now.changed != was.changed:
        yield f"on site: {_quoted(now.changed)}" if now.changed else "what was changed on site was taken out"


def _taken(decision: Decision) -> str:
    return _quoted(decision.chosen.text) if decision.chosen is not None else "nothing"


def _quoted(text: str) -> str:
    return f"\u201c{shortened(text, _LONG).rstrip('.')}\u201d"


# -- answers


def _answers(before: Project, after: Project, findings: Mapping[str, tuple[str, str]]) -> Iterator[Told]:
    old, new = answers_by_finding(before.answers), answers_by_finding(after.answers)
    for id in dict.fromkeys((*new, *old)):
        was, now = old.get(id), new.get(id)
        if was == now:
            continue
        room, name = findings.get(id, ("", f"a finding that is not there any more ({shortened(id, _LONG)})"))
        if now is None:
            yield Told(_ANSWER, room, f"{name}: its answer was taken back")
        elif was is None:
            yield Told(_ANSWER, room, f"{name} {_answered(now)}")
        elif (was.kind, was.reason, was.by) != (now.kind, now.reason, now.by):
            yield Told(_ANSWER, room, f"{name} {_answered(now)}; before, it {_answered(was)}")
        else:
            yield Told(_ANSWER, room, f"{name}: its answer was given anew, to the figure as it is now")


def _answered(answer: Answer) -> str:
    by = f" by {shortened(answer.by, _LONG)}" if answer.by else ""
    kind = {"to mend": "is to be mended", "accepted": "was accepted"}.get(answer.kind, "was found not relevant here")
    return f"{kind}{by}" + (f": {_quoted(answer.reason)}" if answer.reason.strip() else "")
