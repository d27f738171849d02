"""Issuing: what was told is kept after the documents are written, and the next telling says what changed."""

from __future__ import annotations

import io
from collections import Counter
from pathlib import Path

import icalendar
import pytest
import srt
import webvtt

import enfilade as ef
from enfilade.cli import main
from enfilade.errors import EnfiladeError, Refused
from enfilade.export import calendar, captions
from enfilade.export.tell import tell, told
from enfilade.project.issues import FOLDER, issued_to
from enfilade.project.project import Project
from enfilade.project.store import load, save
from hostile import with_hostile_text


@pytest.fixture
def home(tmp_path: Path) -> Path:
    save(ef.demo(), tmp_path / "house")
    return tmp_path / "house"


def test_an_issue_is_kept_and_the_next_telling_compares(home: Path, tmp_path: Path) -> None:
    project = load(home)
    assert told(project).pages.changes.since == ""
    tell(project, ["calendar"], out=tmp_path / "told")
    assert not (home / FOLDER).exists()
    tell(project, ["captions", "calendar"], out=tmp_path / "told", issue=True)
    last = issued_to(project, "client").last
    assert last is not None
    assert last.forms == ("captions", "calendar")
    assert told(project).pages.changes.since == "version 4, issued on 16 March 2026"
    assert told(project, "public").pages.changes.since == ""
    assert load(home) == project
    save(project.model_copy(update={"name": "Still saved"}), home)


def test_a_project_without_a_folder_cannot_be_issued(tmp_path: Path) -> None:
    # The demo house shows photographs out of the shipped folder, and nothing must ever be written there.
    with pytest.raises(Refused, match="has none yet; save it first"):
        tell(ef.demo(), ["calendar"], out=tmp_path / "told", issue=True)
    assert not (tmp_path / "told").exists()


def test_nothing_is_kept_when_the_documents_could_not_be_written(home: Path, tmp_path: Path) -> None:
    (tmp_path / "told").mkdir()
    (tmp_path / "told" / "service.ics").mkdir()
    with pytest.raises(EnfiladeError):
        tell(load(home), ["calendar"], out=tmp_path / "told", issue=True)
    assert not (home / FOLDER).exists()


def test_the_command_issues(home: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = str(tmp_path / "told")
    assert main(["tell", str(home), "--to", "calendar", "--audience", "studio", "--out", out, "--issue"]) == 0
    assert issued_to(load(home), "studio").last is not None
    assert "keeping what was issued" in capsys.readouterr().err


# The captions and the calendar of a whole house


@pytest.mark.parametrize("audience", ["client", "public"])
def test_the_demo_house_s_captions_read_back(audience: str) -> None:
    document = told(ef.demo(), audience)  # type: ignore[arg-type]
    files = captions.write(document)
    parts = [part for part in document.pages.spoken.parts if any(stop.lines for stop in part.stops)]
    names = ["walkthrough", *(f"walkthrough-{n}" for n in range(1, len(parts) + 1) if len(parts) > 1)]
    assert sorted(files) == sorted(f"{name}.{kind}" for name in names for kind in ("vtt", "srt"))
    lines = [line for part in parts for line in (*part.recap, *(x for stop in part.stops for x in stop.lines))]
    lines += [line for part in parts for line in part.lead_in]
    spoken = Counter(" ".join(line.shown for line in lines).split())
    blocks = list(srt.parse(files["walkthrough.srt"].decode()))
    assert Counter(" ".join(block.content for block in blocks).split()) == spoken
    assert blocks[-1].end.total_seconds() <= document.pages.spoken.seconds + 1.5
    read = webvtt.from_buffer(io.StringIO(files["walkthrough.vtt"].decode()))
    assert len(read) == len(blocks)
    assert all(len(line) <= 42 for block in blocks for line in block.content.split("\n"))


def test_the_demo_house_s_services_are_in_the_calendar() -> None:
    document = told(ef.demo())
    found = icalendar.Calendar.from_ical(calendar.write(document)["service.ics"])
    assert len(found.walk("VEVENT")) == len(document.pages.handover.services.rows)
    assert calendar.write(document) == calendar.write(told(ef.demo()))
    # RFC 7986, 5.2: what the whole calendar is about.
    about = str(found["DESCRIPTION"])
    assert about.splitlines()[:2] == ["version 4, 2026-03-16", "Not issued before."]
    assert all(one.title in about for one in document.pages.undecided)


def test_what_is_not_there_is_said_and_not_written(tmp_path: Path) -> None:
    said: list[str] = []
    paths = tell(Project(id="small", name="Small"), ["captions", "calendar"], out=tmp_path, progress=said.append)
    assert paths == []
    assert "nothing is said, so there are no captions" in said
    assert "no service is recorded, so there is no service calendar" in said
    assert calendar.write(told(ef.demo(), "public")) == {}


def test_services_without_a_day_are_said_to_be_left_out() -> None:
    said: list[str] = []
    product = {"id": "a", "name": "a", "services": [{"id": "b", "what": "c", "every_months": 1}]}
    project = Project.model_validate({"id": "small", "name": "Small", "products": [product]})
    assert calendar.write(told(project, progress=said.append)) == {}
    assert "1 service has no first day and is not in the calendar" in said


def test_odd_text_breaks_neither() -> None:
    odd, _ = with_hostile_text(ef.demo())
    document = told(odd, "studio")
    assert icalendar.Calendar.from_ical(calendar.write(document)["service.ics"]).walk("VEVENT")
    files = captions.write(document)
    assert list(srt.parse(files["walkthrough.srt"].decode()))
    text = files["walkthrough.vtt"].decode()
    assert "<script" not in text
    assert text.count("-->") == len(webvtt.from_buffer(io.StringIO(text)))
