"""The speaker's page without a browser."""

from __future__ import annotations

import html
import re
from dataclasses import replace
from functools import cache

import pytest

import enfilade as ef
from building import house
from enfilade.export.clock import clock
from enfilade.export.document import Document
from enfilade.export.speaker import write
from enfilade.export.tell import told
from enfilade.walkthrough.pages import Cut, Spoken, SpokenPart, StopPart, TalkPart


@cache
def demo() -> Document:
    """Return the demo house as its client is told it."""
    return told(ef.demo())


def line(id: str, seconds: float, pause: float = 0.0) -> SpokenPart:
    return SpokenPart(id, f"Shown {id}.", f"Said {id}.", seconds, pause, ("main sink",))


def with_script(*stops: StopPart, cuts: tuple[Cut, ...] = (), target_s: float | None = None) -> Document:
    document = demo()
    whole = sum(stop.seconds + stop.walk_s for stop in stops)
    spoken = Spoken((TalkPart("p", "A part", (), stops, (), whole),), 150.0, whole, target_s, cuts)
    return replace(document, pages=replace(document.pages, spoken=spoken))


def stop(id: str, space: str, *lines: SpokenPart, walk_s: float = 0.0, way: str = "") -> StopPart:
    seconds = sum(one.seconds + one.pause_s for one in lines)
    return StopPart(id, space, 1, space.title(), lines, seconds, walk_s * 1000, walk_s, way)


def page(document: Document) -> str:
    return write(document)["speaker.html"].decode("utf-8")


def text_of(markup: str) -> str:
    bare = re.sub(r"<(style|script|svg)\b.*?</\1>", "", markup, flags=re.DOTALL)
    return re.sub(r"\s+", " ", html.unescape(re.sub(r"<[^>]+>", " ", bare)))


@pytest.mark.parametrize(("seconds", "shown"), [(0, "0:00"), (59.6, "1:00"), (61, "1:01"), (3661, "1:01:01")])
def test_times_are_written_as_a_clock_shows_them(seconds: float, shown: str) -> None:
    assert clock(seconds) == shown


def test_running_times_add_up_lines_silences_and_walks() -> None:
    # 6 s, 2 s of silence, 4 s; 5 s on foot; 3 s: lines begin at 0, 8 and 17 s, the walk at 12 s.
    document = with_script(
        stop("a", "entry", line("a/1", 6, 2), line("a/2", 4)),
        stop("b", "kitchen", line("b/1", 3), walk_s=5, way="From Entry, through Dining room."),
    )
    markup = page(document)
    starts = re.findall(r'<li data-part="0" data-start="([\d.]+)" data-end="([\d.]+)"', markup)
    assert [(float(a), float(b)) for a, b in starts] == [(0, 8), (8, 12), (17, 20)]
    assert re.search(r'class="small way" data-part="0" data-start="12.0" data-end="17.0"', markup)
    text = text_of(markup)
    assert "20 s with walks and silences, 13 s of it spoken at 150 words a minute" in text
    assert "From Entry, through Dining room. Walk" in text
    assert "shown: main sink" in text
    assert "then 2 s of silence" in text


def test_cuts_are_proposed_where_they_are_said_and_at_the_head() -> None:
    cut = Cut("a/2", "Shown a/2.", 4.0, "It tells no decision.")
    document = with_script(stop("a", "entry", line("a/1", 6), line("a/2", 4)), cuts=(cut,), target_s=7.0)
    text = text_of(page(document))
    assert "the target is 7 s" in text
    assert "Leaving out all of these saves 0:04" in text
    assert text.count("It tells no decision.") == 2
    assert "Could be left out: saves 4 s." in text


def test_a_room_is_drawn_where_it_is_told_first() -> None:
    document = with_script(stop("a", "entry", line("a/1", 6)), stop("b", "entry", line("b/1", 6)))
    assert page(document).count('id="plan-entry-title"') == 1


def test_the_demo_house_tells_every_line() -> None:
    document = demo()
    text = text_of(page(document))
    lines = [one for part in document.pages.spoken.parts for at in part.stops for one in at.lines]
    assert len(lines) > 10
    assert all(re.sub(r"\s+", " ", one.shown) in text for one in lines)


def test_nothing_to_say_is_said() -> None:
    assert "Nothing is written to be said yet." in page(told(house([])))
