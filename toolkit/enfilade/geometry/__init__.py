"""Shapes in, numbers out: outlines, clear widths, runs of counters, swings, walks, views. No project.

Points are `(x, y)` in house coordinates [mm], y up (plan north up); turns are degrees counter-clockwise.
Names are brought in when first asked for, so that one module does not pull in the others.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

_HOMES = {
    "points": ("Point",),
    "boxes": ("Box", "Segment", "box_from_front", "common_part", "ellipse", "shared_mm2"),
    "outlines": ("area_m2", "check_outline", "free_floor", "polygon_of", "shared_edge", "shared_edges", "walls"),
    "fronts": ("free_front",),
    "runs": ("Piece", "Role", "Run", "Station", "counter_runs"),
    "counters": ("Stretch", "clear_between", "counter_stretches", "path_position", "straight_counter"),
    "clear_widths": (
        "ClearAhead",
        "ClearWidth",
        "clear_ahead",
        "clear_ahead_of_each",
        "clear_strip",
        "clear_width_between",
    ),
    "fits": ("Circle", "circle_fits", "largest_circle", "rectangle_fits", "t_turn_fits"),
    "swings": (
        "clearing_shift",
        "drawer_sweep",
        "drop_down_sweep",
        "free_opening_angle",
        "hinged_sweep",
        "open_leaf",
        "overlap_mm2",
    ),
    "walks": ("Walk", "WalkNet", "length_inside"),
    "visibility": ("sees", "visible_region"),
    "elevations": ("WallShape", "on_wall"),
}
_HOME_OF = {name: home for home, names in _HOMES.items() for name in names}

if TYPE_CHECKING:
    from enfilade.geometry.boxes import Box, Segment, box_from_front, common_part, ellipse, shared_mm2
    from enfilade.geometry.clear_widths import (
        ClearAhead,
        ClearWidth,
        clear_ahead,
        clear_ahead_of_each,
        clear_strip,
        clear_width_between,
    )
    from enfilade.geometry.counters import Stretch, clear_between, counter_stretches, path_position, straight_counter
    from enfilade.geometry.elevations import WallShape, on_wall
    from enfilade.geometry.fits import Circle, circle_fits, largest_circle, rectangle_fits, t_turn_fits
    from enfilade.geometry.fronts import free_front
    from enfilade.geometry.outlines import (
        area_m2,
        check_outline,
        free_floor,
        polygon_of,
        shared_edge,
        shared_edges,
        walls,
    )
    from enfilade.geometry.points import Point
    from enfilade.geometry.runs import Piece, Role, Run, Station, counter_runs
    from enfilade.geometry.swings import (
        clearing_shift,
        drawer_sweep,
        drop_down_sweep,
        free_opening_angle,
        hinged_sweep,
        open_leaf,
        overlap_mm2,
    )
    from enfilade.geometry.visibility import sees, visible_region
    from enfilade.geometry.walks import Walk, WalkNet, length_inside

__all__ = [
    "Box",
    "Circle",
    "ClearAhead",
    "ClearWidth",
    "Piece",
    "Point",
    "Role",
    "Run",
    "Segment",
    "Station",
    "Stretch",
    "Walk",
    "WalkNet",
    "WallShape",
    "area_m2",
    "box_from_front",
    "check_outline",
    "circle_fits",
    "clear_ahead",
    "clear_ahead_of_each",
    "clear_between",
    "clear_strip",
    "clear_width_between",
    "clearing_shift",
    "common_part",
    "counter_runs",
    "counter_stretches",
    "drawer_sweep",
    "drop_down_sweep",
    "ellipse",
    "free_floor",
    "free_front",
    "free_opening_angle",
    "hinged_sweep",
    "largest_circle",
    "length_inside",
    "on_wall",
    "open_leaf",
    "overlap_mm2",
    "path_position",
    "polygon_of",
    "rectangle_fits",
    "sees",
    "shared_edge",
    "shared_edges",
    "shared_mm2",
    "straight_counter",
    "t_turn_fits",
    "visible_region",
    "walls",
]


def __getattr__(name: str) -> Any:
    if name not in _HOME_OF:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(f"{__name__}.{_HOME_OF[name]}"), name)
