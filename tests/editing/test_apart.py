"""New records of two windows that were given one name by chance."""

from __future__ import annotations

from building import door, free, house, room, set_in, thing
from enfilade.editing.merging.apart import new_names, renamed
from enfilade.editing.merging.merging import merged
from enfilade.project.project import Project


def with_island(base: Project, width: float) -> Project:
    """Return a house with an island, a sink in it, and a decision, an answer and a switch about both."""
    return base.with_records(
        things=[
            *base.things,
            thing("island", "island", width, 40, free(72, 60)),
            thing("sink", "prep", 15, 15, set_in("island", 5)),
            thing("light", "lamp", 5, 5, free(72, 60)),
            thing("switch", "switch", 4, 1, free(72, 60), controls=["lamp"]),
        ],
        decisions=[
            *base.decisions,
            {"id": "isle", "number": 1, "title": f"{width} wide", "things": ["island", "prep"]},
        ],
        answers=[{"id": "a1", "finding": "K6:aisle:island+kitchen-north", "kind": "to mend"}],
    )


def test_all_that_leads_to_a_new_record_follows_its_new_name() -> None:
    base = house()
    mine, theirs = with_island(base, 60), with_island(base, 70)
    names = new_names(base, mine, theirs)
    assert names.ids == {("things", "island"): "island-2", ("decisions", "isle"): "isle-2"}
    assert names.numbers == {("decisions", "isle-2"): 2}
    new = renamed(mine, names).verified()
    assert new.thing("prep").place.host == "island-2"
    (decision,) = new.decisions
    assert (decision.id, decision.number, decision.things) == ("isle-2", 2, ("island-2", "prep"))
    assert new.answers[0].finding == "K6:aisle:island-2+kitchen-north"
    assert new.thing("lamp") is mine.thing("lamp")
    assert new.spaces is mine.spaces


def test_nothing_is_renamed_that_is_old_or_the_same() -> None:
    base = with_island(house(), 60)
    changed = base.with_records(things=[one.model_copy(update={"note": "x"}) for one in base.things])
    for mine, theirs in ((base, changed), (changed, base), (changed, changed)):
        names = new_names(base, mine, theirs)
        assert not names
        assert renamed(mine, names) is mine
    empty = house()
    assert not new_names(empty, base, base)


def test_two_rooms_of_one_name_are_both_kept_with_their_walls() -> None:
    base = house()

    def with_hall(width: float, *more: str) -> Project:
        hall = room(width, 60, id="hall", use="hall", at=(0, -64))
        way = door("way", "kitchen-south", 50, beyond="hall-north")
        return base.with_records(spaces=[*base.spaces, hall], openings=[way])

    mine, theirs = with_hall(144), with_hall(140)
    names = new_names(base, mine, theirs)
    new = renamed(mine, names).verified()
    assert [space.id for space in new.spaces] == ["kitchen", "hall-2"]
    assert new.openings[0].beyond in new.walls_by_id
    both = merged(base, new, theirs)
    walls = [wall.id for space in both.project.spaces for wall in space.walls] if not both.clashes else []
    assert len(walls) == len(set(walls))


def test_needs_and_people_of_two_windows() -> None:
    base = house()

    def with_need(text: str, person: str) -> Project:
        brief = base.brief.model_copy(update={"needs": ({"id": "need-1", "number": 1, "text": text},)})
        household = base.household.model_copy(update={"people": ({"id": "person-1", "name": person},)})
        plain = base.model_copy(update={"brief": brief, "household": household})
        return Project.model_validate(plain.model_dump(warnings=False))

    mine, theirs = with_need("A big sink", "Ida"), with_need("A quiet hood", "Bo")
    both = merged(base, renamed(mine, new_names(base, mine, theirs)), theirs)
    assert both.clashes == ()
    assert {(need.number, need.text) for need in both.project.brief.needs} == {(1, "A quiet hood"), (2, "A big sink")}
    assert {one.name for one in both.project.household.people} == {"Bo", "Ida"}
    assert both.project.brief.needs[0].id == "need-1"  # what is on the disk keeps its name
