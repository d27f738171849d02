"""What furnishes rooms beyond the kitchen."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from enfilade.project.fields import ALL, Id, PositiveMm, Text, told
from enfilade.project.thing import Thing

__all__ = ["Bed", "Column", "Fireplace", "Fixture", "Furniture", "Rug", "Screen", "WindowTreatment"]


class Fireplace(Thing):
    """A fireplace or stove."""

    kind: Literal["fireplace"]
    fuel: Literal["wood", "gas", "electric", "none"] | None = told(ALL, default=None)


class Screen(Thing):
    """A television or projection screen."""

    kind: Literal["screen"]
    diagonal_mm: Annotated[PositiveMm, Field(le=20_000)] | None = told(ALL, default=None)


class Rug(Thing):
    """A rug; it lies on the floor and obstructs nothing."""

    kind: Literal["rug"]


class WindowTreatment(Thing):
    """A blind, shade, curtain or drapery at an opening."""

    kind: Literal["window treatment"]
    opening: Id = told(ALL)
    flammable: bool | None = told(ALL, default=None)


class Bed(Thing):
    """A bed; its front is the foot."""

    kind: Literal["bed"]


class Fixture(Thing):
    """A bath fixture."""

    kind: Literal["fixture"]
    what: Literal["basin", "toilet", "bidet", "tub", "shower", "laundry sink"] = told(ALL)


class Furniture(Thing):
    """Any other piece that stands in a room."""

    kind: Literal["furniture"]
    what: Text = told(ALL, default="")


class Column(Thing):
    """A post, pier or chase that is part of the building."""

    kind: Literal["column"]
