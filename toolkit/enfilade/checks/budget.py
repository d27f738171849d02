"""The budget by room: allowances, quotes, orders, what is to be expected, and the days to order by.

A product or finish is counted once, with the price of its whole quantity. What stands in several rooms is
told under "Several rooms": nothing in the record says how its price is shared, and no share is guessed.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Final, Literal

from enfilade.checks.where_bought import Kind, LeftOut, where_bought
from enfilade.project.amounts import money_words
from enfilade.project.choices import Finish, Product
from enfilade.project.project import Project

__all__ = ["NO_ROOM", "SEVERAL", "Basis", "Bought", "Budget", "DecisionCost", "Line", "OrderDay", "budget",
           "over_words"]  # fmt: skip

SEVERAL: Final = "Several rooms"
NO_ROOM: Final = "No room yet"

Basis = Literal["ordered", "quoted", "allowance", "unknown"]


@dataclass(frozen=True, slots=True)
class Bought:
    """One product or finish, with the prices of its whole quantity in the currency of the project.

    Attributes:
        list: `products` or `finishes`.
        rooms: Ids of the spaces that it is for, in the order of the project.
        expected: What it is expected to cost: as ordered, else as quoted, else its allowance, else unknown.
        basis: Which of these that is.
        over: Expected less allowance, negative when under; None without an allowance.
    """

    list: Kind
    id: str
    name: str
    rooms: tuple[str, ...]
    allowance: Decimal | None
    quoted: Decimal | None
    ordered: Decimal | None
    expected: Decimal | None
    basis: Basis
    needed_on_site: dt.date | None
    lead_time_days: int | None
    order_by: dt.date | None

    @property
    def over(self) -> Decimal | None:
        return None if self.allowance is None or self.expected is None else self.expected - self.allowance


@dataclass(frozen=True, slots=True)
class Line:
    """One line of the budget: a room, several rooms, no room yet, or the whole house.

    Attributes:
        room: Id of the space; empty for a line that is no room.
        allowance, quoted, ordered, expected: Sums of what is recorded.
        against: Expected, of those items alone that have an allowance.
        over: `against` less `allowance`, negative when under; None when no item has an allowance.
        unpriced: How many items have neither price nor allowance; the sums leave them out.
    """

    room: str
    name: str
    items: tuple[Bought, ...]
    allowance: Decimal
    quoted: Decimal
    ordered: Decimal
    expected: Decimal
    against: Decimal
    over: Decimal | None
    unpriced: int


@dataclass(frozen=True, slots=True)
class OrderDay:
    """The last day to order something that is not ordered yet.

    Attributes:
        late_days: How many days ago that was; None when it is today or to come, or no day was given.
    """

    item: Bought
    by: dt.date
    late_days: int | None


@dataclass(frozen=True, slots=True)
class DecisionCost:
    """A cost that a decision's chosen option bears. It may be the same money as a product's and is never added."""

    decision: str
    number: int
    title: str
    cost: Decimal


@dataclass(frozen=True, slots=True)
class Budget:
    """What the house costs, as far as it is recorded.

    Attributes:
        currency: Of all amounts.
        lines: A room a line, in the order of the project; then what is for several rooms, and for none yet.
        total: All lines together; its `over` compares all allowances.
        unpriced: Items with neither price nor allowance.
        to_order: Days to order by, earliest first, so that those that have passed stand first.
        undated: Items that are not ordered and lack a lead time or the day they are needed.
        left_out: Items that are not counted, each with the reason.
        decided: Costs of chosen options, told beside the budget.
    """

    currency: str
    lines: tuple[Line, ...]
    total: Line
    unpriced: tuple[Bought, ...]
    to_order: tuple[OrderDay, ...]
    undated: tuple[Bought, ...]
    left_out: tuple[LeftOut, ...]
    decided: tuple[DecisionCost, ...]


def budget(project: Project, today: dt.date | None = None) -> Budget:
    """Return the budget of a house.

    Args:
        project: The house.
        today: Day that late orders are told against; None: nothing is told as late.
    """
    rooms, left_out = where_bought(project)
    records: dict[Kind, dict[str, Product | Finish]] = {
        "products": {one.id: one for one in project.products},
        "finishes": {one.id: one for one in project.finishes},
    }
    items = [_bought(kind, records[kind][id], where) for kind, found in rooms.items() for id, where in found.items()]
    open_items = [item for item in items if item.basis != "ordered"]
    days = sorted((item.order_by, place, item) for place, item in enumerate(open_items) if item.order_by is not None)
    return Budget(
        currency=project.show.currency,
        lines=tuple(_lines(project, items)),
        total=_line("", "Whole house", items),
        unpriced=tuple(item for item in items if item.basis == "unknown"),
        to_order=tuple(OrderDay(item, by, _late(by, today)) for by, _, item in days),
        undated=tuple(item for item in open_items if item.order_by is None and item.basis != "unknown"),
        left_out=left_out,
        decided=tuple(
            DecisionCost(one.id, one.number, one.title, one.chosen.cost)
            for one in sorted(project.decisions, key=lambda one: one.number)
            if one.chosen is not None and one.chosen.cost
        ),
    )


def _bought(kind: Kind, record: Product | Finish, rooms: tuple[str, ...]) -> Bought:
    bought = record.purchase
    ways: tuple[tuple[Basis, Decimal | None], ...] = (
        ("ordered", bought.ordered_price), ("quoted", bought.quote), ("allowance", bought.allowance),
    )  # fmt: skip
    basis: Basis = next((name for name, amount in ways if amount is not None), "unknown")
    return Bought(
        kind, record.id, record.name, rooms, bought.allowance, bought.quote, bought.ordered_price, bought.expected,
        basis, bought.needed_on_site, bought.lead_time_days, bought.order_by,
    )  # fmt: skip


def _lines(project: Project, items: Sequence[Bought]) -> Iterable[Line]:
    for space in project.spaces:
        if here := [item for item in items if item.rooms == (space.id,)]:
            yield _line(space.id, space.name, here)
    if several := [item for item in items if len(item.rooms) > 1]:
        yield _line("", SEVERAL, several)
    if nowhere := [item for item in items if not item.rooms]:
        yield _line("", NO_ROOM, nowhere)


def _line(room: str, name: str, items: Sequence[Bought]) -> Line:
    allowance = _sum(item.allowance for item in items)
    against = _sum(item.expected for item in items if item.allowance is not None)
    return Line(
        room=room,
        name=name,
        items=tuple(items),
        allowance=allowance,
        quoted=_sum(item.quoted for item in items),
        ordered=_sum(item.ordered for item in items),
        expected=_sum(item.expected for item in items),
        against=against,
        over=against - allowance if any(item.allowance is not None for item in items) else None,
        unpriced=sum(item.basis == "unknown" for item in items),
    )


def _sum(amounts: Iterable[Decimal | None]) -> Decimal:
    return sum((amount for amount in amounts if amount is not None), Decimal(0))


def _late(by: dt.date, today: dt.date | None) -> int | None:
    return (today - by).days if today is not None and by < today else None


def over_words(over: Decimal | None, currency: str = "") -> str:
    """Write how a sum stands against its allowance; empty when there is none.

    >>> over_words(Decimal("280"))
    '280 over'
    >>> over_words(Decimal("-20.50"))
    '20.50 under'
    """
    if over is None:
        return ""
    if over == 0:
        return "as allowed"
    return f"{money_words(abs(over), currency)} {'over' if over > 0 else 'under'}"
