"""The budget against tables that were worked by hand; every amount here is invented."""

from __future__ import annotations

import datetime as dt
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from building import free, house, room, thing
from enfilade.checks.budget import NO_ROOM, SEVERAL, Budget, budget, over_words
from enfilade.checks.budget_effect import effect
from enfilade.project.amounts import money_words
from enfilade.project.project import Project

D = Decimal
ROOMS = [room(144, 144), room(144, 144, id="dining", use="dining", at=(150, 0))]
MIDDLE = {"kitchen": (72, 72), "dining": (222, 72)}


def product(id: str, **bought: Any) -> dict[str, Any]:
    return {"id": id, "name": id.replace("-", " "), "purchase": bought}


def stands(id: str, product: str, space: str = "kitchen", **more: Any) -> dict[str, Any]:
    return thing("furniture", id, 20, 20, free(*MIDDLE[space]), space=space, product=product, **more)


def chosen(id: str, *, choice: str | None, products: tuple[str, ...], spaces: tuple[str, ...] = ("dining",),
           number: int = 1, cost: str | None = None) -> dict[str, Any]:  # fmt: skip
    options = [
        {"id": "first", "text": "the first", "products": products[:1], "cost": cost},
        {"id": "second", "text": "the second", "products": products[1:]},
    ]
    status = "planned" if choice else "undecided"
    return {"id": id, "number": number, "title": id, "spaces": spaces, "options": options, "choice": choice,
            "status": status}  # fmt: skip


def worked() -> Project:
    """Two rooms. By hand:

    item     room     allowance  quote  ordered  expected  over
    range    kitchen  6,000      6,400  6,250    6,250     250
    hood     kitchen  3,200      3,480  -        3,480     280
    oven     kitchen  -          2,900  -        2,900     (no allowance)
    stool    kitchen  880        -      -        880       0
    bowl     kitchen  -          -      -        unknown
    table    dining   2,000      1,850  -        1,850     -150
    chair    both     1,200      -      1,310.50 1,310.50  110.50
    tile     kitchen  2,400      2,750  -        2,750     350    (finish of the floor)
    spare    none     50         -      -        50        0
    """
    return house(
        [
            stands("range-1", "range"), stands("hood-1", "hood"), stands("oven-1", "oven"), stands("stool-1", "stool"),
            stands("stool-2", "stool"), stands("bowl-1", "bowl"), stands("table-1", "table", "dining"),
            stands("chair-1", "chair"), stands("chair-2", "chair", "dining"),
        ],
        spaces=[{**ROOMS[0], "floor_finish": "tile"}, ROOMS[1]],
        show={"currency": "EUR"},
        products=[
            product("range", allowance=6000, quote="6400", ordered_price="6250"),
            product("hood", allowance=3200, quote="3480", lead_time_days=60, needed_on_site="2026-06-15"),
            product("oven", quote="2900", lead_time_days=45, needed_on_site="2026-06-15"),
            product("stool", allowance=880),
            product("bowl"),
            product("table", allowance=2000, quote="1850", lead_time_days=70, needed_on_site="2026-02-23"),
            product("chair", allowance=1200, ordered_price="1310.50", lead_time_days=70, needed_on_site="2026-02-23"),
            product("spare", allowance=50),
        ],
        finishes=[product("tile", allowance=2400, quote="2750", lead_time_days=56, needed_on_site="2026-05-18")],
    )  # fmt: skip


def changed(project: Project, id: str, **bought: Any) -> Project:
    """Return the house with another purchase of one product."""
    products = [
        {**one.model_dump(), "purchase": {**one.purchase.model_dump(), **bought}} if one.id == id else one
        for one in project.products
    ]
    return project.with_records(products=products)


def rows(of: Budget) -> dict[str, tuple[D, D, D, D, D, D | None, int]]:
    return {
        line.name: (line.allowance, line.quoted, line.ordered, line.expected, line.against, line.over, line.unpriced)
        for line in (*of.lines, of.total)
    }


