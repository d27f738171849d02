"""Values out of what was typed: plain ones, ids of other records, and whole records with their fields."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from typing import Any, Final

from pydantic import ValidationError

from enfilade.editing.forms.called import kind_words, label_of
from enfilade.editing.forms.field_shape import HIDDEN, Shape, field_shapes
from enfilade.editing.forms.offers import Offers
from enfilade.editing.forms.paths import Path
from enfilade.editing.forms.reading_typed import no_value, read_typed
from enfilade.editing.forms.refers import OWN, target_of
from enfilade.editing.forms.refusals import Placed, at_the_field, lacking, refused_at
from enfilade.editing.forms.shown import shown
from enfilade.editing.quoting import quoted
from enfilade.errors import BadRecord, EnfiladeError, Fault, Refused
from enfilade.lengths import System
from enfilade.project.choices import Decision
from enfilade.project.faults import faults_of
from enfilade.project.fields import Record
from enfilade.project.project import Project

__all__ = ["Reading", "empty_value"]

_ROOMS: Final = {"spaces": "rooms"}
_MEASURED: Final = frozenset({"length", "lengths", "numbers", "point", "point list", "number", "money"})


class Reading:
    """Reads what was typed for one project.

    Args:
        project: The house.
        decision: The decision whose options a choice is among.
    """

    def __init__(self, project: Project, decision: Decision | None = None) -> None:
        self.project = project
        self.system: System = project.show.units
        self._decision = decision
        self._offers = Offers(project)

    def value(self, typed: Any, record: type[Record], field: str, path: Path, now: Any = None) -> Any:
        """Return the value for a field of a record.

        Args:
            typed: What was typed: text, a list, or fields by name where records stand.
            record: The record that the field is of.
            field: Its name.
            path: Where the field stands; refusals are told there.
            now: What stands there now. What still reads the same is not changed by a rounding.
        Raises:
            BadRecord: It cannot be read, or cannot stand there.
        """
        shape = field_shapes(record)[field]
        try:
            return self._value(typed, record, field, shape, path, now)
        except BadRecord:
            raise
        except EnfiladeError as error:
            raise refused_at(path, error) from error

    def _value(self, typed: Any, record: type[Record], field: str, shape: Shape, path: Path, now: Any) -> Any:
        if typed == shown(now, field, shape, self.system) and now is not None and typed != "":
            return now
        if no_value(typed):
            return empty_value(record, field, shape)
        if shape.none and isinstance(typed, str) and typed.strip().casefold() == "none":
            return "none"
        if shape.kind in ("record", "one-of"):
            return self._inner(typed, field, shape, path)
        if shape.kind == "ref":
            return self._id(typed, field)
        if shape.kind == "refs":
            return self._ids(typed, field)
        if field == "yardstick":
            return self._yardstick(typed, shape)
        value = read_typed(typed, field, shape, self.system)
        return self._settled(value, now, field, shape) if shape.kind in _MEASURED and now is not None else value

    def record(self, kind: type[Record], typed: Mapping[str, Any], path: Path, given: Mapping[str, Any]) -> Record:
        """Return a new record.

        Args:
            kind: Which record.
            typed: What was typed, by field.
            path: Where it will stand.
            given: Values that are not typed, such as its id.
        Raises:
            BadRecord: Something cannot be read, or is missing: one fault a field.
        """
        shapes = field_shapes(kind)
        values: dict[str, Any] = dict(given)
        faults: list[Fault] = []
        for name, one in typed.items():
            if name not in shapes or name == "id" or shapes[name].kind in HIDDEN:
                raise Refused(f"{quoted(name)} is not a field of this", do="load the page again")
            if no_value(one) and shapes[name].required:
                continue
            try:
                values[name] = self.value(one, kind, name, (*path, name))
            except BadRecord as error:
                faults += error.faults
        if faults:
            raise Placed("project", faults)
        tags = {name for name, shape in shapes.items() if shape.kind == "tag"}
        values |= {name: kind.model_fields[name].annotation.__args__[0] for name in tags}  # type: ignore[union-attr]
        if missing := [name for name, shape in shapes.items() if shape.required and name not in values]:
            raise lacking(path, kind_words(kind), missing)
        try:
            return kind.model_validate(values)
        except ValidationError as error:
            refusal = BadRecord("project", faults_of(error, values, kind))
            raise at_the_field(self.project, path, refusal) from error

    def _inner(self, typed: Any, field: str, shape: Shape, path: Path) -> Record:
        if not isinstance(typed, Mapping):
            raise Refused("this cannot be typed as a text", expected=f"the parts of {label_of(field).lower()}")
        words = {name: word for name, word in typed.items() if isinstance(name, str)}
        tags = [word for name, word in words.items() if name in ("kind", "how")]
        kind = shape.record_of(str(tags[0]) if tags else "")
        if kind is None:
            raise Refused("it is not said which way", expected="one of the ways")
        rest = {name: word for name, word in words.items() if field_shapes(kind).get(name, shape).kind != "tag"}
        return self.record(kind, rest, path, {})

    def _id(self, typed: Any, field: str) -> str:
        if not isinstance(typed, str):
            raise Refused("this is no name", expected="a name from the list")
        target, word = target_of(field), typed.strip()
        if target == "findings":
            return word[:2000]
        options = self._own() if target == OWN else self._offers.all(target)
        found = [one["value"] for one in options if one["value"] == word]
        found = found or [one["value"] for one in options if one["label"].casefold() == word.casefold()]
        if len(found) != 1:
            many = "is the name of several" if found else "is not among"
            among = _ROOMS.get(target, target or "records")
            raise Refused(f"{quoted(word, 60)} {many} the {among}", expected="a name from the list")
        return found[0]

    def _own(self) -> list[dict[str, str]]:
        options = self._decision.options if self._decision else ()
        return [{"value": one.id, "label": one.text} for one in options]

    def _ids(self, typed: Any, field: str) -> tuple[str, ...]:
        names = [part for part in typed.split("\n") if part.strip()] if isinstance(typed, str) else typed
        if not isinstance(names, list | tuple) or len(names) > 5000:
            raise Refused("this is not a list", expected="names from the list")
        return tuple(dict.fromkeys(self._id(name, field) for name in names))

    def _yardstick(self, typed: Any, shape: Shape) -> str:
        options = self._offers.inline("yardstick", shape)
        found = [one["value"] for one in options if typed in (one["value"], one["label"])]
        if not found:
            raise Refused("this is not a yardstick", expected=", ".join(one["label"] for one in options))
        return found[0]

    def _settled(self, value: Any, now: Any, field: str, shape: Shape) -> Any:
        """Return what was typed, with what stood there wherever that still reads the same."""
        if shape.kind in ("number", "money", "length"):
            return now if self._reads(now, field, shape) == value else value
        if shape.kind == "point":
            return tuple(self._settled(a, b, field, _LENGTH) for a, b in zip(value, now, strict=True))
        part = _POINT if shape.kind == "point list" else _LENGTH
        # A row that was put in or taken out moves the others along.
        return tuple(
            next((old for old in (*now[index : index + 1], *now) if self._reads(old, field, part) == one), one)
            for index, one in enumerate(value)
        )

    def _reads(self, value: Any, field: str, shape: Shape) -> Any:
        if isinstance(value, Decimal):
            return value
        return read_typed(shown(value, field, shape, self.system), field, shape, self.system)


_LENGTH: Final = Shape("length")
_POINT: Final = Shape("point")


def empty_value(record: type[Record], field: str, shape: Shape) -> Any:
    """Return what stands in a field when nothing is typed: unknown, or its default.

    Raises:
        Refused: Something must stand there.
    """
    if shape.unknown:
        return None
    if shape.required:
        raise Refused(f"{label_of(field, record)} is missing", expected="something: it cannot stay empty")
    return record.model_fields[field].get_default(call_default_factory=True)
