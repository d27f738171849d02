"""The figures of a record to which spoken lines are bound.

A field stands in braces and is read in this order:

- `{people in the household}` and the other phrases of `PHRASES`, as they stand;
- `{number of stools in kitchen}`: how many of what `counting.COUNTED` lists, in a room or in the house;
- `{measured of FINDING}`, `asked`, `margin`: what was found, by the finding's id;
- `{ATTRIBUTE of RECORD}`: an attribute of `attributes.ATTRIBUTES`, of a record by its id, by the name that people call
  it, or by what it is when that leaves no doubt. A word for the sort may stand before it (`product range`), and a room
  after it (`table in study`).

After a comma stand forms (`forms.FORMS`), several with a comma each: `{width of island, in metres, in words}`. Nothing
else is read: there are no expressions. A field that several records answer to is taken when they all have the same
figure, and is a fault when they do not.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterable
from functools import cached_property
from typing import Any, Final

from enfilade.findings import Finding
from enfilade.lengths import System
from enfilade.project.project import Project
from enfilade.project.thing import Thing
from enfilade.quantities import Quantity
from enfilade.script.attributes import ATTRIBUTES, Attribute
from enfilade.script.bindable import Bindable, Bound, Unbound, bindable
from enfilade.script.counting import count_in, noun
from enfilade.script.forms import FORMS, Forms, forms_misfit, named_forms
from enfilade.script.index import Index, Subject, plain
from enfilade.script.phrases import PHRASES
from enfilade.script.value import Value, value_of
from enfilade.script.wording import for_the_ear, for_the_eye

__all__ = ["Bound", "Figures", "Unbound"]


_OF: Final[dict[str, Attribute]] = {word: one for one in ATTRIBUTES for word in (one.words, *one.also)}
_FINDING: Final = ("measured", "asked", "margin")
_FINDING_FORM: Final = re.compile(r"[A-Z][A-Za-z0-9]*:[a-z0-9-]*:.*", re.DOTALL)
_A_FIGURE: Final = "a figure of the record"
_LIKELY: Final = "`width`, `height`, `seats`, `price`, `name` or another of those that the page lists"
_LONGEST_ATTRIBUTE: Final = 40
_LONGEST: Final = 2200
"""A field longer than this is no field: ids of findings are the longest that there are."""
_HOUSE: Final = frozenset({"house", "whole house"})


_READ: Final = ("spaces", "openings", "household", "brief", "decisions", "products", "finishes")


def _alike(one: Thing, other: Thing) -> bool:
    return one is other or one == other.model_copy(update={"place": one.place})


class Figures:
    """What a line may say of a project: sizes, counts, names, amounts, and what was measured.

    Args:
        project: What may be told.
        findings: What was found on it; None when nothing has been measured yet: fields of findings are then
            looked at for their form alone.
    """

    def __init__(self, project: Project, findings: Iterable[Finding] | None = ()) -> None:
        self.project = project
        self.findings = tuple(findings or ())
        self._measured = findings is not None
        self._known: dict[str, Bound | Unbound] = {}

    @property
    def system(self) -> System:
        """Return the units that the project shows."""
        return self.project.show.units

    @cached_property
    def index(self) -> Index:
        """Return what people call the records."""
        return Index(self.project)

    @cached_property
    def _by_finding(self) -> dict[str, Finding]:
        return {finding.id: finding for finding in self.findings}

    def told_alike(self, project: Project) -> bool:
        """Tell whether every figure of another state of the house is sure to be the same as of this one.

        It is when all that figures are read from are the same records, but for where things stand.
        """
        mine = self.project
        if mine is project:
            return True
        show, other = mine.show, project.show
        same = all(getattr(mine, name) is getattr(project, name) for name in _READ)
        if not same or mine.name != project.name or (show.units, show.currency) != (other.units, other.currency):
            return False
        things = project.things
        return len(mine.things) == len(things) and all(map(_alike, mine.things, things))

    def bound(self, field: str) -> Bound | Unbound:
        """Return what a field stands for; it is what stands between the braces. Nothing is raised."""
        if len(field) > _LONGEST:
            return Unbound("it is no field", "a short one")
        if field not in self._known:
            self._known[field] = self._read(field)
        return self._known[field]

    def _read(self, field: str) -> Bound | Unbound:
        words, forms = named_forms(field)
        found = self._value(words)
        if isinstance(found, Unbound):
            return found
        subject, value = found
        if value is None:
            return Bound(None, f"{{{field}}}", f"{{{field}}}", subject)
        if why := forms_misfit(value, forms):
            fit = (form.words for form in FORMS if not form.fits or value.kind in form.fits)
            return Unbound(why, ", ".join(f"`{words}`" for words in fit))
        return self._written(value, forms, subject)

    def _written(self, value: Value, forms: Forms, subject: Subject | None = None) -> Bound:
        return Bound(
            value, for_the_eye(value, forms, self.system), for_the_ear(value, forms, self.system), subject
        )  # fmt: skip

    def _value(self, words: str) -> tuple[Subject | None, Value | None] | Unbound:
        phrase = re.sub(r"\b(?:the|a|an) ", "", plain(words))
        if phrase in PHRASES:
            value = PHRASES[phrase][0](self.project)
            return (None, value) if value is not None else Unbound(f"`{words}` is not recorded", _A_FIGURE)
        head, of, rest = words.partition(" of ")
        attribute, rest = plain(head), rest.strip()
        if not of or not rest:
            return Unbound(f"`{words}` is no field", "such as `width of island`")
        if attribute in _FINDING:
            return self._of_finding(attribute, rest)
        if attribute == "number" and (counted := self._counted(rest)) is not None:
            return counted if isinstance(counted, Unbound) else (None, counted)
        if attribute not in _OF:
            return Unbound(f"`{head.strip()}` is nothing that a line can say", _near_attributes(attribute))
        return self._of_record(_OF[attribute], rest)

    def _counted(self, words: str) -> Value | Unbound | None:
        """Return a count such as `stools in kitchen`, None when it is none."""
        if (one := noun(words)) is not None:
            return self._count(words, one, None)
        head, _, where = words.rpartition(" in ")
        one = noun(head)
        if one is None:
            return None
        if plain(where) in _HOUSE:
            return self._count(words, one, None)
        room = self.index.room(where)
        return None if room is None else self._count(words, one, room.id)

    def _count(self, words: str, one: str, room: str | None) -> Value | Unbound:
        return count_in(self.index, one, room) or Unbound(f"the number of `{words}` is not recorded", _A_FIGURE)

    def _of_record(self, attribute: Attribute, words: str) -> tuple[Subject | None, Value | None] | Unbound:
        sorts = frozenset(attribute.of)
        if "house" in sorts and plain(words) in _HOUSE:
            subjects = [Subject("house", self.project)]
        else:
            subjects = self.index.find(words, sorts)
        if not subjects:
            what = " in it" if attribute.words == "number" else f" that has a {attribute.words}"
            return Unbound(f"`{words}` is no record{what}", near=(words, sorts))
        values = [attribute.of[one.sort](self.index, one) for one in subjects]
        known = [(one, value) for one, value in zip(subjects, values, strict=True) if value is not None]
        if not known:
            are = "are" if attribute.words.endswith("s") and not attribute.words.endswith("ss") else "is"
            return Unbound(f"the {attribute.words} of `{words}` {are} not recorded", _A_FIGURE)
        if len({value for _, value in known}) > 1:
            return Unbound(f"`{words}` may be {_either(one for one, _ in known)}", "one of them, by its id")
        return known[0]

    def _of_finding(self, attribute: str, id: str) -> tuple[Subject | None, Value | None] | Unbound:
        id = plain_id(id)
        finding = self._by_finding.get(id)
        if finding is None:
            if not self._measured and _FINDING_FORM.fullmatch(id):
                return None, None
            return Unbound(f"`{id[:80]}` is no finding", "the id of a finding, such as `K6:aisle:island+range`")
        figure = _figure(finding, attribute)
        if figure is None:
            return Unbound(f"nothing is {attribute} for `{id[:80]}`", "a finding that was assessed")
        return Subject("finding", finding), value_of(figure)

    def fields_for(self, space: str) -> tuple[Bindable, ...]:
        """Return every field that a line in a room can be bound to, with its present value.

        Args:
            space: Id of the room.
        Raises:
            NotFound: There is no such room.
        """
        return bindable(self, space)


def _near_attributes(words: str) -> str:
    """Return what can be said that comes near to what was typed."""
    near = difflib.get_close_matches(words[:_LONGEST_ATTRIBUTE], _OF, n=3, cutoff=0.6)
    return " or ".join(f"`{one}`" for one in dict.fromkeys(near)) or _LIKELY


def plain_id(text: str) -> str:
    """Return the id of a finding as it was typed, without quotes and the word before it."""
    return text.strip(" \"'\u201c\u201d").removeprefix("finding ").strip()


def _figure(finding: Finding, attribute: str) -> Quantity | None:
    if finding.required is None:
        return None
    if attribute == "asked":
        value = finding.required.value
        return Quantity(value[0] if isinstance(value, tuple) else value, finding.required.unit)
    if finding.measured is None:
        return None
    if attribute == "measured":
        return finding.measured
    margin: Any = finding.margin
    return Quantity(abs(margin), finding.required.unit)


def _either(subjects: Iterable[Subject]) -> str:
    names = [f"{one.sort} {one.record.id}" for one in subjects]
    shown = names[:4]
    more = f" or {len(names) - 4} more" if len(names) > 4 else ""
    return " or ".join(shown) + more
