"""Safety glazing: R308.4.2 (beside doors) and R308.4.3 (large low panes) of the residential code, recalled.

Beside a door: within 24 in of it, bottom edge under 60 in. A pane: over 9 sq ft, bottom edge under 18 in, top edge over
36 in, a walking surface within 36 in; all four together.
"""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from building import door, findings, house, one, room, window
from enfilade.findings import Finding
from enfilade.project.project import Project

FT2 = (12 * 25.4) ** 2 / 1e6  # m2 in a square foot


def beside(gap: float, sill: float = 40, safety: bool | None = True, **more: Any) -> Project:
    """A door 36 in wide that ends at 50 in along the south wall, a window `gap` in further."""
    win = window("win", "kitchen-south", 50 + gap, 30, 36, sill, glazing={"safety_glass": safety}, **more)
    return house(openings=[door("way", "kitchen-south", 14), win])


def said(found: Finding) -> str:
    return found.because or found.verdict


@pytest.mark.parametrize(
    ("gap", "sill", "safety", "expected"),
    [
        (10, 40, True, "met"),
        (10, 40, False, "falls short"),
        (10, 40, None, "missing fact"),
        (24, 40, False, "falls short"),  # within 24 in
        (24.1, 40, False, "does not apply"),
        (10, 59.9, False, "falls short"),
        (10, 60, False, "does not apply"),  # not under 60 in
    ],
)
def test_glass_beside_a_door(gap: float, sill: float, safety: bool | None, expected: str) -> None:
    found = one(beside(gap, sill, safety), "I308a")
    assert said(found) == expected
    assert "Breaking glass cuts" in found.caution
    assert found.level == "code"
    assert found.subjects == (("kitchen",) if expected == "does not apply" else ("win", "way"))


def test_glass_of_which_nothing_is_recorded_is_asked_for() -> None:
    bare = house(openings=[door("way", "kitchen-south", 14), window("win", "kitchen-south", 60)])
    assert one(bare, "I308a").needs == ("win.glazing.safety_glass",)
    shut = house(openings=[door("way", "kitchen-south", 14), window("win", "kitchen-south", 60, glazing="none")])
    assert said(one(shut, "I308a")) == "does not apply"
    assert said(one(house(), "I308a")) == "does not apply"


def test_round_a_corner_the_distance_is_straight_in_plan() -> None:
    # The door ends 12 in, the window begins 16 in from the corner: 20 in (root of 12^2 + 16^2).
    def corner(from_corner: float) -> Project:
        win = window("win", "kitchen-east", from_corner, from_end="right", glazing={"safety_glass": False})
        return house(openings=[door("way", "kitchen-south", 12, from_end="left"), win])

    near = one(corner(16), "I308a")
    assert near.working[0].startswith('window stands 20" (508 mm) from door')
    assert said(one(corner(21), "I308a")) == "does not apply"  # root of 12^2 + 21^2 = 24.2 in


def test_a_way_without_a_leaf_is_no_door_and_its_own_glass_is_another_rule() -> None:
    cased = door("way", "kitchen-south", 14, kind="cased opening")
    win = window("win", "kitchen-south", 60, glazing={"safety_glass": False})
    assert said(one(house(openings=[cased, win]), "I308a")) == "does not apply"
    glazed = door("way", "kitchen-south", 14, glazing={"safety_glass": False})
    assert said(one(house(openings=[glazed]), "I308a")) == "does not apply"


def test_a_glazed_door_beside_a_door_counts() -> None:
    openings = [door("way", "kitchen-south", 14), door("terrace", "kitchen-south", 60, glazing={"safety_glass": True})]
    found = one(house(openings=openings), "I308a")
    assert (found.verdict, found.subjects) == ("met", ("terrace", "way"))


def pane(area: float = 10, sill: float = 10, height: float = 48, safety: bool | None = True) -> Project:
    glazing = {"area_m2": area * FT2, "safety_glass": safety}
    return house(openings=[window("win", "kitchen-north", 20, 72, height, sill, glazing=glazing)])


@pytest.mark.parametrize(
    ("area", "sill", "height", "safety", "expected"),
    [
        (10, 10, 48, True, "met"),
        (10, 10, 48, False, "falls short"),
        (10, 10, 48, None, "missing fact"),
        (9.01, 10, 48, False, "falls short"),
        (9, 10, 48, False, "does not apply"),  # not over 9 sq ft
        (10, 17.9, 48, False, "falls short"),
        (10, 18, 48, False, "does not apply"),  # not under 18 in
        (10, 10, 26.1, False, "falls short"),  # its top at 36.1 in
        (10, 10, 26, False, "does not apply"),  # its top at 36 in
    ],
)
def test_a_large_low_pane(area: float, sill: float, height: float, safety: bool | None, expected: str) -> None:
    found = one(pane(area, sill, height, safety), "I308b")
    assert said(found) == expected
    assert "Breaking glass cuts" in found.caution


def test_a_pane_of_which_no_glass_is_recorded_is_the_whole_opening() -> None:
    found = one(house(openings=[window("win", "kitchen-north", 20, 36, 48, 10)]), "I308b")
    assert found.needs == ("win.glazing.safety_glass",)
    assert "12 sq ft (1.11 m²) of glass" in found.working[0]  # 36 x 48 in


def test_every_room_is_told_and_an_opening_between_two_is_told_once() -> None:
    spaces = [room(144, 144), room(144, 144, id="hall", use="hall", at=(0, 144))]
    glazed = door("way", "kitchen-north", 60, beyond="hall-south", glazing={"area_m2": 1.5, "safety_glass": False})
    found = findings(house(spaces=spaces, openings=[glazed]), "I308b")
    assert {f.space: said(f) for f in found} == {"kitchen": "falls short", "hall": "does not apply"}


@settings(max_examples=20, deadline=None)
@given(st.floats(0, 60), st.floats(0, 30))
def test_glass_further_from_a_door_is_never_asked_more(gap: float, more: float) -> None:
    near, far = one(beside(gap, safety=False), "I308a"), one(beside(min(gap + more, 64), safety=False), "I308a")
    assert said(near) == "falls short" or said(far) == "does not apply"
