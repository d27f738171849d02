"""Steps that offsets land on, and the wall that lies behind another."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from building import door, house, room
from enfilade.editing.things.house import House
from enfilade.editing.things.steps import STEPS_MM, on_step, step_of, within
from enfilade.editing.things.walls_behind import THICKEST_MM, wall_behind
from enfilade.errors import OutOfRange
from enfilade.lengths import inches

lengths = st.floats(-20_000, 20_000)
steps = st.sampled_from([step for system in STEPS_MM.values() for step in system.values()])


def test_the_steps_are_those_of_the_trade() -> None:
    # Snapping on a plan, common practice (corrections, recalled): fine 1/16 in or 1 mm, coarse 1 in or 10 mm.
    assert STEPS_MM["us"] == {"fine": inches(1) / 16, "coarse": inches(1)}
    assert STEPS_MM["metric"] == {"fine": 1.0, "coarse": 10.0}


@given(lengths, steps)
def test_a_length_lands_on_the_nearest_step(value: float, step: float) -> None:
    landed = on_step(value, step)
    assert abs(landed - value) <= step / 2 + 1e-6
    assert landed / step == pytest.approx(round(landed / step), abs=1e-4)


@given(lengths, st.floats(0, 20_000), steps)
def test_an_offset_stays_within_its_limit_and_on_a_step_or_at_the_end(value: float, limit: float, step: float) -> None:
    kept = within(value, limit, step)
    assert -1e-6 <= kept <= limit + 1e-6
    on_a_step = kept / step == pytest.approx(round(kept / step), abs=1e-4)
    assert on_a_step or kept == pytest.approx(limit, abs=1e-5)
    if 0 <= value <= limit:
        assert abs(kept - value) <= step / 2 + 1e-5


@given(st.floats(-5000, -0.001), lengths, steps)
def test_what_does_not_fit_stands_out_evenly(limit: float, value: float, step: float) -> None:
    assert within(value, limit, step) == pytest.approx(limit / 2, abs=1e-5)


def test_a_step_is_above_nothing() -> None:
    with pytest.raises(OutOfRange, match="step_mm"):
        on_step(1.0, 0.0)


def test_a_long_move_lands_on_the_coarse_step() -> None:
    assert step_of("us", inches(1), 0) == "coarse"
    assert step_of("us", 0, -inches(1) / 16) == "fine"
    assert step_of("metric", 9.0, 9.0) == "fine"


@pytest.mark.parametrize(("thick", "found"), [(0, True), (5, True), (THICKEST_MM / 25.4, True), (16, False)])
def test_a_wall_behind_is_found_through_the_thickness_of_a_wall(thick: float, found: bool) -> None:
    rooms = [room(120, 120), room(120, 120, id="hall", at=(120 + thick, 0))]
    behind = wall_behind(House(house(spaces=rooms)), "kitchen-east", inches(40), inches(72))
    assert behind == (("hall-west", pytest.approx(inches(thick))) if found else None)


def test_no_wall_lies_behind_where_the_next_room_ends_before() -> None:
    rooms = [room(120, 120), room(120, 50, id="hall", at=(124, 0))]
    house_ = House(house(spaces=rooms))
    # Facing east from inside, the left end is in the north.
    assert wall_behind(house_, "kitchen-east", inches(10), inches(42)) is None
    assert wall_behind(house_, "kitchen-east", inches(80), inches(110)) == ("hall-west", pytest.approx(inches(4)))


def test_the_nearer_of_two_rooms_is_behind() -> None:
    rooms = [room(120, 120), room(8, 120, id="chase", at=(124, 0)), room(120, 120, id="hall", at=(132, 0))]
    assert wall_behind(House(house(spaces=rooms)), "kitchen-east", 0, inches(40)) == (
        "chase-west",
        pytest.approx(inches(4)),
    )


def test_a_middle_just_outside_a_room_belongs_to_it_and_the_first_room_is_preferred() -> None:
    two = House(
        house(spaces=[room(120, 120), room(120, 120, id="hall", at=(120, 0))], openings=[door("d", "kitchen-west", 10)])
    )
    assert two.space_at((inches(60), inches(60))) == "kitchen"
    assert two.space_at((inches(120), inches(60)), "hall") == "hall"
    assert two.space_at((inches(-3), inches(60))) == "kitchen"
    assert two.space_at((inches(-30), inches(60))) is None
