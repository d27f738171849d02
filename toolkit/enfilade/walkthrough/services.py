"""What is done to products and finishes again and again: first and next days, in one place for tables and calendars."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from enfilade.checks.where_bought import Kind, where_bought
from enfilade.errors import OutOfRange
from enfilade.project.choices import Finish, Product, Service
from enfilade.project.project import Project
from enfilade.trade.intervals import months_after, next_on

__all__ = ["ServiceDue", "every_words", "services_of"]

NOT_KNOWN: Final = "not known: no first day is recorded"


@dataclass(frozen=True)
class ServiceDue:
    """One service of one product or finish.

    Attributes:
        id: `products/hood/filters`: unique in the project, and the same for as long as the records keep their ids.
        what, by: What is done, and who does it; `by` may be empty.
        of: The product or finish, by name.
        care: How that is cared for.
        rooms: Names of the rooms where it is.
        every_months: From one time to the next.
        counted_from: The day that the months are counted from; None when none is recorded.
        first: The first day that it is due; None when not known.
    """

    id: str
    what: str
    of: str
    by: str
    care: str
    rooms: tuple[str, ...]
    every_months: int
    counted_from: dt.date | None
    first: dt.date | None

    def next(self, day: dt.date | None) -> dt.date | None:
        """Return the first day that it is due on or after a day, or the first of all; None when not known."""
        if self.first is None or self.counted_from is None or day is None or day <= self.first:
            return self.first
        try:
            return next_on(self.counted_from, self.every_months, day)
        except OutOfRange:
            return None


def services_of(project: Project) -> tuple[ServiceDue, ...]:
    """Return the services of all that is in the house, in the order of the record."""
    return tuple(_services(project))


def every_words(months: int) -> str:
    """Say how often something comes back: `every month`, `every 3 months`, `every 2 years`.

    >>> every_words(1), every_words(18), every_words(24)
    ('every month', 'every 18 months', 'every 2 years')
    """
    if months % 12 == 0:
        return "every year" if months == 12 else f"every {months // 12} years"
    return "every month" if months == 1 else f"every {months} months"


def _services(project: Project) -> Iterator[ServiceDue]:
    rooms, _ = where_bought(project)
    names = {space.id: space.name for space in project.spaces}
    lists: tuple[tuple[Kind, tuple[Product | Finish, ...]], ...] = (
        ("products", project.products), ("finishes", project.finishes),
    )  # fmt: skip
    for kind, records in lists:
        for record in records:
            if record.id in rooms[kind]:
                where = tuple(names[id] for id in rooms[kind][record.id])
                for service in record.services:
                    yield _due(kind, record, service, where)


def _due(kind: Kind, record: Product | Finish, service: Service, rooms: tuple[str, ...]) -> ServiceDue:
    counted_from = service.first_on or record.purchase.needed_on_site
    first = service.first_on
    if first is None and counted_from is not None:
        try:
            first = months_after(counted_from, service.every_months)
        except OutOfRange:
            counted_from = None
    return ServiceDue(
        f"{kind}/{record.id}/{service.id}", service.what, record.name, service.by, record.care, rooms,
        service.every_months, counted_from, first,
    )  # fmt: skip
