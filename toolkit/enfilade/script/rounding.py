"""A figure rounded as people read it at home: the same numbers for the eye and for the ear.

Lengths in feet and inches: from 4 ft on in feet and whole inches; below in inches to the half inch, under 1 ft to the
quarter, under 3 in to the eighth. In metric: from 2 m on metres with one decimal, from 1 m with two; below whole
centimetres, under 10 cm whole millimetres. Areas in whole square feet (one decimal under 10), or square metres with one
decimal. `exact` keeps what a working drawing has; `rounded` says it freely. Halves are rounded up. Own choice: no
standard says how finely a size is told aloud.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from typing import Final

from enfilade.lengths import INCH_MM, System
from enfilade.quantities import Unit, convert
from enfilade.script.forms import Forms
from enfilade.script.value import Value

__all__ = ["Part", "parts_of"]

Number = Decimal | Fraction


@dataclass(frozen=True, slots=True)
class Part:
    """One number with its unit; 8 ft 10 in are two."""

    number: Number
    unit: str

    @property
    def decimal(self) -> Decimal:
        """Return the number as a decimal one."""
        return (
            self.number
            if isinstance(self.number, Decimal)
            else Decimal(self.number.numerator) / self.number.denominator
        )


def parts_of(value: Value, forms: Forms, system: System) -> tuple[Part, ...]:
    """Return a measured figure in the unit that is asked for, or that the project shows, rounded for reading."""
    if value.kind == "length":
        return _length(float(value.amount), forms, system)  # type: ignore[arg-type]
    if value.kind == "money":
        return (_money(Decimal(value.amount), forms),)  # type: ignore[arg-type]
    number = float(value.amount)  # type: ignore[arg-type]
    return (_measured(value, number, forms, system),)


def _measured(value: Value, number: float, forms: Forms, system: System) -> Part:
    us = system == "us"
    if value.kind == "area":
        metric = "in square metres" in forms or (not us and "in square feet" not in forms)
        return _area(number, forms, metric=metric)
    if value.kind == "volume":
        feet = "in cubic feet" in forms or (us and "in litres" not in forms)
        return _plain(convert(number, "l", "cu ft"), "cu ft", 1) if feet else _plain(number, "l", 0)
    if value.kind == "flow":
        part = _plain(convert(number, "m3/h", "cfm"), "cfm", 0) if us else _plain(number, "m3/h", 0)
        return Part(_coarse(part.number), part.unit) if "rounded" in forms else part
    if value.kind == "force" and us:
        return _plain(convert(number, "N", "lbf"), "lbf", 1)
    units: dict[str, tuple[Unit, int]] = {
        "share": ("%", 1), "angle": ("deg", 0), "light": ("lx", 0), "force": ("N", 0), "count": ("count", 1),
    }  # fmt: skip
    unit, places = units[value.kind]
    if "rounded" in forms:
        return Part(_coarse(Decimal(repr(number))) if value.kind == "count" else _to(number, 0), unit)
    return _plain(number, unit, 2 if "exact" in forms else places)


def _plain(number: float, unit: str, places: int) -> Part:
    return Part(_to(number, places), unit)


def _to(number: float, places: int) -> Decimal:
    # What lies within a part in a thousand million of a half is one: the noise of a conversion.
    exact = Decimal(f"{number:.10g}")
    return exact.quantize(Decimal(1).scaleb(-places), ROUND_HALF_UP).normalize() + Decimal(0)


def _nearest(number: float, step: Fraction) -> Fraction:
    return math.floor(number / float(step) + 0.5 + 1e-9) * step


def _coarse(number: Number) -> Decimal:
    """Keep two figures of a number of three or more."""
    exact = Decimal(number) if isinstance(number, Decimal) else Decimal(number.numerator) / number.denominator
    places = max(0, len(str(int(abs(exact)))) - 2)
    return (exact.scaleb(-places).quantize(Decimal(1), ROUND_HALF_UP)).scaleb(places)


def _money(amount: Decimal, forms: Forms) -> Part:
    if "rounded" in forms:
        amount = _coarse(amount)
    elif "exact" not in forms and amount >= 1000:
        amount = amount.quantize(Decimal(1), ROUND_HALF_UP)  # nobody says the cents of thousands
    return Part(amount, "money")


def _area(m2: float, forms: Forms, *, metric: bool) -> Part:
    if "exact" in forms:
        return _plain(m2, "m2", 2) if metric else _plain(convert(m2, "m2", "sq ft"), "sq ft", 1)
    number = m2 if metric else convert(m2, "m2", "sq ft")
    if "rounded" in forms:
        steps: Sequence[tuple[float, Fraction]] = (
            ((10, Fraction(1)), (2, Fraction(1, 2))) if metric else ((100, Fraction(10)), (20, Fraction(5)))
        )
        step = next((step for low, step in steps if number >= low), Fraction(1, 10) if metric else Fraction(1))
        return _plain(float(_nearest(number, step)), "m2" if metric else "sq ft", 1)
    return _plain(number, "m2", 1 if m2 >= 0.1 else 2) if metric else _plain(number, "sq ft", 0 if number >= 10 else 1)


_METRIC: Final = {"in metres": "m", "in centimetres": "cm", "in millimetres": "mm"}
_PER_MM: Final = {"m": 1000.0, "cm": 10.0, "mm": 1.0}


def _length(mm: float, forms: Forms, system: System) -> tuple[Part, ...]:
    asked = next((unit for form, unit in _METRIC.items() if form in forms), "")
    imperial = bool(forms & {"in feet and inches", "in feet", "in inches"})
    if asked or (system == "metric" and not imperial):
        return (_metric(mm, asked, forms),)
    inch = mm / INCH_MM
    if "in feet" in forms:
        step = Fraction(1) if "rounded" in forms else Fraction(1, 2)
        return (_plain(inch / 12, "ft", 2) if "exact" in forms else Part(_nearest(inch / 12, step), "ft"),)
    if "in inches" in forms or (inch < 48 - 1 / 4 and "in feet and inches" not in forms):
        return (Part(_nearest(inch, _inch_step(inch, forms)), "in"),)
    step = Fraction(1, 16) if "exact" in forms else Fraction(12) if "rounded" in forms else Fraction(1)
    feet, rest = divmod(_nearest(inch, step), 12)
    parts = (Part(Fraction(feet), "ft"), Part(rest, "in"))
    return tuple(part for part in parts if part.number) or (Part(Fraction(0), "in"),)


def _inch_step(inch: float, forms: Forms) -> Fraction:
    if "exact" in forms:
        return Fraction(1, 16)
    if "rounded" in forms and inch >= 3:
        return Fraction(1)
    return Fraction(1, 8) if inch < 3 else Fraction(1, 4) if inch < 12 else Fraction(1, 2)


def _metric(mm: float, asked: str, forms: Forms) -> Part:
    if "exact" in forms:
        unit = asked or "mm"
        return _plain(mm / _PER_MM[unit], unit, {"m": 3, "cm": 1, "mm": 0}[unit])
    unit = asked or ("m" if mm >= 995 else "cm" if mm >= 99.5 else "mm")
    if "rounded" in forms:
        steps = {"m": Fraction(1, 10), "cm": Fraction(5), "mm": Fraction(5)}
        step = steps[unit] if mm >= 100 else Fraction(1) if unit != "m" else Fraction(1, 100)
        return _plain(float(_nearest(mm / _PER_MM[unit], step)), unit, 2)
    return _plain(mm / _PER_MM[unit], unit, (1 if mm >= 1995 else 2) if unit == "m" else 0)
