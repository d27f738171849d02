"""Which published rows a lesson could make stricter."""

from __future__ import annotations

from collections.abc import Iterator

from enfilade.archive.lessons.lesson import Figure, Lesson
from enfilade.archive.lessons.reminder import Proposal
from enfilade.standards.row import Row
from enfilade.standards.yardsticks import Yardstick

__all__ = ["offers"]


def offers(lesson: Lesson, rules: Yardstick) -> tuple[Proposal, ...]:
    """Return the rows of a lesson's findings that are no house rules yet, with what was measured where it was learnt.

    Args:
        lesson: The lesson.
        rules: The rules of the house that is reminded, with its house rules.
    """
    found: dict[str, Proposal] = {}
    for figure in lesson.figures:
        for row in _rows(figure, rules):
            found.setdefault(row.name, _proposal(row, figure))
    return tuple(found.values())


def _rows(figure: Figure, rules: Yardstick) -> Iterator[Row]:
    """Yield the row by which a finding was judged, where it is known, else all rows of its rule."""
    rows = [row for row in rules.rows(figure.rule) if not row.definition and row.how != "equal"]
    published = [row for row in rows if row.source.document != "House rules"]
    same = [row for row in rows if (row.how, row.value, row.unit) == (figure.how, figure.asked, figure.unit)]
    titled = [row for row in rows if row.title == figure.title]
    for row in same or titled or rows:
        if row in published:
            yield row


def _proposal(row: Row, figure: Figure) -> Proposal:
    known = figure.measured is not None and figure.unit == row.unit
    unit = "" if row.unit == "count" else f" {row.unit}"
    measured = f"{figure.measured:.6g}{unit}" if known else ""
    return Proposal(row.name, row.title, f"{row.how} {row.printed}", measured, row.how, row.unit)
