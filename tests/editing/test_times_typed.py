"""Lengths of time and walking paces as they are typed. An hour has 60 minutes of 60 seconds; a foot is 304.8 mm."""

from __future__ import annotations

import contextlib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from building import house
from enfilade.editing.forms.forms import Forms
from enfilade.editing.forms.offers import Offers
from enfilade.editing.forms.times import (
    duration,
    duration_words,
    is_pace,
    is_time,
    pace,
    pace_words,
    told_length,
)
from enfilade.editing.forms.typed import with_typed
from enfilade.errors import BadRecord, Refused


@pytest.mark.parametrize(
    ("typed", "seconds"),
    [("90", 90), ("1.5 min", 90), ("1 min 30 s", 90), ("1:30", 90), ("1 h", 3600), ("1h 2m 3s", 3723),
     ("1:02:03", 3723), ("8 minutes", 480), ("8 min.", 480), (" 2  MIN ", 120), ("0", 0), ("0.25 s", 0.25),
     ("1 hour, 30 minutes", 5400)],
)  # fmt: skip
def test_a_time_is_read(typed: str, seconds: float) -> None:
    assert duration(typed) == pytest.approx(seconds)


@pytest.mark.parametrize(
    "typed",
    ["", "soon", "-3", "1 min 2 h", "8 8", "1:75", "1:60:00", "3 miles", "1 min 1 min", "9" * 40, "nan"],
)
def test_what_is_no_time_is_refused_in_words(typed: str) -> None:
    with pytest.raises(Refused, match="is not a time; expected a time such as"):
        duration(typed)


@given(st.integers(0, 3_600_000).map(lambda hundredths: hundredths / 100))
def test_a_time_is_typed_as_it_is_shown(seconds: float) -> None:
    assert duration(duration_words(seconds)) == pytest.approx(seconds, abs=1e-6)


@given(st.text(max_size=40))
def test_any_text_is_read_or_refused(typed: str) -> None:
    with contextlib.suppress(Refused):
        assert duration(typed) >= 0


def test_which_fields_hold_times_and_paces() -> None:
    assert [is_time(name) for name in ("target_s", "pause_s", "walk_mm_s", "width_mm")] == [True, True, False, False]
    assert [is_pace(name) for name in ("target_s", "walk_mm_s")] == [False, True]


def test_a_pace_is_read_in_the_units_of_the_project() -> None:
    assert pace(1, "", "metric") == 1000
    assert pace(1, "", "us") == pytest.approx(304.8)
    assert pace(3.6, "km/h", "us") == pytest.approx(1000)
    assert pace(1, "mph", "us") == pytest.approx(1609.344 / 3600 * 1000)  # an international mile is 1609.344 m
    assert pace(1, "knots", "us") is None
    assert (pace_words(1219.2, "us"), pace_words(1400, "metric")) == ("4", "1.4")


@pytest.mark.parametrize(("typed", "seconds"), [("6", 360), ("7.5", 450), ("10 s", 10), ("1:30", 90), ("45 s", 45)])
def test_how_long_a_house_is_told_is_typed_in_minutes(typed: str, seconds: float) -> None:
    assert told_length(typed) == seconds
    assert with_typed(house([]), ("show", "speaking", "target_s"), typed).show.speaking.target_s == seconds


@pytest.mark.parametrize("typed", ["6 s", "0", "0.1", "0:09", "9.99 s"])
def test_what_is_too_short_to_tell_a_house_in_is_refused_with_a_hint(typed: str) -> None:
    with pytest.raises(BadRecord, match="too short to tell a house in") as refusal:
        with_typed(house([]), ("show", "speaking", "target_s"), typed)
    assert "a bare number is in minutes" in refusal.value.faults[0].expected


def test_a_pause_is_still_typed_in_seconds() -> None:
    script = [{"id": "s", "space": "kitchen", "lines": [{"id": "a", "text": "Look."}]}]
    project = with_typed(house([], script=script), ("script", "s", "lines", "a", "pause_s"), "2")
    assert project.script[0].lines[0].pause_s == 2


def test_they_are_typed_into_the_record_within_what_is_possible() -> None:
    project = with_typed(house([]), ("show", "speaking", "target_s"), "8 min")
    assert project.show.speaking.target_s == 480
    assert Forms(project, Offers(project)).field(("show", "speaking", "target_s"))["shown"] == "8 min"
    assert with_typed(project, ("show", "speaking", "target_s"), "8 min") == project
    for path, typed, words in (
        ("target_s", "11 h", "at most 10 h"),
        ("walk_mm_s", "0.1", "feet a second"),
        ("walk_mm_s", "3 apples", "a number in feet a second"),
    ):
        with pytest.raises(BadRecord, match=words):
            with_typed(project, ("show", "speaking", path), typed)
