"""Windows, window dressing and extinguishers (Kitchen guideline 20; height 15 to 48 in in its access part)."""

from __future__ import annotations

import pytest

from building import door, house, on_wall, one, thing, window

from .said import verdict, verdicts

RANGE = thing("range", "range", 30, 26, on_wall("kitchen-north", 50))
DOOR = door("way", "kitchen-south", 10)


@pytest.mark.parametrize(
    ("offset", "operable", "expected"),
    [
        (50, True, "falls short"),
        (50, False, "met"),
        (50, None, "missing fact"),
        (80, True, "met"),  # beside the range: 50 + 30 = 80, they only touch
        (79, True, "falls short"),
    ],
)
def test_under_a_window_that_opens(offset, operable, expected):
    kitchen = house([RANGE], openings=[window("win", "kitchen-north", offset, 30, operable=operable)])
    assert verdict(kitchen, "K20", "under window") == expected


def test_a_window_of_another_wall_does_not_count():
    kitchen = house([RANGE], openings=[window("win", "kitchen-south", 50, 30, operable=True)])
    assert verdict(kitchen, "K20", "under window") == "met"


@pytest.mark.parametrize(("flammable", "expected"), [(True, "falls short"), (False, "met"), (None, "missing fact")])
def test_window_dressing(flammable, expected):
    blind = thing("window treatment", "blind", 30, 2, on_wall("kitchen-north", 50), opening="win", flammable=flammable)
    kitchen = house([RANGE, blind], openings=[window("win", "kitchen-north", 50, 30, operable=False)])
    assert verdict(kitchen, "K20", "window dressing") == expected


def test_without_a_window_there_is_nothing_to_dress():
    assert verdict(house([RANGE]), "K20", "window dressing") == "does not apply"


@pytest.mark.parametrize(("wall", "offset", "expected"), [("south", 46, "met"), ("north", 30, "falls short")])
def test_extinguisher_nearer_to_the_way_out(wall, offset, expected):
    # The way out is in the south wall, the range stands at the north wall, 118 in further.
    ext = thing("extinguisher", "ext", 5, 5, on_wall(f"kitchen-{wall}", offset))
    assert verdict(house([RANGE, ext], openings=[DOOR]), "K20", "extinguisher") == expected


def test_no_extinguisher_falls_short_and_no_door_is_a_missing_fact():
    assert verdict(house([RANGE], openings=[DOOR]), "K20", "extinguisher") == "falls short"
    assert verdict(house([RANGE]), "K20", "extinguisher") == "missing fact"
    assert one(house([]), "K20", containing="extinguisher").needs == ("kitchen: a cooking surface",)


@pytest.mark.parametrize(("top", "expected"), [(48, "met"), (49, "falls short"), (14, "falls short"), (15, "met")])
def test_extinguisher_height(top, expected):
    ext = thing("extinguisher", "ext", 5, 5, on_wall("kitchen-south", 60), bottom=1, top=top)
    assert verdict(house([RANGE, ext]), "K20", "extinguisher height", yardstick="us-access") == expected
    assert verdicts(house([RANGE, ext]), "K20", "extinguisher height") == []


def test_fire_findings_carry_a_caution():
    assert "fire" in one(house([RANGE], openings=[DOOR]), "K20", containing="extinguisher").caution.lower()
