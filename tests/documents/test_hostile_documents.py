"""Text that tries to be markup, a formula, a macro or a caption of its own: every document shows it as text."""

from __future__ import annotations

import csv
import io
import re
import zipfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import icalendar
import openpyxl
import pypdf
import pytest
import srt
import webvtt
from lxml import etree

from building import free, house, room, thing
from documents.planting import full_house, saved
from documents.reading import shown, squeezed
from enfilade.export.forms import FORMS, written
from enfilade.export.tell import told
from enfilade.project.fields import AUDIENCES, Audience, Record
from enfilade.project.project import Project
from hostile import COMPUTED, EVERYTHING, MARKER, SINGLE, with_text

Files = dict[str, bytes]


def files_of(project: Project, audience: Audience = "client", forms: str = "") -> Files:
    document = told(project, audience)
    names = forms.split() or list(FORMS)
    return {name: data for form in names for name, data in written(FORMS[form], document)}


@pytest.fixture(scope="module")
def hostile(tmp_path_factory: pytest.TempPathFactory) -> dict[Audience, Files]:
    """Every form for every audience, everything at once in every field."""
    project, count = with_text(full_house(), EVERYTHING)
    assert count > 300
    whole = saved(project.verified(), tmp_path_factory.mktemp("house"))
    nobody = saved(without_people(project), tmp_path_factory.mktemp("nobody"))
    return {one: files_of(nobody if one in ("public", "student") else whole, one) for one in AUDIENCES}


def without_people(project: Project) -> Project:
    """Return a house in which nobody is called what its texts say: names are taken out of them for some audiences."""

    def plain(record: Any) -> Any:
        changed: dict[str, Any] = {}
        for name in type(record).model_fields:
            value = getattr(record, name)
            if isinstance(value, Record):
                changed[name] = plain(value)
            elif isinstance(value, tuple) and value and isinstance(value[0], Record):
                changed[name] = tuple(map(plain, value))
            elif name in ("maker", "by", "designer") or (
                name == "name" and type(record).__name__ in ("Person", "Trade")
            ):
                changed[name] = "Somebody"
        return record.model_copy(update=changed)

    found = plain(project)
    assert isinstance(found, Project)
    return found.model_copy(update={"client": type(found.client)()}).verified()


@pytest.fixture(scope="module")
def innocent(tmp_path_factory: pytest.TempPathFactory) -> dict[Audience, Files]:
    project, _ = with_text(full_house(), "plain words")
    project = saved(project.verified(), tmp_path_factory.mktemp("plain"))
    return {
        audience: files_of(project, audience, "html slides docx pptx schedules") for audience in ("client", "studio")
    }


def each(files: dict[Audience, Files], *endings: str) -> Iterator[tuple[str, str, bytes]]:
    for audience, some in files.items():
        for name, data in some.items():
            if name.endswith(endings):
                yield audience, name, data


# Shown as text


@pytest.mark.parametrize("audience", AUDIENCES)
def test_it_is_shown_as_the_text_that_it_is(hostile: dict[Audience, Files], audience: Audience) -> None:
    for name, data in hostile[audience].items():
        if name == "walkthrough.pdf" and audience in ("student", "studio"):
            continue  # the longest of all, and set as for the others
        text = squeezed(shown(name, data))
        assert MARKER in text, name
        if name.startswith(("cards", "sheets")):
            continue  # a card, a title block has room for the opening words alone
        for words in ("</title></script><script>window.hacked=1</script>", "{{7*7}}{%raw%}"):
            assert squeezed(words) in text, (name, words)


def test_markup_is_escaped_in_pages(hostile: dict[Audience, Files], innocent: dict[Audience, Files]) -> None:
    """The same tags as with plain words: the parser meets no element that the text has made."""
    for audience in ("client", "studio"):
        for name in ("walkthrough.html", "speaker.html", "prompt.html", "slides.html"):
            tags = [set(_elements(files[audience][name])) for files in (hostile, innocent)]  # type: ignore[index]
            assert tags[0] <= tags[1] | {("tspan", ()), ("title", ())}, name
            text = hostile[audience][name].decode("utf-8")  # type: ignore[index]
            assert text.count("<script") == innocent[audience][name].decode("utf-8").count("<script")  # type: ignore[index]
            assert "\u202e" not in text
            assert "\u2066" not in text


def _elements(data: bytes) -> Iterator[tuple[str, tuple[str, ...]]]:
    from html.parser import HTMLParser

    found: list[tuple[str, tuple[str, ...]]] = []

    class Reader(HTMLParser):
        def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
            found.append((tag, tuple(sorted(name for name, _ in attrs if name.startswith("on") or name == "srcdoc"))))

    Reader().feed(data.decode("utf-8"))
    yield from found


