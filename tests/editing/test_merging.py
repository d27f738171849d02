"""Merging two windows' work: laws, and what becomes of what both touched."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from building import door, free, house, on_wall, room, thing
from edits import Edit, base_house, edited, edits
from enfilade.editing.merging.merging import differences, merged
from enfilade.editing.merging.three_ways import GONE, Clash, Place
from enfilade.project.project import Project

MANY = st.lists(edits(), max_size=5)


def after(these: list[Edit], project: Project | None = None) -> Project:
    project = project or base_house()
    for edit in these:
        project = edited(project, edit)
    return project


def apart(project: Project) -> Project:
    """Return the same house as other objects, as it comes from the disk."""
    return Project.model_validate(project.model_dump())


def places(these: list[Edit]) -> set[Place]:
    return {change.place for change in differences(base_house(), after(these))}


@given(MANY)
@settings(deadline=None)
def test_what_one_side_did_alone_is_taken_whole(these: list[Edit]) -> None:
    base, new = base_house(), after(these)
    for known in (base, apart(base)):
        assert merged(known, new, apart(base)).project == new
        assert merged(known, new, apart(base)).taken == ()
        came = merged(known, base, apart(new))
        assert came.project == new
        assert came.clashes == ()
        assert bool(came.taken) == (new != base)
    both = merged(base, new, apart(new))
    assert both.project is new
    assert both.clashes == ()


@given(MANY, MANY)
@settings(deadline=None)
def test_a_merge_can_be_saved_and_loses_no_record(here: list[Edit], there: list[Edit]) -> None:
    base, mine, theirs = base_house(), after(here), apart(after(there))
    result = merged(base, mine, theirs)
    assert result.project.verified() == Project.model_validate(result.project.model_dump(mode="json"))
    if result.clashes:
        assert result.project is mine
        return
    for name in ("spaces", "openings", "things", "decisions", "answers", "script"):
        old, here_now, there_now, now = (
            {one.id for one in getattr(project, name)} for project in (base, mine, theirs, result.project)
        )
        assert now == (here_now & there_now) | (here_now - old) | (there_now - old)


@given(MANY, MANY)
@settings(deadline=None)
def test_edits_of_different_places_commute(here: list[Edit], there: list[Edit]) -> None:
    one, other = merged(base_house(), after(here), after(there)), merged(base_house(), after(there), after(here))
    assert {clash.place for clash in one.clashes} == {clash.place for clash in other.clashes}
    if not one.clashes:
        assert one.project == other.project
    near = {place[:2] for place in places(here)} & {place[:2] for place in places(there)}
    gone = any(change.after is GONE for side in (here, there) for change in differences(base_house(), after(side)))
    if not near and not gone:  # what is taken away may be needed by what the other side added
        assert not one.clashes or {clash.place for clash in one.clashes} == {()}


@given(MANY, MANY)
@settings(deadline=None)
def test_all_clashes_answered_for_one_side_leave_none(here: list[Edit], there: list[Edit]) -> None:
    base, mine, theirs = base_house(), after(here), after(there)
    for side in ("mine", "theirs"):
        answers: dict[Place, Any] = {}
        for _ in range(5):
            result = merged(base, mine, theirs, answers)
            if not result.clashes:
                break
            answers |= {clash.place: (side, clash.theirs) for clash in result.clashes}
        assert result.clashes == ()
        result.project.verified()


@given(MANY)
@settings(deadline=None, max_examples=30)
def test_what_is_equal_stays_the_same_object(these: list[Edit]) -> None:
    base, theirs = base_house(), apart(after(these))
    result = merged(apart(base), base, theirs).project
    for name in Project.model_fields:
        here, now = getattr(base, name), getattr(result, name)
        if here == now:
            assert now is here
        elif isinstance(here, tuple):
            known = {one.id: one for one in here}
            assert all(one is known[one.id] for one in now if known.get(one.id) == one)


def with_thing(project: Project, id: str, **update: object) -> Project:
    things = [one.model_copy(update=update) if one.id == id else one for one in project.things]
    return project.with_records(things=things)


def one_clash(base: Project, mine: Project, theirs: Project) -> Clash:
    result = merged(base, mine, theirs)
    assert result.project is mine
    (clash,) = result.clashes
    return clash


def test_two_fields_of_one_thing_are_both_taken() -> None:
    base = base_house()
    result = merged(base, with_thing(base, "table", width_mm=900.0), apart(with_thing(base, "table", note="oak")))
    table = result.project.thing("table")
    assert (table.width_mm, table.note) == (900.0, "oak")
    assert result.taken == ("Table (note)",)


def test_one_field_changed_differently_is_asked_about() -> None:
    base = base_house()
    mine, theirs = with_thing(base, "table", width_mm=900.0), with_thing(base, "table", width_mm=950.0)
    clash = one_clash(base, mine, theirs)
    assert (clash.list, clash.id, clash.field) == ("things", "table", "width_mm")
    assert (clash.base, clash.mine, clash.theirs) == (1016.0, 900.0, 950.0)
    kept = merged(base, mine, theirs, {clash.place: ("mine", 950.0)})
    assert kept.project == mine
    assert kept.clashes == ()
    taken = merged(base, mine, theirs, {clash.place: ("theirs", 950.0)})
    assert taken.project == theirs
    assert taken.taken == ("Table (width)",)
    # An answer does not hold for a value that was not seen when it was given.
    assert merged(base, mine, with_thing(base, "table", width_mm=970.0), {clash.place: ("mine", 950.0)}).clashes


def test_half_of_two_places_is_no_place() -> None:
    base = base_house()
    place = base.thing("table").place
    mine = with_thing(base, "table", place=place.model_copy(update={"x_mm": 1500.0}))
    theirs = with_thing(base, "table", place=place.model_copy(update={"y_mm": 1600.0}))
    assert one_clash(base, mine, theirs).field == "place"


def test_an_opening_stands_at_one_offset_from_one_end() -> None:
    base = base_house()

    def with_way(**update: object) -> Project:
        (way, *others) = base.openings
        return base.with_records(openings=[way.model_copy(update=update), *others])

    offset = base.openings[0].offset_mm
    mine, theirs = with_way(offset_mm=offset + 25.4), with_way(from_end="right", offset_mm=offset - 25.4)
    clash = one_clash(base, mine, theirs)
    assert (clash.list, clash.id, clash.field) == ("openings", "way", "wall")
    taken = merged(base, mine, theirs, {clash.place: ("theirs", clash.theirs)})
    assert taken.project == theirs
    wider = merged(base, mine, with_way(width_mm=920.0)).project.openings[0]
    assert (wider.offset_mm, wider.width_mm) == (offset + 25.4, 920.0)


def test_a_record_that_was_taken_away_and_changed_is_asked_about() -> None:
    base = base_house()
    away = base.with_records(things=[one for one in base.things if one.id != "table"])
    clash = one_clash(base, away, with_thing(base, "table", width_mm=950.0))
    assert (clash.list, clash.id, clash.field) == ("things", "table", "")
    assert clash.mine is GONE
    back = merged(base, away, with_thing(base, "table", width_mm=950.0), {clash.place: ("theirs", clash.theirs)})
    assert back.project.thing("table").width_mm == 950.0
    assert [one.id for one in back.project.things] == [one.id for one in base.things]


def test_a_record_that_was_taken_away_and_is_needed_is_asked_about() -> None:
    base = base_house()
    away = base.with_records(things=[one for one in base.things if one.id not in ("table", "blind")])
    decision = {"id": "table-size", "number": 2, "title": "Size of the table", "things": ["table"]}
    theirs = base.with_records(decisions=[*base.decisions, decision])
    clash = one_clash(base, away, theirs)
    assert (clash.place, clash.mine) == (("things", "table"), GONE)
    assert "needed" in clash.why
    back = merged(base, away, theirs, {clash.place: ("theirs", clash.theirs)})
    assert {one.id for one in base.things} - {one.id for one in back.project.things} == {"blind"}
    # To insist on taking it away is to be asked about all: it cannot be had beside the decision.
    (whole,) = merged(base, away, theirs, {clash.place: ("mine", clash.theirs)}).clashes
    assert whole.place == ()
    other = one_clash(base, theirs, away)
    assert (other.place, other.theirs) == (("things", "table"), GONE)


def test_what_cannot_stand_together_is_asked_about_as_a_whole() -> None:
    base = house([thing("base cabinet", "base", 24, 24, on_wall("kitchen-north", 0))],
                 openings=[door("way", "kitchen-south", 50)])  # fmt: skip
    narrow = room(90, 144)
    mine = base.with_records(spaces=[narrow])
    (way,) = base.openings
    theirs = base.with_records(openings=[way.model_copy(update={"offset_mm": way.offset_mm + 700})])
    clash = one_clash(base, mine, theirs)
    assert clash.place == ()
    assert "past an end of its wall" in clash.why
    for side, whole in (("mine", mine), ("theirs", theirs)):
        answered = merged(base, mine, theirs, {(): (side, theirs)})  # type: ignore[dict-item]
        assert answered.project == whole
        assert answered.clashes == ()


def test_halves_of_a_record_that_cannot_exist_together() -> None:
    base = base_house()
    mine, theirs = with_thing(base, "lamp", bottom_mm=2130.0), with_thing(base, "lamp", top_mm=2100.0)
    clash = one_clash(base, mine, theirs)
    assert clash.place == ("things", "lamp")
    assert "below" in clash.why
    assert merged(base, mine, theirs, {clash.place: ("theirs", clash.theirs)}).project == theirs


def test_walls_go_with_the_outline_that_has_them() -> None:
    base = house([thing("table", "table", 40, 40, free(72, 60))])
    (space,) = base.spaces
    notched = room(144, 144)
    notched["outline"][2:3] = [[3657.6, 3000.0], [3000.0, 3657.6]]
    notched["walls"].insert(2, {"id": "kitchen-slant"})
    mine = base.with_records(spaces=[notched])
    (renamed,) = (space.model_copy(update={"name": "Cook's room"}),)
    both = merged(base, mine, base.with_records(spaces=[renamed]))
    assert both.clashes == ()
    assert both.project.spaces[0].name == "Cook's room"
    assert len(both.project.spaces[0].walls) == 5
    wider = base.with_records(spaces=[{**room(150, 144)}])
    clash = one_clash(base, mine, wider)
    assert clash.place == ("spaces", "kitchen", "outline")
    for side, whole in (("mine", mine), ("theirs", wider)):
        assert merged(base, mine, wider, {clash.place: (side, clash.theirs)}).project == whole  # type: ignore[dict-item]


def test_two_orders_are_asked_about() -> None:
    base = house([thing("table", name, 10, 10, free(72, 60)) for name in ("a", "b", "c")])
    a, b, c = base.things
    mine, theirs = base.with_records(things=[b, a, c]), base.with_records(things=[a, c, b])
    clash = one_clash(base, mine, theirs)
    assert clash.place == ("things", "")
    taken = merged(base, mine, theirs, {clash.place: ("theirs", clash.theirs)})
    assert [one.id for one in taken.project.things] == ["a", "c", "b"]


def test_new_records_keep_their_places() -> None:
    base = house([thing("table", name, 10, 10, free(72, 60)) for name in ("a", "b")])

    def new(name: str) -> dict[str, object]:
        return thing("table", name, 10, 10, free(72, 60))

    mine = base.with_records(things=[base.things[0], new("m1"), new("m2"), base.things[1]])
    theirs = base.with_records(things=[new("t0"), base.things[0], new("t1"), base.things[1], new("t2")])
    for result in (merged(base, mine, theirs), merged(base, theirs, mine)):
        assert [one.id for one in result.project.things] == ["t0", "a", "m1", "m2", "t1", "b", "t2"]


def test_the_same_record_made_twice_is_compared_by_field() -> None:
    base = base_house()

    def with_lines(*lines: str, script: str = "hall-stop") -> Project:
        return base.with_records(script=[*base.script, {"id": script, "space": "hall", "lines": lines}])

    clash = one_clash(base, with_lines("Here is the hall."), with_lines("This is the hall."))
    assert clash.place == ("script", "hall-stop", "lines", "line-1", "text")
    assert merged(base, with_lines("Here is the hall."), with_lines()).project == with_lines("Here is the hall.")


@pytest.mark.parametrize("name", ["name", "yardstick"])
def test_fields_of_the_project_itself(name: str) -> None:
    base = base_house()
    mine, theirs = base.model_copy(update={name: "us-access"}), base.model_copy(update={name: "us-1990s"})
    assert one_clash(base, mine, theirs).place == (name,)
    assert merged(base, base, theirs).project == theirs
