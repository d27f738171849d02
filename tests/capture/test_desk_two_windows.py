"""Two windows on one project: neither overwrites the other, and what both changed is asked about."""

from __future__ import annotations

import contextlib
import json
import re
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from edits import Edit, base_house, edited, edits
from enfilade.capture.desk import Desk
from enfilade.editing.merging.merging import differences
from enfilade.editing.merging.three_ways import GONE, ORDER, Place
from enfilade.errors import Refused
from enfilade.project.project import Project
from enfilade.project.store import kept_states, load, save


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("ENFILADE_DATA", str(tmp_path / "data"))
    folder = tmp_path / "house"
    save(base_house().model_copy(), folder)
    return folder


@pytest.fixture
def two(home: Path) -> Iterator[tuple[Desk, Desk]]:
    desks = Desk.open(home), Desk.open(home)
    yield desks
    for desk in desks:
        desk.close()


def with_thing(desk: Desk, id: str, **update: object) -> Project:
    things = [one.model_copy(update=update) if one.id == id else one for one in desk.project.things]
    return desk.project.with_records(things=things)


def without(desk: Desk, id: str) -> Project:
    return desk.project.with_records(things=[one for one in desk.project.things if one.id != id])


def test_different_fields_are_both_kept_and_it_is_said(two: tuple[Desk, Desk], home: Path) -> None:
    one, other = two
    one.change("wider", with_thing(one, "table", width_mm=900.0))
    other.change("noted", with_thing(other, "table", note="oak"))
    assert other.project.thing("table").width_mm == 900.0
    assert other.project.thing("table").note == "oak"
    assert "Another window changed: Table (width); yours and theirs are both kept" in other.saved.words
    assert not other.saved.trouble
    assert load(home) == other.project
    assert one.look() is True
    assert one.project == other.project
    assert "Table (note)" in one.saved.words
    assert one.look() is False


def test_looking_brings_in_what_was_saved_and_keeps_the_rest_the_same_objects(two: tuple[Desk, Desk]) -> None:
    one, other = two
    heard: list[int] = []
    other.watch(lambda: heard.append(1))
    before = other.project
    one.change("wider", with_thing(one, "table", width_mm=900.0))
    assert other.look() is True
    assert heard == [1]
    assert other.project.spaces is before.spaces
    assert all(new is old for new, old in zip(other.project.things, before.things, strict=True) if new.id != "table")
    assert other.undo_words == ""  # it was nothing that this window did


def test_the_same_field_is_asked_about_and_nothing_is_overwritten(two: tuple[Desk, Desk], home: Path) -> None:
    one, other = two
    one.change("wider", with_thing(one, "table", width_mm=900.0))
    saved = (home / "project.json").read_bytes()
    other.change("narrower", with_thing(other, "table", width_mm=800.0))
    assert (home / "project.json").read_bytes() == saved
    assert other.project.thing("table").width_mm == 800.0
    assert other.saved.trouble
    assert "drafts" in other.saved.do
    assert other.question is not None
    (line,) = other.question.lines
    assert (line.about, line.mine, line.theirs) == ("Table: width", '31 1/2"', '35 7/16"')
    # The version of this window lies beside the project, whole.
    texts = [path.read_text() for path in (home / "drafts").glob("*.json") if len(path.stem) == 64]
    assert any('"width_mm": 800.0' in text for text in texts)


@pytest.mark.parametrize(("side", "width_mm"), [("mine", 800.0), ("theirs", 900.0)])
@pytest.mark.parametrize("whole", [True, False])
def test_a_question_is_answered(two: tuple[Desk, Desk], home: Path, side: str, width_mm: float, whole: bool) -> None:
    one, other = two
    one.change("wider", with_thing(one, "table", width_mm=900.0, note="oak"))
    other.change("narrower", with_thing(other, "table", width_mm=800.0))
    other.change("noted", with_thing(other, "lamp", note="low"))  # editing goes on meanwhile
    assert other.question is not None
    key = other.question.key if whole else other.question.lines[0].key
    assert other.answer(side, key).startswith("Chosen. Saved again ")  # type: ignore[arg-type]
    assert other.question is None
    table = load(home).thing("table")
    assert (table.width_mm, table.note, load(home).thing("lamp").note) == (width_mm, "oak", "low")
    assert load(home) == other.project
    assert [path.name for path in (home / "drafts").iterdir() if path.suffix == ".json"] == []
    assert one.look() is True
    assert one.project == other.project
    # Both versions can still be gone back to.
    everywhere = "".join(path.read_text() for path in (home / "project.json", *kept_states(home)))
    assert '"width_mm": 900.0' in everywhere
    assert '"width_mm": 800.0' in everywhere


