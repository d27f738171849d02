"""What opens each document: which issue it is, what changed since the last one, what is undecided, by whom and when."""

from __future__ import annotations

import csv
import datetime as dt
import html
import io
import re
from pathlib import Path

import pytest
import srt
import webvtt

from building import house, on_wall, thing
from enfilade.export import captions, cards, prompt, sheets, shots, speaker
from enfilade.export.document import Document
from enfilade.export.tell import tell, told
from enfilade.project.project import Project
from enfilade.project.store import load, save
from printed import read, squeezed

DECISIONS = [
    {"id": "air", "number": 4, "title": "Where the air comes from", "status": "undecided", "spaces": ["kitchen"],
     "by": "the engineer", "due": "2026-04-10"},
    {"id": "key", "number": 5, "title": "Who keeps the key", "status": "undecided", "by": "the household"},
]  # fmt: skip
SCRIPT = [{"id": "s", "space": "kitchen", "lines": [{"id": "a", "text": "This is the block."}]}]


@pytest.fixture(scope="module")
def issued(tmp_path_factory: pytest.TempPathFactory) -> Document:
    """Return a house that was issued as version 1, and then had its block made wider."""
    folder = tmp_path_factory.mktemp("issued")
    show = {"version": "1", "date": "2026-02-01"}
    save(_house(show, 40), folder / "house")
    tell(load(folder / "house"), ["calendar"], out=folder / "told", issue=True)
    project = load(folder / "house")
    block = project.thing("block").model_copy(update={"width_mm": 1100.0})
    things = tuple(block if one.id == "block" else one for one in project.things)
    now = project.show.model_copy(update={"version": "2", "date": dt.date(2026, 3, 1)})
    return told(project.model_copy(update={"things": things, "show": now}))


def _house(show: dict[str, str], wide: float) -> Project:
    block = thing("island", "block", wide, 30, on_wall("kitchen-north", 40))
    return house([block], show=show, decisions=DECISIONS, script=SCRIPT)


def _first_page(data: bytes) -> str:
    return squeezed(read(data).pages[0].extract_text())


def _before(markup: str, end: str) -> str:
    return squeezed(html.unescape(re.sub(r"<style>.*?</style>|<[^>]*>", "", markup.partition(end)[0], flags=re.DOTALL)))


def opening(document: Document, name: str) -> str:
    """Return what is read of a document before anything else is."""
    if name == "sheets.pdf":
        return _first_page(sheets.write(document)[name])
    if name == "cards-single.pdf":
        return _first_page(cards.write(document)[name])
    if name == "speaker.html":
        return _before(speaker.write(document)[name].decode(), '<main id="script">')
    if name == "prompt.html":
        return _before(prompt.write(document)[name].decode(), '<main id="text">')
    return squeezed(captions.write(document)[name].decode().partition("-->")[0])


@pytest.mark.parametrize("name", ["sheets.pdf", "cards-single.pdf", "speaker.html", "prompt.html", "walkthrough.vtt"])
def test_a_document_opens_with_its_issue_what_changed_and_what_is_undecided(issued: Document, name: str) -> None:
    text = opening(issued, name)
    assert "version2" in text.casefold()
    for words in (
        "2026-03-01",
        "version 1, issued on 1 February 2026",
        '43 5/16", was 40"',  # 1100 mm are 43.31 in
        "Where the air comes from",
        "the engineer",
        "2026-04-10",
        "Who keeps the key",
        "the household",
    ):
        assert squeezed(words) in text, words


@pytest.mark.parametrize("name", ["sheets.pdf", "cards-single.pdf", "speaker.html", "prompt.html", "walkthrough.vtt"])
def test_a_first_issue_and_nothing_undecided_are_said(name: str) -> None:
    text = opening(told(house([], script=SCRIPT)), name)
    assert "firstissue" in text.casefold() or "notissuedbefore" in text.casefold()
    assert "undecided" in text.casefold()


def test_the_head_of_the_prompting_page_is_not_scrolled_at_the_rate_of_speech(issued: Document) -> None:
    markup = prompt.write(issued)["prompt.html"].decode()
    assert 'class="step' not in markup.partition('<main id="text">')[0]


def test_the_shot_list_bears_its_issue_in_the_last_columns_of_every_row(issued: Document) -> None:
    rows = list(csv.DictReader(io.StringIO(shots.write(issued)["shots.csv"].decode("utf-8-sig"), newline="")))
    assert rows
    for row in rows:
        assert list(row)[-4:] == ["undecided here", "changed here", "version", "date"]
        assert (row["version"], row["date"]) == ("2", "2026-03-01")
        assert row["undecided here"] == "4 Where the air comes from (Kitchen): the engineer, by 2026-04-10"
        assert '43 5/16", was 40"' in row["changed here"]


def test_captions_stay_captions(issued: Document) -> None:
    """The note of WebVTT is read by people alone (W3C, WebVTT, 4.1 comment blocks); SubRip has none."""
    files = captions.write(issued)
    cues = webvtt.from_buffer(io.StringIO(files["walkthrough.vtt"].decode()))
    blocks = list(srt.parse(files["walkthrough.srt"].decode()))
    assert [cue.text for cue in cues] == [block.content for block in blocks] == ["This is the block."]
    note = files["walkthrough.vtt"].decode().split("\n\n")[1].splitlines()
    assert sum("Changed since" in line for line in note) == 1
    assert sum(line.startswith("Undecided: ") for line in note) == 1


def test_a_hundred_undecided_decisions_leave_the_first_card_and_the_first_sheet_whole(tmp_path: Path) -> None:
    many = [
        {"id": f"d{n}", "number": n, "title": f"{n} " + "what is to be decided " * 8, "status": "undecided"}
        for n in range(1, 101)
    ]
    document = told(house([], decisions=many, script=SCRIPT))
    single = read(cards.write(document)["cards-single.pdf"])
    assert len(single.pages) == 2
    assert "Andmore" in _first_page(cards.write(document)["cards-single.pdf"])
    reader = read(sheets.write(document)["sheets.pdf"])
    assert all(f"{n}of{len(reader.pages)}" in squeezed(page.extract_text()) for n, page in enumerate(reader.pages, 1))
