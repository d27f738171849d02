"""A crowded kitchen and a small house for the tests of drawings, in inches. Invented."""

from __future__ import annotations

import math
from typing import Any

from building import door, free, house, on_wall, room, set_in, thing, window
from enfilade.project.project import Project

__all__ = ["crowded", "rooms", "turned"]


def _hinged(side: str, **more: Any) -> dict[str, Any]:
    return {"kind": "hinged", "hinge": side, **more}


def crowded(**more: Any) -> Project:
    """Return a kitchen of 15 x 13 ft with two runs, an island, uppers, services, a door, a window and an opening."""
    north, west = "kitchen-north", "kitchen-west"
    two = [_hinged("left", width_mm=457.2), _hinged("right", from_left_mm=457.2)]
    things = [
        thing("base cabinet", "corner", 24, 24, on_wall(north, 24), name="Corner base", opens=[_hinged("left")]),
        thing("base cabinet", "sink-base", 36, 24, on_wall(north, 48), name="Sink base", opens=two),
        thing("dishwasher", "dishwasher", 24, 24, on_wall(north, 84), opens=[{"kind": "drop-down"}]),
        thing("base cabinet", "drawers", 18, 24, on_wall(north, 108), name="Drawers", drawers=4, shelves=0),
        thing("base cabinet", "baking", 30, 24, on_wall(north, 126), drawers=3, shelves=0),
        thing("tall cabinet", "pantry", 24, 24, on_wall(north, 156),
              name="Pantry", opens=[_hinged("right")], shelves=6),
        thing("counter", "top-north", 132, 25.5, on_wall(north, 24)),
        thing("sink", "sink", 30, 20, set_in("top-north", 27, 3), main=True, bowls=2),
        thing("wall cabinet", "upper", 30, 12, on_wall(north, 108), name="Dish cabinet", shelves=3),
        thing("counter", "top-west", 96, 25.5, on_wall(west, 0, from_end="right")),
        thing("base cabinet", "blind", 36, 24, on_wall(west, 0, from_end="right"), corner="blind"),
        thing("base cabinet", "spice", 15, 24, on_wall(west, 36, from_end="right"), drawers=4),
        thing("base cabinet", "pots", 30, 24, on_wall(west, 51, from_end="right"), drawers=3),
        thing("base cabinet", "trays", 15, 24, on_wall(west, 81, from_end="right"), shelves=2, finished_ends=["left"]),
        thing("cooktop", "cooktop", 30, 21, set_in("top-west", 15, 2.5), fuel="induction", burners=5),
        thing("hood", "hood", 30, 18, on_wall(west, 51, from_end="right")),
        thing("refrigerator", "cold", 36, 30, on_wall(west, 97, from_end="right"), handle="left"),
        thing("panel", "panel", 1, 30, on_wall(west, 96, from_end="right"), top=84),
        thing("island", "island", 84, 42, free(102, 72, 180), working_sides=["front"],
              seating=[{"id": "s", "side": "back", "count": 3}], overhang={"back_mm": 381}),
        thing("sink", "prep", 15, 15, set_in("island", 60, 3), role="preparation"),
        thing("light", "lamp", 10, 10, free(90, 72)),
        thing("receptacle", "outlet", 2.75, 2, on_wall(north, 120)),
        thing("switch", "switch", 2.75, 2, on_wall("kitchen-south", 70)),
        thing("extinguisher", "extinguisher", 6, 6, on_wall("kitchen-east", 130)),
        thing("window treatment", "blind-window", 40, 3, on_wall(north, 46), opening="window"),
    ]  # fmt: skip
    openings = [
        window("window", north, 48, 36),
        door("hall", "kitchen-south", 30, 36, swing={"hinge": "left", "into": "this side"}),
        door("arch", "kitchen-east", 40, 60, kind="cased opening"),
    ]
    return house(things, spaces=[room(180, 156)], openings=openings, **more)


def rooms() -> Project:
    """Return three rooms with 4 1/2 in between them, a table with chairs, doors of several kinds."""
    wall = 4.5
    spaces = [
        room(150, 120),
        room(140, 120, id="dining", use="dining", at=(150 + wall, 0)),
        room(150, 90, id="hall", use="hall", at=(0, -90 - wall)),
    ]
    rows = [{"id": side, "side": side, "count": 2} for side in ("front", "back")]
    things = [
        thing("table", "table", 72, 40, free(225, 60), space="dining", seating=rows),
        thing("rug", "rug", 100, 80, free(225, 60), space="dining"),
        thing("base cabinet", "base", 30, 24, on_wall("kitchen-north", 40)),
    ]
    openings = [
        door("through", "kitchen-east", 40, 36, kind="sliding door", beyond="dining-west"),
        door("in", "hall-north", 30, 34, beyond="kitchen-south", swing={"hinge": "right", "into": "other side"}),
        door("front", "hall-south", 50, 36, beyond="none", entry=True, swing={"hinge": "left", "into": "this side"}),
        door("pocket", "hall-east", 20, 30, kind="pocket door"),
    ]
    return house(things, spaces=spaces, openings=openings)


def turned(project: Project, turn_deg: float) -> Project:
    """Return the same house turned about the origin."""
    c, s = math.cos(math.radians(turn_deg)), math.sin(math.radians(turn_deg))
    record = project.model_dump(mode="json")
    for space in record["spaces"]:
        space["outline"] = [[x * c - y * s, x * s + y * c] for x, y in space["outline"]]
    for one in record["things"]:
        place = one["place"]
        if place["how"] == "free":
            x, y = place["x_mm"], place["y_mm"]
            place |= {"x_mm": x * c - y * s, "y_mm": x * s + y * c, "turn_deg": (place["turn_deg"] + turn_deg) % 360}
    return Project.model_validate(record).verified()
