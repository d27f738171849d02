"""Seats and island sizes against published advice and constructed cases."""

import pytest

from enfilade.trade.islands import cooking_edge, sink_and_cooking_edge, sink_edge
from enfilade.trade.seating import edge_for, seats_along

IN = 25.4


@pytest.mark.parametrize(
    ("seats", "each_in", "edge_in"),
    [
        (3, 24, 72),
        (4, 24, 96),
        (4, 28, 112),
        (4, 30, 120),
        (4, 22, 88),
    ],  # published worked examples of island lengths by seats; document not found
)
def test_edge_for_seats(seats: int, each_in: float, edge_in: float) -> None:
    assert edge_for(seats, seat_width_mm=each_in * IN) == pytest.approx(edge_in * IN)
    assert seats_along(edge_in * IN, seat_width_mm=each_in * IN).count == seats


def test_default_seat_is_the_printed_24_in() -> None:
    assert edge_for(3) == pytest.approx(72 * IN)  # kitchen guideline 9: 3 x 24 in


def test_120_in_edge_on_both_sides() -> None:
    assert 2 * seats_along(120 * IN).count == 10  # published worked example, document not found: 5 + 5 seats


def test_island_with_a_30_in_cooking_surface() -> None:
    assert cooking_edge(30 * IN).needed_mm == pytest.approx(57 * IN)  # constructed from guideline 17: 12 + 30 + 15


def test_island_with_a_33_in_sink() -> None:
    assert sink_edge(33 * IN).needed_mm == pytest.approx(75 * IN)  # constructed from guideline 11: 24 + 33 + 18


def test_island_with_both_takes_the_best_order() -> None:
    # Constructed from guidelines 11, 17 and 24: orders give 132, 129 and 129; the least is 129.
    both = sink_and_cooking_edge(33 * IN, 30 * IN)
    assert both.needed_mm == pytest.approx(129 * IN)
    assert len(both.working) == 4
    for sum_shown in ("24\" + 33\" + 30\" + 30\" + 15\" = 132\"", "24\" + 33\" + 30\" + 30\" + 12\" = 129\"",
                      "18\" + 33\" + 36\" + 30\" + 12\" = 129\""):  # fmt: skip
        assert sum_shown in both.working
