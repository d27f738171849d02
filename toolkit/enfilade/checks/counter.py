"""The total counter of a kitchen, and its two heights."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from enfilade.checks.landing_spans import spans_behind
from enfilade.checks.layout import COUNTERS, RUN_KINDS, Layout, layout
from enfilade.checks.registry import check
from enfilade.checks.shown import both, called
from enfilade.checks.view import View
from enfilade.findings import Finding, Mark, Requirement
from enfilade.geometry.counters import LEVEL_MM
from enfilade.geometry.fronts import Span
from enfilade.geometry.runs import Piece
from enfilade.lengths import TOLERANCE_MM, show_inches
from enfilade.project.standing import Stand
from enfilade.quantities import Quantity
from enfilade.standards.row import Row
from enfilade.standards.yardsticks import Yardstick
from enfilade.trade.landing import counter_parts

__all__ = ["ABOVE_COUNTER", "CountedCounter", "counted_counter", "total_counter", "two_heights"]

ABOVE_COUNTER: Final = ("wall cabinet", "open shelf", "hood", "microwave", "furniture piece")
"""Kinds that may leave too little clear above a counter."""
_READS: Final = frozenset({*RUN_KINDS, *ABOVE_COUNTER})
_NOISE_IN: Final = 0.05
"""A height that is off by less lacks nothing: some more than the tolerance of a length (our own choice)."""


@dataclass(frozen=True)
class CountedCounter:
    """Counter front that counts towards a total: each piece with the stretch of it, and why the rest does not."""

    found: Layout
    spans: tuple[tuple[Piece, Span], ...]
    limits: tuple[str, ...]

    @property
    def total_mm(self) -> float:
        """Return the sum [mm]."""
        return sum(b - a for _, (a, b) in self.spans)

    @property
    def working(self) -> tuple[str, ...]:
        """Return the pieces and their sum, and what was left out."""
        return (*_sums(self.found, self.spans, self.total_mm), *self.limits)

    @property
    def marks(self) -> tuple[Mark, ...]:
        """Return the edges that count, to be drawn."""
        return tuple(Mark("measure", (p.front.at(a), p.front.at(b)), show_inches(b - a)) for p, (a, b) in self.spans)

    @property
    def assumed(self) -> tuple[str, ...]:
        """Return the assumed facts that the sum rests on."""
        tops = (a for s in self.found.tops for a in s.thing.assumed("width_mm", "depth_mm"))
        return (*self.found.assumed_tops(), *tops)


def counted_counter(found: Layout, above: Sequence[Stand], depth_mm: float, clear_mm: float) -> CountedCounter:
    """Return the counter that is deep enough with enough clear above it, each once.

    Args:
        above: What may hang or stand over it; it takes away the width over which less depth is clear before it.
    """
    counted: list[tuple[Piece, Span]] = []
    limits: list[str] = []
    for piece, span in _counted(found, depth_mm, limits):
        low = [s for s in above if -TOLERANCE_MM <= s.thing.bottom_mm - piece.height_mm < clear_mm - TOLERANCE_MM]
        part = piece.front.part(*span)
        free = [(span[0] + a, span[0] + b) for a, b in spans_behind(part, depth_mm, (s.box.polygon for s in low))]
        lost = span[1] - span[0] - sum(b - a for a, b in free)
        if lost > TOLERANCE_MM:
            over = (s for s in low if s.box.polygon.intersects(part.moved(-depth_mm).strip(depth_mm)))
            why = f"less than {both(clear_mm)} clear above ({', '.join(dict.fromkeys(s.thing.called for s in over))})"
            limits.append(f"{both(lost)} of {_name(found, piece)} have {why}")
        counted += [(piece, one) for one in free]
    return CountedCounter(found, tuple(counted), tuple(limits))


@check(reads=_READS, uses={"kitchen"})
def total_counter(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Add up the counter front that is deep enough with enough clear above it over that depth, each once.

    Corners, sinks and cooking surfaces are left out; a dishwasher below is counter; of an island its working
    sides count. What hangs or stands lower takes its width away; an appliance garage does not.
    """
    if not rules.has("K25", "total"):
        return
    row = rules.row("K25", "total")
    depth = rules.row("K25", "depth").value_mm if rules.has("K25", "depth") else 0.0
    clear = rules.row("K25", "clear above").value_mm if rules.has("K25", "clear above") else 0.0
    counted = counted_counter(layout(view), view.things(*ABOVE_COUNTER), depth, clear)
    parts = counter_parts(by=rules).working if rules.has("K25b", None) else ()
    yield row.finding(
        space=view.space.id,
        subjects=(view.space.id,),
        measured=Quantity(counted.total_mm, "mm"),
        working=(*counted.working, *(f"what is asked is made up of {line}" for line in parts)),
        marks=counted.marks,
        assumed=counted.assumed,
    )


