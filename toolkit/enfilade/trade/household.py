"""What a household of a given size needs, by rules of thumb that disagree: each answer shows its spread."""

from __future__ import annotations

from dataclasses import dataclass

from enfilade.errors import NotFound, OutOfRange
from enfilade.quantities import Unit
from enfilade.standards import Row, Yardstick, yardstick

__all__ = [
    "Estimate",
    "cabinet_runs",
    "dining_edge",
    "dishwasher_settings",
    "occupants",
    "refrigerator_by_person",
    "refrigerator_volume",
]


@dataclass(frozen=True, slots=True)
class Estimate:
    """A figure to plan with [unit], the rule it follows, and what the rule itself leaves open.

    Attributes:
        value: The figure [unit]; the middle where a rule gives a range.
        low: Lower end of the rule's own range [unit].
        high: Upper end of the rule's own range [unit].
        method: A few words on how it is reckoned.
        source_rule: Id of the published row's rule.
    """

    value: float
    unit: Unit
    method: str
    source_rule: str
    working: tuple[str, ...]
    low: float
    high: float


def occupants(bedrooms: int, *, by: Yardstick | None = None) -> Estimate:
    """Estimate how many people live in a dwelling: two in the main bedroom, one in each further one.

    Args:
        bedrooms: 1 or more [-].
    Raises:
        OutOfRange: No bedroom.
    Source: kitchen storage study of 1934, retold.

    >>> occupants(3).value
    4.0
    """
    _at_least_one(bedrooms=bedrooms)
    rows = by or yardstick()
    main, further = rows.row("Q1", "main bedroom").number, rows.row("Q1", "further bedroom").number
    value = main + further * (bedrooms - 1)
    line = f"{main:g} + {bedrooms - 1} x {further:g} = {value:g}"
    return _one(value, "count", "two, and one for each further bedroom", "Q1", line)


def refrigerator_volume(people: int, *, by: Yardstick | None = None) -> Estimate:
    """Estimate the refrigerator volume: so much for two, so much more for each further person.

    Args:
        people: 1 or more [-]; one person is counted as two.
    Returns:
        The volume [cu ft].
    Raises:
        OutOfRange: Nobody.
    Source: rule of thumb, 12 cu ft for two and 2 for each further person.

    >>> refrigerator_volume(4).value
    16.0
    """
    _at_least_one(people=people)
    rows = by or yardstick()
    two, further = rows.row("Q3", "two people"), rows.row("Q3", "further person")
    more = max(0, people - 2)
    value = two.number + more * further.number
    line = f"{two.printed} + {more} x {further.printed} = {value:g} cu ft"
    return _one(value, two.unit, "for two, and for each further person", "Q3", line)


def refrigerator_by_person(people: int, *, practice: bool = False, by: Yardstick | None = None) -> Estimate:
    """Estimate the refrigerator volume by person.

    Args:
        people: Adults, or everybody by practice today; 1 or more [-].
        practice: Take practice today, which leaves the freezer apart.
    Returns:
        The volume [cu ft], with its range.
    Raises:
        OutOfRange: Nobody.
    Source: common practice, no document; practice today is recalled.

    >>> refrigerator_by_person(4).low, refrigerator_by_person(4).high
    (16.0, 24.0)
    """
    _at_least_one(people=people)
    row = (by or yardstick()).row("P4" if practice else "Q4")
    return _ranged(row, people, "so much for each person, freezer apart" if practice else "so much for each adult")


def cabinet_runs(people: int, *, by: Yardstick | None = None) -> tuple[Estimate, Estimate]:
    """Estimate the run of base and of wall cabinets.

    Args:
        people: 1 or more [-]; one person is counted as two.
    Returns:
        Base cabinets [mm], wall cabinets [mm].
    Raises:
        OutOfRange: Nobody.
    Source: household storage studies, retold.

    >>> [run.value for run in cabinet_runs(5)]
    [2700.0, 3300.0]
    """
    _at_least_one(people=people)
    group = "three or more" if people > 2 else "two people"
    rows = [(by or yardstick()).row("Q5", f"{group}, {kind}") for kind in ("base", "wall")]
    base, wall = (_one(row.number, row.unit, row.title, "Q5", f"{row.title}: {row.printed}") for row in rows)
    return base, wall


def dining_edge(people: int, *, by: Yardstick | None = None) -> Estimate:
    """Estimate the table edge that people need in all.

    Args:
        people: 1 or more [-].
    Returns:
        The edge [in]: the width of a place for each.
    Raises:
        OutOfRange: Nobody.
    Source: handbooks of dimensions, recalled.
    Limits: straight edges; places at corners collide.

    >>> dining_edge(14).value
    336.0
    """
    _at_least_one(people=people)
    row = (by or yardstick()).row("Q13", "width")
    value = people * row.number
    return _one(value, row.unit, "a place for each person", "Q13", f"{people} x {row.printed} = {value:g} {row.unit}")


def dishwasher_settings(width_in: int, *, by: Yardstick | None = None) -> Estimate:
    """Estimate the place settings that a dishwasher takes by its nominal width.

    Args:
        width_in: Nominal width, 18 or 24 [in].
    Raises:
        NotFound: Another width.
    Source: general practice, recalled.

    >>> dishwasher_settings(24).low, dishwasher_settings(24).high
    (12.0, 16.0)
    """
    rows = (by or yardstick()).rows("Q14")
    for row in rows:
        if row.key == width_in:
            return _ranged(row, 1, "each machine, by its nominal width")
    widths = " or ".join(f"{row.key:g} in" for row in rows)
    raise NotFound(f"no figure for a dishwasher {width_in} in wide", expected=widths)


def _at_least_one(**counts: int) -> None:
    for name, count in counts.items():
        if count < 1:
            raise OutOfRange(f"{name} is {count}", expected="1 or more")


def _one(value: float, unit: Unit, method: str, rule: str, line: str) -> Estimate:
    return Estimate(value, unit, method, rule, (line,), value, value)


def _ranged(row: Row, count: int, method: str) -> Estimate:
    low, high = count * row.low, count * row.high
    line = f"{count} x {row.printed} = {low:g} to {high:g}" + ("" if row.unit == "count" else f" {row.unit}")
    return Estimate((low + high) / 2, row.unit, method, row.rule, (line,), low, high)
