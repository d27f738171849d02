"""What is remembered from one check of a house to the next says the same as a check that remembers nothing."""

from __future__ import annotations

import gc
import weakref
from itertools import pairwise
from typing import Any

import pytest

from benchmarks.measured import forget
from building import free, house, on_wall, room, set_in, thing
from enfilade.checks.kept import Kept
from enfilade.checks.run import check
from enfilade.checks.view import House
from enfilade.errors import NotFound, OutOfRange
from enfilade.project.demo import demo
from enfilade.project.project import Project


def changed(project: Project, id: str, **fields: Any) -> Project:
    """Return the house with fields of one thing changed; those that start with `place_` are of its place."""
    found = project.thing(id)
    place = {name.removeprefix("place_"): value for name, value in fields.items() if name.startswith("place_")}
    own = {name: value for name, value in fields.items() if not name.startswith("place_")}
    new = found.model_copy(update={**own, "place": found.place.model_copy(update=place)})
    return project.with_records(things=[new if one.id == id else one for one in project.things])


def edits() -> list[tuple[str, Project]]:
    """Return the demo house as somebody works on it, one change after the other."""
    island = next(one.id for one in demo().things if one.kind == "island")
    cold = next(one for one in demo().things if one.kind == "refrigerator" and one.space == "kitchen")
    stages = [("as it was", demo())]

    def then(words: str, project: Project) -> None:
        stages.append((words, project))

    then("the island moved", changed(stages[-1][1], island, place_x_mm=demo().thing(island).place.x_mm + 120))
    then("and turned", changed(stages[-1][1], island, place_turn_deg=7.0))
    then("a refrigerator moved", changed(stages[-1][1], cold.id, place_offset_mm=cold.place.offset_mm + 90))
    then("a refrigerator wider", changed(stages[-1][1], cold.id, width_mm=cold.width_mm + 50))
    then("a refrigerator taken out", changed(stages[-1][1], cold.id, state="removed"))
    last = stages[-1][1]
    then("the list turned round", last.with_records(things=last.things[::-1]))
    then("the receptacles gone", last.with_records(things=[t for t in last.things if t.kind != "receptacle"]))
    door = last.openings[0]
    moved = door.model_copy(update={"offset_mm": door.offset_mm + 40})
    then("a door moved", last.with_records(openings=[moved, *last.openings[1:]]))
    kitchen = last.space("kitchen").model_copy(update={"ceiling_mm": 2300.0})
    then("a lower ceiling", last.with_records(spaces=[kitchen if s.id == "kitchen" else s for s in last.spaces]))
    then("all undone", stages[0][1])
    return stages


@pytest.mark.parametrize("space", [None, "kitchen"])
def test_a_house_that_is_worked_on_is_found_as_if_it_were_new(space: str | None) -> None:
    stages = edits()
    anew = []
    for _, project in stages:
        forget()
        anew.append([finding.as_json() for finding in check(project, space)])
    forget()
    for (words, project), expected in zip(stages, anew, strict=True):
        assert [finding.as_json() for finding in check(project, space)] == expected, words
    assert sum(a != b for a, b in pairwise(anew)) >= 8  # the changes are seen


# A counter with a sink in it, and a table.
THINGS = [
    thing("counter", "run", 96, 25, on_wall("kitchen-north", 0)),
    thing("sink", "sink", 33, 22, set_in("run", 30)),
    thing("table", "table", 40, 40, free(72, 60)),
]


def test_what_has_not_moved_stays_the_same_object() -> None:
    before = House(house(THINGS))
    after = House(changed(before.project, "table", place_x_mm=1500.0), before)
    assert after.standing["run"] is before.standing["run"]
    assert after.standing["sink"] is before.standing["sink"]
    assert after.standing["table"].box.x == 1500.0
    assert after.lines is before.lines
    assert after.doorways is before.doorways


def test_what_is_set_in_a_thing_moves_with_it() -> None:
    before = House(house(THINGS))
    after = House(changed(before.project, "run", place_offset_mm=254.0), before)
    assert after.standing["table"] is before.standing["table"]
    # Along the north wall, whose left end as seen from inside is its west end: 10 in to the east.
    assert after.standing["sink"].box.x == pytest.approx(before.standing["sink"].box.x + 254)


def test_other_walls_place_everything_anew() -> None:
    before = House(house(THINGS))
    wider = house(THINGS, spaces=[room(160, 150)])
    after = House(before.project.with_records(spaces=wider.spaces), before)
    assert after.standing["run"].box.y == House(wider).standing["run"].box.y != before.standing["run"].box.y


def test_a_host_that_is_gone_is_told_though_its_guest_is_known() -> None:
    before = House(house(THINGS))
    without = before.project.model_copy(update={"things": before.project.things[1:]})
    with pytest.raises(NotFound, match="host 'run' of 'sink' is not in the project"):
        House(without, before)


def test_a_ring_of_hosts_is_told_though_both_were_known() -> None:
    before = House(house(THINGS))
    run, sink, table = before.project.things
    ring = run.model_copy(update={"place": sink.place.model_copy(update={"host": "sink"})})
    with pytest.raises(OutOfRange, match="is set in itself"):
        House(before.project.model_copy(update={"things": (ring, sink, table)}), before)


def test_kept_results_follow_the_objects_and_not_what_they_are_equal_to() -> None:
    kept, made = Kept[int](8), list[str]()
    one, equal = [1], [1]

    def make(words: str) -> int:
        made.append(words)
        return len(made)

    assert kept.get((one,), lambda: make("one")) == 1
    assert kept.get((one,), lambda: make("again")) == 1
    assert kept.get((equal,), lambda: make("equal")) == 2
    assert kept.get((one, equal), lambda: make("both")) == 3
    assert made == ["one", "equal", "both"]


def test_kept_results_are_those_that_were_asked_for_last() -> None:
    kept, keys = Kept[int](2), [object() for _ in range(3)]
    for number, key in enumerate(keys[:2]):
        kept.get((key,), lambda number=number: number)
    kept.get((keys[0],), lambda: -1)
    kept.get((keys[2],), lambda: 2)  # pushes out the second
    assert kept.get((keys[0],), lambda: -1) == 0
    assert kept.get((keys[1],), lambda: -1) == -1


class Thing:
    """Something that a weak reference can be made to."""


def test_what_a_result_was_made_from_is_held_so_that_nothing_else_takes_its_id() -> None:
    kept, thing_ = Kept[int](2), Thing()
    held = weakref.ref(thing_)
    kept.get((thing_,), lambda: 1)
    del thing_
    gc.collect()
    assert held() is not None
    kept.clear()
    gc.collect()
    assert held() is None