def test_a_budget_is_the_table_that_was_worked_by_hand() -> None:
    assert rows(budget(worked())) == {
        # allowance: 6000 + 3200 + 880 + 2400; quoted: 6400 + 3480 + 2900 + 2750; expected: 6250 + 3480 + 2900 + 880
        # + 2750; against an allowance: 6250 + 3480 + 880 + 2750
        "Kitchen": (D(12480), D(15530), D(6250), D(16260), D(13360), D(880), 1),
        "Dining": (D(2000), D(1850), D(0), D(1850), D(1850), D(-150), 0),
        SEVERAL: (D(1200), D(0), D("1310.50"), D("1310.50"), D("1310.50"), D("110.50"), 0),
        NO_ROOM: (D(50), D(0), D(0), D(50), D(50), D(0), 0),
        "Whole house": (D(15730), D(17380), D("7560.50"), D("19470.50"), D("16570.50"), D("840.50"), 1),
    }


def test_every_item_is_counted_once_and_says_what_is_expected_of_it() -> None:
    lines = budget(worked()).lines
    items = {item.id: (line.name, item.basis, item.rooms) for line in lines for item in line.items}
    assert sum(len(line.items) for line in lines) == 9
    assert items["range"] == ("Kitchen", "ordered", ("kitchen",))
    assert items["hood"] == ("Kitchen", "quoted", ("kitchen",))
    assert items["stool"] == ("Kitchen", "allowance", ("kitchen",))
    assert items["chair"] == (SEVERAL, "ordered", ("kitchen", "dining"))
    assert items["bowl"] == ("Kitchen", "unknown", ("kitchen",))
    assert [item.id for item in budget(worked()).unpriced] == ["bowl"]


def test_days_to_order_by_are_sorted_and_the_late_ones_come_first() -> None:
    # 2026-02-23 less 70 days is 2025-12-15; 2026-05-18 less 56 is 2026-03-23; 2026-06-15 less 60 is 2026-04-16,
    # less 45 is 2026-05-01. The chair is ordered and no longer on the list.
    days = budget(worked(), dt.date(2026, 3, 23)).to_order
    assert [(day.item.id, day.by.isoformat(), day.late_days) for day in days] == [
        ("table", "2025-12-15", 98),
        ("tile", "2026-03-23", None),
        ("hood", "2026-04-16", None),
        ("oven", "2026-05-01", None),
    ]
    assert [day.late_days for day in budget(worked()).to_order] == [None] * 4
    assert [item.id for item in budget(worked()).undated] == ["stool", "spare"]


def test_only_what_is_removed_or_merely_weighed_is_left_out() -> None:
    project = house(
        [stands("old", "gone", state="removed"), stands("kept", "here", "dining")],
        spaces=ROOMS,
        products=[
            product("gone", quote=1), product("here", quote=2), product("taken", quote=4), product("weighed", quote=8),
            product("open", quote=16), product("plain", quote=32),
        ],
        decisions=[
            chosen("seats", choice="first", products=("taken", "weighed"), cost="990"),
            chosen("later", choice=None, products=("open", "here"), number=2),
        ],
    )  # fmt: skip
    found = budget(project)
    assert rows(found)["Dining"][3] == D(2 + 4)
    assert rows(found)[NO_ROOM][3] == D(32)
    assert rows(found)["Whole house"][3] == D(2 + 4 + 32)
    assert [(one.id, one.why) for one in found.left_out] == [
        ("gone", "what it stood for is removed"),
        ("weighed", "weighed in a decision, not chosen"),
        ("open", "weighed in a decision, not chosen"),
    ]
    assert [(one.number, one.cost) for one in found.decided] == [(1, D(990))]


def test_a_house_without_purchases_has_an_empty_budget() -> None:
    found = budget(house())
    assert found.lines == ()
    assert (found.total.expected, found.total.over) == (D(0), None)


