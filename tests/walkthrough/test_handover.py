"""What is handed over: registers, services, open points, lessons, credits; and who may read which of it."""

from __future__ import annotations

import datetime as dt
from dataclasses import astuple
from typing import Any

import pytest

import enfilade as ef
from building import free, house, on_wall, room, thing
from enfilade.checks.run import check, project_yardstick
from enfilade.project.audience import for_audience
from enfilade.project.fields import AUDIENCES, Audience
from enfilade.project.project import Project
from enfilade.standards.cautions import cautions
from enfilade.walkthrough.compose import telling_of
from enfilade.walkthrough.handover import handover
from enfilade.walkthrough.pages import Handover, Table
from enfilade.walkthrough.services import NOT_KNOWN, services_of
from enfilade.walkthrough.tables import product_table
from hostile import with_hostile_text

PRODUCTS: list[dict[str, Any]] = [
    {"id": "hood", "name": "hood, 36 in", "maker": "maker A", "care": "Wipe.", "warranty_until": "2028-06-15",
     "purchase": {"needed_on_site": "2026-01-31"},
     "services": [{"id": "filters", "what": "Wash the filters", "every_months": 1, "by": "the household"},
                  {"id": "fan", "what": "Look over the fan", "every_months": 24, "first_on": "2027-05-04"}]},
    {"id": "lamp", "name": "pendant", "maker": "maker G", "may_be_credited": True,
     "services": [{"id": "dust", "what": "Dust it", "every_months": 3}]},
    {"id": "strip", "name": "strip", "maker": "maker G"},
    {"id": "weighed", "name": "other hood", "maker": "maker Q",
     "services": [{"id": "x", "what": "Nothing", "every_months": 1}]},
]  # fmt: skip
TRADES = [
    {
        "id": "joiner",
        "trade": "joiner",
        "name": "Thole and Daughter",
        "did": "The larch fronts.",
        "may_be_credited": True,
    },
    {"id": "stone", "trade": "stone layer", "name": "P. Scantling", "did": "Slate."},
]


def built(**more: Any) -> Project:
    return house(
        [
            thing("hood", "hood", 36, 20, on_wall("kitchen-north", 0), product="hood", finish="oak", name="hood"),
            thing("light", "l1", 10, 10, free(72, 72), product="lamp", name="pendant"),
            thing("light", "l2", 10, 10, free(90, 72), product="lamp", name="pendant"),
            thing("light", "l3", 10, 10, free(30, -30), product="strip", space="hall", name="strip"),
        ],
        spaces=[
            room(144, 144) | {"floor_finish": "oak", "points": [
                {"id": "late", "what": "The toe kick stands proud.", "things": ["hood"], "trade": "joiner",
                 "by": "Thole and Daughter", "found_on": "2026-03-09", "due": "2026-05-01"},
                {"id": "done", "what": "It hummed.", "found_on": "2026-03-09", "closed_on": "2026-03-13"},
                {"id": "soon", "what": "The door sticks.", "due": "2026-04-01"},
            ]},
            room(144, 60, id="hall", use="hall", at=(0, -64)),
        ],
        products=PRODUCTS,
        finishes=[{"id": "oak", "name": "oiled oak", "material": "oak", "care": "Oil."},
                  {"id": "never", "name": "never chosen"}],
        decisions=[{"id": "h", "number": 1, "title": "The hood", "status": "built", "choice": "a",
                    "hindsight": "Ask earlier.",
                    "options": [{"id": "a", "text": "One"},
                                {"id": "b", "text": "Other", "products": ["weighed"], "finishes": ["never"]}]}],
        show={"date": "2026-03-16", "trades": TRADES},
        **more,
    )  # fmt: skip


def handed(project: Project, audience: Audience = "client") -> Handover:
    rules = project_yardstick(project)
    return handover(telling_of(project, check(project, yardstick=rules), rules, audience=audience))


def column(table: Table, name: str) -> list[str]:
    return [row[table.head.index(name)] for row in table.rows]


def test_the_registers_say_where_each_thing_is_and_how_it_is_kept() -> None:
    products, finishes = handed(built()).register
    assert column(products, "What") == ["hood, 36 in", "pendant", "strip"]  # what was weighed is not in the house
    assert column(products, "Maker") == ["maker A", "maker G", "maker G"]
    assert column(products, "Where") == ["Kitchen: hood.", "Kitchen: pendant (2 of them).", "Hall: strip."]
    assert column(products, "Finish") == ["oiled oak", "", ""]
    assert column(products, "Warranty until") == ["2028-06-15", "", ""]
    assert column(products, "Service")[0] == "Wash the filters, every month; Look over the fan, every 2 years"
    assert column(finishes, "What") == ["oiled oak"]
    assert column(finishes, "Where") == ["Kitchen: floor; hood."]
    assert finishes.head == ("What", "Material", "Where", "Care")  # what is recorded of none has no column


def test_services_come_in_the_order_in_which_they_are_due() -> None:
    table = handed(built()).services
    # By hand: on site 31 January, monthly, so 28 February and then 31 March, the first on or after 16 March.
    assert [(row[0], row[3], row[4], row[5]) for row in table.rows] == [
        ("Wash the filters", "every month", "2026-03-31", "the household"),
        ("Look over the fan", "every 2 years", "2027-05-04", "not said"),
        ("Dust it", "every 3 months", NOT_KNOWN, "not said"),
    ]
    assert "2026-03-16" in table.note


