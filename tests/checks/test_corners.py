"""Exposed counter corners (Kitchen guideline 26: clipped or rounded)."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from building import free, house, on_wall, one, thing

from .said import verdict


def _island(turn=0.0, **more):
    return thing("island", "island", 60, 36, free(72, 72, turn), **more)


def _corners(kitchen, id):
    return len(one(kitchen, "K26", containing=id).marks)


@pytest.mark.parametrize(
    ("corners", "expected"),
    [("rounded", "met"), ("clipped", "met"), ("square", "falls short"), (None, "missing fact"), ("none", "met")],
)
def test_island(corners, expected):
    assert verdict(house([_island(corners=corners)]), "K26") == expected


def test_an_island_has_four():
    finding = one(house([_island(corners="square")]), "K26")
    assert (finding.measured.value, len(finding.marks)) == (4, 4)


@pytest.mark.parametrize(
    ("offset", "width", "exposed"),
    [
        (0, 144, 0),  # wall to wall
        (0, 100, 1),  # one end stands free
        (20, 100, 2),
        (0, 142, 0),  # 2 in before the wall: nobody walks there
    ],
)
def test_counter_ends_against_walls(offset, width, exposed):
    counter = thing("counter", "counter", width, 25, on_wall("kitchen-north", offset), corners="square")
    assert _corners(house([counter]), "counter") == exposed


def test_a_neighbour_hides_a_corner_only_when_it_reaches_the_top():
    counter = thing("counter", "counter", 60, 25, on_wall("kitchen-north", 0), corners="square")
    tall = thing("refrigerator", "cold", 36, 28, on_wall("kitchen-north", 60))
    low = thing("base cabinet", "low", 36, 24, on_wall("kitchen-north", 60), top=20)
    assert _corners(house([counter]), "counter") == 1
    assert _corners(house([counter, tall]), "counter") == 0
    assert _corners(house([counter, low]), "counter") == 1


def test_a_peninsula_has_its_two_free_corners():
    run = thing("counter", "run", 144, 25, on_wall("kitchen-north", 0), corners="square")
    out = thing("peninsula", "out", 60, 25, free(100, 144 - 25 - 30, 90), joined="right", corners="square")
    assert _corners(house([run, out]), "out") == 2


def test_a_missing_counter_over_base_cabinets_is_told():
    base = thing("base cabinet", "base", 36, 24, on_wall("kitchen-north", 0))
    assert verdict(house([base]), "K26") == "missing fact"
    assert verdict(house([]), "K26") == "does not apply"


@settings(max_examples=20, deadline=None)
@given(st.floats(0, 359))
def test_turning_an_island_changes_nothing(turn):
    assert one(house([_island(turn, corners="square")]), "K26").measured.value == 4
