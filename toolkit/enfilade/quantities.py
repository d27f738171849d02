"""A value with its unit, and how to write it for reading."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final, Literal, get_args

from enfilade.errors import OutOfRange
from enfilade.lengths import FOOT_MM, INCH_MM, System, show_inches, show_length

__all__ = ["UNITS", "Quantity", "Unit", "convert", "show_quantity"]

Unit = Literal[
    "mm", "in", "m2", "mm2", "sq in", "sq ft", "l", "cu ft", "m3/h", "cfm", "count", "%", "deg", "N", "lbf", "lx",
]  # fmt: skip
UNITS: Final[tuple[str, ...]] = get_args(Unit)

# Each unit as a multiple of the base of its kind. Factors are exact by definition of the inch
# (25.4 mm), a cubic foot being (0.3048 m)^3 and a cfm 60 of them an hour; the newton from standard
# gravity 9.80665 m/s2 and the pound 0.45359237 kg.
_BASE: Final[dict[str, tuple[str, float]]] = {
    "mm": ("length", 1.0),
    "in": ("length", INCH_MM),
    "mm2": ("area", 1.0),
    "sq in": ("area", INCH_MM**2),
    "sq ft": ("area", FOOT_MM**2),
    "m2": ("area", 1e6),
    "l": ("volume", 1.0),
    "cu ft": ("volume", 28.316846592),
    "m3/h": ("flow", 1.0),
    "cfm": ("flow", 1.69901079552),
    "count": ("count", 1.0),
    "%": ("share", 1.0),
    "deg": ("angle", 1.0),
    "N": ("force", 1.0),
    "lbf": ("force", 0.45359237 * 9.80665),
    "lx": ("illuminance", 1.0),
}
_READING: Final[dict[System, dict[str, Unit]]] = {
    "us": {"length": "in", "area": "sq ft", "volume": "cu ft", "flow": "cfm", "force": "lbf"},
    "metric": {"length": "mm", "area": "m2", "volume": "l", "flow": "m3/h", "force": "N"},
}
_SMALL_AREA: Final[dict[System, float]] = {"us": 1.0, "metric": 0.01}
_WRITTEN: Final[dict[str, str]] = {"m2": "m\u00b2", "mm2": "mm\u00b2", "m3/h": "m\u00b3/h", "deg": "\u00b0"}


@dataclass(frozen=True, slots=True)
class Quantity:
    """A finite number with its unit.

    Raises:
        OutOfRange: The number is not finite or the unit is unknown.
    """

    value: float
    unit: Unit

    def __post_init__(self) -> None:
        if self.unit not in UNITS:
            raise OutOfRange(f"unit {self.unit!r} is unknown", expected=", ".join(UNITS))
        if not math.isfinite(self.value):
            raise OutOfRange(f"value {self.value!r} {self.unit} is not finite", expected="a finite number")

    def to(self, unit: Unit) -> Quantity:
        """Return the same quantity in another unit of its kind."""
        return Quantity(convert(self.value, self.unit, unit), unit)


def convert(value: float, unit: Unit, to: Unit) -> float:
    """Convert a number between two units of one kind.

    Noise below one part in 10^9 is rounded away, so that 1066.8 mm is 42 in exactly.

    Raises:
        OutOfRange: The units measure different things, or one is unknown.

    >>> convert(1066.8, "mm", "in")
    42.0
    """
    if unit not in _BASE or to not in _BASE:
        raise OutOfRange(f"{unit!r} to {to!r} cannot be converted", expected=", ".join(UNITS))
    if unit == to:
        return value
    (kind, factor), (other, other_factor) = _BASE[unit], _BASE[to]
    if kind != other:
        raise OutOfRange(f"{unit} is a {kind}, {to} a {other}", expected="units of one kind")
    return float(f"{value * factor / other_factor:.9g}")


def show_quantity(quantity: Quantity, system: System) -> str:
    """Write a quantity for a reader of one unit system.

    A length held in inches reads in inches alone, as the guidelines print it; one held in
    millimetres reads in feet and inches.

    >>> show_quantity(Quantity(1066.8, "mm"), "us")
    '3\\' 6"'
    >>> show_quantity(Quantity(42, "in"), "us")
    '42"'
    >>> show_quantity(Quantity(2, "count"), "us")
    '2'
    """
    kind = _BASE[quantity.unit][0]
    if kind == "length":
        value_mm = convert(quantity.value, quantity.unit, "mm")
        return show_inches(value_mm) if system == "us" and quantity.unit == "in" else show_length(value_mm, system)
    unit = _READING[system].get(kind, quantity.unit)
    value = convert(quantity.value, quantity.unit, unit)
    if kind == "area" and 0 < abs(value) < _SMALL_AREA[system]:
        # A sliver that a rule forbids must not read as nothing.
        unit = "sq in" if system == "us" else "mm2"
        value = convert(quantity.value, quantity.unit, unit)
    digits = 2 if unit == "m2" else 1
    number = f"{value:,.{digits}f}".rstrip("0").rstrip(".")
    number = "0" if number == "-0" else number
    if unit == "count":
        return number
    if unit in ("%", "deg"):
        return f"{number}{_WRITTEN.get(unit, unit)}"
    return f"{number} {_WRITTEN.get(unit, unit)}"
