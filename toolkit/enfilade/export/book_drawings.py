"""The plans and elevations of the client book, drawn anew as large as they are printed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Final

from enfilade.drawings.items import Scene
from enfilade.drawings.scene import elevation_scene, plan_scene
from enfilade.drawings.svg import PAPERS, SCALES, scale_words, svg_sheet
from enfilade.export.document import Document
from enfilade.export.gallery import Gallery
from enfilade.export.scaled import drawn, fits, in_order, largest_scale, scales_of, trimmed
from enfilade.export.signs import in_short
from enfilade.lengths import INCH_MM, System
from enfilade.listing import capital
from enfilade.walkthrough.pages import Drawing, RoomPage
from enfilade.walkthrough.room_page import elevation_walls

__all__ = ["Sheet", "elevations", "house_plan", "room_plan"]

_PX_PER_MM: Final = 96 / INCH_MM
_PAPERS: Final[dict[System, str]] = {"us": "letter", "metric": "a4"}
_PLANS: Final = 48.0
_ELEVATIONS: Final = 50.0
_SMALLEST: Final = 100.0
_SHARE: Final = 0.5
"""Plans no larger than 1:50 or 1/4 in to the foot, elevations than 1:50 or 3/16 in: the sheets are larger. Elevations
are made smaller, down to 1:100 or 1/8 in, rather than fill more than this share of a page (own choice)."""
_UNDER_A_VIEW: Final = 0.44
_UNDER_THE_NAME: Final = 0.62
"""Share of the height of a page that a plan may take: under a perspective, and without one (own choice)."""
_FOR_THE_KEY_MM: Final = 70.0
_HIGHEST: Final = 0.8
_BETWEEN_MM: Final = 5.0
_UNDER_MM: Final = 10.0
_FINISHED: Final = ", in the recorded finishes."

Names = tuple[tuple[str, str], ...]
"""Numbers or letters of a drawing, and what each stands for."""


@dataclass(frozen=True)
class Sheet:
    """The sheet of the book [mm].

    Attributes:
        wide, high: Of the paper.
    """

    wide: float
    high: float
    left: float = 20.0
    right: float = 18.0
    above: float = 23.0
    below: float = 20.0
    gutter: float = 7.0
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
        Drawing(title, trimmed(svg)), widest_mm=sheet.full_mm, highest_mm=sheet.high_mm * 0.62, largest=1.15
    )


def room_plan(page: RoomPage, gallery: Gallery, sheet: Sheet, scene: Scene) -> Any:
    """Return the plan of a room at a standard scale; unless the page is a wide one, with room for its key beside it."""
    wide = sheet.full_mm if page.wide else sheet.full_mm - sheet.beside
    high = sheet.high_mm * (_UNDER_A_VIEW if page.views else _UNDER_THE_NAME)
    if page.wide:
        high = sheet.high_mm - _FOR_THE_KEY_MM
    scales = scales_of(scene.system, _PLANS)
    scale = largest_scale([scene], scales, wide, high, trim=True)
    if scale is None or SCALES[scale] > _SMALLEST:
        high = sheet.high_mm * _HIGHEST
        readable = [name for name in reversed(scales) if SCALES[name] <= _SMALLEST]
        scale = largest_scale([scene], readable, wide, high, trim=True) or scale
    shown, names = _drawn(scene, scale, gallery, wide, high, page.plan.title)
    words = scale_words(scale) if scale else "drawn to fit"
    return {
        **shown,
        "words": f"{words}.".capitalize(),
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
    finished = [one.title.endswith(_FINISHED) for one in page.elevations]
    made = [
        _drawn(scene, scale, gallery, sheet.full_mm, sheet.high_mm * _HIGHEST, one.title)
        for scene, one in zip(scenes, page.elevations, strict=True)
    ]
    common = _of_one_meaning([names for _, names in made])
    drawings = [
        {
            **shown,
            "words": capital(in_short(wall.name or wall.id, 200))
            + (_FINISHED[:-1] if some and not all(finished) else ""),
            "key": _key([entry for entry in names if entry not in common]),
            "notes": scene.notes,
        }
        for wall, scene, (shown, names), some in zip(walls, scenes, made, finished, strict=True)
    ]
    words = scale_words(scale) if scale else "drawn to fit"
    return {
        "rows": _rows(drawings, [one["width"] for one in drawings], sheet.full_mm),
        "key": _key(list(common)),
        "words": capital(f"{_FINISHED[2:-1]}; {words}." if all(finished) else f"{words}."),
    }


def _common_scale(scenes: Sequence[Scene], sheet: Sheet) -> str | None:
    """Return the largest scale at which elevations keep to their share of a page, or else the smallest that there is.

    None when they do not all fit at any.
    """
    found = None
    for scale in scales_of(scenes[0].system, _ELEVATIONS) if scenes else ():
        sizes = [
            size for scene in scenes if (size := fits(scene, scale, sheet.full_mm, sheet.high_mm * _HIGHEST, trim=True))
        ]
        if len(sizes) < len(scenes) or (found is not None and SCALES[scale] > _SMALLEST):
            continue
        found = scale
        rows = _rows(sizes, [wide for wide, _ in sizes], sheet.full_mm)
        if sum(max(high for _, high in row) + _UNDER_MM for row in rows) <= sheet.high_mm * _SHARE:
            break
    return found


def _rows(things: Sequence[Any], widths_mm: Sequence[float], widest_mm: float) -> list[list[Any]]:
    """Return things in rows, each in the first row that has room for it."""
    rows: list[tuple[float, list[Any]]] = []
    for thing, width in zip(things, widths_mm, strict=True):
        for number, (taken, row) in enumerate(rows):
            if taken + _BETWEEN_MM + width <= widest_mm:
                row.append(thing)
                rows[number] = (taken + _BETWEEN_MM + width, row)
                break
        else:
            rows.append((width, [thing]))
    return [row for _, row in rows]


def _of_one_meaning(keys: Sequence[Names]) -> Names:
    """Return what a tag stands for where it is the same on every drawing that has it."""
    meanings: dict[str, set[str]] = {}
    for tag, name in (entry for names in keys for entry in names):
        meanings.setdefault(tag, set()).add(name)
    return tuple((tag, next(iter(names))) for tag, names in meanings.items() if len(names) == 1)


def _drawn(
    scene: Scene, scale: str | None, gallery: Gallery, widest_mm: float, highest_mm: float, title: str
) -> tuple[Any, Names]:
    """Return a drawing as a template shows it, and what its tags stand for."""
    one = drawn(scene, scale, widest_mm)
    shown = gallery.drawing(Drawing(title, trimmed(one.svg)), widest_mm=widest_mm, highest_mm=highest_mm)
    return shown, one.names


def _key(names: Sequence[tuple[str, str]]) -> list[dict[str, str]]:
    return [{"tag": tag, "name": in_short(name)} for tag, name in in_order(names)]
