"""All kinds of things, told apart by `kind`."""

from __future__ import annotations

from typing import Annotated, Final, get_args

from pydantic import Field

from enfilade.project.appliances import (
    Cooktop,
    Dishwasher,
    Hood,
    Microwave,
    Oven,
    Range,
    Refrigerator,
    Sink,
    Waste,
)
from enfilade.project.furnishings import Bed, Column, Fireplace, Fixture, Furniture, Rug, Screen, WindowTreatment
from enfilade.project.services import Extinguisher, Light, Receptacle, Switch
from enfilade.project.storage import (
    ApplianceGarage,
    BaseCabinet,
    Filler,
    FurniturePiece,
    OpenShelf,
    Panel,
    TallCabinet,
    WallCabinet,
)
from enfilade.project.surfaces import Counter, Desk, Island, Peninsula, Seat, Table
from enfilade.project.thing import Thing

__all__ = ["KINDS", "AnyThing", "Thing"]

_Union = (
    BaseCabinet | WallCabinet | TallCabinet | OpenShelf | FurniturePiece | ApplianceGarage | Filler | Panel
    | Counter | Island | Peninsula | Table | Desk | Seat
    | Sink | Cooktop | Range | Oven | Microwave | Refrigerator | Dishwasher | Hood | Waste
    | Receptacle | Switch | Light | Extinguisher
    | Fireplace | Screen | Rug | WindowTreatment | Bed | Fixture | Furniture | Column
)  # fmt: skip

AnyThing = Annotated[_Union, Field(discriminator="kind")]

KINDS: Final[dict[str, type[Thing]]] = {
    get_args(model.model_fields["kind"].annotation)[0]: model for model in get_args(_Union)
}
"""Every kind and its record."""
