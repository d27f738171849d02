"""The kitchen in order: counter runs, and the centres at which people work."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import Final, Literal

import shapely
from shapely import Polygon

from enfilade.checks.view import View
from enfilade.geometry.boxes import Segment, common_part, shared_mm2
from enfilade.geometry.runs import Piece, Role, Run, Station, counter_runs
from enfilade.project.appliances import Refrigerator, Sink
from enfilade.project.standing import Stand, side_of
from enfilade.project.surfaces import Island, Peninsula

__all__ = ["COUNTERS", "PROUD_MM", "RUN_KINDS", "TALL_MM", "Centre", "Layout", "Spot", "layout", "main_sink"]

COUNTERS: Final = ("counter", "island", "peninsula")
RUN_KINDS: Final = (
    *COUNTERS, "base cabinet", "tall cabinet", "panel", "sink", "cooktop", "range", "oven", "microwave",
    "refrigerator", "dishwasher", "column",
)  # fmt: skip
"""Kinds that make up counter runs; a check that uses runs reads all of them."""

# A thing belongs under a top when most of it is covered; tops overhang and cabinets are scribed, so not all.
_COVERED_SHARE: Final = 0.5
TALL_MM: Final = 1200.0
"""What stands higher interrupts a counter: 45 in, the upper end of counter heights (Kitchen guideline 11), and a
little for a raised back (our own choice). What begins above it hangs over a person's hands."""
PROUD_MM: Final = 150.0
"""How far the edge of a top and the front under it may lie apart and still belong together (our own choice: more
is a top that turns a corner, or one that people sit at)."""
# A dishwasher stands on feet that bring it up to the cabinets beside it (our own choice).
_LEVELLED_MM: Final = 50.0

CentreKind = Literal["cooking", "sink", "cold"]
_CENTRE_OF: Final[dict[str, CentreKind]] = {
    "sink": "sink",
    "cooktop": "cooking",
    "range": "cooking",
    "refrigerator": "cold",
}


@dataclass(frozen=True)
class Centre:
    """A place of work: an appliance or sink, and the middle of its front edge."""

    kind: CentreKind
    stand: Stand

    @property
    def point(self) -> tuple[float, float]:
        """Return the middle of its front edge in plan."""
        return self.stand.box.front.midpoint


@dataclass(frozen=True)
class Spot:
    """Where a thing lies on a run: the run, the piece that it is, and its ends.

    What stands under a counter is no piece: its index is None.
    """

    run: Run
    index: int | None
    start_mm: float
    end_mm: float


