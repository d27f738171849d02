"""Figures of the record, as bound fields that a person can read."""

from __future__ import annotations

from typing import Any

from enfilade.script.figures import Bound, Figures
from enfilade.script.index import plain

__all__ = ["Binding"]


class Binding:
    """Finds for a figure the field that is shortest to read and still means the one record.

    Args:
        figures: The figures of the project.
    """

    def __init__(self, figures: Figures) -> None:
        self._figures = figures

    def field(self, attribute: str, sort: str, record: Any, form: str = "") -> str:
        """Return a field such as `{width of island}`; empty when the record holds no such figure.

        Args:
            attribute: What is said of it: `width`, `area`, `due day`.
            sort: `thing`, `room` or `decision`, set before the name where it is needed.
            record: The record.
            form: How it is written, such as `rounded`.
        """
        name = plain(str(getattr(record, "name", "") or getattr(record, "title", "")))
        tail = f", {form}" if form else ""
        for called in (name, record.id, f"{sort} {record.id}"):
            words = f"{attribute} of {called}{tail}"
            if called and not set("{},") & set(called) and self._means(words, record):
                return f"{{{words}}}"
        return ""

    def of_finding(self, attribute: str, id: str) -> str:
        """Return a field such as `{measured of K6:aisle:...}`; empty when there is no such figure."""
        words = f"{attribute} of {id}"
        bound = None if set("{},") & set(id) else self._figures.bound(words)
        return f"{{{words}}}" if isinstance(bound, Bound) and bound.value is not None else ""

    def _means(self, words: str, record: Any) -> bool:
        bound = self._figures.bound(words)
        return isinstance(bound, Bound) and bound.subject is not None and bound.subject.record is record
