"""What every thing in a room has: a place, a size, a height range, and what opens on it."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, model_validator
from pydantic_core import PydanticCustomError

from enfilade.project.fields import (
    ALL,
    CLIENT,
    STUDENT,
    Basis,
    Fact,
    Height,
    Id,
    LongText,
    Mm,
    Number,
    PositiveMm,
    Record,
    State,
    Text,
    told,
)
from enfilade.project.placing import Place

__all__ = ["KneeSpace", "Leaf", "Side", "Thing"]

Side = Literal["front", "back", "left", "right"]


class Leaf(Record):
    """A door, flap or drawer of a thing, with the shape it takes when open.

    Left and right are as seen by a person who faces the side it is on.
    """

    kind: Literal["hinged", "drop-down", "drawer", "pull-out", "lift-up", "sliding", "folding"] = told(ALL)
    side: Side = told(ALL, default="front")
    hinge: Literal["left", "right"] | None = told(ALL, default=None, description="hinged leaves only")
    from_left_mm: Mm = told(ALL, default=0.0, description="from the left end of that side to the leaf")
    width_mm: PositiveMm | None = told(ALL, default=None, description="absent: the whole side")
    bottom_mm: Height | None = told(ALL, default=None, description="absent: the bottom of the thing")
    top_mm: Height | None = told(ALL, default=None, description="absent: the top of the thing")
    reach_mm: PositiveMm | None = told(
        ALL,
        default=None,
        description="how far it comes out; absent: the leaf's own width (hinged), height (drop-down) "
        "or the thing's depth (drawer, pull-out)",
    )
    angle_deg: Annotated[Number, Field(gt=0, le=270)] = told(ALL, default=90.0, description="how far a hinge turns")

    @model_validator(mode="after")
    def _can_exist(self) -> Leaf:
        if self.bottom_mm is not None and self.top_mm is not None and self.top_mm < self.bottom_mm:
            raise PydanticCustomError(
                "heights",
                "top_mm is {top} mm, below bottom_mm at {bottom} mm; expected a top above the bottom",
                {"top": f"{self.top_mm:g}", "bottom": f"{self.bottom_mm:g}"},
            )
        return self


class KneeSpace(Record):
    """Open space for the knees of a person who sits at a work surface."""

    width_mm: PositiveMm = told(ALL)
    height_mm: PositiveMm = told(ALL, description="floor to the underside at its front")
    depth_mm: PositiveMm = told(ALL, description="at the top")
    toe_depth_mm: PositiveMm | None = told(ALL, default=None)
    toe_height_mm: PositiveMm | None = told(ALL, default=None)


class Thing(Record):
    """Anything that stands, hangs or is set in a room.

    Width runs left to right as seen by a person who faces its front, depth from front to
    back. Heights are above the finished floor.
    """

    id: Id
    kind: str
    name: Text = told(ALL, default="", description="as people call it; absent: its kind")
    space: Id = told(ALL, description="the space it stands in")
    place: Place = told(ALL, description="where it stands: free, against a wall, or set in another thing")
    width_mm: PositiveMm = told(ALL, description="left to right, as seen facing its front")
    depth_mm: PositiveMm = told(ALL, description="front to back")
    bottom_mm: Height = told(ALL, default=0.0, description="lower edge above the finished floor")
    top_mm: Height = told(ALL, description="upper edge above the finished floor; of a counter, the working height")
    opens: tuple[Leaf, ...] | Fact | None = told(
        ALL, default=None, description="doors, flaps and drawers; `none` when nothing opens", max_length=200
    )
    underside: Literal["noncombustible", "combustible"] | None = told(
        ALL, default=None, description="what faces a cooking surface below: protected noncombustible, or not"
    )
    state: State = told(ALL, default="new", description="what is removed is not judged")
    basis: Basis = told(ALL, default="measured", description="where its sizes come from")
    bases: dict[str, Basis] = told(
        ALL, default={}, description="single fields that are known otherwise than the rest", max_length=100
    )
    product: Id | None = told(CLIENT, default=None, description="what it is bought as")
    finish: Id | None = told(ALL, default=None, description="what its visible faces are made of")
    note: LongText = told(default="", description="the studio's own note")
    remark: LongText = told(STUDENT, default="", description="a sentence for whoever reads the page")

    @model_validator(mode="after")
    def _can_exist(self) -> Thing:
        if self.top_mm < self.bottom_mm:
            raise PydanticCustomError(
                "heights",
                "top_mm is {top} mm, below bottom_mm at {bottom} mm; expected a top above the bottom",
                {"top": f"{self.top_mm:g}", "bottom": f"{self.bottom_mm:g}"},
            )
        for name in self.bases:
            if name not in type(self).model_fields:
                raise PydanticCustomError(
                    "bases", "bases names {name}; expected a field of a {kind}", {"name": repr(name), "kind": self.kind}
                )
        return self

    @property
    def leaves(self) -> tuple[Leaf, ...]:
        """Return what opens on it, empty when nothing does or it is unknown."""
        return self.opens if isinstance(self.opens, tuple) else ()

    @property
    def called(self) -> str:
        """Return the name that people read: its own, or its kind."""
        return self.name or self.kind

    def assumed(self, *fields: str) -> tuple[str, ...]:
        """Return which of `fields` rest on an assumption, as `id.field`."""
        return tuple(f"{self.id}.{name}" for name in fields if self.bases.get(name, self.basis) == "assumed")
