"""Columns of schedules are read off the records, and their cells can be typed as they are shown."""

from __future__ import annotations

import pytest

import enfilade
from building import house, window
from enfilade.editing.forms.field_shape import field_shapes
from enfilade.editing.forms.typed import with_typed
from enfilade.editing.tables.cells import Cells
from enfilade.editing.tables.schedules import FURNITURE, SCHEDULES, records_of, schedule_named
from enfilade.errors import NotFound
from enfilade.project.choices import Finish, Product, Purchase
from enfilade.project.spaces import Opening

STRUCTURED = {
    "record",
    "one-of",
    "records",
    "refs",
    "choices",
    "texts",
    "lengths",
    "point",
    "point list",
    "by field",
    "tag",
}


@pytest.mark.parametrize(("name", "record"), [("products", Product), ("finishes", Finish), ("openings", Opening)])
def test_every_plain_field_of_a_record_has_a_column(name: str, record: type[Product]) -> None:
    keys = {column.key for column in SCHEDULES[name].columns}
    plain = {field for field, shape in field_shapes(record).items() if shape.kind not in STRUCTURED}
    assert plain <= keys
    if "purchase" in record.model_fields:
        assert {f"purchase.{field}" for field in field_shapes(Purchase)} <= keys


def test_furniture_has_what_all_its_kinds_have_and_what_one_must_have() -> None:
    columns = {column.key: column for column in SCHEDULES["furniture"].columns}
    assert {"name", "kind", "space", "width_mm", "depth_mm", "top_mm", "product", "finish", "what", "opening"} <= set(
        columns
    )
    assert {kind.__name__ for kind in columns["opening"].shapes} == {"WindowTreatment"}
    assert set(columns["width_mm"].shapes) == set(FURNITURE)
    assert not columns["kind"].editable


@pytest.mark.parametrize("name", SCHEDULES)
def test_names_of_columns_tell_them_apart_and_ids_come_last(name: str) -> None:
    columns = SCHEDULES[name].columns
    assert len({column.key for column in columns}) == len(columns)
    assert len({column.heading.casefold() for column in columns}) == len(columns)
    assert columns[0].key == "name"
    assert columns[-1].key == "id"
    assert not any("_" in column.heading for column in columns)


@pytest.mark.parametrize("name", SCHEDULES)
def test_typing_what_a_cell_shows_changes_nothing(name: str) -> None:
    project, schedule = enfilade.demo(), SCHEDULES[name]
    cells = Cells(project, schedule)
    for record in records_of(project, schedule):
        for column in schedule.columns:
            begun = len(column.path) == 1 or getattr(record, column.path[0]) not in (None, "none")
            if column.editable and column.shape(type(record)) is not None and begun:
                path = (schedule.list, record.id, *column.path)
                assert with_typed(project, path, cells.typed(column, record)) is project, path


def test_cells_of_what_is_known_not_to_be_there_are_closed() -> None:
    schedule = SCHEDULES["openings"]
    doors = [window("w", "kitchen-north", 20, glazing=glazing) for glazing in ("none", None, {"area_m2": 1})]
    column = schedule.column("glazing.area_m2")
    for opening, closed in zip(doors, (True, False, False), strict=True):
        project = house(openings=[opening])
        assert Cells(project, schedule).closed(column, project.openings[0]) is closed


def test_a_name_that_is_no_schedule_is_refused() -> None:
    with pytest.raises(NotFound, match="no schedule"):
        schedule_named("cabinets")
    with pytest.raises(NotFound, match="no column"):
        SCHEDULES["products"].column("width_mm")
