"""Storage frontage against published worked examples and kitchen guidelines 27 and 28.

The handout is "Storage calculation clarification", of a design course; neither body nor year were found. The
guidelines are those of the NKBA Kitchen Planning Guidelines with Access Standards.
"""

import pytest

from enfilade.quantities import convert
from enfilade.standards import yardstick
from enfilade.trade.storage import (
    Frontage,
    KitchenSize,
    frontage_needed,
    kitchen_size,
    shelf_frontage,
    split_of_frontage,
    turntable_frontage,
)

IN = 25.4


def _in(frontage: Frontage) -> float:
    return round(frontage.total_mm / IN, 6)


def test_wall_cabinet_12_wide_with_3_shelves() -> None:
    # Published: the handout, 12 x 1 x 3.
    assert _in(shelf_frontage(12 * IN, 12 * IN, shelves=3)) == 36


def test_angled_end_wall_cabinet_counts_half() -> None:
    # Published: the same handout, half of the cabinet above.
    assert _in(shelf_frontage(12 * IN, 12 * IN, shelves=3, angled=True)) == 18


def test_angled_wall_cabinet_24_wide() -> None:
    # Published worked example in an annotated printing of the 31 guidelines (2018): 24 x 1 x 2 / 2.
    assert _in(shelf_frontage(24 * IN, 12 * IN, shelves=2, angled=True)) == 24


def test_blind_corner_base_48_of_which_24_can_be_got_at() -> None:
    # Published: the handout, shelves 24 x 2 x 2 = 96 and drawer 24 x 2 x 1 = 48.
    corner = shelf_frontage(48 * IN, 24 * IN, shelves=2, drawers=1, accessible_mm=24 * IN)
    assert round(corner.shelves_mm / IN, 6) == 96
    assert round(corner.drawers_mm / IN, 6) == 48
    assert _in(corner) == 144


def test_swing_out_adds_a_quarter_of_the_shelves() -> None:
    # Published: the handout, 96 and 24 more = 120, in all 168.
    corner = shelf_frontage(48 * IN, 24 * IN, shelves=2, drawers=1, accessible_mm=24 * IN, swing_out=True)
    assert round(corner.shelves_mm / IN, 6) == 120
    assert _in(corner) == 168


def test_turntable_corner_base_36() -> None:
    assert _in(turntable_frontage()) == 120  # published: the handout


@pytest.mark.parametrize(
    ("size", "split", "total"),
    [
        # Published in part (the 180 seen; the rest recalled); sums checked against the published totals.
        ("small", [300, 520, 360, 180, 40], 1400),
        ("medium", [360, 615, 400, 230, 95], 1700),
        ("large", [360, 660, 525, 310, 145], 2000),
    ],
)
def test_split_adds_up_to_the_total(size: KitchenSize, split: list[int], total: int) -> None:
    got = [round(mm / IN, 6) for mm in split_of_frontage(size).values()]
    assert got == split
    assert sum(got) == total == frontage_needed(size)[0].number


def test_small_kitchen_near_the_sink_in_millimetres() -> None:
    # Published: guideline 28 in a metric printing, 10,160 mm within 1,829 mm, against 400 in within 72 in in the text.
    _, near = frontage_needed("small")
    assert near.value_mm == pytest.approx(10_160) == pytest.approx(400 * IN)
    assert round(yardstick("us").row("K28", "within").value_mm) == 1829
    assert "out of reach" in near.also[0]


@pytest.mark.parametrize(
    ("sq_ft", "size"),
    [
        (149.9, "small"),  # published: less than 150
        (150.0, "small"),  # source silent; our reading, as printings with "at most 150" have it
        (150.5, "medium"),  # source silent; our reading
        (151.0, "medium"),  # published: 151 to 350
        (350.0, "medium"),  # published
        (350.1, "large"),  # published: over 350
    ],
)
def test_size_class_by_area(sq_ft: float, size: str) -> None:
    assert kitchen_size(convert(sq_ft, "sq ft", "m2")) == size


def test_exactly_150_follows_the_yardstick() -> None:
    strict = yardstick("us").with_options({"small_kitchen_at_150": False})
    assert kitchen_size(convert(150, "sq ft", "m2"), by=strict) == "medium"
