"""Forms made from the records alone: a field of tomorrow appears as those of today do."""

from __future__ import annotations

import datetime as dt
import doctest
from typing import Annotated, Any, Literal

import pytest
from pydantic import Field as PydanticField

import enfilade as ef
from building import door, house, on_wall, room, thing
from enfilade.editing.forms import called, refers, shown
from enfilade.editing.forms.field_shape import HIDDEN, KINDS, field_shapes
from enfilade.editing.forms.forms import Field, Forms, grouped
from enfilade.editing.forms.offers import Offers
from enfilade.editing.forms.refers import OWN, TARGETS, target_of
from enfilade.errors import BadRecord, NotFound
from enfilade.project.fields import (
    ALL,
    Audience,
    Basis,
    Day,
    Fact,
    Height,
    Id,
    LongText,
    Mm,
    Money,
    Number,
    Point,
    PositiveMm,
    Record,
    Text,
    Whole,
    told,
)
from enfilade.project.placing import Place
from enfilade.project.project import Project
from enfilade.project.thing import KneeSpace, Leaf
from typed_fields import records_in


class Tomorrow(Record):
    """A record that no form was written for."""

    id: Id
    kind: Literal["tomorrow"] = "tomorrow"
    title: Text = told(ALL, description="what it is called; absent: `plain_words`")
    story: LongText = told(default="")
    breadth_mm: PositiveMm = told(ALL)
    above_mm: Height | None = told(ALL, default=None)
    knees_mm: PositiveMm | Fact | None = told(ALL, default=None)
    legs_mm: Mm = told(ALL, default=0.0, ge=0)
    flow_m3h: Annotated[Number, PydanticField(gt=0, le=10_000)] | None = told(ALL, default=None)
    turn_deg: Number = told(ALL, default=0.0)
    many: Annotated[Whole, PydanticField(ge=1, le=9)] | None = told(ALL, default=None)
    lead_time_days: Whole | None = told(default=None)
    price: Money | None = told(("client",), default=None)
    day: Day | None = told(default=None)
    colour: Annotated[str, PydanticField(pattern=r"^#[0-9a-f]{6}$")] | None = told(default=None)
    way: Literal["in", "out"] = told(default="in")
    corners: Literal["round", "square"] | Fact | None = told(default=None)
    handle: Literal["left", "right"] | Literal["top"] | None = told(default=None)
    covered: bool = told(default=False)
    known: bool | None = told(default=None)
    floor_finish: Id | None = told(default=None)
    beyond: Id | Fact | None = told(default=None)
    needs: tuple[Id, ...] = told(default=())
    hear: tuple[Audience, ...] = told(default=("client",))
    ends: tuple[Literal["left", "right"], ...] | Fact | None = told(default=None)
    names: tuple[Text, ...] = told(default=())
    lines: tuple[LongText, ...] = told(default=())
    shelves_mm: tuple[Height, ...] | None = told(default=None)
    centre: Point | None = told(default=None)
    outline: tuple[Point, ...] = told(default=())
    bases: dict[str, Basis] = told(default={})
    place: Place = told(ALL)
    knee_space: KneeSpace | Fact | None = told(ALL, default=None)
    opens: tuple[Leaf, ...] | Fact | None = told(ALL, default=None)
    file: Annotated[str, PydanticField(pattern=r"^[0-9a-f]{64}\.png$")] = told(default="")


KINDS_OF_TOMORROW = {
    "title": "text", "story": "longtext", "breadth_mm": "length", "above_mm": "length", "knees_mm": "length",
    "legs_mm": "length", "flow_m3h": "number", "turn_deg": "number", "many": "whole", "lead_time_days": "whole",
    "price": "money", "day": "day", "colour": "colour", "way": "choice", "corners": "choice", "handle": "choice",
    "covered": "yes-no", "known": "yes-no", "floor_finish": "ref", "beyond": "ref", "needs": "refs", "hear": "choices",
    "ends": "choices", "names": "texts", "lines": "texts", "shelves_mm": "lengths", "centre": "point",
    "outline": "point list", "bases": "by field", "place": "one-of", "knee_space": "record", "opens": "records",
}  # fmt: skip


def form(project: Project, *path: str, drafts: Any = None) -> dict[str, Field]:
    return {field["name"]: field for field in Forms(project, Offers(project), drafts).form(path)}


def tomorrow(**more: Any) -> dict[str, Field]:
    record = Tomorrow.model_validate(
        {"id": "one", "title": "One", "breadth_mm": 914.4, "place": {"how": "free", "x_mm": 0, "y_mm": 0}, **more}
    )
    forms = Forms(house(), Offers(house()))
    return {field["name"]: field for field in forms._fields(record, ("tomorrow", "one"), ())}


def test_a_record_of_tomorrow_appears_whole() -> None:
    fields = tomorrow()
    assert {name: field["kind"] for name, field in fields.items()} == KINDS_OF_TOMORROW
    assert "id" not in fields
    assert "file" not in fields  # written by the tool, never typed
    assert all(field["label"] and field["path"][-1] == name for name, field in fields.items())


