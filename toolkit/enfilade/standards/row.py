"""One published value: what it asks, in the unit that was printed, and where it was read."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from enfilade.errors import OutOfRange
from enfilade.findings import Because, Finding, How, Level, Mark, Requirement, finding_id
from enfilade.quantities import Quantity, Unit, convert
from enfilade.sources import Source
from enfilade.standards.cautions import joined

__all__ = ["Row"]


@dataclass(frozen=True, slots=True)
class Row:
    """One value of one rule.

    Attributes:
        rule: Id of the rule, such as `K6`; kept inside, people read `source.label`.
        part: Which of the rule's values; empty for the main or only one.
        title: A few words that say what is looked at.
        level: `code`, `recommended`, `access` or `practice`.
        how: How the value bounds the measured figure.
        value: The published number, or (low, high), in `unit` [unit].
        unit: The unit that was printed.
        words: The rule in our own words, for a client to read.
        source: Document, body, edition, section, and how well it is known.
        key: The value by which a table is looked up (such as a surface height), in `key_unit`.
        definition: The value defines something and is never judged by itself.
        caution: The whole caution text, empty when the rule touches no hazard.
        also: Sentences on sources that ask something else, or on how an unclear text was read.
        origin: Name of the data file that holds the row.
        house_rules: Short hash of the studio's house rules under which the row is read.
    """

    rule: str
    part: str
    title: str
    level: Level
    how: How
    value: float | tuple[float, float]
    unit: Unit
    words: str
    source: Source
    key: float | None = None
    key_unit: Unit = "in"
    definition: bool = False
    caution: str = ""
    also: tuple[str, ...] = ()
    origin: str = ""
    house_rules: str = ""

    @property
    def name(self) -> str:
        """Return `rule`, or `rule/part`, as a house rule names it."""
        return f"{self.rule}/{self.part}" if self.part else self.rule

    @property
    def requirement(self) -> Requirement:
        """Return what the row asks, in the printed unit."""
        return Requirement(self.how, self.value, self.unit)

    @property
    def number(self) -> float:
        """Return the single printed number [unit].

        Raises:
            OutOfRange: The row holds a low and a high value.
        """
        if isinstance(self.value, tuple):
            raise OutOfRange(f"{self.name} holds {self.value}", expected="one number", do="use low and high")
        return self.value

    @property
    def low(self) -> float:
        """Return the lower printed number, or the only one [unit]."""
        return self.value[0] if isinstance(self.value, tuple) else self.value

    @property
    def high(self) -> float:
        """Return the higher printed number, or the only one [unit]."""
        return self.value[1] if isinstance(self.value, tuple) else self.value

    def number_in(self, unit: Unit) -> float:
        """Return the single number in another unit of its kind [unit].

        Raises:
            OutOfRange: The row holds two numbers, or measures something else.
        """
        return convert(self.number, self.unit, unit)

    @property
    def value_mm(self) -> float:
        """Return the single number [mm]."""
        return self.number_in("mm")

    @property
    def low_mm(self) -> float:
        """Return the lower number [mm]."""
        return convert(self.low, self.unit, "mm")

    @property
    def high_mm(self) -> float:
        """Return the higher number [mm]."""
        return convert(self.high, self.unit, "mm")

    @property
    def key_mm(self) -> float | None:
        """Return the key of a table row [mm], or None."""
        return None if self.key is None else convert(self.key, self.key_unit, "mm")

    @property
    def printed(self) -> str:
        """Return the value as printed: `42 in`, `48 to 108 in`."""
        unit = "" if self.unit == "count" else "%" if self.unit == "%" else f" {self.unit}"
        return (f"{self.low:g} to {self.high:g}" if isinstance(self.value, tuple) else f"{self.value:g}") + unit

    def finding(
        self,
        *,
        space: str | None,
        subjects: Iterable[str],
        measured: Quantity,
        part: str = "",
        working: Iterable[str] = (),
        marks: Iterable[Mark] = (),
        assumed: Iterable[str] = (),
        also: Iterable[str] = (),
        cautions: Iterable[str] = (),
        title: str | None = None,
        required: Requirement | None = None,
    ) -> Finding:
        """Return the finding that holds a measured figure against this row.

        Args:
            space: Id of the space, or None for the whole house.
            subjects: Ids of what was looked at.
            measured: The measured figure, in any unit of the row's kind.
            part: Middle of the finding's id; the row's own part when empty.
            working: Lines that show how the figure came about.
            marks: What to draw.
            assumed: Assumed facts that the figure rests on.
            also: Sentences added to the row's own.
            cautions: Hazards beside the row's own, as keys of `cautions.toml`.
            title: Another title, when the row's says too little.
            required: A requirement worked out from the row (the longer landing and 12 in more);
                the row's own when None.
        Raises:
            OutOfRange: The row is a definition and no requirement was worked out from it.
            NotFound: There is no such caution.
        """
        if self.definition and required is None:
            raise OutOfRange(f"{self.name} is a definition", expected="a row that is judged, or required=...")
        required = required or self.requirement
        required.margin(measured)  # refuses a figure of another kind here, where the rule is known
        return Finding(
            measured=measured,
            required=required,
            **self._shared(space, subjects, part, working, marks, assumed, (*self.also, *also), cautions, title),
        )

    def not_assessed(
        self,
        *,
        space: str | None,
        subjects: Iterable[str],
        because: Because,
        needs: Iterable[str] = (),
        part: str = "",
        working: Iterable[str] = (),
        marks: Iterable[Mark] = (),
        assumed: Iterable[str] = (),
        also: Iterable[str] = (),
        cautions: Iterable[str] = (),
        title: str | None = None,
    ) -> Finding:
        """Return the finding that says why this row could not be held against anything.

        Args:
            because: `missing fact`, `does not apply` or `source silent`.
            needs: The facts that would let it be assessed.
        Raises:
            NotFound: There is no such caution.
        """
        shared = self._shared(space, subjects, part, working, marks, assumed, (*self.also, *also), cautions, title)
        required = None if self.definition else self.requirement
        return Finding(required=required, because=because, needs=tuple(needs), **shared)

    def _shared(
        self,
        space: str | None,
        subjects: Iterable[str],
        part: str,
        working: Iterable[str],
        marks: Iterable[Mark],
        assumed: Iterable[str],
        also: Iterable[str],
        cautions: Iterable[str],
        title: str | None,
    ) -> dict[str, Any]:
        subjects = tuple(subjects)
        return {
            "id": finding_id(self.rule, _slug(part or self.part), subjects),
            "rule": self.rule,
            "title": title or self.title,
            "level": self.level,
            "space": space,
            "subjects": subjects,
            "source": self.source,
            "assumed": tuple(assumed),
            "working": tuple(working),
            "caution": joined(self.caution, cautions),
            "marks": tuple(marks),
            "house_rules": self.house_rules,
            "also": tuple(also),
        }


def _slug(text: str) -> str:
    return re.sub(r"[^a-z0-9]+", "-", text.lower()).strip("-")
