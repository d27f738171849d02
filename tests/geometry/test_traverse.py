"""Rooms walked wall by wall: corners, the closing error, and the laws of spreading it."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from enfilade.errors import OutOfRange, Refused
from enfilade.geometry.outlines import area_m2
from enfilade.geometry.points import distance, turned
from enfilade.geometry.traverse import (
    LEFT_DEG,
    RIGHT_DEG,
    Diagonal,
    Leg,
    Walked,
    corrections,
    diagonal_difference_mm,
    outline_of,
    spread,
    spread_rule,
    walked,
)


def walk_of(
    *lengths: float, turn: float = RIGHT_DEG, start: tuple[float, float] = (0, 0), heading: float = 90
) -> Walked:
    return walked([Leg(length, turn) for length in lengths], start, heading)


lengths = st.floats(100, 20_000).map(lambda v: round(v, 1))
right_turns = st.sampled_from([RIGHT_DEG, LEFT_DEG])
any_turns = st.floats(-170, 170).map(lambda v: round(v, 2))
headings = st.floats(-360, 360).map(lambda v: round(v, 1))
starts = st.tuples(st.floats(-50_000, 50_000), st.floats(-50_000, 50_000))
square_walks = st.lists(st.builds(Leg, lengths, right_turns), min_size=3, max_size=12)
any_walks = st.lists(st.builds(Leg, lengths, any_turns), min_size=3, max_size=12)


# What a walk is


def test_a_room_of_four_walls_closes() -> None:
    walk = walk_of(3600, 4200, 3600, 4200)
    assert walk.corners == ((0, 0), (0, 3600), (4200, 3600), (4200, 0))
    assert (walk.error_mm, walk.one_in, walk.turn_error_deg) == (0, None, 0)
    assert area_m2(outline_of(walk)) == pytest.approx(4.2 * 3.6)


def test_the_closing_error_is_where_the_walk_ends() -> None:
    walk = walk_of(3600, 4200, 3605, 4212)
    assert walk.error == pytest.approx((-12, -5))
    assert walk.error_mm == pytest.approx(13)  # 5, 12, 13
    assert walk.perimeter_mm == 15_617
    assert walk.one_in == pytest.approx(15_617 / 13)


def test_to_the_left_is_the_room_on_the_other_hand() -> None:
    walk = walk_of(3600, 4200, 3600, 4200, turn=LEFT_DEG, heading=0, start=(100, 50))
    assert walk.corners == ((100, 50), (3700, 50), (3700, 4250), (100, 4250))
    assert walk.turn_error_deg == 0


def test_turns_that_do_not_come_round_are_told() -> None:
    walk = walked([Leg(3000, -90), Leg(3000, -91), Leg(3000, -90), Leg(3000, -88)])
    assert walk.turned_deg == -359
    assert walk.turn_error_deg == -1
    assert not walk.square


# The last wall follows


def test_the_last_wall_follows_in_its_own_direction() -> None:
    walk = walked([Leg(3600), Leg(4200), Leg(3590), Leg(None)])
    assert math.hypot(*walk.steps[-1]) == pytest.approx(4200)
    assert walk.error == pytest.approx((0, 10))
    assert walk.square
    assert outline_of(spread(walk))[2][1] == pytest.approx(3590 + 10 * 3590 / 7190)  # shared by length


def test_the_last_wall_follows_straight_to_the_start() -> None:
    walk = walked([Leg(3000, -90), Leg(4000, None), Leg(None)])
    assert math.hypot(*walk.steps[-1]) == pytest.approx(5000)  # 3, 4, 5
    assert walk.error_mm == pytest.approx(0)
    assert walk.turn_error_deg is None


def test_no_last_wall_follows_where_none_is_left() -> None:
    with pytest.raises(Refused, match="no last wall is left"):
        walked([Leg(3600), Leg(4200), Leg(3600), Leg(4200), Leg(None)])
    with pytest.raises(Refused, match="no last wall is left"):
        walked([Leg(3600), Leg(4200), Leg(3600, LEFT_DEG), Leg(None)])


# Diagonals


def test_a_diagonal_tells_how_far_a_room_is_out_of_square() -> None:
    corners = outline_of(walk_of(3000, 4000, 3000, 4000))
    assert diagonal_difference_mm(corners, Diagonal(0, 2, 5012)) == pytest.approx(12)
    assert diagonal_difference_mm(corners, Diagonal(3, 1, 4990)) == pytest.approx(-10)
    for a, b, length, words in [(0, 4, 5000, "corners 1 and 5"), (1, 1, 5000, "corners 2 and 2"), (0, 2, 0, "of 0 mm")]:
        with pytest.raises(OutOfRange, match=words):
            diagonal_difference_mm(corners, Diagonal(a, b, length))


# What is refused


@pytest.mark.parametrize(
    ("legs", "words"),
    [
        ([], "along 0 walls"),
        ([Leg(1000)] * 501, "along 501 walls"),
        ([Leg(1000), Leg(0), Leg(1000)], "wall 2 is 0 mm long; expected a length above 0"),
        ([Leg(1000), Leg(-5)], "wall 2 is -5 mm long"),
        ([Leg(math.nan)], "wall 1 is nan mm long"),
        ([Leg(math.inf)], "wall 1 is inf mm long"),
        ([Leg(1000, 180)], "the corner after wall 1 turns by 180 degrees"),
        ([Leg(1000, math.nan)], "turns by nan"),
        ([Leg(1000), Leg(None), Leg(1000)], "wall 2 has no length"),
        ([Leg(1000), Leg(None)], "wall 2 cannot follow"),
        ([Leg(1000, None), Leg(1000), Leg(1000)], "the corner after wall 1 has no turn"),
        ([Leg(1000), Leg(1000, None), Leg(1000)], "the corner after wall 2 has no turn"),
    ],
)
def test_what_cannot_be_walked_is_refused(legs: list[Leg], words: str) -> None:
    with pytest.raises((OutOfRange, Refused), match=words):
        walked(legs)


def test_an_outline_needs_three_walls_that_do_not_cross() -> None:
    with pytest.raises(Refused, match="a room of 2 walls; expected at least 3"):
        outline_of(walk_of(3000, 4000))
    with pytest.raises(Refused, match="cross near"):
        outline_of(walk_of(3000, 4000, 2000, 5000, 4000))


# Laws of spreading


@given(square_walks, starts, headings)
def test_a_spread_walk_closes_and_square_walls_stay_square(
    legs: list[Leg], start: tuple[float, float], heading: float
) -> None:
    walk = walked(legs, start, heading)
    assert walk.square
    assert spread_rule(walk) == "transit"
    closed = spread(walk)
    assert closed.error_mm < 1e-6
    assert closed.square
    for before, after in zip(walk.ahead, closed.ahead, strict=True):
        assert before[0] * after[0] + before[1] * after[1] > -1e-6  # no wall runs backwards


@given(any_walks, starts, headings, st.sampled_from(["transit", "compass", None]))
def test_corrections_add_up_to_minus_the_error(
    legs: list[Leg], start: tuple[float, float], heading: float, rule
) -> None:  # type: ignore[no-untyped-def]
    walk = walked(legs, start, heading)
    changes = corrections(walk, rule)
    error = turned(walk.error, -heading)
    assert sum(x for x, _ in changes) == pytest.approx(-error[0], abs=1e-6)
    assert sum(y for _, y in changes) == pytest.approx(-error[1], abs=1e-6)
    assert spread(walk, rule).error_mm < 1e-6


@given(any_walks)
def test_a_walk_that_closes_is_left_alone(legs: list[Leg]) -> None:
    closed = spread(walked(legs))
    again = spread(closed)
    for before, after in zip(closed.corners, again.corners, strict=True):
        assert distance(before, after) < 1e-6


@given(any_walks, starts, headings, starts, headings)
def test_spreading_turns_and_moves_with_the_walk(legs, start, heading, other_start, other_heading) -> None:  # type: ignore[no-untyped-def]
    here = spread(walked(legs, start, heading)).corners
    there = spread(walked(legs, other_start, other_heading)).corners
    turn = other_heading - heading
    for a, b in zip(here, there, strict=True):
        x, y = turned((a[0] - start[0], a[1] - start[1]), turn)
        assert distance(b, (other_start[0] + x, other_start[1] + y)) < 1e-5


@given(any_walks)
def test_the_compass_rule_shares_by_length(legs: list[Leg]) -> None:
    walk = walked(legs)
    for leg, change in zip(legs, corrections(walk, "compass"), strict=True):
        assert leg.length_mm is not None
        assert math.hypot(*change) == pytest.approx(walk.error_mm * leg.length_mm / walk.perimeter_mm, abs=1e-6)


@given(square_walks)
def test_the_transit_rule_shares_along_each_axis(legs: list[Leg]) -> None:
    walk = walked(legs)
    moved = corrections(walk, "transit")
    for axis in (0, 1):
        along = [(abs(step[axis]), abs(change[axis])) for step, change in zip(walk.ahead, moved, strict=True)]
        whole = sum(run for run, _ in along)
        error = abs(sum(step[axis] for step in walk.ahead))
        for run, change in along:
            assert change * whole == pytest.approx(error * run, abs=1e-3)
