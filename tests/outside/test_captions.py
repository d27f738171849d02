"""Captions against published limits, and read back with two general-purpose libraries."""

from __future__ import annotations

import datetime as dt
import io
import math
import re
from itertools import pairwise

import pytest
import srt
import webvtt
from hypothesis import given, settings
from hypothesis import strategies as st

from enfilade.errors import OutOfRange
from enfilade.export.captions import _plain, part_cues, srt_text, vtt_text
from enfilade.trade.caption_breaks import cost_of_break
from enfilade.trade.captions import USUAL, Cue, Limits, Said, cues, hurried
from enfilade.walkthrough.pages import SpokenPart, StopPart, TalkPart

STORY = (
    "The island is 84 inches long, so that two people can roll dough at once and a third can sit with a newspaper. "
    "It was shortened on site by six inches, because the door would otherwise have struck the corner of it."
)

texts = st.lists(
    st.one_of(
        st.text(max_size=60), st.sampled_from(["-->", "1\n2\n\n3", "<b>&amp;", "a\r\n\r\nb", "\u2028", "w" * 130])
    ),
    max_size=6,
).map(" ".join)
spoken = st.lists(st.tuples(texts, st.floats(0, 60), st.floats(0, 20)), max_size=6)
some_limits = st.builds(
    Limits, line_chars=st.integers(5, 60), lines=st.integers(1, 3), most_cps=st.floats(8, 30), most_s=st.floats(2, 9)
)


def said(lines: list[tuple[str, float, float]]) -> list[Said]:
    """Return lines one after the other: text, seconds, and the silence after."""
    found, at = [], 0.0
    for text, seconds, pause in lines:
        found.append(Said(_plain(text), at, seconds))
        at += seconds + pause
    return found


def letters(text: str) -> str:
    return re.sub(r"\s+", "", text)


def test_a_worked_example() -> None:
    # Worked by hand: 72 characters with spaces, 14 words, shown for 4.94 s: 60 x 14 / 4.94 = 170 words a minute,
    # 72 / 4.94 = 14.6 characters a second; within the 160 to 180 words a minute of broadcasters' guidance.
    words = ["word"] * 13 + ["kitchen"]
    cue = Cue(0, 4940, (" ".join(words[:7]), " ".join(words[7:])))
    assert (len(cue.text), len(cue.text.split())) == (72, 14)
    assert cue.words_a_minute == pytest.approx(170, abs=0.5)
    assert cue.characters_a_second == pytest.approx(14.6, abs=0.05)
    assert not hurried((cue,))


def test_the_published_limits() -> None:
    # A rule sheet for volunteer translators: 42 characters, 2 lines, 1 to 7 s, at most 25 characters a second. A
    # broadcaster's guideline: at most 1.5 s after the speech.
    assert (USUAL.line_chars, USUAL.lines, USUAL.least_s, USUAL.most_s, USUAL.most_cps) == (42, 2, 1.0, 7.0, 25.0)
    assert USUAL.most_after_s == 1.5


def test_lines_break_where_clauses_end() -> None:
    found = cues([Said(STORY, 0, len(STORY.split()) * 60 / 150)])
    # The guideline: at punctuation, else where a clause ends; never inside a phrase such as "84 inches".
    ends = [line.split()[-1] for cue in found for line in cue.lines]
    assert not {"84", "the", "a", "of", "would", "by", "with"} & set(ends)
    assert found[0].lines[0] == "The island is 84 inches long,"
    assert not hurried(found)


def test_all_captions_of_a_line_are_read_at_one_speed() -> None:
    # 150 words a minute is 0.4 s a word; 160 to 180 is 0.375 to 0.333 s (60 / 160, 60 / 180).
    for rate, a_word in ((150, 0.4), (160, 0.375), (180, 1 / 3)):
        count = len(STORY.split())
        found = cues([Said(STORY, 0, count * a_word)])
        assert found[-1].end_ms == pytest.approx(count * a_word * 1000, abs=1)
        assert sum(cue.seconds for cue in found) == pytest.approx(60 * count / rate, abs=0.002)
        speeds = [cue.characters_a_second for cue in found]
        assert max(speeds) / min(speeds) < 1.1


def test_a_brief_line_stays_into_the_silence_and_no_longer() -> None:
    (alone,) = cues([Said("Yes.", 2.0, 0.4)])
    assert (alone.start_ms, alone.end_ms) == (2000, 3000)  # the least time, 1 s
    first, _ = cues([Said("Yes.", 0.0, 0.4), Said("No, not that one.", 0.7, 2.0)])
    assert (first.start_ms, first.end_ms) == (0, 700)  # until the next begins
    assert [one.number for one in hurried((first,))] == [1]
    (fast,) = cues([Said("x" * 41, 0.0, 0.2)])
    assert fast.end_ms == 1640  # 41 characters at 25 a second
    (faster,) = cues([Said("x" * 42 + " " + "y" * 41, 0.0, 0.5)])
    assert faster.end_ms == 2000  # 84 characters ask for 3.36 s; at most 1.5 s after the speech
    assert hurried((faster,))[0].characters_a_second == pytest.approx(42)


def test_a_slow_line_does_not_stay_for_ever() -> None:
    (cue,) = cues([Said("Slowly", 0.0, 30.0)])
    assert cue.seconds == 7.0


