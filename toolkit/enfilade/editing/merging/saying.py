"""What stands where in a house, said as people do: records by name, fields by label, values in the units shown."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from decimal import Decimal
from typing import Any, Final

from enfilade.editing.forms.called import choice_words, label_of, named, shortened
from enfilade.editing.forms.field_shape import Shape, field_shapes, tag_word
from enfilade.editing.forms.refers import AMONG, OWN, target_of
from enfilade.editing.forms.shown import length_words, shown, unit_words
from enfilade.editing.merging.three_ways import GONE, ORDER, Change, Place
from enfilade.listing import capital, listed
from enfilade.project.choices import Answer, Option
from enfilade.project.fields import Record
from enfilade.project.people import Need, Person
from enfilade.project.placing import AgainstWall, Free, SetIn
from enfilade.project.project import Project
from enfilade.project.showing import Photograph
from enfilade.project.spaces import Opening, Wall
from enfilade.project.speaking import Stop
from enfilade.project.surfaces import SeatRow
from enfilade.project.thing import Thing

__all__ = ["STANDS", "Words"]

_PARTS: Final = {
    "client": "the client", "household": "the household", "brief": "the brief",
    "show": "how the project is shown",
}  # fmt: skip
_LISTS: Final = {
    "spaces": "the rooms", "openings": "the openings", "things": "the things", "products": "the products",
    "finishes": "the finishes", "decisions": "the decisions", "answers": "the answers",
    "photographs": "the photographs", "script": "the lines to speak",
}  # fmt: skip
_INSIDE: Final = {"needs": ("brief", "needs"), "parts": ("show", "speaking", "parts")}
STANDS: Final = "where it stands"
_FIELDS: Final = {
    "place": STANDS, "outline": "shape", "opens": "doors and drawers", "basis": "how its sizes are known",
    "bases": "how single sizes are known", "top_mm": "upper edge", "bottom_mm": "lower edge", "walls": "its sides",
    "state": "kept, removed or new", "lines": "lines to speak",
}  # fmt: skip
_LONG: Final = 60
_NAMED: Final = 4


class Words:
    """Says places and values of one house as people do.

    Args:
        projects: States of it; what a record is called is looked up in the first that has it.
    """

    def __init__(self, *projects: Project) -> None:
        self._projects = projects
        self._units = projects[0].show.units
        self._currency = projects[0].show.currency
        self._indexed: dict[int, tuple[tuple[Any, ...], dict[Any, Any]]] = {}

    def records(self, changes: Iterable[Change]) -> tuple[str, ...]:
        """Return which records changed, each once, with the fields: `Island (width, finish)`."""
        about: dict[Place, list[str]] = {}
        for change in changes:
            place = self.record_place(change.place)
            if place != change.place:
                what = self.field(change.place)
            else:
                what = "new" if change.before is GONE else "taken away" if change.after is GONE else "changed"
            about.setdefault(place, []).append(what)
        return tuple(
            f"{capital(self.record(place))} ({', '.join(dict.fromkeys(what))})" for place, what in about.items()
        )

    def record_place(self, place: Place) -> Place:
        """Return the place of the record that a place is in: the innermost that has a name of its own."""
        for length in range(len(place), 1, -1):
            found = self._at(place[:length])
            if isinstance(found, Record) and "id" in type(found).model_fields:
                return place[:length]
        return place[:1]

    def record(self, place: Place) -> str:
        """Return what the record at, or around, a place is called."""
        place = self.record_place(place)
        if not place:
            return "the whole house"
        if len(place) == 1:
            return _PARTS.get(place[0]) or _LISTS.get(place[0]) or "the project"
        record = self._at(place)
        words = self._called(record) if isinstance(record, Record) else "a record"
        outer = self._at(place[:2])
        if len(place) > 3 and isinstance(outer, Record) and place[0] in _LISTS:
            words += f" of {self._called(outer)}"
        return words

    def field(self, place: Place) -> str:
        """Return what the field at a place is called; empty for a record as a whole."""
        record = self.record_place(place)
        rest = place[len(record) :]
        if len(place) == 1 and place[0] not in _PARTS:
            rest = place  # a field of the project itself
        names = [step for step in rest if step and not step.isdigit()]
        if place[-1:] == (ORDER,):
            inner = f" of {self._label(names[-1])}" if names else ""
            return f"order{inner}"
        if not names:
            return ""
        if names[-1] == "wall" and place[0] == "openings":
            return STANDS
        return self._label(names[-1])

    def value(self, place: Place, value: Any, longest: int = _LONG) -> str:
        """Return what stands at a place, for reading; text is cut to `longest` signs."""
        if value is GONE:
            return "not there"
        if value == "":
            return "empty"
        if isinstance(value, Record) and hasattr(value, "id"):
            return self._called(value)
        if place[-1:] == (ORDER,):
            return ", ".join(self._called(self._at((*place[:-1], id))) for id in value[:_NAMED])
        if place[0] == "openings" and place[-1] == "wall" and isinstance(value, tuple):
            wall, _, end, offset = value
            return f"{self._name('walls', wall)}, {self._length(offset, 'offset_mm')} from its {end} end"
        if place[-1] == "outline" and value and isinstance(value[0][0], tuple):
            value = value[0]
        shape = self._shape(place)
        if shape is None:
            return shortened(str(value), longest)
        if isinstance(value, str) and shape.kind in ("text", "longtext"):
            return f"“{shortened(value, longest)}”"
        return self._said(place[-1], shape, value, place)

    @staticmethod
    def is_long(value: Any) -> bool:
        """Tell whether a value is text too long to be set in a sentence."""
        return isinstance(value, str) and len(value) > _LONG

    def _said(self, field: str, shape: Shape, value: Any, place: Place = ()) -> str:
        if value is None:
            return "not known"
        if shape.none and value == "none":
            return "none"
        if isinstance(value, AgainstWall | Free | SetIn):
            return self._stands(value, place)
        if field == "outline":
            left, foot, right, head = _bounds(value)
            return f"{len(value)} corners, {self._length(right - left)} by {self._length(head - foot)}"
        if isinstance(value, str) and target_of(field) == OWN:
            return self._called(self._at((*place[:-1], OWN, value)))
        if shape.kind in ("ref", "refs") and target_of(field):
            return self._names(field, (value,) if isinstance(value, str) else value)
        if isinstance(value, Record):
            return self._few(value)
        if shape.kind == "records":
            return f"{len(value)} of them" if value else "none"
        return self._typed(field, shape, value)

    def _typed(self, field: str, shape: Shape, value: Any) -> str:
        if isinstance(value, str):
            return choice_words(value) if shape.kind == "choice" else f"“{shortened(value, _LONG)}”"
        if isinstance(value, dict):
            return ", ".join(f"{self._label(name)}: {word}" for name, word in value.items()) or "none"
        if isinstance(value, Decimal) and self._currency:
            return f"{self._currency}\u00a0{shown(value, field, shape, self._units)}"
        typed = shown(value, field, shape, self._units)
        if isinstance(typed, list):
            return shortened(", ".join(str(one) for one in typed), _LONG) or "none"
        unit = unit_words(field, shape, self._units) if shape.kind in ("number", "whole") else ""
        return f"{typed} {unit}" if unit else str(typed)

    def _few(self, record: Record) -> str:
        shapes = field_shapes(type(record))
        set_here = [
            f"{self._label(name)} {self._said(name, shapes[name], getattr(record, name))}"
            for name, field in type(record).model_fields.items()
            if getattr(record, name) != field.default and shapes[name].kind != "tag"
        ]
        return ", ".join(set_here[:_NAMED]) or "as usual"

    def _stands(self, place: AgainstWall | Free | SetIn, at: Place) -> str:
        if isinstance(place, AgainstWall):
            gap = f", {self._length(place.gap_mm)} off it" if place.gap_mm else ""
            end = f"{self._length(place.offset_mm)} from its {place.from_end} end"
            return f"against {self._name('walls', place.wall)}, {end}{gap}"
        if isinstance(place, SetIn):
            host = self._name("things", place.host)
            return f"set in {host}, {self._length(place.offset_mm)} from the left of its {place.side}"
        thing = self._at(at[:2])
        space = self._at(("spaces", thing.space)) if isinstance(thing, Thing) else GONE
        left, foot = _bounds(space.outline)[:2] if space is not GONE else (0.0, 0.0)
        turned = f", turned {place.turn_deg:g}°" if place.turn_deg else ""
        where = f"{self._length(place.x_mm - left)} from the left and {self._length(place.y_mm - foot)} from the foot"
        return f"its middle {where} of the room's plan{turned}"

    def _length(self, value_mm: float, field: str = "x_mm") -> str:
        return length_words(value_mm, field, self._units)

    def _names(self, field: str, ids: Sequence[str]) -> str:
        return listed([self._name(target_of(field), id) for id in ids], _NAMED) or "none"

    def _name(self, target: str, id: str) -> str:
        if id == "none":
            return "outdoors"
        for project in self._projects:
            if target == "walls" and id in project.walls_by_id:
                return self._called(project.walls_by_id[id][2])
        if target in AMONG:
            there = (one for one in AMONG[target] if one == "walls" or self._at((one, id)) is not GONE)
            return self._name(next(there), id)
        record = self._at((*_INSIDE.get(target, (target,)), id))
        return self._called(record) if isinstance(record, Record) else "one that is not there"

    def _called(self, record: Any) -> str:
        if isinstance(record, Thing):
            return record.called
        if isinstance(record, Need):
            return f"need {record.number}"
        if isinstance(record, Person) and not record.name:
            return "a person"
        if isinstance(record, Option):
            return f"option “{shortened(record.text, _LONG)}”"
        if isinstance(record, Answer):
            return f"the answer “{shortened(record.reason or record.kind, _LONG)}”"
        if isinstance(record, Photograph):
            return f"photograph “{record.caption}”" if record.caption else "a photograph"
        if isinstance(record, Stop):
            return f"the lines in {self._name('spaces', record.space)}"
        if isinstance(record, SeatRow):
            return f"the seats at its {record.side}"
        if isinstance(record, Opening | Wall) and not record.name:
            space = self._room_of(record)
            kind = record.kind if isinstance(record, Opening) else "a wall"
            return f"{kind} of {space}" if space else kind
        return named(record) or tag_word(type(record))[1] or "a record"

    def _room_of(self, record: Opening | Wall) -> str:
        wall = record.wall if isinstance(record, Opening) else record.id
        for project in self._projects:
            if wall in project.walls_by_id:
                return project.walls_by_id[wall][0].name
        return ""

    def _label(self, field: str) -> str:
        words = _FIELDS.get(field) or label_of(field).removesuffix(", mm")
        return words[:1].lower() + words[1:]

    def _shape(self, place: Place) -> Shape | None:
        holder = self._at(place[:-1])
        if isinstance(holder, Record):
            return field_shapes(type(holder)).get(place[-1])
        return None

    def _at(self, place: Place) -> Any:
        """Return what stands at a place in the first state that has it; else `GONE`."""
        for project in self._projects:
            value: Any = project
            for step in place:
                if isinstance(value, tuple):
                    value = self._records(value).get(step, GONE)
                else:
                    value = value.get(step, GONE) if isinstance(value, dict) else getattr(value, step, GONE)
            if value is not GONE:
                return value
        return GONE

    def _records(self, records: tuple[Any, ...]) -> dict[Any, Any]:
        """Return a list's records by id. A long list, which is asked about often, is gone through once."""
        if id(records) not in self._indexed:
            # The list is held here too, so that no other one takes its place in memory.
            by_id: dict[Any, Any] = {}
            for one in records:
                by_id.setdefault(getattr(one, "id", None), one)
            self._indexed[id(records)] = records, by_id
        return self._indexed[id(records)][1]


def _bounds(outline: Sequence[tuple[float, float]]) -> tuple[float, float, float, float]:
    xs, ys = zip(*outline, strict=True)
    return min(xs), min(ys), max(xs), max(ys)
