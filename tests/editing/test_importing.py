"""Tables brought into schedules: what is new, changed, refused, and that nothing else is touched. All invented."""

from __future__ import annotations

import datetime as dt
from decimal import Decimal
from typing import Any

import pytest

from building import door, free, house, room, set_in, thing
from enfilade.editing.tables.importing import Preview, RowPreview, preview, taken
from enfilade.editing.tables.pasting import grid_of_block
from enfilade.editing.tables.schedules import schedule_named
from enfilade.errors import BadRecord, Refused
from enfilade.project.project import Project
from enfilade.project.thing import Thing

ROOMS = [room(144, 144), room(144, 144, id="dining", use="dining", at=(150, 0))]


def two_rooms(**more: Any) -> Project:
    plain: dict[str, Any] = {
        "products": [
            {"id": "range-36", "name": "range", "maker": "maker A", "purchase": {"quote": "6400", "quantity": 1.0}},
            {"id": "stool", "name": "stool", "purchase": {"allowance": "880.50", "lead_time_days": 40}},
        ],
        "finishes": [{"id": "larch", "name": "oiled larch", "colour": "#b08850"}],
        "show": {"currency": "EUR"},
    }
    things = [
        thing("seat", "stool-1", 17, 17, free(40, 40), top=25, name="stool by the sink", product="stool"),
        thing("table", "table-1", 60, 36, free(222, 72), space="dining"),
    ]
    return house(things, spaces=ROOMS, openings=[door("door-1", "kitchen-north", 40, name="garden door")],
                 **{**plain, **more})  # fmt: skip


def seen(project: Project, schedule: str, text: str, *, clear: bool = False) -> Preview:
    table = schedule_named(schedule)
    return preview(project, table, grid_of_block(project, table, text), clear=clear)


def only(project: Project, schedule: str, text: str, **more: Any) -> RowPreview:
    found = seen(project, schedule, text, **more)
    assert len(found.rows) == 1
    return found.rows[0]


def changes(row: RowPreview) -> list[tuple[str, str, str]]:
    return [(one.heading, one.before, one.after) for one in row.changes]


def refusals(row: RowPreview) -> list[str]:
    return [f"{one.heading}: {one.what}; {one.expected}" for one in row.refusals]


def test_a_row_is_new_changed_or_unchanged() -> None:
    project = two_rooms()
    found = seen(project, "products", "Name\tMaker\tQuote\nrange\tmaker A\t6,150.50\nstool\t\t\nhood\tmaker B\t3480\n")
    assert [(row.number, row.what, row.name) for row in found.rows] == [
        (2, "changed", "range"), (3, "unchanged", "stool"), (4, "new", "hood"),
    ]  # fmt: skip
    assert changes(found.rows[0]) == [("Quote", "6,400", "6,150.50")]
    assert changes(found.rows[2]) == [("Name", "", "hood"), ("Maker", "", "maker B"), ("Quote", "", "3,480")]
    after = taken(project, found)
    assert [(one.id, one.name, one.purchase.quote) for one in after.products] == [
        ("range-36", "range", Decimal("6150.50")), ("stool", "stool", None), ("hood", "hood", Decimal(3480)),
    ]  # fmt: skip
    assert after.products[0].purchase.quantity == 1.0
    assert after.products[1] is project.products[1]
    assert after.finishes is project.finishes
    assert two_rooms() == project


def test_nothing_is_written_before_it_is_taken_and_only_what_was_chosen_is() -> None:
    project = two_rooms()
    found = seen(project, "products", "Name\tQuote\nrange\t1\nstool\t2\nhood\t3\n")
    assert [one.purchase.quote for one in taken(project, found, {3}).products] == [Decimal(6400), Decimal(2)]
    assert taken(project, found, set()) is project
    assert len(taken(project, found, {4}).products) == 3


def test_refused_rows_stay_out_and_are_listed_with_each_cell_that_is_wrong() -> None:
    project = two_rooms()
    found = seen(
        project,
        "products",
        "Name\tQuote\tLead time\tNeeded on site\nrange\tdear\t6.5\tin May\nstool\t12\t7\t2026-05-02\n",
    )
    assert [row.what for row in found.rows] == ["refused", "changed"]
    wrong = found.rows[0].refusals
    assert [(one.heading, one.typed) for one in wrong] == [
        ("Quote", "dear"), ("Lead time", "6.5"), ("Needed on site", "in May"),
    ]  # fmt: skip
    assert all(one.what and one.expected for one in wrong)
    after = taken(project, found, {2, 3})
    assert after.products[0] is project.products[0]
    assert after.products[1].purchase.needed_on_site == dt.date(2026, 5, 2)


