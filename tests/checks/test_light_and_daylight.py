"""Light (Kitchen guideline 31) and glazing (guideline 31 and residential code R303.1: 8% glazed, 4% to open)."""

from __future__ import annotations

import pytest

from building import door, free, house, on_wall, one, room, set_in, thing, window

from .said import verdict, verdicts

FT2 = (12 * 25.4) ** 2 / 1e6  # m2 in a square foot


def _lit(*lights, extra=()):
    things = [thing("counter", "counter", 60, 25, on_wall("kitchen-north", 0)), *extra]
    for n, (offset, gap, purpose) in enumerate(lights):
        things.append(thing("light", f"light-{n}", 20, 2, on_wall("kitchen-north", offset, gap=gap), purpose=purpose))
    return house(things)


@pytest.mark.parametrize(
    ("light", "expected"),
    [
        ((10, 5, "task"), "met"),
        ((10, 5, "general"), "falls short"),
        ((72, 5, "task"), "met"),  # 12 in beyond the end
        ((73, 5, "task"), "falls short"),
    ],
)
def test_task_light(light, expected):
    assert verdict(_lit(light), "K31", "task light") == expected


def test_each_place_of_work_wants_its_own():
    sink = thing("sink", "sink", 24, 20, set_in("counter", 18))
    # Counter 18 in, sink 24 in, counter 18 in: a light over the left end is over 12 in from the right part.
    finding = one(_lit((0, 5, "task"), extra=[sink]), "K31", containing="task")
    assert finding.measured.value == 1
    assert len(finding.marks) == 1


def test_task_light_without_lights_or_surfaces():
    assert verdict(_lit(), "K31", "task light") == "missing fact"
    assert verdict(house([]), "K31", "task light") == "does not apply"


def _switched(distance, controls=("lamp",)):
    # The way in takes 50 to 86 in along the south wall from its left end; the switch stands to its right.
    switch = thing("switch", "switch", 2, 1, on_wall("kitchen-south", 86 + distance - 1), controls=list(controls))
    lamp = thing("light", "lamp", 10, 10, free(72, 72))
    return house([switch, lamp], openings=[door("way", "kitchen-south", 50)])


@pytest.mark.parametrize(
    ("distance", "controls", "expected"),
    [(35, ["lamp"], "met"), (40, ["lamp"], "falls short"), (10, [], "falls short")],
)
def test_switch_at_the_way_in(distance, controls, expected):
    assert verdict(_switched(distance, controls), "K31", "switched light") == expected


def test_switched_light_with_nothing_on_record():
    finding = one(house([]), "K31", containing="switched")
    assert finding.because == "missing fact"
    assert len(finding.needs) == 3


def _glazed(share, **more):
    """Return a kitchen of 144 sq ft with a window whose glass is a share of the floor [%]."""
    glazing = {"area_m2": 144 * FT2 * share / 100, **more.pop("glazing", {})}
    return house([], openings=[window("win", "kitchen-north", 10, glazing=glazing, beyond="none", **more)])


@pytest.mark.parametrize(("share", "expected"), [(8.001, "met"), (7.9, "falls short")])
def test_glazed_share(share, expected):
    assert verdict(_glazed(share), "K31", "glazing") == expected
    assert verdict(_glazed(share), "I303a", "glazing") == expected


@pytest.mark.parametrize(
    ("openable", "operable", "expected"),
    [(4.001, True, "met"), (3.9, True, "falls short"), (None, True, "missing fact"), (None, False, "falls short")],
)
def test_openable_share(openable, operable, expected):
    glazing = {} if openable is None else {"openable_m2": 144 * FT2 * openable / 100}
    assert verdict(_glazed(8, glazing=glazing, operable=operable), "I303a", "openable") == expected


def test_unrecorded_glass_is_the_whole_opening_and_assumed():
    kitchen = house([], openings=[window("win", "kitchen-north", 10, 36, 48)])
    finding = one(kitchen, "K31", containing="glazing")
    assert finding.measured.value == pytest.approx(100 * 12 / 144, abs=1e-6)  # 36 x 48 in = 12 sq ft
    assert finding.assumed == ("win.glazing.area_m2",)
    assert any("safety glazing" in line for line in finding.also)


@pytest.mark.parametrize(("rule", "part"), [("K31", "glazing"), ("I303a", "glazing"), ("I303a", "openable")])
def test_daylight_findings_caution_about_air_and_glass(rule, part):
    # Judged, and not assessed for want of a fact.
    for operable in (False, True):
        caution = one(_glazed(7, operable=operable), rule, containing=part).caution
        assert "Poor air" in caution
        assert "Breaking glass cuts" in caution


def test_windows_to_other_rooms_give_no_daylight():
    spaces = [room(144, 144), room(144, 144, id="hall", use="hall", at=(0, 144))]
    kitchen = house([], spaces=spaces, openings=[window("win", "kitchen-north", 10, beyond="hall-south")])
    assert one(kitchen, "K31", containing="glazing").measured.value == 0


def test_a_skylight_counts():
    sky = {**window("sky", "kitchen-north", 10, 36, 48), "kind": "skylight"}
    assert one(house([], openings=[sky]), "K31", containing="glazing").verdict == "met"


def test_the_floor_is_that_of_the_whole_room():
    spaces = [
        room(144, 144, open_sides=["north"]),
        room(144, 144, id="dining", use="dining", at=(0, 144), open_sides=["south"]),
    ]
    win = window("win", "dining-north", 10, 36, 96, 0, glazing={"area_m2": 288 * FT2 * 0.0801})
    assert one(house([], spaces=spaces, openings=[win]), "K31", containing="glazing").verdict == "met"
    less = window("win", "dining-north", 10, 36, 96, 0, glazing={"area_m2": 288 * FT2 * 0.0799})
    assert one(house([], spaces=spaces, openings=[less]), "K31", containing="glazing").verdict == "falls short"


def test_only_habitable_rooms_want_windows():
    assert verdicts(house([], spaces=[room(100, 100, id="hall", use="hall")]), "I303a", "glazing") == []
