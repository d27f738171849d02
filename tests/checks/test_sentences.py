"""Findings in sentences. Values and names here are invented; nothing is a published figure."""

from __future__ import annotations

import pytest

from enfilade.checks.sentences import asks, cautions_of, margin_words, measured_words, sentence
from enfilade.findings import Finding, Requirement
from enfilade.quantities import Quantity
from enfilade.sources import Source
from enfilade.standards.rows import cautions

SOURCE = Source("Planning rules", "A body", "first", "rule 6", "recalled", "Rule 6")


def finding(measured: Quantity | None, required: Requirement, **more: object) -> Finding:
    return Finding("R6:aisle:a+b", "R6", "Work aisle", "recommended", "kitchen", ("a", "b"), SOURCE,
                   measured=measured, required=required, **more)  # type: ignore[arg-type]  # fmt: skip


def test_a_shortfall_says_what_was_measured_what_is_asked_and_how_much_is_missing() -> None:
    short = finding(Quantity(1041.4, "mm"), Requirement("at least", 48, "in"))
    assert sentence(short, "us") == 'Work aisle: 41". Rule 6 asks at least 48"; 7" short.'
    assert sentence(short, "metric") == "Work aisle: 1041 mm. Rule 6 asks at least 1219 mm; 178 mm short."


def test_what_lies_within_half_a_sixteenth_is_met_exactly() -> None:
    held = finding(Quantity(1219.0, "mm"), Requirement("at least", 48, "in"))
    assert held.verdict == "met"
    assert margin_words(held, "us") == "exactly"


@pytest.mark.parametrize(
    ("required", "system", "words"),
    [
        (Requirement("at most", 312, "in"), "us", 'at most 312"'),
        (Requirement("between", (48, 108), "in"), "metric", "between 1219 mm and 2743 mm"),
        (Requirement("at most", 0, "mm2"), "us", "none"),
        # 2700 / 25.4 = 106.299 in = 106 5/16 in to the nearest sixteenth: what was printed stands beside it.
        (Requirement("at least", 2700, "mm"), "us", "at least 8' 10 5/16\" (2,700 mm)"),
        (Requirement("at least", 2700, "mm"), "metric", "at least 2700 mm"),
        (Requirement("at least", 2, "count"), "us", "at least 2"),
        (Requirement("at least", 8, "%"), "us", "at least 8%"),
        (Requirement("at least", 150, "cfm"), "metric", "at least 254.9 m\u00b3/h"),  # 150 x 1.69901 = 254.85
    ],
)
def test_what_is_asked(required: Requirement, system: str, words: str) -> None:
    assert asks(required, system) == words  # type: ignore[arg-type]


def test_a_length_beyond_the_upper_bound_is_too_much_not_short() -> None:
    far = finding(Quantity(120, "in"), Requirement("between", (48, 108), "in"))
    assert margin_words(far, "us") == '12" too much'


def test_nothing_where_nothing_is_asked_reads_as_none() -> None:
    none = finding(Quantity(0, "mm"), Requirement("at most", 0, "in"))
    assert sentence(none, "us") == "Work aisle: none. Rule 6 asks none."
    some = finding(Quantity(1200.15, "mm"), Requirement("at most", 0, "in"))
    assert sentence(some, "us") == 'Work aisle: 47 1/4". Rule 6 asks none; 47 1/4" too much.'


def test_what_is_not_assessed_says_why_and_what_is_needed() -> None:
    open_ = finding(None, Requirement("at least", 2, "count"), because="missing fact", needs=("hood.ducted",))
    assert (
        sentence(open_, "us", {"hood": "range hood"})
        == "Work aisle: not assessed, a fact is not recorded. Needed: range hood: whether it is ducted outdoors."
    )
    assert measured_words(open_, "us") == "\u2013"


def test_each_caution_is_told_once_though_findings_carry_several_joined() -> None:
    texts = cautions()
    fire, gas = texts["fire"], texts["gas"]
    asked = Requirement("at least", 24, "in")
    found = [finding(Quantity(20, "in"), asked, caution=words) for words in (fire, f"{fire} {gas}", "")]
    assert set(cautions_of(found)) == {fire, gas}
    assert cautions_of(found[2:]) == ()
