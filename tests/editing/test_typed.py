"""What a person types is read, put in its place, and refused in words; what still reads the same is never changed."""

from __future__ import annotations

import datetime as dt
from decimal import Decimal
from functools import cache
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import enfilade as ef
from building import door, free, house, on_wall, set_in, thing
from enfilade.editing.forms.paths import Path, spot_of
from enfilade.editing.forms.shown import shown
from enfilade.editing.forms.typed import with_typed
from enfilade.errors import BadRecord, Fault, NotFound
from enfilade.lengths import TOLERANCE_MM, inches, show_length, show_size
from enfilade.project.fields import Record
from enfilade.project.project import Project
from enfilade.project.standing import stands, wall_segments
from typed_fields import fields_of

UNITS = ("us", "metric")


@cache
def demo_in(units: str) -> Project:
    demo = ef.demo()
    return demo.model_copy(update={"show": demo.show.model_copy(update={"units": units})})


@cache
def typeable(units: str) -> tuple[tuple[Path, Record, str, Any], ...]:
    """Every field of the demo house that is typed as a whole, with what its form shows."""
    found = []
    for path, record, name, shape in fields_of(demo_in(units)):
        if shape.kind not in ("records", "record", "one-of"):
            found.append((path, record, name, shown(getattr(record, name), name, shape, units)))  # type: ignore[arg-type]
    return tuple(found)


def faults(project: Project, path: Path, typed: Any) -> tuple[Fault, ...]:
    with pytest.raises(BadRecord) as refusal:
        with_typed(project, path, typed)
    return refusal.value.faults


def fault(project: Project, path: Path, typed: Any) -> str:
    (only,) = faults(project, path, typed)
    assert only.place == "/".join(path)
    return f"{only.what}; expected {only.expected}" if only.expected else only.what


# The law


@settings(max_examples=150, deadline=None)
@given(st.sampled_from(UNITS), st.randoms(use_true_random=False))
def test_typing_back_what_a_form_shows_changes_nothing(units: str, dice: Any) -> None:
    path, _, _, typed = dice.choice(typeable(units))
    assert with_typed(demo_in(units), path, typed) is demo_in(units)


def test_nor_does_any_field_of_the_house() -> None:
    for units in UNITS:
        project = demo_in(units)
        assert len(typeable(units)) > 5000
        for path, _, _, typed in typeable(units):
            assert with_typed(project, path, typed) is project, path


@settings(max_examples=60, deadline=None)
@given(st.floats(1.0, 30_000.0), st.sampled_from(UNITS))
def test_a_length_is_kept_while_it_reads_the_same(value_mm: float, units: str) -> None:
    project = house([thing("island", "i", 60, 36, free(72, 72), width_mm=value_mm)], show={"units": units})
    for show in (show_size, show_length):
        text = show(project.thing("i").width_mm, units)  # type: ignore[arg-type]
        again = with_typed(project, ("things", "i", "width_mm"), f"  {text} ")
        assert abs(again.thing("i").width_mm - value_mm) <= TOLERANCE_MM
    # However often: no drift.
    assert with_typed(project, ("things", "i", "width_mm"), show_size(value_mm, units)) is project  # type: ignore[arg-type]


@settings(max_examples=60, deadline=None)
@given(st.integers(16, 16 * 400), st.sampled_from(["in", '"', ""]))
def test_a_length_that_reads_otherwise_is_taken_as_typed(sixteenths: int, unit: str) -> None:
    project = house([thing("island", "i", 600, 36, free(72, 72))])
    whole, part = divmod(sixteenths, 16)
    again = with_typed(project, ("things", "i", "depth_mm"), f"{whole} {part}/16{unit}" if part else f"{whole}{unit}")
    assert again.thing("i").depth_mm == pytest.approx(sixteenths * 25.4 / 16)


# What is read