def test_a_row_is_found_by_its_id_before_its_name() -> None:
    project = two_rooms()
    row = only(project, "products", "Name\tId\ncooker\trange-36\n")
    assert (row.what, changes(row)) == ("changed", [("Name", "range", "cooker")])
    assert only(project, "products", "Name\tQuote\tId\n RANGE \t7\tgone\n").id == "range-36"


def test_two_rows_about_one_record_are_not_both_taken() -> None:
    found = seen(two_rooms(), "products", "Name\tQuote\nrange\t1\nRange\t2\nhood\t3\nHood\t4\n")
    assert [row.what for row in found.rows] == ["changed", "refused", "new", "refused"]
    assert "row 2" in refusals(found.rows[1])[0]


def test_a_name_that_several_have_asks_for_the_id() -> None:
    twice = [{"id": "a", "name": "tile"}, {"id": "b", "name": "Tile"}]
    row = only(two_rooms(finishes=twice), "finishes", "Name\tMaterial\ntile\tclay\n")
    assert row.what == "refused"
    assert "2 are called so" in refusals(row)[0]
    assert only(two_rooms(finishes=twice), "finishes", "Name\tMaterial\tId\ntile\tclay\ta\n").what == "changed"


def test_empty_cells_leave_what_is_recorded_unless_they_are_told_to_clear_it() -> None:
    project = two_rooms()
    text = "Name\tMaker\tQuote\nrange\t\t\n"
    assert only(project, "products", text).what == "unchanged"
    row = only(project, "products", text, clear=True)
    assert changes(row) == [("Maker", "maker A", ""), ("Quote", "6,400", "")]
    after = taken(project, seen(project, "products", text, clear=True))
    assert (after.products[0].maker, after.products[0].purchase.quote) == ("", None)


@pytest.mark.parametrize(
    ("heading", "cell", "mm"),
    [
        ("Width (in)", "36", 914.4), ("width [mm]", "900", 900), ("WIDTH, cm", "90", 900), ("Width mm", "900", 900),
        ("Width", "36", 914.4), ("Width", "900 mm", 900), ("Width (mm)", '36"', 914.4), ("w", "36 1/2", 927.1),
        ("Width (m)", "0,95", 950), ("width_mm", "36", 36),
    ],
)  # fmt: skip
def test_the_unit_of_a_heading_is_that_of_its_bare_numbers(heading: str, cell: str, mm: float) -> None:
    # An inch is 25.4 mm; a bare number without a unit is in the units of the project, here inches.
    project = two_rooms()
    after = taken(project, seen(project, "furniture", f"Name\t{heading}\nstool by the sink\t{cell}\n"))
    assert after.thing("stool-1").width_mm == pytest.approx(mm)


@pytest.mark.parametrize(
    ("heading", "why"),
    [
        ("Quote (USD)", "the project's are in EUR"), ("Price", "not understood"), ("Width", "not understood"),
        ("Quotee", "did you mean"), ("Order by", "worked out"), ("", "no heading"), ("Lead time (m)", "no unit of"),
        ("Quoted", "the same column"),
    ],
)  # fmt: skip
def test_headings_that_are_not_read_are_listed_with_the_reason(heading: str, why: str) -> None:
    found = seen(two_rooms(), "products", f"Name\tQuote\t{heading}\tMaker\nrange\t6400\t5\tmaker A\n")
    assert [reason for _, reason in found.unread if why in reason], found.unread
    assert found.read == ("Name", "Quote", "Maker")


@pytest.mark.parametrize(
    ("cells", "amounts"),
    [
        (["1,250.50"], ["1250.50"]), (["EUR 12"], ["12"]), (["12 €"], ["12"]), (["6,40", "1.250"], ["6.40", "1250"]),
        (["1.234,56"], ["1234.56"]), (["1 250"], ["1250"]), (["6,400"], ["6400"]),
    ],
)  # fmt: skip
def test_amounts_are_read_as_they_are_written(cells: list[str], amounts: list[str]) -> None:
    text = "Name;Quote\n" + "".join(f"p{i};{cell}\n" for i, cell in enumerate(cells))
    after = taken(two_rooms(), seen(two_rooms(), "products", text))
    assert [one.purchase.quote for one in after.products[2:]] == [Decimal(amount) for amount in amounts]


@pytest.mark.parametrize(
    "cell", ["$12", "USD 12", "12 GBP", "1.234", "-5", "12,345,6", "1e5", "=1+1", "99999999999999"]
)
def test_amounts_that_may_mean_something_else_are_refused(cell: str) -> None:
    assert only(two_rooms(), "products", f"Name;Quote\nhood;{cell}\n").what == "refused"


def test_weeks_are_days_and_yes_is_yes() -> None:
    project = two_rooms()
    after = taken(project, seen(project, "products", "Name\tLead time (weeks)\tMay be credited\nrange\t6\tYes\n"))
    assert (after.products[0].purchase.lead_time_days, after.products[0].may_be_credited) == (42, True)


