"""Cells of a stranger's table, read as the fields of a schedule ask."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from typing import Any, Final

from enfilade.editing.forms.field_shape import field_shapes
from enfilade.editing.forms.values import Reading
from enfilade.editing.quoting import quoted
from enfilade.editing.tables.cells import Cells, plain_text
from enfilade.editing.tables.grids import Cell, GridRow, Unreadable
from enfilade.editing.tables.headings import Heading
from enfilade.editing.tables.schedules import Column
from enfilade.errors import BadRecord, Refused
from enfilade.project.fields import Record

__all__ = ["CellReader"]

_MOST_NAMED: Final = 6
_NUMBERS: Final = ("money", "number", "length")
_BARE: Final = re.compile(r"[-\u2212]?[\d.,'\s\u00a0\u202f/]+")
_COMMA: Final = re.compile(r"[-\u2212]?(?:\d{1,3}(?:[.'\s\u00a0\u202f]\d{3})+|\d+),\d{1,2}")
_CURRENCY: Final = re.compile(
    r"^([A-Z]{3}|[$\u20ac\u00a3\u00a5])\s*(?=[-\d])|(?<=\d)\s*([A-Z]{3}|[$\u20ac\u00a3\u00a5])$"
)
_TOLD_APART: Final = re.compile(r"\s*\([^()]*\)$|,\s*[\d'\" /.]+(?:mm)?$")
_SIGNS: Final = {
    "\u20ac": ("EUR",), "\u00a3": ("GBP",), "\u00a5": ("JPY", "CNY"),
    "$": ("USD", "CAD", "AUD", "NZD", "SGD", "HKD", "MXN"),
}  # fmt: skip


class CellReader:
    """Reads the cells of one table.

    Args:
        cells: The schedule that is read into.
        headings: What each column of the table means.
        rows: The rows, from which it is seen how numbers are written.
    """

    def __init__(self, cells: Cells, headings: Sequence[Heading], rows: Iterable[GridRow]) -> None:
        self._cells = cells
        self._reading = Reading(cells.project)
        self._commas = _with_commas(headings, rows)
        self._ids: dict[str, dict[str, set[str]]] = {}

    def value(self, heading: Heading, column: Column, record: type[Record], cell: Cell, now: Any) -> Any:
        """Return the value for a field of a record of a class; `now` is what stands there.

        Raises:
            Refused: It cannot be read, or cannot stand there.
        """
        if isinstance(cell, Unreadable):
            raise Refused(cell.what, expected=cell.expected)
        shape = column.shape(record)
        if shape is None:
            raise Refused(f"this kind has no {column.heading.lower()}", expected="an empty cell")
        text = plain_text(cell)
        if column.target and text.strip():
            return "none" if shape.none and text.strip().casefold() == "none" else self._id(column.target, text.strip())
        text = self._number(text, heading, column) if shape.kind in (*_NUMBERS, "whole") else text
        inner = record if len(column.path) == 1 else field_shapes(record)[column.path[0]].records[0]
        try:
            return self._reading.value(text, inner, column.field, column.path, now)
        except BadRecord as error:
            raise Refused(error.faults[0].what, expected=error.faults[0].expected) from error

    def _number(self, text: str, heading: Heading, column: Column) -> str:
        """Return a number as it is typed here: its unit behind it, a point before its decimals, no currency."""
        plain = text.strip()
        if column.kind == "money":
            plain = self._without_currency(plain)
        if not _BARE.fullmatch(plain):
            return plain
        if heading.text in self._commas:
            plain = re.sub(r"[.'\s\u00a0\u202f](?=\d{3})", "", plain).replace(",", ".")
        return f"{plain} {heading.unit}" if heading.unit else plain

    def _without_currency(self, text: str) -> str:
        match, own = _CURRENCY.search(text), self._cells.project.show.currency
        if match is None:
            return text
        sign = match[1] or match[2]
        if own and own not in _SIGNS.get(sign, (sign,)):
            raise Refused(f"{quoted(text)} is in {sign}", expected=f"an amount in {own}")
        return (text[: match.start()] + text[match.end() :]).strip()

    def _id(self, target: str, name: str) -> str:
        known = self._by_name(target)
        ids = known.get(_folded(name)) or known.get(_bare(name), set())
        if len(ids) == 1:
            return next(iter(ids))
        if ids:
            raise Refused(f"\u201c{name[:60]}\u201d is the name of several", expected="its room and name, as exported")
        labels = list(self._cells.labels(target).values())
        more = f" or one of {len(labels) - _MOST_NAMED} more" if len(labels) > _MOST_NAMED else ""
        few = "; ".join(labels[:_MOST_NAMED])
        raise Refused(f"there is no \u201c{name[:60]}\u201d", expected=f"{few}{more}" if few else "an empty cell")

    def _by_name(self, target: str) -> dict[str, set[str]]:
        """Return the ids of a list by what people call its records: in full first, then ever shorter."""
        if target not in self._ids:
            whole = self._cells.labels(target)
            plain = {one["value"]: one["label"] for one in self._cells.options(target)}
            found: dict[str, set[str]] = {}
            # A shorter name stands for a record only where no longer one reads so.
            for names in (
                {id: _folded(name) for id, name in whole.items()},
                {id: _folded(name) for id, name in plain.items()},
                {id: _bare(name) for id, name in whole.items()},
                {id: _bare(name) for id, name in plain.items()},
                {id: id for id in whole},
            ):
                for name, ids in _gathered(names).items():
                    found.setdefault(name, ids)
            self._ids[target] = found
        return self._ids[target]


def _gathered(names: dict[str, str]) -> dict[str, set[str]]:
    found: dict[str, set[str]] = {}
    for id, name in names.items():
        found.setdefault(name, set()).add(id)
    return found


def _folded(name: str) -> str:
    return " ".join(name.casefold().split())


def _bare(name: str) -> str:
    """Return a name without the maker or the length that tells it from its like, which may have changed since."""
    return _folded(_TOLD_APART.sub("", name))


def _with_commas(headings: Sequence[Heading], rows: Iterable[GridRow]) -> frozenset[str]:
    """Return the headings below which a decimal comma is written: there a point parts thousands."""
    found: set[str] = set()
    places = [(i, one) for i, one in enumerate(headings) if one.column is not None and one.column.kind in _NUMBERS]
    for row in rows:
        for place, heading in places:
            cell = row.cells[place] if place < len(row.cells) else None
            if isinstance(cell, str) and _COMMA.fullmatch(_CURRENCY.sub("", cell.strip()).strip()):
                found.add(heading.text)
    return frozenset(found)
