"""The toolkit's own rules: needs and decisions, things inside the room and clear of each other."""

from __future__ import annotations

from math import cos, radians, sin

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from building import free, house, on_wall, one, room, set_in, thing, window

from .said import verdict, verdicts

NEED = {"id": "need", "number": 1, "text": "Room for everybody."}


def _decided(**more):
    return {"id": "chosen", "number": 1, "title": "A table", "status": "planned", "reason": "It fits.", **more}


@pytest.mark.parametrize(("needs", "expected"), [(["need"], "met"), ([], "falls short")])
def test_needs_and_decisions_meet(needs, expected):
    plan = house([], brief={"needs": [NEED]}, decisions=[_decided(needs=needs)])
    assert verdict(plan, "R1") == expected
    assert verdict(plan, "R2") == expected


def test_a_house_without_needs_and_decisions_says_so():
    plan = house([])
    assert verdict(plan, "R1") == verdict(plan, "R2") == verdict(plan, "R3") == "missing fact"
    assert one(plan, "R1").needs == ("brief.needs",)
    assert one(plan, "R3").needs == ("decisions",)


def test_an_open_decision_is_told():
    finding = one(house([], brief={"needs": [NEED]}, decisions=[_decided(needs=["need"], status="undecided")]), "R1")
    assert any("still open" in line for line in finding.working)


def test_without_a_brief_no_decision_can_answer_it():
    assert verdict(house([], decisions=[_decided()]), "R2") == "missing fact"


@pytest.mark.parametrize(
    ("reason", "status", "expected"),
    [("Because.", "planned", "met"), (" ", "built", "falls short"), ("", "undecided", "does not apply")],
)
def test_reasons(reason, status, expected):
    assert verdict(house([], decisions=[_decided(reason=reason, status=status)]), "R3") == expected


@pytest.mark.parametrize(("y", "expected"), [(132, "met"), (132.02, "met"), (133, "falls short")])
def test_things_inside_their_room(y, expected):  # 144 in deep, a box 24 in deep: its middle at most at 132
    box = thing("base cabinet", "box", 30, 24, free(70, y))
    assert verdict(house([box]), "R4") == expected


def test_how_far_it_sticks_out_is_measured():
    finding = one(house([thing("base cabinet", "box", 30, 24, free(70, 134))]), "R4")
    assert finding.measured.to("in").value == pytest.approx(2, abs=0.05)
    assert finding.marks


def test_an_opening_lets_a_counter_through():
    counter = thing("counter", "bar", 30, 30, on_wall("kitchen-north", 20, gap=-5))
    assert verdict(house([counter]), "R4") == "falls short"
    hatch = {**window("hatch", "kitchen-north", 15, 40), "kind": "pass-through"}
    assert verdict(house([counter], openings=[hatch]), "R4") == "met"


def test_an_open_side_is_no_wall():
    spaces = [
        room(144, 144, open_sides=["north"]),
        room(144, 144, id="dining", use="dining", at=(0, 144), open_sides=["south"]),
    ]
    across = thing("island", "across", 60, 36, free(72, 140))
    assert set(verdicts(house([across], spaces=spaces), "R4")) == {"met", "does not apply"}


@pytest.mark.parametrize(("x", "expected"), [(50, "met"), (49.98, "met"), (49, "falls short")])
def test_things_side_by_side(x, expected):
    a = thing("base cabinet", "a", 30, 24, free(20, 60))
    b = thing("base cabinet", "b", 30, 24, free(x, 60))
    assert verdict(house([a, b]), "R5") == expected


def test_the_overlap_is_its_area():
    things = [thing("base cabinet", "a", 30, 24, free(20, 60)), thing("base cabinet", "b", 30, 24, free(40, 60))]
    # 10 in by 24 in.
    assert one(house(things), "R5").measured.to("sq in").value == pytest.approx(240)


@pytest.mark.parametrize(
    "pair",
    [
        # under a counter, in it, above it
        [("counter", 60, 25, {}), ("base cabinet", 36, 24, {})],
        [("counter", 60, 25, {}), ("dishwasher", 24, 24, {})],
        [("island", 60, 36, {}), ("base cabinet", 36, 24, {})],
        [("sink", 30, 20, {}), ("base cabinet", 36, 24, {})],
        [("base cabinet", 36, 24, {}), ("wall cabinet", 36, 12, {})],
        [("tall cabinet", 30, 24, {}), ("oven", 28, 22, {})],
        [("base cabinet", 18, 24, {}), ("waste", 15, 20, {})],
        [("table", 60, 36, {}), ("seat", 18, 18, {})],
    ],
    ids=lambda pair: f"{pair[0][0]}, {pair[1][0]}",
)
def test_what_belongs_together_is_no_clash(pair):
    things = [
        thing(kind, f"t-{n}", width, depth, free(72, 72), **more) for n, (kind, width, depth, more) in enumerate(pair)
    ]
    assert verdict(house(things), "R5") == "met"


def test_a_refrigerator_in_an_island_is_a_clash():
    things = [thing("island", "i", 60, 36, free(72, 72)), thing("refrigerator", "r", 30, 28, free(80, 80))]
    assert verdict(house(things), "R5") == "falls short"


def test_what_is_set_in_its_host_is_no_clash():
    things = [
        thing("furniture piece", "dresser", 60, 20, free(72, 72), top=80),
        thing("open shelf", "inside", 20, 10, set_in("dresser", 5), bottom=20, top=40),
    ]
    assert verdict(house(things), "R5") == "met"


@settings(max_examples=20, deadline=None)
@given(st.floats(0, 359), st.floats(0, 29))
def test_turning_two_cabinets_together_keeps_the_overlap(turn, shift):
    away = 30 - shift
    x, y = 72 + away * cos(radians(turn)), 72 + away * sin(radians(turn))
    things = [
        thing("base cabinet", "a", 30, 24, free(72, 72, turn)), thing("base cabinet", "b", 30, 24, free(x, y, turn)),
    ]  # fmt: skip
    expected = "falls short" if shift > 0.05 else "met"
    if shift > 0.05 or shift < 0.02:
        assert verdict(house(things), "R5") == expected
