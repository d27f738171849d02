"""Headings of a stranger's table, matched to the columns of a schedule as people name them."""

from __future__ import annotations

import difflib
import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from enfilade.editing.quoting import quoted
from enfilade.editing.tables.schedules import Column, Schedule

__all__ = ["HEIGHT", "Heading", "matched"]

HEIGHT: Final = "height of a thing"
"""Key of a column that is read and never written: from the bottom of a thing to its top."""

# What people also call a column, by its key.
_ALSO: Final = {
    "name": "item, article, description, product, finish, opening, piece, designation, what",
    "maker": "manufacturer, made by, brand, supplier",
    "purchase.allowance": "allowed, budget, set aside",
    "purchase.quote": "quoted, quotation, quoted price, offer",
    "purchase.ordered_price": "ordered, ordered at, order price, order",
    "purchase.quantity": "qty, amount, number, count, pieces, no of pieces",
    "purchase.quantity_unit": "unit, units, unit of quantity",
    "purchase.lead_time_days": "lead, lead days, delivery time, delivery",
    "purchase.needed_on_site": "needed, needed by, on site, on site by, required on site",
    "material": "made of",
    "colour": "color",
    "care": "maintenance, cleaning",
    "note": "notes, comment, comments, own note",
    "remark": "remarks",
    "kind": "type, sort",
    "what": "what, sort of seat",
    "space": "room, location, where",
    "width_mm": "w",
    "depth_mm": "d",
    "top_mm": "upper edge",
    "bottom_mm": "lower edge",
    "basis": "sizes from, known from",
    "state": "status",
    "sill_mm": "sill height",
    "offset_mm": "from corner, distance from corner",
    "beyond": "leads to, other side, wall beyond",
    "clear_width_mm": "clear opening",
    "entry": "entrance, outside door",
    "glazing.area_m2": "glass area, glass, glazed area",
    "glazing.openable_m2": "openable area",
    "glazing.safety_glass": "safety glass, safety glazing",
    "operable": "opens",
    HEIGHT: "height, h, overall height",
}  # fmt: skip
_UNITS: Final = {
    "in": "in", "inch": "in", "inches": "in", '"': "in", "ft": "ft", "feet": "ft", "mm": "mm", "cm": "cm", "m": "m",
    "days": "days", "day": "days", "weeks": "weeks", "week": "weeks", "m²": "m²", "m2": "m²", "sq m": "m²",
    "sq ft": "sq ft", "square feet": "sq ft",
}  # fmt: skip
_LENGTHS: Final = ("in", "ft", "mm", "cm", "m")
_MEANS: Final = {"length": _LENGTHS, "whole": ("days", "weeks"), "number": ("m²", "sq ft")}
_IN_BRACKETS: Final = re.compile(r"^(.*?)\s*[\(\[]\s*(?:in\s+)?([^()\[\]]*?)\s*[\)\]]\s*$")
_SIGNS: Final = re.compile(r"[^\w²\"#]+")


@dataclass(frozen=True, slots=True)
class Heading:
    """One heading, and what became of it.

    Attributes:
        text: As it stands in the table.
        column: The column that it means; None when it is not understood, or not read.
        unit: Unit of bare numbers below it; empty for the project's own.
        why: Why it is not read; empty when it is.
    """

    text: str
    column: Column | None
    unit: str = ""
    why: str = ""


def matched(schedule: Schedule, texts: Sequence[str], currency: str) -> tuple[Heading, ...]:
    """Return what each heading means, in their order.

    A heading is that of a column, or another word that people have for it; capitals, spaces and signs do not matter,
    and a unit may stand behind it. The first of two that mean one column is read.

    Args:
        schedule: The table that is read into.
        texts: The headings.
        currency: Of the project; amounts in another are not read.
    """
    known = _known(schedule)
    found: list[Heading] = []
    taken: dict[str, str] = {}
    for text in texts:
        heading = _heading(text, known, currency)
        if heading.column is not None and heading.column.key in taken:
            heading = Heading(text, None, "", f"\u201c{taken[heading.column.key]}\u201d means the same column")
        elif heading.column is not None:
            taken[heading.column.key] = text
        found.append(heading)
    return tuple(found)


def _known(schedule: Schedule) -> dict[str, Column]:
    known: dict[str, Column] = {}
    columns = list(schedule.columns)
    if schedule.list == "things":
        top = schedule.column("top_mm")
        columns.append(Column(HEIGHT, top.path, "Height", "length", "from its bottom to its top", shapes=top.shapes))
    for column in columns:
        known.setdefault(_folded(column.heading), column)
    for column in columns:
        for other in _ALSO.get(column.key, "").split(","):
            if other.strip():
                known.setdefault(_folded(other), column)
    return known


def _heading(text: str, known: dict[str, Column], currency: str) -> Heading:
    if not text:
        return Heading(text, None, "", "it has no heading")
    words, unit = _parted(text, known)
    column = known.get(_folded(words))
    if column is None:
        near = difflib.get_close_matches(_folded(words), list(known), n=1, cutoff=0.75)
        meant = f"; did you mean \u201c{known[near[0]].heading}\u201d?" if near else ""
        return Heading(text, None, "", f"not understood{meant}")
    if column.kind == "derived":
        return Heading(text, None, "", "worked out, and not read")
    if not unit:
        return Heading(text, column)
    if column.kind == "money":
        if unit.casefold() == currency.casefold():
            return Heading(text, column)
        return Heading(text, None, "", f"amounts in {unit}; the project's are in {currency or 'no named currency'}")
    plain = _UNITS.get(unit.lower(), "")
    if plain in _MEANS.get(column.kind, ()):
        return Heading(text, column, plain)
    return Heading(text, None, "", f"{quoted(unit)} is no unit of this")


def _parted(text: str, known: dict[str, Column]) -> tuple[str, str]:
    """Return the words of a heading and the unit behind them, in brackets or not."""
    if _folded(text) in known:
        return text, ""
    if match := _IN_BRACKETS.match(text):
        return match[1], match[2]
    words, _, last = text.replace("_", " ").strip().rpartition(" ")
    words = words.rstrip(" ,;:/-")
    if words and (last.lower() in _UNITS or (last.isupper() and len(last) == 3)) and _folded(words) in known:
        return words, last
    return text, ""


def _folded(text: str) -> str:
    return " ".join(_SIGNS.sub(" ", text.replace("_", " ")).casefold().split())
