"""The rooms of the client book: what stands on each page, with drawings made as large as they are printed."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Final

from enfilade.drawings.items import Scene
from enfilade.drawings.scene import elevation_scene, plan_scene
from enfilade.drawings.svg import svg_sheet
from enfilade.export.document import Document
from enfilade.export.gallery import Gallery
from enfilade.export.printed_tables import tables_data
from enfilade.export.scaled import drawn, fits, in_order, largest_scale, scales_of
from enfilade.export.signs import in_short
from enfilade.lengths import INCH_MM
from enfilade.walkthrough.pages import DecisionPart, Drawing, FindingPart, RoomPage
from enfilade.walkthrough.room_page import elevation_walls

__all__ = ["Sizes", "decision_data", "findings_data", "house_plan", "room_data"]

_PLANS: Final = 20.0
_ELEVATIONS: Final = 50.0
"""No larger than 1:20 or 1/2 in to the foot, and 1:50 or 3/16 in: it is a book, the sheets are larger (own choice)."""
_PX_PER_MM: Final = 96 / INCH_MM
_BESIDE_MM: Final = 6.0
_PLAN_HIGH: Final = 0.56
"""A plan takes at most this share of the height of a page, so that it stands under the room's name (own choice)."""
_ON_ITS_OWN: Final = 0.7
"""Where a perspective stands under the name, the plan comes on the next page."""
_FOR_THE_KEY_MM: Final = 70.0


class Sizes:
    """How large things may be on a page [mm]."""

    def __init__(self, full: float, text: float, high: float) -> None:
        self.full, self.text, self.high = full, text, high


def house_plan(document: Document, gallery: Gallery, sizes: Sizes) -> Any:
    """Return the plan of the house, drawn for the width of the page; None when no room is recorded."""
    if document.pages.plan is None:
        return None
    project = document.telling.project
    scene = plan_scene(project, None, (), marks=False, order=document.telling.order)
    svg = svg_sheet(scene, frame=False, keys=False, width_px=sizes.full * _PX_PER_MM)
    return gallery.drawing(
        Drawing(document.pages.plan.title, svg), widest_mm=sizes.full, highest_mm=sizes.high * 0.62, largest=1.05
    )


def room_data(document: Document, page: RoomPage, gallery: Gallery, sizes: Sizes, told: dict[int, str]) -> Any:
    """Return one room's page as the template sets it.

    Args:
        document: What it is told from.
        page: The room's page.
        gallery: Takes in the drawings and pictures.
        sizes: Of the sheet.
        told: By number of a decision, the room at which it is told in full; grows.
    """
    scene = plan_scene(document.telling.project, page.id, document.telling.of(page.id))
    numbers = {line.finding: line.number for line in scene.key if line.number}
    thorough = document.pages.audience in ("student", "studio")
    return {
        "number": str(page.number),
        "name": page.name,
        "size": page.size,
        "story": page.story,
        "views": [
            gallery.drawing(one, widest_mm=sizes.full, highest_mm=sizes.high * 0.5, largest=3) for one in page.views
        ],
        "lines": page.lines,
        "plan": _plan(document, page, gallery, sizes, scene),
        "decisions": [decision_data(one, page.name, told) for one in page.decisions],
        "pictures": [gallery.picture(one) for one in page.pictures],
        "elevations": _elevations(document, page, gallery, sizes, numbers),
        "charts": []
        if not thorough
        else [
            *(gallery.drawing(one, widest_mm=sizes.full, highest_mm=sizes.high * 0.8) for one in page.ribbons),
            *(gallery.drawing(one, widest_mm=sizes.text, highest_mm=sizes.high * 0.8) for one in page.charts),
        ],
        "short": findings_data(page.short, thorough),
        "open": findings_data(page.open, thorough)
        if thorough
        else [_in_short(one) for one in findings_data(page.open, False)],
        "held": len(page.held),
        "holds": findings_data(page.held, True) if thorough else [],
        "beside": len(page.beside),
        "cautions": page.cautions,
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
            "caution": part.caution,
            "source": f"{part.label}: {part.source}",
        }
        for part in parts
    ]


def _in_short(finding: dict[str, Any]) -> dict[str, Any]:
    """Return an open finding as one sentence with its caution: what is missing is the point."""
    return {**finding, "facts": [], "also": (), "source": ""}


def decision_data(part: DecisionPart, room: str, told: dict[int, str]) -> dict[str, Any]:
    """Return a decision; one that was told in an earlier room is named there, and not told again."""
    earlier = told.setdefault(part.number, room)
    return {
        "number": str(part.number),
        "title": part.title or f"Decision {part.number}",
        "earlier": "" if earlier is room else earlier,
        "status": part.status,
        "who": part.who,
        "needs": part.needs,
        "options": [
            {"text": one.text, "why_not": one.why_not, "cost": one.cost, "chosen": one.chosen} for one in part.options
        ],
        "reason": part.reason,
        "changed": part.changed,
        "hindsight": part.hindsight,
    }


def _plan(document: Document, page: RoomPage, gallery: Gallery, sizes: Sizes, scene: Scene) -> Any:
    """Return the plan, drawn anew for the page at a standard scale."""
    high = sizes.high - _FOR_THE_KEY_MM if page.wide else sizes.high * (_ON_ITS_OWN if page.views else _PLAN_HIGH)
    return _scaled(page.plan.title, scene, _scale([scene], sizes.full, high), gallery, sizes.full, high)


def _elevations(
    document: Document, page: RoomPage, gallery: Gallery, sizes: Sizes, numbers: dict[str, int]
) -> list[list[Any]]:
    """Return the elevations in rows, all at one scale where that can be; `numbers` as on the plan, grows."""
    telling = document.telling
    scenes = []
    for wall in elevation_walls(telling.project, telling.project.space(page.id)):
        scene = elevation_scene(telling.project, wall.id, telling.of(page.id), filled=True, numbers=numbers)
        numbers |= {line.finding: line.number for line in scene.key if line.number}
        scenes.append(scene)
    high = sizes.high - 24.0
    scale = _scale(scenes, sizes.full, high, _ELEVATIONS)
    rows: list[list[Any]] = []
    for scene, one in zip(scenes, page.elevations, strict=True):
        data = _scaled(one.title, scene, scale, gallery, sizes.full, high)
        row = next(
            (row for row in rows if sum(each["width"] + _BESIDE_MM for each in row) + data["width"] <= sizes.full), None
        )
        if row is None:
            rows.append(row := [])
        row.append(data)
    return rows


def _scale(scenes: Sequence[Scene], widest_mm: float, highest_mm: float, largest: float = _PLANS) -> str | None:
    return largest_scale(scenes, scales_of(scenes[0].system, largest), widest_mm, highest_mm) if scenes else None


def _scaled(title: str, scene: Scene, scale: str | None, gallery: Gallery, widest_mm: float, highest_mm: float) -> Any:
    if scale is not None and fits(scene, scale, widest_mm, highest_mm) is None:
        scale = None
    one = drawn(scene, scale, widest_mm)
    shown = gallery.drawing(Drawing(title, one.svg), widest_mm=widest_mm, highest_mm=highest_mm)
    return {
        **shown,
        "words": f"{in_short(title.removesuffix('.'), 200)}; {one.words}." if title else one.words,
        "key": [{"tag": tag, "name": in_short(name)} for tag, name in in_order(one.names)],
        "notes": scene.notes,
    }
