"""The editable document, opened again."""

from __future__ import annotations

import io
from itertools import pairwise
from typing import Any

import docx
import pytest
from docx.document import Document as Opened
from docx.oxml.ns import qn
from hypothesis import given, reject, settings
from hypothesis import strategies as st
from pydantic import ValidationError

import enfilade as ef
from building import house, room
from enfilade.export.office.text import paragraphs, plain
from hostile import MARKER, PAYLOAD, with_hostile_text
from office_files import demo_told, files_of, private_parts, relations_outside, texts_in, written

EMU_AN_INCH = 914_400  # ECMA-376 part 1, 20.1.2.1: 914,400 to the inch


def opened(data: bytes) -> Opened:
    return docx.Document(io.BytesIO(data))


@pytest.fixture(scope="module")
def data() -> bytes:
    return written("docx", demo_told())


@pytest.fixture(scope="module")
def paper(data: bytes) -> Opened:
    return opened(data)


def style_of(element: Any, paper: Opened) -> str:
    style = element.find(f"{qn('w:pPr')}/{qn('w:pStyle')}") if element.tag == qn("w:p") else None
    names = {one.style_id: one.name for one in paper.styles}
    return names[style.get(qn("w:val"))] if style is not None else ""


def level_of(element: Any, paper: Opened) -> int:
    name = style_of(element, paper)
    return int(name[-1]) if name.startswith("Heading ") else 0


def words(paper: Opened) -> str:
    lines = ("".join(one.text or "" for one in p.iter(qn("w:t"))) for p in paper.element.body.iter(qn("w:p")))
    return "\n".join(lines)


def test_every_room_is_a_heading_of_the_first_level_in_walking_order(paper: Opened) -> None:
    firsts = [p.text for p in paper.paragraphs if p.style is not None and p.style.name == "Heading 1"]
    rooms = [f"{room.number} {room.name}" for room in demo_told().pages.rooms]
    assert [text for text in firsts if text in rooms] == rooms
    assert firsts[:2] == ["What changed", "Still to be decided"]
    titles = [p.text for p in paper.paragraphs if p.style is not None and p.style.name == "Title"]
    assert titles == [demo_told().pages.title]


def test_the_contents_are_a_field_whose_lines_lead_to_the_headings(paper: Opened) -> None:
    bookmarks = {one.get(qn("w:name")): one.getparent() for one in paper.element.body.iter(qn("w:bookmarkStart"))}
    links = list(paper.element.body.iter(qn("w:hyperlink")))
    firsts = [p.text for p in paper.paragraphs if p.style is not None and p.style.name == "Heading 1"]
    assert len(links) == len(firsts) == len(bookmarks)
    for link, first in zip(links, firsts, strict=True):
        target = bookmarks[link.get(qn("w:anchor"))]
        assert "".join(one.text or "" for one in target.iter(qn("w:t"))) == first
        assert "".join(one.text or "" for one in link.iter(qn("w:t"))) == first
    codes = [one.text or "" for one in paper.element.body.iter(qn("w:instrText"))]
    # ECMA-376 part 1, 17.16.5.69: without page numbers (\\n), which nobody knows before the pages are set.
    assert [code for code in codes if "TOC" in code] == [' TOC \\o "1-1" \\n \\h \\z \\u ']


def test_no_heading_stands_without_something_under_it(paper: Opened) -> None:
    elements = [one for one in paper.element.body if one.tag in (qn("w:p"), qn("w:tbl"))]
    for here, after in pairwise(elements):
        if level := level_of(here, paper):
            assert not level_of(after, paper) or level_of(after, paper) > level, "".join(here.itertext())
    assert not level_of(elements[-1], paper)


def test_pictures_have_words_and_stay_within_the_page(paper: Opened) -> None:
    section = paper.sections[0]
    room_for = section.page_width - section.left_margin - section.right_margin
    assert len(paper.inline_shapes) > 40
    for shape in paper.inline_shapes:
        assert shape.width <= room_for
        assert shape.height <= section.page_height - section.top_margin - section.bottom_margin
        assert shape._inline.docPr.get("descr")
    numbers = [shape._inline.docPr.get("id") for shape in paper.inline_shapes]
    assert len(set(numbers)) == len(numbers)


