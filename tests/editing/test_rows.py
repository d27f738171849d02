"""Rows: added with ids that nobody types, removed with what leads to them, put in another order."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import enfilade as ef
from building import door, free, house, on_wall, room, set_in, thing
from enfilade.editing.forms.removing import what_leads_to
from enfilade.editing.forms.rows import with_row_added, with_row_moved
from enfilade.editing.forms.typed import with_row_removed
from enfilade.errors import BadRecord, Fault, NotFound
from enfilade.lengths import inches
from enfilade.project.project import Project


@pytest.fixture
def kitchen() -> Project:
    return house(
        [
            thing("counter", "top", 60, 25, on_wall("kitchen-north", 10), finish="oak"),
            thing("sink", "sink", 30, 20, set_in("top", 3)),
            thing("waste", "bin", 12, 12, set_in("sink", 3)),
            thing("window treatment", "blind", 30, 2, on_wall("kitchen-east", 50), opening="w"),
            thing("island", "island", 60, 36, free(72, 60)),
        ],
        openings=[door("d", "kitchen-west", 10), door("w", "kitchen-east", 50, kind="window")],
        finishes=[{"id": "oak", "name": "Oak"}, {"id": "elm", "name": "Elm"}],
        brief={"needs": [{"id": "light", "number": 4, "text": "More light"}]},
        decisions=[
            {
                "id": "size", "number": 7, "title": "Size of the island", "things": ["island", "sink"],
                "needs": ["light"], "spaces": ["kitchen"],
                "options": [{"id": "wide", "text": "Wide", "finishes": ["oak"]}, {"id": "small", "text": "Small"}],
                "choice": "wide", "status": "planned",
            }
        ],
        script=[{"id": "stop-kitchen", "space": "kitchen", "lines": ["Look."]}],
    )  # fmt: skip


def faults(call: Any, *arguments: Any, **more: Any) -> tuple[Fault, ...]:
    with pytest.raises(BadRecord) as refusal:
        call(*arguments, **more)
    return refusal.value.faults


# Adding


def test_a_new_decision_needs_no_more_than_its_title(kitchen: Project) -> None:
    again, key = with_row_added(kitchen, ("decisions",), {"title": "Where the bins go"})
    assert key == "where-the-bins-go"
    new = again.decisions[-1]
    assert (new.id, new.number, new.title, new.status) == (key, 8, "Where the bins go", "undecided")
    assert again.decisions[0] is kitchen.decisions[0]
    twice, other = with_row_added(again, ("decisions",), {"title": "Where the bins go!"})
    assert other == "where-the-bins-go-2"
    assert twice.decisions[-1].number == 9


def test_an_option_a_need_a_person_and_a_leaf_are_added_likewise(kitchen: Project) -> None:
    again, key = with_row_added(kitchen, ("decisions", "size", "options"), {"text": "None at all", "cost": "1,000"})
    assert (key, str(again.decisions[0].options[2].cost)) == ("none-at-all", "1000")
    again, key = with_row_added(kitchen, ("brief", "needs"), {"text": "A place for the dog"})
    assert again.brief.needs[1].number == 5
    again, key = with_row_added(kitchen, ("household", "people"), {"name": "Zoë"})
    assert key == "zoe"
    again, key = with_row_added(again, ("household", "people"), {})
    assert (key, again.household.people[1].name) == ("person", "")
    again, key = with_row_added(kitchen, ("things", "island", "opens"), {"kind": "drawer", "width_mm": "18"})
    assert key == "0"
    assert again.thing("island").leaves[0].width_mm == inches(18)
    again, key = with_row_added(again, ("things", "island", "opens"), {"kind": "hinged"})
    assert key == "1"
    again, key = with_row_added(kitchen, ("household", "gatherings"), {"people": "14"})
    assert (key, again.household.largest_gathering) == ("0", 14)


def test_a_thing_is_added_by_its_kind(kitchen: Project) -> None:
    again, key = with_row_added(
        kitchen,
        ("things",),
        {
            "kind": "table", "name": "Long table", "space": "Kitchen", "width_mm": "60", "depth_mm": "30",
            "top_mm": "30", "place": {"how": "free", "x_mm": "6'", "y_mm": "3'"},
        },
    )  # fmt: skip
    assert key == "long-table"
    table = again.thing(key)
    assert (table.kind, table.space, table.top_mm) == ("table", "kitchen", inches(30))
    assert all(again.thing(one.id) is one for one in kitchen.things)


@pytest.mark.parametrize(
    ("path", "values", "place", "words"),
    [
        (("decisions",), {}, "decisions/new/title", "Title is missing"),
        (("decisions",), {"title": "  "}, "decisions/new/title", "Title is missing"),
        (("decisions",), {"title": "A", "due": "soon"}, "decisions/new/due", "is not a day"),
        (("household", "gatherings"), {"people": "many"}, "household/gatherings/new/people", "is not a number"),
        (("things",), {"name": "What"}, "things/new", "not said which kind"),
        (("things",), {"kind": "table"}, "things/new/space", "Room is missing"),
        (("spaces", "kitchen", "walls"), {"name": "Fifth"}, "spaces/kitchen/walls/new", "one to a side"),
        (("decisions",), {"title": "A", "id": "mine"}, "decisions/new", "is not a field"),
    ],
)
def test_what_is_missing_is_told_at_its_field(kitchen: Project, path: Any, values: Any, place: str, words: str) -> None:
    found = faults(with_row_added, kitchen, path, values)
    assert found[0].place == place
    assert words in found[0].what


@settings(max_examples=60, deadline=None)
@given(st.lists(st.text(min_size=1, max_size=30).filter(lambda title: title.strip()), min_size=1, max_size=6))
def test_whatever_titles_are_typed_ids_are_unique_and_well_made(titles: list[str]) -> None:
    project = house()
    for title in titles:
        try:
            project, key = with_row_added(project, ("decisions",), {"title": title})
        except BadRecord:
            assert not title.isprintable()  # a sign that no document can carry
            continue
        assert project.decisions[-1].id == key
    assert Project.model_validate(project.model_dump(mode="json")).verified() == project


# Order


def test_a_row_moves_and_the_others_keep_their_order(kitchen: Project) -> None:
    path = ("decisions", "size", "options", "wide")
    again = with_row_moved(kitchen, path, 1)
    assert [option.id for option in again.decisions[0].options] == ["small", "wide"]
    assert again.decisions[0].options[1] is kitchen.decisions[0].options[0]
    assert with_row_moved(kitchen, path, -5) is kitchen
    assert with_row_moved(again, path, 99) is again
    with pytest.raises(NotFound):
        with_row_moved(kitchen, ("decisions", "gone"), 0)
    with pytest.raises(NotFound):
        with_row_moved(kitchen, ("decisions",), 0)
    assert "order of the corners" in faults(with_row_moved, kitchen, ("walls", "kitchen-north"), 0)[0].what


# Removing


def test_what_nothing_names_is_removed(kitchen: Project) -> None:
    assert [one.id for one in with_row_removed(kitchen, ("finishes", "elm")).finishes] == ["oak"]
    again = with_row_removed(kitchen, ("decisions", "size", "options", "small"))
    assert [option.id for option in again.decisions[0].options] == ["wide"]
    # A row without an id, by its place.
    leafy, _ = with_row_added(kitchen, ("things", "island", "opens"), {"kind": "drawer"})
    assert with_row_removed(leafy, ("things", "island", "opens", "0")).thing("island").opens == ()


def test_what_is_still_named_is_refused_with_the_names(kitchen: Project) -> None:
    (fault,) = faults(with_row_removed, kitchen, ("finishes", "oak"))
    assert fault.place == "finishes/oak"
    assert fault.what == "finish “Oak” is still named by counter and decision 7, Size of the island"
    (fault,) = faults(with_row_removed, kitchen, ("decisions", "size", "options", "wide"))
    assert "is still named by decision 7, Size of the island" in fault.what
    (fault,) = faults(with_row_removed, kitchen, ("brief", "needs", "light"))
    assert "decision 7" in fault.what
    assert "one to a side" in faults(with_row_removed, kitchen, ("walls", "kitchen-north"), along=True)[0].what


def test_what_names_it_is_cleared_when_that_is_asked_for(kitchen: Project) -> None:
    again = with_row_removed(kitchen, ("finishes", "oak"), along=True)
    assert again.thing("top").finish is None
    assert again.decisions[0].options[0].finishes == ()
    assert again.thing("island") is kitchen.thing("island")
    assert again.decisions[0].options[1] is kitchen.decisions[0].options[1]
    again = with_row_removed(kitchen, ("decisions", "size", "options", "wide"), along=True)
    assert (again.decisions[0].choice, again.decisions[0].status) == (None, "undecided")


def test_what_cannot_stand_without_it_goes_along(kitchen: Project) -> None:
    told = {one.words: one.goes for one in what_leads_to(kitchen, ("things", "top"))}
    assert told == {"sink": True, "waste": True, "decision 7, Size of the island": False}
    again = with_row_removed(kitchen, ("things", "top"), along=True)
    assert [one.id for one in again.things] == ["blind", "island"]
    assert again.decisions[0].things == ("island",)
    again = with_row_removed(kitchen, ("openings", "w"), along=True)
    assert "blind" not in again.things_by_id


def test_a_room_goes_with_all_that_stands_in_it(kitchen: Project) -> None:
    again = with_row_removed(kitchen, ("spaces", "kitchen"), along=True)
    assert (again.spaces, again.things, again.openings, again.script) == ((), (), (), ())
    assert again.decisions[0].spaces == ()


def test_a_neighbour_keeps_its_door_when_the_room_beyond_goes() -> None:
    project = house(
        spaces=[room(144, 144), room(100, 100, id="hall", use="hall", at=(144, 0))],
        openings=[door("d", "kitchen-east", 10, beyond="hall-west")],
    )
    again = with_row_removed(project, ("spaces", "hall"), along=True)
    assert again.openings[0].beyond is None
    assert with_row_removed(project, ("spaces", "kitchen"), along=True).openings == ()


def test_whatever_is_removed_from_the_demo_house_leaves_a_house() -> None:
    demo = ef.demo()
    for name in ("spaces", "openings", "finishes", "products", "decisions", "script", "photographs"):
        for record in getattr(demo, name):
            again = with_row_removed(demo, (name, record.id), along=True)
            assert record.id not in {one.id for one in getattr(again, name)}
            assert again.verified() is again
    for record in demo.things[::5]:
        assert record.id not in with_row_removed(demo, ("things", record.id), along=True).things_by_id
