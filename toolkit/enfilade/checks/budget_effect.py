"""What a change did to the budget and to the days to order by, in sentences."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from enfilade.checks.budget import Bought, Budget, Line, budget, over_words
from enfilade.checks.where_bought import Kind
from enfilade.project.amounts import money_words
from enfilade.project.project import Project

__all__ = ["effect"]

_MOST_DAYS = 5
"""Days to order by that are told one by one; a larger change is told by their number."""

_Key = tuple[Kind, str]


def effect(before: Project, after: Project) -> tuple[str, ...]:
    """Return what changed in sums and days from one state of a house to another; nothing when neither did.

    The order is: sums of the house, allowances that are now passed or kept, days to order by, costs of
    decisions. What is counted is told by `budget`.
    """
    if before is after:
        return ()
    was, now = budget(before), budget(after)
    return (*_sums(was, now), *_allowances(was, now), *_days(was, now), *_unpriced(was, now), *_decided(was, now))


def _sums(was: Budget, now: Budget) -> Iterator[str]:
    for word, old, new in (
        ("Allowances", was.total.allowance, now.total.allowance),
        ("Quoted total", was.total.quoted, now.total.quoted),
        ("Ordered total", was.total.ordered, now.total.ordered),
        ("Expected total", was.total.expected, now.total.expected),
    ):
        if old != new:
            yield f"{word} {_moved(old, new, now.currency)}."


def _moved(old: Decimal, new: Decimal, currency: str) -> str:
    way = "up" if new > old else "down"
    return f"{way} {money_words(abs(new - old))} to {money_words(new, currency)}"


def _allowances(was: Budget, now: Budget) -> Iterator[str]:
    before = {(line.room, line.name if not line.room else ""): line for line in was.lines}
    for line in (*now.lines, now.total):
        key = (line.room, line.name if not line.room else "")
        old = was.total if line is now.total else before.get(key)
        if _over(line) != _over(old) and line.over is not None:
            yield f"{line.name}: {over_words(line.over, now.currency)}{_against(line, old, now.currency)}."


def _over(line: Line | None) -> bool:
    return line is not None and line.over is not None and line.over > 0


def _against(line: Line, old: Line | None, currency: str) -> str:
    tail = " its allowance" if line.over else ""
    was = over_words(old.over, currency) if old is not None and old.over is not None else ""
    return f"{tail}, was {was}" if was else tail


def _days(was: Budget, now: Budget) -> Iterator[str]:
    old, new = _order_days(was), _order_days(now)
    still: dict[_Key, Bought] = {(item.list, item.id): item for line in now.lines for item in line.items}
    told = [_day(item, old.get(key)) for key, item in new.items() if _by(old.get(key)) != item.order_by]
    told += [_gone(item, still.get(key)) for key, item in old.items() if key not in new]
    if len(told) > _MOST_DAYS:
        yield f"{len(told)} days to order by have changed."
    else:
        yield from told


def _gone(was: Bought, now: Bought | None) -> str:
    name = f"\u201c{was.name}\u201d"
    if now is None:
        return f"{name} is not counted any more; it was to be ordered by {was.order_by}."
    if now.basis == "ordered":
        return f"{name} is ordered; it was to be ordered by {was.order_by}."
    return f"{name} has no day to order by any more, was {was.order_by}."


def _order_days(budget: Budget) -> dict[_Key, Bought]:
    return {(day.item.list, day.item.id): day.item for day in budget.to_order}


def _by(item: Bought | None) -> object:
    return item.order_by if item is not None else None


def _day(item: Bought, old: Bought | None) -> str:
    was = f", was {old.order_by}" if old is not None else ""
    return f"\u201c{item.name}\u201d must be ordered by {item.order_by}{was}."


def _unpriced(was: Budget, now: Budget) -> Iterator[str]:
    if len(was.unpriced) != len(now.unpriced):
        yield f"Without any price: {len(now.unpriced)}, was {len(was.unpriced)}."


def _decided(was: Budget, now: Budget) -> Iterator[str]:
    old, new = ({one.decision: one for one in state.decided} for state in (was, now))
    for key, one in new.items():
        before = old[key].cost if key in old else None
        if before != one.cost:
            tail = f", was {money_words(before, now.currency)}" if before is not None else ""
            yield f"Decision {one.number} costs {money_words(one.cost, now.currency)}{tail}."
    for key, one in old.items():
        if key not in new:
            yield f"Decision {one.number} bears no cost any more, was {money_words(one.cost, now.currency)}."
