"""Drawing sheets to scale: what they are and what changed, the house, then each room, with a title block on each."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any, Final

from enfilade.drawings.footer import scale_bar
from enfilade.drawings.items import Scene
from enfilade.drawings.scene import elevation_scene, plan_scene
from enfilade.drawings.style import FONT
from enfilade.drawings.svg import PAPERS, SCALES, scale_words
from enfilade.export.document import Document
from enfilade.export.gallery import Gallery
from enfilade.export.issue import issue_data, setting_of
from enfilade.export.scaled import drawn, fits, in_order, scales_of
from enfilade.export.signs import in_short
from enfilade.export.typesetting import set_pdf
from enfilade.lengths import INCH_MM, System
from enfilade.walkthrough.pages import Drawing
from enfilade.walkthrough.room_page import elevation_walls

__all__ = ["SHEETS", "write"]

Rows = list[list[dict[str, Any]]]
Scenes = Sequence[tuple[str, Scene]]
"""What each drawing is called, and the drawing."""

SHEETS: Final[dict[System, str]] = {"us": "tabloid", "metric": "a3"}
"""Lying on the long side; names of `PAPERS`."""

# As `sheets.typ` has them [mm]: margin round the sheet, title block, words under a drawing, space between drawings.
_MARGIN: Final = 12.0
_BLOCK: Final = 29.0
_UNDER: Final = 7.0
_BETWEEN: Final = 8.0
_KEY_LINE: Final = 3.4
_KEY_COLUMN: Final = 42.0
_PX_PER_MM: Final = 96 / INCH_MM
_DRAWN: Final = 0.82
_ROOM: Final = 20.0
_HOUSE: Final = 48.0
"""No larger than 1:20 or 1/2 in to the foot for a room, 1:50 or 1/4 in for a house (common practice, no source)."""
_LISTED: Final = 32
"""Lines of the list of sheets that stand in one column."""
_SMALL: Final = 50.0
"""Elevations share a sheet down to 1:50 or 1/4 in to the foot; rather than smaller they take several (own choice)."""


def write(document: Document) -> dict[str, bytes]:
    """Return `sheets.pdf`."""
    setting = setting_of(document, "sheets.pdf", "sheets", "drawing sheets")
    drawings = list(_sheets(document, setting.gallery))
    issued = issue_data(document)
    data = {
        **issued,
        "changes": [in_short(one, 190) for one in issued["changes"]],
        "undecided": [{name: in_short(text, 75) for name, text in one.items()} for one in issued["undecided"]],
        "logo": setting.gallery.file(document.look.logo, document.look.logo_kind) if document.look.logo else "",
        "sheets": [*_lists(drawings), *drawings],
    }
    return {setting.file: set_pdf(setting, data)}


def _lists(drawings: Sequence[dict[str, Any]]) -> Iterator[dict[str, Any]]:
    """Yield the sheets that open the set: its list of sheets, and on the first what changed and what is undecided."""
    rest = max(0, len(drawings) - _LISTED)
    count = 1 + -(-rest // (2 * _LISTED))
    lines = [(str(number), one["title"], one["scale"]) for number, one in enumerate(drawings, count + 1)]
    for number in range(count):
        start = 0 if number == 0 else _LISTED * (2 * number - 1)
        end = _LISTED * (2 * number + 1)
        of = f", {number + 1} of {count}" if count > 1 else ""
        yield {
            "title": f"Sheets, revisions and what is undecided{of}" if number == 0 else f"List of sheets{of}",
            "scale": "",
            "bar": None,
            "rows": [],
            "listed": lines[start:end],
            "first": number == 0,
        }


def _room_mm(document: Document) -> tuple[float, float]:
    """Return the width and height that a sheet has for drawings [mm]."""
    high, wide = PAPERS[SHEETS[document.telling.project.show.units]]
    return wide - 2 * _MARGIN - 8.0, high - 2 * _MARGIN - _BLOCK - 9.0


def _sheets(document: Document, gallery: Gallery) -> Iterator[dict[str, Any]]:
    telling = document.telling
    project, order = telling.project, telling.order
    if not order:
        return
    whole = plan_scene(project, None, (), marks=False, order=order)
    yield from _laid("The house: plan", [("plan", whole)], document, gallery, _HOUSE)
    for number, id in enumerate(order, 1):
        space = project.space(id)
        document.progress(f"drawing {space.name}")
        walls = elevation_walls(project, space)
        plan = ("plan", plan_scene(project, id, (), marks=False))
        elevations = [(wall.name or wall.id, elevation_scene(project, wall.id, (), marks=False)) for wall in walls]
        name = f"{number} {in_short(space.name, 60)}"
        largest = scales_of(project.show.units, _ROOM)[0]
        if elevations and _sheets_taken([plan, *elevations], largest, document) == 1:
            yield from _laid(f"{name}: plan and elevations", [plan, *elevations], document, gallery, _ROOM)
        else:
            yield from _laid(f"{name}: plan", [plan], document, gallery, _ROOM)
            yield from _laid(f"{name}: elevations", elevations, document, gallery, _ROOM)


def _laid(title: str, scenes: Scenes, document: Document, gallery: Gallery, largest: float) -> Iterator[dict[str, Any]]:
    """Yield the sheets that some drawings of one scale take."""
    if not scenes:
        return
    system = document.telling.project.show.units
    scale = _scale(scenes, scales_of(system, largest), document)
    sheets = _packed([_drawing(*one, scale, document, gallery) for one in scenes], document)
    for number, rows in enumerate(sheets, 1):
        count = f", {number} of {len(sheets)}" if len(sheets) > 1 else ""
        yield _sheet(f"{title}{count}", scale, rows, gallery, system)


def _scale(scenes: Scenes, names: Sequence[str], document: Document) -> str | None:
    """Return the largest scale at which drawings share one sheet, or two, without being small; else the largest."""
    taken = {name: count for name in names if (count := _sheets_taken(scenes, name, document))}
    for most in (1, 2):
        found = next((name for name, count in taken.items() if count <= most and SCALES[name] <= _SMALL), None)
        if found is not None:
            return found
    return next(iter(taken), None)


def _sheets_taken(scenes: Scenes, scale: str, document: Document) -> int:
    """Return how many sheets drawings take at a scale, their keys taken as short; 0 when one does not fit at all."""
    wide, high = _room_mm(document)
    sizes = [fits(scene, scale, wide, high * _DRAWN) for _, scene in scenes]
    drawings = [{"width": one[0], "height": one[1], "key": "keys", "notes": ""} for one in sizes if one is not None]
    return len(_packed(drawings, document)) if len(drawings) == len(scenes) else 0


def _packed(drawings: Sequence[dict[str, Any]], document: Document) -> list[Rows]:
    """Return drawings in rows, the rows on sheets; a drawing stands in the first row that has room for it."""
    wide, high = _room_mm(document)
    rows: Rows = []
    for one in drawings:
        row = next((row for row in rows if _width(row) + _BETWEEN + one["width"] <= wide), None)
        if row is None:
            rows.append(row := [])
        row.append(one)
    sheets: list[Rows] = []
    for row in rows:
        sheet = next((some for some in sheets if sum(map(_height, (*some, row))) <= high), None)
        if sheet is None:
            sheets.append(sheet := [])
        sheet.append(row)
    return sheets


def _drawing(words: str, scene: Scene, scale: str | None, document: Document, gallery: Gallery) -> dict[str, Any]:
    widest_mm, high = _room_mm(document)
    highest_mm = high * _DRAWN
    one = drawn(scene, scale, widest_mm)
    shown = gallery.drawing(Drawing(words or scene.title, one.svg), widest_mm=widest_mm, highest_mm=highest_mm)
    return {
        **shown,
        "alt": in_short(scene.description, 500),
        "words": ", ".join(part for part in (in_short(words), one.words) if part),
        "key": [{"tag": tag, "name": in_short(name)} for tag, name in in_order(one.names)],
        "notes": scene.notes,
    }


def _sheet(title: str, scale: str | None, rows: Rows, gallery: Gallery, system: System) -> dict[str, Any]:
    bar = None
    if scale is not None:
        markup, length = scale_bar(_PX_PER_MM / SCALES[scale], system)
        svg = (
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{length + 40:.2f}" height="20" '
            f'viewBox="-20 -1 {length + 40:.2f} 20" font-family="{FONT}">{markup}</svg>'
        )
        bar = gallery.drawing(Drawing(f"Scale bar, {scale_words(scale)}", svg), widest_mm=90.0, highest_mm=10.0)
    words = scale_words(scale).removeprefix("scale ") if scale else ("drawn to fit: do not measure" if rows else "")
    return {"title": title, "scale": words, "bar": bar, "rows": rows, "listed": None, "first": False}


def _width(row: Sequence[dict[str, Any]]) -> float:
    return sum(one["width"] for one in row) + _BETWEEN * (len(row) - 1)


def _height(row: Sequence[dict[str, Any]]) -> float:
    return max(one["height"] + _UNDER + _key_height(one) for one in row)


def _key_height(one: dict[str, Any]) -> float:
    columns = max(1, int(one["width"] // _KEY_COLUMN))
    return _KEY_LINE * (-(-len(one["key"]) // columns) + len(one["notes"])) + 3.0
