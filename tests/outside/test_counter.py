"""Landing areas and the total counter against published and constructed figures."""

import pytest

from enfilade.standards import yardstick
from enfilade.trade.landing import counter_parts, shared_landing


def test_total_counter_is_the_sum_of_its_published_parts() -> None:
    # Published: breakdown of kitchen guideline 25, in inches and in a metric printing (mm, rounded).
    parts = counter_parts()
    lengths_mm = [length for _, length in parts.parts]
    assert [round(mm / 25.4, 6) for mm in lengths_mm] == [15, 15, 15, 12, 15, 36, 24, 18, 8]
    assert [round(mm) for mm in lengths_mm] == [381, 381, 381, 305, 381, 914, 610, 457, 203]
    assert parts.total_mm == pytest.approx(158 * 25.4)
    assert round(parts.total_mm) == 4013 == sum(round(mm) for mm in lengths_mm)
    assert parts.total_mm == pytest.approx(yardstick("us").row("K25", "total").value_mm)


@pytest.mark.parametrize(
    ("first_in", "second_in", "shared_in"),
    [
        # Published (annotated printing of the 31 guidelines, 2018): cooking 15 and refrigerator 15; constructed from
        # guideline 24 for refrigerator 15 and oven 15.
        (15, 15, 27),
        (12, 15, 27),  # published, same: "or 12 and 15"
        (24, 15, 36),  # constructed from guideline 24: sink and cooking surface
        (18, 12, 30),  # constructed: sink and cooking surface, shorter sides
        (3, 12, 24),  # constructed: auxiliary sink and cooking surface
    ],
)
def test_two_landings_on_one_counter(first_in: float, second_in: float, shared_in: float) -> None:
    shared = shared_landing(first_in * 25.4, second_in * 25.4)
    assert shared.required_mm == pytest.approx(shared_in * 25.4)
    assert shared.sum_mm == pytest.approx((first_in + second_in) * 25.4)


def test_published_millimetres_of_a_shared_landing() -> None:
    assert round(shared_landing(15 * 25.4, 12 * 25.4).required_mm) == 686  # published with the example above
