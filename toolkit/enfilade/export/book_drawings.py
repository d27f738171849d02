"""The plans and elevations of the client book, drawn anew as large as they are printed."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Final

from enfilade.drawings.items import Scene
from enfilade.drawings.scene import elevation_scene, plan_scene
from enfilade.drawings.svg import PAPERS, scale_words, svg_sheet
from enfilade.export.document import Document
from enfilade.export.gallery import Gallery
from enfilade.export.scaled import drawn, fits, in_order, largest_scale, scales_of
from enfilade.export.signs import in_short
from enfilade.lengths import INCH_MM, System
from enfilade.walkthrough.pages import Drawing, RoomPage
from enfilade.walkthrough.room_page import elevation_walls

__all__ = ["Sheet", "elevations", "house_plan", "room_plan"]

_PX_PER_MM: Final = 96 / INCH_MM
_PAPERS: Final[dict[System, str]] = {"us": "letter", "metric": "a4"}
_PLANS: Final = 20.0
_ELEVATIONS: Final = 50.0
_SMALL: Final = 100.0
"""No larger than 1:20 or 1/2 in to the foot, elevations than 1:50 or 3/16 in: the sheets are larger. Elevations are
made smaller, down to 1:100 or 1/8 in, rather than that they fill more than their share of a page (own choice)."""
_PLAN_UNDER_A_VIEW: Final = 0.44
_PLAN_UNDER_THE_NAME: Final = 0.62
_ELEVATIONS_SHARE: Final = 0.5
_FOR_THE_KEY_MM: Final = 70.0
_BETWEEN_MM: Final = 6.0
_UNDER_MM: Final = 10.0
"""Between two elevations; under a row of them, for their words."""


@dataclass(frozen=True)
class Sheet:
    """The sheet of the book [mm].

    Attributes:
        wide, high: Of the paper.
    """

    wide: float
    high: float
    left: float = 22.0
    right: float = 20.0
    above: float = 25.0
    below: float = 21.0
    gutter: float = 8.0
    beside: float = 46.0
    """Room beside a plan for its key."""

    @classmethod
    def of(cls, units: System) -> Sheet:
        """Return the sheet that goes with a system of units."""
        return cls(*PAPERS[_PAPERS[units]])

    @property
    def full_mm(self) -> float:
        """Width between the margins."""
        return self.wide - self.left - self.right

    @property
    def high_mm(self) -> float:
        """Height between the margins."""
        return self.high - self.above - self.below

    @property
    def column_mm(self) -> float:
        """Width of one of two columns."""
        return (self.full_mm - self.gutter) / 2

    def data(self) -> dict[str, float]:
        """Return its measures as the template takes them."""
        return {
            "left": self.left,
            "right": self.right,
            "above": self.above,
            "below": self.below,
            "gutter": self.gutter,
            "beside": self.beside,
            "full": self.full_mm,
            "high": self.high_mm,
            "column": self.column_mm,
        }


def house_plan(document: Document, gallery: Gallery, sheet: Sheet) -> Any:
    """Return the plan of the house, drawn for the width of the page; None when no room is recorded."""
    if document.pages.plan is None:
        return None
    project = document.telling.project
    scene = plan_scene(project, None, (), marks=False, order=document.telling.order)
    svg = svg_sheet(scene, frame=False, keys=False, width_px=sheet.full_mm * _PX_PER_MM)
    title = document.pages.plan.title
    return gallery.drawing(
        Drawing(title, svg), widest_mm=sheet.full_mm, highest_mm=sheet.high_mm * 0.62, largest=1.05
    )


def room_plan(page: RoomPage, gallery: Gallery, sheet: Sheet, scene: Scene) -> Any:
    """Return the plan of a room at a standard scale; unless the page is a wide one, with room for its key beside it."""
    wide = sheet.full_mm if page.wide else sheet.full_mm - sheet.beside
    high = sheet.high_mm * (_PLAN_UNDER_A_VIEW if page.views else _PLAN_UNDER_THE_NAME)
    if page.wide:
        high = sheet.high_mm - _FOR_THE_KEY_MM
    scale = largest_scale([scene], scales_of(scene.system, _PLANS), wide, high)
    shown, names = _drawn(scene, scale, gallery, wide, high, page.plan.title)
    words = scale_words(scale) if scale else "drawn to fit"
    return {
        **shown,
        "words": f"{in_short(page.plan.title.removesuffix('.'), 200)}; {words}.",
        "key": _key(names),
        "notes": scene.notes,
    }


def elevations(
    document: Document, page: RoomPage, gallery: Gallery, sheet: Sheet, numbers: dict[str, int]
) -> dict[str, Any]:
    """Return the elevations of a room in rows, at one scale where that can be.

    Args:
        document, page: What is drawn.
        gallery: Takes in the drawings.
        sheet: That they stand on.
        numbers: By id of a finding, its number on the plan; grows.
    """
    telling = document.telling
    walls = elevation_walls(telling.project, telling.project.space(page.id))
    scenes = []
    for wall in walls:
        scene = elevation_scene(telling.project, wall.id, telling.of(page.id), filled=True, numbers=numbers)
        numbers |= {line.finding: line.number for line in scene.key if line.number}
        scenes.append(scene)
    scale = _common_scale(scenes, sheet)
    made = [
        _drawn(scene, scale, gallery, sheet.full_mm, sheet.high_mm * 0.8, drawing.title)
        for scene, drawing in zip(scenes, page.elevations, strict=True)
    ]
    plain = _of_one_meaning([names for _, names in made])
    finished = ", in the recorded finishes."
    told = [drawing.title.endswith(finished) for drawing in page.elevations]
    drawings = [
        {
            **shown,
            "words": _words(wall.name or wall.id, "" if scale else "drawn to fit", all(told) or not finish),
            "key": _key([entry for entry in names if entry not in plain]),
            "notes": scene.notes,
        }
        for wall, scene, (shown, names), finish in zip(walls, scenes, made, told, strict=True)
    ]
    return {
        "rows": _rows(drawings, [one["width"] for one in drawings], sheet.full_mm),
        "key": _key(sorted(plain)),
        "words": ", ".join(
            part
            for part in (
                "In the recorded finishes" if told and all(told) else "",
                scale_words(scale) if scale and scenes else "",
            )
            if part
        ),
    }


def _words(name: str, scale: str, plain: bool) -> str:
    words = in_short(name, 200)
    parts = (words[:1].upper() + words[1:], "" if plain else "in the recorded finishes", scale)
    return ", ".join(part for part in parts if part)


def _common_scale(scenes: Sequence[Scene], sheet: Sheet) -> str | None:
    """Return the largest scale at which elevations keep to their share of a page, or the smallest that is readable."""
    if not scenes:
        return None
    found = None
    for scale in scales_of(scenes[0].system, _ELEVATIONS):
        sizes = [fits(scene, scale, sheet.full_mm, sheet.high_mm * 0.8) for scene in scenes]
        there = [size for size in sizes if size is not None]
        if len(there) < len(scenes):
            continue
        if found is not None and not scale_is_readable(scale):
            break
        found = scale
        rows = _rows(there, [wide for wide, _ in there], sheet.full_mm)
        if sum(max(high for _, high in row) + _UNDER_MM for row in rows) <= sheet.high_mm * _ELEVATIONS_SHARE:
            break
    return found
