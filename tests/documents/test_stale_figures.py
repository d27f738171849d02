"""One figure is changed, and every document that shows it shows the new one: nothing holds the old one any more."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pytest

import enfilade as ef
from building import free, house, on_wall, room, set_in, thing
from documents.reading import Reading, read, read_folder
from enfilade.export.former import RECORD
from enfilade.export.tell import tell
from enfilade.project.project import Project

_SPOKEN = ["prompt.html", "speaker.html", "script.pdf", "slides.html"]
_LINES = ["walkthrough.vtt", "walkthrough.srt", "cards.pdf", "cards-single.pdf", "shots.csv", "storyboard.pdf"]
_READ = ["walkthrough.html", "walkthrough.pdf", "walkthrough.docx", "walkthrough.pptx"]


def told(*, width: float = 93.1875, ceiling: float = 101.3125, counter: float = 37.6875, price: str = "7431.17",
         day: str = "2087-03-19", name: str = "Oldoak bench") -> Project:  # fmt: skip
    """Return a house [in] of which each figure is said, listed and drawn."""
    parts = [{"id": "p", "title": "One", "recap": [{"id": "back", "text": "Before: {width of island}."}]}]
    return house(
        [
            thing("counter", "run", 120, 25, on_wall("kitchen-north", 0), top=counter),
            thing("sink", "bowl", 30, 20, set_in("run", 40), product="lamp", top=counter),
            thing("island", "island", width, 40, free(130, 80), name=name, seating=[{"id": "row", "count": 3}]),
        ],
        spaces=[room(260, 180, ceiling=ceiling)],
        products=[{"id": "lamp", "name": "Lamp", "purchase": {
            "quote": price, "allowance": "9000", "needed_on_site": day, "lead_time_days": 30}}],
        decisions=[{"id": "d", "number": 1, "title": "The lamp", "spaces": ["kitchen"], "due": day, "by": "client"}],
        show={"currency": "USD", "date": "2086-01-02", "version": "3", "speaking": {"parts": parts}},
        script=[{"id": "s", "space": "kitchen", "part": "p", "lines": [
            {"id": "a", "text": "The bench is {width of island} wide.", "things": ["island"]},
            "The ceiling stands at {ceiling of kitchen}, the counter at {top of run}.",
            "It costs {quote of lamp} and is due {due day of d}.",
        ]}],
    )  # fmt: skip


@dataclass(frozen=True)
class Case:
    """A change, how the old figure was written anywhere, and where the new one is to be read and how.

    Inches are turned by hand: 93 3/16 in = 7 ft 9 3/16 in = 2367 mm, said to the nearest half inch or inch.
    """

    change: dict[str, Any]
    old: tuple[str, ...]
    new: dict[tuple[str, ...], tuple[str, ...]] = field(default_factory=dict)


CASES = {
    "the width of the island": Case(
        {"width": 88.625},
        ("93 3/16", "7' 9 3/16", "2367 mm", "7 ft 9 in", "seven feet nine"),
        {("walkthrough.html", "walkthrough.pdf"): ("88 5/8",), tuple(_SPOKEN): ("seven feet five",),
         tuple(_LINES): ("7 ft 5 in", "7 ft 4 1/2 in")},
    ),
    "the ceiling": Case(
        {"ceiling": 111.4375},
        ("101 5/16", "8' 5 5/16", "2573 mm", "8 ft 5 in", "eight feet five"),
        {("walkthrough.html", "walkthrough.pdf", "walkthrough.docx", "walkthrough.pptx", "sheets.pdf"):
         ("111 7/16", "9' 3 7/16"), tuple(_SPOKEN): ("nine feet three",)},
    ),
    "the height of a counter": Case(
        {"counter": 35.8125},
        ("37 11/16", "3' 1 11/16", "957 mm", "37 1/2 in", "thirty-seven and a half"),
        {("walkthrough.html",): ("35 13/16",), tuple(_SPOKEN): ("thirty-six",)},
    ),
    "a price": Case(
        {"price": "8642.29"},
        ("7431.17", "7,431", "seven thousand four hundred and thirty"),
        {(*_READ, "schedules.xlsx", *_LINES): ("8642", "8,642"),
         tuple(_SPOKEN): ("eight thousand six hundred and forty",)},
    ),
    "a day": Case(
        {"day": "2088-05-23"},
        ("2087-03-19", "19 March 2087", "nineteenth of March", "2087-02-17", "<v>68380</v>"),
        {(*_READ, "schedules.xlsx"): ("2088-05-23", "23 May 2088"), tuple(_SPOKEN): ("twenty-third of May",),
         tuple(_LINES): ("23 May 2088",)},
    ),
    "a name": Case(
        {"name": "Newelm bench"},
        ("oldoak",),
        {(*_READ, "slides.html", "speaker.html", "script.pdf", "shots.csv", "storyboard.pdf",
          "schedules.xlsx"): ("newelm",)},
    ),
}  # fmt: skip


@dataclass(frozen=True)
class Before:
    """The house as it was told first, and the folder that it is told into again and again."""

    folder: Path
    files: dict[str, bytes]
    documents: dict[str, Reading]


@pytest.fixture(scope="module")
def before(tmp_path_factory: pytest.TempPathFactory) -> Before:
    folder = tmp_path_factory.mktemp("told")
    tell(told(), ["all"], "client", folder)
    return Before(folder, {path.name: path.read_bytes() for path in folder.iterdir()}, read_folder(folder))


@pytest.mark.parametrize("what", CASES)
def test_the_old_figure_stood_in_the_documents(before: Before, what: str) -> None:
    old = CASES[what].old
    found = {words for words in old if any(each.holds(words) for each in before.documents.values())}
    assert len(found) >= min(3, len(old)), found


@pytest.mark.parametrize("what", CASES)
def test_every_document_shows_the_new_figure_and_none_the_old(before: Before, what: str) -> None:
    """Told again in the same process and into the same folder, so that nothing remembered or left over can show."""
    case = CASES[what]
    tell(told(**case.change), ["all"], "client", before.folder)
    documents = read_folder(before.folder)
    stale = [
        (words, name, each.where(words)[:3])
        for name, each in documents.items()
        for words in case.old
        if each.holds(words)
    ]
    assert stale == []
    missing = [
        name for names, forms in case.new.items() for name in names if not any(map(documents[name].holds, forms))
    ]
    assert missing == []


def test_the_same_record_gives_the_same_bytes_again(before: Before, tmp_path: Path) -> None:
    tell(told(), ["all"], "client", tmp_path)
    assert [name for name, data in before.files.items() if (tmp_path / name).read_bytes() != data] == []


# What a former telling left


def in_parts(count: int, **more: Any) -> Project:
    parts = [{"id": f"p{n}", "title": f"Part {n}"} for n in range(1, count + 1)]
    rooms = [room(144, 144, id=f"r{n}", at=(200 * n, 0)) for n in range(1, count + 1)]
    script = [
        {"id": f"s{n}", "space": f"r{n}", "part": f"p{n}", "lines": ["Here we stand."]} for n in range(1, count + 1)
    ]
    return house(spaces=rooms, show={"speaking": {"parts": parts}}, script=script, **more)


SERVICED = {"products": [{"id": "tap", "name": "Tap", "services": [
    {"id": "s", "what": "descale", "every_months": 6, "first_on": "2086-01-02"}]}]}  # fmt: skip


def names(folder: Path) -> set[str]:
    return {path.name for path in folder.iterdir()} - {RECORD}


def test_captions_of_parts_that_are_no_more_are_taken_away(tmp_path: Path) -> None:
    tell(in_parts(3), ["captions"], "client", tmp_path)
    assert {"walkthrough-2.vtt", "walkthrough-3.srt"} <= names(tmp_path)
    tell(in_parts(2), ["captions"], "client", tmp_path)
    assert names(tmp_path) == {f"walkthrough{n}.{form}" for n in ("", "-1", "-2") for form in ("vtt", "srt")}
    tell(house(), ["captions"], "client", tmp_path)
    assert names(tmp_path) == set()


def test_a_calendar_without_services_is_taken_away(tmp_path: Path) -> None:
    tell(house([], **SERVICED), ["calendar"], "client", tmp_path)
    assert names(tmp_path) == {"service.ics"}
    said: list[str] = []
    tell(house([], **SERVICED), ["calendar"], "public", tmp_path, progress=said.append)
    assert names(tmp_path) == set()
    assert any("service.ics" in words for words in said)


def test_other_forms_and_other_files_stay(tmp_path: Path) -> None:
    tell(in_parts(2, **SERVICED), ["captions", "calendar", "shots"], "client", tmp_path)
    (tmp_path / "walkthrough-9.vtt").write_text("the designer's own", "utf-8")
    (tmp_path / "letter.txt").write_text("the designer's own", "utf-8")
    tell(house(), ["captions"], "client", tmp_path)
    assert names(tmp_path) == {"service.ics", "shots.csv", "storyboard.pdf", "walkthrough-9.vtt", "letter.txt"}


def test_a_file_that_was_changed_since_stays_and_is_told(tmp_path: Path) -> None:
    tell(in_parts(2), ["captions"], "client", tmp_path)
    (tmp_path / "walkthrough-2.vtt").write_text("WEBVTT\n\nby hand\n", "utf-8")
    said: list[str] = []
    tell(in_parts(1), ["captions"], "client", tmp_path, progress=said.append)
    assert "walkthrough-2.vtt" in names(tmp_path)
    assert any("walkthrough-2.vtt" in words and "stays" in words for words in said)
    assert "walkthrough-2.srt" not in names(tmp_path)


@pytest.mark.parametrize(
    "record",
    ["", "{", "[]", "null", '{"captions": []}', '{"captions": {"../outside.txt": "x"}}', '{"captions": {"a/b.txt": 1}}',
     '{"captions": {".told.json": "x"}}', "[" * 10_000, "\ud800".encode("utf-8", "surrogatepass").decode("latin-1")],
)  # fmt: skip
def test_a_record_that_says_something_else_takes_nothing_away(tmp_path: Path, record: str) -> None:
    from enfilade.files import fingerprint

    out = tmp_path / "out"
    out.mkdir()
    (tmp_path / "outside.txt").write_text("x", "utf-8")
    (out / RECORD).write_text(record.replace('"x"', f'"{fingerprint(b"x")}"'), "utf-8")
    tell(house(), ["captions"], "client", out)
    assert (tmp_path / "outside.txt").read_text("utf-8") == "x"


def test_a_link_is_not_followed(tmp_path: Path) -> None:
    out = tmp_path / "out"
    tell(in_parts(2), ["captions"], "client", out)
    outside = tmp_path / "outside.vtt"
    outside.write_bytes((out / "walkthrough-2.vtt").read_bytes())
    (out / "walkthrough-2.vtt").unlink()
    (out / "walkthrough-2.vtt").symlink_to(outside)
    tell(house(), ["captions"], "client", out)
    assert outside.exists()


def test_the_record_says_nothing_but_names(tmp_path: Path) -> None:
    ef.tell(told(), ["schedules"], "client", tmp_path)
    reading: Reading = read(RECORD, (tmp_path / RECORD).read_bytes())
    assert not reading.holds("island")
    assert reading.holds("schedules.xlsx")