def test_a_printed_document_does_nothing(hostile: dict[Audience, Files]) -> None:
    """No script, no launching, no address, nothing embedded (ISO 32000-2: 12.6.4, 7.11.4)."""
    acts = re.compile(
        rb"/(?:JavaScript|JS|Launch|URI|SubmitForm|ImportData|GoToR|GoToE|EmbeddedFiles?|RichMedia|OpenAction|AA)\b"
    )
    count = 0
    for audience, name, data in each(hostile, ".pdf"):
        count += 1
        reader = pypdf.PdfReader(io.BytesIO(data), strict=True)
        assert not reader.attachments, (audience, name)
        found = {key for thing in _dictionaries(reader) for key in acts.findall(b" ".join(_keys(thing)))}
        assert found == set(), (audience, name, found)
    assert count == 6 * len(AUDIENCES)


def _dictionaries(reader: pypdf.PdfReader) -> Iterator[Any]:
    for number in range(1, int(reader.trailer["/Size"])):
        try:
            found = reader.get_object(number)
        except (pypdf.errors.PdfReadError, KeyError):
            continue
        if isinstance(found, dict):
            yield found


def _keys(value: Any) -> Iterator[bytes]:
    for key, inner in value.items():
        yield str(key).encode()
        if str(key) in ("/S", "/Type", "/Subtype") and isinstance(inner, str):
            yield str(inner).encode()
        if isinstance(inner, dict):
            yield from _keys(inner)


_FIELDS = re.compile(r"^\s*(?:PAGE|NUMPAGES|SECTIONPAGES|TOC|PAGEREF|STYLEREF)\b")


def test_an_office_document_computes_and_loads_nothing(hostile: dict[Audience, Files]) -> None:
    """No macro, nothing from outside, no field but page numbers, no formula, no DDE (ECMA-376 part 1, 17.16, 18.3)."""
    count = 0
    for audience, name, data in each(hostile, ".docx", ".pptx", ".xlsx"):
        count += 1
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            for part in archive.namelist():
                where = (audience, name, part)
                assert not re.search(r"vba|macro|activeX|embeddings|externalLink|oleObject|connections", part, re.I), (
                    where
                )
                if not part.endswith((".xml", ".rels")):
                    continue
                root: Any = etree.fromstring(archive.read(part))
                assert "ext" not in {one.get("TargetMode", "")[:3].lower() for one in root.iter("{*}Relationship")}, (
                    where
                )
                instructions = [one.text or "" for one in root.iter("{*}instrText")]
                instructions += [value for one in root.iter("{*}fldSimple") for value in one.attrib.values()]
                assert all(map(_FIELDS.match, filter(str.strip, instructions))), (where, instructions)
                assert not list(root.iter("{*}f", "{*}ddeLink", "{*}altChunk", "{*}control")), where
                assert not [
                    one for one in root.iter("{*}hlinkClick") if one.get("action", "").startswith("ppaction://prog")
                ]
    assert count == 3 * len(AUDIENCES)


def test_no_cell_of_the_workbook_is_worked_out(hostile: dict[Audience, Files]) -> None:
    for audience, _, data in each(hostile, ".xlsx"):
        book = openpyxl.load_workbook(io.BytesIO(data))
        cells = [cell for sheet in book for row in sheet.iter_rows() for cell in row if cell.value is not None]
        assert {cell.data_type for cell in cells} <= {"s", "n", "d", "inlineStr"}, audience
        assert any(MARKER in str(cell.value) for cell in cells)
        assert not book.defined_names or all("http" not in str(name) for name in book.defined_names)


def test_readers_of_calendars_and_captions_read_them_back(hostile: dict[Audience, Files]) -> None:
    for _, _, data in each(hostile, ".ics"):
        calendar = icalendar.Calendar.from_ical(data)
        events = calendar.walk("VEVENT")
        assert len(events) == 5
        assert all(MARKER in str(event["SUMMARY"]) for event in events)
    counts: dict[str, set[int]] = {}
    for audience, name, data in each(hostile, ".vtt"):
        assert webvtt.from_buffer(io.StringIO(data.decode("utf-8"))).captions
        counts.setdefault(f"{audience} {name[:-4]}", set()).add(data.decode("utf-8").count(" --> "))
    for audience, name, data in each(hostile, ".srt"):
        cues = list(srt.parse(data.decode("utf-8")))
        counts[f"{audience} {name[:-4]}"].add(len(cues))
    assert all(len(one) == 1 for one in counts.values()), counts


def test_file_names_are_ours(hostile: dict[Audience, Files]) -> None:
    assert all(re.fullmatch(r"[a-z]+(-[a-z0-9]+)?\.[a-z]{3,4}", name) for _, name, _ in each(hostile, ""))


# One field at a time


def small(**more: Any) -> Project:
    """Return a house of one room that fills what the shorter forms show."""
    return house(
        [thing("island", "island", 72, 40, free(70, 70), name="island", product="lamp")],
        spaces=[room(144, 144) | {"points": [{"id": "a", "what": "a nick"}]}],
        products=[{"id": "lamp", "name": "lamp", "care": "oil", "services": [
            {"id": "s", "what": "oil", "every_months": 3, "first_on": "2082-01-01", "by": "joiner"}]}],
        decisions=[{"id": "d", "number": 1, "title": "top", "spaces": ["kitchen"], "by": "client", "reason": "since",
                    "options": [{"id": "a", "text": "a"}]}],
        show={"speaking": {"parts": [{"id": "p", "title": "part"}, {"id": "q", "title": "part"}]}},
        script=[{"id": "s", "space": "kitchen", "part": "p", "lines": [
            {"id": "l", "text": "here", "things": ["island"], "shot": {"note": "slow"}}]}],
        **more,
    )  # fmt: skip


