"""Clear height above cooking (Kitchen guideline 18, code part: 24 in protected, 30 in unprotected)."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from building import findings, house, on_wall, one, thing

from .said import verdict, verdicts


def _range(**more):
    return thing("range", "range", 30, 26, on_wall("kitchen-north", 50), **more)


def _over(kind, bottom, **more):
    return thing(kind, "above", 30, 14, on_wall("kitchen-north", 50), bottom=bottom, top=bottom + 20, **more)


@pytest.mark.parametrize(
    ("bottom", "expected"),
    [(60, "met"), (59.9, "falls short"), (66, "met"), (59.97, "met")],  # 36 + 24 = 60; 0.03 in is within 0.8 mm
)
def test_a_hood_is_protected(bottom, expected):
    assert verdict(house([_range(), _over("hood", bottom)]), "K18", "protected") == expected


@pytest.mark.parametrize(
    ("underside", "bottom", "part", "expected"),
    [
        ("combustible", 66, "unprotected", "met"),  # 36 + 30
        ("combustible", 65, "unprotected", "falls short"),
        ("noncombustible", 60, "protected", "met"),
        ("noncombustible", 59, "protected", "falls short"),
        (None, 66, "unprotected", "met"),  # enough for either
        (None, 62, "unprotected", "missing fact"),  # enough for one only
        (None, 54, "protected", "falls short"),  # too little for either
    ],
)
def test_a_cabinet_goes_by_its_underside(underside, bottom, part, expected):
    kitchen = house([_range(), _over("wall cabinet", bottom, underside=underside)])
    assert verdict(kitchen, "K18", part) == expected


def test_the_gap_is_measured_and_its_caution_said():
    finding = one(house([_range(), _over("hood", 66)]), "K18")
    assert finding.measured.to("in").value == 30
    assert finding.caution
    assert finding.marks[0].plane == "kitchen-north"


def test_a_missing_underside_is_named():
    finding = one(house([_range(), _over("wall cabinet", 62)]), "K18")
    assert finding.needs == ("above.underside",)


def test_a_microwave_with_a_hood_follows_its_maker():
    kitchen = house([_range(), _over("microwave", 54, in_hood=True)])
    assert verdicts(kitchen, "K18", "protected") == ["source silent"]


def test_nothing_above_does_not_apply_and_no_cooking_surface_is_a_missing_fact():
    beside = thing("wall cabinet", "beside", 30, 12, on_wall("kitchen-north", 80), bottom=54)
    assert verdict(house([_range(), beside]), "K18", "unprotected") == "does not apply"
    assert verdict(house([]), "K18", "unprotected") == "missing fact"
    assert one(house([]), "K18").needs == ("kitchen: a cooking surface",)


def test_a_cabinet_behind_a_hood_is_hidden_only_where_the_hood_covers_it():
    cabinet = thing("wall cabinet", "cab", 30, 12, on_wall("kitchen-north", 50), bottom=84, top=96)
    assert len(findings(house([_range(), _over("hood", 66), cabinet]), "K18")) == 1
    wider = thing("wall cabinet", "cab", 30, 20, on_wall("kitchen-north", 50), bottom=84, top=96)
    assert len(findings(house([_range(), _over("hood", 66), wider]), "K18")) == 2


@settings(max_examples=20, deadline=None)
@given(st.floats(0, 359), st.floats(-200, 200))
def test_turning_the_range_and_hood_together_changes_nothing(turn, shift):
    def at(kind, size, **more):
        width, depth = size
        place = {"how": "free", "x_mm": 1800 + shift, "y_mm": 1800 - shift, "turn_deg": turn}
        return thing(kind, kind, width, depth, place, **more)

    kitchen = house([at("range", (30, 26)), at("hood", (30, 20), bottom=60, top=80)])
    finding = one(kitchen, "K18")
    assert finding.verdict == "met"
    assert finding.measured.to("in").value == 24


def test_a_hood_cased_in_wood_is_not_protected():
    kitchen = house([_range(), _over("hood", 62, underside="combustible")])
    assert verdict(kitchen, "K18", "unprotected") == "falls short"
    taken = one(house([_range(), _over("hood", 62)]), "K18")
    assert any("taken as noncombustible" in line for line in taken.working)
