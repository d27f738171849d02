"""Counter beside, above, below and across from what stands in a kitchen, as far as it serves as a landing."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final, Literal

from enfilade.checks.landing_spans import (
    STANDS_ON_MM,
    along,
    away,
    from_edge,
    gap_to,
    joined_with,
    round_corner,
    unwrapped,
    usable_spans,
)
from enfilade.checks.layout import COUNTERS, RUN_KINDS, Layout, Spot, layout
from enfilade.checks.shown import Names, both
from enfilade.checks.view import View
from enfilade.findings import Mark
from enfilade.geometry.boxes import Segment
from enfilade.geometry.counters import EndedBy, Side, Stretch, counter_stretches, straight_counter
from enfilade.geometry.fronts import Span
from enfilade.geometry.outlines import opposed
from enfilade.geometry.points import angle_between_deg
from enfilade.geometry.runs import Piece, Run
from enfilade.geometry.walks import length_inside
from enfilade.lengths import TOLERANCE_MM, show_inches
from enfilade.project.standing import Stand
from enfilade.standards.yardsticks import Yardstick

__all__ = ["LANDING_KINDS", "SIDES", "Kitchen", "Landing", "Side", "Where", "kitchen"]

LANDING_KINDS: Final = frozenset({*RUN_KINDS, "appliance garage"})
"""Kinds that a check of landings reads: the runs, and what stands on the counters."""

Where = Literal["left", "right", "above", "below", "across"]
SIDES: Final[tuple[Side, Side]] = ("left", "right")

# Rims, grates and counters laid on bare cabinets differ by up to a counter's thickness and still are
# one working height (our own choice).
_LEVEL_MM: Final = 40.0
# A thing that is set in a counter at such a slant stands across its corner (our own choice).
_DIAGONAL_DEG: Final = (30.0, 60.0)
# What is further to one side than ahead (45 degrees) is not across (our own choice).
_ASIDE: Final = 2**0.5


@dataclass(frozen=True)
class Landing:
    """Counter that can take what comes out of an appliance.

    Attributes:
        where: `left` and `right` as seen facing the appliance's front.
        run: Number of its run; -1 when there is no counter.
        pieces: The whole stretch of counter of which it is part, left to right.
        length_mm: What serves, from the edge of the appliance on.
        working: How the figure came about.
        ended_by: What ends the stretch on its far side.
        line: The front edge of what serves; None without length.
        distance_mm: For `across`: from the appliance's front to all of the landing.
        gap: For `across`: where that distance was measured.
    """

    where: Where
    run: int
    pieces: tuple[Piece, ...]
    length_mm: float
    working: tuple[str, ...]
    ended_by: EndedBy = "end"
    beyond: Piece | None = None
    line: Segment | None = None
    distance_mm: float = 0.0
    gap: Segment | None = None

    @property
    def key(self) -> tuple[int, float] | None:
        """Return what names the stretch of counter, the same from both its ends; None without counter."""
        return (self.run, round(self.pieces[0].start_mm, 2)) if self.pieces else None

    @property
    def whole_mm(self) -> float:
        """Return the whole frontage of the stretch [mm]."""
        return sum(piece.length_mm for piece in self.pieces)

    @property
    def serving(self) -> tuple[Piece, ...]:
        """Return the pieces of the stretch that serve; all of them when none does."""
        if self.line is None:
            return self.pieces
        ends = [(piece, along(self.line, piece.front)) for piece in self.pieces]
        length_mm = self.line.length_mm
        return tuple(p for p, (a, b) in ends if min(b, length_mm) - max(a, 0.0) > TOLERANCE_MM) or self.pieces

    @property
    def counters(self) -> tuple[str, ...]:
        """Return the ids of the stretch's counters, left to right, each once."""
        return tuple(dict.fromkeys(piece.station_id for piece in self.pieces))

    @property
    def marks(self) -> tuple[Mark, ...]:
        """Return the measured edge, to be drawn."""
        return () if self.line is None else (Mark("measure", (self.line.a, self.line.b), show_inches(self.length_mm)),)