ONE_FIELD = ("name", "text", "what", "by", "care", "note", "title")


@pytest.mark.parametrize("only", ONE_FIELD)
def test_one_field_at_a_time_in_the_shorter_forms(only: str) -> None:
    for text in SINGLE:
        project, count = with_text(small(), text, only=only)
        assert count
        document = told(project.verified(), "studio")
        files = {name: data for form in ("captions", "calendar") for name, data in written(FORMS[form], document)}
        files |= dict([next(written(FORMS["shots"], document))])
        assert files.keys() >= {"shots.csv", "service.ics"}
        assert only == "text" or {"walkthrough.vtt", "walkthrough.srt"} <= files.keys()
        _cells_are_text(files["shots.csv"])
        assert len(icalendar.Calendar.from_ical(files["service.ics"]).walk("VEVENT")) == 1
        assert all(len(line.encode()) <= 75 for line in files["service.ics"].decode("utf-8").split("\r\n"))
        for name, data in files.items():
            if name.endswith(".vtt"):
                webvtt.from_buffer(io.StringIO(data.decode("utf-8")))
            if name.endswith(".srt"):
                assert [one.index for one in srt.parse(data.decode("utf-8"))] == list(
                    range(1, data.decode("utf-8").count(" --> ") + 1)
                )


def _cells_are_text(data: bytes) -> None:
    """No cell begins with a sign by which table programs know a formula (OWASP, CSV injection)."""
    rows = list(csv.reader(io.StringIO(data.decode("utf-8-sig"), newline="")))
    assert len({len(row) for row in rows}) == 1
    assert len(rows) >= 2
    for cell in (cell for row in rows for cell in row):
        assert not cell.startswith(("=", "+", "-", "@", "\t", "\r")), cell[:40]


@pytest.mark.parametrize("text", COMPUTED)
def test_a_formula_is_text_in_every_document(text: str) -> None:
    project, _ = with_text(small(), text)
    files = files_of(project.verified(), forms="schedules shots")
    _cells_are_text(files["shots.csv"])
    book = openpyxl.load_workbook(io.BytesIO(files["schedules.xlsx"]))
    values = [str(cell.value) for sheet in book for row in sheet.iter_rows() for cell in row if cell.value is not None]
    assert any(MARKER in value for value in values)
    assert not [cell for sheet in book for row in sheet.iter_rows() for cell in row if cell.data_type in ("f", "e")]


# Long


def test_a_hundred_thousand_signs_in_every_long_text() -> None:
    long = (f"{EVERYTHING} " * 400)[:100_000]
    project, count = with_text(small(), EVERYTHING, long=long)
    assert count > 40
    files = files_of(project.verified())
    assert all(MARKER.encode() in files[name] for name in ("walkthrough.html", "walkthrough.vtt", "service.ics"))
    assert len(list(srt.parse(files["walkthrough.srt"].decode("utf-8")))) > 1000
    book = openpyxl.load_workbook(io.BytesIO(files["schedules.xlsx"]))
    # The longest text that a cell may hold (Excel specifications and limits): 32,767 signs.
    assert max(len(str(cell.value)) for sheet in book for row in sheet.iter_rows() for cell in row) <= 32_767
    assert all(data.startswith(b"%PDF-1.7") for name, data in files.items() if name.endswith(".pdf"))


@pytest.mark.parametrize("text", ["", " ", "\n", "\t\n \u200b", "\u200b", "a"])
def test_empty_text_everywhere(text: str) -> None:
    project, _ = with_text(small(), text)
    files = files_of(project.verified(), "studio")
    assert "walkthrough.pdf" in files


@pytest.mark.browser
def test_nothing_runs_and_nothing_is_asked_for_in_a_browser(
    hostile: dict[Audience, Files], tmp_path: Path, chromium: Any
) -> None:
    for audience, name, data in each({key: hostile[key] for key in ("client", "public")}, ".html"):
        file = tmp_path / f"{audience}-{name}"
        file.write_bytes(data)
        context = chromium.new_context()
        page = context.new_page()
        asked: list[str] = []
        dialogs: list[str] = []
        page.on("request", lambda request, asked=asked: asked.append(request.url))
        page.on("dialog", lambda dialog, dialogs=dialogs: (dialogs.append(dialog.message), dialog.dismiss()))
        page.goto(file.as_uri())
        page.wait_for_load_state()
        page.keyboard.press("End")
        page.wait_for_timeout(150)
        assert page.evaluate("window.hacked") is None, name
        assert dialogs == [], name
        assert [url for url in asked if not url.startswith(("data:", "blob:")) and url != file.as_uri()] == [], name
        assert MARKER in page.inner_text("body") or MARKER in page.title(), name
        assert page.evaluate("[...document.querySelectorAll('img')].every(one => one.src.startsWith('data:'))")
        context.close()
