"""Verdicts side by side: how many, by level and by topic, and the rules on which the projects differ."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from typing import Final

from enfilade.archive.comparing.columns import Column
from enfilade.archive.comparing.rooms import NOTHING
from enfilade.archive.comparing.topics import TOPICS, topic_of
from enfilade.checks.answers import Standing, answers_by_finding, standing_of
from enfilade.checks.sentences import BESIDE, LEVELS, margin_words, measured_words
from enfilade.findings import Finding
from enfilade.lengths import System
from enfilade.walkthrough.pages import Row, Table

__all__ = ["ACCEPTED", "SHORT", "judged", "verdict_tables"]

MET: Final = "Holds"
SHORT: Final = "Falls short"
ACCEPTED: Final = "Accepted"
UNKNOWN: Final = "Not assessed"
_WORDS: Final = {MET: "hold", SHORT: "fall short", ACCEPTED: "accepted", UNKNOWN: "not assessed"}
_WORST: Final = (SHORT, ACCEPTED, UNKNOWN, MET)
_Judged = tuple[Finding, str]


def verdict_tables(columns: Sequence[Column]) -> tuple[Table, ...]:
    """Return verdicts in all, by level, by topic, and rule by rule where they differ."""
    each = [judged(column) for column in columns]
    heads = tuple(column.head for column in columns)
    counted = [Counter(how for _, how in found) for found in each]
    rows = tuple((how, *(str(one[how]) for one in counted)) for how in (*_WORDS, BESIDE))
    note = (
        "Accepted: it falls short, and an answer that still holds accepts it or finds it not relevant; "
        "not counted again as falling short."
    )
    return (
        Table("Verdicts", ("Verdict", *heads), rows, tuple(range(1, len(columns) + 1)), note),
        Table("Verdicts by level", ("Level", *heads), _sorted(each, list(LEVELS.items()), lambda one: one.level)),
        Table(
            "Verdicts by topic",
            ("Topic", *heads),
            _sorted(each, [(t, t) for t in TOPICS], lambda one: topic_of(one.rule)),
        ),
        _differing(columns, each, heads),
    )


def judged(column: Column) -> list[_Judged]:
    """Return each finding with the word for it; one that falls short and is accepted is told as accepted."""
    answers = answers_by_finding(column.project.answers)

    def how(finding: Finding) -> str:
        if finding.verdict == "not assessed":
            return BESIDE if finding.because in ("does not apply", "source silent") else UNKNOWN
        if finding.verdict == "met":
            return MET
        answer = answers.get(finding.id)
        settled = answer is not None and answer.kind != "to mend" and standing_of(answer, finding) is Standing.HOLDS
        return ACCEPTED if settled else SHORT

    return [(finding, how(finding)) for finding in column.state.findings]


def _sorted(
    each: Sequence[Sequence[_Judged]], keys: Sequence[tuple[str, str]], key: Callable[[Finding], str]
) -> tuple[Row, ...]:
    """Return a row a level or topic, with how many of each verdict; without those that say nothing anywhere."""
    rows = []
    for name, shown in keys:
        counted = [Counter(how for finding, how in found if key(finding) == name and how in _WORDS) for found in each]
        if any(counted):
            rows.append((shown, *(_tally(one) for one in counted)))
    return tuple(rows)


def _tally(counted: Counter[str]) -> str:
    return ", ".join(f"{counted[how]} {words}" for how, words in _WORDS.items() if counted[how]) or NOTHING


def _differing(columns: Sequence[Column], each: Sequence[Sequence[_Judged]], heads: tuple[str, ...]) -> Table:
    """Return the rules of which one project falls short, or cannot be judged, and another does not."""
    units = columns[0].project.show.units
    grouped: dict[tuple[str, str], list[list[_Judged]]] = {}
    for place, found in enumerate(each):
        for finding, how in found:
            if how in _WORDS:
                key = (finding.rule, finding.title)
                grouped.setdefault(key, [[] for _ in columns])[place].append((finding, how))
    rows = []
    for (_, title), cells in grouped.items():
        states = {_worst(cell) for cell in cells}
        if len(states) > 1 and (states & {SHORT, ACCEPTED} or states >= {MET, UNKNOWN}):
            first = next(cell[0][0] for cell in cells if cell)
            label = first.source.label or first.source.document
            row = (f"{title}: {label}, {LEVELS[first.level].lower()}", *(_cell(cell, units) for cell in cells))
            rows.append((list(LEVELS).index(first.level), TOPICS.index(topic_of(first.rule)), row))
    rows.sort(key=lambda one: one[:2])
    note = (
        "Each figure is a project's worst. A dash: it has nothing that the rule speaks of, or its set lacks the rule."
    )
    return Table("Where the verdicts differ", ("Rule", *heads), tuple(row for *_, row in rows), note=note)


def _worst(cell: Sequence[_Judged]) -> str:
    there = {how for _, how in cell}
    return next((how for how in _WORST if how in there), "")


def _cell(cell: Sequence[_Judged], units: System) -> str:
    if not cell:
        return NOTHING
    worst = _worst(cell)
    those = [finding for finding, how in cell if how == worst]
    told = min(those, key=lambda one: one.margin if one.margin is not None else 0.0)
    many = f" in {len(those)} of {len(cell)}" if len(cell) > 1 and len(those) < len(cell) else ""
    if told.measured is None:
        return f"{worst}{many}"
    margin = margin_words(told, units)
    return f"{worst}{many}: {measured_words(told, units)}{f', {margin}' if margin else ''}"