def laid_out(paper: Opened) -> list[Any]:
    """Return the tables that only set pictures beside each other: they have no style."""
    return [one for one in paper.tables if one._tbl.tblPr.find(qn("w:tblStyle")) is None]


def test_elevations_of_a_room_stand_beside_each_other_at_one_scale(paper: Opened) -> None:
    rows = laid_out(paper)
    assert any(len(row.columns) > 1 for row in rows)
    section = paper.sections[0]
    room_for = section.page_width - section.left_margin - section.right_margin
    for row in rows:
        assert len(row.rows) == 1
        assert all(cell.paragraphs[0]._p.findall(".//" + qn("w:drawing")) for cell in row.rows[0].cells)
        wide = sum(int(one.get("cx")) for one in row._tbl.iter(qn("wp:extent")))
        assert wide <= room_for + 1000
    captions = [p.text for p in paper.paragraphs if p.style is not None and p.style.name == "Caption"]
    scales = [text for text in captions if "scale" in text]
    assert len(scales) == len([one for one in demo_told().pages.rooms if one.elevations])


def test_findings_name_their_source_by_a_number_in_one_list(paper: Opened) -> None:
    pages = demo_told().pages
    told = {part.source for room in pages.rooms for part in (*room.short, *room.open)}
    told |= {part.source for part in pages.house}
    listed = [p.text for p in paper.paragraphs if p.style is not None and p.style.name == "Source"]
    numbered = {text.partition(" ")[0]: text.partition(" ")[2] for text in listed if text[0].isdigit()}
    assert set(numbered.values()) == told
    assert sorted(map(int, numbered)) == list(range(1, len(told) + 1))
    under = [p.text for p in paper.paragraphs if p.style is not None and p.style.name == "Under"]
    for part in (*pages.rooms[3].short, *pages.rooms[3].open):
        number = next(one for one, source in numbered.items() if source == part.source)
        assert any(f"{part.level}: {part.label}, source {number}." in text for text in under)


def test_tables_are_as_wide_as_the_text_and_repeat_their_heads(paper: Opened) -> None:
    tables = [one for one in paper.tables if one._tbl.tblPr.find(qn("w:tblStyle")) is not None]
    assert len(tables) > 10
    body = list(paper.element.body)
    ends = [n for n, one in enumerate(body) if one.find(f"{qn('w:pPr')}/{qn('w:sectPr')}") is not None] + [len(body)]
    for table in tables:
        at = body.index(table._tbl)
        section = paper.sections[next(n for n, end in enumerate(ends) if at < end)]
        wide = section.page_width - section.left_margin - section.right_margin
        columns = sum(int(one.get(qn("w:w"))) for one in table._tbl.tblGrid)
        assert columns * EMU_AN_INCH / 1440 <= wide + 1000, table.rows[0].cells[0].text  # 1,440 twips to the inch
        first = table._tbl.tr_lst[0]
        assert first.find(f"{qn('w:trPr')}/{qn('w:tblHeader')}") is not None


def test_what_is_undecided_says_by_whom_and_when(paper: Opened) -> None:
    table = next(one for one in paper.tables if one.rows[0].cells[-1].text == "By when")
    rows = [tuple(cell.text for cell in row.cells) for row in table.rows[1:]]
    project = ef.demo()
    still = {str(one.number): one for one in project.decisions if one.status == "undecided"}
    assert {row[0] for row in rows} == set(still)
    for number, title, _, by, due in rows:
        assert (title, by, due) == (still[number].title, still[number].by, str(still[number].due))


def test_each_decision_says_what_over_what_and_why(paper: Opened) -> None:
    text = words(paper)
    for decision in ef.demo().decisions:
        assert f"{decision.number} {decision.title}" in text
        for option in decision.options:
            label = "Chosen" if option.id == decision.choice else "Over" if decision.choice else "Weighed"
            assert f"{label}: {option.text}" in text
            assert option.why_not in text
        assert decision.reason in text


def test_a_decision_of_several_rooms_is_told_once(paper: Opened) -> None:
    headed = [p.text for p in paper.paragraphs if p.style is not None and p.style.name == "Heading 3"]
    assert len(headed) == len(set(headed)) == len(ef.demo().decisions)


