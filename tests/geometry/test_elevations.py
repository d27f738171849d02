"""Footprints as they show on a wall."""

from __future__ import annotations

import pytest
from hypothesis import given, settings

from enfilade.errors import OutOfRange
from enfilade.geometry import Box, on_wall, walls

from .placing import Placing, placings

ROOM = [(0.0, 0.0), (4000.0, 0.0), (4000.0, 3000.0), (0.0, 3000.0)]


def test_a_cabinet_against_the_north_wall() -> None:
    north = walls(ROOM)[2]
    shape = on_wall(north, Box(1000, 2700, 900, 600), 0, 914)
    assert (shape.left_mm, shape.right_mm, shape.width_mm) == (550, 1450, 900)
    assert (shape.bottom_mm, shape.top_mm, shape.distance_mm, shape.facing) == (0, 914, 0, "front")


def test_measured_from_the_left_as_seen_from_inside() -> None:
    south = walls(ROOM)[0]
    shape = on_wall(south, Box(1000, 300, 900, 600, 180), 0, 914)
    assert (shape.left_mm, shape.right_mm, shape.facing) == (2550, 3450, "front")


@pytest.mark.parametrize(
    ("turn", "facing"), [(0, "front"), (90, "left"), (180, "back"), (270, "right"), (30, "angled")]
)
def test_which_side_shows(turn: float, facing: str) -> None:
    # facing east (turn 90), the person before it looks west and has south on the left: that side shows from the south
    assert on_wall(walls(ROOM)[2], Box(2000, 1500, 900, 600, turn), 0, 914).facing == facing


def test_standing_off_and_into_the_wall() -> None:
    north = walls(ROOM)[2]
    assert on_wall(north, Box(2000, 2000, 900, 600), 0, 1).distance_mm == 700
    assert on_wall(north, Box(2000, 2900, 900, 600), 0, 1).distance_mm == -200
    with pytest.raises(OutOfRange, match="from 10 up to 5"):
        on_wall(north, Box(2000, 2000, 900, 600), 10, 5)


@given(placings)
@settings(max_examples=20, deadline=None)
def test_an_elevation_does_not_change_when_the_house_is_turned(placing: Placing) -> None:
    box = Box(1200, 2200, 900, 600, 12)
    here = on_wall(walls(ROOM)[2], box, 0, 914)
    there = on_wall(walls(placing.points(ROOM))[2], placing.box(box), 0, 914)
    assert (there.left_mm, there.right_mm, there.distance_mm) == pytest.approx(
        (here.left_mm, here.right_mm, here.distance_mm), abs=1e-6
    )
    assert there.facing == here.facing
