"""Schedules of what is bought and of openings as tables, their columns read off the fields of the records."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import Any, Final, Literal

from enfilade.editing.forms.called import help_words, kind_words, label_of
from enfilade.editing.forms.field_shape import Kind, Shape, field_shapes
from enfilade.editing.forms.refers import target_of
from enfilade.editing.quoting import quoted
from enfilade.errors import NotFound
from enfilade.project.choices import Finish, Product, Purchase
from enfilade.project.fields import Record
from enfilade.project.furnishings import Bed, Furniture, Rug, Screen, WindowTreatment
from enfilade.project.project import Project
from enfilade.project.spaces import Opening
from enfilade.project.storage import FurniturePiece
from enfilade.project.surfaces import Desk, Seat, Table
from enfilade.project.thing import Thing

__all__ = ["FURNITURE", "SCHEDULES", "Column", "Schedule", "records_of", "schedule_named"]

ListName = Literal["products", "finishes", "things", "openings"]

FURNITURE: Final[tuple[type[Thing], ...]] = (
    Seat, Table, Desk, Rug, Bed, Furniture, FurniturePiece, Screen, WindowTreatment,
)  # fmt: skip
"""Kinds of things that are bought as furniture."""

_CELLS: Final[tuple[Kind, ...]] = (
    "text", "longtext", "colour", "number", "whole", "length", "money", "day", "choice", "yes-no", "ref",
)  # fmt: skip
_NUMBERS: Final[tuple[Kind, ...]] = ("number", "whole", "length", "money")
_LAST: Final = ("may_be_credited", "care", "remark", "note")
"""What is read last, whatever the order of the record."""
_ORDER_BY: Final = "the day it is needed less the lead time"
_ELSEWHERE: Final = frozenset({"underside"})
"""What is said of things above a cooking surface, on the page of the room."""
_UNDER_ITS_OWN_NAME: Final = frozenset({"purchase"})
"""Records whose fields say by themselves what they are."""


@dataclass(frozen=True, slots=True)
class Column:
    """One column of a schedule.

    Attributes:
        key: Its name, the same in every schedule that has it: the steps to the field, joined by points.
        path: Names of the fields that lead from a record to the value.
        heading: What it is called.
        kind: How its cells are typed; `tag` for the kind of a record, `id` for its id.
        help: What it is, from the record's own description.
        target: List that its cells lead to, empty when they lead to none.
        editable: Cells of records that stand can be changed.
        brief: It is among the few that are read first.
        shapes: What the field takes, for each record that has it; those without it have no such cell.
    """

    key: str
    path: tuple[str, ...]
    heading: str
    kind: Kind | Literal["id", "derived"]
    help: str = ""
    target: str = ""
    editable: bool = True
    brief: bool = True
    shapes: Mapping[type[Record], Shape] = field(default_factory=dict, compare=False)

    @property
    def field(self) -> str:
        """Return the name of the field itself."""
        return self.path[-1]

    @property
    def numeric(self) -> bool:
        """Tell whether its cells are numbers, which stand to the right."""
        return self.kind in _NUMBERS

    def shape(self, record: type[Record]) -> Shape | None:
        """Return what the field takes in a record of a class, None where such a record has no such field."""
        return self.shapes.get(record)

    def value(self, record: Record) -> Any:
        """Return what stands there in a record; None where nothing is known, or there is no such field."""
        at: Any = record
        for name in self.path:
            at = getattr(at, name, None) if isinstance(at, Record) else None
        return at


@dataclass(frozen=True, slots=True)
class Schedule:
    """A table of records of one list.

    Attributes:
        name: Its name in messages and files.
        title: What it is called.
        one: What one row is called.
        list: The project's list that its records stand in.
        classes: Classes of the records that are shown.
        columns: In the order in which they are read; the id is the last.
    """

    name: str
    title: str
    one: str
    list: ListName
    classes: tuple[type[Record], ...]
    columns: tuple[Column, ...]

    def column(self, key: str) -> Column:
        """Return a column by its key.

        Raises:
            NotFound: There is no such column.
        """
        for column in self.columns:
            if column.key == key:
                return column
        raise NotFound(f"{self.title.lower()} have no column {quoted(key)}", do="load the page again")

    @property
    def kinds(self) -> dict[str, type[Record]]:
        """Return the classes of its rows by the words that tell them apart; one class has no word."""
        return {kind_words(one): one for one in self.classes} if len(self.classes) > 1 else {}

    def class_of(self, kind: str) -> type[Record] | None:
        """Return the class of the rows of a kind, None when there is no such kind."""
        return self.kinds.get(kind) if len(self.classes) > 1 else self.classes[0]


def records_of(project: Project, schedule: Schedule) -> tuple[Any, ...]:
    """Return the records of a schedule, in the order of the project."""
    return tuple(one for one in getattr(project, schedule.list) if isinstance(one, schedule.classes))


def schedule_named(name: str) -> Schedule:
    """Return a schedule by its name.

    Raises:
        NotFound: There is no such schedule.
    """
    if name not in SCHEDULES:
        raise NotFound(f"there is no schedule {quoted(name)}", expected=", ".join(SCHEDULES))
    return SCHEDULES[name]


def _columns(classes: tuple[type[Record], ...]) -> Iterator[Column]:
    """Yield the columns of a table of records: fields that all of them have, what they are, and what one must have."""
    tagged = len(classes) > 1
    for name in _field_names(classes):
        shapes = {one: shapes[name] for one in classes if name in (shapes := field_shapes(one))}
        kind = next(iter(shapes.values())).kind
        if kind == "tag" and tagged:
            yield Column("kind", (name,), label_of(name), "tag", editable=False)
        elif kind in _CELLS:
            yield _column((name,), shapes)
        elif kind == "record":
            yield from _inner_columns(name, shapes)


def _field_names(classes: tuple[type[Record], ...]) -> list[str]:
    names = [name for one in classes for name in one.model_fields]
    wanted = [name for name in dict.fromkeys(names) if _is_wanted(name, classes)]
    return sorted(wanted, key=lambda name: (name != "name", _LAST.index(name) if name in _LAST else -1))


def _is_wanted(name: str, classes: tuple[type[Record], ...]) -> bool:
    if name == "id" or name in _ELSEWHERE:
        return False
    having = [one for one in classes if name in one.model_fields]
    return len(having) == len(classes) or name == "what" or any(field_shapes(one)[name].required for one in having)


def _column(path: tuple[str, ...], shapes: dict[type[Record], Shape]) -> Column:
    kinds = {shape.kind for shape in shapes.values()}
    kind: Kind = kinds.pop() if len(kinds) == 1 else "text"
    own = label_of(path[-1])
    heading = own if len(path) == 1 or path[0] in _UNDER_ITS_OWN_NAME else f"{label_of(path[0])}: {own.lower()}"
    target = target_of(path[-1]) if kind == "ref" else ""
    return Column(".".join(path), path, heading, kind, _help(path, next(iter(shapes))), target, shapes=shapes)


def _inner_columns(name: str, shapes: dict[type[Record], Shape]) -> Iterator[Column]:
    """Yield the columns of a record inside each row, when it can stand with any of its fields unknown."""
    inner = next(iter(shapes.values())).records[0]
    fields = field_shapes(inner)
    if any(shape.required for shape in fields.values()):
        return
    for field_name, shape in fields.items():
        if shape.kind in _CELLS:
            yield _column((name, field_name), dict.fromkeys(shapes, shape))
        if inner is Purchase and field_name == "needed_on_site":
            yield Column("order_by", (name, "order_by"), "Order by", "derived", _ORDER_BY, editable=False)


def _help(path: tuple[str, ...], record: type[Record]) -> str:
    for name in path[:-1]:
        record = field_shapes(record)[name].records[0]
    return help_words(record.model_fields[path[-1]].description)


def _schedule(
    name: str, title: str, one: str, list: ListName, classes: tuple[type[Record], ...], aside: str = ""
) -> Schedule:
    """Return a schedule; fields named in `aside`, long texts and yes or no are not among those that are read first."""
    columns = (
        replace(column, brief=column.kind not in ("longtext", "yes-no") and column.path[0] not in aside.split())
        for column in _columns(classes)
    )
    return Schedule(name, title, one, list, classes, (*columns, Column("id", ("id",), "Id", "id", "", editable=False)))


SCHEDULES: Final[Mapping[str, Schedule]] = {
    one.name: one
    for one in (
        _schedule("products", "Products", "product", "products", (Product,)),
        _schedule("finishes", "Finishes", "finish", "finishes", (Finish,), "colour"),
        _schedule("furniture", "Furniture", "piece", "things", FURNITURE, "bottom_mm basis opening"),
        _schedule(
            "openings", "Openings", "opening", "openings", (Opening,), "from_end clear_width_mm depth_mm glazing basis"
        ),
    )
}
"""Every schedule by its name."""
