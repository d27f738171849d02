"""The ledger: sentences first, the form in place, and a hundred decisions that can still be read."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

import enfilade as ef
from building import house, room
from enfilade.capture.desk import Desk
from enfilade.capture.parts import decisions as part
from enfilade.capture.sight import Sight
from enfilade.errors import BadRecord, EnfiladeError
from enfilade.project.choices import Decision


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    project = house(
        spaces=[room(144, 144), room(100, 100, id="hall", use="hall", at=(144, 0))],
        show={"currency": "USD"},
        decisions=[
            {"id": "top", "number": 1, "title": "The counter", "spaces": ["kitchen"], "status": "planned",
             "options": [{"id": "stone", "text": "Soapstone.", "cost": "9840"},
                         {"id": "wood", "text": "Wood.", "why_not": "It stains."}],
             "choice": "stone", "reason": "It takes a hot pan.", "by": "Ann"},
            {"id": "bins", "number": 2, "title": "The bins", "spaces": ["kitchen"], "due": "2026-05-01"},
            {"id": "hood", "number": 3, "title": "The hood", "spaces": ["kitchen"], "due": "2026-04-01",
             "options": [{"id": "a", "text": "Ducted."}, {"id": "b", "text": "None."}]},
            {"id": "lamp", "number": 4, "title": "The lamp", "spaces": ["kitchen", "hall"]},
            {"id": "coats", "number": 5, "title": "Coats", "spaces": ["hall"]},
            {"id": "colour", "number": 6, "title": "Colour of all doors"},
        ],
    )  # fmt: skip
    ef.save(project, tmp_path / "house")
    return Desk.open(tmp_path / "house")


@pytest.fixture
def sight() -> Sight:
    return Sight(room="kitchen")


def do(desk: Desk, sight: Sight, name: str, **message: Any) -> dict[str, Any]:
    said = part.HANDLERS[name](desk, sight, {"do": name, **message})
    return said if isinstance(said, dict) else {"say": said}


def test_what_is_undecided_and_due_comes_first(desk: Desk, sight: Sight) -> None:
    state = part.shown(desk, sight)
    assert [one["number"] for one in state["decisions"]] == [3, 2, 4, 1]
    assert [one["number"] for one in state["house"]] == [6]
    assert state["words"] == "4 decisions, 3 of them open."
    sight.room = "hall"
    assert [one["number"] for one in part.shown(desk, sight)["decisions"]] == [4, 5]


def test_a_decision_reads_as_sentences_until_it_is_opened(desk: Desk, sight: Sight) -> None:
    told = {one["id"]: one for one in part.shown(desk, sight)["decisions"]}
    assert told["top"]["status"] == "Planned"
    assert told["top"]["sentences"] == ["Soapstone. (USD\u00a09,840)", "It takes a hot pan.", "Decided by Ann."]
    assert told["hood"]["sentences"][0] == "To choose among: Ducted; None"
    assert told["bins"]["sentences"] == ["No option is written down yet.", "Due 2026-05-01."]
    assert "groups" not in told["top"]


def test_an_open_decision_shows_every_field_under_few_headings(desk: Desk, sight: Sight) -> None:
    assert do(desk, sight, "open decision", id="hood", open=True)["say"] == "Decision 3 open"
    state = part.shown(desk, sight)
    told = next(one for one in state["decisions"] if one["id"] == "hood")
    names = [field["name"] for group in told["groups"] for field in group["fields"]]
    assert sorted(names) == sorted(set(Decision.model_fields) - {"id"})
    assert 3 < len(told["groups"]) < 8
    assert names[0] == "title"
    assert {"number", "hear", "findings"} == {field["name"] for field in told["groups"][-1]["fields"]}
    choice = next(f for group in told["groups"] for f in group["fields"] if f["name"] == "choice")
    assert [one["label"] for one in state["lists"][choice["options"]]] == ["Ducted.", "None."]
    do(desk, sight, "open decision", id="hood", open=False)
    assert not any(one["open"] for one in part.shown(desk, sight)["decisions"])


def test_findings_that_may_bear_on_it_are_offered_by_their_titles(sight: Sight, tmp_path: Path) -> None:
    ef.save(ef.demo(), tmp_path / "demo")
    desk = Desk.open(tmp_path / "demo")
    assert part.shown(desk, sight)["lists"]["findings"] == []  # nothing is open, so nothing is worked out
    do(desk, sight, "open decision", id=desk.project.decisions[7].id, open=True)
    offered = part.shown(desk, sight)["lists"]["findings"]
    titles = {f.title for f in desk.findings("kitchen") if f.verdict == "falls short"}
    assert titles
    assert all(any(one["label"].startswith(title[:40]) for one in offered) for title in titles)


def test_a_new_decision_asks_for_its_title_alone(desk: Desk, sight: Sight) -> None:
    with pytest.raises(BadRecord, match="Title is missing"):
        do(desk, sight, "new decision", title=" ")
    answer = do(desk, sight, "new decision", title="Where the dog sleeps")
    new = desk.project.decisions[-1]
    assert (new.title, new.number, new.spaces, new.status) == ("Where the dog sleeps", 7, ("kitchen",), "undecided")
    told = next(one for one in part.shown(desk, sight)["decisions"] if one["id"] == answer["key"])
    assert told["open"]
    assert desk.undo() == "added decision 7, Where the dog sleeps"


def test_a_hundred_decisions_are_short_until_they_are_opened(tmp_path: Path, sight: Sight) -> None:
    many = [
        {
            "id": f"d{i}",
            "number": i,
            "title": f"Decision on the {i}th thing",
            "spaces": ["kitchen"],
            "reason": "Why. " * 500,
        }
        for i in range(1, 101)
    ]
    ef.save(house(decisions=many), tmp_path / "house")
    desk = Desk.open(tmp_path / "house")
    state = part.shown(desk, sight)
    assert len(state["decisions"]) == 100
    assert all(len(line) < 260 for one in state["decisions"] for line in one["sentences"])
    assert len(json.dumps(state)) < 120_000


def test_what_is_not_there_is_not_opened(desk: Desk, sight: Sight) -> None:
    for message in ({"id": "gone", "open": True}, {"id": 3, "open": True}):
        with pytest.raises(EnfiladeError):
            do(desk, sight, "open decision", **message)
    with pytest.raises(EnfiladeError):
        do(desk, sight, "new decision")
