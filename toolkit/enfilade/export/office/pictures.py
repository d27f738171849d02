"""Drawings and photographs as office documents carry them."""

from __future__ import annotations

import base64
import io
from dataclasses import dataclass
from typing import Final

from enfilade.drawings.scene import plan_scene
from enfilade.drawings.svg import svg_and_names
from enfilade.export.document import Document
from enfilade.export.raster import alternative_of, size_of
from enfilade.listing import tag_order
from enfilade.walkthrough.pages import Drawing, Picture, RoomPage

__all__ = ["HOUSE_PX", "PLAN_BOX_IN", "VIEW_PX", "Plan", "Shown", "drawing_shown", "photograph_shown", "plan_of"]

PLAN_BOX_IN: Final = (6.25, 5.1)
"""Width and height that a plan is drawn for [in]."""
VIEW_PX: Final = 960.0
"""How wide the picture of a perspective is in every form [px]."""
HOUSE_PX: Final = 1400.0
"""How wide the picture of the plan of the house is in every form [px]."""
_PLAN_DPI: Final = 150
"""Enough for figures of 7 points on paper; a finer picture takes longer and nobody sees it (own choice)."""
_PIXELS_AN_INCH: Final = 96
_FEWEST_AN_INCH: Final = 110
"""A photograph is not blown up beyond this many points an inch."""


@dataclass(frozen=True)
class Shown:
    """A picture that can be set.

    Attributes:
        data: PNG or JPEG.
        width_in: How wide it is set [in].
        height_in: How high [in].
        alternative: What it shows, for those who do not see it.
    """

    data: bytes
    width_in: float
    height_in: float
    alternative: str


@dataclass(frozen=True)
class Plan:
    """A room's plan.

    Attributes:
        drawing: As it is drawn.
        names: What its letters and numbers stand for: tag and name.
        width_px: How wide its picture is in every form [px].
    """

    drawing: Drawing
    names: tuple[tuple[str, str], ...]
    width_px: float


def plan_of(document: Document, room: RoomPage, *, marks: bool, finer: float = 1.0) -> Plan:
    """Return a room's plan without title block and key, which a document of flowing text tells in words.

    It is drawn once for all forms, for a place of `PLAN_BOX_IN`, so that its figures are read there.

    Args:
        document: What is told.
        room: Its page.
        marks: Draw the numbered marks of what falls short, with the numbers that the room's page has.
        finer: How many times finer it is drawn than it stands, for a room in which much must be named.
    """
    key = (room.id, marks, finer)
    if key not in document.rasters.drawn:
        document.rasters.drawn[key] = _plan(document, room, marks, finer)
    plan = document.rasters.drawn[key]
    assert isinstance(plan, Plan)
    return plan


def _plan(document: Document, room: RoomPage, marks: bool, finer: float) -> Plan:
    telling = document.telling
    scene = plan_scene(telling.project, room.id, telling.of(room.id) if marks else (), marks=marks)
    wide_px, high_px = (side * _PIXELS_AN_INCH * finer for side in PLAN_BOX_IN)
    svg, names = svg_and_names(scene, wide_px)
    wide, high = size_of(svg)
    if high > high_px:
        svg, names = svg_and_names(scene, wide * high_px / high)
    wide, _ = size_of(svg)
    width_px = wide / finer * _PLAN_DPI / _PIXELS_AN_INCH
    return Plan(Drawing(room.plan.title, svg), tuple(sorted(names, key=tag_order)), width_px)


def drawing_shown(
    document: Document, drawing: Drawing, *, width_in: float, height_in: float, dpi: float = 0.0, width_px: float = 0.0
) -> Shown:
    """Return a drawing that fits into a width and a height, at most half as large again as it was drawn.

    Args:
        document: Keeps the picture for the other forms.
        drawing: What is shown.
        width_in: Width of its place [in].
        height_in: Height of its place [in].
        dpi: Points an inch of the picture.
        width_px: Instead of them, how wide the picture is [px]; places of several sizes then share one picture.
    """
    wide, high = size_of(drawing.svg)
    scale = min(width_in * _PIXELS_AN_INCH / wide, height_in * _PIXELS_AN_INCH / high, 1.5)
    width, height = wide * scale / _PIXELS_AN_INCH, high * scale / _PIXELS_AN_INCH
    data = document.rasters.png(drawing.svg, width_px or width * dpi)
    return Shown(data, width, height, alternative_of(drawing.title, drawing.svg))


def photograph_shown(picture: Picture, *, width_in: float, height_in: float) -> Shown | None:
    """Return a photograph that fits into a width and a height; None for one that cannot be read."""
    from PIL import Image

    data = base64.b64decode(picture.source.partition(",")[2])
    try:
        with Image.open(io.BytesIO(data)) as image:
            wide, high = image.size
            if image.format not in ("PNG", "JPEG"):  # office programs do not read the newer kinds
                stream = io.BytesIO()
                whole = image.convert("RGBA" if "A" in image.getbands() else "RGB")
                whole.save(stream, "PNG" if whole.mode == "RGBA" else "JPEG", quality=85)
                data = stream.getvalue()
    except OSError:
        return None
    scale = min(width_in / wide, height_in / high, 1 / _FEWEST_AN_INCH)
    return Shown(data, wide * scale, high * scale, picture.alternative or picture.caption or "Photograph")
