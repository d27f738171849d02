"""Where the answers stop being true they are refused, and the readings of our own are told."""

import math
from collections.abc import Callable

import pytest

from enfilade.errors import NotFound, OutOfRange
from enfilade.standards import with_house_rules, yardstick
from enfilade.trade.glazing import glazing_share
from enfilade.trade.household import dining_edge, dishwasher_settings, occupants
from enfilade.trade.islands import cooking_depth
from enfilade.trade.receptacles import counts_behind, island_receptacles, wall_counter_receptacles
from enfilade.trade.seating import edge_for, knee_rule, seats_along, two_rows_depth
from enfilade.trade.storage import (
    kitchen_size,
    other_storage_counted,
    share_within,
    shelf_frontage,
    shelves_with_bottom,
    volume_l,
)
from enfilade.trade.work_centres import work_triangle

IN = 25.4


@pytest.mark.parametrize(
    "call",
    [
        lambda: seats_along(0),
        lambda: seats_along(math.nan),
        lambda: seats_along(2000, legs_mm=[-1]),
        lambda: seats_along(2000, seat_width_mm=0),
        lambda: edge_for(0),
        lambda: two_rows_depth(914.4, base_mm=-1),
        lambda: cooking_depth(-5),
        lambda: wall_counter_receptacles(math.inf),
        lambda: glazing_share(-1, 10),
        lambda: glazing_share(1, 0),
        lambda: kitchen_size(0),
        lambda: occupants(0),
        lambda: shelf_frontage(600, 600, shelves=-1),
        lambda: shelf_frontage(600, 600, shelves=1, accessible_mm=700),
        lambda: shelves_with_bottom(-1),
        lambda: other_storage_counted(-1, "small"),
        lambda: share_within((0, 0), (0, 0), centre=(0, 0), radius_mm=10),
        lambda: volume_l(1, 0, 1),
        lambda: work_triangle((0, math.nan), (0, 0), (1, 1)),
    ],
)
def test_outside_its_range_a_figure_is_refused(call: Callable[[], object]) -> None:
    with pytest.raises(OutOfRange, match="expected"):
        call()


# Kitchen guideline 9: 18, 15 and 12 in at 30, 36 and 42 in; heights between are our own reading.
@pytest.mark.parametrize(
    ("height_in", "depth_in", "exact"),
    [
        (30, 18, True),
        (36, 15, True),
        (42, 12, True),
        (29, 18, False),
        (33, 18, False),
        (34, 15, False),
        (45, 12, False),
    ],
)
def test_knee_rule_by_height(height_in: float, depth_in: float, exact: bool) -> None:
    rule = knee_rule(height_in * IN)
    assert (rule.row.number, rule.exact, bool(rule.note)) == (depth_in, exact, not exact)


@pytest.mark.parametrize("height_in", [20, 50])
def test_knee_rule_is_silent_far_from_the_printed_heights(height_in: float) -> None:
    with pytest.raises(OutOfRange, match="is not printed; expected near 30"):
        knee_rule(height_in * IN)


# Derived from kitchen guideline 9: 18 + 18, 15 + 15, 12 + 12 in.
@pytest.mark.parametrize(("height_in", "part"), [(30, "30 in high"), (36, "36 in high"), (42, "42 in high")])
def test_two_rows_agree_with_the_derived_rows(height_in: float, part: str) -> None:
    assert two_rows_depth(height_in * IN) == pytest.approx(yardstick("us").row("N10", part).value_mm)


def test_legs_are_deducted_and_shown() -> None:
    seats = seats_along(72 * IN, legs_mm=[1.5 * IN, 1.5 * IN])
    assert seats.count == 2  # 69 in / 24 in
    assert seats.each_mm == pytest.approx(34.5 * IN)
    assert seats.working[0] == '72" less 3" for legs = 69"'


def test_house_rules_reach_the_calculations() -> None:
    ours = with_house_rules(yardstick("us"), '[rules]\n"K9/seat width" = 28\n')
    assert seats_along(112 * IN, by=ours).count == 4
    assert seats_along(111 * IN, by=ours).count == 3


def test_an_unknown_edition_is_refused() -> None:
    with pytest.raises(NotFound, match="2017, 2020 or 2023"):
        island_receptacles(2000, 1000, edition="2019")


def test_a_small_island_is_asked_nothing() -> None:
    # NEC 210.52(C)(2) to 2017: counts from 24 in by 12 in.
    assert island_receptacles(23 * IN, 23 * IN, edition="2017").count == 0
    assert island_receptacles(24 * IN, 12 * IN, edition="2017").count == 1


def test_counter_behind_a_sink() -> None:
    # NEC figure 210.52(C)(1): 12 in straight (recalled), 18 in in a corner.
    assert (counts_behind(12 * IN), counts_behind(11 * IN)) == (True, False)
    assert (counts_behind(18 * IN, corner=True), counts_behind(17 * IN, corner=True)) == (True, False)


def test_household_figures_of_practice() -> None:
    assert dining_edge(14).value == 14 * 24  # handbooks, recalled: 24 in a place
    narrow = dishwasher_settings(18)  # general practice, recalled: 8 to 10
    assert (narrow.low, narrow.value, narrow.high) == (8, 9, 10)
    with pytest.raises(NotFound, match="24 in or 18 in"):
        dishwasher_settings(30)


def test_other_storage_counts_up_to_its_share() -> None:
    # Guideline 27 table: 95 in for a medium kitchen (recalled).
    assert other_storage_counted(50 * IN, "medium") == pytest.approx(50 * IN)
    assert other_storage_counted(200 * IN, "medium") == pytest.approx(95 * IN)


def test_share_of_a_front_within_a_circle() -> None:
    # A 3-4-5 triangle: at 300 off, a radius of 500 covers 400 to each side.
    assert share_within((0, 300), (800, 300), centre=(0, 0), radius_mm=500) == pytest.approx(0.5)
    assert share_within((0, 600), (800, 600), centre=(0, 0), radius_mm=500) == 0


def test_triangle_area() -> None:
    assert work_triangle((0, 0), (3000, 0), (0, 2000)).area_mm2 == 3_000_000
