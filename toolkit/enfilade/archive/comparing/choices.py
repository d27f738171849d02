"""Choices made for the same need, or on the same subject, and what came of them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from enfilade.archive.comparing.columns import Column
from enfilade.archive.comparing.matching import Matched, matched
from enfilade.archive.comparing.rooms import NOTHING
from enfilade.archive.comparing.verdicts import ACCEPTED, SHORT, judged
from enfilade.checks.sentences import asks, margin_words, measured_words
from enfilade.editing.forms.called import shortened
from enfilade.findings import Finding
from enfilade.lengths import System
from enfilade.listing import capital
from enfilade.project.choices import Decision
from enfilade.walkthrough.pages import Row, Table

__all__ = ["choice_tables", "choice_words"]

_LONG: Final = 400
_MOST: Final = 4
_HOW: Final = "matched by their words, in any order, and in versions of one project by the record itself"


def choice_tables(columns: Sequence[Column]) -> tuple[Table, ...]:
    """Return what was chosen for needs that at least two projects have, and on subjects that no need joins."""
    heads = tuple(column.head for column in columns)
    told = [dict(_told(column, columns[0].project.show.units)) for column in columns]
    needs = matched([[Matched(column.project.id, one.id, one.number, one.text) for one in column.project.brief.needs]
                     for column in columns])  # fmt: skip
    shared = [row for row in needs if sum(one is not None for one in row) > 1]
    covered: list[set[str]] = [set() for _ in columns]
    rows: list[Row] = []
    for row in shared:
        cells = [_for_need(columns[n], told[n], one, covered[n]) for n, one in enumerate(row)]
        first = next(one for one in row if one is not None)
        rows.append((f"{first.number}. {shortened(first.text, _LONG)}", *cells))
    alone = len(needs) - len(shared)
    note = f"Needs are {_HOW}." + (f" Needs that one alone has: {alone}." if alone else "")
    return (
        Table("Choices made for the same need", ("Need", *heads), tuple(rows), note=note),
        _subjects(columns, told, covered, heads),
    )


def choice_words(decision: Decision, short: Sequence[str] = ()) -> str:
    """Return what was chosen over what and why, and what came of it, a line each."""
    title = f"{decision.number}. {shortened(decision.title, _LONG)}"
    lines = [
        f"{title}: {shortened(decision.chosen.text, _LONG)}" if decision.chosen else f"{title}: nothing chosen yet"
    ]
    if others := [shortened(one.text, _LONG).rstrip(".") for one in decision.options if one is not decision.chosen]:
        lines.append(f"Over: {'; '.join(others)}.")
    if decision.reason.strip():
        lines.append(f"Why: {shortened(decision.reason, _LONG)}")
    came = [capital(decision.status)]
    if decision.changed.strip():
        came.append(f"on site: {shortened(decision.changed, _LONG).rstrip('.')}")
    if short:
        more = f", and {len(short) - _MOST} more" if len(short) > _MOST else ""
        came.append(f"falls short: {', '.join(short[:_MOST])}{more}")
    lines.append(f"What came of it: {'; '.join(came)}.")
    if decision.hindsight.strip():
        lines.append(f"In hindsight: {shortened(decision.hindsight, _LONG)}")
    return "\n".join(lines)


def _told(column: Column, units: System) -> Iterator[tuple[str, str]]:
    short = {finding.id: finding for finding, how in judged(column) if how in (SHORT, ACCEPTED)}
    for decision in column.project.decisions:
        bears = [
            one for id, one in short.items() if id in decision.findings or set(one.subjects) & set(decision.things)
        ]
        bears.sort(key=lambda one: one.id not in decision.findings)
        figures = [
            " ".join(filter(None, (one.title, measured_words(one, units), margin and f"({margin})")))
            for one in bears
            for margin in (_margin(one, units),)
        ]
        yield decision.id, choice_words(decision, list(dict.fromkeys(figures)))


def _margin(finding: Finding, units: System) -> str:
    """Return what is missing; nothing where none is asked, since all of it is too much."""
    asked = asks(finding.required, units) if finding.required is not None else "none"
    return "" if asked == "none" else margin_words(finding, units)


def _for_need(column: Column, told: dict[str, str], need: Matched | None, covered: set[str]) -> str:
    if need is None:
        return NOTHING
    found = [one for one in column.project.decisions if need.id in one.needs]
    covered.update(one.id for one in found)
    return "\n\n".join(told[one.id] for one in found) or "No decision names this need."


def _subjects(
    columns: Sequence[Column], told: Sequence[dict[str, str]], covered: Sequence[set[str]], heads: tuple[str, ...]
) -> Table:
    decisions = matched([[Matched(column.project.id, one.id, one.number, one.title) for one in column.project.decisions]
                         for column in columns])  # fmt: skip
    rows: list[Row] = []
    for row in decisions:
        there = [(n, one) for n, one in enumerate(row) if one is not None]
        # What stands under a shared need already is not told again, unless a project would miss it there.
        if len(there) > 1 and any(one.id not in covered[n] for n, one in there):
            cells = [told[n][one.id] if one is not None else NOTHING for n, one in enumerate(row)]
            rows.append((shortened(there[0][1].text, _LONG), *cells))
    note = f"Decisions that stand under no shared need are {_HOW}."
    return Table("Choices on the same subject", ("Subject", *heads), tuple(rows), note=note)
