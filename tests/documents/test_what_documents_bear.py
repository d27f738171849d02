"""What every document bears: whose it is, which issue, what changed, what is undecided, and what decides in the end."""

from __future__ import annotations

import re
from collections.abc import Mapping
from pathlib import Path

import pytest

import enfilade as ef
from documents.reading import read, shown, squeezed
from enfilade.export.forms import FORMS, written
from enfilade.export.tell import told
from enfilade.project.fields import Audience
from enfilade.walkthrough.findings_part import carried_cautions

BARE = {"shots.csv", "walkthrough.srt", "walkthrough-1.srt", "walkthrough-2.srt"}
"""Rows and captions alone: their forms have no place for more."""
OPENING = {
    "walkthrough.html": 12_000, "walkthrough.pdf": 6_000, "walkthrough.docx": 6_000, "walkthrough.pptx": 4_000,
    "slides.html": 4_000, "schedules.xlsx": 6_000, "script.pdf": 3_000, "storyboard.pdf": 3_000,
}  # fmt: skip
"""Documents that are read from the front, and within how many letters of their text they say what is new and open."""
JUDGED = ("walkthrough.html", "walkthrough.pdf", "walkthrough.docx", "walkthrough.pptx", "slides.html")
"""Documents in which findings stand."""


@pytest.fixture(scope="module")
def files() -> Mapping[str, bytes]:
    """Every form of the demo house, for the client."""
    document = told(ef.demo(), "client")
    return {name: data for form in FORMS.values() for name, data in written(form, document)}


@pytest.fixture(scope="module")
def texts(files: Mapping[str, bytes]) -> Mapping[str, str]:
    return {name: shown(name, data) for name, data in files.items()}


def test_every_document_bears_its_title_its_version_and_its_day(files: Mapping[str, bytes]) -> None:
    project = ef.demo()
    assert project.show.date is not None
    day = project.show.date
    days = (day.isoformat(), f"{day:%Y%m%d}", f"{day.day} {day:%B} {day.year}")
    for name, data in files.items():
        reading = read(name, data)
        if name in BARE:
            continue
        assert reading.holds(project.name), name
        assert any(map(reading.holds, days)), name
        assert reading.holds(f"version {project.show.version}"), name


def test_what_is_read_from_the_front_opens_with_what_changed_and_what_is_undecided(texts: Mapping[str, str]) -> None:
    undecided = [one for one in ef.demo().decisions if one.status == "undecided"]
    assert undecided
    for name, most in OPENING.items():
        opening = squeezed(texts[name])[:most] if name != "schedules.xlsx" else squeezed(texts[name])
        assert "changed" in opening, name
        for one in undecided:
            assert squeezed(one.title) in opening, (name, one.title)
            assert one.due is None or squeezed(one.due.isoformat()) in opening or name == "schedules.xlsx", name
            assert squeezed(one.by) in opening, (name, one.by)


def test_what_is_new_since_the_last_issue_opens_the_documents(tmp_path: Path) -> None:
    folder = tmp_path / "house"
    ef.save(ef.demo(), folder)
    ef.tell(ef.load(folder), ["captions"], "client", tmp_path / "out", issue=True)
    project = ef.load(folder)
    things = [
        one.model_copy(update={"name": "Qqnewname bench"}) if one.id == "island" else one for one in project.things
    ]
    ef.save(project.with_records(things=things), folder)
    document = told(ef.load(folder), "client")
    for form in ("html", "slides", "schedules", "pdf"):
        for name, data in written(FORMS[form], document):
            if name in OPENING:
                opening = squeezed(shown(name, data))
                assert f"version{project.show.version}" in opening
                assert "qqnewname" in (opening if name == "schedules.xlsx" else opening[: OPENING[name]]), name


def test_local_codes_decide_where_findings_stand(texts: Mapping[str, str]) -> None:
    for name in JUDGED:
        assert squeezed("local codes and licensed practice decide") in squeezed(texts[name]), name


@pytest.mark.parametrize("name", JUDGED)
def test_every_caution_is_told_of_what_stands_there(texts: Mapping[str, str], name: str) -> None:
    rooms = told(ef.demo(), "client").pages.rooms
    slides = name in ("walkthrough.pptx", "slides.html")  # on which only what is not met stands
    cautions = {
        caution
        for page in rooms
        for caution in (carried_cautions(page, (*page.short, *page.open)) if slides else page.cautions)
    }
    assert len(cautions) > (2 if slides else 4)
    text = squeezed(texts[name])
    assert [caution for caution in cautions if squeezed(caution) not in text] == []


PROMISES = re.compile(
    r"\b(?:safe|safely|compliant|complies|comply|compliance|guaranteed?|certified|approved by code)\b", re.I
)


def test_no_document_promises_that_something_is_safe_or_complies(texts: Mapping[str, str]) -> None:
    found = {
        (name, text[max(0, hit.start() - 60) : hit.end() + 40])
        for name, text in texts.items()
        for hit in PROMISES.finditer(text)
    }
    assert found == set()


@pytest.mark.parametrize("audience", ["public", "student", "studio"])
def test_no_page_promises_anything_to_the_others_either(audience: Audience) -> None:
    document = told(ef.demo(), audience)
    for form in ("html", "slides"):
        for name, data in written(FORMS[form], document):
            text = shown(name, data)
            assert [text[max(0, hit.start() - 60) : hit.end() + 40] for hit in PROMISES.finditer(text)] == [], name
            if name in JUDGED:
                assert squeezed("local codes and licensed practice decide") in squeezed(text)