@pytest.fixture
def kitchen() -> Project:
    return house(
        [
            thing("base cabinet", "base", 36, 24, on_wall("kitchen-north", 10)),
            thing("counter", "top", 36, 25, on_wall("kitchen-north", 10)),
            thing("sink", "sink", 30, 20, set_in("top", 3)),
            thing("hood", "hood", 36, 20, on_wall("kitchen-south", 10)),
        ],
        openings=[door("d", "kitchen-east", 10)],
        show={"currency": "USD"},
        household={"cooks_together": 2},
        finishes=[{"id": "oak", "name": "Oak"}],
        decisions=[
            {"id": "size", "number": 1, "title": "Size", "options": [{"id": "wide", "text": "Wide", "cost": "100"},
                                                                      {"id": "small", "text": "Small"}]}
        ],
    )  # fmt: skip


WIDE = ("decisions", "size", "options", "wide", "cost")
BASE = ("things", "base")


@pytest.mark.parametrize(
    ("path", "typed", "value"),
    [
        (WIDE, "1,250.50", Decimal("1250.50")),
        (WIDE, "$1,250", Decimal(1250)),
        (WIDE, "1250 USD", Decimal(1250)),
        (WIDE, "1 250", Decimal(1250)),
        (WIDE, "1'250'000", Decimal(1250000)),
        (WIDE, "", None),
        ((*BASE, "width_mm"), "3' 6\"", inches(42)),
        ((*BASE, "width_mm"), "42", inches(42)),  # a bare number is in inches here
        ((*BASE, "width_mm"), "1 m", 1000.0),
        ((*BASE, "width_mm"), 42, inches(42)),
        ((*BASE, "shelves"), "3", 3),
        ((*BASE, "shelves"), "", None),
        ((*BASE, "shelf_heights_mm"), '4", 12 1/2; 20', (inches(4), inches(12.5), inches(20))),
        ((*BASE, "corner"), "none", "none"),
        ((*BASE, "corner"), "Blind", "blind"),
        ((*BASE, "corner"), "", None),
        ((*BASE, "finished_ends"), ["right", "left"], ("left", "right")),
        ((*BASE, "finished_ends"), [], ()),
        ((*BASE, "finished_ends"), "none", "none"),
        ((*BASE, "angled"), True, True),
        ((*BASE, "angled"), "yes", True),
        ((*BASE, "bottom_mm"), "", 0.0),  # its default
        ((*BASE, "finish"), "oak", "oak"),
        ((*BASE, "finish"), "Oak", "oak"),
        ((*BASE, "name"), "  corner   base ", "corner base"),
        (("things", "hood", "flow_m3h"), "300", 509.703),  # cfm: 1.69901079552 m3/h each
        (("things", "hood", "flow_m3h"), "510 m3/h", 510.0),
        (("things", "hood", "ducted"), None, None),
        (("decisions", "size", "due"), "2026-03-31", dt.date(2026, 3, 31)),
        (("decisions", "size", "due"), "31 March 2026", dt.date(2026, 3, 31)),
        (("decisions", "size", "due"), "Mar 31, 2026", dt.date(2026, 3, 31)),
        (("household", "cooks_together"), "3", 3),
        (("household", "cooks_together"), "", None),
        (("show", "units"), "metric", "metric"),
        (("client", "names"), "Ann\nBert\n\n", ("Ann", "Bert")),
        (("name",), "Long house", "Long house"),
        (("walls", "kitchen-north", "name"), "river wall", "river wall"),
        (("spaces", "kitchen", "outline"), [['0"', '0"'], ["14'", "0"], ["14'", "12'"], ["0", "144"]],
         ((0.0, 0.0), (inches(168), 0.0), (inches(168), inches(144)), (0.0, inches(144)))),
    ],
)  # fmt: skip
def test_what_is_typed_is_read(kitchen: Project, path: Path, typed: Any, value: Any) -> None:
    # The room grows to the east, so what stands on its other walls stays.
    kitchen = kitchen if path[0] != "spaces" else kitchen.with_records(openings=[])
    again = with_typed(kitchen, path, typed)
    found = spot_of(again, path).value
    assert found == (pytest.approx(value) if isinstance(value, float) else value)
    assert type(found) is type(value)


def test_an_order_time_is_typed_in_weeks_too() -> None:
    project = house(products=[{"id": "p", "name": "P"}])
    path = ("products", "p", "purchase", "lead_time_days")
    assert with_typed(project, path, "6 weeks").products[0].purchase.lead_time_days == 42