def test_taking_theirs_can_be_undone(two: tuple[Desk, Desk], home: Path) -> None:
    one, other = two
    one.change("wider", with_thing(one, "table", width_mm=900.0, note="oak"))
    other.change("narrower", with_thing(other, "table", width_mm=800.0))
    assert other.question is not None
    other.answer("theirs", other.question.key)
    assert other.undo() == "took what another window changed"
    table = load(home).thing("table")
    assert (table.width_mm, table.note) == (800.0, "oak")


def test_each_line_is_answered_by_itself(two: tuple[Desk, Desk], home: Path) -> None:
    one, other = two
    one.change("changed", with_thing(one, "table", width_mm=900.0, depth_mm=700.0))
    other.change("changed", with_thing(other, "table", width_mm=800.0, depth_mm=600.0))
    assert other.question is not None
    first, second = other.question.lines
    assert other.answer("mine", first.key) == "Chosen. 1 more to choose"
    assert (home / "project.json").read_text().count('"width_mm": 900.0') == 1
    other.answer("theirs", second.key)
    table = load(home).thing("table")
    assert (table.width_mm, table.depth_mm) == (800.0, 700.0)


def test_an_answer_to_values_that_are_no_more_is_refused(two: tuple[Desk, Desk], home: Path) -> None:
    one, other = two
    one.change("wider", with_thing(one, "table", width_mm=900.0))
    other.change("narrower", with_thing(other, "table", width_mm=800.0))
    assert other.question is not None
    old = other.question
    one.change("wider still", with_thing(one, "table", width_mm=950.0))
    other.look()
    assert other.question is not None
    assert other.question.lines[0].theirs == '37 3/8"'
    for key in (old.key, old.lines[0].key, "", "nonsense"):
        with pytest.raises(Refused, match="changed meanwhile"):
            other.answer("mine", key)
    assert load(home).thing("table").width_mm == 950.0


def test_a_question_goes_when_the_other_window_agrees(two: tuple[Desk, Desk], home: Path) -> None:
    one, other = two
    one.change("wider", with_thing(one, "table", width_mm=900.0))
    other.change("narrower", with_thing(other, "table", width_mm=800.0))
    other.change("noted", with_thing(other, "lamp", note="low"))
    one.undo()
    other.look()
    assert other.question is None
    assert not other.saved.trouble
    assert other.saved.words.startswith("Saved again")
    assert load(home).thing("table").width_mm == 800.0
    assert load(home).thing("lamp").note == "low"
    with pytest.raises(Refused, match="nothing to choose"):
        other.answer("mine", "x")


def test_undo_leaves_the_other_window_alone(two: tuple[Desk, Desk], home: Path) -> None:
    one, other = two
    other.change("noted on the lamp", with_thing(other, "lamp", note="low"))
    other.change("narrower", with_thing(other, "table", width_mm=800.0))
    one.look()
    one.change("noted on the table", with_thing(one, "table", note="oak"))
    one.change("added words", with_thing(one, "bowl", note="deep"))
    other.look()
    assert other.undo() == "narrower"
    assert other.undo() == "noted on the lamp"
    house = load(home)
    assert (house.thing("table").width_mm, house.thing("table").note) == (1016.0, "oak")
    assert (house.thing("lamp").note, house.thing("bowl").note) == ("", "deep")
    assert other.redo() == "noted on the lamp"
    assert other.redo() == "narrower"
    house = load(home)
    assert (house.thing("table").width_mm, house.thing("table").note) == (800.0, "oak")
    assert (house.thing("lamp").note, house.thing("bowl").note) == ("low", "deep")


def test_what_another_window_changed_since_is_not_undone(two: tuple[Desk, Desk], home: Path) -> None:
    one, other = two
    other.change("noted on the lamp", with_thing(other, "lamp", note="low"))
    other.change("narrower", with_thing(other, "table", width_mm=800.0))
    one.look()
    one.change("wider", with_thing(one, "table", width_mm=900.0))
    other.look()
    with pytest.raises(Refused, match="“narrower” cannot be undone: another window has changed the same since"):
        other.undo()
    assert load(home).thing("table").width_mm == 900.0
    assert other.undo() == "noted on the lamp"  # the step before it can


