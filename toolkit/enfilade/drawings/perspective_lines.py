"""The lines of a perspective: where one face ends and another begins, heavier where the room opens behind an edge."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

import numpy as np
import numpy.typing as npt
import shapely

from enfilade.drawings.perspective_faces import Model
from enfilade.geometry.hidden_surfaces import Seen

__all__ = ["Lines", "Stroke", "edges"]

Stroke = Literal["silhouette", "room", "edge", "crease", "fine"]
Shapes = npt.NDArray[np.object_]

_GRID_PX: Final = 0.05
_ASIDE_PX: Final = 0.2
"""How far beside a line it is asked which face lies there."""
_JUMP: Final = 0.04
"""What lies farther behind an edge than this share of its distance makes it a silhouette (own choice)."""


_FAR_MM: Final = (4500.0, 8000.0)
"""Beyond the first of these, and again beyond the second, lines are drawn lighter (own choice)."""


@dataclass(frozen=True)
class Lines:
    """Lines of one weight, in pixels of the picture; `far` counts how many times they are drawn lighter."""

    stroke: Stroke
    far: int
    shapes: Shapes


def edges(model: Model, seen: Seen, regions: Shapes, size: tuple[float, float], scale: float) -> list[Lines]:
    """Return the lines between faces, heavy to light.

    Args:
        model: The faces.
        seen: What is seen of them.
        regions: The same as `seen.regions`, in pixels, y downwards.
        size: Width and height of the picture [px].
        scale: Pixels to one of picture coordinates.
    """
    if not len(regions):
        return []
    skins = [model.skins[n] for n in seen.faces]
    groups: dict[tuple[object, ...], int] = {}
    group = np.array([groups.setdefault(skin.group, len(groups)) for skin in skins])
    drawn = shapely.get_parts(shapely.union_all(shapely.boundary(regions), grid_size=_GRID_PX))
    drawn = drawn[shapely.length(drawn) > 2 * _GRID_PX]
    if not len(drawn):
        return []
    spot, aside = _middles(drawn)
    inside = ((spot > 0.3) & (spot < np.array(size) - 0.3)).all(axis=1)
    drawn, spot, aside = drawn[inside], spot[inside], aside[inside]
    sides = np.concatenate([spot + aside * _ASIDE_PX, spot - aside * _ASIDE_PX])
    found = np.full(len(sides), -1)
    asked, answered = shapely.STRtree(regions).query(shapely.points(sides), predicate="intersects")
    found[asked] = answered
    left, right = found[: len(drawn)], found[len(drawn) :]
    u0, _, _, v1 = seen.camera.frame
    at = np.column_stack([spot[:, 0] / scale + u0, v1 - spot[:, 1] / scale, np.ones(len(spot))])
    near = np.einsum("nk,nk->n", seen.inverse_depths[left], at)
    far = np.einsum("nk,nk->n", seen.inverse_depths[right], at)
    known = (left >= 0) & (right >= 0)
    jump = known & (np.abs(near - far) > _JUMP * np.maximum(np.abs(near), np.abs(far)))
    bodies: dict[str, int] = {}
    body = np.array([bodies.setdefault(skin.body, len(bodies)) for skin in skins])
    room = np.array([skin.kind == "room" for skin in skins])
    # Index -1 looks at the last face, where `known` is false: both are asked together below.
    alike = known & (group[left] == group[right])
    shell = known & room[left] & room[right]
    own = known & (body[left] == body[right])
    weights: dict[Stroke, npt.NDArray[np.bool_]] = {
        "silhouette": ~alike & jump & ~shell,
        "room": ~alike & shell,
        "edge": ~alike & ~jump & ~shell & ~own,
        "crease": ~alike & ~jump & ~shell & own,
    }
    nearest = np.maximum(np.where(left >= 0, near, 0.0), np.where(right >= 0, far, 0.0))
    distance = (nearest[:, None] < 1 / np.array(_FAR_MM)).sum(axis=1)
    return [
        Lines(stroke, step, drawn[which & (distance == step)])
        for stroke, which in weights.items()
        for step in range(len(_FAR_MM) + 1)
        if (which & (distance == step)).any()
    ]


def _middles(lines: Shapes) -> tuple[npt.NDArray[np.float64], npt.NDArray[np.float64]]:
    """Return the middle of the longest stretch of each line, and the unit vector square to it."""
    points, of = shapely.get_coordinates(lines, return_index=True)
    a, b = points[:-1], points[1:]
    same = of[:-1] == of[1:]
    a, b, of = a[same], b[same], of[:-1][same]
    run = b - a
    length = np.hypot(run[:, 0], run[:, 1])
    ranked = np.lexsort((-length, of))
    longest = ranked[np.r_[True, of[ranked][1:] != of[ranked][:-1]]]
    a, b, run, length = a[longest], b[longest], run[longest], length[longest]
    return (a + b) / 2, np.column_stack([-run[:, 1], run[:, 0]]) / length[:, None]
