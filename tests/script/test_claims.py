"""Typed figures held against the record: what agrees, what is contradicted, and what is not compared."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import enfilade as ef
from building import window
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


# The river counter is 100 in (8 ft 4 in, 2540 mm) by 25 in and 36 in high; the island as above.
COUNTER = "The river counter"


@pytest.mark.parametrize(
    "text",
    [
        f"{COUNTER} is 9 feet long, so you can walk along it.",
        f"{COUNTER} is 9 feet long so you can walk along it.",
        f"{COUNTER} is 9 feet long, as the guideline asks.",
        f"{COUNTER} is 9 feet long as the guideline asks.",
        f"{COUNTER} between the counters is 9 feet long.",
        f"{COUNTER} is 9 feet long and you walk between the counters.",
        f"{COUNTER} should be 8 ft 4, but it is 9 feet long.",
        f"The code is old, and {COUNTER} is 9 feet long.",
        f"Until you are past the gap, {COUNTER} is 9 feet long.",
        f"{COUNTER} runs 9 feet along the wall.",
        f"{COUNTER} is, as the guideline asks, 9 feet long.",
        "Beside the aisle stands the 9-foot river counter.",
    ],
)
def test_a_word_elsewhere_in_the_sentence_switches_nothing_off(text: str) -> None:
    assert outcomes(text)[-1] == "contradicts"


@pytest.mark.parametrize(
    "text",
    [
        "The aisle, which runs past the island, is 4 feet wide.",
        "The aisle between the island and the range is 48 in wide.",
        "Between the island and the range are 48 inches.", "The guideline asks for an island of 12 feet.",
        "There are 3 feet of clear floor beside the island.", "As the guideline asks, 42 inches.",
        "The island should be 12 feet long.", "The island was going to be 12 feet long.",
        "An aisle of 48 inches.",
        "The doors leave 36 inches by the island.", "The island is no longer 12 feet long.",
        "42 inches, the guideline says.",
        "The island is longer than we drew it by 3 inches.", "The island has a 48-inch aisle on each side.",
    ],
)  # fmt: skip
def test_distances_rules_and_the_past_are_not_compared(text: str) -> None:
    assert set(outcomes(text)) == {"not compared"}


# Own rule: 3 in for whole feet, 15 cm for whole metres, 10 cm or 3 in for halves; half the next unit after `about`.
@pytest.mark.parametrize(
    ("said", "expected"),
    [
        ("two and a half metres", "contradicts"), ("8 feet", "contradicts"), ("2 metres", "contradicts"),
        ("7 feet 6", "agrees"), ("seven and a half feet", "agrees"), ("2.3 metres", "agrees"),
        ("2 m 30", "agrees"), ("2 m 31", "contradicts"), ("2 m 29", "agrees"),
        ("2 metres 29 centimetres", "agrees"), ("two metres twenty-nine", "agrees"),
        ("2 m 40", "contradicts"), ("about 8 feet", "agrees"), ("nearly 8 feet", "agrees"),
        ("almost 7 feet", "contradicts"),
        ("about two and a half metres", "agrees"), ("about 2 metres", "agrees"), ("about 3 metres", "contradicts"),
        ("just over 7 feet", "agrees"), ("just under 8 feet", "agrees"), ("over 7 feet", "agrees"),
        ("over 8 feet", "contradicts"), ("under 8 feet", "agrees"), ("under 7 feet", "contradicts"),
        ("no more than 8 feet", "agrees"), ("8 feet or so", "agrees"), ("some 8 feet", "agrees"),
        ("roughly 9 feet", "contradicts"), ("230 cm", "agrees"), ("240 cm", "contradicts"), ("2290 mm", "agrees"),
        ("2300 mm", "contradicts"),
    ],
)  # fmt: skip
def test_how_far_off_it_may_be(said: str, expected: str) -> None:
    plain = told_house().model_dump()
    plain["things"][3].update(width_mm=2286.0)  # 7 ft 6 in, as in a stale script
    figures = Figures(type(told_house()).model_validate(plain))
    assert outcomes(f"{COUNTER} is {said} long.", figures=figures) == [expected]


# The kitchen is 12 by 12 ft (3.66 m), the dining room 10 by 12 ft (3.05 by 3.66 m), the table 84 by 40 in.
@pytest.mark.parametrize(
    ("text", "room", "expected"),
    [
        ("The dining room is 3.05 by 3.66 metres.", "dining", ["agrees", "agrees"]),
        ("The room is 3.7 by 3.0 metres.", "dining", ["agrees", "agrees"]),
        ("The room is 12 by 12 feet.", "kitchen", ["agrees", "agrees"]),
        ("The room is 12 by 12 feet.", "dining", ["agrees", "contradicts"]),
        ("The room is 10' x 12'.", "dining", ["agrees", "agrees"]),
        ("The room is 10 x 14 ft.", "dining", ["agrees", "contradicts"]),
        ("The table is 7 feet by 40 inches.", "dining", ["agrees", "agrees"]),
        ("The table is 84 by 84 inches.", "dining", ["agrees", "contradicts"]),
        # 3658 mm is 3.7 m to the decimetre.
        ("A room of 3.6 by 3.2 metres.", "dining", ["contradicts", "contradicts"]),
        ("The island is 106 by 42 by 36 inches.", "kitchen", ["agrees", "agrees", "agrees"]),
        ("Four by four of us came.", "dining", []),
    ],
)
def test_two_sizes_are_two_sides_of_one_thing(text: str, room: str, expected: list[str]) -> None:
    assert sorted(outcomes(text, room)) == expected  # which of two equal figures is the wrong one, nobody can say


def test_a_sill_is_that_of_the_only_window() -> None:
    assert outcomes("The sill is 900 mm.") == ["contradicts"]
    assert outcomes("The sill is 42 inches above the floor.") == ["agrees"]
    assert outcomes("The sill is 900 mm.", "dining") == ["not compared"]  # no window
    plain = told_house().model_dump()
    second = window("second", "kitchen-west", 110, 20, 42, 42, name="second window")
    plain["openings"] = (*plain["openings"], second)
    two = Figures(type(told_house()).model_validate(plain))
    assert outcomes("The sill is 900 mm.", figures=two) == ["not compared"]


def test_what_the_record_has_is_written_to_the_last_place() -> None:
    """So that it cannot seem to be what was typed: 2.34 m is not 2692 mm, and both are not `2.7 m`."""
    plain = told_house(show={"currency": "USD", "units": "metric"}).model_dump()
    figures = Figures(type(told_house()).model_validate(plain))
    claim = claims(SpokenLine(id="line", text="The island is 2.74 m long."), "kitchen", figures)[0]
    assert (claim.outcome, claim.why) == ("contradicts", "the record has 2,692 mm (width of work island)")
    claim = claims(SpokenLine(id="line", text="The island is 9 feet 1 inch long."), "kitchen", figures)[0]
    assert claim.why == "the record has 2,692 mm or 8 ft 10 in (width of work island)"


def test_each_clause_is_of_what_it_names() -> None:
    assert outcomes("The island is 8' 4\" long, and the river counter is 8' 10\" long.") == ["contradicts"] * 2
    assert outcomes("The island fills the room, and it is 8' 10\" long beside the range.") == ["agrees"]


WORDS = """
the island is 9 feet long , and but so as between aisle it asks 2 m 40 by x 3 in half a { } sill ( ) - . ; about
nearly 9,840 USD room ceiling … four stools ½ 1/2 \u202e 木
"""
SIGNS = st.characters(exclude_categories=["Cc", "Cs"])


@given(st.lists(st.sampled_from(WORDS.split()), max_size=60).map(" ".join) | st.text(SIGNS, max_size=80))
@settings(max_examples=200, deadline=None)
def test_any_text_can_be_held_against_the_record(text: str) -> None:
    for claim in claims(SpokenLine(id="line", text=text), "kitchen", FIGURES):
        assert claim.text
        assert claim.why


# A dozen dozen is a gross; nobody says a third dozen, and what follows it is no part of the number.
@pytest.mark.parametrize("tail", ["", " stools", " people eat here", " feet six inches", " feet six inches long"])
def test_a_dozen_said_over_and_over_is_no_number_without_end(tail: str) -> None:
    for claim in claims(SpokenLine(id="line", text="The island is a" + " dozen" * 400 + tail), "kitchen", FIGURES):
        assert claim.why
    assert outcomes("The island is a dozen feet long.") == ["contradicts"]


def test_of_a_page_of_numbers_the_first_are_compared_and_the_rest_is_not_passed_over_in_silence() -> None:
    found = claims(SpokenLine(id="line", text="9 feet, " * 10_000), "kitchen", FIGURES)
    assert len(found) == 201
    assert (found[-1].text, found[-1].outcome) == ("9800 more figures", "not compared")


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
    # Whole metres and feet hide too much unless one says that they are about so much; so do whole tens of centimetres.
    about = "about " if places == 0 and unit in ("m", "feet", "cm") else ""
    assert outcomes(f"The island is {about}{number:.{places}f} {unit} long.", figures=figures) == ["agrees"]
    step = max(10.0**-places, 10.0 if unit in ("mm", "cm") and places == 0 else 0)
    other = number + max(2.5 * step, 2 / per_mm)  # within 0.8 mm two lengths are one
    said = f"The island is {other:.{places + 1}f} {unit} long."
    if abs(other * per_mm - 100.0) > 20 * per_mm:
        assert outcomes(said, figures=figures) == ["contradicts"]