class Kitchen:
    """The runs of a kitchen with what stands on its counters, and how a landing is measured there."""

    def __init__(self, found: Layout, blocks: Sequence[Stand], rules: Yardstick) -> None:
        self.found = found
        self.rules = rules
        self.blocks = tuple(blocks)
        """Appliance garages and microwaves: where they stand on a counter, they leave less depth before them."""
        self.names = Names({key: stand.thing.called for key, stand in found.stands.items()})
        depth, height = rules.has("K11b", "depth"), rules.has("K11b", "height")
        self.least_depth_mm = rules.row("K11b", "depth").value_mm if depth else 0.0
        band = rules.row("K11b", "height") if height else None
        self.heights_mm = (band.low_mm, band.high_mm) if band else (0.0, float("inf"))
        # Several checks ask for the same landings.
        self._beside: dict[tuple[str, Side, float | None, float | None], Landing] = {}
        self._across: dict[tuple[str, float], list[Landing]] = {}
        self._usable: dict[tuple[tuple[int, ...], float], tuple[list[Span], tuple[str, ...]]] = {}

    def spot(self, stand: Stand) -> Spot | None:
        """Return where a thing lies on the runs, None when it is on none."""
        return next(iter(self.found.spots(stand.id)), None)

    def piece_at(self, spot: Spot) -> int:
        """Return the place in its run of the piece that a thing is, or under, above or in which it is."""
        if spot.index is not None:
            return spot.index
        middle = (spot.start_mm + spot.end_mm) / 2
        pieces = spot.run.pieces
        return min(range(len(pieces)), key=lambda i: max(pieces[i].start_mm - middle, middle - pieces[i].end_mm, 0.0))

    def beside(
        self, stand: Stand, side: Side, *, level_mm: float | None = None, depth_mm: float | None = None
    ) -> Landing:
        """Return the landing on one side of a thing; one above or under a counter has it from its own edge on.

        Beside what is set across an inside corner, the counter round the corner is that on its far side.

        Args:
            level_mm: Only counter at this height counts; any when None.
            depth_mm: Depth from which counter counts; that of a landing area when None.
        """
        key = (stand.id, side, level_mm, depth_mm)
        if key not in self._beside:
            self._beside[key] = self._find_beside(stand, side, level_mm, depth_mm)
        return self._beside[key]

    def _find_beside(self, stand: Stand, side: Side, level_mm: float | None, depth_mm: float | None) -> Landing:
        spot = self.spot(stand)
        if spot is None:
            return Landing(side, -1, (), 0.0, (f"{stand.thing.called} stands on no counter run",))
        run, index = spot.run, self.piece_at(spot)
        here = run.pieces[index]
        stretch = straight_counter(run, index, side)
        edge_mm = here.end_mm if side == "right" else here.start_mm
        if spot.index is None and here.role == "counter":
            stretch = joined_with(stretch, here, run, index)
            edge_mm = spot.end_mm if side == "right" else spot.start_mm
        elif stretch.ended_by == "corner" and not stretch.pieces and self.is_diagonal(stand):
            stretch, edge_mm = round_corner(run, stretch, stand, side)
        return self._measured(side, run, stretch, edge_mm, stand, level_mm, depth_mm)

    def is_diagonal(self, stand: Stand) -> bool:
        """Tell whether a thing that is set in a counter stands at a slant to its front, as a corner sink does."""
        spot = self.spot(stand)
        if spot is None:
            return False
        front = spot.run.pieces[self.piece_at(spot)].front
        turn = abs(angle_between_deg(front.direction, stand.box.front.direction))
        return _DIAGONAL_DEG[0] <= turn <= _DIAGONAL_DEG[1]

    def _measured(
        self,
        side: Side,
        run: Run,
        stretch: Stretch,
        edge_mm: float,
        stand: Stand,
        level_mm: float | None,
        depth_mm: float | None,
    ) -> Landing:
        number = next(i for i, other in enumerate(self.found.runs) if other is run)
        name, end = self._end(stand, stretch)
        words = f"on the {side} of {name}"
        if not stretch.pieces:
            return Landing(side, number, (), 0.0, (f"no counter {words}: {end}",), stretch.ended_by, stretch.beyond)
        spans, limits = self.usable(stretch.pieces, depth_mm)
        shift = unwrapped(run, stretch.pieces, edge_mm, side)
        length_mm = from_edge(spans, edge_mm + shift, side)
        line = None
        if level_mm is not None and abs(stretch.pieces[0].height_mm - level_mm) > _LEVEL_MM:
            limits = (*limits, f"its top is at {both(stretch.pieces[0].height_mm)}, not at {both(level_mm)}")
            length_mm = 0.0
        if length_mm > 0:
            near = stretch.pieces[0] if side == "right" else stretch.pieces[-1]
            at = edge_mm + shift - near.start_mm
            line = near.front.part(at, at + length_mm) if side == "right" else near.front.part(at - length_mm, at)
        words = f"counter {words}: {both(length_mm)}, up to {end}"
        return Landing(
            side, number, stretch.pieces, length_mm, (words, *limits), stretch.ended_by, stretch.beyond, line
        )

    def _end(self, stand: Stand, stretch: Stretch) -> tuple[str, str]:
        """Return what people call a thing, and what ends the counter beside it."""
        if stretch.ended_by == "corner":
            return stand.thing.called, "the inside corner"
        if stretch.beyond is None:
            return stand.thing.called, "the end of the run"
        if stretch.beyond.role == "counter":
            return stand.thing.called, f"a counter at {both(stretch.beyond.height_mm)}"
        name, end = self.names.of(stand.id, stretch.beyond.station_id)
        return name, end

    def usable(self, pieces: Sequence[Piece], depth_mm: float | None = None) -> tuple[list[Span], tuple[str, ...]]:
        """Return the stretches [mm along the run] that are deep enough and at a usable height, and what is not."""
        least = self.least_depth_mm if depth_mm is None else depth_mm
        key = (tuple(map(id, pieces)), least)  # pieces of runs that are held as long as this
        if key not in self._usable:
            self._usable[key] = usable_spans(pieces, least, self.heights_mm, self.blocks)
        return self._usable[key]

    def over(self, stand: Stand) -> Landing | None:
        """Return the counter above what stands under it, or below what hangs over it; None when there is none.

        What stands on the counter itself has none: it takes the place.
        """
        spot = self.spot(stand)
        if spot is None or spot.index is not None:
            return None
        index = self.piece_at(spot)
        here = spot.run.pieces[index]
        thing = stand.thing
        where: Where = "above" if thing.top_mm < here.height_mm + STANDS_ON_MM else "below"
        if here.role != "counter" or (where == "below" and thing.bottom_mm < here.height_mm + STANDS_ON_MM):
            return None
        before = straight_counter(spot.run, index, "left")
        after = straight_counter(spot.run, index, "right")
        pieces = (*before.pieces, here, *(p for p in after.pieces if p not in before.pieces))
        number = next(i for i, other in enumerate(self.found.runs) if other is spot.run)
        spans, limits = self.usable(pieces)
        middle = (spot.start_mm + spot.end_mm) / 2
        span = next(((a, b) for a, b in spans if a <= middle <= b), (0.0, 0.0))
        length_mm = span[1] - span[0]
        line = here.front.part(span[0] - here.start_mm, span[1] - here.start_mm) if length_mm > 0 else None
        words = f"counter {where} {thing.called}: {both(length_mm)}"
        return Landing(where, number, pieces, length_mm, (words, *limits), after.ended_by, after.beyond, line)

    def across(self, stand: Stand, asked_mm: float) -> list[Landing]:
        """Return the counters across a clear floor from a thing that are long enough, nearest first.

        How far away one is, is measured from the thing's front to all of the landing, which lies on the counter
        as near to the front as it can: what stands off to one side is further away (our own reading; the source
        says no more than `across` and `from the front`).
        """
        key = (stand.id, asked_mm)
        if key not in self._across:
            self._across[key] = sorted(
                self._find_across(stand, asked_mm),
                key=lambda landing: (round(landing.distance_mm, 3), -landing.length_mm, landing.counters),
            )
        return self._across[key]

    def _find_across(self, stand: Stand, asked_mm: float) -> Iterator[Landing]:
        front = stand.box.front
        middle = stand.box.polygon.centroid
        standing = (
            s for s in self.found.stands.values() if s.thing.bottom_mm < STANDS_ON_MM or s.thing.kind in COUNTERS
        )
        bodies = {s.id: s.box.polygon for s in standing if not s.box.polygon.covers(middle)}
        for number, run in enumerate(self.found.runs):
            for stretch in counter_stretches(run):
                whole = Segment(stretch.pieces[0].front.a, stretch.pieces[-1].front.b)
                if not opposed(front, whole) or front.place(whole.midpoint)[1] <= TOLERANCE_MM:
                    continue
                spans, limits = self.usable(stretch.pieces)
                start = stretch.pieces[0].start_mm
                parts = [whole.part(a - start, b - start) for a, b in spans if b - a >= asked_mm - TOLERANCE_MM]
                if not parts:
                    continue
                ways = [(gap_to(front, part, asked_mm), part) for part in parts]
                gap, part = min(ways, key=lambda one: one[0].length_mm)
                if gap.length_mm > _ASIDE * front.place(gap.b)[1]:
                    continue
                ids = {piece.station_id for piece in stretch.pieces}
                others = (body for name, body in bodies.items() if name not in ids)
                if length_inside(gap.a, gap.b, others) > TOLERANCE_MM:
                    continue
                length_mm, away_mm = part.length_mm, gap.length_mm
                words = f"counter across from {stand.thing.called}: {both(length_mm)}, {away(front, gap)}"
                yield Landing(
                    "across",
                    number,
                    stretch.pieces,
                    length_mm,
                    (words, *limits),
                    stretch.ended_by,
                    stretch.beyond,
                    part,
                    away_mm,
                    gap,
                )


def kitchen(view: View, rules: Yardstick) -> Kitchen:
    """Return the kitchen of a view whose check reads `LANDING_KINDS`; worked out once for each yardstick."""
    key = ("kitchen", view.reads & LANDING_KINDS, id(rules))
    if key not in view.memo:
        blocks = view.things(*({"appliance garage", "microwave"} & view.reads))
        # The yardstick is kept with it, so that its id stays its own.
        view.memo[key] = (Kitchen(layout(view), blocks, rules), rules)
    found: Kitchen = view.memo[key][0]
    return found
