"""Findings: the verdict follows from the figures."""

from __future__ import annotations

import json
import math
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from enfilade.errors import OutOfRange
from enfilade.findings import Finding, Mark, Requirement, finding_id
from enfilade.quantities import Quantity
from enfilade.sources import Source

SOURCE = Source("Kitchen planning guidelines", "a body", "an edition", "6", "seen second-hand", "Kitchen guideline 6")
AISLE = Requirement("at least", 42.0, "in")


def finding(**more: Any) -> Finding:
    plain: dict[str, Any] = {
        "id": finding_id("K6", "aisle", ["counter-a", "island"]), "rule": "K6", "title": "Work aisle",
        "level": "recommended", "space": "kitchen", "subjects": ("counter-a", "island"), "source": SOURCE,
        "measured": Quantity(1066.8, "mm"), "required": AISLE,
    }  # fmt: skip
    return Finding(**plain | more)


# 42 in is 1066.8 mm; the tolerance is 0.8 mm (half of 1/16 in is 0.79375 mm).
@pytest.mark.parametrize(
    ("measured_mm", "verdict"), [(1066.8, "met"), (1066.0, "met"), (1065.99, "falls short"), (1200, "met")]
)
def test_a_length_meets_its_requirement_within_the_tolerance(measured_mm: float, verdict: str) -> None:
    assert finding(measured=Quantity(measured_mm, "mm")).verdict == verdict


def test_areas_and_counts_have_no_slack() -> None:
    assert Requirement("at least", 2.0, "count").met_by(Quantity(2, "count"))
    assert not Requirement("at least", 2.0, "count").met_by(Quantity(1.99, "count"))
    assert not Requirement("at most", 0.0, "mm2").met_by(Quantity(0.5, "mm2"))


@pytest.mark.parametrize(
    ("required", "measured", "margin"),
    [
        (AISLE, Quantity(45, "in"), 3.0),
        (AISLE, Quantity(1016, "mm"), -2.0),  # 40 in
        (Requirement("at most", 26.0, "in"), Quantity(24, "in"), 2.0),
        (Requirement("between", (48.0, 108.0), "in"), Quantity(50, "in"), 2.0),
        (Requirement("between", (48.0, 108.0), "in"), Quantity(110, "in"), -2.0),
        (Requirement("equal", 36.0, "in"), Quantity(35, "in"), -1.0),
    ],
)
def test_the_margin_is_in_the_printed_unit_and_positive_when_to_spare(
    required: Requirement, measured: Quantity, margin: float
) -> None:
    assert required.margin(measured) == pytest.approx(margin)


@pytest.mark.parametrize(
    ("how", "value"),
    [("between", 3.0), ("at least", (1.0, 2.0)), ("between", (2.0, 1.0)), ("at most", math.nan), ("equal", math.inf)],
)
def test_a_requirement_that_asks_nothing_is_refused(how: Any, value: Any) -> None:
    with pytest.raises(OutOfRange):
        Requirement(how, value, "in")


def test_a_finding_has_either_a_figure_or_a_reason() -> None:
    with pytest.raises(OutOfRange, match="either"):
        finding(measured=None)
    with pytest.raises(OutOfRange, match="either"):
        finding(because="missing fact")
    with pytest.raises(OutOfRange, match="no requirement"):
        finding(required=None)


def test_what_was_not_assessed_says_why() -> None:
    unknown = finding(measured=None, required=None, because="missing fact", needs=("household.cooks_together",))
    assert unknown.verdict == "not assessed"
    assert unknown.margin is None
    plain = unknown.as_json()
    assert (plain["because"], plain["needs"], plain["margin"]) == (
        "missing fact", ["household.cooks_together"], None,
    )  # fmt: skip


def test_as_json_is_plain_and_carries_what_the_contract_lists() -> None:
    marked = finding(marks=(Mark("measure", ((0.0, 0.0), (1.0, 2.0)), "42 in"),), working=("a", "b"))
    plain = json.loads(json.dumps(marked.as_json(), allow_nan=False))
    assert plain["required"] == {"how": "at least", "value": 42.0, "unit": "in"}
    assert plain["measured"] == {"value": 1066.8, "unit": "mm"}
    assert plain["margin"] == 0
    assert plain["verdict"] == "met"
    assert plain["source"]["section"] == "6"
    assert plain["marks"] == [{"role": "measure", "points": [[0, 0], [1, 2]], "text": "42 in", "plane": "plan"}]
    assert {
        "id",
        "rule",
        "title",
        "level",
        "space",
        "subjects",
        "because",
        "needs",
        "assumed",
        "working",
        "caution",
    } <= plain.keys()


@given(st.floats(0, 500), st.floats(0, 500), st.floats(0, 100))
def test_more_room_never_turns_met_into_falling_short(asked: float, measured: float, more: float) -> None:
    required = Requirement("at least", asked, "in")
    if required.met_by(Quantity(measured, "in")):
        assert required.met_by(Quantity(measured + more, "in"))


def test_a_finding_cannot_be_changed() -> None:
    with pytest.raises(AttributeError):
        finding().measured = Quantity(1, "mm")  # type: ignore[misc]
    assert replace(finding(), measured=Quantity(1000, "mm")).verdict == "falls short"
