"""A small house for lines: a kitchen with an island, a dining room through one doorway, a store through another."""

from __future__ import annotations

from typing import Any

from building import door, free, house, on_wall, room, set_in, thing, window
from enfilade.project.project import Project

__all__ = ["line", "stop", "told_house"]


def line(text: str, id: str = "line", **more: Any) -> dict[str, Any]:
    return {"id": id, "text": text, **more}


def stop(space: str, *lines: dict[str, Any], id: str | None = None, **more: Any) -> dict[str, Any]:
    return {"id": id or f"stop-{space}", "space": space, "lines": list(lines), **more}


def told_house(script: list[dict[str, Any]] | None = None, **more: Any) -> Project:
    """Return a house of a kitchen 12 x 12 ft, with a dining room east of it and a store north of it.

    From the dining room one looks into the store past the shelf, which stands to the side.
    """
    rooms = [
        {**room(144, 144, ceiling=108), "floor_finish": "boards",
         "dropped": [{"id": "beam", "outline": [[0, 0], [500, 0], [500, 500], [0, 500]], "height_mm": 2400}]},
        room(120, 144, id="dining", use="dining", at=(148, 0)),
        room(60, 60, id="store", use="pantry", at=(0, 148)),
    ]  # fmt: skip
    things = [
        thing("island", "island", 106, 42, free(72, 72), name="work island", finish="soapstone", thickness_mm=38.1,
              overhang={"back_mm": 381}, seating=[{"id": "row", "count": 4}]),
        thing("range", "range", 36, 25, on_wall("kitchen-north", 40), product="range", burners=6),
        thing("hood", "hood", 36, 20, on_wall("kitchen-north", 40), bottom=66, top=84, flow_m3h=510,
              control_height_mm=1700),
        thing("counter", "counter-west", 100, 25, on_wall("kitchen-west", 10), name="river counter"),
        thing("sink", "sink", 30, 18, set_in("counter-west", 20), bowl_depth_mm=203.2, bowls=2),
        thing("waste", "waste", 18, 24, free(130, 130), bins=2, volume_l=40),
        thing("dishwasher", "dishwasher", 24, 24, free(130, 100), place_settings=14),
        thing("refrigerator", "cold", 30, 28, free(128, 20), name="tall refrigerator", volume_l=500),
        thing("base cabinet", "pans", 24, 24, free(20, 130), drawers=3, shelves=1),
        thing("seat", "stool-1", 16, 16, free(60, 100), what="stool", name="stool 1"),
        thing("seat", "stool-2", 16, 16, free(84, 100), what="stool", name="stool 2"),
        thing("table", "table", 84, 40, free(208, 72), space="dining", round=False, seating=[{"id": "a", "count": 8}]),
        thing("screen", "screen", 48, 3, free(208, 136), space="dining", diagonal_mm=1397),
        thing("open shelf", "shelf", 24, 12, free(46, 200), space="store", finish="walnut"),
    ]  # fmt: skip
    openings = [
        door("doorway", "kitchen-east", 54, 36, kind="cased opening", beyond="dining-west", clear_width_mm=914.4,
             depth_mm=101.6),
        door("store-door", "kitchen-north", 10, 28, kind="cased opening", beyond="store-south", name="store door"),
        window("sink-window", "kitchen-west", 40, 60, 42, 42, name="sink window", glazing={"area_m2": 1.3}),
    ]  # fmt: skip
    decisions = [
        {"id": "top", "number": 4, "title": "What the top is", "spaces": ["kitchen"], "status": "built", "choice": "a",
         "reason": "It wears well.", "on": "2025-06-12", "due": "2025-06-20", "approved_on": "2025-06-19",
         "options": [{"id": "a", "text": "Soapstone.", "cost": "9840.00", "finishes": ["soapstone"]},
                     {"id": "b", "text": "Walnut.", "cost": "8700.00", "finishes": ["walnut"]}]},
        {"id": "hidden", "number": 5, "title": "A private matter", "hear": ["studio"], "status": "built",
         "options": [{"id": "x", "text": "So.", "cost": "77.00"}], "choice": "x"},
    ]  # fmt: skip
    plain: dict[str, Any] = {
        "household": {"people": [{"id": "ann", "name": "Ann Merrowby", "cooks": True}, {"id": "bo"}, {"id": "cy"}],
                      "bedrooms": 3, "cooks_together": 2, "gatherings": [{"people": 14, "what": "Sundays"}]},
        "client": {"names": ["Ann Merrowby"]},
        "show": {"currency": "USD"},
        "brief": {"needs": [{"id": "sit", "number": 7, "text": "Room for all.", "spaces": ["kitchen"]}]},
        "products": [{"id": "range", "name": "induction range, 36 in", "maker": "maker A",
                      "warranty_until": "2030-01-01",
                      "purchase": {"ordered_price": "6250.00", "quote": "6400.00", "allowance": "6000.00",
                                   "quantity": 1.0,
                                   "quantity_unit": "pieces", "lead_time_days": 90, "needed_on_site": "2026-06-15"}}],
        "finishes": [{"id": "soapstone", "name": "soapstone", "material": "stone, honed",
                      "purchase": {"quote": "9840.00"}},
                     {"id": "boards", "name": "larch floor boards", "material": "larch"},
                     {"id": "walnut", "name": "oiled walnut"}],
        "decisions": decisions, "script": script or [], **more,
    }  # fmt: skip
    return house(things, spaces=rooms, openings=openings, **plain)
