"""Work triangle against a published example."""

import math

import pytest

from enfilade.quantities import Quantity
from enfilade.standards import yardstick
from enfilade.trade.work_centres import work_triangle


def test_published_triangle_of_5_6_and_7_feet() -> None:
    # Published worked example, document not found: legs of 5, 6 and 7 ft add up to 18 ft and pass
    # guideline 3.
    five, six, seven = 5 * 304.8, 6 * 304.8, 7 * 304.8
    x = (five**2 + seven**2 - six**2) / (2 * five)
    cooking, sink, refrigerator = (0.0, 0.0), (five, 0.0), (x, math.sqrt(seven**2 - x**2))
    triangle = work_triangle(cooking, sink, refrigerator)
    assert triangle.legs_mm == pytest.approx((five, six, seven))
    assert triangle.sum_mm == pytest.approx(216 * 25.4)
    legs, total = yardstick("us").row("K3", "leg"), yardstick("us").row("K3", "sum")
    assert all(legs.requirement.met_by(Quantity(leg, "mm")) for leg in triangle.legs_mm)
    assert total.requirement.met_by(Quantity(triangle.sum_mm, "mm"))
    assert total.requirement.margin(Quantity(triangle.sum_mm, "mm")) == pytest.approx(312 - 216)