def test_part_of_a_step_is_undone_where_the_rest_was_changed_since(two: tuple[Desk, Desk], home: Path) -> None:
    one, other = two
    other.change("changed both", with_thing(other, "table", width_mm=800.0, depth_mm=600.0))
    one.look()
    one.change("wider", with_thing(one, "table", width_mm=900.0))
    other.look()
    assert other.undo() == "changed both; the rest stays as another window left it"
    table = load(home).thing("table")
    assert (table.width_mm, table.depth_mm) == (900.0, 1016.0)


def test_what_another_window_needs_is_not_undone(two: tuple[Desk, Desk], home: Path) -> None:
    one, other = two
    stool = {"id": "stool", "kind": "seat", "space": "kitchen", "width_mm": 400, "depth_mm": 400, "top_mm": 600,
             "place": {"how": "free", "x_mm": 1000, "y_mm": 1000}}  # fmt: skip
    other.change("added a stool", other.project.with_records(things=[*other.project.things, stool]))
    one.look()
    (first, *_) = one.project.decisions
    needs = first.model_copy(update={"things": (*first.things, "stool")})
    one.change("decided on the stool", one.project.with_records(decisions=[needs]))
    other.look()
    with pytest.raises(Refused, match="cannot be undone"):
        other.undo()
    assert "stool" in load(home).things_by_id
    assert other.project == load(home)


def test_new_records_of_two_windows_are_both_kept_under_names_of_their_own(two: tuple[Desk, Desk], home: Path) -> None:
    def with_stool(desk: Desk, top_mm: float, title: str) -> Project:
        stool = {"id": "stool", "kind": "seat", "space": "kitchen", "width_mm": 400, "depth_mm": 400, "top_mm": top_mm,
                 "place": {"how": "free", "x_mm": 1000, "y_mm": 1000}}  # fmt: skip
        decision = {"id": "stools", "number": 2, "title": title, "things": ["stool"]}
        project = desk.project
        return project.with_records(things=[*project.things, stool], decisions=[*project.decisions, decision])

    one, other = two
    one.change("added a stool", with_stool(one, 600, "Low stools"))
    other.change("added a stool", with_stool(other, 750, "High stools"))
    other.change("noted", with_thing(other, "lamp", note="low"))
    assert other.question is None
    house = load(home)
    assert (house.thing("stool").top_mm, house.thing("stool-2").top_mm) == (600, 750)
    low, high = house.decisions[1:]
    assert (low.title, low.number, low.things) == ("Low stools", 2, ("stool",))
    assert (high.title, high.number, high.things) == ("High stools", 3, ("stool-2",))
    other.undo()
    other.undo()
    house = load(home)
    assert "stool-2" not in house.things_by_id
    assert house.thing("stool").top_mm == 600
    assert [one.title for one in house.decisions[1:]] == ["Low stools"]
    other.redo()
    assert load(home).thing("stool-2").top_mm == 750
    one.look()
    assert one.project == load(home)


def test_a_thing_that_was_taken_away_there_and_changed_here(two: tuple[Desk, Desk], home: Path) -> None:
    one, other = two
    one.change("took the table away", without(one, "table"))
    other.change("noted", with_thing(other, "table", note="oak"))
    assert other.question is not None
    (line,) = other.question.lines
    assert (line.about, line.mine, line.theirs) == ("Table", "kept, with another note", "taken away")
    other.answer("mine", line.key)
    assert load(home).thing("table").note == "oak"
    one.look()
    assert one.project == load(home)


def test_each_window_knows_of_the_other(home: Path) -> None:
    one = Desk.open(home)
    assert one.others == 0
    other = Desk.open(home)
    assert other.others == 1
    one.look()
    assert one.others == 1
    other.close()
    one.look()
    assert one.others == 0
    one.close()
    assert not (home / "drafts").exists()


def test_a_window_that_is_closed_with_a_question_open_is_offered_back(home: Path) -> None:
    one, other = Desk.open(home), Desk.open(home)
    one.change("wider", with_thing(one, "table", width_mm=900.0))
    other.change("narrower", with_thing(other, "table", width_mm=800.0))
    other.change("noted", with_thing(other, "lamp", note="low"))
    assert Desk.open(home).found == ()  # as long as that window is open it is its own affair
    other.close()
    again = Desk.open(home)
    (found,) = again.found
    assert again.told(found) == ("Table (width)", "Light (note)")
    one.look()
    assert one.found != ()  # those that were open before are told too
    assert "Chosen" not in again.bring_back(found.key)
    assert again.question is not None
    assert again.project.thing("lamp").note == "low"
    again.answer("mine", again.question.key)
    assert load(home).thing("table").width_mm == 800.0
    assert load(home).thing("lamp").note == "low"
    assert again.found == ()
    assert Desk.open(home).found == ()
    with pytest.raises(Refused, match="not there any more"):
        again.bring_back(found.key)


