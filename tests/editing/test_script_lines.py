"""Lines to speak, one by one, and stops put into parts."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from building import house, room
from enfilade.editing.forms.lines import with_lines
from enfilade.editing.forms.removing import with_row_removed
from enfilade.editing.forms.script_lines import (
    with_line_added,
    with_line_moved,
    with_line_out,
    with_stop_in_part,
    with_stop_moved,
)
from enfilade.editing.parts import part_of_each, stops_by_part
from enfilade.errors import BadRecord, NotFound
from enfilade.project.project import Project


def told(parts: dict[str, str | None] | None = None, **more: Any) -> Project:
    """Three rooms, each told in two lines, the first of each drafted; `parts` by stop."""
    stops = [
        {"id": f"s{id}", "space": id, "part": (parts or {}).get(f"s{id}"), "lines": [
            {"id": "one", "text": "First.", "drafted": {"about": f"room:{id}", "text": "First."}},
            {"id": "two", "text": "Second."},
        ]}
        for id in "abc"
    ]  # fmt: skip
    spaces = [room(100, 100, id=id, at=(n * 105, 0)) for n, id in enumerate("abcd")]
    speaking = {"parts": [{"id": "p"}, {"id": "q", "recap": [
        {"id": "r", "text": "Before.", "drafted": {"about": "recap:q:rooms", "text": "Before."}}]}]}  # fmt: skip
    return house(spaces=spaces, script=stops, show={"speaking": speaking}, **more)


def lines(project: Project, stop: str) -> list[str]:
    return [line.id for one in project.script if one.id == stop for line in one.lines]


def test_a_line_that_was_drafted_is_remembered_when_it_is_taken_out() -> None:
    project = with_line_out(told(), "sa", "one")
    assert lines(project, "sa") == ["two"]
    assert project.script[0].left_out == ("room:a",)
    assert project.script[1:] == told().script[1:]


def test_a_line_that_a_person_wrote_leaves_nothing_behind() -> None:
    assert with_line_out(told(), "sa", "two").script[0].left_out == ()


def test_a_line_of_a_recap_is_taken_out_and_remembered() -> None:
    project = with_line_out(told(), "q", "r")
    assert project.show.speaking.parts[1].recap == ()
    assert project.script[0].left_out == ("recap:q:rooms",)


def test_a_line_is_added_where_it_is_wanted_and_a_room_gets_its_stop() -> None:
    project, stop, line = with_line_added(told(), "b", "In between.", 1)
    assert (stop, lines(project, "sb")) == ("sb", ["one", line, "two"])
    project, stop, line = with_line_added(project, "d", "The last room.")
    assert [one.text for one in project.script[-1].lines] == ["The last room."]
    assert project.script[-1].space == "d"
    assert project.script[-1].id == stop


def test_a_line_moves_inside_its_room_and_to_another() -> None:
    assert lines(with_line_moved(told(), "sa", "one", 9), "sa") == ["two", "one"]
    project = with_line_moved(told(), "sa", "one", 1, to_stop="sb")
    assert (lines(project, "sa"), lines(project, "sb")) == (["two"], ["one", "one-2", "two"])
    moved = project.script[1].lines[1]
    assert moved.model_copy(update={"id": "one"}) == told().script[0].lines[0]
    # What was moved was not taken out.
    assert project.script[0].left_out == ()


def test_the_other_stops_stay_in_their_parts() -> None:
    project = told({"sa": "p", "sb": "q"})
    assert part_of_each(project) == ("p", "q", "q")
    assert part_of_each(with_stop_in_part(project, "sb", "p")) == ("p", "p", "q")
    assert part_of_each(with_stop_in_part(project, "sa", "q")) == ("q", "q", "q")
    assert with_stop_in_part(project, "sc", "q") is project


def test_a_stop_that_is_moved_joins_the_part_of_the_stop_before_it() -> None:
    project = with_stop_moved(told({"sa": "p", "sb": "q"}), "sc", 1)
    assert [stop.id for stop in project.script] == ["sa", "sc", "sb"]
    assert part_of_each(project) == ("p", "p", "q")


@given(st.tuples(*[st.sampled_from([None, "p", "q"])] * 3), st.sampled_from(["sa", "sb", "sc"]), st.integers(-2, 5))
def test_moving_and_dealing_stops_loses_none(parts: tuple[str | None, ...], stop: str, to: int) -> None:
    project = told(dict(zip(["sa", "sb", "sc"], parts, strict=True)))
    for changed in (with_stop_moved(project, stop, to), with_stop_in_part(project, stop, "q")):
        assert sorted(one.id for one in changed.script) == ["sa", "sb", "sc"]
        assert {one.id: one.lines for one in changed.script} == {one.id: one.lines for one in project.script}
        before = dict(zip((one.id for one in project.script), part_of_each(project), strict=True))
        after = dict(zip((one.id for one in changed.script), part_of_each(changed), strict=True))
        assert {id: part for id, part in after.items() if id != stop} == {
            id: part for id, part in before.items() if id != stop
        }
        assert sorted(s.id for part in stops_by_part(changed) for s in part.stops) == ["sa", "sb", "sc"]


def test_a_house_without_parts_has_none_to_name() -> None:
    plain = told().model_dump()
    plain["show"]["speaking"]["parts"] = []
    project = Project.model_validate(plain)
    assert part_of_each(project) == (None, None, None)
    assert [part.part for part in stops_by_part(project)] == [None]
    assert [stop.part for stop in with_stop_moved(project, "sc", 0).script] == [None, None, None]


@pytest.mark.parametrize(
    "change",
    [
        lambda project: with_line_out(project, "sa", "nine"),
        lambda project: with_line_out(project, "nine", "one"),
        lambda project: with_line_moved(project, "nine", "one", 0),
        lambda project: with_line_moved(project, "sa", "nine", 0, to_stop="sb"),
        lambda project: with_line_moved(project, "sa", "one", 0, to_stop="nine"),
        lambda project: with_line_added(project, "nine", "Words."),
        lambda project: with_stop_moved(project, "nine", 0),
        lambda project: with_stop_in_part(project, "nine", "p"),
        lambda project: with_stop_in_part(project, "sa", "nine"),
    ],
)
def test_what_is_not_there_is_refused(change: Any) -> None:
    with pytest.raises(NotFound):
        change(told())


def test_a_line_needs_words_that_can_be_kept() -> None:
    with pytest.raises(BadRecord):
        with_line_added(told(), "a", "\x00")


def full(**more: Any) -> Project:
    """The same house; the stop of the first room is full, of lines and of what it leaves out."""
    many = [{"id": f"n{n}", "text": f"Line {n}.", "drafted": {"about": f"n:{n}", "text": "x"}} for n in range(1000)]
    stops = [stop.model_dump() for stop in told().script]
    stops[0] |= {"lines": many, "left_out": [f"old:{n}" for n in range(1000)]}
    return told().with_records(script=stops)


def test_of_what_was_taken_out_the_newest_is_kept_and_the_project_can_be_saved() -> None:
    for project in (
        with_line_out(full(), "sa", "n7"),
        with_row_removed(full(), ("script", "sa", "lines", "n7")),
        with_lines(full(), "a", "\n".join(f"Line {n}." for n in range(1000) if n != 7)),
    ):
        assert project.script[0].left_out == (*(f"old:{n}" for n in range(1, 1000)), "n:7")
        assert Project.model_validate(project.model_dump()) == project


@pytest.mark.parametrize(
    "change",
    [
        lambda project: with_line_added(project, "a", "One more."),
        lambda project: with_line_moved(project, "sb", "one", 0, to_stop="sa"),
        lambda project: with_lines(project, "a", "\n".join(f"Line {n}." for n in range(1001))),
    ],
)
def test_a_stop_that_is_full_takes_no_more_lines(change: Any) -> None:
    with pytest.raises(BadRecord):
        change(full())
