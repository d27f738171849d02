"""Straight lines of counters and appliances for tests, in inches. Invented; nothing here is a published figure."""

from __future__ import annotations

from typing import Any

from building import house, on_wall, room, set_in, thing
from enfilade.findings import Finding
from enfilade.project.project import Project

__all__ = ["inches_of", "kitchen", "line"]

Piece = tuple[str, str, float] | tuple[str, str, float, dict[str, Any]]
_UNDER = {"counter": None, "sink": None, "cooktop": None, "dishwasher": "under"}


def line(*pieces: Piece, wall: str = "kitchen-north", at: float = 0, depth: float = 25, top: float = 36,
         prefix: str = "top") -> list[dict[str, Any]]:  # fmt: skip
    """Return things side by side along a wall, from its left end as seen from inside.

    Each piece is (kind, id, width, other fields). Counters, sinks, cooktops and dishwashers that follow each other
    share one counter, named PREFIX-1, PREFIX-2, ...; a sink or cooktop is set in it, a dishwasher stands below.
    """
    things: list[dict[str, Any]] = []
    tops = 0
    start: float | None = None
    place = at
    group: list[tuple[Piece, float]] = []

    def close(end: float) -> None:
        nonlocal tops, start
        if start is None:
            return
        tops += 1
        host = f"{prefix}-{tops}"
        things.append(thing("counter", host, end - start, depth, on_wall(wall, start), bottom=top - 1.5, top=top))
        for piece, left in group:
            kind, name, width, *rest = piece
            more = dict(rest[0]) if rest else {}
            if kind in ("sink", "cooktop"):
                more.setdefault("top", top)
                things.append(thing(kind, name, width, 21, set_in(host, left - start, 0), **more))
            elif kind == "dishwasher":
                things.append(thing(kind, name, width, 24, on_wall(wall, left), **more))
        group.clear()
        start = None

    for piece in pieces:
        kind, name, width, *rest = piece
        if kind in _UNDER:
            start = place if start is None else start
            group.append((piece, place))
        else:
            close(place)
            if kind != "gap":
                more = dict(rest[0]) if rest else {}
                things.append(thing(kind, name, width, more.pop("depth", depth), on_wall(wall, place), **more))
        place += width
    close(place)
    return things


def kitchen(
    *things: list[dict[str, Any]] | dict[str, Any], width: float = 360, depth: float = 240, **more: Any
) -> Project:
    """Return a kitchen that holds some lines and single things."""
    flat = [one for part in things for one in (part if isinstance(part, list) else [part])]
    return house(flat, spaces=[room(width, depth)], **more)


def inches_of(finding: Finding) -> float:
    """Return the measured figure in inches; fails when there is none."""
    assert finding.measured is not None, (finding.id, finding.because, finding.needs)
    return finding.measured.to("in").value
