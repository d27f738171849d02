"""An oven built into a tall cabinet takes its landing from beside the cabinet."""

from __future__ import annotations

import pytest

from building import house, on_wall, one, set_in, thing
from enfilade.lengths import inches


@pytest.mark.parametrize(("counter", "verdict"), [(15.0, "met"), (14.0, "falls short")])
def test_landing_is_measured_from_the_tower(counter: float, verdict: str) -> None:
    # Kitchen guideline 23: 15 in of counter next to the oven. The tower's frame is no counter.
    tower = thing("tall cabinet", "tower", 33, 24, on_wall("kitchen-north", 40))
    oven = thing("oven", "oven", 30, 23, set_in("tower", 1.5, 0), bottom=20, top=49)
    top = thing("counter", "top", counter, 25, on_wall("kitchen-north", 73))
    found = one(house([tower, oven, top]), "K23", containing="landing")
    assert found.measured is not None
    assert found.measured.value == pytest.approx(inches(counter))
    assert found.verdict == verdict