# What is refused


@pytest.mark.parametrize(
    ("path", "typed", "words"),
    [
        (WIDE, "1250,50", "has a comma before its decimals; expected a point, as in 1250.50"),
        (WIDE, "1.250,50", "has a comma before its decimals; expected a point, as in 1250.50"),
        (WIDE, "12.345", "has parts of a cent"),
        (WIDE, "5 k", "is not an amount"),
        (WIDE, "-3", "is too little; expected at least 0"),
        (WIDE, "1,25,0", "is not a number|has a comma"),
        ((*BASE, "width_mm"), "3 feat", "is not a length"),
        ((*BASE, "width_mm"), "12,5", "write 12.5"),
        ((*BASE, "width_mm"), "", "Width is missing"),
        ((*BASE, "width_mm"), "0", "is too little; expected more than 0"),
        ((*BASE, "width_mm"), "-2 in", "is too little"),
        ((*BASE, "shelf_heights_mm"), "12,5", "is not a length"),
        ((*BASE, "shelves"), "2.5", "is not a whole number"),
        ((*BASE, "shelves"), "900", "is too much; expected at most 200"),
        ((*BASE, "corner"), "round", "is not one of the choices; expected blind, turntable"),
        ((*BASE, "finish"), "elm", "is not among the finishes"),
        ((*BASE, "angled"), "perhaps", "is neither yes nor no"),
        ((*BASE, "top_mm"), "-1", "is too little"),
        (("things", "hood", "flow_m3h"), "300 gallons", "is not a unit of this; expected a number in cfm"),
        (("decisions", "size", "due"), "3/31/2026", "is not a day"),
        (("decisions", "size", "due"), "2026-02-30", "is not in the calendar"),
        (("decisions", "size", "title"), "  ", "Title is missing"),
        (("household", "cooks_together"), "0", "is too little; expected at least 1"),
        (("show", "currency"), "dollars and cents", "17 signs are too many; expected at most 8"),
        ((*BASE, "name"), "a\x00b", "text holds the sign U\\+0000"),
    ],
)
def test_what_cannot_be_read_is_refused_at_its_field(kitchen: Project, path: Path, typed: Any, words: str) -> None:
    import re

    assert re.search(words, fault(kitchen, path, typed))


@pytest.mark.parametrize(
    ("path", "typed", "words"),
    [
        # heights: a record that cannot exist
        ((*BASE, "bottom_mm"), "40", "top is 2' 10 1/2\", below bottom at 3' 4\"; expected a top above the bottom"),
        # a fault of the house, in names and in its units: the wall is 12 ft
        (("openings", "d", "offset_mm"), "140", "puts it past an end of its wall “side 2, 12' 0\"” of 12' 0\""),
        (("openings", "d", "width_mm"), "150", "is wider than its wall"),
        # a fault of another record begins with its name
        (("spaces", "kitchen", "outline"), [["0", "0"], ["8'", "0"], ["8'", "3'"], ["0", "3'"]], "door: "),
    ],
)
def test_what_cannot_stand_is_told_in_names_and_units(kitchen: Project, path: Path, typed: Any, words: str) -> None:
    told = " / ".join(f"{one.what}; expected {one.expected}" for one in faults(kitchen, path, typed))
    assert {one.place for one in faults(kitchen, path, typed)} == {"/".join(path)}
    assert words in told, told
    assert "_mm" not in told
    assert " mm" not in told
    assert "kitchen-" not in told


@pytest.mark.parametrize("path", [("things", "gone", "width_mm"), ("things", "base", "gone"), ("things", "base", "id"),
                                  ("things", "base", "kind"), ("format",), ("things", "base", "width_mm", "more"),
                                  ("household", "people", "0", "name"), tuple("abcdefghijklmnop")])  # fmt: skip
def test_what_is_not_there_or_never_typed_is_not_found(kitchen: Project, path: Path) -> None:
    with pytest.raises(NotFound):
        with_typed(kitchen, path, "x")


