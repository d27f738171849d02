"""Quantities; factors beside NIST Special Publication 811 (2008), appendix B, as printed to seven digits."""

from __future__ import annotations

import doctest
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from enfilade import quantities
from enfilade.errors import OutOfRange
from enfilade.quantities import UNITS, Quantity, Unit, convert, show_quantity


def test_the_examples_in_the_docstrings_are_true() -> None:
    result = doctest.testmod(quantities)
    assert result.attempted > 3
    assert result.failed == 0


@pytest.mark.parametrize(
    ("value", "unit", "to", "printed"),
    [
        (1, "in", "mm", 25.4),  # inch: 2.54 E-02 m, exact
        (1, "sq ft", "m2", 9.290304e-2),  # square foot, exact
        (1, "sq in", "mm2", 645.16),  # square inch: 6.4516 E-04 m2, exact
        (1, "cu ft", "l", 28.31685),  # cubic foot: 2.831685 E-02 m3
        (1, "cfm", "m3/h", 4.719474e-4 * 3600),  # cubic foot per minute: 4.719474 E-04 m3/s
        (1, "lbf", "N", 4.448222),  # pound-force: 4.448222 N
    ],
)
def test_factors_are_those_of_the_published_table(value: float, unit: Unit, to: Unit, printed: float) -> None:
    assert convert(value, unit, to) == pytest.approx(printed, rel=2e-7)
    assert convert(printed, to, unit) == pytest.approx(value, rel=2e-7)


def test_an_hour_of_a_cubic_foot_a_minute_is_exactly_sixty_of_them() -> None:
    # (0.3048 m)^3 x 60 = 1.699 010 795 52 m3/h
    assert convert(1000, "cfm", "m3/h") == pytest.approx(1699.01079552, abs=1e-5)


def test_noise_is_rounded_away() -> None:
    assert convert(1066.8, "mm", "in") == 42.0
    assert convert(0.1 + 0.2, "in", "mm") == 7.62


@given(st.floats(-1e6, 1e6), st.sampled_from(["in", "sq in", "sq ft", "m2", "cu ft", "cfm", "lbf"]))
def test_there_and_back_is_the_same(value: float, unit: Unit) -> None:
    base: Unit = {"in": "mm", "sq in": "mm2", "sq ft": "mm2", "m2": "mm2", "cu ft": "l", "cfm": "m3/h", "lbf": "N"}[
        unit
    ]  # type: ignore[assignment]
    assert convert(convert(value, unit, base), base, unit) == pytest.approx(value, rel=1e-8, abs=1e-12)


@pytest.mark.parametrize(("unit", "to"), [("mm", "m2"), ("count", "%"), ("mm", "yd"), ("yd", "yd"), ("lx", "N")])
def test_units_of_two_kinds_or_unknown_ones_are_refused(unit: str, to: str) -> None:
    with pytest.raises(OutOfRange):
        convert(1, unit, to)  # type: ignore[arg-type]


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_a_quantity_is_finite(value: float) -> None:
    with pytest.raises(OutOfRange, match="finite"):
        Quantity(value, "mm")


def test_a_quantity_has_a_known_unit() -> None:
    with pytest.raises(OutOfRange, match="furlong"):
        Quantity(1, "furlong")  # type: ignore[arg-type]
    assert Quantity(42, "in").to("mm") == Quantity(1066.8, "mm")


@pytest.mark.parametrize(
    ("quantity", "us", "metric"),
    [
        (Quantity(42, "in"), '42"', "1067 mm"),
        (Quantity(1066.8, "mm"), "3' 6\"", "1067 mm"),
        (Quantity(10, "m2"), "107.6 sq ft", "10 m\u00b2"),  # 10 / 0.09290304
        (Quantity(1, "sq ft"), "1 sq ft", "0.09 m\u00b2"),
        (Quantity(4000, "mm2"), "6.2 sq in", "4,000 mm\u00b2"),  # 4000 / 645.16; never `0`
        (Quantity(0, "m2"), "0 sq ft", "0 m\u00b2"),
        (Quantity(100, "cu ft"), "100 cu ft", "2,831.7 l"),
        (Quantity(400, "cfm"), "400 cfm", "679.6 m\u00b3/h"),
        (Quantity(5, "lbf"), "5 lbf", "22.2 N"),
        (Quantity(3, "count"), "3", "3"),
        (Quantity(2.5, "count"), "2.5", "2.5"),
        (Quantity(1200, "count"), "1,200", "1,200"),
        (Quantity(8, "%"), "8%", "8%"),
        (Quantity(90, "deg"), "90\u00b0", "90\u00b0"),
        (Quantity(-0.01, "count"), "0", "0"),
        (Quantity(500, "lx"), "500 lx", "500 lx"),
    ],
)
def test_quantities_are_shown_for_their_reader(quantity: Quantity, us: str, metric: str) -> None:
    assert show_quantity(quantity, "us") == us
    assert show_quantity(quantity, "metric") == metric


def test_every_unit_can_be_shown_in_both_systems() -> None:
    for unit in UNITS:
        for system in ("us", "metric"):
            assert show_quantity(Quantity(12, unit), system).strip("0123456789 ,.") or unit == "count"  # type: ignore[arg-type]
