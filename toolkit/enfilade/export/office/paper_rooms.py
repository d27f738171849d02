"""What the editable document tells of a room."""

from __future__ import annotations

from collections.abc import Sequence

from enfilade.export.document import Document
from enfilade.export.office.paper import UNBROKEN, Paper
from enfilade.export.office.pictures import PLAN_BOX_IN, VIEW_PX, drawing_shown, photograph_shown, plan_of
from enfilade.walkthrough.pages import DecisionPart, FindingPart, RoomPage

__all__ = ["decision", "findings", "room"]

_WIDE_PLAN_HIGH_IN, _VIEW_HIGH_IN, _FINER = 6.7, 4.2, 1.35
_ELEVATION_IN, _PHOTOGRAPH_IN = (5.4, 3.7), (4.4, 3.2)
_DPI = 130.0


def room(paper: Paper, document: Document, page: RoomPage, told: dict[int, str]) -> None:
    """Put one room: its story, pictures, decisions, what falls short, cautions, schedules and lines.

    Args:
        paper: What is filled.
        document: What is told.
        page: The room.
        told: Numbers of the decisions that were told before, and where; grows by those of this room.
    """
    paper.heading(f"{page.number} {page.name}", 1, new_page=True)
    paper.line(page.size, style="Small")
    paper.text(page.story, style="Lead")
    for view in page.views:
        shown = drawing_shown(document, view, width_in=paper.width_in, height_in=_VIEW_HIGH_IN, width_px=VIEW_PX)
        paper.picture(shown, view.title)
    _plan(paper, document, page)
    if page.decisions:
        paper.heading("What was decided", 2)
        for part in page.decisions:
            if part.number in told:
                paper.line((f"{part.number} {part.title}: ", "Label"), f"see {told[part.number]}.")
            else:
                decision(paper, part)
                told[part.number] = f"{page.number} {page.name}"
    _photographs(paper, page)
    if page.elevations:
        paper.heading("Elevations", 2)
        for drawing in page.elevations:
            wide, high = _ELEVATION_IN
            paper.picture(drawing_shown(document, drawing, width_in=wide, height_in=high, dpi=_DPI), drawing.title)
    findings(paper, "What falls short", page.short)
    findings(paper, "What could not be assessed yet", page.open)
    if page.cautions:
        paper.heading("Cautions", 2)
        paper.bullets(page.cautions)
    for table in page.schedules:
        paper.table(table)
    if page.remarks:
        paper.heading("Remarks", 2)
        for name, text in page.remarks:
            paper.line((f"{name}: ", "Label"), text, style="List Bullet")
    if page.lines:
        paper.heading("To say here", 2)
        for line in page.lines:
            paper.text(line, style="Spoken")
    paper.drop_heading()


def _plan(paper: Paper, document: Document, page: RoomPage) -> None:
    plan = plan_of(document, page, marks=bool(page.short), finer=_FINER if page.wide else 1.0)
    marked = " Numbers in diamonds are those of what falls short." if any(one.number for one in page.short) else ""
    high = _WIDE_PLAN_HIGH_IN if page.wide else PLAN_BOX_IN[1]
    shown = drawing_shown(document, plan.drawing, width_in=paper.width_in, height_in=high, width_px=plan.width_px)
    paper.picture(shown, plan.drawing.title + marked)
    if plan.names:
        runs: list[tuple[str, str]] = []
        for tag, name in plan.names:
            runs += [(f"{tag.replace('-', UNBROKEN)}\u00a0", "Label"), (f"{name}   ", "")]
        paper.line(*runs, style="Small")


def _photographs(paper: Paper, page: RoomPage) -> None:
    paper.heading("Photographs", 2)
    for picture in page.pictures:
        wide, high = _PHOTOGRAPH_IN
        shown = photograph_shown(picture, width_in=wide, height_in=high)
        if shown is not None:
            paper.picture(shown, picture.caption)
    paper.drop_heading()


def decision(paper: Paper, part: DecisionPart) -> None:
    """Put a decision on one page, as far as it goes: what was chosen, over what, and why."""
    paper.heading(f"{part.number} {part.title}", 3)
    with paper.together():
        paper.line(" \u00b7 ".join(one for one in (part.status, part.who) if one), style="Small")
        for option in part.options:
            if option.chosen:
                paper.labelled("Chosen:", _priced(option.text, option.cost))
        paper.labelled("Why:", part.reason)
        settled = any(option.chosen for option in part.options)
        for option in part.options:
            if not option.chosen:
                why = f" Why not: {option.why_not}" if option.why_not else ""
                label = "Over: " if settled else "Weighed: "
                paper.line((label, "Label"), _priced(option.text, option.cost) + why, style="List Bullet")
        paper.labelled("Changed on site:", part.changed)
        paper.labelled("Next time:", part.hindsight)
        if part.needs:
            paper.line(f"Answers: {' '.join(part.needs)}", style="Small")


def _priced(text: str, cost: str) -> str:
    return f"{text} ({cost})" if cost else text


def findings(paper: Paper, title: str, found: Sequence[FindingPart]) -> None:
    """Put findings as a list: the sentence, what it is about, its answer, caution and source."""
    paper.heading(title, 2)
    for part in found:
        number = [(f"{part.number} ", "Label")] if part.number else []
        about = f" ({part.about})" if part.about else ""
        paper.line(*number, part.sentence + about, style="List Bullet")
        for words in (
            part.answer,
            f"Rests on assumed values: {', '.join(part.assumed)}." if part.assumed else "",
            part.caution,
            f"{part.level}. {part.label}: {part.source}",
        ):
            paper.text(words, style="List Bullet 2")
    paper.drop_heading()
