"""Storage within reach (guideline 27, access part: 15 to 48 in, 44 over a counter; ADA 804.5: half of the shelves)."""

from __future__ import annotations

import pytest

from building import house, on_wall, one, thing
from enfilade.lengths import inches

from .said import verdict, verdicts


def _shelf(heights, *, bottom=15, top=60, **more):
    return thing(
        "open shelf", "shelf", 30, 12, on_wall("kitchen-north", 0), bottom=bottom, top=top, shelves=len(heights),
        shelf_heights_mm=[inches(h) for h in heights], **more,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("heights", "expected"), [([15, 48], "met"), ([14, 48], "falls short"), ([15, 49], "falls short")]
)
def test_often_used_shelves(heights, expected):
    assert verdict(house([_shelf(heights)]), "K27a", "reach", yardstick="us-access") == expected


def test_the_shelf_furthest_out_is_measured():
    finding = one(house([_shelf([10, 20, 60])]), "K27a", yardstick="us-access")
    assert finding.measured.to("in").value == 60
    assert any("1 of 3" in line for line in finding.working)


def test_what_is_seldom_used_and_what_is_unknown():
    assert verdict(house([_shelf([80], top=90, frequently_used=False)]), "K27a", "reach", yardstick="us-access") == (
        "does not apply"
    )
    bare = thing("base cabinet", "bare", 30, 24, on_wall("kitchen-north", 0))
    assert verdict(house([bare]), "K27a", "reach", yardstick="us-access") == "missing fact"


@pytest.mark.parametrize(
    ("depth", "height", "part", "expected"),
    [
        (24, 44, "high reach over counter", "met"),
        (24, 45, "high reach over counter", "falls short"),
        (19, 48, "reach", "met"),
        (19, 49, "reach", "falls short"),
        (26, 40, "high reach over counter", "source silent"),
        (26, 50, "high reach over counter", "falls short"),  # too high over 25 in is too high over 26
    ],
)
def test_over_a_counter(depth, height, part, expected):
    counter = thing("counter", "counter", 60, depth, on_wall("kitchen-north", 0))
    shelf = _shelf([height], bottom=38, top=60)
    assert verdict(house([counter, shelf]), "K27a", part, yardstick="us-access") == expected


@pytest.mark.parametrize(
    ("heights", "expected"),
    [([20, 60], "met"), ([20, 60, 70], "falls short")],  # 50% and 33%
)
def test_half_of_the_shelf_space(heights, expected):
    assert verdict(house([_shelf(heights, top=90)]), "A8045", yardstick="us-access") == expected


def test_shelf_space_of_an_unknown_cabinet():
    bare = thing("base cabinet", "bare", 30, 24, on_wall("kitchen-south", 0))
    assert verdict(house([_shelf([20]), bare]), "A8045", yardstick="us-access") == "missing fact"
    assert verdict(house([]), "A8045", yardstick="us-access") == "does not apply"


def test_shelf_space_over_a_deep_counter_is_out_of_reach():
    counter = thing("counter", "counter", 60, 26, on_wall("kitchen-north", 0))
    assert one(house([counter, _shelf([40], bottom=38)]), "A8045", yardstick="us-access").measured.value == 0


def test_without_the_access_parts_nothing_is_said():
    assert verdicts(house([_shelf([60])]), "K27a", "reach") == []
