"""Slides without a browser: what is on them, and that none holds more than fits."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

import enfilade as ef
from building import house, room
from enfilade.drawings.writing import text_width
from enfilade.export.document import Document
from enfilade.export.fitting import HIGH, STEPS, WIDE, Block, Slide, fitted
from enfilade.export.slides import slides, write
from enfilade.export.tell import told


@cache
def demo() -> Document:
    """Return the demo house as its client is told it."""
    return told(ef.demo())


@pytest.fixture(scope="module")
def demo_slides() -> tuple[Slide, ...]:
    """The demo house for its client."""
    return slides(demo())


def words_of(some: Any) -> str:
    return " ".join(f"{block.label} {block.text}" for slide in some for block in slide.blocks)


def test_each_decision_has_one_slide_with_what_was_chosen_over_what_and_why(demo_slides: tuple[Slide, ...]) -> None:
    decisions = [slide for slide in demo_slides if slide.kind == "decision" and slide.part[0] < 2]
    assert len(decisions) == len(ef.demo().decisions)
    words = words_of(demo_slides)
    for decision in ef.demo().decisions:
        assert decision.reason in words
        for option in decision.options:
            assert option.text in words
            assert option.why_not in words


def test_every_room_is_shown_and_what_is_open_is_told(demo_slides: tuple[Slide, ...]) -> None:
    pages = demo().pages
    titles = [slide.title for slide in demo_slides]
    for page in pages.rooms:
        assert f"{page.number} {page.name}" in titles
        assert sum(slide.kind == "picture" and slide.kicker.endswith(page.name) for slide in demo_slides) == len(
            page.pictures
        )
    words = words_of(demo_slides)
    assert all(one.title in words for one in pages.undecided)


def test_notes_hold_every_spoken_line_once(demo_slides: tuple[Slide, ...]) -> None:
    noted = [line for slide in demo_slides for line in slide.notes]
    said = []
    for part in demo().pages.spoken.parts:
        said += [line.said for line in (*part.recap, *part.lead_in)]
        said += [line.said for stop in part.stops for line in stop.lines]
    assert len(said) > 10
    assert sorted(noted) == sorted(said)


def test_a_fault_that_can_hurt_stands_beside_its_caution(demo_slides: tuple[Slide, ...]) -> None:
    kitchen = next(page for page in demo().pages.rooms if page.id == "kitchen")
    (mending,) = [slide for slide in demo_slides if slide.title == "4 Kitchen: most worth mending"]
    carried = {part.caution for part in kitchen.worth_mending if part.caution}
    assert carried
    assert all(caution in words_of([mending]) for caution in carried)


def test_the_file_is_whole_and_the_same_twice() -> None:
    first, second = (write(told(ef.demo()))["slides.html"] for _ in range(2))
    assert first == second
    markup = first.decode("utf-8")
    numbers = re.findall(r'<section class="slide[^"]*" id="slide-(\d+)"', markup)
    assert numbers == [str(n) for n in range(1, len(numbers) + 1)]
    assert re.findall(r'aria-live="([^"]+)"', markup) == ["polite"]
    assert not re.findall(r'(?:src|href)="(?!data:|#)', markup)


def test_a_house_without_rooms_has_slides() -> None:
    kinds = [slide.kind for slide in slides(told(house(spaces=[])))]
    assert kinds == ["cover", "text", "text"]


def measured(slide: Slide) -> float:
    """Return how high the text of a slide stands, counted word by word in another way than the module does."""
    high = 0.0
    for block in slide.blocks:
        em = {"lead": 1.2, "text": 1.0, "item": 0.9, "other": 0.84, "small": 0.76}[block.role]
        size = 30.0 * STEPS[slide.step] * em
        wide = WIDE - (1.2 * size if block.role in ("item", "other") else 0.0)
        lines, left = 1, wide
        for word in re.findall(r"\S{1,40}\s?", f"{block.label} {block.text}"):
            long = text_width(word, size)
            if long > left:
                lines, left = lines + 1, wide
            left -= long
        high += lines * 1.4 * size
    return high


texts = st.text(st.characters(codec="utf-8", exclude_categories=("Cs", "Cc")), max_size=1500)
blocks = st.builds(
    Block, st.sampled_from(("lead", "text", "item", "other", "small")), texts, st.sampled_from(("", "Why:"))
)


@given(title=texts, some=st.lists(blocks, min_size=1, max_size=8))
def test_text_of_any_length_fits_in_steps_or_goes_on(title: str, some: list[Block]) -> None:
    made = list(fitted([Slide("text", title, blocks=tuple(some))]))
    for slide in made:
        assert measured(slide) <= HIGH
    if len(made) <= 7:
        told_ = "".join("".join(block.text.split()) for slide in made for block in slide.blocks)
        assert told_ == "".join("".join(block.text.split()) for block in some)


def test_what_goes_on_says_so_and_a_very_long_text_ends_in_the_walkthrough() -> None:
    (short,) = fitted([Slide("text", "T", blocks=(Block("text", "word " * 20),))])
    assert short.part == (0, 0)
    assert short.step == 0
    several = list(fitted([Slide("text", "T", blocks=(Block("text", "word " * 700),))]))
    assert [slide.part for slide in several] == [(n, len(several)) for n in range(1, len(several) + 1)]
    assert len(several) > 1
    endless = list(fitted([Slide("text", "T", blocks=(Block("text", "x" * 100_000),))]))
    assert len(endless) == 8
    assert endless[-1].blocks[-1].text == "The rest stands in the walkthrough."


def test_names_that_find_no_room_beside_a_plan_get_a_slide_of_their_own() -> None:
    plan = Slide(
        "plan", "1 Room", drawing="<svg/>", names=tuple((f"R-{n}", "a long name of a cabinet") for n in range(90))
    )
    first, *rest = fitted([plan])
    assert first.names == ()
    assert len(rest) >= 1
    assert "R-89" in words_of(rest)
    few = replace(plan, names=plan.names[:6])
    assert [slide.names for slide in fitted([few])] == [few.names]


def test_a_hundred_decisions_make_a_hundred_slides() -> None:
    decisions = [
        {"id": f"d{n}", "number": n, "title": "x" * 400, "spaces": ["kitchen"], "reason": "word " * 60}
        for n in range(1, 101)
    ]
    made = slides(told(house([], spaces=[room(144, 144)], decisions=decisions)))
    assert sum(slide.kind == "decision" for slide in made) == 100