def _name(found: Layout, piece: Piece) -> str:
    return found.piece_thing(piece).thing.called


def _counted(found: Layout, depth_mm: float, limits: list[str]) -> Iterator[tuple[Piece, Span]]:
    """Yield the counter pieces deep enough, with the stretch of each that no other side of one island has taken."""
    pieces = [piece for run in found.runs for piece in run.pieces if piece.role == "counter"]
    taken: dict[str, list[Piece]] = defaultdict(list)
    # The longest side of an island first: what it takes is not there for the sides round the corner.
    for piece in sorted(pieces, key=lambda p: (-round(p.length_mm, 3), p.station_id)):
        if piece.depth_mm < depth_mm - TOLERANCE_MM:
            limits.append(f"{both(piece.length_mm)} of {_name(found, piece)} are only {both(piece.depth_mm)} deep")
            continue
        strips = [other.front.moved(-depth_mm).strip(depth_mm) for other in taken[piece.station_id] if depth_mm > 1.0]
        taken[piece.station_id].append(piece)
        yield from ((piece, span) for span in spans_behind(piece.front, depth_mm, strips))


def _sums(found: Layout, counted: Sequence[tuple[Piece, Span]], total_mm: float) -> tuple[str, ...]:
    names = called(found.stands, *(piece.station_id for piece, _ in counted))
    lines = [f"{name}: {both(b - a)}" for name, (_, (a, b)) in zip(names, counted, strict=True)]
    if len(counted) > 1:
        sums = " + ".join(show_inches(b - a) for _, (a, b) in counted)
        lines.append(f"{sums} = {both(total_mm)}")
    return tuple(lines) or ("no counter counts",)


@check(reads=RUN_KINDS, uses={"kitchen"})
def two_heights(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Hold two counters of different height against the lower and the higher band: the two that fit them best.

    Where all counters are level there is one height only: it is held against the lower, and the higher is counted
    as lacking unless it fits only there.
    """
    found, space = layout(view), view.space.id
    rows = {part: rules.row("K25a", part) for part in ("lower counter", "higher counter") if rules.has("K25a", part)}
    heights = sorted((s.thing.top_mm, s.id) for s in _surfaces(found))
    chosen = _two(heights, rows)
    for part, row in rows.items():
        if not heights:
            yield row.not_assessed(
                space=space, subjects=(space,), because="does not apply", working=("no counter is recorded here",)
            )
            continue
        there = chosen.get(part)
        yield row.finding(
            space=space,
            subjects=((there or heights[-1 if part == "higher counter" else 0])[1],),
            measured=Quantity(0, "count") if there is None else Quantity(there[0], "mm"),
            required=Requirement("at least", 1, "count") if there is None else None,
            title=f"Counters at the {part.removesuffix(' counter')} height" if there is None else None,
            working=(
                f"counters stand at {' and '.join(dict.fromkeys(both(h) for h, _ in heights))}",
                *(("all at one height: there is no second counter",) if there is None else ()),
            ),
            assumed=found.assumed_tops(),
        )


_Height = tuple[float, str]


def _two(heights: Sequence[_Height], rows: Mapping[str, Row]) -> dict[str, _Height]:
    """Return the counter for each band: two of different height that lack least, or one for the band it fits."""
    if not heights:
        return {}

    def lack(part: str, height: _Height) -> float:
        return max(0.0, -rows[part].requirement.margin(Quantity(height[0], "mm"))) if part in rows else 0.0

    def worth(pair: tuple[_Height, _Height]) -> tuple[int, float, float]:
        lacking = [lack("lower counter", pair[0]), lack("higher counter", pair[1])]
        return sum(one > _NOISE_IN for one in lacking), round(sum(lacking), 3), round(pair[0][0] - pair[1][0], 3)

    pairs = [(low, high) for low in heights for high in heights if high[0] - low[0] > LEVEL_MM]
    if pairs:
        low, high = min(pairs, key=worth)
        return {"lower counter": low, "higher counter": high}
    lacking, fitting = lack("lower counter", heights[0]), lack("higher counter", heights[-1])
    higher_only = lacking > _NOISE_IN and fitting <= _NOISE_IN
    return {"higher counter": heights[-1]} if higher_only else {"lower counter": heights[0]}


def _surfaces(found: Layout) -> list[Stand]:
    return [s for s in found.stands.values() if s.thing.kind in COUNTERS or s.id in found.bare]
