"""What the editable deck tells of a room."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from enfilade.export.document import Document
from enfilade.export.issue import UNDECIDED
from enfilade.export.office.deck import Deck
from enfilade.export.office.deck_frame import FRAMES
from enfilade.export.office.deck_text import Block
from enfilade.export.office.pictures import VIEW_PX, Shown, drawing_shown, photograph_shown, plan_of
from enfilade.walkthrough.findings_part import carried_cautions
from enfilade.walkthrough.pages import DecisionPart, Drawing, FindingPart, RoomPage, SpokenPart

__all__ = ["decision_slides", "room_slides", "spoken_notes"]

_MOST_VIEWS = 4
_MOST_NAMES = 60
_A_SLIDE = 2
"""Photographs on one slide."""


def room_slides(deck: Deck, document: Document, page: RoomPage, told: set[int]) -> None:
    """Put one room: perspective or plan, decisions, photographs, and what is open.

    Args:
        deck: What is filled.
        document: What is told.
        page: The room.
        told: Numbers of the decisions that were told before; grows by those of this room.
    """
    first = _first(deck, document, page)
    deck.notes(first, spoken_notes(document, page))
    for part in page.decisions:
        if part.number not in told:
            decision_slides(deck, part, page.name)
            told.add(part.number)
    _photographs(deck, page)
    still = list(_open(page))
    if still:
        deck.slides("Text", f"{page.name}: what is open", still)


def _first(deck: Deck, document: Document, page: RoomPage) -> object:
    title = f"{page.number} {page.name}"
    told = [Block(page.size, 13.0, tone="grey"), Block(page.story, 18.0, before=10.0)]
    if not page.views:
        return _plan(deck, document, page, title, told)
    slides = deck.slides("Picture and text", title, told)
    deck.picture(slides[0], _fitted(document, page.views[0], "picture"), "picture")
    for view in page.views[1:_MOST_VIEWS]:
        (slide, *_) = deck.slides("Picture", title, [Block(view.title, 13.0, tone="grey")])
        deck.picture(slide, _fitted(document, view, "whole picture"), "whole picture")
    _plan(deck, document, page, f"{page.name}: the plan", [])
    return slides[0]


def _fitted(document: Document, drawing: Drawing, frame: str) -> Shown:
    _, _, wide, high = FRAMES[frame]
    return drawing_shown(document, drawing, width_in=wide, height_in=high, width_px=VIEW_PX)


def _plan(deck: Deck, document: Document, page: RoomPage, title: str, told: Sequence[Block]) -> object:
    plan = plan_of(document, page, marks=False)
    names = [
        Block(f"{tag}  {name}", 11.0, before=14.0 if n == 0 else 1.0)
        for n, (tag, name) in enumerate(plan.names[:_MOST_NAMES])
    ]
    slides = deck.slides("Picture and text", title, [*told, *names])
    _, _, wide, high = FRAMES["picture"]
    shown = drawing_shown(document, plan.drawing, width_in=wide, height_in=high, width_px=plan.width_px)
    for slide in slides:  # names that are carried over stand beside the plan again
        deck.picture(slide, shown, "picture")
    return slides[0]


def decision_slides(deck: Deck, part: DecisionPart, where: str) -> None:
    """Put a decision on a slide of its own, or on more when it says more."""
    chosen = [option for option in part.options if option.chosen]
    others = [option for option in part.options if not option.chosen]
    told = [Block(" \u00b7 ".join(one for one in (where, part.status, part.who) if one), 13.0, tone="grey")]
    for option in chosen:
        told += _labelled("Chosen", _priced(option.text, option.cost), 25.0)
    told += _labelled("Why", part.reason, 19.0)
    told += _labelled("Changed on site", part.changed, 19.0)
    told += _labelled("Next time", part.hindsight, 19.0)
    weighed: list[Block] = []
    for n, option in enumerate(others):
        label = ("Over" if chosen else "Weighed") if n == 0 else ""
        weighed += (
            [Block(label, 13.0, bold=True, tone="accent", before=0.0 if chosen else 16.0, with_next=True)]
            if label
            else []
        )
        weighed.append(Block(_priced(option.text, option.cost), 18.0, before=2.0 if label else 15.0, with_next=True))
        weighed.append(Block(option.why_not, 15.0, tone="grey", before=3.0))
    if weighed and chosen:
        deck.slides("Two texts", f"{part.number} {part.title}", told, weighed)
    else:
        deck.slides("Text", f"{part.number} {part.title}", told + weighed)


def _labelled(label: str, text: str, size: float) -> list[Block]:
    if not text.strip():
        return []
    return [
        Block(label, 13.0, bold=True, tone="accent", before=16.0, with_next=True),
        Block(text, size, before=2.0),
    ]


def _priced(text: str, cost: str) -> str:
    return f"{text} ({cost})" if cost else text


def _photographs(deck: Deck, page: RoomPage) -> None:
    shown = []
    for picture in page.pictures:
        one = photograph_shown(picture, width_in=FRAMES["whole picture"][2] / _A_SLIDE - 0.3, height_in=4.6)
        if one is not None:
            shown.append((one, picture.caption))
    for start in range(0, len(shown), _A_SLIDE):
        several = shown[start : start + _A_SLIDE]
        words = "   ".join(caption for _, caption in several if caption)
        caption = [Block(words if len(words) < 130 else "", 13.0, tone="grey")]
        (slide, *_) = deck.slides("Picture", f"{page.name}: photographs", caption)
        for n, (one, _) in enumerate(several):
            deck.picture(slide, one, "whole picture", number=n, of=len(several))


def _open(page: RoomPage) -> Iterator[Block]:
    undecided = [part for part in page.decisions if part.status == "Undecided"]
    if undecided:
        yield Block(UNDECIDED, 13.0, bold=True, tone="accent", with_next=True)
        for part in undecided:
            words = " \u2013 ".join(one for one in (f"{part.number} {part.title}", part.who) if one)
            yield Block(words, 16.0, bullet=True, before=4.0)
    yield from _found("Falls short", page.short)
    yield from _found("Not assessed: a fact is missing", page.open)
    for n, caution in enumerate(carried_cautions(page, (*page.short, *page.open))):
        if n == 0:
            yield Block("Cautions", 13.0, bold=True, tone="accent", before=16.0, with_next=True)
        yield Block(caution, 13.0, bullet=True, before=4.0)


def _found(label: str, found: Sequence[FindingPart]) -> Iterator[Block]:
    if found:
        yield Block(label, 13.0, bold=True, tone="accent", before=16.0, with_next=True)
    for part in found:
        yield Block(part.sentence, 16.0, bullet=True, before=4.0, with_next=bool(part.answer))
        yield Block(part.answer, 13.0, tone="grey", before=1.0, bullet=False)


def spoken_notes(document: Document, page: RoomPage) -> list[str]:
    """Return what is said in a room, for the eye, each line with its seconds."""
    notes: list[str] = []
    for part in document.pages.spoken.parts:
        here = [n for n, stop in enumerate(part.stops) if stop.space == page.id]
        if not here:
            continue
        notes += [_said(line) for line in part.recap] if here[0] == 0 else []
        notes += [_said(line) for n in here for line in part.stops[n].lines]
        notes += [_said(line) for line in part.lead_in] if here[-1] == len(part.stops) - 1 else []
    return notes or list(page.lines)


def _said(line: SpokenPart) -> str:
    pause = f", then {line.pause_s:.0f} s of silence" if line.pause_s >= 0.5 else ""
    return f"{line.shown} ({max(line.seconds, 1):.0f} s{pause})"