def test_rooms_walls_products_and_finishes_are_found_by_what_people_call_them() -> None:
    project = two_rooms()
    text = "Name\tRoom\tProduct\tFinish\nstool by the sink\tdining\tRANGE (maker A)\toiled larch\n"
    row = only(project, "furniture", text)
    assert row.what == "refused"  # its middle would stand outside the dining room
    assert "outside" in refusals(row)[0]
    after = taken(project, seen(project, "furniture", text.replace("dining", "Kitchen")))
    assert (after.thing("stool-1").product, after.thing("stool-1").finish) == ("range-36", "larch")
    row = only(project, "furniture", "Name\tRoom\tProduct\nstool by the sink\tattic\tsofa\n")
    assert [one.heading for one in row.refusals] == ["Room", "Product"]
    assert "Kitchen; Dining" in refusals(row)[0]


def test_a_name_is_known_without_what_tells_it_from_its_like() -> None:
    project = two_rooms()
    for name in ("range", "Range (maker Z)"):
        after = taken(project, seen(project, "furniture", f"Name\tProduct\nstool by the sink\t{name}\n"))
        assert after.thing("stool-1").product == "range-36"
    for wall in ("Kitchen: side 2, 9' 0\"", "Kitchen: side 2"):  # as it was before the room was measured anew
        row = only(project, "openings", f"Name\tWall\tOffset\ngarden door\t{wall}\t20\n")
        assert row.values[("wall",)] == "kitchen-east"
    assert "name of several" in refusals(only(project, "openings", "Name\tWall\ngarden door\tside 2\n"))[0]


def test_new_furniture_stands_in_the_middle_of_its_room_and_what_is_not_said_is_assumed() -> None:
    project = two_rooms()
    text = "Name\tKind\tWhat it is\tRoom\tWidth\tDepth\tHeight\nlong bench\tseat\tbench\tDining\t60\t18\t18\n"
    text += "rug\trug\t\tDining\t\t\t\n"
    after = taken(project, seen(project, "furniture", text))
    bench, rug = after.things[-2:]
    assert (bench.id, bench.kind, bench.space, bench.width_mm, bench.top_mm) == (
        "long-bench",
        "seat",
        "dining",
        1524,
        457.2,
    )
    assert (bench.place.x_mm, bench.place.y_mm) == pytest.approx((222 * 25.4, 72 * 25.4))  # type: ignore[union-attr]
    assert bench.bases == {"bottom_mm": "assumed"}
    assert (rug.id, rug.basis) == ("rug", "assumed")


def test_a_height_is_told_from_the_bottom_of_a_thing_to_its_top() -> None:
    project = house([thing("screen", "tv", 40, 2, free(72, 72), bottom=30, top=54, name="screen")])
    assert only(project, "furniture", "Name\tHeight\nscreen\t24\n").what == "unchanged"
    after = taken(project, seen(project, "furniture", "Name\tHeight\tBottom\nscreen\t20\t40\n"))
    assert (after.thing("tv").bottom_mm, after.thing("tv").top_mm) == (40 * 25.4, 60 * 25.4)


def test_what_a_kind_has_not_or_cannot_become_is_refused() -> None:
    project = two_rooms()
    row = only(project, "furniture", "Id\tKind\tWhat it is\ntable-1\tseat\tround\n")
    assert {one.heading for one in row.refusals} == {"Kind", "What it is"}
    row = only(project, "furniture", "Name\tKind\nsink\tsink\n")
    assert "no such kind" in refusals(row)[0]
    assert (
        only(project, "furniture", "Name\tKind\tRoom\nshade\twindow treatment\tKitchen\n").refusals[0].what
        == "is missing"
    )


def test_new_openings_need_their_wall_and_place() -> None:
    project = two_rooms()
    row = only(project, "openings", "Name\tKind\nlarder door\tdoor\n")
    assert row.what == "refused"
    assert {one.what for one in row.refusals} == {"is missing"}
    assert len(row.refusals) == 2
    wall = "kitchen-east"
    after = taken(
        project, seen(project, "openings", f"Name\tKind\tWall\tOffset\tWidth\nlarder door\tdoor\t{wall}\t20\t32\n")
    )
    made = after.openings[-1]
    assert (made.id, made.wall, made.offset_mm, made.width_mm, made.basis) == (
        "larder-door", wall, 508.0, 812.8, "assumed",
    )  # fmt: skip


def test_openings_that_clash_in_the_wall_are_refused_in_peoples_words() -> None:
    project = two_rooms()
    row = only(project, "openings", "Name\tOffset\ngarden door\t140\n")
    assert row.what == "refused"
    assert row.refusals
    assert "offset_mm" not in str(row.refusals)
    assert " mm" not in str(row.refusals)


