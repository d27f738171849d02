"""Cabinets and other places to keep things."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from enfilade.project.fields import ALL, Fact, Height, PositiveMm, Whole, told
from enfilade.project.thing import KneeSpace, Thing

__all__ = ["ApplianceGarage", "BaseCabinet", "Filler", "FurniturePiece", "OpenShelf", "Panel", "Storage", "TallCabinet",
           "WallCabinet"]  # fmt: skip

Count = Annotated[Whole, Field(ge=0, le=200)]


class Storage(Thing):
    """What all storage has: shelves and drawers, and what they are for."""

    shelves: Count | None = told(ALL, default=None, description="how many, the cabinet's bottom counted as one")
    shelf_heights_mm: tuple[Height, ...] | None = told(
        ALL, default=None, description="above the floor; absent: spread evenly from the bottom", max_length=200
    )
    drawers: Count | None = told(ALL, default=None, description="drawers and roll-outs")
    drawer_heights_mm: tuple[PositiveMm, ...] | None = told(
        ALL, default=None, description="inside height of each, lowest first; absent: spread evenly", max_length=200
    )
    keeps: Literal["food", "dishes", "cooking", "cleaning", "serving", "clothes", "books", "other"] | None = told(
        ALL, default=None, description="what it is for"
    )
    corner: Literal["blind", "turntable", "swing-out", "pull-out", "diagonal"] | Fact | None = told(
        ALL, default=None, description="how a corner is used; `none`: no corner cabinet"
    )
    accessible_width_mm: PositiveMm | None = told(
        ALL, default=None, description="blind corners: the width that can be reached"
    )
    angled: bool = told(ALL, default=False, description="an end cut off at an angle, or half as deep")
    frequently_used: bool = told(ALL, default=True, description="holds what is used daily or weekly")
    misc: bool = told(ALL, default=False, description="pot rack, plate rack, tray dividers, spice shelf and the like")
    finished_ends: tuple[Literal["left", "right"], ...] | Fact | None = told(ALL, default=None)


class BaseCabinet(Storage):
    """Storage under a counter."""

    kind: Literal["base cabinet"]
    knee_space: KneeSpace | Fact | None = told(ALL, default=None)


class WallCabinet(Storage):
    """Storage hung on a wall above a counter or an appliance."""

    kind: Literal["wall cabinet"]


class TallCabinet(Storage):
    """Full-height storage: a pantry, an oven tower, a broom cupboard."""

    kind: Literal["tall cabinet"]


class OpenShelf(Storage):
    """One or more shelves without a case; also racks."""

    kind: Literal["open shelf"]


class FurniturePiece(Storage):
    """Free-standing storage: a dresser, a sideboard, a bookcase, a wardrobe."""

    kind: Literal["furniture piece"]


class ApplianceGarage(Storage):
    """A built-in cupboard that stands on the counter and hides small appliances."""

    kind: Literal["appliance garage"]


class Filler(Thing):
    """A strip between a cabinet and a wall or its neighbour."""

    kind: Literal["filler"]


class Panel(Thing):
    """A finished panel: an end, a refrigerator side, a back."""

    kind: Literal["panel"]
