"""Tables of strangers: pasted blocks and text files, in the ways that people and spreadsheets write them."""

from __future__ import annotations

import csv
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from enfilade.editing.tables.grids import (
    LARGEST_BYTES,
    LONGEST_CELL,
    MOST_COLUMNS,
    MOST_ROWS,
    Grid,
    Unreadable,
    grid_of_text,
)
from enfilade.errors import Refused


def cells(grid: Grid) -> list[tuple[object, ...]]:
    return [row.cells for row in grid.rows]


@pytest.mark.parametrize("sign", [",", ";", "\t"])
@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
def test_a_table_is_read_whatever_parts_its_cells_and_encodes_its_signs(sign: str, encoding: str) -> None:
    text = f"Name{sign}Quote\r\nTüröffner, 2 m{sign}12\r\n" if sign != "," else 'Name,Quote\r\n"Türöffner, 2 m",12\r\n'
    grid = grid_of_text(text.encode(encoding))
    assert grid.headings == ("Name", "Quote")
    assert cells(grid) == [("Türöffner, 2 m", "12")]


@pytest.mark.parametrize("encoding", ["utf-16-le", "utf-16-be"])
def test_utf_16_is_known_by_its_mark(encoding: str) -> None:
    grid = grid_of_text("\ufeffName\tNote\nstool\thigh".encode(encoding))
    assert (grid.headings, cells(grid)) == (("Name", "Note"), [("stool", "high")])


def test_a_quoted_cell_may_hold_line_ends_quotes_and_the_parting_sign() -> None:
    grid = grid_of_text('Name,Note\n"long\ntable","the ""old"" one, oiled"\nstool,\n')
    assert cells(grid) == [("long\ntable", 'the "old" one, oiled'), ("stool",)]
    assert [row.number for row in grid.rows] == [2, 4]  # as an editor numbers the lines


def test_rows_and_cells_that_say_nothing_are_left_out() -> None:
    grid = grid_of_text("\n,,\nName,Quote,,\n , ,\nstool,12,,\n")
    assert (grid.headings, cells(grid)) == (("Name", "Quote"), [("stool", "12")])


def test_a_line_that_names_the_parting_sign_is_followed() -> None:
    assert cells(grid_of_text("sep=;\nName;Note, short\nstool;a, b\n")) == [("stool", "a, b")]


def test_inches_in_a_pasted_block_stand_as_they_are() -> None:
    grid = grid_of_text('Name\tWidth\nrange\t36"\n"A" grade\t1\' 10 1/2"\n')
    assert cells(grid) == [("range", '36"'), ('"A" grade', "1' 10 1/2\"")]


def test_one_column_is_a_table_too() -> None:
    assert cells(grid_of_text("Name\nstool\nbench")) == [("stool",), ("bench",)]


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"", "empty"),
        (b" \n,,\n", "empty"),
        (b"\x89PNG\x00\x00", "no text"),
        (b"\xff\xfeN\x00a", "UTF-16"),
        (b"Name,\x81\n", "encoding"),
        (b'Name,Note\nstool,"never closed\n', "cannot be read"),
        (b'Name,Note\n"a"b,c\n', "cannot be read"),
        (b"x" * (LARGEST_BYTES + 1), "signs"),
        (b"Name\n" + b"a\n" * (MOST_ROWS + 1), "rows"),
        (b"Name\n" + b"\n" * (MOST_ROWS * 3) + b"a", "rows"),
        (b"," * MOST_COLUMNS + b"x\n", "columns"),
        (b"Name,Note\nstool," + b"x" * 140_000 + b"\n", "cannot be read"),
    ],
)
def test_what_is_no_table_is_refused_with_words(data: bytes, words: str) -> None:
    with pytest.raises(Refused, match=words):
        grid_of_text(data)


def test_as_many_rows_as_are_allowed_are_read() -> None:
    assert len(grid_of_text(b"Name\n" + b"a\n" * MOST_ROWS).rows) == MOST_ROWS


def test_a_cell_that_is_too_long_is_refused_alone() -> None:
    grid = grid_of_text(b"Name,Note\nstool," + b"x" * (LONGEST_CELL + 1) + b"\nbench,short\n")
    assert isinstance(grid.rows[0].cells[1], Unreadable)
    assert grid.rows[1].cells == ("bench", "short")


ODD = st.text(st.characters(exclude_characters="\x00\r", exclude_categories=("Cs",)), max_size=8)


@given(
    st.lists(st.tuples(ODD, ODD), min_size=1, max_size=5),
    st.sampled_from([",", ";", "\t"]),
    st.sampled_from([csv.QUOTE_ALL, csv.QUOTE_MINIMAL]),
)
def test_what_a_spreadsheet_writes_is_read_as_it_was(rows: list[tuple[str, str]], sign: str, quoting: int) -> None:
    stream = io.StringIO()
    writer = csv.writer(stream, delimiter=sign, lineterminator="\r\n", quoting=quoting)  # type: ignore[arg-type]
    writer.writerows([("First", "Second"), *rows])
    read = [tuple(row.cells) for row in grid_of_text(stream.getvalue()).rows]
    said = [row for row in rows if row[0].strip() or row[1].strip()]
    assert [row + ("",) * (2 - len(row)) for row in read] == [(a, b if b.strip() else "") for a, b in said]


@given(st.binary(max_size=300))
def test_any_bytes_are_read_or_refused(data: bytes) -> None:
    try:
        grid = grid_of_text(data)
    except Refused:
        return
    assert len(grid.headings) <= MOST_COLUMNS
