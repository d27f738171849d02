"""The shot list as CSV, read back by two readers, and cells that no table program works out."""

from __future__ import annotations

import csv
import io
from typing import Any

import pandas
import pytest
from hypothesis import given
from hypothesis import strategies as st

import enfilade as ef
from building import house, on_wall, thing
from enfilade.editing.tables.table_files import unguarded
from enfilade.export.shots import COLUMNS, plain_cell, write
from enfilade.export.tell import told
from enfilade.lengths import parse_length
from enfilade.project.project import Project
from hostile import FORMULAS

SIGNS = ("=", "+", "-", "@", "\t", "\r", "\n", "\uff1d", "\uff0b", "\uff0d", "\uff20")
"""By which table programs know a formula, in half and full width (recalled: OWASP, CSV injection)."""


def rows_of(project: Project, audience: str = "studio") -> tuple[bytes, list[dict[str, str]]]:
    data = write(told(project, audience))["shots.csv"]  # type: ignore[arg-type]
    return data, list(csv.DictReader(io.StringIO(data.decode("utf-8-sig"), newline="")))


@pytest.fixture(scope="module")
def demo() -> tuple[bytes, list[dict[str, str]]]:
    return rows_of(ef.demo(), "client")


def test_form(demo: tuple[bytes, list[dict[str, str]]]) -> None:
    data, rows = demo
    assert data.startswith(b"\xef\xbb\xbf")
    text = data.decode("utf-8-sig")
    # RFC 4180: records end in CR LF, the last one too, and each has as many fields.
    assert text.endswith("\r\n")
    assert text.count("\r\n") == len(rows) + 1
    assert text.splitlines()[0] == ",".join(COLUMNS)
    assert {tuple(row) for row in rows} == {COLUMNS}


def test_pandas_reads_the_same(demo: tuple[bytes, list[dict[str, str]]]) -> None:
    data, rows = demo
    frame = pandas.read_csv(io.BytesIO(data), dtype=str, keep_default_na=False)
    assert tuple(frame.columns) == COLUMNS
    assert frame.to_dict("records") == rows


def test_one_row_a_line_with_places_that_are_typed_back(demo: tuple[bytes, list[dict[str, str]]]) -> None:
    _, rows = demo
    film = told(ef.demo(), "client").film
    assert [row["shot"] for row in rows] == [str(n) for n in range(1, len(film.shots) + 1)]
    for row, shot in zip(rows, film.shots, strict=True):
        assert row["line spoken"]
        assert float(row["seconds"]) >= 0
        assert shot.eye_mm is not None
        for column, value in zip(("camera x", "camera y", "camera height"), shot.eye_mm, strict=True):
            # Shown to 1/16 in, as on drawings.
            assert parse_length(row[column]) == pytest.approx(value, abs=25.4 / 32 + 1e-6)
    assert any(row["part"] for row in rows)
    assert {row["sensor"] for row in rows} == {"36 x 24 mm, 16:9 (36 x 20.25 mm)"}


@pytest.mark.parametrize("text", [*FORMULAS, "+cmd", "-2+3", "\tx", "\rx", "\n=1", 'a,"b"\r\nc', "", "naïve 水槽"])
def test_what_is_written_is_text(text: str) -> None:
    project = house(
        [thing("base cabinet", "chest", 60, 20, on_wall("kitchen-north", 40), name=text.strip() or "")],
        script=[
            {
                "id": "at",
                "space": "kitchen",
                "lines": [{"id": "l", "text": text, "shot": {"subjects": ["chest"], "note": text}}],
            }
        ],
    )
    _, rows = rows_of(project)
    for value in rows[0].values():
        assert not value.lstrip(" ").startswith(SIGNS)
    plain = rows[0]["line spoken"]
    assert plain.removeprefix("'").replace("\r\n", "\n").strip() == text.replace("\r\n", "\n").strip()


def test_metric_places_and_no_camera() -> None:
    block: dict[str, Any] = thing("island", "block", 130, 130, on_wall("kitchen-north", 4))
    project = house(
        [block],
        show={"units": "metric"},
        script=[{"id": "at", "space": "kitchen", "lines": [{"id": "l", "text": "Said.", "things": ["block"]}]}],
    )
    _, rows = rows_of(project)
    (row,) = rows
    assert row["trouble"].startswith("Nowhere in Kitchen")
    assert (row["camera x"], row["lens"], row["position"], row["sensor"]) == ("", "", "", "")


def test_nothing_said_gives_the_names_of_the_columns() -> None:
    data, rows = rows_of(house())
    assert rows == []
    assert data.decode("utf-8-sig") == ",".join(COLUMNS) + "\r\n"


@given(st.text())
def test_no_cell_begins_as_a_formula(text: str) -> None:
    cell = plain_cell(text)
    assert not cell.lstrip().startswith(SIGNS)
    assert not cell.startswith(SIGNS)
    assert cell.encode("utf-8").decode("utf-8") == cell
    # What a file may hold: production 2, Char, of XML 1.0 (W3C, fifth edition).
    kept = "".join(
        c for c in text if c in "\t\n\r" or " " <= c <= "\ud7ff" or "\ue000" <= c <= "\ufffd" or c >= "\U00010000"
    )
    assert cell in (kept, f"'{kept}")


@pytest.mark.parametrize("text", [*FORMULAS, " =1+1", "\uff1d1", "\n=1", "\u00a0@SUM(A1)"])
def test_a_formula_gets_an_apostrophe_and_is_read_back_as_it_was(text: str) -> None:
    assert plain_cell(text) == f"'{text}"
    assert unguarded(plain_cell(text)) == text


def test_cells_that_are_plain_stay_as_they_are() -> None:
    assert plain_cell("12 1/2 in, = not first") == "12 1/2 in, = not first"
    assert plain_cell("'quoted'") == "'quoted'"
    assert plain_cell("\x00=1") == "'=1"  # what is left out hides no sign