@settings(max_examples=150, deadline=None)
@given(
    st.randoms(use_true_random=False),
    st.one_of(
        st.none(), st.booleans(), st.integers(), st.floats(), st.text(max_size=30), st.lists(st.text(max_size=5)),
        st.dictionaries(st.text(max_size=9), st.text(max_size=5), max_size=3), st.lists(st.lists(st.integers())),
        st.sampled_from(["none", "free", "wall", "set in", "1,5", "9" * 300, "1e999", "-", "1/0", "#fff", "½"]),
    ),
)  # fmt: skip
def test_a_page_that_sends_anything_gets_a_house_or_a_refusal(dice: Any, typed: Any) -> None:
    paths = [path for path, *_ in fields_of(demo_in("us"))]
    path = dice.choice(paths)
    again, refused = taken(path, typed)
    for one in refused:
        assert one.place.startswith("/".join(path))
        assert one.what
        assert "validation error" not in one.what
    if again is not demo_in("us"):
        assert Project.model_validate(again.model_dump(mode="json", warnings=False)).verified() == again


def taken(path: Path, typed: Any) -> tuple[Project, tuple[Fault, ...]]:
    """Return the demo house with what was typed; or as it was, with the faults."""
    try:
        return with_typed(demo_in("us"), path, typed), ()
    except BadRecord as refusal:
        return demo_in("us"), refusal.faults
    except NotFound:
        return demo_in("us"), ()


# What stays


def test_all_that_did_not_change_stays_the_same_object(kitchen: Project) -> None:
    again = with_typed(kitchen, (*BASE, "width_mm"), "40")
    assert again.thing("base") is not kitchen.thing("base")
    assert again.thing("base").place is kitchen.thing("base").place
    for name in ("spaces", "openings", "decisions"):
        assert getattr(again, name) is getattr(kitchen, name)
    for id in ("top", "sink", "hood"):
        assert again.thing(id) is kitchen.thing(id)
    assert again.thing("sink").place is kitchen.thing("sink").place
    assert with_typed(kitchen, WIDE, "150").decisions[0].options[1] is kitchen.decisions[0].options[1]


def test_one_corner_that_is_typed_leaves_the_others_exact() -> None:
    project = demo_in("us")
    space = project.spaces[1]
    corners = [[show_length(x, "us"), show_length(y, "us")] for x, y in space.outline]
    exact = with_typed(project, ("spaces", space.id, "outline"), corners)
    assert exact is project
    moved = with_typed(
        house(), ("spaces", "kitchen", "outline"), [["0", "0"], ["150", "0"], ["150", "144"], ["0", "144"]]
    )
    assert moved.spaces[0].outline[3] == house().spaces[0].outline[3]


def test_corners_are_typed_a_line_each_too() -> None:
    typed = "0, 0\n12' 6\", 0\n150; 12 ft\n0, 144"
    again = with_typed(house(), ("spaces", "kitchen", "outline"), typed)
    assert again.spaces[0].outline[1:3] == ((inches(150), 0.0), (inches(150), inches(144)))
    assert "walls for 3 corners" in fault(house(), ("spaces", "kitchen", "outline"), "0, 0\n120, 0\n120, 120")
    assert "two lengths" in fault(house(), ("spaces", "kitchen", "outline"), "0, 0\n120\n120, 120\n0, 120")


# Records inside records


def test_a_record_begins_when_all_that_it_must_have_is_typed(kitchen: Project) -> None:
    path = ("things", "sink", "knee_space")
    missing = faults(kitchen, (*path, "width_mm"), "30")
    assert [one.place for one in missing] == ["things/sink/knee_space/height_mm", "things/sink/knee_space/depth_mm"]
    assert missing[0].what == "Height is missing"
    whole = with_typed(kitchen, path, {"width_mm": "30", "height_mm": "27", "depth_mm": "19"})
    knees = whole.thing("sink").knee_space  # type: ignore[attr-defined]
    assert knees.width_mm == inches(30)
    assert with_typed(whole, (*path, "toe_depth_mm"), "6").thing("sink").knee_space.toe_depth_mm == inches(6)  # type: ignore[attr-defined]
    assert with_typed(whole, path, "none").thing("sink").knee_space == "none"  # type: ignore[attr-defined]
    assert with_typed(whole, path, "").thing("sink").knee_space is None  # type: ignore[attr-defined]
    assert with_typed(kitchen, ("things", "base", "opens"), "none").thing("base").opens == "none"


