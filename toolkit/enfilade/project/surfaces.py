"""Counters, islands, peninsulas, tables, and the seats at them."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, model_validator
from pydantic_core import PydanticCustomError

from enfilade.project.fields import ALL, Fact, Id, Mm, PositiveMm, Record, Whole, told
from enfilade.project.thing import KneeSpace, Side, Thing

__all__ = ["Counter", "Desk", "Island", "Overhang", "Peninsula", "Seat", "SeatRow", "Surface", "Table"]


class Overhang(Record):
    """How far a top stands out beyond what carries it, side by side."""

    front_mm: Mm = told(ALL, default=0.0)
    back_mm: Mm = told(ALL, default=0.0)
    left_mm: Mm = told(ALL, default=0.0)
    right_mm: Mm = told(ALL, default=0.0)

    def on(self, side: Side) -> float:
        """Return the overhang on one side [mm]."""
        return float(getattr(self, f"{side}_mm"))


class SeatRow(Record):
    """People who sit along one side of a surface."""

    id: Id
    side: Side = told(ALL, default="back")
    count: Annotated[Whole, Field(ge=1, le=100)] = told(ALL)
    from_left_mm: Mm = told(ALL, default=0.0, description="from the left end of that side, seen facing it")
    length_mm: PositiveMm | None = told(ALL, default=None, description="edge kept for the seats; absent: to its end")
    legs_mm: Mm = told(ALL, default=0.0, ge=0, description="of that length, taken by legs or waterfall ends")
    knee_depth_mm: PositiveMm | Fact | None = told(
        ALL, default=None, description="clear depth for the knees; absent: the overhang on that side"
    )
    arms: bool = told(ALL, default=False, description="chairs with arms")
    wheelchair: bool = told(ALL, default=False, description="a person in a wheelchair sits here")
    passing: Literal["none", "edge past", "walk past", "wheelchair"] | None = told(
        ALL, default=None, description="who passes behind; absent: read off the walks between the room's openings"
    )


class Surface(Thing):
    """What all tops have."""

    thickness_mm: PositiveMm | None = told(ALL, default=None)
    corners: Literal["clipped", "rounded", "square"] | Fact | None = told(
        ALL, default=None, description="exposed corners; `none`: no corner is exposed"
    )
    overhang: Overhang = told(ALL, default=Overhang())
    seating: tuple[SeatRow, ...] = told(ALL, default=(), max_length=50)
    knee_space: KneeSpace | Fact | None = told(ALL, default=None)
    smooth_below: bool | None = told(ALL, default=None, description="nothing sharp or rough where knees go")
    adjustable_from_mm: PositiveMm | None = told(ALL, default=None, description="lowest height, when adjustable")
    adjustable_to_mm: PositiveMm | None = told(ALL, default=None)

    @model_validator(mode="after")
    def _has_room_for_its_seats(self) -> Surface:
        ids = [row.id for row in self.seating]
        if len(ids) != len(set(ids)):
            raise PydanticCustomError("seating", "two seat rows share an id; expected one id a row", {})
        return self


class Counter(Surface):
    """A countertop along a wall or between two things; its width runs along its front edge."""

    kind: Literal["counter"]


class Island(Surface):
    """A counter that one can walk round; its sizes are those of its top."""

    kind: Literal["island"]
    working_sides: tuple[Side, ...] = told(ALL, default=("front",), description="sides that people cook or wash at")


class Peninsula(Surface):
    """A counter with one end against a wall or a run; its sizes are those of its top."""

    kind: Literal["peninsula"]
    joined: Literal["left", "right"] = told(ALL, description="the end that is joined, seen facing its front")
    working_sides: tuple[Side, ...] = told(ALL, default=("front",))


class Table(Surface):
    """A table; round ones fill their width and depth as an ellipse."""

    kind: Literal["table"]
    round: bool = told(ALL, default=False)


class Desk(Surface):
    """A desk or a built-in place to write."""

    kind: Literal["desk"]


class Seat(Thing):
    """A chair, stool, bench or sofa."""

    kind: Literal["seat"]
    what: Literal["chair", "armchair", "stool", "bench", "sofa"] = told(ALL, default="chair")
    at: Id | None = told(ALL, default=None, description="surface it belongs to")
