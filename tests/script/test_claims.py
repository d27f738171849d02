"""Typed figures held against the record: what agrees, what is contradicted, and what is not compared."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import enfilade as ef
from enfilade.project.speaking import SpokenLine
from enfilade.script.claims import claims
from enfilade.script.figures import Figures
from script.told_house import told_house

FIGURES = Figures(told_house())


def outcomes(text: str, room: str | None = "kitchen", figures: Figures = FIGURES, **shows: Any) -> list[str]:
    return [claim.outcome for claim in claims(SpokenLine(id="line", text=text, **shows), room, figures)]


# The island is 106 in (8 ft 10 in, 2.69 m) by 42 in and 36 in high, for 4; the ceiling 108 in; the kitchen 144 sq ft.
@pytest.mark.parametrize(
    "text",
    [
        "The island is eight feet ten inches long.", "The island is 2.7 metres long.", "The island is nine feet long.",
        "The island is 8' 10\" long and 42 in wide.", "An island three feet high.", "about nine feet of island",
        "The island is more than eight feet long.", "The island is nearly nine feet long.", "The island seats four.",
        "a nine-foot ceiling", "The ceiling is 2.74 m high.", "144 square feet of kitchen",
        "Fourteen people eat here on Sundays.", "Three people live here.", "Two people cook together.", "two stools",
        "The range has six burners.", "The sink window is five feet wide.", "The range cost 6,250 dollars.",
        "The cabinet has three drawers.",
    ],
)  # fmt: skip
def test_agrees(text: str) -> None:
    assert set(outcomes(text)) == {"agrees"}


@pytest.mark.parametrize(
    "text",
    [
        "The island is 2.4 metres long.", "The island is eight feet long.", "The island is 8' 6\" long.",
        "The island is two feet high.", "The island seats five.", "The ceiling is seven feet high.",
        "200 square feet of kitchen", "Twelve people eat here on Sundays.", "Five people live here.", "five stools",
        "The range has four burners.", "The sink window is four feet wide.", "The island is more than ten feet long.",
        "All four stools are oak, three windows too.",
    ],
)  # fmt: skip
def test_contradicts(text: str) -> None:
    assert "contradicts" in outcomes(text)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("three friends came by", []), ("one of us, two of them, a third way", []), ("It comes apart into three.", []),
        ("river on three sides", []), ("We came in 1924.", []), ("nothing typed", []), ("{width of island} long", []),
        ("The aisle is 48 inches wide.", ["not compared"]), ("It came out 3 inches longer.", ["not compared"]),
        ("The guideline asks 42 inches.", ["not compared"]),
        ("Walk 3 metres past the island.", ["not compared"]),
        ("We had drawn the island ten feet long.", ["not compared"]), ("Ten people talk in here.", ["not compared"]),
        ("It is 2.4 m.", ["not compared"]), ("twelve per cent of it", ["not compared"]),
        ("one stool", ["not compared"]),
        ("The sofa is 2 m long.", ["not compared"]),
    ],
)  # fmt: skip
def test_no_false_alarm(text: str, expected: list[str]) -> None:
    assert outcomes(text) == expected


def test_what_the_line_shows_is_meant_when_it_names_nothing() -> None:
    assert outcomes("It is eight feet long.", things=("island",)) == ["contradicts"]
    assert outcomes("It is 2.7 m long.", things=("island",)) == ["agrees"]
    assert outcomes("It cost 8,000 dollars.", decisions=("top",)) == ["contradicts"]
    assert outcomes("It cost nearly ten thousand dollars.", decisions=("top",)) == ["agrees"]


def test_the_words_say_what_the_record_has() -> None:
    claim = claims(SpokenLine(id="line", text="The island is 2.4 metres long."), "kitchen", FIGURES)[0]
    assert claim.text == "2.4 metres"
    assert "8 ft 10 in" in claim.why
    assert "work island" in claim.why


def test_the_demo_house_contradicts_none_of_its_lines() -> None:
    project = ef.demo()
    figures = Figures(project)
    said = [(stop.space, line) for stop in project.script for line in stop.lines]
    assert said
    wrong = [claim for room, line in said for claim in claims(line, room, figures) if claim.outcome == "contradicts"]
    assert wrong == []


@given(st.floats(300, 6000), st.sampled_from(["mm", "cm", "m", "feet", "inches"]), st.integers(0, 2))
@settings(max_examples=300, deadline=None)
def test_how_finely_it_is_said_decides(width_mm: float, unit: str, places: int) -> None:
    """A size rounded to the places with which it is said agrees; one that is off by two of its last places does not."""
    per_mm = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "feet": 304.8, "inches": 25.4}[unit]
    plain = told_house().model_dump()
    plain["things"][0].update(width_mm=width_mm, depth_mm=100.0, seating=(), overhang={})
    figures = Figures(type(told_house()).model_validate(plain))
    number = round(width_mm / per_mm, places)
    assert outcomes(f"The island is {number:.{places}f} {unit} long.", figures=figures) == ["agrees"]
    step = max(10.0**-places, 10.0 if unit in ("mm", "cm") and places == 0 else 0)
    other = number + max(2.5 * step, 2 / per_mm)  # within 0.8 mm two lengths are one
    said = f"The island is {other:.{places + 1}f} {unit} long."
    if abs(other * per_mm - 100.0) > 20 * per_mm:
        assert outcomes(said, figures=figures) == ["contradicts"]
