"""Small houses for tests, written in inches as the guidelines are. Invented; nothing here is a published figure."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from enfilade.checks.run import check
from enfilade.findings import Finding
from enfilade.lengths import inches
from enfilade.project.project import Project

__all__ = ["door", "findings", "free", "house", "on_wall", "one", "room", "set_in", "thing", "window"]

_HEIGHTS_IN: dict[str, tuple[float, float]] = {
    "base cabinet": (0, 34.5), "wall cabinet": (54, 84), "tall cabinet": (0, 84), "counter": (34.5, 36),
    "island": (0, 36), "peninsula": (0, 36), "sink": (28, 36), "cooktop": (33, 36), "range": (0, 36),
    "refrigerator": (0, 70), "dishwasher": (0, 34), "oven": (30, 58), "microwave": (48, 64), "hood": (66, 84),
    "table": (0, 30), "waste": (0, 30), "receptacle": (42, 46), "switch": (44, 48), "light": (82, 84),
    "extinguisher": (36, 50), "window treatment": (36, 84),
}  # fmt: skip


def room(width: float, depth: float, *, id: str = "kitchen", use: str = "kitchen", at: tuple[float, float] = (0, 0),
         open_sides: Iterable[str] = (), ceiling: float | None = 96) -> dict[str, Any]:  # fmt: skip
    """Return a rectangular space [in]; walls `ID-south`, `ID-east`, `ID-north`, `ID-west`."""
    (x, y), w, d = (inches(at[0]), inches(at[1])), inches(width), inches(depth)
    names = ("south", "east", "north", "west")
    return {
        "id": id, "name": id.title(), "use": use,
        "outline": [[x, y], [x + w, y], [x + w, y + d], [x, y + d]],
        "walls": [{"id": f"{id}-{name}", "open": name in open_sides} for name in names],
        **({"ceiling_mm": inches(ceiling)} if ceiling else {}),
    }  # fmt: skip


def free(x: float, y: float, turn: float = 0.0) -> dict[str, Any]:
    """Return a free place: centre [in] and turn; at turn 0 the front faces south."""
    return {"how": "free", "x_mm": inches(x), "y_mm": inches(y), "turn_deg": turn}


def on_wall(wall: str, offset: float, *, from_end: str = "left", gap: float = 0.0) -> dict[str, Any]:
    """Return a place against a wall, at an offset [in] from its end as seen from inside."""
    return {"how": "wall", "wall": wall, "offset_mm": inches(offset), "from_end": from_end, "gap_mm": inches(gap)}


def set_in(host: str, offset: float, setback: float = 2.0, side: str = "front") -> dict[str, Any]:
    """Return a place in a host, at an offset from the left end of its side [in]."""
    return {"how": "set in", "host": host, "offset_mm": inches(offset), "setback_mm": inches(setback), "side": side}


def thing(kind: str, id: str, width: float, depth: float, place: dict[str, Any], *, bottom: float | None = None,
          top: float | None = None, space: str = "kitchen", **more: Any) -> dict[str, Any]:  # fmt: skip
    """Return a thing [in] with usual heights for its kind; other fields as the record has them."""
    low, high = _HEIGHTS_IN.get(kind, (0, 36))
    return {
        "id": id, "kind": kind, "space": space, "place": place,
        "width_mm": inches(width), "depth_mm": inches(depth),
        "bottom_mm": inches(low if bottom is None else bottom), "top_mm": inches(high if top is None else top),
        **more,
    }  # fmt: skip


def door(id: str, wall: str, offset: float, width: float = 36, *, kind: str = "door", **more: Any) -> dict[str, Any]:
    """Return an opening 80 in high [in]."""
    return {
        "id": id, "kind": kind, "wall": wall, "offset_mm": inches(offset), "width_mm": inches(width),
        "height_mm": inches(80), **more,
    }  # fmt: skip


def window(id: str, wall: str, offset: float, width: float = 36, height: float = 48, sill: float = 40,
           **more: Any) -> dict[str, Any]:  # fmt: skip
    """Return a window [in]."""
    return {
        "id": id, "kind": "window", "wall": wall, "offset_mm": inches(offset), "width_mm": inches(width),
        "height_mm": inches(height), "sill_mm": inches(sill), **more,
    }  # fmt: skip


def house(things: Iterable[dict[str, Any]] = (), *, spaces: Iterable[dict[str, Any]] | None = None,
          openings: Iterable[dict[str, Any]] = (), **more: Any) -> Project:  # fmt: skip
    """Return a verified project; one kitchen of 12 x 12 ft when no spaces are given."""
    plain = {
        "format": 1, "id": "test-house", "name": "Test house",
        "spaces": list(spaces) if spaces is not None else [room(144, 144)],
        "openings": list(openings), "things": list(things), **more,
    }  # fmt: skip
    return Project.model_validate(plain).verified()


def findings(project: Project, rule: str, *, yardstick: str = "us", containing: str = "") -> list[Finding]:
    """Return the findings of one rule, of those whose id contains a text."""
    return [f for f in check(project, yardstick=yardstick) if f.rule == rule and containing in f.id]


def one(project: Project, rule: str, *, yardstick: str = "us", containing: str = "") -> Finding:
    """Return the only finding of a rule (and text in its id); fails when there are none or several."""
    found = findings(project, rule, yardstick=yardstick, containing=containing)
    assert len(found) == 1, [f.id for f in found]
    return found[0]
