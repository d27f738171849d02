"""Receptacles (Kitchen guideline 30; electrical code 210.52(C)). Planning figures only."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from building import findings, free, house, on_wall, one, set_in, thing
from enfilade.standards.yardsticks import yardstick

from .said import verdict, verdicts


def _counter(width, offset=0.0, wall="north", id="counter", **more):
    return thing("counter", id, width, 25, on_wall(f"kitchen-{wall}", offset), **more)


def _outlet(at, id="outlet", wall="north", **more):
    """Return a receptacle with its middle `at` inches along a wall and 44 in up."""
    return thing("receptacle", id, 3, 1, on_wall(f"kitchen-{wall}", at - 1.5), **more)


@pytest.mark.parametrize(
    ("protected", "expected"), [([True, True], "met"), ([True, False], "falls short"), ([True, None], "missing fact")]
)
def test_ground_fault(protected, expected):
    outlets = [_outlet(10 + 20 * n, f"o-{n}", ground_fault_protected=p) for n, p in enumerate(protected)]
    assert verdict(house([_counter(60), *outlets]), "K30", "unprotected") == expected


def test_one_known_without_protection_falls_short_whatever_is_unknown():
    outlets = [_outlet(10, "a", ground_fault_protected=False), _outlet(30, "b")]
    finding = one(house([_counter(60), *outlets]), "K30")
    assert finding.measured.value == 1
    assert finding.caution


def test_no_receptacle_on_record_is_a_missing_fact():
    assert verdict(house([_counter(60)]), "K30", "unprotected") == "missing fact"
    assert verdict(house([_counter(60)]), "IE1", "count") == "missing fact"
    assert verdict(house([]), "K30", "unprotected") == "does not apply"


@pytest.mark.parametrize(
    ("length", "at", "count", "reach"),
    [
        (48, [24], "met", "met"),
        (49, [24], "falls short", "falls short"),  # two are asked over 48 in
        (49, [12, 37], "met", "met"),
        (96, [24, 72], "met", "met"),
        (96, [10, 72], "met", "falls short"),  # 62 in apart: 31 in to the middle
        (97, [24, 72], "falls short", "falls short"),
        (48, [23], "met", "falls short"),  # 25 in to the far end
    ],
)
def test_spacing_along_a_wall(length, at, count, reach):
    kitchen = house([_counter(length), *(_outlet(place, f"o-{place}") for place in at)])
    assert verdict(kitchen, "IE1", "count") == count
    assert verdict(kitchen, "IE1", "reach") == reach


def test_counter_under_12_in_is_asked_none():
    assert verdict(house([_counter(11), _outlet(100)]), "IE1", "count") == "does not apply"


def _with_sink(setback=2.0, depth=25.0, outlets=()):
    sink = thing("sink", "sink", 24, 20, set_in("counter", 36, setback))
    counter = thing("counter", "counter", 96, depth, on_wall("kitchen-north", 0))
    return house([counter, sink, *outlets])


def test_a_sink_divides_the_wall_line():
    kitchen = _with_sink(outlets=[_outlet(10, "left"), _outlet(80, "right")])
    found = {f"{'+'.join(f.subjects)}": f for f in _findings(kitchen, "IE1:count")}
    assert set(found) == {"counter+sink", "sink+counter"}
    # 36 in left of the sink and 96 - 60 = 36 right of it.
    reach = {"+".join(f.subjects): f.measured.to("in").value for f in _findings(kitchen, "IE1:reach")}
    assert reach == {"counter+sink": 26, "sink+counter": 20}


def test_enough_counter_behind_a_sink_counts_as_wall_line():
    # 34 in deep, sink 20 deep set 2 in back: 12 in behind it (figure 210.52(C)(1), recalled).
    kitchen = _with_sink(2, 34, [_outlet(24, "a"), _outlet(72, "b")])
    assert ["+".join(f.subjects) for f in _findings(kitchen, "IE1:count")] == ["counter"]
    shallow = _with_sink(2, 33, [_outlet(24, "a"), _outlet(72, "b")])
    assert len(_findings(shallow, "IE1:count")) == 2


def _findings(kitchen, prefix):
    return [f for f in findings(kitchen, prefix.split(":")[0]) if f.id.startswith(f"{prefix}:")]


def test_a_range_divides_by_not_being_counter():
    things = [_counter(40), thing("range", "range", 30, 26, on_wall("kitchen-north", 40)), _counter(40, 70, id="b")]
    assert len(_findings(house([*things, _outlet(20)]), "IE1:count")) == 2


def test_the_line_goes_on_round_a_corner():
    # North counter to the corner, east counter from 25 in: the line is 40 + 40 in long. Wall counter
    # pieces in a corner are one; a receptacle 24 in from each end leaves 32 in between.
    things = [
        _counter(40, 104, id="north"),
        thing("counter", "east", 15, 25, on_wall("kitchen-east", 25)),
        _outlet(128, "a"), _outlet(16, "b", "east"),
    ]  # fmt: skip
    found = _findings(house(things), "IE1:reach")
    assert [f.subjects for f in found] == [("north", "east")]
    assert found[0].measured.to("in").value == 24
    assert _findings(house(things), "IE1:count")[0].working[0].startswith('counter along the wall 80"')


def test_a_receptacle_close_to_the_corner_lies_in_its_own_wall():
    # The line of the kitchen above; one in the north wall 2 in from the corner, one 40 in down the east wall: the
    # left end is 38 in away from the first.
    things = [
        _counter(40, 104, id="north"),
        thing("counter", "east", 15, 25, on_wall("kitchen-east", 25)),
        _outlet(142, "a"), _outlet(38, "b", "east"),
    ]  # fmt: skip
    found = _findings(house(things), "IE1:reach")
    assert [f.measured.to("in").value for f in found] == pytest.approx([38])


def test_the_end_of_a_counter_is_no_wall_line_of_its_own():
    found = _findings(house([_counter(40, 104), _outlet(124)]), "IE1:reach")
    assert [f.measured.to("in").value for f in found] == [20]


def test_a_receptacle_too_high_does_not_serve():
    high = _outlet(24, bottom=60, top=64)
    assert verdict(house([_counter(48), high]), "IE1", "count") == "falls short"


@settings(max_examples=25, deadline=None)
@given(st.floats(12, 140), st.floats(0.05, 0.95))
def test_no_point_is_further_than_the_longer_part(length, share):
    at = max(2.0, min(length - 2.0, share * length))
    found = _findings(house([_counter(length), _outlet(at)]), "IE1:reach")
    assert found[0].measured.to("in").value == pytest.approx(max(at, length - at), abs=1e-5)


def _island(width, depth, *outlets):
    return house([thing("island", "island", width, depth, free(72, 72)), *outlets])


def _in_island(id):
    return thing("receptacle", id, 3, 1, set_in("island", 10), serves="island", bottom=28, top=31)


@pytest.mark.parametrize(
    ("edition", "rule", "part", "count", "expected"),
    [
        ("2017", "IE2", "", 1, "met"),
        ("2017", "IE2", "", 0, "falls short"),
        # 60 x 43.2 in = 18 sq ft: one for the first 9, one more for the next 18 (edition 2020, recalled).
        ("2020", "IE3", "", 2, "met"),
        ("2020", "IE3", "", 1, "falls short"),
        ("2023", "IE3", "provision", 1, "met"),
        ("2023", "IE3", "provision", 0, "missing fact"),
    ],
)
def test_islands_by_edition(edition, rule, part, count, expected):
    rules = yardstick("us").with_options({"receptacle_edition": edition})
    far = _outlet(10, "far")
    kitchen = _island(60, 43.2, far, *(_in_island(f"o-{n}") for n in range(count)))
    assert verdict(kitchen, rule, part, yardstick=rules) == expected


def test_a_small_island_is_asked_none():  # counts from 24 x 12 in
    assert verdict(_island(23, 20, _outlet(10)), "IE3") == "does not apply"
    assert verdict(house([]), "IE3") == "does not apply"


@pytest.mark.parametrize(("middle", "expected"), [(56, "met"), (57, "falls short")])  # 36 + 20
def test_above_the_counter(middle, expected):
    outlet = _outlet(24, bottom=middle - 2, top=middle + 2)
    assert verdict(house([_counter(48), outlet]), "IE4", "above") == expected


@pytest.mark.parametrize(
    ("middle", "overhang", "part", "expected"),
    [
        (24, 0, "below", "met"),  # 36 - 12
        (23, 0, "below", "falls short"),
        (30, 6, "overhang", "met"),
        (30, 7, "overhang", "falls short"),
    ],
)
def test_below_the_counter(middle, overhang, part, expected):
    island = thing("island", "island", 60, 36, free(72, 72), overhang={"front_mm": overhang * 25.4})
    outlet = thing("receptacle", "o", 3, 1, set_in("island", 10, 0), serves="island", bottom=middle - 2, top=middle + 2)
    assert verdict(house([island, outlet]), "IE4", part) == expected


def test_below_the_counter_the_2023_edition_is_silent():
    rules = yardstick("us").with_options({"receptacle_edition": "2023"})
    kitchen = _island(60, 36, _in_island("o"))
    assert verdict(kitchen, "IE4", "below", yardstick=rules) == "source silent"


def test_a_receptacle_without_a_counter_lacks_it():
    assert verdict(house([_counter(48), _outlet(100)]), "IE4", "above") == "missing fact"


@pytest.mark.parametrize(
    ("depth", "middle", "part", "expected"),
    [
        (24, 44, "reach over counter", "met"),
        (24, 45, "reach over counter", "falls short"),
        (19, 48, "reach", "met"),
        (19, 49, "reach", "falls short"),
        (26, 44, "reach over counter", "source silent"),
        (26, 45, "reach over counter", "falls short"),
    ],
)
def test_reach_over_a_counter(depth, middle, part, expected):
    counter = thing("counter", "counter", 60, depth, on_wall("kitchen-north", 0))
    outlet = _outlet(24, bottom=middle - 2, top=middle + 2)
    assert verdict(house([counter, outlet]), "K30", part, yardstick="us-access") == expected


@pytest.mark.parametrize(("one_hand", "expected"), [(True, "met"), (False, "falls short"), (None, "missing fact")])
def test_one_hand(one_hand, expected):
    kitchen = house([_counter(48), _outlet(24, one_hand=one_hand), _outlet(100, "w", serves="wall", one_hand=one_hand)])
    assert verdict(kitchen, "K30", "force", yardstick="us-access") == expected
    assert verdict(kitchen, "A309", yardstick="us-access") == expected


@pytest.mark.parametrize(
    ("middle", "part", "expected"),
    [(48, "high", "met"), (49, "high", "falls short"), (15, "low", "met"), (14, "low", "falls short")],
)
def test_switches_within_forward_reach(middle, part, expected):  # ADA 308.2.1
    switch = thing("switch", "s", 3, 1, on_wall("kitchen-south", 20), bottom=middle - 1, top=middle + 1)
    assert verdict(house([switch]), "A3082", part, yardstick="us-access") == expected


@pytest.mark.parametrize(
    ("depth", "middle", "part", "expected"),
    [
        (20, 48, "over 20 in", "met"),
        (20, 49, "over 20 in", "falls short"),
        (25, 44, "over 25 in", "met"),
        (25, 45, "over 25 in", "falls short"),
        (26, 44, "over 25 in", "source silent"),
        (26, 45, "over 25 in", "falls short"),
    ],
)
def test_switches_over_a_counter(depth, middle, part, expected):  # ADA 308.2.2
    counter = thing("counter", "counter", 60, depth, on_wall("kitchen-north", 0))
    switch = thing("switch", "s", 3, 1, on_wall("kitchen-north", 20), bottom=middle - 1, top=middle + 1)
    assert verdict(house([counter, switch]), "A3082b", part, yardstick="us-access") == expected


@pytest.mark.parametrize("place", [on_wall("kitchen-south", 115.5), on_wall("kitchen-west", 61)])
def test_a_switch_beside_a_counter_is_not_reached_over_it(place):
    # Counter on the west wall, x 0 to 25, y 0 to 60. One switch before its front edge, one beyond its end.
    counter = thing("counter", "counter", 60, 25, on_wall("kitchen-west", 0))
    switch = thing("switch", "s", 3, 1, place, bottom=45, top=47)
    assert verdict(house([counter, switch]), "A3082", "high", yardstick="us-access") == "met"


def test_without_the_access_parts_reach_is_not_judged():
    kitchen = house([_counter(48), _outlet(24)])
    assert verdicts(kitchen, "K30", "reach over counter") == verdicts(kitchen, "A3082", "high") == []
