"""Perspectives: what a camera sees of a house, drawn as lines or filled with the recorded finishes."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from functools import lru_cache
from itertools import pairwise
from typing import Final

import numpy as np
import numpy.typing as npt
import shapely
from shapely.geometry.base import BaseGeometry

from enfilade.drawings.perspective_faces import Model, model_of
from enfilade.drawings.perspective_lines import Lines, Stroke, edges
from enfilade.drawings.perspective_marks import Mark, Tone
from enfilade.drawings.solids import HouseSolids
from enfilade.drawings.style import INK, PAPER
from enfilade.drawings.writing import xml_text
from enfilade.geometry.camera import Camera
from enfilade.geometry.hidden_surfaces import Seen

__all__ = ["for_points", "in_frame", "perspective", "shaded"]

Shapes = npt.NDArray[np.object_]

_STROKES: Final[dict[Stroke, float]] = {"silhouette": 1.35, "room": 1.25, "edge": 0.85, "crease": 0.65, "fine": 0.45}
"""Line weights in a picture 960 px wide [px] (own choice)."""
_LIGHTER: Final = (1.0, 0.72, 0.5)
"""Share of its weight that a line keeps at each distance."""
_DRAWN_FOR_PX: Final = 960.0

_LEAF_ASIDE_MM: Final = 650.0
"""An open door that stands nearer to the eye than this is left out of the picture (own choice)."""

_UNRECORDED: Final = "#f6f5f1"
"""What a face is filled with of which no finish is recorded: nearly paper, so that nothing is made up."""
_DARK: Final = "#56585a"
_GLASS: Final = "#ffffff"

_SEAMS: Final = re.compile(r' stroke="#[0-9a-f]{6}" stroke-width="0\.6"(?= d=)')
"""A hair of its own colour round a face, as `_fills` paints it."""

_LIGHT: Final = (-0.55, -0.45, 0.70)
"""Where the light comes from: over the left shoulder of whoever looks (to the right, ahead, up)."""
_SHADE: Final = 0.24
"""How much darker than recorded a face is that is turned right away from the light."""


def shaded(colour: str, lit: float) -> str:
    """Return a recorded colour as a face shows it.

    Args:
        colour: `#rrggbb`.
        lit: Cosine of the angle between the face and the light: at 0.35 and above the face keeps its colour.
    """
    share = 1 - _SHADE * min(1.0, max(0.0, 0.35 - lit))
    return "#" + "".join(f"{round(int(colour[n : n + 2], 16) * share):02x}" for n in (1, 3, 5))


def perspective(
    solids: HouseSolids, camera: Camera, *, filled: bool, title: str, alt: str, width_px: float = _DRAWN_FOR_PX
) -> str:
    """Return what a camera sees as SVG text.

    Args:
        solids: The house.
        camera: Where it stands and looks; its ratio is that of the picture.
        filled: Filled with the recorded finishes; else lines on paper.
        title: Name of the drawing, read out first.
        alt: What it shows, in words.
        width_px: Width of the picture [px].
    """
    return _Picture(solids, camera, filled, max(width_px, 80.0)).svg(title, alt)


def for_points(svg: str) -> str:
    """Return a filled perspective as a picture of points is best made from it.

    Its faces are not blended along their edges. They meet then without the seams that are painted over in a drawing
    that may be shown at any size; it takes half the time, and the lines stay as smooth as they were.
    """
    return _SEAMS.sub(' shape-rendering="crispEdges"', svg)


def in_frame(solids: HouseSolids, camera: Camera) -> dict[str, float]:
    """Return the share of the picture that visibly is each thing, wall, opening or space (its floor and ceiling).

    Args:
        solids: The house.
        camera: Where it stands and looks.
    Returns:
        Shares of 1, by id, of all of which anything is seen, the largest first.
    """
    model, seen = _looked_at(solids, camera)
    found: dict[str, float] = {}
    for n, area in zip(seen.faces, shapely.area(seen.regions), strict=True):
        body = model.skins[n].body
        found[body] = found.get(body, 0.0) + float(area) / camera.area
    return dict(sorted(found.items(), key=lambda item: -item[1]))


@lru_cache(maxsize=4)
def _looked_at(solids: HouseSolids, camera: Camera) -> tuple[Model, Seen]:
    model = model_of(solids)
    hidden = _too_near(model, camera)
    return model, model.surfaces.seen(camera, model.of(hidden) if hidden else None)


def _too_near(model: Model, camera: Camera) -> set[str]:
    """Return what the eye stands in, or what the near plane would cut open in the picture: it is left out whole."""
    u0, v0, u1, v1 = camera.frame
    near = camera.near_mm
    right, up, ahead = camera.axes
    eye = np.array(camera.eye)
    corners = [eye + near * (u * right + v * up + ahead) for u in (u0, u1) for v in (v0, v1)]
    spots = np.array([eye, *corners])
    low, high = spots[:, 2].min(), spots[:, 2].max()
    floor = shapely.MultiPoint(spots[:, :2]).convex_hull
    # Whoever stands in a doorway has the leaf of its door aside.
    beside = floor.buffer(_LEAF_ASIDE_MM)
    met = np.flatnonzero(shapely.intersects(model.footprints[: len(model.prisms)], floor))
    over = [model.prisms[n] for n in met]
    open_ = np.flatnonzero(shapely.intersects(model.footprints[len(model.prisms) :], beside))
    return {id for id, prism in over if prism.bottom_mm < high and prism.top_mm > low} | {
        model.leaves[n][0] for n in open_
    }


class _Picture:
    def __init__(self, solids: HouseSolids, camera: Camera, filled: bool, width: float) -> None:
        self.model, self.seen = _looked_at(solids, camera)
        self.camera, self.filled, self.width = camera, filled, width
        u0, _, u1, v1 = camera.frame
        self.scale = width / (u1 - u0)
        self.height = width / camera.ratio
        self.origin = (u0, v1)
        self.regions = self._moved(self.seen.regions)
        self.light = _toward_light(camera)

    @np.errstate(divide="ignore", invalid="ignore")  # flags that the library leaves behind
    def svg(self, title: str, alt: str) -> str:
        w, h = _number(self.width), _number(self.height)
        thin = max(0.6, min(1.6, self.width / _DRAWN_FOR_PX))
        parts = []
        patches, drawn = self._marks()
        if self.filled:
            parts.append(self._fills(patches))
        lines = [*edges(self.model, self.seen, self.regions, (self.width, self.height), self.scale)]
        lines.append(Lines("fine", 0, drawn))
        strokes = []
        for one in reversed(lines):
            path = _paths(one.shapes)
            if path:
                weight = _STROKES[one.stroke] * _LIGHTER[one.far] * thin
                strokes.append(f'<path stroke-width="{_number(weight, 2)}" d="{path}"/>')
        parts.append(
            f'<g fill="none" stroke="{INK}" stroke-linecap="round" stroke-linejoin="round">{"".join(strokes)}</g>'
        )
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{w}" height="{h}" viewBox="0 0 {w} {h}" role="img">'
            f"<title>{xml_text(title)}</title><desc>{xml_text(alt)}</desc>"
            f'<rect width="{w}" height="{h}" fill="{PAPER}"/>{"".join(parts)}'
            f'<rect x="0.25" y="0.25" width="{_number(self.width - 0.5)}" height="{_number(self.height - 0.5)}" '
            f'fill="none" stroke="{INK}" stroke-width="0.5"/></svg>'
        )

    def _moved(self, shapes: Shapes) -> Shapes:
        u0, v1 = self.origin
        return np.asarray(
            shapely.transform(shapes, lambda at: (at - np.array([u0, v1])) * np.array([self.scale, -self.scale]))
        )

    def _fills(self, patches: Sequence[tuple[str, BaseGeometry]]) -> str:
        by_colour: dict[str, list[BaseGeometry]] = {}
        for n, region in zip(self.seen.faces, self.regions, strict=True):
            skin = self.model.skins[n]
            colour = _UNRECORDED if skin.colour is None else skin.colour
            by_colour.setdefault(shaded(colour, self._lit(self.model.normals[n])), []).append(region)
        flat = list(by_colour.items())
        flat += [(colour, [shape]) for colour, shape in patches]
        return "".join(
            f'<path fill="{colour}" stroke="{colour}" stroke-width="0.6" d="{path}"/>'
            for colour, shapes in flat
            if (path := _paths(shapely.boundary(np.array(shapes, dtype=object)), closed=True))
        )

    def _marks(self) -> tuple[list[tuple[str, BaseGeometry]], Shapes]:
        """Return the patches with their colours, in the order of painting, and the lines that are drawn on faces."""
        eye = np.array(self.camera.eye)
        marks: list[tuple[int, Mark]] = []
        for at, n in enumerate(self.seen.faces):
            marks += [
                (at, mark)
                for mark in self.model.skins[n].marks
                if mark.facing is None or float((eye - np.array(mark.points[0])) @ np.array(mark.facing)) > 0
            ]
        if not marks:
            return [], np.array([], dtype=object)
        rings, keep = [], []
        for k, (_, mark) in enumerate(marks):
            spots = self._spots(mark.points, mark.closed)
            if spots is not None:
                rings.append(spots)
                keep.append(k)
        marks = [marks[k] for k in keep]
        hosts = self.regions[[at for at, _ in marks]]
        for k, (_, mark) in enumerate(marks):
            if mark.within:
                mouth = self._spots(mark.within, True)
                hosts[k] = shapely.intersection(hosts[k], shapely.Polygon(mouth)) if mouth is not None else hosts[k]
        patches: list[tuple[str, BaseGeometry]] = []
        if self.filled:
            for k, (at, mark) in enumerate(marks):
                colour = self._tone(mark, at)
                if colour:
                    shape = shapely.intersection(shapely.make_valid(shapely.Polygon(rings[k])), hosts[k])
                    patches += [(colour, p) for p in shapely.get_parts(shape) if p.geom_type == "Polygon"]
        lines = np.array(
            [
                shapely.LineString([*ring, ring[0]] if mark.closed else ring) if mark.drawn else None
                for ring, (_, mark) in zip(rings, marks, strict=True)
            ],
            dtype=object,
        )
        cut = shapely.get_parts(shapely.intersection(lines, hosts))
        return patches, cut[(shapely.get_type_id(cut) == 1) & (shapely.length(cut) > 1.0)]

    def _tone(self, mark: Mark, at: int) -> str:
        skin = self.model.skins[self.seen.faces[at]]
        facing = self.model.normals[self.seen.faces[at]] if mark.facing is None else np.array(mark.facing)
        tones: dict[Tone, str] = {"": "", "glass": _GLASS, "dark": _DARK, "inside": skin.colour or _UNRECORDED}
        colour = tones[mark.tone]
        # A hollow gets less light than the face that it is in.
        return shaded(colour, self._lit(facing) - 0.35) if colour and mark.facing is not None else colour

    def _lit(self, facing: npt.NDArray[np.float64]) -> float:
        """Return how much light a face gets: what faces down gets some back from the floor."""
        return float(facing @ self.light) + 0.45 * max(0.0, -float(facing[2]))

    def _spots(self, points: Sequence[tuple[float, float, float]], closed: bool) -> npt.NDArray[np.float64] | None:
        """Return points in the picture [px]; None when they lie behind the near plane, or too small to be seen."""
        seen = self.camera.seen_from(points)
        if (seen[:, 2] < self.camera.near_mm).any():
            if not closed:
                return None
            seen = self.camera.clipped(seen)
            if len(seen) < 3:
                return None
        at = (seen[:, :2] / seen[:, 2:] - np.array(self.origin)) * np.array([self.scale, -self.scale])
        return None if np.ptp(at, axis=0).max() < 2.5 else at


def _toward_light(camera: Camera) -> npt.NDArray[np.float64]:
    yaw = math.radians(camera.yaw_deg)
    right, ahead = np.array([math.sin(yaw), -math.cos(yaw), 0.0]), np.array([math.cos(yaw), math.sin(yaw), 0.0])
    light = _LIGHT[0] * right + _LIGHT[1] * ahead + _LIGHT[2] * np.array([0.0, 0.0, 1.0])
    return np.asarray(light / np.sqrt(light @ light))


def _paths(shapes: Shapes, closed: bool = False) -> str:
    """Return lines, or the rings of areas, as the commands of a path."""
    lines = shapely.get_parts(shapes)
    if not closed:
        lines = shapely.get_parts(shapely.line_merge(shapely.multilinestrings(lines))) if len(lines) else lines
    points, of = shapely.get_coordinates(shapely.simplify(lines, 0.12), return_index=True)
    points = np.round(points, 1) + 0.0  # no -0
    # A point that rounding puts where the one before it is adds nothing.
    kept = np.r_[True, (np.diff(points, axis=0) != 0).any(axis=1) | (np.diff(of) != 0)] if len(points) else slice(0)
    ends = np.cumsum(np.bincount(of[kept])).tolist()
    written = [f"{x:g} {y:g}" for x, y in points[kept].tolist()]
    parts = []
    for start, end in pairwise([0, *ends]):
        last = end - 1 if closed else end
        if last - start >= (3 if closed else 2):
            parts.append("M" + "L".join(written[start:last]) + ("Z" if closed else ""))
    return "".join(parts)


def _number(value: float, places: int = 1) -> str:
    return f"{value:.{places}f}".rstrip("0").rstrip(".") or "0"
