"""How long and deep an island edge must be for what stands on it."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product

from enfilade.errors import require_positive
from enfilade.lengths import show_inches
from enfilade.standards import Yardstick, yardstick
from enfilade.trade.landing import shared_landing

__all__ = ["Edge", "cooking_depth", "cooking_edge", "sink_and_cooking_edge", "sink_edge"]


@dataclass(frozen=True, slots=True)
class Edge:
    """A length or depth that an island needs [mm], how things stand in it, and the working."""

    needed_mm: float
    order: str
    working: tuple[str, ...]


def cooking_edge(width_mm: float, *, by: Yardstick | None = None) -> Edge:
    """Return the edge that a cooking surface and its two landings need.

    Args:
        width_mm: Width of the cooking surface, above 0 [mm].
    Raises:
        OutOfRange: The width is zero, negative or not finite.
    Source: derived from Kitchen guideline 17.

    >>> round(cooking_edge(762.0).needed_mm / 25.4, 6)
    57.0
    """
    return _edge_of("cooking", width_mm, "K17", by)


def sink_edge(width_mm: float, *, by: Yardstick | None = None) -> Edge:
    """Return the edge that the only sink and its two landings need.

    Args:
        width_mm: Width of the sink, above 0 [mm].
    Raises:
        OutOfRange: The width is zero, negative or not finite.
    Source: derived from Kitchen guideline 11.

    >>> round(sink_edge(838.2).needed_mm / 25.4, 6)
    75.0
    """
    return _edge_of("sink", width_mm, "K11", by)


def cooking_depth(depth_mm: float, *, by: Yardstick | None = None) -> Edge:
    """Return the depth of an island whose counter behind the cooking surface is at its height.

    Args:
        depth_mm: Depth from the front edge to the back of the cooking surface, above 0 [mm].
    Raises:
        OutOfRange: The depth is zero, negative or not finite.
    Source: derived from Kitchen guideline 17.

    >>> round(cooking_depth(533.4).needed_mm / 25.4, 6)
    30.0
    """
    require_positive(depth_mm=depth_mm)
    behind = (by or yardstick()).row("K17b").value_mm
    needed = round(depth_mm + behind, 9)
    line = f"{show_inches(depth_mm)} + {show_inches(behind)} behind = {show_inches(needed)}"
    return Edge(needed, "cooking, counter behind", (line,))


def sink_and_cooking_edge(sink_mm: float, cooking_mm: float, *, by: Yardstick | None = None) -> Edge:
    """Return the least edge that holds a sink and a cooking surface, over all orders of their landings.

    Each has one landing outside and one on the counter between, which they share. The working
    shows every order; the first of the least is taken.

    Args:
        sink_mm: Width of the sink, above 0 [mm].
        cooking_mm: Width of the cooking surface, above 0 [mm].
    Raises:
        OutOfRange: A width is zero, negative or not finite.
    Source: derived from Kitchen guidelines 11, 17 and 24.

    >>> round(sink_and_cooking_edge(838.2, 762.0).needed_mm / 25.4, 6)
    129.0
    """
    require_positive(sink_mm=sink_mm, cooking_mm=cooking_mm)
    rows = by or yardstick()
    at_sink = [rows.row("K11", part).value_mm for part in ("longer side", "shorter side")]
    at_fire = [rows.row("K17", part).value_mm for part in ("longer side", "shorter side")]
    tried: list[Edge] = []
    for (sink_out, sink_in), (fire_out, fire_in) in product((at_sink, at_sink[::-1]), (at_fire, at_fire[::-1])):
        between = shared_landing(sink_in, fire_in, by=by).required_mm
        parts = (sink_out, sink_mm, between, cooking_mm, fire_out)
        needed = round(sum(parts), 9)
        order = f"{show_inches(sink_out)} beyond the sink, {show_inches(fire_out)} beyond the cooking surface"
        tried.append(Edge(needed, order, (f"{' + '.join(map(show_inches, parts))} = {show_inches(needed)}",)))
    least = min(tried, key=lambda edge: edge.needed_mm)
    return Edge(least.needed_mm, least.order, tuple(line for edge in tried for line in edge.working))


def _edge_of(name: str, width_mm: float, rule: str, by: Yardstick | None) -> Edge:
    require_positive(width_mm=width_mm)
    rows = by or yardstick()
    longer, shorter = rows.row(rule, "longer side").value_mm, rows.row(rule, "shorter side").value_mm
    needed = round(longer + width_mm + shorter, 9)
    line = f"{show_inches(longer)} + {show_inches(width_mm)} + {show_inches(shorter)} = {show_inches(needed)}"
    return Edge(needed, f"landing, {name}, landing", (line,))