def test_without_a_date_the_first_day_is_told() -> None:
    plain = built().model_dump(mode="json")
    plain["show"]["date"] = None
    table = handed(Project.model_validate(plain)).services
    assert table.rows[0][4] == "2026-02-28"
    assert table.note == cautions()["service"]


def test_a_day_beyond_the_calendar_is_not_known() -> None:
    plain = built().model_dump(mode="json")
    plain["products"][0]["purchase"]["needed_on_site"] = "9999-12-31"
    first = services_of(Project.model_validate(plain))[0]
    assert first.first is None
    assert first.next(dt.date(2026, 1, 1)) is None
    plain["products"][0]["services"][0]["first_on"] = "9999-12-31"
    assert services_of(Project.model_validate(plain))[0].next(dt.date(9999, 12, 31)) == dt.date(9999, 12, 31)


def test_open_points_stand_before_those_that_are_put_right() -> None:
    table = handed(built()).points
    assert [(row[0], row[1], row[2], row[7]) for row in table.rows] == [
        ("Kitchen", "The door sticks.", "", "open"),
        ("Kitchen", "The toe kick stands proud.", "hood", "open"),
        ("Kitchen", "It hummed.", "", "2026-03-13"),
    ]
    assert table.note == "2 open, 1 put right."


def test_what_is_to_be_mended_and_still_falls_short_is_an_open_point() -> None:
    project = ef.demo()
    table = handed(project).points
    mend = next(answer for answer in project.answers if answer.kind == "to mend")
    (row,) = (row for row in table.rows if mend.reason in row[1])
    assert (row[0], row[4], row[7]) == ("Kitchen", mend.by, "open")
    assert mend.on is not None
    assert row[5] == mend.on.isoformat()
    met = telling_of(project, [], project_yardstick(project), audience="client")
    assert not any(mend.reason in row[1] for row in handover(met).points.rows)


def test_lessons_are_for_students_and_the_studio() -> None:
    assert handed(built(), "student").lessons == handed(built(), "studio").lessons == (("1 The hood", "Ask earlier."),)
    assert handed(built(), "client").lessons == handed(built(), "public").lessons == ()


def test_the_client_reads_every_credit() -> None:
    assert handed(built()).credits == (
        ("Joiner: The larch fronts.", "Thole and Daughter"),
        ("Stone layer: Slate.", "P. Scantling"),
        ("Hood, 36 in", "maker A"),
        ("Pendant; strip", "maker G"),
    )


@pytest.mark.parametrize("audience", ["public", "student"])
def test_in_public_those_alone_are_credited_who_may_be(audience: Audience) -> None:
    # Maker G may be credited for the pendant and is not to be named for the strip.
    project = built()
    assert handed(project, audience).credits == (("Joiner", "Thole and Daughter"), ("Pendant", "maker G"))
    told = for_audience(project, audience)
    assert [product.maker for product in told.products] == ["", "maker G", "", ""]
    assert [trade.name for trade in told.show.trades] == ["Thole and Daughter", ""]
    assert all(trade.did == "" for trade in told.show.trades)


def test_names_inside_free_text_follow_the_same_leave() -> None:
    plain = built().model_dump(mode="json")
    plain["spaces"][0]["story"] = "Slate by P. Scantling, fronts by Thole and Daughter, hood by maker A."
    told = for_audience(Project.model_validate(plain), "public")
    assert told.spaces[0].story == "Slate by the stone layer, fronts by Thole and Daughter, hood by the maker."


def test_a_client_who_made_a_thing_is_not_credited_by_name() -> None:
    plain = built(client={"names": ["Ida Quill"]}).model_dump(mode="json")
    plain["products"][1]["maker"] = "Ida Quill"
    assert handed(Project.model_validate(plain), "public").credits[1] == ("Pendant", "the client")


def test_the_public_is_handed_no_services_no_points_and_no_register_of_products() -> None:
    found = handed(built(), "public")
    assert [table.title for table in found.register] == ["Finishes"]
    assert found.register[0].head == ("What", "Material", "Where")
    assert found.services.rows == found.points.rows == ()


@pytest.mark.parametrize("audience", AUDIENCES)
def test_odd_text_and_empty_houses(audience: Audience) -> None:
    odd, _ = with_hostile_text(ef.demo())
    found = handed(odd, audience)
    for table in (*found.register, found.services, found.points):
        assert all(len(row) == len(table.head) for row in table.rows)
    empty = handed(Project(id="empty", name=""), audience)
    assert astuple(empty)[0] == ()
    assert (empty.lessons, empty.credits, empty.services.rows, empty.points.rows) == ((), (), (), ())


def test_what_is_over_its_allowance_stands_in_a_column_of_its_own() -> None:
    plain = built().model_dump(mode="json")
    plain["products"][0]["purchase"] = {"allowance": "100", "quote": "110", "ordered_price": "120.50"}
    plain["show"]["currency"] = "EUR"
    table = product_table(Project.model_validate(plain), "client")
    assert column(table, "Ordered")[0] == "EUR\u00a0120.50"
    assert column(table, "Over by") == ["EUR\u00a020.50", "", "", ""]
    assert table.note == "1 over allowance."
