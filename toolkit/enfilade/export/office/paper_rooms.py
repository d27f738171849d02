"""What the editable document tells of a room."""

from __future__ import annotations

from collections.abc import Sequence

from enfilade.export.document import Document
from enfilade.export.office.elevations import elevation_rows, key_runs
from enfilade.export.office.paper import Paper
from enfilade.export.office.pictures import PLAN_BOX_IN, VIEW_PX, drawing_shown, photograph_shown, plan_of
from enfilade.walkthrough.pages import DecisionPart, Drawing, FindingPart, RoomPage

__all__ = ["decision", "findings", "room"]

_WIDE_PLAN_HIGH_IN, _VIEW_HIGH_IN, _FINER = 6.7, 2.9, 1.35
_SMALLER = 0.8
"""A plan that stands under a perspective, on one page with it, is drawn for this much of the usual place."""
_PHOTOGRAPH_HIGH_IN, _GAP_IN = 2.6, 0.2


def room(paper: Paper, document: Document, page: RoomPage, told: dict[int, str]) -> None:
    """Put one room: its story, pictures, decisions, what falls short, cautions and lines; schedules follow the rooms.

    Args:
        paper: What is filled.
        document: What is told.
        page: The room.
        told: Numbers of the decisions that were told before, and where; grows by those of this room.
    """
    paper.heading(f"{page.number} {page.name}", 1)
    with paper.together():
        paper.line(page.size, style="Small")
        paper.text(page.story, style="Lead")
        for view in page.views[:1]:
            _view(paper, document, view)
    for view in page.views[1:]:
        _view(paper, document, view)
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
    elevation_rows(paper, document, page)
    findings(paper, "What falls short", page.short, page.cautions)
    findings(paper, "What could not be assessed yet", page.open, page.cautions)
    if page.cautions:
        paper.heading("Cautions", 2)
        paper.line(" ".join(page.cautions), style="Caution")
    if page.remarks:
        paper.heading("Remarks", 2)
        for name, text in page.remarks:
            paper.line((f"{name}: ", "Label"), text, style="List Bullet")
    if page.lines:
        paper.heading("To say here", 2)
        for line in page.lines:
            paper.text(line, style="Spoken")
    paper.drop_heading()


def _view(paper: Paper, document: Document, view: Drawing) -> None:
    shown = drawing_shown(document, view, width_in=paper.width_in, height_in=_VIEW_HIGH_IN, width_px=VIEW_PX)
    paper.picture(shown, view.title)


def _plan(paper: Paper, document: Document, page: RoomPage) -> None:
    finer, high = (_FINER, _WIDE_PLAN_HIGH_IN) if page.wide else (1.0, PLAN_BOX_IN[1])
    if page.views and not page.wide:
        finer, high = _SMALLER, PLAN_BOX_IN[1] * _SMALLER
    plan = plan_of(document, page, marks=bool(page.short), finer=finer)
    marked = " Numbers in diamonds are those of what falls short." if any(one.number for one in page.short) else ""
    shown = drawing_shown(document, plan.drawing, width_in=paper.width_in, height_in=high, width_px=plan.width_px)
    paper.picture(shown, plan.drawing.title + marked)
    if plan.names:
        paper.line(*key_runs(list(plan.names)), style="Small")


def _photographs(paper: Paper, page: RoomPage) -> None:
    paper.heading("Photographs", 2)
    wide = (paper.width_in - _GAP_IN) / 2
    placed = [
        (shown, picture.caption, ())
        for picture in page.pictures
        if (shown := photograph_shown(picture, width_in=wide, height_in=_PHOTOGRAPH_HIGH_IN)) is not None
    ]
    for at in range(0, len(placed), 2):
        paper.side_by_side(placed[at : at + 2])
    paper.drop_heading()


def decision(paper: Paper, part: DecisionPart) -> None:
    """Put a decision: what was chosen, over what, and why; its name stays with how it was decided."""
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


def findings(paper: Paper, title: str, found: Sequence[FindingPart], cautions: Sequence[str] = ()) -> None:
    """Put findings as a list: the sentence, what it is about, its answer and caution, and the number of its source.

    Args:
        paper: What is filled.
        title: Of the list.
        found: The findings.
        cautions: Those that are told beside the list; they are not told again with each finding.
    """
    paper.heading(title, 2)
    for part in found:
        number = [(f"{part.number} ", "Label")] if part.number else []
        about = f" ({part.about})" if part.about else ""
        paper.line(*number, part.sentence + about, style="List Bullet")
        source = paper.sources.setdefault(part.source, len(paper.sources) + 1)
        told = bool(part.caution) and any(caution in part.caution for caution in cautions)
        rests = f"Rests on assumed values: {', '.join(part.assumed)}." if part.assumed else ""
        words = (part.answer, rests, "" if told else part.caution, f"{part.level}: {part.label}, source {source}.")
        paper.text(" ".join(word for word in words if word), style="Under")
    paper.drop_heading()
