"""The PDFs, read by a general-purpose library (pypdf) and by qpdf.

Held against what ISO 32000-1 and ISO 14289-1 (clause numbers recalled) ask that can be looked up in a file. No
validator is at hand: nothing here shows that a file conforms, and nothing says so.
"""

from __future__ import annotations

import shutil
import subprocess
from functools import cache
from importlib import import_module
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pypdf
import pytest

import enfilade as ef
from printed import SIX_SHOTS, bookmarks, document, filmed, fonts, picture, read, spoken_lines, tags, talk

FORMS = ("book", "sheets", "script", "cards", "storyboard")
FILES = ("walkthrough.pdf", "sheets.pdf", "script.pdf", "cards.pdf", "cards-single.pdf", "storyboard.pdf")


@cache
def files() -> dict[str, bytes]:
    """The demo house with a short script and film, in every form."""
    spoken = talk(
        ("Kitchen", spoken_lines("s1", "One.", "Two.", "Three.")), ("Bay", spoken_lines("s2", "Four.", "Five.", "Six."))
    )
    told = filmed(document(ef.demo()), spoken, SIX_SHOTS, [picture("Positions")])
    written: dict[str, bytes] = {}
    for form in FORMS:
        written |= import_module(f"enfilade.export.{form}").write(told)
    return written


def root(file: str) -> Any:
    return read(files()[file]).trailer["/Root"]


@pytest.mark.parametrize("file", FILES)
def test_it_is_tagged(file: str) -> None:
    # ISO 14289-1, 7.1: marked content and a structure tree.
    assert root(file)["/MarkInfo"]["/Marked"] is True or bool(root(file)["/MarkInfo"]["/Marked"])
    found = tags(read(files()[file]))
    assert found["/Document"] == 1
    assert sum(found.get(one, 0) for one in ("/P", "/Span", "/Caption")) > 0


@pytest.mark.parametrize("file", FILES)
def test_its_title_is_shown_and_its_language_said(file: str) -> None:
    # ISO 14289-1, 7.1 and 7.2; ISO 32000-1, 12.2 and 14.9.2.
    assert read(files()[file]).metadata.title.startswith("The Long Shed")
    assert bool(root(file)["/ViewerPreferences"]["/DisplayDocTitle"])
    assert str(root(file)["/Lang"]) == "en"


@pytest.mark.parametrize("file", FILES)
def test_its_metadata_names_the_part_of_the_standard(file: str) -> None:
    # ISO 14289-1, clause 5: pdfuaid:part is 1.
    packet = ElementTree.fromstring(root(file)["/Metadata"].get_object().get_data())
    space = "{http://www.aiim.org/pdfua/ns/id/}part"
    found = [one.text for one in packet.iter(space)] + [
        one.attrib[space] for one in packet.iter() if space in one.attrib
    ]
    assert found == ["1"]


@pytest.mark.parametrize("file", FILES)
def test_every_font_is_inside(file: str) -> None:
    # ISO 14289-1, 7.21.4.1: font programs are embedded.
    found = fonts(read(files()[file]))
    assert found
    assert all(found.values()), found
    assert any("EnfiladeText" in name for name in found)
    assert not any("Source" in name for name in found)


@pytest.mark.parametrize("file", FILES)
def test_every_figure_has_words(file: str) -> None:
    # ISO 14289-1, 7.3: figures have an alternative description.
    reader = read(files()[file])
    figures = [
        thing
        for number in range(1, int(reader.trailer["/Size"]))
        if isinstance(thing := reader.get_object(number), dict) and thing.get("/S") == "/Figure"
    ]
    assert all(str(one.get("/Alt", "")) for one in figures)
    if file in ("walkthrough.pdf", "sheets.pdf", "storyboard.pdf"):
        assert figures


@pytest.mark.parametrize("file", FILES)
def test_bookmarks_are_the_headings(file: str) -> None:
    reader = read(files()[file])
    headings = sum(tags(reader).get(f"/H{level}", 0) for level in range(1, 7))
    unlisted = {"script.pdf": 2, "storyboard.pdf": 0}.get(file, 0)
    marks = bookmarks(reader)
    assert marks
    assert headings - unlisted <= len(marks) <= headings


@pytest.mark.parametrize("file", FILES)
def test_levels_of_headings_are_not_skipped(file: str) -> None:
    # ISO 14289-1, 7.4.2.
    found = tags(read(files()[file]))
    levels = [level for level in range(1, 7) if found.get(f"/H{level}")]
    assert levels == list(range(1, len(levels) + 1))


@pytest.mark.parametrize("file", FILES)
def test_pages_have_a_size_and_nothing_is_active(file: str) -> None:
    reader = read(files()[file])
    for page in reader.pages:
        assert page.mediabox.width > 200
        assert page.mediabox == page.cropbox
    # No scripts, forms, attachments or addresses of the network.
    assert "/AcroForm" not in root(file)
    assert "/OpenAction" not in root(file)
    assert "/Names" not in root(file) or "/JavaScript" not in root(file)["/Names"]
    for page in reader.pages:
        for mark in page.get("/Annots", None) or ():
            assert "/URI" not in mark.get_object().get("/A", {})


@pytest.mark.parametrize("file", FILES)
def test_qpdf_finds_no_fault(file: str, tmp_path: Path) -> None:
    if shutil.which("qpdf") is None:
        pytest.skip("qpdf is not on this machine")
    path = tmp_path / file
    path.write_bytes(files()[file])
    done = subprocess.run(["qpdf", "--check", str(path)], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    assert "No syntax or stream encoding errors found" in done.stdout


def test_tables_have_heads_that_are_told_as_heads() -> None:
    # ISO 14289-1, 7.5.
    found = tags(read(files()["walkthrough.pdf"]))
    assert found["/Table"] > 3
    assert found["/TH"] > found["/Table"]
    assert found["/TD"] > found["/TH"]


def test_the_library_that_reads_is_strict() -> None:
    assert isinstance(read(files()["cards.pdf"]), pypdf.PdfReader)
    assert read(files()["cards.pdf"]).strict
