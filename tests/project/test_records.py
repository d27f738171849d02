"""Records: what they read, what they refuse, and how a project is changed."""

from __future__ import annotations

import datetime as dt
from decimal import Decimal
from typing import Any, get_args

import pytest
from pydantic import ValidationError

from building import free, house, room, thing
from enfilade.errors import BadRecord, NotFound
from enfilade.project.choices import Answer, Finish, Purchase
from enfilade.project.fields import Record
from enfilade.project.people import Gathering, Household
from enfilade.project.project import Project
from enfilade.project.things import KINDS, Thing
from project_folders import good_project


def test_every_kind_of_thing_is_its_own_record() -> None:
    assert len(KINDS) == len(set(KINDS.values())) > 30
    for kind, record in KINDS.items():
        assert get_args(record.model_fields["kind"].annotation) == (kind,)
        assert issubclass(record, Thing)


@pytest.mark.parametrize("kind", sorted(KINDS))
def test_every_kind_says_what_it_is(kind: str) -> None:
    assert KINDS[kind].__doc__
    undescribed = [name for name, field in KINDS[kind].model_fields.items() if field.annotation is None]
    assert undescribed == []


def test_records_are_frozen() -> None:
    project = good_project()
    with pytest.raises(ValidationError, match="frozen"):
        project.name = "other"  # type: ignore[misc]
    with pytest.raises(ValidationError, match="frozen"):
        setattr(project.things[0], "width_mm", 3.0)  # noqa: B010 - not known to the type checker


def test_a_fact_is_unknown_when_absent_and_none_when_there_is_nothing() -> None:
    project = house(
        [
            thing("counter", "unknown", 30, 25, free(40, 40)),
            thing("counter", "known", 30, 25, free(90, 40), opens="none"),
        ]
    )
    unknown, known = project.thing("unknown"), project.thing("known")
    assert (unknown.opens, known.opens) == (None, "none")
    assert (unknown.leaves, known.leaves) == ((), ())


def test_what_rests_on_an_assumption_is_named() -> None:
    base = thing("counter", "top", 30, 25, free(40, 40), basis="assumed", bases={"depth_mm": "data sheet"})
    found = house([base]).thing("top")
    assert found.assumed("width_mm", "depth_mm") == ("top.width_mm",)
    assert found.called == "counter"


def test_household_figures() -> None:
    assert Household().count is None
    assert Household(size=5).count == 5
    assert Household().largest_gathering is None
    assert Household(gatherings=(Gathering(people=5), Gathering(people=14))).largest_gathering == 14


def test_the_last_day_to_order() -> None:
    # 30 days before 2025-03-31 is 2025-03-01.
    assert Purchase(lead_time_days=30, needed_on_site=dt.date(2025, 3, 31)).order_by == dt.date(2025, 3, 1)
    assert Purchase(lead_time_days=30).order_by is None


def test_money_keeps_its_cents() -> None:
    assert Purchase.model_validate({"quote": "0.10"}).quote == Decimal("0.10")
    assert Purchase.model_validate({"quote": 1200}).quote == Decimal(1200)
    assert Purchase(quote=Decimal("1200.50")).model_dump(mode="json")["quote"] == "1200.50"
    for wrong in ("1e400", "NaN", "-1", "1.005", "12 USD", True):
        with pytest.raises(ValidationError):
            Purchase.model_validate({"quote": wrong})


@pytest.mark.parametrize(
    ("record", "wrong"),
    [
        (Household, {"size": True}),
        (Household, {"size": "5"}),
        (Household, {"size": 0}),
        (Purchase, {"quantity": "5"}),
        (Purchase, {"needed_on_site": 0}),
        (Purchase, {"needed_on_site": "1735689600"}),
        (Finish, {"id": "a", "name": 5}),
        (Finish, {"id": "a", "name": "x" * 401}),
        (Answer, {"id": "a", "finding": "", "kind": "to mend"}),
        (Answer, {"id": "a", "finding": "K6:a:b", "kind": "not relevant here"}),
    ],
)
def test_what_could_be_read_as_something_else_is_refused(record: type[Record], wrong: dict[str, Any]) -> None:
    with pytest.raises(ValidationError):
        record.model_validate(wrong)


def test_answers_that_are_complete() -> None:
    assert Answer(id="a", finding="K6:a:b", kind="to mend").reason == ""
    assert Answer(id="a", finding="K6:a:b", kind="not relevant here", reason="No cook.").by == ""


# Changing a project


def test_a_changed_copy_is_checked_again() -> None:
    project = good_project()
    with pytest.raises(BadRecord, match="things/switch/controls: 'lamp'"):
        project.with_records(things=[t for t in project.things if t.id != "lamp"])
    with pytest.raises(BadRecord, match="thigns: is not a field"):
        project.with_records(thigns=[])
    with pytest.raises(BadRecord, match="things/0"):
        project.with_records(things=["bowl"])
    with pytest.raises(BadRecord, match="things/bowl/width_mm: is missing"):
        project.with_records(things=[{"id": "bowl", "kind": "sink", "space": "kitchen", "depth_mm": 3, "top_mm": 1,
                                      "place": {"how": "free", "x_mm": 1, "y_mm": 1}}])  # fmt: skip


def test_a_changed_copy_knows_its_own_things() -> None:
    project = good_project()
    assert project.thing("table").width_mm == 1016
    wider = [t.model_copy(update={"width_mm": 2000.0}) if t.id == "table" else t for t in project.things]
    changed = project.with_records(things=wider)
    assert changed.thing("table").width_mm == 2000
    assert project.thing("table").width_mm == 1016
    assert project.model_copy(update={"things": ()}).things_by_id == {}
    assert changed.thing("bowl") is project.thing("bowl")  # what did not change is the same object
    assert changed.products is project.products


def test_walls_and_spaces_by_id() -> None:
    project = house(spaces=[room(144, 144), room(60, 60, id="hall", use="hall", at=(200, 0))])
    space, index, wall = project.walls_by_id["hall-north"]
    assert (space.id, index, wall.id) == ("hall", 2, "hall-north")
    assert project.space("hall").use == "hall"
    for missing in (lambda: project.space("attic"), lambda: project.thing("attic")):
        with pytest.raises(NotFound, match="'attic' is not in the project"):
            missing()


def test_where_it_was_loaded_from_is_no_part_of_what_a_project_says() -> None:
    one, other = good_project(), good_project()
    one._loaded = ("/somewhere", "0")
    assert one == other
    assert one != other.model_copy(update={"name": "Other"})
    assert one != "a project"
    assert isinstance(one, Project)


def test_a_door_may_lead_through_a_wall_of_any_thickness_and_a_room_out_of_square() -> None:
    kitchen = room(144, 144)
    for gap in (0, 4, 30):
        hall = room(144, 60, id="hall", use="hall", at=(0, -60 - gap))
        hall["outline"][2][1] += 60  # its north wall is 60 mm out of square
        way = {"id": "way", "kind": "door", "wall": "kitchen-south", "beyond": "hall-north", "offset_mm": 600,
               "width_mm": 900, "height_mm": 2000}  # fmt: skip
        assert house(spaces=[kitchen, hall], openings=[way]).openings[0].beyond == "hall-north"
