"""How long speech takes, against worked figures and the published rates."""

from __future__ import annotations

from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from enfilade.errors import NotFound, OutOfRange
from enfilade.sources import Known
from enfilade.trade.speech import rate, rates, spoken_time, walking_time, word_count, words_in


@pytest.mark.parametrize(("wpm", "seconds"), [(130, 207.7), (150, 180.0), (170, 158.8)])
def test_450_words_at_three_rates(wpm: float, seconds: float) -> None:
    # 60 x 450 / rate, worked by hand to a tenth of a second: 27,000 / 130 = 207.69, / 150 = 180, / 170 = 158.82.
    assert round(spoken_time(450, rate_wpm=wpm).seconds, 1) == seconds
    assert f"= {seconds:.1f} s" in spoken_time(450, rate_wpm=wpm).working[0]


def test_pauses_are_added() -> None:
    # 60 x 300 / 150 = 120 s, and 1.5 s + 2 s of silence.
    assert spoken_time(300, rate_wpm=150, pauses_s=[1.5, 2.0]).seconds == pytest.approx(123.5)


@pytest.mark.parametrize(
    ("id", "usual", "low", "high"),
    [
        # Brysbaert 2019: silent reading 238 (non-fiction) and 260 (fiction), ranges 175-300 and 200-320; aloud 183.
        ("silent-reading-facts", 238, 175, 300),
        ("silent-reading-stories", 260, 200, 320),
        ("reading-aloud", 183, None, None),
        # Rodero 2012: 160-180 advised for radio.
        ("radio", None, 160, 180),
        # National Center for Voice and Speech, as quoted.
        ("conversation", 150, None, None),
        # Publishers, as quoted; a talk, from advice to speakers.
        ("narration", None, 150, 160),
        ("public-talk", None, 100, 130),
        # Tauroza and Allison 1990, recalled: lectures 140, radio monologue 160, interviews 190, conversation 210.
        ("british-lecture", 140, None, None),
        ("british-radio", 160, None, None),
        ("british-interview", 190, None, None),
        ("british-conversation", 210, None, None),
        # Own choice.
        ("own-default", 150, 130, 170),
    ],
)
def test_published_rates(id: str, usual: float | None, low: float | None, high: float | None) -> None:
    found = rate(id)
    assert (found.usual, found.low, found.high) == (usual, low, high)
    assert found.source.known in get_args(Known)
    assert found.source.document


def test_every_rate_can_be_reckoned_with() -> None:
    assert len({one.id for one in rates()}) == len(rates()) == 12
    for one in rates():
        assert 60 <= one.wpm <= 400
        assert one.low is None or one.high is None or one.low <= one.wpm <= one.high
    with pytest.raises(NotFound, match="conversation"):
        rate("as fast as possible")


@pytest.mark.parametrize(
    ("text", "count"),
    [
        ("", 0),
        ("   \n\t — … ", 0),
        ("The island keeps the peace between them.", 7),
        ("A hand's breadth, a well-made joint", 6),
        ("3.5 m, or 11 feet", 5),
        ("**bold** <b>markup</b>", 4),
        ("🙂🙂", 0),
        ("厨房", 2),
        ("廚房 is kitchen", 4),
    ],
)
def test_words_are_counted_as_they_are_said(text: str, count: int) -> None:
    assert word_count(text) == len(words_in(text)) == count


def test_a_very_long_text_is_counted_at_once() -> None:
    assert word_count("a " * 50_000) == 50_000
    assert word_count("a-" * 50_000) == 1


@pytest.mark.parametrize(
    ("words", "wpm", "pause"),
    [(-1, 150.0, 0.0), (10, 0.0, 0.0), (10, -5.0, 0.0), (10, float("nan"), 0.0), (10, 150.0, -1.0),
     (10, 150.0, float("inf"))],
)  # fmt: skip
def test_odd_numbers_are_refused(words: int, wpm: float, pause: float) -> None:
    with pytest.raises(OutOfRange, match="expected a finite number"):
        spoken_time(words, rate_wpm=wpm, pauses_s=[pause])


@pytest.mark.parametrize(("far", "pace"), [(-1.0, 1000.0), (float("inf"), 1000.0), (1000.0, 0.0)])
def test_a_walk_needs_a_length_and_a_pace(far: float, pace: float) -> None:
    with pytest.raises(OutOfRange):
        walking_time(far, pace_mm_s=pace)


def test_a_walk_takes_its_length_by_its_pace() -> None:
    assert walking_time(6500, pace_mm_s=1300).seconds == pytest.approx(5.0)
    assert walking_time(0, pace_mm_s=1300).seconds == 0.0


@given(st.integers(0, 10_000), st.floats(60, 300), st.lists(st.floats(0, 600), max_size=20))
def test_time_grows_with_words_and_pauses_and_shrinks_with_the_rate(
    words: int, wpm: float, pauses: list[float]
) -> None:
    here = spoken_time(words, rate_wpm=wpm, pauses_s=pauses).seconds
    assert spoken_time(words + 1, rate_wpm=wpm, pauses_s=pauses).seconds > here
    assert spoken_time(words, rate_wpm=wpm, pauses_s=[*pauses, 1.0]).seconds > here
    assert spoken_time(words, rate_wpm=wpm * 1.1, pauses_s=pauses).seconds <= here
    # Rates turn back: so many words in that time are said at that rate.
    said = here - sum(pauses)
    if words and said > 1e-6:
        assert 60 * words / said == pytest.approx(wpm, rel=1e-3)
