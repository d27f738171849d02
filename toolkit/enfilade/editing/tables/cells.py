"""Cells of schedules: as people read them, as they are typed, and as values for a file."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from decimal import Decimal
from typing import Final

from enfilade.editing.forms.called import kind_words
from enfilade.editing.forms.offers import Offers, Option
from enfilade.editing.forms.shown import bare_unit, shown, stored_unit, unit_words
from enfilade.editing.tables.grids import LONGEST_CELL, Cell, Unreadable
from enfilade.editing.tables.schedules import Column, Schedule
from enfilade.lengths import to_inches
from enfilade.project.fields import Record
from enfilade.project.project import Project
from enfilade.quantities import convert

__all__ = ["CUT", "Cells", "plain_text"]

CUT: Final = " ... (the rest stands in the project)"
"""What a text ends with that is too long for a cell of a file."""

_SHORT_UNITS: Final = {"inches": "in"}
_DECIMALS: Final = 4


class Cells:
    """The cells of one schedule of one project.

    Args:
        project: The house.
        schedule: The table.
    """

    def __init__(self, project: Project, schedule: Schedule) -> None:
        self.project = project
        self.schedule = schedule
        self.system = project.show.units
        self._offers = Offers(project)
        self._labels: dict[str, dict[str, str]] = {}

    def heading(self, column: Column) -> str:
        """Return what a column is called in a file: its heading, and the unit that its numbers are in."""
        unit = self.unit(column)
        return f"{column.heading} ({unit})" if unit else column.heading

    def unit(self, column: Column) -> str:
        """Return the unit of a column's numbers in a file; empty when they have none."""
        if column.kind == "money":
            return self.project.show.currency
        shape = next(iter(column.shapes.values()), None)
        words = unit_words(column.field, shape, self.system) if shape is not None else ""
        return _SHORT_UNITS.get(words, words)

    def options(self, target: str) -> list[Option]:
        """Return what cells that lead to a list are chosen among."""
        return self._offers.all(target)

    def labels(self, target: str) -> Mapping[str, str]:
        """Return what people call the records of a list, by id; walls, openings and things with their room."""
        if target not in self._labels:
            self._labels[target] = {
                one["value"]: f"{one['group']}: {one['label']}" if one.get("group") else one["label"]
                for one in self.options(target)
            }
        return self._labels[target]

    def typed(self, column: Column, record: Record) -> str:
        """Return a cell as it is typed: in the project's units; a choice by its word, another record by its id."""
        value = column.value(record)
        if column.kind in ("tag", "id", "derived"):
            return self.words(column, record)
        shape = column.shape(type(record))
        if shape is None:
            return ""
        if shape.none and value == "none":
            return "none"
        return str(shown(value, column.field, shape, self.system))

    def words(self, column: Column, record: Record) -> str:
        """Return a cell as people read it."""
        value = column.value(record)
        if column.kind == "tag":
            return kind_words(type(record))
        if column.kind in ("id", "derived"):
            return "" if value is None else str(value)
        if column.target and value not in (None, "none"):
            return self.labels(column.target).get(value, "")
        return self.typed(column, record)

    def filed(self, column: Column, record: Record) -> Cell:
        """Return a cell as the value that a file holds: numbers in the unit of the heading, days, or text."""
        value = column.value(record)
        if value is None or value == "" or isinstance(value, Record):
            return None
        shape = column.shape(type(record))
        if shape is not None and value != "none":
            if shape.kind in ("length", "number"):
                return self._number(float(value), column, shape.kind == "length")
            if shape.kind in ("whole", "money"):
                return Decimal(str(value))
        if isinstance(value, dt.date):
            return value
        text = self.words(column, record)
        return text if len(text) <= LONGEST_CELL else text[: LONGEST_CELL - len(CUT)] + CUT

    def _number(self, value: float, column: Column, is_length: bool) -> Decimal:
        if is_length:
            value = to_inches(value) if self.system == "us" else value
        else:
            kept = stored_unit(column.field)
            read = bare_unit(column.field, next(iter(column.shapes.values())), self.system)
            value = convert(value, kept, read) if kept and read else value
        number = Decimal(repr(round(value, _DECIMALS)))
        return number.quantize(Decimal(1)) if number == number.to_integral() else number

    def closed(self, column: Column, record: Record) -> bool:
        """Tell whether a cell belongs to something that is known not to be there, such as the glass of a solid door."""
        return len(column.path) > 1 and getattr(record, column.path[0]) == "none"

    def title(self, record: Record) -> str:
        """Return what people call the record of a row."""
        name = str(getattr(record, "name", "")).strip()
        return name or str(getattr(record, "kind", self.schedule.one))


def plain_text(cell: Cell) -> str:
    """Return a cell as text by which two are compared: no formats, one kind of line ends.

    >>> plain_text(Decimal("36.50")), plain_text(True), plain_text(None)
    ('36.5', 'yes', '')
    """
    if cell is None or isinstance(cell, Unreadable):
        return ""
    if isinstance(cell, bool):
        return "yes" if cell else "no"
    if isinstance(cell, Decimal):
        text = f"{cell:f}"
        return text.rstrip("0").rstrip(".") if "." in text else text
    if isinstance(cell, dt.date):
        return cell.isoformat()
    # `_x000D_` is a carriage return as some spreadsheets keep it.
    return cell.replace("_x000D_\n", "\n").replace("\r\n", "\n").replace("\r", "\n")
