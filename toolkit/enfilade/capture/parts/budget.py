"""The budget by room against its allowances, and the days to order by."""

from __future__ import annotations

import datetime as dt
from decimal import Decimal
from typing import Any, Final

from enfilade.capture.desk import Desk
from enfilade.capture.effects import last_effect
from enfilade.capture.sight import Sight
from enfilade.checks.budget import Bought, Budget, Line, budget, over_words
from enfilade.project.amounts import money_words

__all__ = ["HANDLERS", "NAME", "shown"]

NAME: Final = "budget"
_MOST_ROOMS: Final = 3


def shown(desk: Desk, sight: Sight) -> dict[str, Any]:
    """Return the budget in words, ready to be shown; bars as shares of the longest."""
    project = desk.project
    if not project.products and not project.finishes:
        return {"nothing": "The budget appears here once a product or a finish is recorded."}
    found = budget(project, dt.date.today())
    rooms = {space.id: space.name for space in project.spaces}
    longest = max([Decimal(1), *(max(line.allowance, line.against) for line in found.lines)])
    return {
        "currency": found.currency,
        "lines": [_line(line, found.currency, longest) for line in found.lines],
        "total": _line(found.total, found.currency, None),
        "orders": [
            {
                "key": f"{day.item.list} {day.item.id}",
                "name": day.item.name,
                "rooms": _rooms(day.item, rooms),
                "by": day.by.isoformat(),
                "late": f"{day.late_days} {'day' if day.late_days == 1 else 'days'} late" if day.late_days else "",
                "needed": day.item.needed_on_site.isoformat() if day.item.needed_on_site else "",
                "expected": money_words(day.item.expected, found.currency),
            }
            for day in found.to_order
        ],
        "ordered": sum(item.basis == "ordered" for item in found.total.items),
        "unpriced": [item.name for item in found.unpriced],
        "undated": [item.name for item in found.undated],
        "left_out": [[one.name, one.why] for one in found.left_out],
        "decided": _decided(found),
        "effect": last_effect(desk, sight),
    }


def _line(line: Line, currency: str, longest: Decimal | None) -> dict[str, Any]:
    plain: dict[str, Any] = {
        "key": line.room or line.name,
        "name": line.name,
        "items": len(line.items),
        "allowance": money_words(line.allowance, currency) if line.over is not None else "",
        "quoted": money_words(line.quoted or None, currency),
        "ordered": money_words(line.ordered or None, currency),
        "expected": money_words(line.expected or None, currency),
        "over": over_words(line.over, currency),
        "is_over": bool(line.over and line.over > 0),
        "unpriced": line.unpriced,
    }
    if longest is not None and line.over is not None:
        plain["bar"] = {"allowance": float(line.allowance / longest), "against": float(line.against / longest)}
    return plain


def _rooms(item: Bought, names: dict[str, str]) -> str:
    if len(item.rooms) > _MOST_ROOMS:
        return f"{len(item.rooms)} rooms"
    return ", ".join(names.get(id, id) for id in item.rooms)


def _decided(found: Budget) -> list[list[str]]:
    return [[f"{one.number}. {one.title}", money_words(one.cost, found.currency)] for one in found.decided]


HANDLERS: Final[dict[str, Any]] = {}