def test_a_word_for_one_field_is_put_in_and_taken_out(kitchen: Project) -> None:
    said = with_typed(kitchen, (*BASE, "bases", "width_mm"), "assumed")
    assert said.thing("base").bases == {"width_mm": "assumed"}
    assert with_typed(said, (*BASE, "bases", "width_mm"), "").thing("base").bases == {}
    assert "choices" in fault(kitchen, (*BASE, "bases", "width_mm"), "guessed")
    assert "not there" in fault(kitchen, (*BASE, "bases", "no_such"), "assumed")


# What a choice brings along


def test_an_option_that_is_chosen_makes_a_decision_planned(kitchen: Project) -> None:
    chosen = with_typed(kitchen, ("decisions", "size", "choice"), "wide")
    assert (chosen.decisions[0].choice, chosen.decisions[0].status) == ("wide", "planned")
    built = with_typed(chosen, ("decisions", "size", "status"), "built")
    other = with_typed(built, ("decisions", "size", "choice"), "small")
    assert other.decisions[0].status == "built"  # only what was undecided changes
    open_again = with_typed(other, ("decisions", "size", "choice"), "")
    assert (open_again.decisions[0].choice, open_again.decisions[0].status) == (None, "undecided")
    assert "no option is chosen; expected a choice" in fault(kitchen, ("decisions", "size", "status"), "built")


def box(project: Project, id: str) -> Any:
    return stands(project.things, wall_segments(project.spaces))[id].box


@settings(max_examples=80, deadline=None)
@given(
    st.floats(30, 110), st.floats(30, 110), st.sampled_from([0, 90, 180, -90, 37.5]), st.permutations(["free", "wall"])
)
def test_another_way_of_standing_leaves_a_thing_where_it_stands(x: float, y: float, turn: float, ways: Any) -> None:
    project = house([thing("table", "t", 40, 30, free(x, y, turn))])
    before = box(project, "t")
    for way in ways:
        project = with_typed(project, ("things", "t", "place"), way)
        after = box(project, "t")
        # The middle stays, to a thousandth of a millimetre a step; the turn too where a wall runs along it.
        assert (after.x, after.y) == pytest.approx((before.x, before.y), abs=0.01)
        if turn % 90 == 0 or way == "free" == ways[0]:
            assert (after.turn_deg - before.turn_deg) % 360 == pytest.approx(0, abs=1e-6)


def test_what_is_set_in_stands_on_its_own_where_it_was_and_back_again(kitchen: Project) -> None:
    before = box(kitchen, "sink")
    apart = with_typed(kitchen, ("things", "sink", "place"), "free")
    back = with_typed(apart, ("things", "sink", "place"), "set in")
    place = back.thing("sink").place
    assert place.how == "set in"
    assert place.host == "top"  # the counter over it, and not the cabinet as wide
    for project in (apart, back):
        after = box(project, "sink")
        assert (after.x, after.y, after.turn_deg % 360) == pytest.approx((before.x, before.y, before.turn_deg % 360))
    # What is set in it can never carry it.
    assert with_typed(kitchen, ("things", "top", "place"), "set in").thing("top").place.host != "sink"  # type: ignore[union-attr]


@pytest.mark.parametrize("path", [("things", "base", "place", "from_end"), ("openings", "d", "from_end")])
def test_the_other_end_of_a_wall_measures_the_same_place(kitchen: Project, path: Path) -> None:
    again = with_typed(kitchen, path, "right")
    # 144 in of wall, less 10 in of offset, less 36 in of width
    assert spot_of(again, (*path[:-1], "offset_mm")).value == pytest.approx(inches(98))
    after, before = box(again, "base"), box(kitchen, "base")
    assert (after.x, after.y, after.turn_deg) == pytest.approx((before.x, before.y, before.turn_deg))
    assert spot_of(with_typed(again, path, "left"), (*path[:-1], "offset_mm")).value == pytest.approx(inches(10))
