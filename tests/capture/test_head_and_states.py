"""The head of the page, and the earlier states of the house."""

from __future__ import annotations

import datetime as dt
import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from edits import base_house
from enfilade.capture.desk import Desk
from enfilade.capture.parts import head, states
from enfilade.capture.sight import Sight
from enfilade.errors import NotFound, Refused
from enfilade.project.photos import keep_photograph
from enfilade.project.project import Project
from enfilade.project.store import kept_states, load, save
from enfilade.times import when_words
from project_folders import picture


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("ENFILADE_DATA", str(tmp_path / "data"))
    folder = tmp_path / "house"
    save(base_house().model_copy(), folder)
    return folder


@pytest.fixture
def desk(home: Path) -> Iterator[Desk]:
    desk = Desk.open(home)
    yield desk
    desk.close()


def with_thing(desk: Desk, id: str, **update: object) -> Project:
    things = [one.model_copy(update=update) if one.id == id else one for one in desk.project.things]
    return desk.project.with_records(things=things)


def do(part: Any, desk: Desk, what: str, **message: Any) -> str:
    said: str = part.HANDLERS[what](desk, Sight(), {"do": what, **message})
    return said


def shown(part: Any, desk: Desk) -> dict[str, Any]:
    state: dict[str, Any] = part.shown(desk, Sight(act="keep"))
    assert json.loads(json.dumps(state)) == state  # plain JSON
    return state


# The head


def test_the_head_tells_what_would_be_undone_and_how_the_work_is_kept(desk: Desk) -> None:
    assert shown(head, desk)["undo"] == ""
    desk.change("moved table", with_thing(desk, "table", note="oak"))
    state = shown(head, desk)
    assert (state["name"], state["undo"], state["redo"]) == ("Test house", "moved table", "")
    assert re.fullmatch(r"Saved \d\d:\d\d", state["saved"]["words"])
    assert not state["saved"]["trouble"]
    assert do(head, desk, "undo") == "Undone: moved table"
    assert shown(head, desk)["redo"] == "moved table"
    assert do(head, desk, "redo") == "Done again: moved table"
    with pytest.raises(Refused):
        do(head, desk, "redo")
    assert desk.project.thing("table").note == "oak"


def test_the_five_acts_have_addresses_where_they_are_known(desk: Desk) -> None:
    acts = shown(head, desk)["acts"]
    assert [one["name"] for one in acts] == ["measure", "decide", "check", "tell", "keep"]
    assert [one["here"] for one in acts] == [False, False, False, False, True]
    assert {one["href"] for one in acts} == {None}
    desk.addresses = {"measure": "measure.html"}
    assert [one["href"] for one in shown(head, desk)["acts"]] == ["measure.html", None, None, None, None]


def test_looking_says_nothing_while_nothing_happens_and_each_thing_once(desk: Desk, home: Path) -> None:
    assert do(head, desk, "look") == ""
    other = Desk.open(home)
    assert do(head, desk, "look") == "This house is open in another window too."
    assert shown(head, desk)["others"] == 1
    other.change("noted", with_thing(other, "table", note="oak"))
    said = do(head, desk, "look")
    assert "Another window changed: Table (note); yours and theirs are both kept" in said
    assert do(head, desk, "look") == ""
    other.drafts.keep(("things", "lamp", "note"), "half typed")
    other.close()
    said = do(head, desk, "look")
    assert "This house is open in this window alone." in said
    assert "has been put back" in said
    assert do(head, desk, "look") == ""


def test_the_question_is_shown_with_both_values_and_answered_from_the_page(desk: Desk, home: Path) -> None:
    other = Desk.open(home)
    other.change("wider", with_thing(other, "table", width_mm=900.0, note="theirs"))
    desk.change("narrower", with_thing(desk, "table", width_mm=800.0, note="mine"))
    question = shown(head, desk)["question"]
    assert question["kind"] == "clash"
    assert [(one["about"], one["mine"], one["theirs"]) for one in question["lines"]] == [
        ("Table: width", '31 1/2"', '35 7/16"'),
        ("Table: note", "“mine”", "“theirs”"),
    ]
    assert do(head, desk, "keep mine", key=question["lines"][0]["key"]) == "Chosen. 1 more to choose"
    (line,) = shown(head, desk)["question"]["lines"]
    do(head, desk, "take theirs", key=line["key"])
    assert shown(head, desk)["question"] is None
    table = load(home).thing("table")
    assert (table.width_mm, table.note) == (800.0, "theirs")
    for key in (None, 3, "x" * 100, line["key"]):
        with pytest.raises(Refused):
            do(head, desk, "keep mine", key=key)
    other.close()


def test_what_was_found_is_offered_with_what_it_changed(desk: Desk, home: Path) -> None:
    other = Desk.open(home)
    desk.change("wider", with_thing(desk, "table", width_mm=900.0))
    other.change("narrower", with_thing(other, "table", width_mm=800.0))
    other.close()
    assert "offered at the head of the page" in do(head, desk, "look")
    (found,) = shown(head, desk)["found"]
    assert found["what"] == ["Table (width)"]
    assert found["when"].startswith("today ")
    do(head, desk, "leave out", key=found["key"])
    assert shown(head, desk)["found"] == []
    with pytest.raises(Refused):
        do(head, desk, "bring back", key=found["key"])


