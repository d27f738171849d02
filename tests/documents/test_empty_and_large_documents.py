"""Houses with nothing in them, and houses with a hundred rooms."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import icalendar
import pytest

from building import free, house, room, thing
from documents.reading import read_folder, shown
from enfilade.export.forms import FORMS, written
from enfilade.export.tell import tell, told
from enfilade.project.fields import AUDIENCES, Audience
from enfilade.project.project import Project


def spoken(*lines: str, parts: int = 1) -> dict[str, Any]:
    """Return a script in which all is said in the first part; the others have no stop."""
    return {
        "show": {"speaking": {"parts": [{"id": f"p{n}", "title": f"Part {n}"} for n in range(1, parts + 1)]}},
        "script": [{"id": "s", "space": "kitchen", "part": "p1", "lines": list(lines)}],
    }


HOUSES: dict[str, Project] = {
    "nothing": Project(id="empty", name="Empty"),
    "no name": Project(id="empty", name=""),
    "one bare room": house(),
    "one thing": house([thing("island", "island", 72, 40, free(72, 72))]),
    "no script": house(spaces=[room(144, 144), room(60, 60, id="hall", use="hall", at=(300, 0))]),
    "one line": house(**spoken("Here.")),
    "an empty line": house(**spoken("")),
    "a stop without lines": house(**spoken()),
    "a part without stops": house(**spoken("Here.", parts=3)),
    "parts and nothing said": house(show=spoken(parts=2)["show"]),
    "a room of a hair's breadth": house(spaces=[room(0.1, 0.1)]),
    "a room of half a mile": house(spaces=[room(31_680, 31_680)]),
}


@pytest.mark.parametrize("what", HOUSES)
def test_every_form_is_written_of_a_house_with_next_to_nothing(tmp_path: Path, what: str) -> None:
    paths = tell(HOUSES[what], ["all"], "client", tmp_path)
    names = {path.name for path in paths}
    always = {
        "walkthrough.html", "walkthrough.pdf", "sheets.pdf", "walkthrough.docx", "walkthrough.pptx", "slides.html",
        "speaker.html", "prompt.html", "script.pdf", "shots.csv", "storyboard.pdf", "cards.pdf", "cards-single.pdf",
        "schedules.xlsx",
    }  # fmt: skip
    assert names >= always
    assert "service.ics" not in names  # a calendar must hold something (RFC 5545, 3.6)
    assert ("walkthrough.vtt" in names) == (what in ("one line", "a part without stops"))
    for path in paths:
        assert path.stat().st_size > 0
        if path.suffix in (".html", ".pdf", ".docx"):
            assert "None" not in shown(path.name, path.read_bytes()).split(), path.name


@pytest.mark.parametrize("audience", AUDIENCES)
def test_a_house_with_nothing_is_told_to_everybody(tmp_path: Path, audience: Audience) -> None:
    tell(HOUSES["nothing"], ["html", "slides", "schedules", "shots", "captions", "calendar"], audience, tmp_path)
    assert len(read_folder(tmp_path)) > 6


def hundred_rooms() -> Project:
    """Return a house of a hundred rooms side by side, something said and served in each."""
    ids = [f"r{n}" for n in range(100)]
    return house(
        [
            thing("island", f"i{n}", 72, 40, free(200 * n + 72, 72), space=id, product="lamp")
            for n, id in enumerate(ids[:6])
        ],
        spaces=[room(144, 144, id=id, at=(200 * n, 0)) for n, id in enumerate(ids)],
        script=[{"id": f"s-{id}", "space": id, "lines": [f"Here is room {n}."]} for n, id in enumerate(ids)],
        products=[{"id": "lamp", "name": "Lamp", "services": [
            {"id": "s", "what": "wipe", "every_months": 3, "first_on": "2082-01-01"}]}],
    )  # fmt: skip


def test_a_hundred_rooms_in_the_cheap_forms() -> None:
    document = told(hundred_rooms(), "client")
    # Shots are searched for room by room, and printed pages drawn one by one: it is the number of rooms that counts.
    files = {
        name: data
        for form in ("html", "slides", "captions", "cards", "schedules", "calendar")
        for name, data in written(FORMS[form], document)
    }
    assert len(document.pages.rooms) == 100
    assert files["walkthrough.html"].count(b'<section class="room"') == 100
    page = shown("walkthrough.html", files["walkthrough.html"])
    assert all(f"Here is room {n}." in page for n in range(100))
    assert files["walkthrough.vtt"].decode("utf-8").count(" --> ") == 100
    (event,) = icalendar.Calendar.from_ical(files["service.ics"]).walk("VEVENT")
    assert "R5" in str(event["LOCATION"])
