"""A comparison in a terminal and in a notebook: aligned, within its width, escaped, whatever the texts are."""

from __future__ import annotations

import json
from html.parser import HTMLParser

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import enfilade as ef
from building import house, room
from changed_houses import kitchen
from enfilade.archive.comparing import Comparison, compare
from enfilade.archive.comparing.differing import differing_tables
from enfilade.archive.comparing.on_a_terminal import cells_wide, plain, wrapped
from enfilade.project.project import Project
from enfilade.walkthrough.pages import Table
from hostile import MARKER, with_hostile_text


@pytest.fixture(scope="module")
def hostile() -> Comparison:
    filled = with_hostile_text(ef.demo())
    project = filled[0] if isinstance(filled, tuple) else filled
    other = project.model_copy(update={"id": "other-house"})
    return compare([project, kitchen(), other])


@pytest.mark.parametrize("width", [0, 20, 60, 100, 200])
def test_no_line_is_wider_than_the_terminal(hostile: Comparison, width: int) -> None:
    text = hostile.as_text(width)
    for line in text.split("\n"):
        assert cells_wide(line) <= max(width, 20)
        assert plain(line) == line  # nothing steers the terminal


def test_columns_are_aligned() -> None:
    lines = compare([kitchen(), kitchen().model_copy(update={"name": "Other"})]).as_text(90).splitlines()
    start = lines.index("ROOMS AND AREAS")
    head, row = lines[start + 2], lines[start + 3]
    assert row.startswith("Kitchen")
    assert head.index("1") == row.index("224")  # 16 ft x 14 ft
    assert max(map(len, lines)) <= 90


def test_plain_data_is_whole(hostile: Comparison) -> None:
    data = json.loads(json.dumps(hostile.as_json()))
    assert data["columns"] == list(hostile.columns)
    for table in data["tables"]:
        assert all(len(row) == len(table["head"]) for row in table["rows"])
        assert table["head"][-3:] == data["columns"]


class _Elements(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.tags: set[str] = set()
        self.text: list[str] = []
        self.names: set[str] = set()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.add(tag)
        self.names |= {name for name, _ in attrs}

    def handle_data(self, data: str) -> None:
        self.text.append(data)


def test_no_text_becomes_markup(hostile: Comparison) -> None:
    page = _Elements()
    page.feed(hostile._repr_html_())
    assert page.tags == {"div", "style", "table", "caption", "colgroup", "col", "thead", "tbody", "tr", "th", "td", "p"}
    assert not {name for name in page.names if name.startswith("on")}
    assert any(MARKER in text and "<script>" in text for text in page.text)  # it is shown as it was typed


@given(st.text(max_size=400), st.integers(2, 60))
@settings(max_examples=200, deadline=None)
def test_wrapping_keeps_every_sign(text: str, width: int) -> None:
    lines = wrapped(text, width)
    assert all(cells_wide(line) <= width for line in lines)
    kept = "".join(lines).replace(" ", "")
    assert kept == "".join(plain(part) for part in text.split("\n")).replace(" ", "")


def test_houses_without_rooms_with_many_and_with_long_texts() -> None:
    empty = house([], spaces=[], name="")
    many = house([], spaces=[room(60, 60, id=f"r{n}", use="hall", at=(n * 70, 0)) for n in range(100)], id="many")
    long = Project.model_validate(
        {**kitchen().model_dump(), "id": "long", "name": "n" * 400,
         "brief": {"needs": [{"id": "n", "number": 1, "text": "word " * 20_000}]}}
    )  # fmt: skip
    found = compare([empty, many, long, long.model_copy(update={"id": "again"})])
    assert found.as_text(80)
    assert found._repr_html_()
    assert len(found.as_text(80)) < 200_000


def test_what_is_the_same_in_all_is_left_out_of_rows_parts_and_lines() -> None:
    table = Table("Choices", ("Need", "One", "Two"), (
        ("same", "x", "x"),
        ("differs", "1. A\nWhy: a.\nCame: 40\n\n2. B\nWhy: b.", "1. A\nWhy: a.\nCame: 41\n\n2. B\nWhy: b."),
    ))  # fmt: skip
    (shown,), same = differing_tables([table, Table("Rooms", ("Room", "One", "Two"), (("hall", "9", "9"),))], 2)
    assert same == ["Rooms"]
    assert shown.rows == (("differs", "1. A\nCame: 40\n\n(else the same)", "1. A\nCame: 41\n\n(else the same)"),)


def test_states_of_one_house_begin_with_what_changed_and_others_do_not() -> None:
    wider = compare([kitchen(48), kitchen(48, length=78)])
    assert any('island is 6" longer' in one for one in wider.changes)
    assert 'island is 6" longer' in wider.as_text().split("ROOMS AND AREAS")[0]
    assert compare([kitchen(48), kitchen(40).model_copy(update={"id": "other"})]).changes == ()