def test_what_is_said_of_a_field_is_read_off_it() -> None:
    fields = tomorrow(price="1250.5", day=dt.date(2026, 3, 31), flow_m3h=509.703, turn_deg=90.0, known=None)
    assert fields["breadth_mm"]["label"] == "Breadth"
    assert fields["breadth_mm"]["shown"] == '36"'  # 914.4 mm, at 25.4 mm an inch
    assert fields["breadth_mm"]["unit"] == "inches"
    assert fields["breadth_mm"]["required"] is True
    assert fields["title"]["help"] == "what it is called; when empty: plain words"
    assert fields["title"]["told"] == "told to everyone"
    assert fields["story"]["told"] == "the studio's own"
    assert fields["price"]["told"] == "told to the client"
    assert fields["price"]["shown"] == "1,250.50"
    assert fields["day"]["shown"] == "2026-03-31"
    assert fields["flow_m3h"]["shown"] == "300"  # 300 cfm at 1.69901079552 m3/h each
    assert fields["flow_m3h"]["unit"] == "cfm"
    assert fields["turn_deg"]["unit"] == "degrees"
    assert fields["lead_time_days"]["label"] == "Lead time"
    assert fields["lead_time_days"]["unit"] == "days"


def test_unknown_none_and_a_value_are_three_states() -> None:
    assert {f["state"] for f in (tomorrow()["knees_mm"], tomorrow()["opens"], tomorrow()["known"])} == {"unknown"}
    fields = tomorrow(knees_mm="none", opens="none", corners="none", ends="none", knee_space="none", beyond="none")
    for name in ("knees_mm", "opens", "corners", "ends", "knee_space", "beyond"):
        assert fields[name]["state"] == "none", name
        assert fields[name]["none"]
        assert fields[name]["unknown"]
    assert fields["covered"]["unknown"] is False
    assert fields["covered"]["shown"] == "no"
    assert "none" not in [option["value"] for option in fields["corners"]["options"]]


def test_a_record_inside_a_record_has_its_own_fields() -> None:
    fields = tomorrow(knee_space={"width_mm": 762, "height_mm": 685.8, "depth_mm": 480}, opens=[{"kind": "drawer"}])
    knees = {field["name"]: field for field in fields["knee_space"]["fields"]}
    assert knees["width_mm"]["shown"] == '30"'
    assert knees["width_mm"]["path"] == ["tomorrow", "one", "knee_space", "width_mm"]
    (leaf,) = fields["opens"]["rows"]
    assert leaf["title"] == "drawer 1"
    assert leaf["path"] == ["tomorrow", "one", "opens", "0"]
    assert [field["name"] for field in fields["opens"]["add"]] == ["kind"]
    assert [way["value"] for way in fields["place"]["ways"]] == ["free", "wall", "set in"]


def test_a_record_that_is_absent_begins_with_what_it_must_have() -> None:
    assert [field["name"] for field in tomorrow()["knee_space"]["fields"]] == ["width_mm", "height_mm", "depth_mm"]
    window = house(openings=[door("w", "kitchen-north", 10, kind="window")])
    # A glazing must have nothing: it may begin with any of its fields.
    assert [f["name"] for f in form(window, "openings", "w")["glazing"]["fields"]] == [
        "area_m2",
        "openable_m2",
        "safety_glass",
    ]


def test_every_field_of_the_schema_has_a_known_kind() -> None:
    seen = 0
    for record in records_in(Project):
        for name, shape in field_shapes(record).items():
            assert shape.kind in KINDS, (record, name)
            assert shape.kind != "other", f"{record.__name__}.{name} has no form"
            seen += 1
    assert seen > 500


def test_every_field_of_the_schema_that_leads_somewhere_has_its_list() -> None:
    fields = {
        (record.__name__, name)
        for record in records_in(Project)
        for name, shape in field_shapes(record).items()
        if shape.kind in ("ref", "refs") and name != "id"
    }
    assert len(fields) > 100
    assert {target_of(name) for _, name in fields} <= {*TARGETS, OWN}
    assert [field for field in fields if not target_of(field[1])] == []


@pytest.mark.parametrize(
    ("record", "field"),
    [
        ({"things": [thing("sink", "s", 30, 22, on_wall("nowhere", 0))]}, "wall"),
        ({"things": [thing("sink", "s", 30, 22, on_wall("kitchen-north", 0), finish="nowhere")]}, "finish"),
        ({"openings": [door("d", "kitchen-north", 0, beyond="nowhere")]}, "beyond"),
        ({"decisions": [{"id": "d", "number": 1, "title": "D", "needs": ["nowhere"]}]}, "needs"),
        ({"things": [thing("switch", "s", 3, 1, on_wall("kitchen-north", 0), controls=["nowhere"])]}, "controls"),
    ],
)
def test_lists_are_those_that_the_project_itself_looks_in(record: dict[str, Any], field: str) -> None:
    with pytest.raises(BadRecord, match=f"among the {target_of(field)}"):
        house(**record)


