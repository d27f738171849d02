"""The prompting page without a browser."""

from __future__ import annotations

import html
import re
from functools import cache

import pytest

import enfilade as ef
from building import house, room
from enfilade.export.document import Document
from enfilade.export.prompt import write
from enfilade.export.tell import told
from hostile import MARKER, with_hostile_text


@cache
def demo() -> Document:
    """Return the demo house as its client is told it."""
    return told(ef.demo())


def page(document: Document) -> str:
    return write(document)["prompt.html"].decode("utf-8")


def steps_of(markup: str) -> list[tuple[str, float, str]]:
    found = re.findall(
        r'<(?:p|h2|h3) class="step ?(\w*)" data-seconds="([\d.]+)">(.*?)</(?:p|h2|h3)>', markup, re.DOTALL
    )
    return [(kind, float(seconds), html.unescape(text)) for kind, seconds, text in found]


def test_the_times_of_what_passes_add_up_to_the_script() -> None:
    document = demo()
    steps = steps_of(page(document))
    assert sum(seconds for _, seconds, _ in steps) == pytest.approx(document.pages.spoken.seconds, abs=0.01)


def test_figures_are_read_as_they_are_spoken_in_the_order_of_the_script() -> None:
    document = demo()
    lines = [text for kind, _, text in steps_of(page(document)) if kind == "line"]
    said = []
    for part in document.pages.spoken.parts:
        said += [line.said for line in part.recap]
        said += [line.said for stop in part.stops for line in stop.lines]
        said += [line.said for line in part.lead_in]
    assert lines == said


def test_silences_and_walks_are_gaps_with_their_time() -> None:
    lines = [{"id": "one", "text": "Hello.", "pause_s": 2.5}]
    document = told(house([], script=[{"id": "s", "space": "kitchen", "lines": lines}]))
    assert ("pause", 2.5) in [(kind, seconds) for kind, seconds, _ in steps_of(page(document))]
    steps = steps_of(page(demo()))
    assert any(kind == "walk" and seconds > 0 and text.startswith("Walk to ") for kind, seconds, text in steps)


def test_record_text_stands_in_the_page_and_never_in_its_script() -> None:
    project, _ = with_hostile_text(ef.demo())
    markup = page(told(project, "studio"))
    (script,) = re.findall(r"<script>(.*?)</script>", markup, re.DOTALL)
    assert MARKER not in script
    assert MARKER in markup
    assert "<img src=x" not in markup


@pytest.mark.parametrize("text", ["x" * 10_000, "\u202e\u05d0", "漢字 😀", "<b>", "{{7*7}}"])
def test_odd_lines_make_a_page(text: str) -> None:
    project = house(
        [], spaces=[room(144, 144)], script=[{"id": "s", "space": "kitchen", "lines": [{"id": "a", "text": text}]}]
    )
    markup = page(told(project))
    assert "\u202e" not in markup
    assert 'class="step line"' in markup


def test_nothing_to_say_is_said() -> None:
    markup = page(told(house(spaces=[])))
    assert "Nothing is written to be said yet." in markup
    assert 'class="bar"' not in markup
