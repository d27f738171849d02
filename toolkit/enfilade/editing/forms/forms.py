"""Forms that need no form code: what each field of a record is called, takes, and shows, as plain data."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Final, Protocol, get_args

from pydantic.fields import FieldInfo

from enfilade.editing.forms.called import help_words, kind_words, label_of, row_title
from enfilade.editing.forms.field_shape import HIDDEN, Shape, field_shapes, tag_word
from enfilade.editing.forms.offers import Offers
from enfilade.editing.forms.paths import Path, row_key, spot_of
from enfilade.editing.forms.rows import FIXED, list_at
from enfilade.editing.forms.shown import shown, unit_words
from enfilade.errors import NotFound
from enfilade.project.fields import ALL, CLIENT, STUDENT, Record
from enfilade.project.project import Project

__all__ = ["Draft", "Drafts", "Field", "Forms", "grouped"]

Field = dict[str, Any]

_TOLD: Final[dict[frozenset[str], str]] = {
    frozenset(ALL): "told to everyone",
    frozenset(CLIENT): "told to the client",
    frozenset(STUDENT): "told to the client and to students",
    frozenset(("student",)): "told to students",
    frozenset(): "the studio's own",
}
NEW: Final = "new"
"""The step of a path that stands for a row which is not there yet."""


class Draft(Protocol):
    """Typed text that could not be taken, and why."""

    @property
    def typed(self) -> object: ...
    @property
    def error(self) -> str: ...


class Drafts(Protocol):
    """Where typed text is kept that could not be taken."""

    def get(self, path: Path) -> Draft | None: ...


@dataclass(frozen=True)
class Forms:
    """Makes the forms of one project.

    Attributes:
        project: The house.
        offers: The lists that fields choose from; `offers.told` holds those that the forms made so far name.
        drafts: What was typed and not taken; None for none.
        without: Names of fields that are left out, in whatever record they stand.
    """

    project: Project
    offers: Offers
    drafts: Drafts | None = None
    without: frozenset[str] = frozenset()

    def form(self, path: Sequence[str]) -> list[Field]:
        """Return the fields of the record that a path leads to, in the order in which it declares them.

        Each is a mapping: `name`, `path`, `label`, `help`, `kind` (one of `field_shape.KINDS`), `shown` (as one would
        type it), `state` (`value`, `unknown`, `none`), `unknown` and `none` (whether it may be), `required`, `told`;
        `unit` of a bare number; `options`, a list of `value` and `label` or the name of a list in `offers.told`;
        `typed` and `error` where a draft is kept; `fields` of a record; `ways` and `fields` of one of several; `rows`
        (`key`, `title`, `path`, `fields`), `add` and `fixed` of repeated records; `per` of a word for each field.

        Raises:
            NotFound: No record stands there.
        """
        spot = spot_of(self.project, path)
        if not isinstance(spot.value, Record) or spot.inside:
            raise NotFound("this is not in the project any more", do="load the page again")
        owners = tuple(step.record for step in reversed(spot.steps))
        return self._fields(spot.value, tuple(path), owners)

    def field(self, path: Sequence[str]) -> Field:
        """Return one field, likewise."""
        spot = spot_of(self.project, path)
        if spot.shape is None or spot.inside:
            raise NotFound("this is not in the project any more", do="load the page again")
        owners = tuple(step.record for step in reversed(spot.steps))
        return self._field(type(spot.record), spot.field, spot.shape, spot.value, tuple(path), owners)

    def new(self, path: Sequence[str]) -> list[Field]:
        """Return the fields that a new row of a list must be given, with what was typed of it so far."""
        spot = list_at(self.project, path)
        owners = tuple(step.record for step in reversed(spot.steps))
        assert spot.shape is not None
        return self._to_add(spot.field, spot.shape, tuple(path), owners)

    def _fields(self, record: Record, path: Path, owners: tuple[Record, ...]) -> list[Field]:
        return [
            self._field(type(record), name, shape, getattr(record, name), (*path, name), (record, *owners))
            for name, shape in _typed_fields(type(record))
            if name not in self.without
        ]

    def _field(
        self, kind: type[Record], name: str, shape: Shape, value: Any, path: Path, owners: tuple[Record, ...]
    ) -> Field:
        about = kind.model_fields[name]
        none = shape.none and value == "none"
        field: Field = {
            "name": name,
            "path": list(path),
            "label": label_of(name, kind),
            "help": help_words(about.description),
            "kind": shape.kind,
            "shown": shown(value, name, shape, self.project.show.units),
            "state": "none" if none else "unknown" if value is None else "value",
            "unknown": shape.unknown,
            "none": shape.none,
            "required": shape.required,
            "told": _told(about),
        }
        if unit := unit_words(name, shape, self.project.show.units):
            field["unit"] = unit
        elif shape.kind == "money" and self.project.show.currency:
            field["unit"] = self.project.show.currency
        if self.drafts is not None and (draft := self.drafts.get(path)) is not None:
            field |= {"typed": draft.typed, "error": draft.error}
        return field | self._more(kind, name, shape, value, path, owners)

    def _more(
        self, kind: type[Record], name: str, shape: Shape, value: Any, path: Path, owners: tuple[Record, ...]
    ) -> Field:
        if shape.kind in ("ref", "refs"):
            return {"options": self.offers.key(name, owners)}
        if shape.kind == "by field":
            words = self.offers.inline(name, shape)
            fields = [{"value": one, "label": label_of(one)} for one, _ in _typed_fields(kind) if one != name]
            return {"options": words, "per": fields}
        if shape.kind in ("record", "one-of"):
            return self._nested(shape, value, path, owners)
        if shape.kind == "records":
            return self._rows(name, shape, value, path, owners)
        options = self.offers.inline(name, shape)
        if options and shape.kind == "text":
            return {"options": options, "kind": "choice"}
        return {"options": options} if options or shape.kind in ("choice", "choices") else {}

    def _nested(self, shape: Shape, value: Any, path: Path, owners: tuple[Record, ...]) -> Field:
        ways = [{"value": tag_word(one)[1], "label": kind_words(one)} for one in shape.records]
        more: Field = {"ways": ways} if shape.kind == "one-of" else {}
        if isinstance(value, Record):
            return more | {"fields": self._fields(value, path, owners)}
        # A record that is not there yet begins with what it must have, or with any field where it must have none.
        return more | {"fields": self._begun(shape.records[0], path, owners, all_else=True)}

    def _rows(self, name: str, shape: Shape, value: Any, path: Path, owners: tuple[Record, ...]) -> Field:
        rows = []
        for index, row in enumerate(value if isinstance(value, tuple) else ()):
            key = row_key(row, index)
            here = (*path, key)
            fields = self._fields(row, here, owners)
            rows.append({"key": key, "title": row_title(row, index), "path": list(here), "fields": fields})
        add = self._to_add(name, shape, path, owners)
        return {"rows": rows, "fixed": name in FIXED, "add": add, "one": kind_words(shape.records[0])}

    def _to_add(self, name: str, shape: Shape, path: Path, owners: tuple[Record, ...]) -> list[Field]:
        # Which of several kinds it is decides what a new row needs: such rows are added where they are drawn.
        if name in FIXED or len(shape.records) != 1:
            return []
        return self._begun(shape.records[0], (*path, NEW), owners)

    def _begun(
        self, kind: type[Record], path: Path, owners: tuple[Record, ...], *, all_else: bool = False
    ) -> list[Field]:
        """Return the fields that a new record must be given; where it must have none, its first one or all."""
        fields = _typed_fields(kind)
        must = [(name, shape) for name, shape in fields if shape.required and name != "number"]
        must = must or (fields if all_else else fields[:1])
        return [
            self._field(kind, name, shape, _nothing(kind, name, shape), (*path, name), owners) for name, shape in must
        ]


def grouped(
    fields: Iterable[Field], groups: Mapping[str, Sequence[str]], rest: str = "More about it"
) -> list[dict[str, Any]]:
    """Return fields under headings: each group in the order of its names, and all that none names under the last.

    A field that a record does not have is passed over, and one that is new stands under `rest`.
    """
    by_name = {field["name"]: field for field in fields}
    told = [
        {"title": title, "fields": [by_name.pop(name) for name in names if name in by_name]}
        for title, names in groups.items()
    ]
    told.append({"title": rest, "fields": list(by_name.values())})
    return [group for group in told if group["fields"]]


def _typed_fields(kind: type[Record]) -> list[tuple[str, Shape]]:
    return [(name, shape) for name, shape in field_shapes(kind).items() if name != "id" and shape.kind not in HIDDEN]


def _nothing(kind: type[Record], name: str, shape: Shape) -> Any:
    if shape.required:
        return () if get_args(kind.model_fields[name].annotation)[-1:] == (Ellipsis,) else None
    return kind.model_fields[name].get_default(call_default_factory=True)


def _told(about: FieldInfo) -> str:
    extra = about.json_schema_extra
    audiences = extra.get("audiences", ()) if isinstance(extra, dict) else ()
    others = frozenset(str(one) for one in audiences if one != "studio") if isinstance(audiences, list) else frozenset()
    return _TOLD.get(others, f"told to {', '.join(sorted(others))}")
