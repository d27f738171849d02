"""What the counts of a room hold: what is there, what each source asks, and how that was worked out."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from enfilade.findings import Point
from enfilade.project.thing import Side
from enfilade.quantities import Quantity
from enfilade.sources import Source
from enfilade.standards.row import Row

__all__ = [
    "Asked",
    "Before",
    "Counted",
    "Counts",
    "IslandCount",
    "SeatCount",
    "SideClear",
    "StorageCount",
    "Volume",
    "asked_by",
]


Before = Literal["work aisle", "walkway", "behind seats", "joined"]
"""What lies before one side of an island."""


@dataclass(frozen=True)
class Asked:
    """What one source asks, as a figure or a range, and its method.

    Attributes:
        low, high: The figure; both the same when the source gives one.
        what: A few words on what the figure is.
        working: How it came about for this household or thing.
    """

    low: Quantity
    high: Quantity
    what: str
    source: Source
    working: tuple[str, ...] = ()


def asked_by(row: Row, what: str = "", *, low: float | None = None, high: float | None = None,
             working: Iterable[str] = ()) -> Asked:  # fmt: skip
    """Return what a row asks: its own figures, or figures worked out from it, in its unit."""
    first = row.low if low is None else low
    last = (row.high if low is None else first) if high is None else high
    return Asked(Quantity(first, row.unit), Quantity(last, row.unit), what or row.title, row.source, tuple(working))


@dataclass(frozen=True)
class Counted:
    """One count: what is there beside what the sources ask.

    Attributes:
        name: What is counted.
        there: The figure of the record; None when it is unknown or nothing says it.
        asked: One entry a source; empty when every source is silent.
        working: How `there` came about.
        needs: The facts that are missing.
        subjects: Ids of what was counted.
    """

    name: str
    there: Quantity | None
    asked: tuple[Asked, ...] = ()
    working: tuple[str, ...] = ()
    needs: tuple[str, ...] = ()
    subjects: tuple[str, ...] = ()

    @property
    def spread(self) -> tuple[Quantity, Quantity] | None:
        """Return the least and the most that any source asks; None when all are silent."""
        if not self.asked:
            return None
        unit = self.asked[0].low.unit
        figures = [q.to(unit).value for asked in self.asked for q in (asked.low, asked.high)]
        return Quantity(min(figures), unit), Quantity(max(figures), unit)


@dataclass(frozen=True)
class SideClear:
    """The floor before one side of an island.

    Attributes:
        side: Which side, as its record names it.
        what: `work aisle`, `walkway`, `behind seats`, or `joined` for the end of a peninsula.
        clear_mm: Clear width straight ahead [mm]; None when nothing stands within 10 ft, or it is joined.
        to: Id of what stands there.
        asked: What the sources ask; several where the record leaves open which applies.
        line: Where it was measured, in plan; empty without a measure.
    """

    side: Side
    what: Before
    clear_mm: float | None
    to: str | None
    asked: tuple[Asked, ...]
    line: tuple[Point, ...] = ()


@dataclass(frozen=True)
class SeatCount:
    """People on one edge beside the seats that it takes; `edge_mm` without legs [mm]."""

    id: str
    side: Side
    count: int
    fits: int
    edge_mm: float
    asked: Asked
    working: tuple[str, ...]


@dataclass(frozen=True)
class IslandCount:
    """An island's or peninsula's size [mm] beside its seats and the floor on each side."""

    id: str
    name: str
    length_mm: float
    width_mm: float
    asked: tuple[Asked, ...]
    seats: tuple[SeatCount, ...]
    sides: tuple[SideClear, ...]


@dataclass(frozen=True)
class Volume:
    """Storage in one zone or one band of reach: volume [l], shelf frontage and drawer frontage [mm]."""

    name: str
    litres: float
    shelves_mm: float
    drawers_mm: float

    @property
    def quantity(self) -> Quantity:
        """Return the volume."""
        return Quantity(self.litres, "l")


@dataclass(frozen=True)
class StorageCount:
    """Storage of a room by zone and by reach.

    Attributes:
        zones: By what it keeps, in the order of the record's words; `not recorded` last.
        reach: Bands of height, lowest first.
        runs: Lengths of base and wall cabinets, and shelf area, beside what the sources ask.
        unknown: Ids of units of which neither shelves nor drawers are recorded; their volume counts, no frontage.
        method: How the volume was taken.
    """

    zones: tuple[Volume, ...]
    reach: tuple[Volume, ...]
    runs: tuple[Counted, ...]
    unknown: tuple[str, ...]
    method: str

    @property
    def litres(self) -> float:
        """Return the whole volume [l]."""
        return round(sum(zone.litres for zone in self.zones), 6)


@dataclass(frozen=True)
class Counts:
    """The counts of one room."""

    space: str
    islands: tuple[IslandCount, ...]
    appliances: tuple[Counted, ...]
    storage: StorageCount | None
