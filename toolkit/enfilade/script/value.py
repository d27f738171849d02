"""A figure of the record with what it measures, before it is written or said."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from decimal import Decimal
from typing import Final, Literal

from enfilade.quantities import Quantity, Unit, convert

__all__ = ["KIND_WORDS", "Kind", "Value", "value_of"]

Kind = Literal["length", "area", "volume", "flow", "count", "share", "angle", "force", "light", "money", "day", "words"]

_BASE: Final[dict[Unit, tuple[Kind, Unit]]] = {
    "mm": ("length", "mm"), "in": ("length", "mm"), "m2": ("area", "m2"), "mm2": ("area", "m2"),
    "sq in": ("area", "m2"), "sq ft": ("area", "m2"), "l": ("volume", "l"), "cu ft": ("volume", "l"),
    "m3/h": ("flow", "m3/h"), "cfm": ("flow", "m3/h"), "count": ("count", "count"), "%": ("share", "%"),
    "deg": ("angle", "deg"), "N": ("force", "N"), "lbf": ("force", "N"), "lx": ("light", "lx"),
}  # fmt: skip
KIND_WORDS: Final[dict[Kind, str]] = {
    "length": "a length", "area": "an area", "volume": "a volume", "flow": "a flow of air", "count": "a count",
    "share": "a share", "angle": "an angle", "force": "a force", "light": "an amount of light",
    "money": "an amount of money", "day": "a day", "words": "a name",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Value:
    """One figure, or one name.

    Attributes:
        kind: What it measures.
        amount: In millimetres, square metres, litres, cubic metres an hour, per cent, degrees, newtons, lux, or
            a plain count; money as it is recorded; a day; or words.
        one: What is counted, when it is one: `stool`.
        several: The same, when they are several: `stools`.
        currency: Of money.
    """

    kind: Kind
    amount: float | Decimal | dt.date | str
    one: str = ""
    several: str = ""
    currency: str = ""


def value_of(quantity: Quantity) -> Value:
    """Return a measured quantity as a value in the unit of its kind."""
    kind, unit = _BASE[quantity.unit]
    return Value(kind, convert(quantity.value, quantity.unit, unit))