def every_field(fields: list[Field]) -> list[Field]:
    found = list(fields)
    for field in fields:
        inner = [*field.get("fields", []), *field.get("add", [])]
        inner += [one for row in field.get("rows", []) for one in row["fields"]]
        found += every_field(inner)
    return found


def test_no_id_stands_in_what_people_read() -> None:
    project = ef.demo()
    offers = Offers(project)
    forms = Forms(project, offers)
    paths = [(name, record.id) for name in ("things", "openings", "spaces", "decisions") for record in
             getattr(project, name)]  # fmt: skip
    read: list[str] = []
    for path in paths:
        for field in every_field(forms.form(path)):
            assert field["name"] != "id"
            assert "_" not in field["label"]
            assert "`" not in field["help"]
            assert "_" not in field["help"]
            read += [row["title"] for row in field.get("rows", [])]
    read += [option["label"] for options in offers.told.values() for option in options]
    ids = {record.id for name in TARGETS if hasattr(project, name) for record in getattr(project, name)}
    # `island` is a word as well; an id of several parts is none.
    assert [words for words in read if words in ids and "-" in words] == []


def test_no_two_options_of_a_room_read_alike() -> None:
    offers = Offers(ef.demo())
    for target in TARGETS:
        options = offers.all(target)
        told = [(option.get("group"), option["label"]) for option in options]
        assert len(told) == len(set(told)), target
        assert len(options) or target == "findings"


def test_things_that_are_called_alike_are_told_apart() -> None:
    cabinets = [thing("base cabinet", f"c{i}", width, 24, on_wall("kitchen-north", at))
                for i, (width, at) in enumerate([(36, 0), (36, 40), (18, 80)])]  # fmt: skip
    labels = [option["label"] for option in Offers(house(cabinets)).all("things")]
    assert labels == ['base cabinet 36" 1', 'base cabinet 36" 2', 'base cabinet 18"']


def test_a_thing_is_offered_the_walls_and_things_of_its_own_room() -> None:
    project = house(
        [thing("sink", "s", 30, 22, on_wall("kitchen-north", 0))],
        spaces=[room(144, 144), room(100, 100, id="hall", use="hall", at=(144, 0))],
        openings=[door("d", "kitchen-east", 10, beyond="hall-west")],
    )
    offers = Offers(project)
    place = next(f for f in Forms(project, offers).form(("things", "s")) if f["name"] == "place")
    wall = next(f for f in place["fields"] if f["name"] == "wall")
    assert [o["value"] for o in offers.told[wall["options"]]] == [f"kitchen-{w}" for w in
                                                                   ("south", "east", "north", "west")]  # fmt: skip
    # An unnamed wall is known by its place and its length: 144 in are 12 ft.
    assert offers.told[wall["options"]][0]["label"] == "side 1, 12' 0\""
    beyond = next(f for f in Forms(project, offers).form(("openings", "d")) if f["name"] == "beyond")
    assert "hall-west" in [o["value"] for o in offers.told[beyond["options"]]]


def test_the_yardstick_is_chosen_by_its_title() -> None:
    field = form(house(show={"units": "metric"}), "show")["units"]
    assert [option["label"] for option in field["options"]] == ["feet and inches", "millimetres"]
    spec = Forms(house(), Offers(house())).field(("yardstick",))
    assert spec["kind"] == "choice"
    assert {option["value"] for option in spec["options"]} >= {"us", "us-access"}
    assert all(option["label"] != option["value"] for option in spec["options"])


class Kept:
    def __init__(self, typed: object, error: str) -> None:
        self.typed, self.error = typed, error


def test_what_could_not_be_taken_comes_back_with_its_field() -> None:
    project = house([thing("sink", "s", 30, 22, on_wall("kitchen-north", 0))])
    drafts = {("things", "s", "width_mm"): Kept("3 feat", "this is not a length")}
    fields = form(project, "things", "s", drafts=drafts)
    assert fields["width_mm"]["typed"] == "3 feat"
    assert fields["width_mm"]["error"] == "this is not a length"
    assert fields["width_mm"]["shown"] == '30"'
    assert "typed" not in fields["depth_mm"]


def test_fields_stand_under_headings_and_a_new_one_under_the_last() -> None:
    fields = list(tomorrow().values())
    groups = grouped(fields, {"Words": ("story", "title"), "Nothing": ("gone",)})
    assert [group["title"] for group in groups] == ["Words", "More about it"]
    assert [field["name"] for field in groups[0]["fields"]] == ["story", "title"]
    assert sum(len(group["fields"]) for group in groups) == len(fields)


def test_a_wall_is_reached_without_its_room() -> None:
    assert form(house(), "walls", "kitchen-north")["open"]["kind"] == "yes-no"
    with pytest.raises(NotFound):
        form(house(), "walls", "nowhere")


def test_what_is_hidden_is_hidden_everywhere() -> None:
    for record in records_in(Project):
        for name, shape in field_shapes(record).items():
            if shape.kind in HIDDEN:
                assert name in ("kind", "how", "format", "file"), (record, name)


def test_examples_in_the_docstrings_hold() -> None:
    for module in (called, refers, shown):
        assert doctest.testmod(module).failed == 0
