"""The editable deck, opened again."""

from __future__ import annotations

import io
from functools import cache
from pathlib import Path
from typing import Any

import pptx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import ImageFont
from pptx.enum.shapes import MSO_SHAPE_TYPE, PP_PLACEHOLDER

import enfilade as ef
from building import house, room
from enfilade.export.office.deck_text import Block, columns_on_slides, title_fit
from hostile import MARKER, with_hostile_text
from office_files import demo_told, files_of, private_parts, relations_outside, texts_in, written

FACE = Path(ef.__file__).parents[2] / "assets" / "fonts" / "enfilade-text-regular.ttf"


def opened(data: bytes) -> Any:
    return pptx.Presentation(io.BytesIO(data))


@pytest.fixture(scope="module")
def data() -> bytes:
    return written("pptx", demo_told())


@pytest.fixture(scope="module")
def deck(data: bytes) -> Any:
    return opened(data)


def title_of(slide: Any) -> str:
    return slide.shapes.title.text_frame.text


@cache
def face(size: float) -> Any:
    return ImageFont.truetype(str(FACE), size=max(1, round(size * 10)))


def lines_in(text: str, size: float, width_pt: float) -> int:
    """Break a text with the real face, as an outside measure: Pillow reads its advance widths itself."""
    count, line = 1, ""
    for word in text.split(" "):
        while face(size).getlength(word) / 10 > width_pt and len(word) > 1:
            keep = max(1, int(len(word) * width_pt * 10 / face(size).getlength(word)) - 1)
            count, word, line = count + (2 if line else 1), word[keep:], ""
        joined = f"{line} {word}".strip()
        if line and face(size).getlength(joined) / 10 > width_pt:
            count, line = count + 1, word
        else:
            line = joined
    return count


def frame_of(shape: Any) -> tuple[float, float]:
    return shape.width / 12_700, shape.height / 12_700  # 12,700 EMU to the point


def overflows(deck: Any) -> list[str]:
    over = []
    for number, slide in enumerate(deck.slides, 1):
        for shape in slide.placeholders:
            width, height = frame_of(shape)
            needed = 0.0
            for line in shape.text_frame.paragraphs:
                if line.line_spacing is None:
                    continue
                size = line.runs[0].font.size.pt if line.runs else 10.0
                indent = 14.0 if line.level else 0.0
                before = line.space_before.pt if line.space_before is not None else 0.0
                needed += before + line.line_spacing.pt * lines_in(line.text, size, width - indent)
            if needed > height + 0.5:
                over.append(f"slide {number}, {shape.name}: {needed:.0f} of {height:.0f} pt")
    return over


def test_every_slide_has_a_real_title_and_a_number(deck: Any) -> None:
    for n, slide in enumerate(deck.slides):
        assert title_of(slide)
        kinds = [shape.placeholder_format.type for shape in slide.placeholders]
        assert (PP_PLACEHOLDER.SLIDE_NUMBER in kinds) == (n > 0)
        # Read in the order in which they stand: the title first, footer and number last.
        assert slide.shapes[0].placeholder_format.type in (PP_PLACEHOLDER.TITLE, PP_PLACEHOLDER.CENTER_TITLE)
        if n:
            last = [shape.placeholder_format.type for shape in list(slide.shapes)[-2:] if shape.is_placeholder]
            assert last == [PP_PLACEHOLDER.FOOTER, PP_PLACEHOLDER.SLIDE_NUMBER]
        numbers = [shape.shape_id for shape in slide.shapes]
        assert len(set(numbers)) == len(numbers)


def test_the_deck_is_wide_and_has_its_own_layouts(deck: Any) -> None:
    assert deck.slide_width / deck.slide_height == pytest.approx(16 / 9, abs=0.001)
    names = [layout.name for layout in deck.slide_master.slide_layouts]
    assert names == ["Cover", "Text", "Two texts", "Picture and text", "Picture"]


def test_pictures_have_words_and_stand_on_the_slide(deck: Any) -> None:
    pictures = [one for slide in deck.slides for one in slide.shapes if one.shape_type == MSO_SHAPE_TYPE.PICTURE]
    assert len(pictures) > 15
    for one in pictures:
        assert one._element.nvPicPr.cNvPr.get("descr")
        assert one.left >= 0
        assert one.top >= 0
        assert one.left + one.width <= deck.slide_width
        assert one.top + one.height <= deck.slide_height


