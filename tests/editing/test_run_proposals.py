"""What is proposed for what is left over of a stretch, or too much; widths are common practice, without a source."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from building import door, house, room, window
from enfilade.editing.runs.laying import left_over_words, parse_run, proposals, run_left_over, run_stretch
from enfilade.editing.runs.reading_runs import typed_item
from enfilade.editing.runs.run_words import run_words
from enfilade.lengths import inches
from enfilade.project.project import Project

NORTH = "kitchen-north"


def kitchen() -> Project:
    """Return a kitchen of 165 by 144 in, with a window in its north wall."""
    return house(spaces=[room(165, 144)], openings=[window("view", NORTH, 60, 36)])


def words(text: str, **how: Any) -> list[str]:
    project = kitchen()
    return [one.words for one in proposals(text, parse_run(text, "us"), run_stretch(project, NORTH), "us", **how)]


def test_what_is_left_over_is_proposed_for() -> None:
    # 36 + 24 + 36 + 30 + 36 = 162 of 165 in.
    assert words("36, 24 dishwasher, 36 sink, 30 range, 36") == [
        'A filler of 3" at the right end, in the corner', 'A filler of 3" at the left end, in the corner',
        'A filler at each end, 1 1/2"', 'No. 1, the 36" base cabinet, wider: 39"',
        'No. 5, the 36" base cabinet, wider: 39"',
        'No. 3, the 36" sink cabinet, wider: 39"',
    ]  # fmt: skip
    # 20 in: no filler is so wide, no cabinet is made so much wider; the widest that fits is 18.
    assert words("145 space") == ['One more cabinet, 18" wide, at the right end; 2" is left over']
    assert words("165 space") == []
    assert words("164 1/2 space") == []  # less than a filler
    assert words("153 space", from_end="right") == [
        'A filler at each end, 6"', 'One more cabinet, 12" wide, at the left end',
    ]  # fmt: skip


def test_what_is_too_much_is_proposed_for() -> None:
    # 171 of 165 in.
    assert words("36, 24 dishwasher, 36 sink, 30 range, 18, 27") == [
        'No. 3, the 36" sink cabinet, narrower: 30"', 'No. 1, the 36" base cabinet, narrower: 30"',
        'No. 6, the 27" base cabinet, narrower: 21"', 'No. 5, the 18" base cabinet, left out; 12" is left over',
    ]  # fmt: skip
    assert words("162 space, 4 filler") == ['No. 2, the 4" filler, narrower: 3"']
    assert words("165 space, 4 filler") == ['No. 2, the 4" filler, left out']


def test_the_filler_by_the_corner_comes_first() -> None:
    project = house(spaces=[room(165, 144)], openings=[door("way", NORTH, 120, 36, name="back door")])
    stretch = run_stretch(project, NORTH)
    first, second, *_ = proposals("118", parse_run("118", "us"), stretch, "us")
    assert first.words == 'A filler of 2" at the left end, in the corner'
    assert first.text == "2 filler, 118"
    assert second.words == 'A filler of 2" at the right end, beside the back door'


def test_a_proposal_keeps_the_rest_of_what_was_typed() -> None:
    text = "36 Base;  24 dishwasher\n36 sink, 30 range, 36"
    stretch = run_stretch(kitchen(), NORTH)
    ways = proposals(text, parse_run(text, "us"), stretch, "us")
    wider = next(way for way in ways if "No. 5" in way.words)
    assert wider.text == "36 Base;  24 dishwasher\n36 sink, 30 range, 39"


def test_left_over_in_words() -> None:
    assert left_over_words(inches(1) / 32, "us") == "nothing is left over"
    assert left_over_words(25.0, "metric") == "25 mm is left over"
    assert left_over_words(-inches(2.5), "us") == '2 1/2" too long'


widths = st.integers(8 * 16, 60 * 16).map(lambda sixteenths: sixteenths * inches(1) / 16)
LOWER = list(run_words("lower"))
runs = st.lists(st.tuples(st.sampled_from(LOWER), widths), min_size=1, max_size=8)
rooms = st.integers(80 * 16, 300 * 16).map(lambda sixteenths: sixteenths / 16)


@given(runs, rooms, st.sampled_from(["left", "right"]))
def test_whatever_is_proposed_reads_and_comes_to_what_it_says(
    run: list[tuple[Any, float]], wide: float, from_end: Any
) -> None:
    project = house(spaces=[room(wide, 144)])
    stretch = run_stretch(project, NORTH)
    text = ", ".join(typed_item(width, word, "us") for word, width in run)
    items = parse_run(text, "us")
    left = run_left_over(stretch, items)
    for way in proposals(text, items, stretch, "us", from_end):
        after = parse_run(way.text, "us") if way.text else ()
        now = run_left_over(stretch, after)
        assert now == pytest.approx(way.left_over_mm, abs=1e-5)
        assert now >= -0.8
        assert now < left or left < 0
        if "filler" in way.words and "left out" not in way.words and "narrower" not in way.words:
            # Widths and fillers come to the stretch exactly.
            assert sum(item.width_mm for item in after) == pytest.approx(stretch.length_mm, abs=1e-5)
            fillers = [item.word.word == "filler" for item in after]
            assert sum(fillers) > sum(item.word.word == "filler" for item in items)