def test_letter_where_feet_are_read_and_a4_where_millimetres_are() -> None:
    for units, inches in (("us", (8.5, 11.0)), ("metric", (210 / 25.4, 297 / 25.4))):  # ASME Y14.1 A; ISO 216 A4
        paper = opened(written("docx", house(show={"units": units})))
        assert paper.sections[0].page_width == pytest.approx(inches[0] * EMU_AN_INCH, abs=700)
        assert paper.sections[0].page_height == pytest.approx(inches[1] * EMU_AN_INCH, abs=700)


def test_head_and_foot_name_title_version_date_and_page(paper: Opened) -> None:
    section = paper.sections[0]
    assert section.different_first_page_header_footer
    assert demo_told().pages.title in section.header.paragraphs[0].text
    foot = section.footer.paragraphs[0]
    assert "version 4" in foot.text
    assert "2026-03-16" in foot.text
    codes = [one.text.strip() for one in foot._p.iter(qn("w:instrText"))]
    assert codes == ["PAGE", "NUMPAGES"]


def test_the_same_record_gives_the_same_bytes_and_tells_nothing_of_the_machine(data: bytes) -> None:
    assert written("docx", demo_told()) == data
    parts = files_of(data)
    assert private_parts(parts, demo_told().pages.studio) == []
    assert list(relations_outside(parts)) == []
    assert b"2026-03-16T00:00:00Z" in parts["docProps/core.xml"]


def test_the_shipped_face_travels_inside_and_can_be_taken_out_again(data: bytes) -> None:
    """ECMA-376 part 4, 2.8.1: the first 32 bytes are exclusive-or the key's digits, read from the last to the first."""
    from docx.opc.constants import RELATIONSHIP_TYPE as KIND

    paper = opened(data)
    table = paper.part.part_related_by(KIND.FONT_TABLE)
    from lxml import etree

    root = etree.fromstring(table.blob)
    plain_font = next(one for one in root.iter() if one.tag.endswith("}embedRegular"))
    key = bytes.fromhex(plain_font.get(qn("w:fontKey")).strip("{}").replace("-", ""))[::-1]
    carried = table.related_parts[plain_font.get(qn("r:id"))].blob
    font = bytes(byte ^ key[n % 16] for n, byte in enumerate(carried[:32])) + carried[32:]
    assert font[:4] == b"\x00\x01\x00\x00"  # the mark of a TrueType file


@pytest.mark.parametrize("audience", ["public", "student"])
def test_who_may_not_be_named_is_not(audience: Any) -> None:
    project = ef.demo()
    text = words(opened(written("docx", demo_told(audience))))
    for name in project.client.names:
        assert name not in text
    assert "6,250" not in text  # what the range was ordered at


def test_hostile_text_stays_text() -> None:
    project, count = with_hostile_text(ef.demo())
    assert count > 100
    data = written("docx", project)
    parts = files_of(data)
    paper = opened(data)
    assert MARKER in texts_in(parts["word/document.xml"])
    assert plain(PAYLOAD)[:60] in words(paper)
    assert "\u202e" not in texts_in(parts["word/document.xml"])
    codes = {code.split()[0] for part in parts if part.startswith("word/")
             for code in (one.text or "" for one in _instructions(parts[part]))}  # fmt: skip
    assert codes <= {"TOC", "PAGE", "NUMPAGES", "PAGEREF"}
    assert list(relations_outside(parts)) == []


def _instructions(part: bytes) -> list[Any]:
    from lxml import etree

    return list(etree.fromstring(part).iter(qn("w:instrText"))) if part.startswith(b"<?xml") else []


def test_an_empty_house_and_one_of_a_hundred_thousand_signs() -> None:
    empty = opened(written("docx", house(spaces=[])))
    assert "No room is recorded yet." in words(empty)
    story = "The shed is long. " * 5556
    told = words(opened(written("docx", house(spaces=[{**room(100, 100), "story": story}]))))
    assert story.strip() in told


@settings(max_examples=15, deadline=None)
@given(st.text(max_size=60))
def test_any_text_comes_back_as_it_was_but_for_signs_that_no_file_may_hold(text: str) -> None:
    try:
        project = house(spaces=[{**room(100, 100), "story": f"begin {text} end"}])
    except ValidationError:  # a record takes no such signs in the first place
        reject()
    told = words(opened(written("docx", project)))
    for part in paragraphs(project.spaces[0].story):
        assert part in told
