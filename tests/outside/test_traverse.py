"""A closed walk against the figures that a textbook of surveying prints."""

from __future__ import annotations

import pytest

from enfilade.geometry.traverse import Leg, Walked, corrections, spread, walked

# Ghilani and Wolf, Elementary Surveying, 13th edition, chapter 10, tables 10.2 and 10.4 (recalled; the lengths,
# azimuths and components agree with each other to the last printed digit). Feet; azimuths clockwise from north.
# Each row: azimuth (degrees, minutes, seconds), length, departure and latitude, both as balanced by the compass rule.
PRINTED = [
    ((126, 55, 17), 647.25, (517.451, -388.815), (517.444, -388.835)),
    ((178, 18, 58), 203.03, (5.966, -202.942), (5.964, -202.948)),
    ((15, 31, 54), 720.35, (192.889, 694.045), (192.881, 694.022)),
    ((284, 35, 20), 610.24, (-590.565, 153.708), (-590.571, 153.689)),
    ((206, 9, 41), 285.13, (-125.715, -255.919), (-125.718, -255.928)),
]
LAST_DIGIT = 0.0015  # printed to 0.001, and rounded once more so that the columns add up to nothing


def as_walked() -> Walked:
    headings = [90.0 - (d + m / 60 + s / 3600) for (d, m, s), *_ in PRINTED]
    turns = [(b - a + 180.0) % 360.0 - 180.0 for a, b in zip(headings, [*headings[1:], headings[0]], strict=True)]
    legs = [Leg(row[1], turn) for row, turn in zip(PRINTED, turns, strict=True)]
    return walked(legs, (10_000.0, 5000.0), headings[0])


def test_departures_and_latitudes_of_a_published_traverse() -> None:
    for step, (_, _, printed, _) in zip(as_walked().steps, PRINTED, strict=True):
        assert step == pytest.approx(printed, abs=LAST_DIGIT)


def test_closing_error_and_precision_of_a_published_traverse() -> None:
    walk = as_walked()
    assert walk.error == pytest.approx((0.026, 0.077), abs=0.0025)  # printed as the sum of five rounded parts
    assert walk.error_mm == pytest.approx(0.08, abs=0.005)  # printed: 0.08 ft
    assert walk.perimeter_mm == pytest.approx(2466.00)  # printed: 2466.00 ft
    assert walk.one_in == pytest.approx(2466.00 / 0.08, rel=0.03)  # printed: 0.08/2466.00, the error to one digit


def test_compass_rule_of_a_published_traverse() -> None:
    walk = as_walked()
    assert not walk.square
    for step, (_, _, _, balanced) in zip(spread(walk).steps, PRINTED, strict=True):
        assert step == pytest.approx(balanced, abs=LAST_DIGIT)


def test_transit_rule_worked_by_hand() -> None:
    # The rule as the same chapter states it (recalled): correction of a latitude = -(total error in latitude)
    # x (latitude of the course) / (sum of all latitudes, signs left out); departures likewise. An L-shaped walk,
    # lengths in feet, our own numbers: north 10, east 6, south 4, east 4.1, south 6.1, west 10.
    lengths, turns = [10.0, 6.0, 4.0, 4.1, 6.1, 10.0], [-90.0, -90.0, 90.0, -90.0, -90.0, -90.0]
    walk = walked([Leg(length, turn) for length, turn in zip(lengths, turns, strict=True)])
    assert walk.error == pytest.approx((0.1, -0.1))  # 6 + 4.1 - 10 east; 10 - 4 - 6.1 north
    # Sum of latitudes 10 + 4 + 6.1 = 20.1, of departures 6 + 4.1 + 10 = 20.1.
    by_hand = [
        (0.0, 0.1 * 10 / 20.1),
        (-0.1 * 6 / 20.1, 0.0),
        (0.0, 0.1 * 4 / 20.1),
        (-0.1 * 4.1 / 20.1, 0.0),
        (0.0, 0.1 * 6.1 / 20.1),
        (-0.1 * 10 / 20.1, 0.0),
    ]
    # The frame of the first wall, which runs north: ahead is +latitude, to the left of it -departure.
    for (ahead, left), (departure, latitude) in zip(corrections(walk), by_hand, strict=True):
        assert (-left, ahead) == pytest.approx((departure, latitude))
