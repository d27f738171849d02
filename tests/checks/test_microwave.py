"""Microwave heights (Kitchen guideline 21: 3 in below the shoulder, at most 54, at least 15 in; controls 48)."""

from __future__ import annotations

import pytest

from building import house, on_wall, one, set_in, thing
from enfilade.lengths import inches

from .said import verdict


def _mw(bottom, **more):
    return thing("microwave", "mw", 24, 15, on_wall("kitchen-north", 20), bottom=bottom, top=bottom + 15, **more)


def _cook(shoulder, **more):
    who = {"id": "a", "cooks": True, **more}
    return {"people": [who if shoulder is None else {**who, "shoulder_height_mm": inches(shoulder)}]}


@pytest.mark.parametrize(("bottom", "expected"), [(54, "met"), (55, "falls short")])
def test_highest(bottom, expected):
    assert verdict(house([_mw(bottom)]), "K21", "highest") == expected


@pytest.mark.parametrize(("bottom", "expected"), [(15, "met"), (14, "falls short")])
def test_lowest_below_the_counter(bottom, expected):
    counter = thing("counter", "counter", 60, 25, on_wall("kitchen-north", 10))
    assert verdict(house([counter, _mw(bottom)]), "K21", "lowest") == expected


def test_lowest_is_not_asked_above_the_counter():
    counter = thing("counter", "counter", 60, 25, on_wall("kitchen-north", 10))
    assert verdict(house([counter, _mw(54)]), "K21", "lowest") == "does not apply"


@pytest.mark.parametrize(("shoulder", "expected"), [(57, "met"), (56, "falls short"), (None, "missing fact")])
def test_below_the_shoulder(shoulder, expected):  # 54 + 3 = 57
    assert verdict(house([_mw(54)], household=_cook(shoulder)), "K21", "below shoulder") == expected


def test_the_field_that_is_missing_is_named():
    finding = one(house([_mw(54)], household=_cook(None)), "K21", containing="shoulder")
    assert finding.needs == ("household.people.a.shoulder_height_mm",)


def test_a_shoulder_of_someone_who_does_not_cook_does_not_count():
    household = {"people": [{"id": "b", "shoulder_height_mm": inches(60)}]}
    assert verdict(house([_mw(54)], household=household), "K21", "below shoulder") == "missing fact"


@pytest.mark.parametrize(("height", "expected"), [(48, "met"), (49, "falls short"), (None, "missing fact")])
def test_controls(height, expected):
    more = {} if height is None else {"control_height_mm": inches(height)}
    assert verdict(house([_mw(36, **more)]), "K21a", yardstick="us-access") == expected


def test_without_a_microwave():
    for part in ("highest", "lowest", "below shoulder"):
        assert verdict(house([]), "K21", part) == "does not apply"


def test_a_microwave_set_in_an_island_is_below_its_top():
    island = thing("island", "island", 60, 36, {"how": "free", "x_mm": 1800, "y_mm": 1800})
    inside = thing("microwave", "mw", 24, 15, set_in("island", 10), bottom=16, top=31)
    assert verdict(house([island, inside]), "K21", "lowest") == "met"
