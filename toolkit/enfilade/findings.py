"""What a finding is: a measured figure beside what a source asks, and the verdict that follows.

A finding carries plain points for its marks, so that a reader of findings needs no geometry library.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import asdict, dataclass, field
from typing import Any, Literal

from enfilade.errors import OutOfRange
from enfilade.lengths import TOLERANCE_MM
from enfilade.quantities import Quantity, Unit, convert
from enfilade.sources import Source

__all__ = [
    "Because",
    "Finding",
    "How",
    "Level",
    "Mark",
    "Point",
    "Requirement",
    "Verdict",
    "finding_id",
]

Verdict = Literal["met", "falls short", "not assessed"]
Level = Literal["code", "recommended", "access", "practice"]
Because = Literal["missing fact", "does not apply", "source silent"]
How = Literal["at least", "at most", "between", "equal"]
Point = tuple[float, float]

# Rounding noise of coordinates that were turned or moved; far below anything that is measured.
_NOISE = 1e-6


@dataclass(frozen=True, slots=True)
class Requirement:
    """What a source asks: `at least 42 in`, or `between [48, 108] in`."""

    how: How
    value: float | tuple[float, float]
    unit: Unit

    def __post_init__(self) -> None:
        if isinstance(self.value, tuple) != (self.how == "between"):
            expected = "a low and a high value for `between`, else one"
            raise OutOfRange(f"requirement {self.how} {self.value!r}", expected=expected)
        ends = self.value if isinstance(self.value, tuple) else (self.value, self.value)
        if not all(map(math.isfinite, ends)) or ends[0] > ends[1]:
            raise OutOfRange(f"requirement {self.how} {self.value!r}", expected="finite values, the low one first")

    def margin(self, measured: Quantity) -> float:
        """Return what is to spare, in the requirement's own printed unit; negative when short."""
        value = convert(measured.value, measured.unit, self.unit)
        if isinstance(self.value, tuple):
            low, high = self.value
            return min(value - low, high - value)
        if self.how == "at least":
            return value - self.value
        if self.how == "at most":
            return self.value - value
        return -abs(value - self.value)

    def met_by(self, measured: Quantity) -> bool:
        """Tell whether `measured` meets this; lengths within 0.8 mm do, areas and counts have no slack."""
        slack = convert(TOLERANCE_MM, "mm", self.unit) if self.unit in ("mm", "in") else 0.0
        return self.margin(measured) >= -(slack + _NOISE)


@dataclass(frozen=True, slots=True)
class Mark:
    """Something to draw for a finding.

    Attributes:
        role: `measure` (the line that was measured), `area`, `path`, `point`.
        points: In house coordinates [mm] on the plan; along wall and height [mm] on an elevation.
        text: A few words to set beside it.
        plane: `plan`, or the id of the wall on whose elevation it lies.
    """

    role: Literal["measure", "area", "path", "point"]
    points: tuple[Point, ...]
    text: str = ""
    plane: str = "plan"


@dataclass(frozen=True, slots=True)
class Finding:
    """One rule held against one part of the house. The verdict is derived, never stored by hand."""

    id: str
    rule: str
    title: str
    level: Level
    space: str | None
    subjects: tuple[str, ...]
    source: Source
    measured: Quantity | None = None
    required: Requirement | None = None
    because: Because | None = None
    needs: tuple[str, ...] = ()
    assumed: tuple[str, ...] = ()
    working: tuple[str, ...] = ()
    caution: str = ""
    marks: tuple[Mark, ...] = ()
    house_rules: str = ""
    also: tuple[str, ...] = field(default=())
    """Sentences on other sources that ask something else, or on how an unclear source was read."""

    def __post_init__(self) -> None:
        if (self.measured is None) == (self.because is None):
            raise OutOfRange(
                f"finding {self.id} has measured={self.measured} and because={self.because}",
                expected="either a measured figure, or the reason why there is none",
            )
        if self.measured is not None and self.required is None:
            raise OutOfRange(f"finding {self.id} has a measure but no requirement", expected="both")

    @property
    def verdict(self) -> Verdict:
        """Return `met`, `falls short` or `not assessed`."""
        if self.measured is None or self.required is None:
            return "not assessed"
        return "met" if self.required.met_by(self.measured) else "falls short"

    @property
    def margin(self) -> float | None:
        """Return what is to spare in the requirement's unit, or None when not assessed."""
        if self.measured is None or self.required is None:
            return None
        return self.required.margin(self.measured)

    def as_json(self) -> dict[str, Any]:
        """Return plain data for JSON, with the derived verdict and margin; numbers without the noise of coordinates."""
        data: dict[str, Any] = _rounded({**asdict(self), "verdict": self.verdict, "margin": self.margin})
        return data


def _rounded(value: Any) -> Any:
    if isinstance(value, float):
        return round(value, 6) + 0.0  # and no minus zero
    if isinstance(value, dict):
        return {key: _rounded(item) for key, item in value.items()}
    return [_rounded(item) for item in value] if isinstance(value, list | tuple) else value


def finding_id(rule: str, part: str, subjects: Iterable[str]) -> str:
    """Return the stable id `rule:part:subjects`; subjects keep their order, joined by `+`.

    >>> finding_id("K6", "aisle", ["counter-a", "island"])
    'K6:aisle:counter-a+island'
    """
    return f"{rule}:{part}:{'+'.join(subjects)}"
