"""Household counts against published rules of thumb, which are retold and name no document unless said."""

import pytest

from enfilade.quantities import convert
from enfilade.trade.household import cabinet_runs, occupants, refrigerator_by_person, refrigerator_volume


@pytest.mark.parametrize(
    ("people", "cu_ft", "litres"),
    [(2, 12, 340), (4, 16, 453), (6, 20, 566)],  # published rule (12 cu ft for two, 2 more a person), our numbers
)
def test_refrigerator_volume(people: int, cu_ft: float, litres: float) -> None:
    estimate = refrigerator_volume(people)
    assert estimate.value == cu_ft
    assert round(convert(estimate.value, estimate.unit, "l")) == litres


def test_refrigerator_by_person_shows_its_spread() -> None:
    # Common practice, no document: 4 to 6 cu ft an adult = 113 to 170 litres.
    one = refrigerator_by_person(1)
    assert (round(convert(one.low, "cu ft", "l")), round(convert(one.high, "cu ft", "l"))) == (113, 170)
    assert refrigerator_by_person(5, practice=True).high == 30


def test_cabinet_runs_by_household() -> None:
    # Retold from studies of household storage in the United States, documents not found: 2,700 / 2,400 mm
    # for two, 2,700 / 3,300 mm for three or more.
    assert [run.value for run in cabinet_runs(2)] == [2700, 2400]
    assert [run.value for run in cabinet_runs(3)] == [2700, 3300]


def test_occupants_by_bedrooms() -> None:
    assert [occupants(n).value for n in (1, 3)] == [
        2,
        4,
    ]  # kitchen storage study of 1934, United States, retold: bedrooms + 1
