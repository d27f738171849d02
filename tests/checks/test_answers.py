"""An answer holds until the measured figure worsens."""

from __future__ import annotations

from enfilade.checks.answers import (
    Standing,
    answers_by_finding,
    falls_short_unanswered,
    falls_short_unsettled,
    standing_of,
)
from enfilade.findings import Finding, Requirement
from enfilade.project.choices import Answer
from enfilade.quantities import Quantity
from enfilade.sources import Source

SOURCE = Source("Rules", "", "", "", "own choice")


def aisle(width_in: float) -> Finding:
    return Finding("K6:aisle:a+b", "K6", "Aisle", "recommended", "kitchen", ("a", "b"), SOURCE,
                   measured=Quantity(width_in, "in"), required=Requirement("at least", 48, "in"))  # fmt: skip


def answer(kind: str = "accepted", measured: float | None = 45.0) -> Answer:
    return Answer(id="a1", finding="K6:aisle:a+b", kind=kind, reason="column", by="R.",
                  measured=measured, unit="in" if measured is not None else None)  # type: ignore[arg-type]  # fmt: skip


def test_it_holds_when_the_figure_is_the_same_or_better() -> None:
    assert standing_of(answer(), aisle(45)) is Standing.HOLDS
    assert standing_of(answer(), aisle(46)) is Standing.HOLDS
    assert standing_of(answer(), aisle(44.98)) is Standing.HOLDS  # within 1/32 in


def test_it_lapses_when_the_figure_worsens() -> None:
    assert standing_of(answer(), aisle(44)) is Standing.WORSENED
    assert falls_short_unanswered([aisle(44)], answers_by_finding([answer()])) != []


def test_each_kind_of_answer_answers_and_what_is_to_mend_still_asks_for_something() -> None:
    for kind, left in (("accepted", 0), ("not relevant here", 0), ("to mend", 1)):
        answers = answers_by_finding([answer(kind)])
        assert falls_short_unanswered([aisle(45)], answers) == []
        assert len(falls_short_unsettled([aisle(45)], answers)) == left
    assert falls_short_unsettled([aisle(50)], {}) == []


def test_an_answer_in_another_kind_of_unit_does_not_hold() -> None:
    other = Answer(id="a1", finding="K6:aisle:a+b", kind="accepted", reason="x", by="y", measured=2.0, unit="count")
    assert standing_of(other, aisle(45)) is Standing.WORSENED


def test_the_last_answer_counts() -> None:
    answers = answers_by_finding([answer("accepted"), answer("to mend")])
    assert answers["K6:aisle:a+b"].kind == "to mend"
