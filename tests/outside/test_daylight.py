"""Window area against the published shares."""

import pytest

from enfilade.quantities import convert
from enfilade.trade.glazing import glazing_needed


@pytest.mark.parametrize(
    ("floor_sq_ft", "glazed_sq_ft", "openable_sq_ft"),
    [(150, 12.0, 6.0), (351, 28.08, 14.04)],  # published rule (IRC R303.1: 8% and 4%), our numbers
)
def test_glazed_and_openable_area(floor_sq_ft: float, glazed_sq_ft: float, openable_sq_ft: float) -> None:
    needed = glazing_needed(convert(floor_sq_ft, "sq ft", "m2"))
    assert convert(needed.glazed_m2, "m2", "sq ft") == pytest.approx(glazed_sq_ft)
    assert convert(needed.openable_m2, "m2", "sq ft") == pytest.approx(openable_sq_ft)
