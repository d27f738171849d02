"""Spaces, their walls and ceilings, and the openings that join them."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, model_validator
from pydantic_core import PydanticCustomError

from enfilade.errors import EnfiladeError
from enfilade.geometry.camera import WIDTH_DEG
from enfilade.geometry.outlines import check_outline
from enfilade.project.fields import (
    ALL,
    CLIENT,
    STUDENT,
    Basis,
    Day,
    Fact,
    Height,
    Id,
    LongText,
    Mm,
    Number,
    Point,
    PositiveMm,
    Record,
    State,
    Text,
    told,
)
from enfilade.project.speaking import Eye

__all__ = ["DroppedCeiling", "Glazing", "OpenPoint", "Opening", "Space", "Swing", "Use", "View", "Wall"]

Use = Literal[
    "kitchen", "scullery", "pantry", "breakfast", "dining", "living", "study", "bedroom", "bath", "washroom",
    "entry", "hall", "laundry", "closet", "garage", "outside", "other",
]  # fmt: skip


class Wall(Record):
    """One side of a space: the edge of the outline from its own corner to the next."""

    id: Id
    name: Text = told(ALL, default="", description="as people call it, such as `river wall`")
    open: bool = told(ALL, default=False, description="no wall stands here: the space runs on into its neighbour")
    finish: Id | None = told(ALL, default=None)
    state: State = told(ALL, default="kept")


class DroppedCeiling(Record):
    """A part of the ceiling that hangs lower: a beam, a soffit, a dropped tray."""

    id: Id
    outline: tuple[Point, ...] = told(ALL, min_length=3, max_length=500)
    height_mm: PositiveMm = told(ALL, description="finished floor to its underside")


class View(Record):
    """A perspective that stands on the room's page."""

    id: Id
    title: Text = told(ALL, default="")
    eye: Eye = told(ALL)
    toward: Point = told(ALL, description="a point that the eye looks at, on the plan")
    toward_height_mm: Height | None = told(ALL, default=None, description="of that point; none: the eye looks level")
    width_deg: Annotated[Number, Field(ge=5, le=120)] = told(
        ALL, default=WIDTH_DEG, description="angle from side to side"
    )


class OpenPoint(Record):
    """Something that is left to put right, found on a walk through the finished room."""

    id: Id
    what: LongText = told(CLIENT, description="what is wrong or missing, and where")
    things: tuple[Id, ...] = told(CLIENT, default=(), max_length=50)
    trade: Text = told(CLIENT, default="", description="whose trade it is")
    by: Text = told(CLIENT, default="", description="who sees to it")
    found_on: Day | None = told(CLIENT, default=None)
    due: Day | None = told(CLIENT, default=None)
    closed_on: Day | None = told(CLIENT, default=None, description="when it was put right and looked at again")


class Space(Record):
    """A room or a part of an open room, as measured.

    `walls[i]` is the side from corner `i` of the outline to the next. Left and right of a
    wall are as seen from inside the space.
    """

    id: Id
    name: Text = told(ALL)
    use: Use = told(ALL)
    outline: tuple[Point, ...] = told(
        ALL, min_length=3, max_length=500, description="finished inside corners in order, one system for the house"
    )
    walls: tuple[Wall, ...] = told(ALL, description="one a side, in the order of the corners")
    ceiling_mm: PositiveMm | None = told(ALL, default=None, description="finished floor to ceiling")
    dropped: tuple[DroppedCeiling, ...] = told(ALL, default=())
    floor_finish: Id | None = told(ALL, default=None)
    ceiling_finish: Id | None = told(ALL, default=None)
    measured_to: Literal["finish", "framing"] = told(
        ALL, default="finish", description="what the tape was held against: finished faces, or bare framing"
    )
    lining_mm: Annotated[Mm, Field(ge=0)] = told(
        ALL, default=0.0, description="thickness taken off each framed wall to get the finished outline"
    )
    lining_basis: Basis = told(ALL, default="assumed", description="where the thickness of the lining comes from")
    basis: Basis = told(ALL, default="measured")
    note: LongText = told(default="", description="the studio's own note")
    story: LongText = told(ALL, default="", description="what the room is for, in a sentence or two")
    views: tuple[View, ...] = told(ALL, default=(), max_length=50, description="perspectives on its page")
    points: tuple[OpenPoint, ...] = told(CLIENT, default=(), max_length=1000, description="left to put right")

    @model_validator(mode="after")
    def _is_a_room(self) -> Space:
        for name, outline in (("outline", self.outline), *((f"dropped {d.id}", d.outline) for d in self.dropped)):
            try:
                check_outline(outline)
            except EnfiladeError as error:
                raise PydanticCustomError("outline", "{name}: {what}", {"name": name, "what": str(error)}) from error
        if len(self.walls) != len(self.outline):
            raise PydanticCustomError(
                "walls",
                "{walls} walls for {corners} corners; expected one wall a side",
                {"walls": len(self.walls), "corners": len(self.outline)},
            )
        return self


class Swing(Record):
    """How a hinged leaf turns. Left and right are as seen from inside the opening's first wall's space."""

    hinge: Literal["left", "right"] = told(ALL)
    into: Literal["this side", "other side"] = told(ALL, description="into the space of `wall`, or beyond it")
    angle_deg: Annotated[Number, Field(gt=0, le=180)] = told(ALL, default=90.0)
    closer_and_latch: bool | None = told(ALL, default=None)


class Glazing(Record):
    """The glass of a window, skylight or glazed door."""

    area_m2: Annotated[Number, Field(gt=0, le=1000)] | None = told(
        ALL, default=None, description="glass alone; absent: the whole opening is taken, and said so"
    )
    openable_m2: Annotated[Number, Field(ge=0, le=1000)] | None = told(ALL, default=None)
    safety_glass: bool | None = told(ALL, default=None, description="marked as safety glazing")


class Opening(Record):
    """A door, cased opening, window or skylight in a wall, and the wall beyond that it joins."""

    id: Id
    name: Text = told(ALL, default="")
    kind: Literal[
        "door", "cased opening", "sliding door", "pocket door", "window", "skylight", "pass-through"
    ] = told(ALL)  # fmt: skip
    wall: Id = told(ALL)
    beyond: Id | Fact | None = told(
        ALL, default=None, description="wall on the other side; `none` when it leads outdoors"
    )
    from_end: Literal["left", "right"] = told(ALL, default="left")
    offset_mm: Mm = told(ALL, description="from that end of the wall to the near edge of the opening")
    width_mm: PositiveMm = told(ALL, description="finished opening between jambs, or the leaf")
    clear_width_mm: PositiveMm | None = told(
        ALL, default=None, description="face of the leaf, open at a right angle, to the stop; jamb to jamb when cased"
    )
    height_mm: PositiveMm = told(ALL)
    sill_mm: Height = told(ALL, default=0.0, description="finished floor to its lower edge")
    depth_mm: PositiveMm | None = told(ALL, default=None, description="thickness of the wall at the passage")
    entry: bool = told(ALL, default=False, description="people come in from outdoors here")
    swing: Swing | Fact | None = told(ALL, default=None)
    glazing: Glazing | Fact | None = told(ALL, default=None)
    operable: bool | None = told(
        ALL, default=None, description="it can be opened (windows); how much opens is `openable_m2` of its glazing"
    )
    state: State = told(ALL, default="kept")
    basis: Basis = told(ALL, default="measured")
    note: LongText = told(default="", description="the studio's own note")
    remark: LongText = told(STUDENT, default="")