# Earlier states


def test_states_are_told_with_what_changed_since_the_one_before(desk: Desk) -> None:
    (now,) = shown(states, desk)["states"]
    assert (now["when"], now["counts"]) == ("now", "2 rooms, 7 things, 1 decision")
    assert now["note"] == "The earliest state that is kept."
    desk.change("wider", with_thing(desk, "table", width_mm=1066.8))
    stool = {"id": "stool", "kind": "seat", "name": "Oak stool", "space": "kitchen", "width_mm": 400, "depth_mm": 400,
             "top_mm": 600, "place": {"how": "free", "x_mm": 1000, "y_mm": 1000}}  # fmt: skip
    desk.change("added a stool", desk.project.with_records(things=[*desk.project.things, stool]))
    now, second, first = shown(states, desk)["states"]
    assert now["changed"] == ["Oak stool was added."]
    assert now["counts"] == "2 rooms, 8 things, 1 decision"
    assert second["changed"] == ['Table: width 42", was 40".']
    assert first["changed"] == []
    # To the second, where two stood within a minute.
    assert all(re.fullmatch(r"until (today|yesterday) \d\d:\d\d(:\d\d)?", one["when"]) for one in (second, first))


def test_going_back_is_a_change_like_any_other(desk: Desk, home: Path) -> None:
    before = desk.project
    desk.change("wider", with_thing(desk, "table", width_mm=1066.8))
    desk.change("noted", with_thing(desk, "lamp", note="low"))
    wide = desk.project
    first = shown(states, desk)["states"][-1]
    said = do(states, desk, "go back", key=first["key"])
    assert said.startswith("The house is as it was until today")
    assert load(home) == before
    assert desk.project.spaces is wide.spaces  # what is the same stays the same object
    assert desk.project.thing("base") is wide.thing("base")
    assert load(kept_copy(home)) == wide  # the state of before is kept too
    assert desk.undo_words.startswith("went back to the house as it was until today")
    desk.undo()
    assert load(home) == wide


def kept_copy(home: Path) -> Path:
    copy = home.parent / "copy"
    copy.mkdir()
    (copy / "project.json").write_bytes(kept_states(home)[0].read_bytes())
    return copy


def test_states_that_are_gone_spoilt_or_strange_are_refused_in_words(desk: Desk, home: Path) -> None:
    desk.change("wider", with_thing(desk, "table", width_mm=1066.8))
    before = desk.project
    for key in ("", "../project.json", "20250101T000000.000000Z-000000000000.json"):
        with pytest.raises(NotFound, match="not kept any more"):
            do(states, desk, "go back", key=key)
    name = "20250101T000000.000000Z-000000000000.json"
    (home / "history" / name).write_text("spoilt")
    spoilt = shown(states, desk)["states"][-1]
    assert (spoilt["key"], spoilt["note"]) == (name, "It cannot be read any more.")
    with pytest.raises(Refused, match="cannot be read any more"):
        do(states, desk, "go back", key=name)
    assert desk.project is before


def test_a_state_whose_photograph_is_gone_is_refused(desk: Desk, home: Path) -> None:
    file = keep_photograph(home, picture())
    photograph = {"id": "one", "file": file, "caption": "Before"}
    desk.change("added a photograph", desk.project.with_records(photographs=[photograph]))
    desk.change("took it away", desk.project.with_records(photographs=[]))
    (home / "photos" / file).unlink()
    key = shown(states, desk)["states"][1]["key"]
    with pytest.raises(Refused, match="photograph “Before” of that state is not in the folder any more"):
        do(states, desk, "go back", key=key)


def test_moments_are_told_as_people_say_them() -> None:
    zone = dt.timezone(dt.timedelta(hours=2))
    now = dt.datetime(2025, 3, 25, 9, 30, tzinfo=zone)
    for moment, words in (
        (dt.datetime(2025, 3, 25, 6, 5, tzinfo=dt.UTC), "today 08:05"),
        (dt.datetime(2025, 3, 24, 22, 30, tzinfo=dt.UTC), "today 00:30"),
        (dt.datetime(2025, 3, 24, 21, 30, tzinfo=dt.UTC), "yesterday 23:30"),
        (dt.datetime(2025, 3, 4, 8, 0, tzinfo=dt.UTC), "4 March 2025, 10:00"),
        (dt.datetime(2025, 3, 26, 8, 0, tzinfo=dt.UTC), "26 March 2025, 10:00"),  # a clock that was set back
    ):
        assert when_words(moment, now) == words
    assert when_words(dt.datetime(2025, 3, 25, 6, 5, 9, tzinfo=dt.UTC), now, seconds=True) == "today 08:05:09"
