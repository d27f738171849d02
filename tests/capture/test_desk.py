"""The desk: what is changed is saved, undone and done again."""

from __future__ import annotations

from pathlib import Path

import pytest

from edits import base_house
from enfilade.capture.desk import Desk
from enfilade.errors import BadRecord, Refused
from enfilade.project.audience import for_audience
from enfilade.project.project import Project
from enfilade.project.store import kept_states, load, save


@pytest.fixture
def home(tmp_path: Path) -> Path:
    folder = tmp_path / "house"
    save(base_house().model_copy(), folder)
    return folder


def with_width(project: Project, width_mm: float, id: str = "table") -> Project:
    things = [one.model_copy(update={"width_mm": width_mm}) if one.id == id else one for one in project.things]
    return project.with_records(things=things)


def with_note(project: Project, note: str, id: str = "table") -> Project:
    things = [one.model_copy(update={"note": note}) if one.id == id else one for one in project.things]
    return project.with_records(things=things)


def test_each_change_is_saved_before_it_is_acknowledged(home: Path) -> None:
    desk = Desk.open(home)
    for width in (900.0, 910.0, 920.0):
        desk.change("made the table wider", with_width(desk.project, width))
        assert load(home) == desk.project
        assert load(home).thing("table").width_mm == width
    assert desk.saved.words.startswith("Saved ")
    assert not desk.saved.trouble
    assert len(kept_states(home)) == 3


def test_undo_and_redo_go_through_all_steps_and_are_saved(home: Path) -> None:
    desk = Desk.open(home)
    states = [desk.project]
    for number in range(5):
        desk.change(f"step {number}", with_width(desk.project, 900.0 + number))
        states.append(desk.project)
    for number in range(5, 0, -1):
        assert desk.undo_words == f"step {number - 1}"
        assert desk.undo() == f"step {number - 1}"
        assert desk.project is states[number - 1]  # the very objects: what was found for them is remembered
        assert load(home) == states[number - 1]
    assert desk.undo_words == ""
    with pytest.raises(Refused, match="nothing to undo"):
        desk.undo()
    for number in range(5):
        assert desk.redo_words == f"step {number}"
        assert desk.redo() == f"step {number}"
        assert desk.project is states[number + 1]
    with pytest.raises(Refused, match="nothing to do again"):
        desk.redo()
    desk.undo()
    desk.change("something else", with_note(desk.project, "oak"))
    assert desk.redo_words == ""
    assert load(home) == desk.project


def test_typing_in_one_field_is_one_step(home: Path) -> None:
    desk = Desk.open(home)
    before = desk.project
    for text in ("o", "oa", "oak"):
        desk.change("noted on the table", with_note(desk.project, text), joins="things/table/note")
    desk.change("noted on the lamp", with_note(desk.project, "low", "lamp"), joins="things/lamp/note")
    assert desk.undo() == "noted on the lamp"
    assert desk.project.thing("table").note == "oak"
    assert desk.undo() == "noted on the table"
    assert desk.project is before
    assert desk.redo() == "noted on the table"
    assert desk.project.thing("table").note == "oak"
    # After going back, typing on is a step of its own.
    desk.undo()
    desk.change("noted on the table", with_note(desk.project, "elm"), joins="things/table/note")
    assert desk.undo() == "noted on the table"
    assert desk.project == before


def test_what_is_typed_back_leaves_no_step(home: Path) -> None:
    desk = Desk.open(home)
    desk.change("noted", with_note(desk.project, "o"), joins="note")
    desk.change("noted", with_note(desk.project, ""), joins="note")
    assert desk.undo_words == ""


def test_steps_are_bounded(home: Path) -> None:
    from enfilade.capture import steps

    desk = Desk.open(home)
    memory = steps.Steps()
    for number in range(steps.MOST + 50):
        memory.add(f"step {number}", desk.project, desk.project)
    for number in range(steps.MOST + 49, 49, -1):
        assert memory.undo(desk.project)[1] == f"step {number}"
    assert memory.undo_words == ""


def test_what_cannot_be_read_again_is_refused_and_changes_nothing(home: Path) -> None:
    desk = Desk.open(home)
    before, bytes_before = desk.project, (home / "project.json").read_bytes()
    with pytest.raises(BadRecord):
        desk.change("broke it", desk.project.model_copy(update={"spaces": ()}))
    with pytest.raises(Refused, match="copy for one audience"):
        desk.change("told it", for_audience(desk.project, "public"))
    assert desk.project is before
    assert desk.undo_words == ""
    assert (home / "project.json").read_bytes() == bytes_before


def test_watchers_hear_of_each_change_even_when_one_fails(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    desk = Desk.open(home)
    heard: list[float] = []

    def fail() -> None:
        raise RuntimeError("this page is broken")

    desk.watch(fail)
    desk.watch(lambda: heard.append(desk.project.thing("table").width_mm))
    desk.change("wider", with_width(desk.project, 900.0))
    desk.undo()
    assert heard == [900.0, 1016.0]
    assert "this page is broken" in capsys.readouterr().err


def test_the_same_project_again_is_no_change(home: Path) -> None:
    desk = Desk.open(home)
    desk.change("nothing", desk.project)
    assert desk.undo_words == ""
    assert kept_states(home) == ()


def test_a_project_is_opened_by_its_folder_or_its_file(home: Path) -> None:
    assert Desk.open(home).folder == home
    assert Desk.open(home / "project.json").folder == home
    assert Desk.open(str(home)).project == base_house()


def test_a_page_that_is_made_anew_in_one_process_finds_its_desk_again(home: Path) -> None:
    desk = Desk.at(home)
    desk.change("wider", with_width(desk.project, 900.0))
    again = Desk.at(str(home))
    assert again is desk
    assert (again.undo_words, again.others) == ("wider", 0)
    desk.close()
    del desk, again
    other = Desk.at(home)
    assert other.undo_words == ""
    assert other.project.thing("table").width_mm == 900.0


def test_looking_costs_little_and_changes_nothing_while_nothing_happens(home: Path) -> None:
    desk = Desk.open(home)
    heard: list[int] = []
    desk.watch(lambda: heard.append(1))
    desk.change("wider", with_width(desk.project, 900.0))
    before, saved = desk.project, desk.saved
    for _ in range(3):
        assert desk.look() is False
    assert (desk.project, desk.saved) == (before, saved)
    assert heard == [1]
    assert len(kept_states(home)) == 1