class Layout:
    """The runs and centres of one space."""

    def __init__(self, stands: Sequence[Stand]) -> None:
        # Asked for by many checks, worked out once.
        self._covered: dict[str, bool] = {}
        self._hosts: dict[str, Stand | None] = {}
        self._spots: dict[str, list[Spot]] = {}
        self.stands = {stand.id: stand for stand in stands}
        self.tops = [stand for stand in stands if stand.thing.kind in COUNTERS]
        self.bare = [s.id for s in stands if s.thing.kind == "base cabinet" and not self.covered(s)]
        """Base cabinets without a recorded counter: one at their own height is taken, and said so."""
        self.stations = tuple(self._stations(stands))
        self.runs: tuple[Run, ...] = tuple(counter_runs(self.stations))

    def covered(self, stand: Stand) -> bool:
        """Tell whether a thing stands under a counter top, or is set in one."""
        if stand.id not in self._covered:
            shape = stand.box.polygon
            tops = tuple(top.box.polygon for top in self.tops if top.box.polygon.intersects(shape))
            self._covered[stand.id] = bool(tops) and _under_mm2(shape, tops) > _COVERED_SHARE * float(shape.area)
        return self._covered[stand.id]

    def host_of(self, stand: Stand) -> Stand | None:
        """Return the counter in or under whose top a thing is, by where it really stands."""
        if stand.id not in self._hosts:
            middle = shapely.Point(stand.box.x, stand.box.y)
            bare = [self.stands[name] for name in self.bare]
            tops = (top for top in (*self.tops, *bare) if top.id != stand.id)
            self._hosts[stand.id] = next((top for top in tops if top.box.polygon.covers(middle)), None)
        return self._hosts[stand.id]

    def _stations(self, stands: Iterable[Stand]) -> Iterator[Station]:
        for stand in stands:
            thing = stand.thing
            if isinstance(thing, Island | Peninsula):
                for side in thing.working_sides:
                    yield self._station(stand, "counter", side_of(stand.box, side))
            elif (role := self._role(stand)) is not None:
                host = self.host_of(stand) if role in ("sink", "cooking") and thing.kind != "range" else None
                yield self._station(stand, role, stand.box.front, host.id if host else None)

    def _role(self, stand: Stand) -> Role | None:
        """Return what a thing is in a run; None when a counter goes on above it or it hangs."""
        thing = stand.thing
        kind = thing.kind
        if kind == "counter" or stand.id in self.bare:
            return "counter"
        if kind == "sink":
            return "sink"
        if kind in ("cooktop", "range"):
            return "cooking"
        if kind == "oven" and self.built_in(stand):
            return None  # The tall cabinet round it is the station.
        # An oven built in higher up stands in something, though it is not recorded; over a top it hangs.
        reaches_down = thing.bottom_mm < TALL_MM / 2 or (kind == "oven" and not self.covered(stand))
        standing = reaches_down and not (thing.top_mm < TALL_MM and self.covered(stand))
        if not standing:
            return None
        if kind == "refrigerator":
            return "cold"
        if kind == "oven":
            return "oven"
        if kind in ("tall cabinet", "column"):
            return "tall"
        if kind == "dishwasher":
            return "counter"  # It carries a top even when none is recorded.
        return "other" if thing.top_mm >= TALL_MM else None

    def built_in(self, stand: Stand) -> bool:
        """Tell whether a thing stands inside a tall cabinet, as an oven in its tower does."""
        shape = stand.box.polygon
        cases = (s.box.polygon for s in self.stands.values() if s.thing.kind == "tall cabinet" and s.id != stand.id)
        return any(shared_mm2(case, shape) > _COVERED_SHARE * float(shape.area) for case in cases)

    def _station(self, stand: Stand, role: Role, front: Segment, host: str | None = None) -> Station:
        top_mm = self._bare_top_mm(stand) if role == "counter" else stand.thing.top_mm
        return Station(stand.id, role, stand.box, front, stand.thing.bottom_mm, top_mm, host)

    def _bare_top_mm(self, stand: Stand) -> float:
        """Return the height of a counter; a dishwasher without one takes that of the bare cabinets of its height."""
        own_mm = stand.thing.top_mm
        if stand.thing.kind != "dishwasher":
            return own_mm
        heights = [self.stands[name].thing.top_mm for name in self.bare]
        level = [height for height in heights if abs(height - own_mm) <= _LEVELLED_MM]
        return min(level, key=lambda height: abs(height - own_mm), default=own_mm)

    def spots(self, id: str) -> list[Spot]:
        """Return where a thing lies on the runs; empty when it is on none.

        What stands under a counter (a dishwasher, an oven, a drawer refrigerator) is found by its front.
        """
        if id not in self._spots:
            as_piece = [
                Spot(run, index, piece.start_mm, piece.end_mm)
                for run in self.runs
                for index, piece in enumerate(run.pieces)
                if piece.station_id == id
            ]
            self._spots[id] = as_piece or self._under(self.stands[id])
        return self._spots[id]

    def _under(self, stand: Stand) -> list[Spot]:
        front = stand.box.front
        found = []
        for run in self.runs:
            for piece in run.pieces:
                (left, ahead), (right, _) = piece.front.place(front.a), piece.front.place(front.b)
                over = min(right, piece.front.length_mm) - max(left, 0.0)
                # A cabinet front stands back from the edge of its top, or a little proud of it.
                if over > front.length_mm / 2 and -piece.depth_mm < ahead < PROUD_MM:
                    found.append(Spot(run, None, piece.start_mm + left, piece.start_mm + right))
        return found[:1]

    def piece_thing(self, piece: Piece) -> Stand:
        """Return the thing of which a piece is a stretch."""
        return self.stands[piece.station_id]

    @cached_property
    def centres(self) -> tuple[Centre, ...]:
        """Return every sink, cooking surface and refrigerator, in the order of the record."""
        return tuple(
            Centre(_CENTRE_OF[stand.thing.kind], stand)
            for stand in self.stands.values()
            if stand.thing.kind in _CENTRE_OF
        )

    def centres_of(self, kind: CentreKind) -> list[Centre]:
        """Return the centres of one kind, the primary one first.

        Primary are: the main sink, or the first that is not auxiliary; the refrigerator marked
        primary; the first cooking surface.
        """
        found = [centre for centre in self.centres if centre.kind == kind]
        return sorted(found, key=_rank)

    def assumed_tops(self) -> tuple[str, ...]:
        """Return the base cabinets over which a counter was taken though none is recorded."""
        return tuple(f"{name}.counter" for name in self.bare)


@lru_cache(maxsize=512)
def _under_mm2(shape: Polygon, tops: tuple[Polygon, ...]) -> float:
    """Return how much of a footprint lies under tops; remembered, for few things and tops move."""
    whole = tops[0] if len(tops) == 1 else shapely.union_all(tops)
    return float(common_part(whole, shape).area)


def _rank(centre: Centre) -> int:
    thing = centre.stand.thing
    if isinstance(thing, Sink):
        return 0 if thing.main else 2 if thing.role == "auxiliary" else 1
    if isinstance(thing, Refrigerator):
        return (0 if thing.primary else 2) + (thing.holds in ("frozen", "wine"))
    return 0


def main_sink(found: Layout) -> Stand | None:
    """Return the main sink of a space, None when it has no sink."""
    sinks = found.centres_of("sink")
    return sinks[0].stand if sinks else None


def layout(view: View) -> Layout:
    """Return the runs and centres of a view's space, worked out once for all checks that read the same kinds."""
    kinds = view.reads & set(RUN_KINDS)
    key = ("layout", kinds)
    if key not in view.memo:
        view.memo[key] = Layout(view.things(*kinds) if kinds else [])
    found: Layout = view.memo[key]
    return found
