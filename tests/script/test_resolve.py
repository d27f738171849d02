"""Lines with odd text, and how typed figures are said."""

from __future__ import annotations

import time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from enfilade.script.figures import Figures
from enfilade.script.resolve import resolved, said, shown
from enfilade.script.speakable import speakable
from hostile import PAYLOAD
from script.told_house import told_house

FIGURES = Figures(told_house())
PIECES = st.sampled_from([
    "{", "}", "{{", "}}", "{width of island}", "{7*7}", "{}", " ", "of", ",", "in metres", "2.7 m", "8' 10\"", "½",
    "3/4\"",
    "1,250", "$9", "%", "12:30", "2025-06-12", "²", "\u202e", "\u0661\u0662", "'", '"', "twenty", "and a half",
    "feet", "inch",
    "{measured of K6:a:b}", "{number of stools in kitchen}", "×", "&", "–", "-", "1.2.3", "0", "9" * 50,
    "{price of range}",
])  # fmt: skip
TEXT = st.text(max_size=60) | st.lists(PIECES, max_size=25).map("".join) | st.lists(PIECES, max_size=25).map(" ".join)


@given(TEXT)
@settings(max_examples=800, deadline=None)
def test_nothing_is_raised_and_all_three_agree(text: str) -> None:
    found = resolved(text, FIGURES)
    assert found.shown == shown(text, FIGURES)
    assert found.said == said(text, FIGURES)
    assert bool(found.faults) == ("{" in _without_known(text) or "}" in _without_known(text))
    for fault in found.faults:
        assert fault.place.startswith("sign ")
        assert fault.what


def _without_known(text: str) -> str:
    for known in ("{width of island}", "{number of stools in kitchen}", "{price of range}"):
        text = text.replace(known, "")
    return text


@given(st.text(st.characters(exclude_characters="{}"), max_size=80))
@settings(max_examples=400, deadline=None)
def test_plain_text_is_shown_as_it_is(text: str) -> None:
    assert shown(text, FIGURES) == text
    assert resolved(text, FIGURES).faults == ()


@given(TEXT)
@settings(max_examples=800, deadline=None)
def test_what_is_said_stays_as_it_is_when_it_is_said_again(text: str) -> None:
    once = speakable(text)
    assert speakable(once) == once


@given(st.text("abc xyz.,;!?'\u00e9\u4e2d\n", max_size=60))
def test_text_without_figures_is_said_as_it_is(text: str) -> None:
    assert speakable(text) == text


@pytest.mark.parametrize(
    "text",
    ["{{7*7}}", "{", "}", "{foo}", "{{width of island}}", "a } b { c", "{width of {name of island}}", PAYLOAD, "{\n}",
     "{width of island", "{" * 50, "{}" * 5, "{%raw%}", "${width of island", "{width of island!r}", "{0}", "{:>9}",
     "{width of island, __import__('os')}", "{name of <script>alert(1)</script>}"],
)  # fmt: skip
def test_hostile_text_is_shown_as_it_was_typed(text: str) -> None:
    found = resolved(text, FIGURES)
    assert found.faults
    assert found.shown == text.replace("{width of island}", "8 ft 10 in").replace("{name of island}", "work island")


@pytest.mark.parametrize(
    "text",
    ["x" * 100_000, "{" * 100_000, "{x} " * 25_000, "".join(f"{{width of w{n}}}" for n in range(6_000)),
     '24" ' * 25_000,
     "eight feet ten " * 7_000, "9" * 100_000, "and a half " * 9_000, "one hundred and " * 6_000, "1/2 " * 25_000,
     "a" + " dozen" * 400, "a" + " dozen" * 400 + " feet six inches", "a" + " dozen" * 20_000],
    ids=lambda text: text[:12],
)  # fmt: skip
def test_long_text_takes_no_longer_than_it_is(text: str) -> None:
    figures = Figures(told_house())
    begun = time.perf_counter()
    found = resolved(text, figures)
    assert time.perf_counter() - begun < 20
    assert len(found.faults) <= 100
    assert found.shown


def test_a_name_in_the_record_is_put_in_as_it_is_and_read_no_further() -> None:
    plain = told_house().model_dump()
    plain["things"][0]["name"] = "{price of range} <b>&"
    figures = Figures(type(told_house()).model_validate(plain))
    assert shown("{name of island}", figures) == "{price of range} <b>&"


# How units are said is English as spoken; common practice, no source.
@pytest.mark.parametrize(
    ("typed", "expected"),
    [
        ("It is 2.7 m long.", "It is two point seven metres long."),
        ("8' 10\" and 8'10\" and 8 ft 10 in.",
         "eight feet ten inches and eight feet ten inches and eight feet ten inches."),
        ("a 24 in oven, 24 in wide", "a twenty-four inch oven, twenty-four inches wide"),
        ("an 8-foot table", "an eight-foot table"),
        ("14 in summer, 2 in the study, since 3 in 2025",
         "fourteen in summer, two in the study, since three in twenty twenty-five"),
        ("3 1/2 in, 3½ in, 3/4\"", "three and a half inches, three and a half inches, three quarters of an inch"),
        ("10 sq ft, 13.1 m², 12 square metres",
         "ten square feet, thirteen point one square metres, twelve square metres"),
        ("$9,840 or 12.5% or €40 or 3 dollars",
         "nine thousand eight hundred and forty dollars or twelve point five per cent or forty euros or three dollars"),
        ("$0.50 and $2.05", "fifty cents and two dollars and five cents"),
        ("3-4 people, 4 x 6 ft", "three to four people, four by six feet"),
        ("in 1924, the 1930s, on 2025-06-12 at 10:30",
         "in nineteen twenty-four, the nineteen thirties, on the twelfth of June twenty twenty-five at ten thirty"),
        ("the 2nd door & K6", "the second door and K six"), ("007", "zero zero seven"), ("1 in", "one inch"),
        ("nothing to say", "nothing to say"), ('he said "take 24" and left', 'he said "take twenty-four" and left'),
    ],
)  # fmt: skip
def test_typed_figures_are_said_in_words(typed: str, expected: str) -> None:
    assert speakable(typed) == expected


def test_a_mouth_says_more_words_than_the_eye_reads() -> None:
    # WE-39: time is words over rate, so the words that count are those that are said.
    assert len(said("8' 10\"", FIGURES).split()) == 4
