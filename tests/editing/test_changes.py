"""What changed, in plain sentences: names and units, no ids and no names of fields."""

from __future__ import annotations

import re

from hypothesis import given, settings
from hypothesis import strategies as st

from edits import base_house, edited, edits
from enfilade.editing.merging.changes import changes
from enfilade.editing.merging.saying import Words
from enfilade.project.demo import demo
from enfilade.project.project import Project


def with_record(project: Project, name: str, id: str, **update: object) -> Project:
    records = [one.model_copy(update=update) if one.id == id else one for one in getattr(project, name)]
    return project.with_records(**{name: records})


def test_sizes_are_told_in_the_units_of_the_project() -> None:
    before = base_house()
    after = with_record(before, "things", "table", width_mm=1066.8)
    assert changes(before, after) == ['Table: width 42", was 40".']
    assert changes(after, before) == ['Table: width 40", was 42".']
    metric = {"show": before.show.model_copy(update={"units": "metric"})}
    assert changes(before.model_copy(update=metric), after.model_copy(update=metric)) == [
        "Table: width 1067 mm, was 1016 mm."
    ]


def test_records_are_added_and_taken_away() -> None:
    before = base_house()
    after = before.with_records(things=[one for one in before.things if one.id != "table"])
    assert changes(before, after) == ["Table was taken away."]
    assert changes(after, before) == ["Table was added."]


def test_several_fields_of_one_record_are_one_sentence() -> None:
    before = base_house()
    after = with_record(before, "things", "table", width_mm=1066.8, note="n" * 100, finish="oak")
    assert changes(before, after) == ['Table: width 42", was 40"; finish Oiled oak, was not known; note was written.']
    again = with_record(after, "things", "table", note="m" * 100, finish=None)
    assert changes(after, again) == ["Table: finish not known, was Oiled oak; note was reworded."]
    assert changes(again, with_record(again, "things", "table", note="")) == ["Table: note was taken out."]


def test_places_are_told_by_wall_and_host() -> None:
    before = base_house()
    place = before.thing("base").place
    moved = with_record(before, "things", "base", place=place.model_copy(update={"offset_mm": 304.8}))
    (told,) = changes(before, moved)
    assert told == 'Base cabinet: now against a wall of Kitchen, 1\' 0" from its left end, was against a wall of Kitchen, 0" from its left end.'  # fmt: skip  # noqa: E501
    place = before.thing("table").place
    moved = with_record(before, "things", "table", place=place.model_copy(update={"x_mm": 609.6, "turn_deg": 90.0}))
    (told,) = changes(before, moved)
    assert told.startswith(
        "Table: now its middle 2' 0\" from the left and 5' 0\" from the foot of the room's plan, turned 90°"
    )


def test_openings_decisions_and_the_rest_have_names() -> None:
    before = base_house()
    (way, look_out) = before.openings
    after = before.with_records(openings=[way.model_copy(update={"offset_mm": way.offset_mm + 25.4}), look_out])
    (told,) = changes(before, after)
    assert told.startswith("Door of Kitchen: now a wall of Kitchen, 4' 3\" from its left end")
    (first,) = before.decisions
    wide, small = first.options
    after = before.with_records(
        decisions=[
            first.model_copy(update={"choice": "small", "options": (wide.model_copy(update={"text": "33 in"}), small)})
        ]
    )
    assert changes(before, after) == [
        "Option “33 in” of Size of the sink: in words “33 in”, was “30 in”.",
        "Size of the sink: choice option “24 in”, was option “33 in”.",
    ]
    after = before.model_copy(
        update={
            "name": "New house",
            "client": before.client.model_copy(update={"address": ""}),
            "household": before.household.model_copy(update={"bedrooms": 3}),
        }
    )
    assert changes(before, after) == [
        "The project: name “New house”, was “Test house”.",
        "The client: address empty, was “9 Mudflat Row, Elverport”.",
        "The household: bedrooms 3, was not known.",
    ]


def test_a_new_order_is_told_as_that() -> None:
    before = base_house()
    after = before.with_records(openings=before.openings[::-1])
    assert changes(before, after) == ["The openings: the order was changed."]


_FIELD = re.compile(r"\w+_(?:mm|m2|m3h|deg|l|days)\b|\b[a-z]+_[a-z]+\b")


@given(st.lists(edits(), max_size=6))
@settings(deadline=None)
def test_no_sentence_holds_the_name_of_a_field(these: list[tuple[str, str, object]]) -> None:
    before = after = base_house()
    for edit in these:
        after = edited(after, edit)
    told = changes(before, after)
    assert bool(told) == (before != after)
    for line in told:
        assert not _FIELD.search(line), line
        assert line.endswith(".")
        assert line[0].isupper() or not line[0].isalpha()


def test_every_record_of_the_demo_house_can_be_named() -> None:
    house = demo()
    told = changes(Project(id=house.id, name=house.name), house)
    added = [line for line in told if line.endswith(" was added.")]
    records = sum(len(getattr(house, name)) for name in Project.model_fields if isinstance(getattr(house, name), tuple))
    assert len(added) >= records
    ids = {one.id for one in house.things if "-" in one.id and one.called != one.id}
    for line in told:
        assert not _FIELD.search(line), line
        assert not ids & set(line.rstrip(".").split()), line


def test_every_field_of_every_record_of_the_demo_house_can_be_said() -> None:
    house = demo()
    words = Words(house)
    for name in (
        "spaces",
        "openings",
        "things",
        "products",
        "finishes",
        "decisions",
        "answers",
        "photographs",
        "script",
    ):
        for record in getattr(house, name):
            for field in type(record).model_fields:
                place = (name, record.id, field)
                said = words.value(place, getattr(record, field))
                assert said
                assert len(said) < 400
                assert words.field(place) or field in ("id",)
