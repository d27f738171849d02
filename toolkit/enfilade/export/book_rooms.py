"""The rooms of the client book: what stands on each page, with drawings made as large as they are printed."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from enfilade.drawings.scene import plan_scene
from enfilade.export.book_drawings import Sheet, elevations, room_plan
from enfilade.export.document import Document
from enfilade.export.gallery import Gallery
from enfilade.export.printed_tables import tables_data
from enfilade.walkthrough.pages import DecisionPart, FindingPart, RoomPage

__all__ = ["decision_data", "findings_data", "room_data"]


def room_data(document: Document, page: RoomPage, gallery: Gallery, sheet: Sheet, told: dict[int, str]) -> Any:
    """Return one room's page as the template sets it.

    Args:
        document: What it is told from.
        page: The room's page.
        gallery: Takes in the drawings and pictures.
        sheet: That it stands on.
        told: By number of a decision, the room at which it is told in full; grows.
    """
    scene = plan_scene(document.telling.project, page.id, document.telling.of(page.id))
    numbers = {line.finding: line.number for line in scene.key if line.number}
    needs: set[str] = set()
    thorough = document.pages.audience in ("student", "studio")
    return {
        "number": str(page.number),
        "name": page.name,
        "size": page.size,
        "story": page.story,
        "views": [
            gallery.drawing(one, widest_mm=sheet.full_mm, highest_mm=sheet.high_mm * 0.5, largest=3)
            for one in page.views
        ],
        "lines": page.lines,
        "plan": room_plan(page, gallery, sheet, scene),
        "decisions": [decision_data(one, page.name, told, needs) for one in page.decisions],
        "pictures": [gallery.picture(one) for one in page.pictures],
        "elevations": elevations(document, page, gallery, sheet, numbers),
        "charts": []
        if not thorough
        else [
            *(gallery.drawing(one, widest_mm=sheet.full_mm, highest_mm=sheet.high_mm * 0.8) for one in page.ribbons),
            *(gallery.drawing(one, widest_mm=sheet.column_mm, highest_mm=sheet.high_mm * 0.8) for one in page.charts),
        ],
        "short": findings_data(page.short, thorough),
        "open": findings_data(page.open, thorough)
        if thorough
        else [_in_short(one) for one in findings_data(page.open, False)],
        "held": len(page.held),
        "holds": findings_data(page.held, True) if thorough else [],
        "beside": len(page.beside),
        "cautions": _cautions(page),
        "tables": tables_data((*page.counts, *page.schedules)) if thorough else [],
        "remarks": [{"name": name, "text": text} for name, text in page.remarks],
    }


def findings_data(parts: Sequence[FindingPart], thorough: bool) -> list[dict[str, Any]]:
    """Return findings as the template sets them; `thorough` with their working."""
    return [
        {
            "number": part.number,
            "title": part.title,
            "sentence": part.sentence,
            "facts": [word for word in (part.verdict, part.level, part.about) if word],
            "answer": part.answer,
            "also": part.also,
            "working": part.working if thorough else (),
            "assumed": ", ".join(part.assumed),
            "source": f"{part.label}: {part.source}",
        }
        for part in parts
    ]


def _in_short(finding: dict[str, Any]) -> dict[str, Any]:
    """Return an open finding as one sentence with its caution: what is missing is the point."""
    return {**finding, "facts": [], "also": (), "source": ""}


def _cautions(page: RoomPage) -> list[str]:
    """Return what one is cautioned of in a room, each sentence once."""
    told = list(page.cautions)
    for part in (*page.short, *page.open, *page.held):
        rest = part.caution
        for line in told:
            rest = rest.replace(line, "")
        if rest.strip():
            told.append(part.caution)
    return told


def decision_data(part: DecisionPart, room: str, told: dict[int, str], needs: set[str]) -> dict[str, Any]:
    """Return a decision as the template sets it.

    Args:
        part: The decision.
        room: On whose page it stands.
        told: By number of a decision, the room at which it is told in full: elsewhere it is only named; grows.
        needs: Those that were quoted on this page: again they are only numbered; grows.
    """
    earlier = told.setdefault(part.number, room)
    quoted, again = [need for need in part.needs if need not in needs], [need for need in part.needs if need in needs]
    if earlier is room:
        needs.update(quoted)
    return {
        "number": str(part.number),
        "title": part.title or f"Decision {part.number}",
        "earlier": "" if earlier is room else earlier,
        "status": part.status,
        "who": part.who,
        "needs": quoted,
        "again": ("needs " if len(again) > 1 else "need ") + ", ".join(n.partition(".")[0] for n in again)
        if again
        else "",
        "options": [
            {"text": one.text, "why_not": one.why_not, "cost": one.cost, "chosen": one.chosen} for one in part.options
        ],
        "reason": part.reason,
        "changed": part.changed,
        "hindsight": part.hindsight,
    }
