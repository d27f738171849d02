"""Slides, for a browser: one file that holds its own fonts, styles, drawings and script."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import asdict

from enfilade.export.bare_plans import bare_plan
from enfilade.export.document import Document
from enfilade.export.fitting import PLAN_HIGH, PLAN_WIDE, Block, Role, Slide, fitted
from enfilade.export.issue import NOTHING_UNDECIDED, UNDECIDED, changed_heading, changed_sentences
from enfilade.export.setting import page
from enfilade.walkthrough.findings_part import carried_cautions, grouped
from enfilade.walkthrough.pages import DecisionPart, FindingGroup, FindingPart, RoomPage, Undecided

__all__ = ["slides", "write"]

_PLAN_PX = 600.0
"""Plans are drawn small and shown large, so that their words can be read from afar."""
_NAMED = 3
_DECIDES = "This says what was measured and what each source asks. Local codes and licensed practice decide."
_CAPTION = 240
_TALLEST = PLAN_HIGH / PLAN_WIDE


def write(document: Document) -> dict[str, bytes]:
    """Return `slides.html`."""
    markup = page(
        "slides.html.j2",
        document.look,
        pages=document.pages,
        slides=[asdict(slide) | {"groups": slide.groups()} for slide in slides(document)],
    )
    return {"slides.html": markup.encode("utf-8")}


def slides(document: Document) -> tuple[Slide, ...]:
    """Return the slides, each with no more on it than fits."""
    return tuple(fitted(_all(document)))


def _all(document: Document) -> Iterator[Slide]:
    pages = document.pages
    stage = f"{pages.stage.capitalize()}, version {pages.version}" if pages.version else pages.stage.capitalize()
    who = f"For {pages.client}" if pages.client and pages.audience == "client" else pages.audience_words
    issue = ", ".join(part for part in (stage, pages.date) if part)
    yield Slide("cover", pages.title, blocks=(Block("text", issue), Block("small", who), Block("small", _DECIDES)))
    yield _changed(document)
    yield from _undecided(pages.undecided)
    if pages.plan is not None:
        yield Slide("drawing", "The house, in the order of the rooms", drawing=pages.plan.svg)
    told: set[int] = set()
    notes = _notes(document)
    for room in pages.rooms:
        yield from _room(document, room, told, notes)
    for part in pages.decisions:
        yield _decision(part, "The whole house", ())
    if pages.handover.credits:
        rows = (
            " ".join(row[:1]) + ": " + ", ".join(value for value in row[1:] if value) for row in pages.handover.credits
        )
        yield Slide("text", "Built and made by", blocks=tuple(Block("item", row) for row in rows))


def _changed(document: Document) -> Slide:
    pages = document.pages
    kind: Role = "item" if pages.changes.sentences else "text"
    blocks = tuple(Block(kind, line) for line in changed_sentences(pages))
    return Slide("text", changed_heading(pages), blocks=blocks)


def _undecided(items: Iterable[Undecided]) -> Iterator[Slide]:
    blocks = tuple(
        Block(
            "item",
            ", ".join(part for part in (one.room, one.by and f"by {one.by}", one.due and f"due {one.due}") if part),
            f"{one.title}:",
        )
        for one in items
    )
    yield Slide("text", UNDECIDED, blocks=blocks or (Block("text", NOTHING_UNDECIDED),))


def _room(
    document: Document, room: RoomPage, told: set[int], notes: Mapping[str, list[tuple[int, str]]]
) -> Iterator[Slide]:
    name = f"{room.number} {room.name}"
    new = [part for part in room.decisions if part.number not in told]
    told |= {part.number for part in new}
    # A line goes with the slide of the decision that it tells, where there is one; else with the room itself.
    beside: dict[int, list[str]] = {part.number: [] for part in new}
    here: list[str] = []
    for number, line in notes.get(room.id, []):
        beside.get(number, here).append(line)
    for n, view in enumerate(room.views):
        said = tuple(here) if n == 0 else ()
        yield Slide("view", name, drawing=view.svg, caption=_shortened(view.title), notes=said)
    drawing, names = bare_plan(document, room.id, width_px=_PLAN_PX, tallest=_TALLEST)
    story = (Block("text", room.story),) if room.story else ()
    said = () if room.views else tuple(here)
    yield Slide("plan", name, drawing=drawing, blocks=story, names=names, notes=said)
    for part in new:
        if part.status != "Undecided":
            yield _decision(part, name, tuple(beside[part.number]))
    for picture in room.pictures:
        title = picture.caption or "A picture"
        yield Slide("picture", title, kicker=name, picture=picture.source, caption=picture.alternative)
    for part in new:
        if part.status == "Undecided":
            yield _decision(part, name, tuple(beside[part.number]))
    yield from _open(room, name)


def _decision(part: DecisionPart, room: str, notes: tuple[str, ...]) -> Slide:
    chosen = [option for option in part.options if option.chosen]
    others = [option for option in part.options if not option.chosen]
    blocks = [Block("lead", _costed(option.text, option.cost), "Chosen:") for option in chosen]
    if part.reason:
        blocks.append(Block("text", part.reason, "Why:"))
    if others:
        blocks.append(Block("text", "", "Over:" if chosen else "Weighed:"))
    for option in others:
        why = f" Why not: {option.why_not}" if option.why_not else ""
        blocks.append(Block("other", _costed(option.text, option.cost) + why))
    if part.changed:
        blocks.append(Block("text", part.changed, "Changed on site:"))
    if part.hindsight:
        blocks.append(Block("text", part.hindsight, "Next time:"))
    about = (f"Decision {part.number}", part.status, part.who)
    blocks.append(Block("small", " \u00b7 ".join(text for text in about if text)))
    return Slide("decision", part.title, kicker=room, blocks=tuple(blocks), notes=notes)


def _shortened(text: str) -> str:
    return text if len(text) <= _CAPTION else text[: _CAPTION - 1].rstrip() + "\u2026"


def _costed(text: str, cost: str) -> str:
    return f"{text} ({cost})" if cost else text


def _open(room: RoomPage, name: str) -> Iterator[Slide]:
    """Yield what is open in a room beside what is undecided: what to mend, and what could not be assessed."""
    lacking = tuple(Block("item", _lacks(group), f"{group.title}:") for group in grouped(room.open))
    mending = tuple(
        Block("item", part.sentence + (f" {part.answer}" if part.answer else "")) for part in room.worth_mending
    )
    if mending:
        yield Slide(
            "text", f"{name}: most worth mending", kicker=name, blocks=(*mending, *_cautioned(room, room.worth_mending))
        )
    if lacking:
        yield Slide(
            "text", f"{name}: still to be found out", kicker=name, blocks=(*lacking, *_cautioned(room, room.open))
        )


def _lacks(group: FindingGroup) -> str:
    """Say why something is not assessed, and which facts are missing; the first few of many."""
    needs = list(dict.fromkeys(need for part in group.parts for need in part.needs))
    more = f"; and {len(needs) - _NAMED} more" if len(needs) > _NAMED else ""
    return f"{group.because}{': ' if needs else ''}{'; '.join(needs[:_NAMED])}{more}."


def _cautioned(room: RoomPage, parts: Iterable[FindingPart]) -> tuple[Block, ...]:
    """Return the cautions of what stands on a slide, each once."""
    return tuple(Block("small", line) for line in carried_cautions(room, parts))


def _notes(document: Document) -> dict[str, list[tuple[int, str]]]:
    """Return what is said, by room: each line with the number of the one decision that it tells; 0 for none or several.

    What joins the parts is said in the room before it or after it.
    """
    project = document.telling.project
    numbers = {one.id: one.number for one in project.decisions}
    tells = {
        f"{stop.id}/{line.id}": [numbers[id] for id in line.decisions if id in numbers]
        for stop in project.script
        for line in stop.lines
    }
    found: dict[str, list[tuple[int, str]]] = {}
    for part in document.pages.spoken.parts:
        for n, stop in enumerate(part.stops):
            said = found.setdefault(stop.space, [])
            said += [(0, line.said) for line in (part.recap if n == 0 else ())]
            told = ((tells.get(line.id, []), line.said) for line in stop.lines)
            said += [(decided[0] if len(decided) == 1 else 0, line) for decided, line in told]
            said += [(0, line.said) for line in (part.lead_in if n == len(part.stops) - 1 else ())]
    return found