def test_one_slide_a_decision_with_what_over_what_and_why(deck: Any) -> None:
    slides = {title_of(slide): slide for slide in deck.slides}
    for decision in ef.demo().decisions:
        slide = slides[f"{decision.number} {decision.title}"]
        text = " ".join(shape.text_frame.text for shape in slide.placeholders)
        for option in decision.options:
            assert option.text in text
            assert option.why_not in text
        assert decision.reason in text


def test_the_notes_of_a_room_are_its_lines_with_their_seconds(deck: Any) -> None:
    document = demo_told()
    spoken = {stop.space: stop for part in document.pages.spoken.parts for stop in part.stops}
    assert spoken
    for page in document.pages.rooms:
        slide = next(one for one in deck.slides if title_of(one) == f"{page.number} {page.name}")
        notes = slide.notes_slide.notes_text_frame.text
        for line in spoken[page.id].lines:
            assert f"{line.shown} ({max(line.seconds, 1):.0f} s" in notes


def test_what_is_undecided_comes_near_the_beginning(deck: Any) -> None:
    titles = [title_of(slide) for slide in deck.slides]
    assert titles.index("Still to be decided") <= 2


def test_no_text_runs_over_its_frame(deck: Any) -> None:
    assert overflows(deck) == []


def test_names_of_four_hundred_signs_and_long_reasons_still_fit() -> None:
    long = ("A table that is longer than anybody who has not carried it would think " * 8)[:400].strip()
    project = house(
        spaces=[{**room(144, 144), "name": long[:200], "story": long * 4}],
        decisions=[
            {"id": f"d{n}", "number": n + 1, "title": long[:200], "spaces": ["kitchen"], "status": "planned",
             "choice": "a", "reason": long * 5, "by": "W" * 200,
             "options": [{"id": id, "text": long * 2, "why_not": long} for id in "abcd"]}
            for n in range(3)
        ],
        show={"studio": {"name": "x" * 200}}, name="N" * 200,
    )  # fmt: skip
    deck = opened(written("pptx", project))
    assert overflows(deck) == []
    assert any(title_of(slide).endswith("(continued)") for slide in deck.slides)
    for text in (long, "W" * 400, "mm " * 130):
        shown, size = title_fit(text, 850.0, 68.0)
        assert lines_in(shown, size, 850.0) * size * 1.1 <= 68.0 + 0.5


def test_three_hundred_decisions_are_three_hundred_slides() -> None:
    decisions = [{"id": f"d{n}", "number": n + 1, "title": f"Number {n}", "spaces": ["kitchen"]} for n in range(300)]
    deck = opened(written("pptx", house(decisions=decisions)))
    titles = {title_of(slide) for slide in deck.slides}
    assert {f"{n + 1} Number {n}" for n in range(300)} <= titles


def test_an_empty_house_is_a_deck_without_empty_frames() -> None:
    deck = opened(written("pptx", house(spaces=[])))
    for slide in deck.slides:
        assert all(shape.text_frame.text.strip() for shape in slide.placeholders)


def test_hostile_text_stays_text() -> None:
    data = written("pptx", with_hostile_text(ef.demo())[0])
    parts = files_of(data)
    assert any(MARKER in texts_in(part) for name, part in parts.items() if name.startswith("ppt/slides/slide"))
    assert list(relations_outside(parts)) == []
    opened(data)


def test_the_same_record_gives_the_same_bytes_and_tells_nothing_of_the_machine(data: bytes) -> None:
    assert written("pptx", demo_told()) == data
    assert private_parts(files_of(data), demo_told().pages.studio) == []


@pytest.mark.parametrize("audience", ["public", "student"])
def test_who_may_not_be_named_is_not(audience: Any) -> None:
    parts = files_of(written("pptx", demo_told(audience)))
    text = " ".join(texts_in(part) for name, part in parts.items() if name.startswith("ppt/") and name.endswith(".xml"))
    for name in ef.demo().client.names:
        assert name not in text
    assert "6,250" not in text


@settings(max_examples=60, deadline=None)
@given(
    st.lists(st.text(st.characters(exclude_categories=("Cs",)), max_size=400), max_size=12),
    st.floats(120.0, 900.0),
    st.floats(60.0, 400.0),
)
def test_text_that_is_carried_over_is_all_there_and_fits(texts: list[str], width: float, height: float) -> None:
    blocks = [Block(text, 18.0, before=6.0) for text in texts]
    slides = columns_on_slides([blocks], [width], height)
    for (column,) in slides:
        assert sum(block.height(width) for block in column) <= height + 1e-6
    kept = "".join(block.text for (column,) in slides for block in column)
    from enfilade.export.office.text import plain

    asked = "".join(plain(text) for text in texts)
    assert "".join(kept.split()) == "".join(asked.split())
