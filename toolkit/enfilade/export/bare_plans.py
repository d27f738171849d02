"""Plans for the eye alone: without strings of dimensions and marks, as a slide and a speaker's page show them."""

from __future__ import annotations

from dataclasses import replace

from enfilade.drawings.items import Dimension
from enfilade.drawings.scene import plan_scene
from enfilade.drawings.svg import svg_and_names
from enfilade.export.document import Document
from enfilade.listing import tag_order

__all__ = ["bare_plan"]


def bare_plan(
    document: Document, space: str, *, width_px: float, tallest: float
) -> tuple[str, tuple[tuple[str, str], ...]]:
    """Return the plan of a room as SVG text, and what its tags stand for.

    Args:
        document: What is told.
        space: Id of the room.
        width_px: Width of the drawing [px]; words keep their size, so that on a narrow drawing they are large.
        tallest: Height to width at which the drawing is narrowed, so that its words stay as large when it is fitted.
    """
    scene = plan_scene(document.telling.project, space, document.telling.of(space), marks=False)
    x0, y0, x1, y1 = scene.bounds
    bare = replace(scene, items=tuple(item for item in scene.items if not isinstance(item, Dimension)))
    tall = (y1 - y0) / max(x1 - x0, 1.0)
    svg, names = svg_and_names(bare, width_px * min(1.0, tallest / tall) if tall > 0 else width_px)
    return svg, tuple(sorted(set(names), key=tag_order))
