"""Rooms (residential code R304.1, R304.2, R305.1: 70 sq ft, 7 ft, ceilings 84, 80 and 76 in)."""

from __future__ import annotations

from math import cos, sin

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from building import house, room

from .said import verdict, verdicts


@pytest.mark.parametrize(
    ("use", "ceiling", "part", "expected"),
    [
        ("kitchen", 84, "rooms", "met"),
        ("kitchen", 83, "rooms", "falls short"),
        ("hall", 84, "rooms", "met"),
        ("bath", 80, "baths", "met"),
        ("bath", 79, "baths", "falls short"),
        ("study", None, "rooms", "missing fact"),
    ],
)
def test_ceiling(use, ceiling, part, expected):
    assert verdict(house([], spaces=[room(100, 120, use=use, ceiling=ceiling)]), "I305", part) == expected


@pytest.mark.parametrize(("height", "expected"), [(76, "met"), (75, "falls short")])
def test_beams(height, expected):
    space = room(120, 120)
    space["dropped"] = [
        {"id": "beam", "outline": [[0, 0], [3000, 0], [3000, 200], [0, 200]], "height_mm": height * 25.4}
    ]
    assert verdict(house([], spaces=[space]), "I305", "beams") == expected


@pytest.mark.parametrize(
    ("width", "depth", "area", "side"),
    [
        (84, 120, "met", "met"),  # 70 sq ft exactly, 7 ft
        (84, 119, "falls short", "met"),
        (83, 200, "met", "falls short"),
    ],
)
def test_room_size(width, depth, area, side):
    study = house([], spaces=[room(width, depth, id="study", use="study")])
    assert verdict(study, "I304", "area") == area
    assert verdict(study, "I304", "least side") == side


def test_kitchens_and_halls_are_excepted():
    assert verdict(house([], spaces=[room(60, 60)]), "I304", "area") == "does not apply"
    assert verdicts(house([], spaces=[room(60, 60, use="hall")]), "I304", "area") == []


@settings(max_examples=15, deadline=None)
@given(st.floats(0, 6.28))
def test_turning_a_room_changes_nothing(turn):
    space = room(84, 120, id="study", use="study")
    space["outline"] = [[x * cos(turn) - y * sin(turn), x * sin(turn) + y * cos(turn)] for x, y in space["outline"]]
    assert verdict(house([], spaces=[space]), "I304", "least side") == "met"
