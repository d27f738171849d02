"""Laws that hold for every size."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from enfilade.trade.glazing import glazing_needed, glazing_share
from enfilade.trade.islands import cooking_edge, sink_and_cooking_edge, sink_edge
from enfilade.trade.landing import shared_landing
from enfilade.trade.receptacles import island_receptacles, wall_counter_receptacles
from enfilade.trade.seating import edge_for, seats_along
from enfilade.trade.storage import share_within, shelf_frontage
from enfilade.trade.work_centres import work_triangle

Point = tuple[float, float]
lengths = st.floats(1, 20_000, allow_nan=False)
coordinates = st.floats(-20_000, 20_000, allow_nan=False)
points = st.tuples(coordinates, coordinates)


@given(lengths, lengths)
def test_a_longer_edge_never_seats_fewer(one: float, other: float) -> None:
    assert seats_along(max(one, other)).count >= seats_along(min(one, other)).count


@given(st.integers(1, 40), st.floats(300, 1500))
def test_the_edge_for_seats_seats_them(seats: int, width: float) -> None:
    assert seats_along(edge_for(seats, seat_width_mm=width), seat_width_mm=width).count == seats


@given(lengths, st.lists(st.floats(1, 300), max_size=4))
def test_legs_never_add_a_seat(edge: float, legs: list[float]) -> None:
    assert seats_along(edge, legs_mm=legs).count <= seats_along(edge).count


@given(lengths, lengths)
def test_a_shared_landing_holds_each_and_does_not_depend_on_order(one: float, other: float) -> None:
    shared = shared_landing(one, other)
    assert shared.required_mm > max(one, other)
    assert shared == shared_landing(one, other)
    assert shared.required_mm == shared_landing(other, one).required_mm


@given(st.floats(300, 1500), st.floats(300, 1500))
def test_an_island_with_both_is_longer_than_with_either(sink: float, cooking: float) -> None:
    both = sink_and_cooking_edge(sink, cooking).needed_mm
    assert both > max(sink_edge(sink).needed_mm, cooking_edge(cooking).needed_mm)


@given(lengths, lengths)
def test_more_counter_never_asks_fewer_receptacles(one: float, other: float) -> None:
    low, high = sorted((one, other))
    assert wall_counter_receptacles(high).count >= wall_counter_receptacles(low).count
    for edition in ("2017", "2020"):
        big, small = (island_receptacles(n, 900, edition=edition).count for n in (high, low))
        assert big >= small


@given(lengths, lengths)
def test_an_island_turned_asks_the_same(one: float, other: float) -> None:
    assert island_receptacles(one, other, edition="2020") == island_receptacles(other, one, edition="2020")


@given(points, points, points)
def test_a_triangle_obeys_its_inequality_and_order_does_not_matter(a: Point, b: Point, c: Point) -> None:
    triangle = work_triangle(a, b, c)
    assert max(triangle.legs_mm) * 2 <= triangle.sum_mm + 1e-3
    assert triangle.sum_mm == pytest.approx(work_triangle(c, a, b).sum_mm, abs=1e-4)
    assert triangle.area_mm2 >= 0


@given(st.floats(50, 3000), st.floats(50, 900), st.integers(0, 12), st.integers(0, 12))
def test_frontage_grows_with_shelves_and_halves_when_angled(
    width: float, depth: float, shelves: int, drawers: int
) -> None:
    whole = shelf_frontage(width, depth, shelves=shelves, drawers=drawers)
    assert shelf_frontage(width, depth, shelves=shelves + 1, drawers=drawers).total_mm > whole.total_mm
    half = shelf_frontage(width, depth, shelves=shelves, drawers=drawers, angled=True)
    assert half.total_mm == pytest.approx(whole.total_mm / 2)


@given(points, st.floats(10, 3000), points, st.floats(10, 5000))
def test_share_within_is_a_share_grows_with_the_radius_and_ignores_direction(
    start: Point, width: float, centre: Point, radius: float
) -> None:
    end = (start[0] + width, start[1])
    share = share_within(start, end, centre=centre, radius_mm=radius)
    assert 0 <= share <= 1
    assert share_within(start, end, centre=centre, radius_mm=radius * 1.5) >= share - 1e-9
    assert share_within(end, start, centre=centre, radius_mm=radius) == pytest.approx(share, abs=1e-6)


@given(st.floats(1, 500))
def test_the_needed_glazing_is_exactly_the_share(floor: float) -> None:
    needed = glazing_needed(floor)
    assert glazing_share(needed.glazed_m2, floor) == pytest.approx(8, abs=1e-6)  # Residential code R303.1
    assert needed.openable_m2 == pytest.approx(needed.glazed_m2 / 2)