def test_figures_stay_with_their_units() -> None:
    assert cost_of_break("84", "inches") == cost_of_break("10", '1/2"') == cost_of_break("the", "sill") == 8
    assert cost_of_break("sill.", "A") < cost_of_break("sill,", "a") < cost_of_break("sill", "and")
    assert cost_of_break("sill", "and") < cost_of_break("sill", "on") < cost_of_break("old", "sill")
    assert cost_of_break("he said \u201cno.\u201d", "Then") == 0


@settings(deadline=None)
@given(spoken, some_limits)
def test_every_word_is_kept_in_order_within_the_limits(lines: list[tuple[str, float, float]], limits: Limits) -> None:
    given_lines = said(lines)
    found = cues(given_lines, limits)
    for number, line in enumerate(given_lines):
        assert letters("".join("".join(cue.lines) for cue in found if cue.said == number)) == letters(line.text)
    for cue in found:
        assert 1 <= len(cue.lines) <= limits.lines
        assert all(0 < len(line) <= limits.line_chars for line in cue.lines)
        assert 0 < cue.end_ms - cue.start_ms <= 1000 * limits.most_s + 1
    for one, other in pairwise(found):
        assert one.end_ms <= other.start_ms


@settings(deadline=None)
@given(spoken)
def test_what_is_written_reads_back(lines: list[tuple[str, float, float]]) -> None:
    found = cues(said(lines))
    times = [(cue.start_ms, cue.end_ms) for cue in found]

    vtt = vtt_text(found, ("A title --> with an arrow", ""))
    assert vtt.startswith("WEBVTT\n\nNOTE\n")
    assert vtt.count("-->") == len(found)  # WebVTT: no payload and no note may hold the arrow
    read = webvtt.from_buffer(io.StringIO(vtt))
    assert [(clock(c.start), clock(c.end)) for c in read] == times
    assert [c.identifier for c in read] == [str(n) for n in range(1, len(found) + 1)]

    blocks = list(srt.parse(srt_text(found)))
    assert [block.index for block in blocks] == list(range(1, len(found) + 1))
    assert [(ms(block.start), ms(block.end)) for block in blocks] == times
    for block, cue in zip(blocks, found, strict=True):
        assert block.content.split("\n") == list(cue.lines)


def clock(written: str) -> int:
    hours, minutes, seconds = written.split(":")
    return round(1000 * (3600 * int(hours) + 60 * int(minutes) + float(seconds)))


def ms(time: dt.timedelta) -> int:
    return round(time.total_seconds() * 1000)


def test_plain_captions_read_back_word_for_word() -> None:
    found = cues([Said(STORY, 0, 15.0), Said("Salt & pepper, 3 < 4 > 2: <i>so</i>.", 16.0, 4.0)])
    read = webvtt.from_buffer(io.StringIO(vtt_text(found)))
    unescaped = [c.raw_text.replace("&lt;", "<").replace("&gt;", ">").replace("&amp;", "&") for c in read]
    assert [text.split("\n") for text in unescaped] == [list(cue.lines) for cue in found]
    assert "<i>" not in vtt_text(found)
    assert next(c.start for c in read) == "00:00:00.000"
    assert "00:00:16,000 --> " in srt_text(found)  # SubRip: a comma


def test_an_hour_and_more() -> None:
    (cue,) = cues([Said("Late", 3600 * 100 + 61.5, 2.0)])
    assert vtt_text((cue,)).splitlines()[3] == "100:01:01.500 --> 100:01:03.500"


def test_a_hundred_thousand_characters_take_no_age() -> None:
    for text in (
        "word " * 20_000,
        "x" * 100_000,
        "\u6728" * 100_000,
        "\U0001f469\u200d\U0001f373" * 20_000,
        "a " * 50_000,
    ):
        found = cues([Said(text, 0, 3600.0)])
        assert letters("".join("".join(cue.lines) for cue in found)) == letters(text)


def test_marks_stay_with_their_letters() -> None:
    (cue,) = cues([Said("e\u0301" * 21 + "e\u0301", 0, 5.0)])
    assert len(cue.lines) == 2
    assert cue.lines[1].startswith("e")


@pytest.mark.parametrize("seconds", [-1.0, math.nan, math.inf])
def test_impossible_times_are_refused(seconds: float) -> None:
    with pytest.raises(OutOfRange, match="takes"):
        cues([Said("a", 0, seconds)])
    with pytest.raises(OutOfRange, match="after the one before"):
        cues([Said("a", 0, 5), Said("b", 4, 5)])


@pytest.mark.parametrize("wrong", [{"lines": 0}, {"line_chars": 0}, {"least_s": 0}, {"least_s": 8}, {"most_cps": 0}])
def test_impossible_limits_are_refused(wrong: dict[str, float]) -> None:
    with pytest.raises(OutOfRange):
        Limits(**wrong)


def test_a_part_is_timed_with_its_walks_and_silences() -> None:
    def line(id: str, pause_s: float) -> SpokenPart:
        return SpokenPart(id, f"Line {id}.", f"Line {id}.", 2.0, pause_s, ())

    stop = StopPart("s", "kitchen", 1, "Kitchen", (line("b", 0.5), line("c", 0.0)), 4.5, 4000.0, 4.0, "")
    part = TalkPart("p", "", (line("a", 1.0),), (stop,), (line("d", 0.0),), 13.5)
    # By hand: 2 + 1 of silence + 4 of walking = 7; 2 + 0.5; 2; 2.
    assert [cue.start_ms for cue in part_cues(part)] == [0, 7000, 9500, 11500]
