"""What stands in a field, written as a person would type it in the units of the project."""

from __future__ import annotations

import datetime as dt
from decimal import Decimal
from typing import Any, Final

from enfilade.editing.forms.field_shape import Shape, tag_word
from enfilade.editing.forms.times import duration_words, is_pace, is_time, pace_unit, pace_words
from enfilade.lengths import System, show_length, show_size
from enfilade.project.amounts import money_words
from enfilade.project.fields import Record
from enfilade.quantities import Unit, convert

__all__ = ["bare_unit", "length_words", "number_words", "shown", "stored_unit", "unit_words"]

_ALONG: Final = frozenset({"offset_mm", "x_mm", "y_mm", "ceiling_mm", "camera_height_mm", "outline"})
"""What is measured along a room, in feet and inches; sizes of things are read in inches alone."""

_STORED: Final[dict[str, Unit]] = {"_m3h": "m3/h", "_m2": "m2", "_l": "l", "_deg": "deg"}
_READ_US: Final[dict[Unit, Unit]] = {"m3/h": "cfm", "m2": "sq ft", "l": "cu ft"}
_WRITTEN: Final[dict[str, str]] = {
    "m3/h": "m³/h", "m2": "m²", "l": "litres", "deg": "degrees", "in": "inches", "mm": "mm",
}  # fmt: skip


def stored_unit(field: str) -> Unit | None:
    """Return the unit in which a number is kept, as the name of its field ends; None when it has none."""
    return next((unit for ending, unit in _STORED.items() if field.endswith(ending)), None)


def bare_unit(field: str, shape: Shape, system: System) -> Unit | None:
    """Return the unit of a number that is typed without one."""
    if shape.kind in ("length", "point", "point list") or shape.of in ("length", "point"):
        return "in" if system == "us" else "mm"
    unit = stored_unit(field)
    return _READ_US.get(unit, unit) if unit is not None and system == "us" else unit


def unit_words(field: str, shape: Shape, system: System) -> str:
    """Return what a number that is typed without a unit is in; empty when it has none."""
    if shape.kind == "whole" and field.endswith("_days"):
        return "days"
    if shape.kind == "number" and is_pace(field):
        return pace_unit(system)
    unit = bare_unit(field, shape, system)
    return _WRITTEN.get(unit, unit) if unit else ""


def shown(value: Any, field: str, shape: Shape, system: System) -> Any:
    """Return a value as it is typed: text, a list of texts, or pairs of them; `none`; empty text when it is not known.

    A choice, and what leads to another record, stays the word or id by which it is chosen. Records are not shown
    here: of several that a word tells apart, that word is.
    """
    if value is None:
        return ""
    if shape.none and value == "none":
        return "none"
    if shape.kind == "length":
        return length_words(value, field, system)
    if shape.kind == "lengths":
        return ", ".join(length_words(one, field, system) for one in value)
    if shape.kind == "numbers":
        return ", ".join(number_words(one, field, shape, system) for one in value)
    if shape.kind == "point":
        return [length_words(one, field, system) for one in value]
    if shape.kind == "point list":
        return [[length_words(one, field, system) for one in point] for point in value]
    if shape.kind == "number":
        return number_words(value, field, shape, system)
    if shape.kind == "by field":
        return dict(value)
    if isinstance(value, Record):
        return tag_word(type(value))[1]
    return _plain(value, shape)


def _plain(value: Any, shape: Shape) -> Any:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Decimal):
        return money_words(value)
    if isinstance(value, dt.date):
        return value.isoformat()
    if isinstance(value, tuple):
        return [] if shape.kind == "records" else [str(one) for one in value]
    return str(value)


def length_words(value_mm: float, field: str, system: System) -> str:
    """Write a length of a field: feet and inches along a room, inches alone for a size; or millimetres."""
    return show_length(value_mm, system) if field in _ALONG else show_size(value_mm, system)


def number_words(value: float, field: str, shape: Shape, system: System) -> str:
    """Write a number without its unit, to two decimals, a small one to three figures; a length of time with it."""
    if is_time(field):
        return duration_words(value)
    if is_pace(field):
        return pace_words(value, system)
    unit, read = stored_unit(field), bare_unit(field, shape, system)
    number = convert(value, unit, read) if unit and read else value
    if 0 < abs(number) < 0.1:
        return f"{number:.3g}"
    text = f"{number:,.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
