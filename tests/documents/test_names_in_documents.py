"""Names and addresses written into every text and every id: for the public and for students none comes out anywhere."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

import enfilade as ef
from building import house, room
from documents.planting import field_of, full_house, saved, text_fields
from documents.reading import Reading, read_folder
from enfilade.export.tell import tell
from enfilade.project.fields import Audience, Record
from enfilade.project.project import Project
from enfilade.project.writing import project_text

# Invented, and made of letters that no other word of a document is made of.
CLIENT, CHILD, ADDRESS = "Zorvka Quillbeam", "Wrenjka", "14 Tidewaxer Lane, Elverquort, ME 04537"
CONTACT = "zorvka@estuaqry.example, +1 207 555 0142"
MAKER, TRADE, DESIGNER = "Ardvelqe Works", "Jossqua Tarnovik", "Inezka Holtvarg"
DECIDED, MENDED, SERVED = "Unaqa Vargaj", "Pellqor Strandvik", "Ottqo Brandvelt"

SENTENCE = (
    f"{CLIENT}, Wrenjka\u2019s mother at 14 Tidewaxer Lane in Elverquort (zorvka@estuaqry.example, 207-555-0142), had "
    f"{MAKER} and {TRADE} come; {DESIGNER} drew, {DECIDED} decided, {MENDED} mended, {SERVED} serves."
)
NEEDLES = (
    "zorvka", "quillbeam", "wrenjka", "tidewaxer", "elverquort", "estuaqry", "5550142", "555-0142", "555 0142",
    "ardvelqe", "jossqua", "tarnovik", "inezka", "holtvarg", "unaqa", "pellqor", "ottqo",
)  # fmt: skip
OF_THE_DESIGNER = ("inezka", "holtvarg")

_ID_KEYS = frozenset(
    {
        "id", "wall", "beyond", "host", "space", "spaces", "product", "products", "finish", "finishes", "floor_finish",
        "ceiling_finish", "controls", "opening", "at", "needs", "things", "decisions", "choice", "subjects",
        "photographs", "part", "first", "last",
    }
)  # fmt: skip


def named_house() -> Project:
    """Return the full house with names in every id and in every text."""
    plain = json.loads(project_text(full_house()))
    ids = set(_ids(plain)) - {plain["id"]}
    project = Project.model_validate(_renamed(plain, ids))
    project = project.with_records(answers=[])
    spoken = _written(project)
    assert isinstance(spoken, Project)
    return Project.model_validate(spoken.model_dump()).verified()


def _ids(value: Any) -> list[str]:
    inner = value.values() if isinstance(value, dict) else value if isinstance(value, list) else ()
    own = [value["id"]] if isinstance(value, dict) and "id" in value else []
    return [*own, *(id for one in inner for id in _ids(one))]


def _renamed(value: Any, ids: set[str], key: str = "") -> Any:
    if isinstance(value, dict):
        return {name: _renamed(inner, ids, name) for name, inner in value.items() if name != "findings"}
    if isinstance(value, list):
        return [_renamed(inner, ids, key) for inner in value]
    return f"quillbeam-{value}" if key in _ID_KEYS and value in ids else value


def _written(record: Record) -> Record:
    """Return a copy in which every text that has room for it holds the sentence, and each name stands in its field."""
    own = {
        "Client.names": (CLIENT,), "Client.address": ADDRESS, "Client.contact": CONTACT, "Person.name": CHILD,
        "Studio.designer": DESIGNER, "Show.currency": "USD", "Product.maker": MAKER, "Finish.maker": MAKER,
        "Trade.name": TRADE, "Decision.by": DECIDED, "OpenPoint.by": MENDED, "Service.by": SERVED,
        "SpokenLine.text": f"{SENTENCE} It is {{width of quillbeam-island}} wide.",
    }  # fmt: skip
    changed: dict[str, Any] = {}
    for name in type(record).model_fields:
        value, field = getattr(record, name), field_of(type(record), name)
        if isinstance(value, Record):
            changed[name] = _written(value)
        elif isinstance(value, tuple) and value and isinstance(value[0], Record):
            changed[name] = tuple(map(_written, value))
        elif field in own:
            changed[name] = own[field]
        elif field in text_fields():
            changed[name] = (SENTENCE,) if isinstance(value, tuple) else SENTENCE
        elif name == "may_be_credited":
            changed[name] = False
    return record.model_copy(update=changed)


@pytest.fixture(scope="module")
def told_to(tmp_path_factory: pytest.TempPathFactory) -> dict[Audience, dict[str, Reading]]:
    project = saved(named_house(), tmp_path_factory.mktemp("house"))
    found: dict[Audience, dict[str, Reading]] = {}
    audiences: tuple[Audience, ...] = ("client", "public", "student")
    for audience in audiences:
        folder = tmp_path_factory.mktemp("named")
        tell(project, ["all"], audience, folder)
        found[audience] = read_folder(folder)
    return found


def found_in(documents: dict[str, Reading]) -> list[tuple[str, str, list[str]]]:
    return [
        (needle, name, reading.where(needle)[:4])
        for name, reading in documents.items()
        for needle in NEEDLES
        if reading.holds(needle)
    ]


def test_the_client_reads_every_name(told_to: dict[Audience, dict[str, Reading]]) -> None:
    needles = {needle for needle, _, _ in found_in(told_to["client"])}
    assert set(NEEDLES) - needles <= {"5550142", "555 0142"}  # typed with hyphens in the texts


def test_the_public_reads_no_name_no_address_and_no_number(told_to: dict[Audience, dict[str, Reading]]) -> None:
    assert found_in(told_to["public"]) == []
    assert told_to["public"]["walkthrough.html"].holds("the client")
    assert told_to["public"]["walkthrough.html"].holds("the address")


def test_students_read_who_designed_it_and_no_other_name(told_to: dict[Audience, dict[str, Reading]]) -> None:
    assert {needle for needle, _, _ in found_in(told_to["student"])} == set(OF_THE_DESIGNER)


def test_bound_figures_follow_an_id_that_held_a_name(told_to: dict[Audience, dict[str, Reading]]) -> None:
    # The island of the full house is 72 in wide.
    for name in ("walkthrough.vtt", "speaker.html"):
        assert told_to["public"][name].holds("It is 6 ft wide"), name
    assert told_to["public"]["prompt.html"].holds("It is six feet wide")


@pytest.mark.parametrize("first_time", [True, False])
def test_what_changed_quotes_no_name_that_was_learnt_later(tmp_path: Path, first_time: bool) -> None:
    """A name that stood in a text before the record knew it is told once at most: the next issue does not repeat it."""

    def written(**more: Any) -> Project:
        kitchen = room(144, 144) | {"name": "Zorvka\u2019s kitchen", "story": "Zorvka Quillbeam cooks here."}
        points = [{"id": "d", "number": 1, "title": "Zorvka\u2019s shelf", "status": "undecided"}]
        return house(spaces=[kitchen], decisions=points, **more)

    folder = tmp_path / "house"
    ef.save(written(), folder)
    tell(ef.load(folder), ["html"], "public", tmp_path / "out", issue=True)
    known = written(client={"names": [CLIENT]})
    later = (
        ef.load(folder)
        .with_records(spaces=known.spaces if first_time else [], decisions=known.decisions if first_time else [])
        .model_copy(update={"client": known.client})
    )
    ef.save(later, folder)
    tell(ef.load(folder), ["all"], "public", tmp_path / "out")
    assert [one for one in found_in(read_folder(tmp_path / "out")) if one[0] in ("zorvka", "quillbeam")] == []
