"""The elevations of a room for a document of flowing text: as the client book has them, at one scale, in rows."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any, Final

from enfilade.drawings.scene import plan_scene
from enfilade.export.book_drawings import Sheet, elevations
from enfilade.export.document import Document
from enfilade.export.gallery import Gallery
from enfilade.export.office.paper import UNBROKEN, Paper, Run
from enfilade.export.office.pictures import Shown
from enfilade.export.raster import alternative_of
from enfilade.lengths import INCH_MM
from enfilade.walkthrough.pages import RoomPage

__all__ = ["elevation_rows", "key_runs"]

_DPI: Final = 150.0
_IN_MM: Final = re.compile(r'<svg\b([^>]*?) width="[\d.]+mm" height="[\d.]+mm"')


def elevation_rows(paper: Paper, document: Document, page: RoomPage) -> None:
    """Put the elevations of a room in rows, and what their letters stand for once under them all."""
    if not page.elevations:
        return
    telling, gallery = document.telling, Gallery()
    # A finding bears the number that it has on the plan.
    plan = plan_scene(telling.project, page.id, telling.of(page.id))
    numbers = {line.finding: line.number for line in plan.key if line.number}
    sheet = _sheet(paper, document)
    drawn = elevations(document, page, gallery, sheet, numbers)
    paper.heading("Elevations", 2)
    for number, row in enumerate(drawn["rows"], 1):
        paper.side_by_side([_cell(document, gallery, one) for one in row], with_next=number == len(drawn["rows"]))
    runs = key_runs([(line["tag"], line["name"]) for line in drawn["key"]])
    if runs:
        paper.line(*runs, style="Small").paragraph_format.keep_with_next = True
    paper.line(drawn["words"], style="Caption")


def key_runs(names: list[tuple[str, str]]) -> list[Run]:
    """Return what letters and numbers stand for as one paragraph of runs."""
    runs: list[Run] = []
    for tag, name in names:
        runs += [(f"{tag.replace('-', UNBROKEN)}\u00a0", "Label"), (f"{name}   ", "")]
    return runs


def _sheet(paper: Paper, document: Document) -> Sheet:
    """Return the page of this document as the book knows its own: only what is left between the margins counts."""
    sheet = Sheet.of(document.telling.project.show.units)
    side = (sheet.wide - paper.width_in * INCH_MM) / 2
    above = (sheet.high - paper.height_in * INCH_MM) / 2
    return Sheet(sheet.wide, sheet.high, left=side, right=side, above=above, below=above)


def _cell(document: Document, gallery: Gallery, one: Mapping[str, Any]) -> tuple[Shown, str, list[Run]]:
    svg = gallery.svg(one["file"])
    wide, high = one["width"] / INCH_MM, one["height"] / INCH_MM
    # What makes pictures of points takes sizes in points alone; the box of the drawing says its shape.
    sized = _IN_MM.sub(rf'<svg\1 width="{wide * 96:.2f}" height="{high * 96:.2f}"', svg, count=1)
    shown = Shown(document.rasters.png(sized, wide * _DPI), wide, high, alternative_of(one["alt"], svg))
    runs = key_runs([(line["tag"], line["name"]) for line in one["key"]])
    notes: list[Run] = [(f"{note} ", "") for note in one["notes"]]
    return shown, one["words"], [*runs, *notes]
