"""Sinks and appliances."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from enfilade.project.fields import ALL, Fact, Height, Number, PositiveMm, Whole, told
from enfilade.project.thing import KneeSpace, Thing

__all__ = ["Cooktop", "Dishwasher", "Hood", "Microwave", "Oven", "Range", "Refrigerator", "Sink", "Waste"]

Fuel = Literal["gas", "electric", "induction"]
Hand = Literal["left", "right"]
Controls = Literal["front", "side", "back", "above"]


class Sink(Thing):
    """A sink; its width and depth are those of its outer edge, its top is the rim."""

    kind: Literal["sink"]
    role: Literal["cleanup", "preparation", "cleanup and preparation", "auxiliary"] = told(
        ALL, default="cleanup and preparation"
    )
    main: bool = told(ALL, default=False, description="the main sink, where there are several")
    bowls: Annotated[Whole, Field(ge=1, le=4)] = told(ALL, default=1)
    bowl_depth_mm: PositiveMm | None = told(ALL, default=None, description="inside")
    knee_space: KneeSpace | Fact | None = told(ALL, default=None)
    pipes_covered: bool | None = told(ALL, default=None)
    adjustable_from_mm: PositiveMm | None = told(ALL, default=None)
    adjustable_to_mm: PositiveMm | None = told(ALL, default=None)


class Cooking(Thing):
    """What cooking surfaces have; the top is the height one cooks at."""

    fuel: Fuel | None = told(ALL, default=None, description="what it heats with")
    burners: Annotated[Whole, Field(ge=1, le=20)] | None = told(ALL, default=None)
    knee_space: KneeSpace | Fact | None = told(ALL, default=None)
    underside_insulated: bool | None = told(ALL, default=None, description="against burns of a seated person's legs")
    controls: Controls | None = told(ALL, default=None, description="where its controls are")


class Cooktop(Cooking):
    """A cooking surface set in a counter."""

    kind: Literal["cooktop"]


class Range(Cooking):
    """A cooking surface with an oven under it, standing on the floor."""

    kind: Literal["range"]


class Oven(Thing):
    """A built-in oven."""

    kind: Literal["oven"]
    latch: Hand | None = told(ALL, default=None, description="side-opening ovens: where the door opens")
    controls: Controls | None = told(ALL, default=None, description="where its controls are")
    control_height_mm: Height | None = told(ALL, default=None, description="floor to the controls")


class Microwave(Thing):
    """A microwave oven."""

    kind: Literal["microwave"]
    handle: Hand | Literal["top"] | None = told(ALL, default=None, description="side of the handle; `top` for a drawer")
    control_height_mm: Height | None = told(ALL, default=None, description="floor to the controls")
    in_hood: bool = told(ALL, default=False, description="combined with a hood above a cooking surface")
    ducted: bool | None = told(ALL, default=None, description="with a hood: air goes outdoors")
    flow_m3h: Annotated[Number, Field(gt=0, le=10_000)] | None = told(ALL, default=None, description="with a hood")
    make_up_air: bool | None = told(ALL, default=None, description="with a hood")


class Refrigerator(Thing):
    """Cold storage: refrigerator, freezer, or both."""

    kind: Literal["refrigerator"]
    doors: Literal["single", "side by side", "two doors over a drawer", "drawers"] = told(ALL, default="single")
    handle: Hand | None = told(ALL, default=None, description="single doors: side of the handle")
    holds: Literal["fresh", "frozen", "both", "wine"] = told(ALL, default="both")
    volume_l: Annotated[Number, Field(gt=0, le=5000)] | None = told(ALL, default=None, description="inside")
    primary: bool = told(ALL, default=True, description="the refrigerator that the cook uses")
    freezer_bottom_mm: Height | None = told(ALL, default=None, description="floor to its lowest shelf or drawer")
    freezer_top_mm: Height | None = told(ALL, default=None, description="floor to the top of the freezer space")


class Dishwasher(Thing):
    """A dishwasher."""

    kind: Literal["dishwasher"]
    place_settings: Annotated[Whole, Field(ge=1, le=60)] | None = told(ALL, default=None)
    primary: bool = told(ALL, default=True)


class Hood(Thing):
    """A cooking hood or downdraft."""

    kind: Literal["hood"]
    ducted: bool | None = told(ALL, default=None, description="air goes outdoors")
    flow_m3h: Annotated[Number, Field(gt=0, le=10_000)] | None = told(ALL, default=None)
    runs: Literal["intermittent", "continuous"] = told(ALL, default="intermittent")
    make_up_air: bool | None = told(ALL, default=None)
    control_height_mm: Height | None = told(ALL, default=None, description="floor to the controls")


class Waste(Thing):
    """A waste or recycling receptacle; in a pull-out it has the place of its cabinet."""

    kind: Literal["waste"]
    purpose: Literal["waste", "recycling", "compost", "waste and recycling"] = told(ALL, default="waste")
    bins: Annotated[Whole, Field(ge=1, le=10)] = told(ALL, default=1)
    volume_l: Annotated[Number, Field(gt=0, le=1000)] | None = told(ALL, default=None)
