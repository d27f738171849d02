"""The budget of a page, in words."""

from __future__ import annotations

import datetime as dt
from pathlib import Path
from typing import Any

import pytest

import enfilade.capture.parts.budget as part
from building import free, house, room, thing
from enfilade.capture.desk import Desk
from enfilade.capture.sight import Sight
from enfilade.project.project import Project
from enfilade.project.store import save


class _Day(dt.date):
    @classmethod
    def today(cls) -> _Day:
        return cls(2026, 3, 20)


def shown(tmp_path: Path, project: Project, monkeypatch: pytest.MonkeyPatch) -> dict[str, Any]:
    monkeypatch.setattr(part.dt, "date", _Day)
    save(project, tmp_path / "house")
    return part.shown(Desk.open(tmp_path / "house"), Sight(room="kitchen"))


def test_the_budget_is_told_by_room_and_late_orders_first(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    project = house(
        [thing("furniture", "a-1", 20, 20, free(72, 72), product="a")],
        spaces=[room(144, 144)],
        show={"currency": "EUR"},
        products=[
            {"id": "a", "name": "range", "purchase": {"allowance": "6000", "quote": "6280.50", "lead_time_days": 90,
                                                      "needed_on_site": "2026-06-15"}},
            {"id": "b", "name": "lamp", "purchase": {"ordered_price": "100"}},
            {"id": "c", "name": "bowl"},
            {"id": "d", "name": "tile", "purchase": {"lead_time_days": 1, "needed_on_site": "2026-03-21"}},
        ],
    )  # fmt: skip
    state = shown(tmp_path, project, monkeypatch)
    kitchen, nowhere = state["lines"]
    assert (kitchen["name"], kitchen["expected"], kitchen["over"]) == (
        "Kitchen",
        "EUR\u00a06,280.50",
        "EUR\u00a0280.50 over",
    )
    assert kitchen["bar"] == {"allowance": pytest.approx(6000 / 6280.5), "against": 1.0}
    assert kitchen["is_over"]
    assert (nowhere["name"], nowhere["ordered"], nowhere["unpriced"]) == ("No room yet", "EUR\u00a0100", 2)
    assert "bar" not in nowhere
    # 2026-06-15 less 90 days is 2026-03-17: three days before the 20th; the tile is due on that day and not late.
    assert [(one["name"], one["by"], one["late"]) for one in state["orders"]] == [
        ("range", "2026-03-17", "3 days late"), ("tile", "2026-03-20", ""),
    ]  # fmt: skip
    assert (state["ordered"], state["unpriced"]) == (1, ["bowl", "tile"])


def test_a_house_without_purchases_says_so(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert "nothing" in shown(tmp_path, house(), monkeypatch)
