"""How many live in the house, when only its bedrooms are recorded."""

from __future__ import annotations

from building import house, on_wall, one, thing


def _judged(**household):
    cold = thing("refrigerator", "cold", 36, 30, on_wall("kitchen-north", 0), volume_l=453.1, holds="fresh")
    return one(house([cold], household=household), "Q3")


def test_people_are_estimated_from_bedrooms_and_said_to_be():
    # Study of 1934, retold: two in the main bedroom and one in each further one, so 3 bedrooms for 4 people;
    # rule of thumb: 12 cu ft for two and 2 for each further person, so 16 cu ft = 453.07 l.
    finding = _judged(bedrooms=3)
    assert finding.verdict == "met"
    assert finding.required.value == 16
    assert finding.assumed[0] == "household.size"
    assert "estimated from 3 bedrooms" in " ".join(finding.working)
    assert _judged(bedrooms=4).verdict == "falls short"  # 5 people, 18 cu ft


def test_what_is_recorded_goes_before_what_is_estimated():
    finding = _judged(size=2, bedrooms=4)
    assert finding.required.value == 12
    assert "household.size" not in finding.assumed


def test_without_either_the_fact_is_missing():
    assert _judged().because == "missing fact"
