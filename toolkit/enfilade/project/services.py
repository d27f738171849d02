"""Power, light and what protects from fire."""

from __future__ import annotations

from typing import Literal

from enfilade.project.fields import ALL, Id, told
from enfilade.project.thing import Thing

__all__ = ["Extinguisher", "Light", "Receptacle", "Switch"]


class Receptacle(Thing):
    """An electrical outlet."""

    kind: Literal["receptacle"]
    ground_fault_protected: bool | None = told(ALL, default=None)
    serves: Literal["counter", "island", "wall", "appliance"] = told(ALL, default="counter")
    one_hand: bool | None = told(ALL, default=None, description="used with one hand and a small force")


class Switch(Thing):
    """A wall switch."""

    kind: Literal["switch"]
    controls: tuple[Id, ...] = told(ALL, default=(), description="lights that it switches", max_length=200)


class Light(Thing):
    """A luminaire; strips under cabinets have their real width and depth."""

    kind: Literal["light"]
    purpose: Literal["task", "general", "accent"] = told(ALL, default="general")


class Extinguisher(Thing):
    """A fire extinguisher."""

    kind: Literal["extinguisher"]
