"""Doors against appliances and their doors, Kitchen guideline 2."""

from __future__ import annotations

import math

import pytest

from building import door, findings, free, house, on_wall, one, thing
from enfilade.lengths import inches

FLAP = {"kind": "drop-down", "reach_mm": inches(24)}
DOOR = {"hinge": "left", "into": "this side"}


def test_a_door_that_sweeps_past_the_appliances_meets_the_guideline() -> None:
    project = house(
        [thing("dishwasher", "dw", 24, 24, on_wall("kitchen-north", 20), opens=[FLAP])],
        openings=[door("way", "kitchen-south", 48, swing=DOOR)],
    )
    found = one(project, "K2", containing="way")
    assert (found.verdict, found.measured and found.measured.value) == ("met", 0.0)


def test_the_sweep_over_an_open_appliance_door_is_measured() -> None:
    # Door x 60 to 96, hinged at (96, 0), sweeping a quarter circle of 36 in. A dishwasher 24 in wide whose open
    # flap covers x 60 to 84, y 20 to 44; the sweep covers it where (x - 96)^2 + y^2 <= 36^2.
    project = house(
        [thing("dishwasher", "dw", 24, 24, free(72, 56), opens=[FLAP])],
        openings=[door("way", "kitchen-south", 48, swing=DOOR)],
    )
    found = one(project, "K2", containing="way")
    assert found.verdict == "falls short"
    # Area under the circle between x = 66.07 (where it is 20 in high) and 84, above y = 20: integrated by hand.
    half = lambda u: (u * math.sqrt(36**2 - u**2) + 36**2 * math.asin(u / 36)) / 2  # noqa: E731
    low = -math.sqrt(36**2 - 20**2)
    expected = half(-12) - half(low) - 20 * (-12 - low)
    assert found.measured is not None
    assert found.measured.to("sq in").value == pytest.approx(expected, rel=2e-3)


def test_the_body_of_an_appliance_counts_without_knowing_its_doors() -> None:
    body = thing("refrigerator", "cold", 30, 30, free(80, 30))
    project = house([body], openings=[door("way", "kitchen-south", 48, swing=DOOR)])
    assert one(project, "K2", containing="way").verdict == "falls short"


def test_unknown_appliance_doors_near_a_door_are_asked_for_and_far_ones_not() -> None:
    near = house(
        [thing("dishwasher", "dw", 24, 24, free(72, 64))], openings=[door("way", "kitchen-south", 48, swing=DOOR)]
    )
    assert one(near, "K2", containing="way").needs == ("dw.opens",)
    far = house(
        [thing("dishwasher", "dw", 24, 24, on_wall("kitchen-north", 20))],
        openings=[door("way", "kitchen-south", 48, swing=DOOR)],
    )
    assert one(far, "K2", containing="way").verdict == "met"


def test_what_lies_beyond_a_right_angle_is_not_looked_at() -> None:
    # The door opens flat to the wall; the refrigerator stands behind it, past a right angle (guideline 2: 0 to 90).
    behind = thing("refrigerator", "cold", 30, 24, free(120, 24), opens="none")
    wide = {**DOOR, "angle_deg": 170}
    project = house([behind], openings=[door("way", "kitchen-south", 48, swing=wide)])
    assert one(project, "K2", containing="way").verdict == "met"


def test_a_door_that_turns_away_sweeps_nothing_and_an_unknown_one_is_asked_for() -> None:
    away = house(openings=[door("way", "kitchen-south", 48, swing={"hinge": "left", "into": "other side"})])
    assert one(away, "K2", containing="way").verdict == "met"
    assert one(house(openings=[door("way", "kitchen-south", 48)]), "K2", containing="way").needs == ("way.swing",)
    assert one(house(), "K2", containing="entry-door").because == "does not apply"


def pair(gap: float, **oven: object) -> list[dict[str, object]]:
    """A dishwasher against the north wall and an oven against the east wall, `gap` in from the corner each."""
    return [
        thing("dishwasher", "dw", 24, 24, on_wall("kitchen-north", gap, from_end="right"), opens=[FLAP]),
        thing("range", "range", 30, 24, on_wall("kitchen-east", gap, from_end="left"), opens=[{**FLAP, **oven}]),
    ]


def test_two_flaps_at_a_corner_meet() -> None:
    # Open flaps reach 48 in from their walls. With 24 in to the corner the dishwasher's flap covers x 96-120,
    # y 96-120 and the range's x 96-120, y 90-120: they share 24 x 24 in.
    found = one(house(pair(24)), "K2", containing="appliance-doors")
    assert found.verdict == "falls short"
    assert found.subjects == ("dw", "range")
    assert found.measured is not None
    assert found.measured.to("sq in").value == pytest.approx(576)


def test_flaps_beyond_each_others_reach_meet_the_guideline() -> None:
    found = one(house(pair(48)), "K2", containing="appliance-doors")
    assert (found.verdict, found.subjects) == ("met", ("kitchen",))


def test_leaves_at_other_heights_do_not_meet() -> None:
    found = one(house(pair(24, bottom_mm=inches(12), top_mm=inches(30))), "K2", containing="appliance-doors")
    assert found.verdict == "met"


def test_a_leaf_at_a_right_angle_covers_nothing_of_its_neighbour() -> None:
    # A refrigerator hung on the side of the dishwasher: both sweeps end on the line between the two.
    leaf = {"kind": "hinged", "hinge": "right"}
    project = house([
        thing("refrigerator", "cold", 36, 30, on_wall("kitchen-north", 20), opens=[leaf]),
        thing("dishwasher", "dw", 24, 24, on_wall("kitchen-north", 56), opens=[FLAP]),
    ])  # fmt: skip
    assert one(project, "K2", containing="appliance").verdict == "met"


def test_appliance_doors_that_are_not_recorded() -> None:
    unknown = house([*pair(48)[:1], thing("range", "range", 30, 24, on_wall("kitchen-east", 48))])
    assert one(unknown, "K2", containing="appliance-doors").needs == ("range.opens",)
    assert one(house(), "K2", containing="appliance-doors").because == "does not apply"


def test_a_hinge_is_read_off_a_recorded_handle() -> None:
    leaf = {"kind": "hinged"}
    cold = thing("refrigerator", "cold", 30, 30, free(100, 100), opens=[leaf], handle="left")
    other = thing("dishwasher", "dw", 24, 24, on_wall("kitchen-south", 10), opens=[FLAP])
    assert one(house([cold, other]), "K2", containing="appliance-doors").verdict == "met"
    unsaid = thing("refrigerator", "cold", 30, 30, free(100, 100), opens=[leaf])
    assert findings(house([unsaid, other]), "K2", containing="appliance-doors")[0].needs == ("cold.opens.hinge",)