def test_glass_is_told_of_an_opening_that_had_none() -> None:
    project = two_rooms()
    text = "Name\tGlass area (m2)\tSafety glass\ngarden door\t1.5\tyes\n"
    glazing = taken(project, seen(project, "openings", text)).openings[0].glazing
    assert glazing is not None
    assert glazing != "none"
    assert (glazing.area_m2, glazing.safety_glass) == (1.5, True)
    assert only(project, "openings", "Name\tGlass area (m2)\ngarden door\t\n", clear=True).what == "unchanged"


def test_a_row_that_would_break_another_record_is_refused_and_says_which() -> None:
    # The lamp hangs from the left end of the table, whose middle stands 20 in from the wall: 100 in wide, it would
    # begin 30 in beyond the wall.
    lamp = thing("furniture", "lamp", 4, 4, set_in("table", 2), name="lamp")
    project = house([thing("table", "table", 30, 20, free(20, 72), name="side table"), lamp])
    row = only(project, "furniture", "Name\tWidth\nside table\t100\n")
    assert row.what == "refused"
    assert refusals(row)[0].startswith(": lamp")
    assert only(project, "furniture", "Name\tWidth\nside table\t32\n").what == "changed"


def test_a_preview_is_taken_into_the_house_as_it_is_by_then() -> None:
    project = two_rooms()
    found = seen(project, "products", "Name\tQuote\nrange\t1\nhood\t2\n")
    later = project.with_records(
        products=[one.model_copy(update={"maker": "maker C"}) for one in project.products]
    )  # fmt: skip
    assert [(one.maker, one.purchase.quote) for one in taken(later, found).products[:1]] == [("maker C", Decimal(1))]
    with pytest.raises(Refused, match="not there any more"):
        taken(project.with_records(products=project.products[1:], things=project.things), found)
    with pytest.raises(Refused, match="added since"):
        taken(taken(project, found), found)


def test_a_table_without_a_heading_that_is_understood_is_refused() -> None:
    with pytest.raises(Refused, match="headings"):
        seen(two_rooms(), "products", "36\t40\nrange\t12\n")


def test_texts_that_no_record_may_hold_are_refused_at_their_cell() -> None:
    found = seen(two_rooms(), "products", f"Name\tMaker\nhood\ta\x07b\nfan\t{'y' * 401}\nrange\t\x01\n")
    assert [(row.what, row.refusals[0].heading) for row in found.rows] == [("refused", "Maker")] * 3


def test_a_block_without_headings_fills_the_cells_from_where_it_is_pasted() -> None:
    project, schedule = two_rooms(), schedule_named("products")
    keys, ids = ["purchase.quote", "purchase.ordered_price"], ["range-36", "stool"]
    grid = grid_of_block(project, schedule, "6150\t6000\t9\n\t850\n", keys, ids)
    assert grid.notes
    after = taken(project, preview(project, schedule, grid))
    assert [(one.purchase.quote, one.purchase.ordered_price) for one in after.products] == [
        (Decimal(6150), Decimal(6000)), (None, Decimal(850)),
    ]  # fmt: skip
    grid = grid_of_block(project, schedule, "1\n\n3\n", keys, ids)  # the row between stays as it is
    assert [(row.name, row.what) for row in preview(project, schedule, grid).rows] == [
        ("range", "changed"), ("product", "refused"),
    ]  # fmt: skip
    grid = grid_of_block(project, schedule, "new one\nanother\n", ["name", "maker"], ["stool"])
    assert [(row.name, row.what) for row in preview(project, schedule, grid).rows] == [
        ("stool", "changed"), ("another", "new"),
    ]  # fmt: skip
    grid = grid_of_block(project, schedule, "Quote\tName\n7\tstool\n", keys, ids)
    assert [(row.name, row.what) for row in preview(project, schedule, grid).rows] == [("stool", "changed")]


def test_every_furniture_kind_can_be_read_in() -> None:
    schedule = schedule_named("furniture")
    kinds = [kind for kind in schedule.kinds if kind != "window treatment"]
    rows = "".join(f"new {kind}\t{kind}\tKitchen\t{'shelf' if kind == 'furniture' else ''}\n" for kind in kinds)
    after = taken(two_rooms(), seen(two_rooms(), "furniture", "Name\tKind\tRoom\tWhat it is\n" + rows))
    made: list[Thing] = list(after.things[2:])
    assert [one.kind for one in made] == kinds


def test_taking_never_writes_a_project_that_cannot_stand() -> None:
    project = two_rooms()
    found = seen(project, "furniture", "Name\tRoom\nstool by the sink\tKitchen\nside table\tDining\n")
    without = project.with_records(spaces=project.spaces[:1], things=project.things[:1])
    with pytest.raises(BadRecord):
        taken(without, found)