@pytest.mark.parametrize(
    ("of", "said"),
    [
        (
            {"id": "oven", "quote": "3240"},
            ["Quoted total up 340 to EUR\u00a017,720.", "Expected total up 340 to EUR\u00a019,810.50."],
        ),
        (
            {"id": "oven", "lead_time_days": 59},
            ["\u201coven\u201d must be ordered by 2026-04-17, was 2026-05-01."],
        ),
        (
            {"id": "oven", "lead_time_days": None},
            ["\u201coven\u201d has no day to order by any more, was 2026-05-01."],
        ),
        (
            {"id": "oven", "ordered_price": "2900"},
            [
                "Ordered total up 2,900 to EUR\u00a010,460.50.",
                "\u201coven\u201d is ordered; it was to be ordered by 2026-05-01.",
            ],
        ),
        (
            {"id": "table", "quote": "2100"},
            [
                "Quoted total up 250 to EUR\u00a017,630.",
                "Expected total up 250 to EUR\u00a019,720.50.",
                "Dining: EUR\u00a0100 over its allowance, was EUR\u00a0150 under.",
            ],
        ),
        (
            {"id": "bowl", "quote": "20.50"},
            [
                "Quoted total up 20.50 to EUR\u00a017,400.50.",
                "Expected total up 20.50 to EUR\u00a019,491.",
                "Without any price: 0, was 1.",
            ],
        ),
        (
            {"id": "spare", "lead_time_days": 7, "needed_on_site": "2026-03-09"},
            ["\u201cspare\u201d must be ordered by 2026-03-02."],
        ),
    ],
)
def test_the_effect_of_a_change_is_told_in_sentences(of: dict[str, Any], said: list[str]) -> None:
    before = worked()
    assert list(effect(before, changed(before, **of))) == said


def test_a_change_that_touches_neither_money_nor_days_has_no_effect() -> None:
    before = worked()
    after = before.with_records(products=[one.model_copy(update={"note": "seen"}) for one in before.products])
    assert effect(before, after) == ()
    assert effect(before, before) == ()


def test_a_decision_that_changes_its_cost_is_told() -> None:
    def with_cost(cost: str | None, choice: str | None = "first") -> Project:
        return house(
            spaces=ROOMS, products=[product("a"), product("b")],
            decisions=[chosen("seats", choice=choice, products=("a", "b"), cost=cost)],
        )  # fmt: skip

    assert effect(with_cost("990"), with_cost("1000")) == ("Decision 1 costs 1,000, was 990.",)
    assert effect(with_cost(None), with_cost("1000")) == ("Decision 1 costs 1,000.",)
    assert effect(with_cost("990"), with_cost("990", "second"))[-1] == "Decision 1 bears no cost any more, was 990."


def test_many_days_that_move_together_are_told_by_their_number() -> None:
    def planned(lead: int) -> Project:
        bought = [product(f"p-{i}", lead_time_days=lead, needed_on_site="2026-06-01") for i in range(6)]
        return house(spaces=ROOMS, products=bought)

    assert effect(planned(10), planned(20)) == ("6 days to order by have changed.",)


def test_amounts_read_as_people_write_them() -> None:
    assert money_words(D("1234567.5")) == "1,234,567.50"
    assert money_words(D("18240.00"), "EUR") == "EUR\u00a018,240"
    assert [over_words(D(x)) for x in ("280", "-20.50", "0")] == ["280 over", "20.50 under", "as allowed"]
    assert over_words(None) == ""


AMOUNT = st.none() | st.decimals(0, 10_000, places=2)
PURCHASES = st.lists(
    st.tuples(AMOUNT, AMOUNT, AMOUNT, st.sampled_from(["", "kitchen", "dining", "both"])), max_size=6
)  # fmt: skip


@given(PURCHASES)
def test_the_lines_add_up_to_the_house(bought: list[tuple[D | None, D | None, D | None, str]]) -> None:
    things = [
        stands(f"t-{i}-{space}", f"p-{i}", space)
        for i, (*_, where) in enumerate(bought)
        for space in (("kitchen", "dining") if where == "both" else (where,) if where else ())
    ]
    products = [product(f"p-{i}", allowance=a, quote=q, ordered_price=o) for i, (a, q, o, _) in enumerate(bought)]
    found = budget(house(things, spaces=ROOMS, products=products))
    for amount in ("allowance", "quoted", "ordered", "expected", "against", "unpriced"):
        assert sum(getattr(line, amount) for line in found.lines) == getattr(found.total, amount)
    overs = [line.over for line in found.lines if line.over is not None]
    assert (sum(overs) if overs else None) == found.total.over