def test_what_is_offered_back_can_be_brought_in_undone_or_left_out(home: Path) -> None:
    for way in ("undone", "left out"):
        one, other = Desk.open(home), Desk.open(home)
        one.change("wider", with_thing(one, "table", width_mm=900.0))
        other.change("narrower", with_thing(other, "table", width_mm=800.0))
        other.change("noted", with_thing(other, "lamp", note=way))
        other.close()
        one.change("back", with_thing(one, "table", width_mm=1016.0))
        one.look()
        (found,) = one.found
        if way == "left out":
            assert "earlier states" in one.discard(found.key)
            assert load(home).thing("lamp").note == ""
            assert any('"note": "left out"' in path.read_text() for path in kept_states(home))
        else:
            one.bring_back(found.key)
            assert (load(home).thing("table").width_mm, load(home).thing("lamp").note) == (800.0, "undone")
            assert one.undo() == "brought back what was not saved"
            assert (load(home).thing("table").width_mm, load(home).thing("lamp").note) == (1016.0, "")
        assert one.found == ()
        assert [path.name for path in (home / "drafts").iterdir() if path.suffix == ".json"] == []
        one.close()


def test_a_strange_side_file_is_left_alone(home: Path) -> None:
    drafts = home / "drafts"
    drafts.mkdir(exist_ok=True)
    names = {
        "unsaved-0123456789ab.json": b"\xff\xfe not json",
        "unsaved-0123456789ac.json": b'{"mine": "../../project.json", "base": "x", "when": "2025-01-01"}',
        "unsaved-0123456789ad.json": json.dumps({"mine": "a" * 64 + ".json", "base": "b" * 64 + ".json"}).encode(),
        "a" * 64 + ".json": b"[" * 100_000,
    }
    for name, data in names.items():
        (drafts / name).write_bytes(data)
    desk = Desk.open(home)
    assert desk.found == ()
    desk.change("wider", with_thing(desk, "table", width_mm=900.0))
    assert all((drafts / name).read_bytes() == data for name, data in names.items())


# Random interleavings

TURN = st.one_of(edits(), st.sampled_from(["look", "undo", "redo"]))
TURNS = st.lists(st.tuples(st.sampled_from([0, 1]), TURN), max_size=14)


@given(TURNS)
@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_no_change_of_either_window_is_lost_unless_it_was_asked_about(turns: list[tuple[int, Edit | str]]) -> None:
    with tempfile.TemporaryDirectory() as name:
        home = Path(name) / "house"
        save(base_house().model_copy(), home)
        desks = [Desk.open(home), Desk.open(home)]
        touched: list[set[Place]] = [set(), set()]
        for which, turn in turns:
            desk, saved = desks[which], load(home)
            here = desk.project
            if isinstance(turn, str):
                with contextlib.suppress(Refused):
                    getattr(desk, turn)()
            else:
                before, new = desk.project, edited(desk.project, turn)
                touched[which] |= {change.place for change in differences(before, new)}
                desk.change(turn[0], new)
                assert_done(before, new, desk.project)
            now = load(home)
            if desk.question is None:
                assert now == desk.project or (desk.project is here and now == saved)
                assert not desk.saved.trouble
                assert_others_stand(saved, now, touched[which])
            else:
                assert now == saved  # nothing is overwritten while something is asked
        for desk in desks:
            while desk.question is not None:
                desk.answer("mine", desk.question.key)
            desk.close()
        again = Desk.open(home)
        assert again.found == ()
        again.close()


def assert_done(before: Project, meant: Project, now: Project) -> None:
    """What was done in this window stands in it, whatever came from elsewhere at the same time."""
    for change in differences(before, meant):
        if change.after is GONE or change.before is GONE or ORDER in change.place:
            continue  # a new record may have been given another name
        value: Any = now
        for step in change.place:
            if isinstance(value, tuple):
                value = next(one for one in value if one.id == step)
            else:
                value = value[step] if isinstance(value, dict) else getattr(value, step)
        assert value == change.after


def assert_others_stand(saved: Project, now: Project, touched: set[Place]) -> None:
    """What stood on the disk was changed or taken away only where this window did so itself."""
    for change in differences(saved, now):
        if change.before is GONE or ORDER in change.place:
            continue
        at = tuple(re.sub(r"-\d+$", "", step) for step in change.place)  # as it was called before it got a new name
        assert any(at[: len(place)] == place or place[: len(at)] == at for place in touched), (change, touched)
