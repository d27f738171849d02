"""A lesson: hindsight that was kept with a decision, and where it was learnt."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any, Final

from enfilade.findings import Finding
from enfilade.project.choices import Decision
from enfilade.project.project import Project

__all__ = ["Figure", "Lesson", "facets_of", "lesson_from", "lessons_of", "words_of"]

_WRITER: Final = json.JSONEncoder(sort_keys=True, separators=(",", ":"))
_LONGEST: Final = 400
_MOST_WORDS: Final = 60
_WORD: Final = re.compile(r"[^\W\d_]{4,30}")
_COMMON_WORDS: Final = """
about above after again against along also always another around because been before being below between both
could does down each even every from have here house into just keep like made make many more most much must
need needs never only other over room rooms same should some stand still such than that their them then there
these they this those three through together under until very want wants well were what when where which while
will with within without would your
"""
_COMMON: Final = frozenset(_COMMON_WORDS.split())
"""Words that say nothing of what a text is about."""


@dataclass(frozen=True)
class Figure:
    """What a finding of the lesson's decision measured against what was asked; None where it was not assessed.

    Attributes:
        asked: The number that was asked, or the low and the high one [unit].
        measured: The figure there [unit].
    """

    rule: str
    title: str
    how: str = ""
    asked: float | tuple[float, float] | None = None
    unit: str = ""
    measured: float | None = None
    short: bool = False


@dataclass(frozen=True)
class Lesson:
    """What to do differently next time.

    Attributes:
        record: Id of the decision with which it was kept.
        number, title: Of that decision.
        text: The lesson's own words.
        choice: What had been chosen; empty where nothing was.
        needs: Texts of the needs that the decision answers.
        uses: What its rooms are.
        things: Its things as `kind@use`.
        figures: Of the findings that bear on it.
    """

    record: str
    number: int
    title: str
    text: str
    choice: str
    needs: tuple[str, ...]
    uses: tuple[str, ...]
    things: tuple[str, ...]
    figures: tuple[Figure, ...]

    @property
    def rules(self) -> frozenset[str]:
        """The rules that its findings were of."""
        return frozenset(figure.rule for figure in self.figures)

    def as_text(self) -> str:
        """Return it as the archive keeps it; equal lessons give equal texts."""
        plain = {**vars(self), "figures": [vars(figure) for figure in self.figures]}
        return _WRITER.encode(plain)


def lessons_of(project: Project, findings: Iterable[Finding] = ()) -> list[Lesson]:
    """Return the lessons of a project, by the number of their decisions.

    Args:
        project: The house.
        findings: What was found of it; without them, a lesson knows its rules and no figures.
    """
    taught = [one for one in project.decisions if one.hindsight.strip()]
    known = {finding.id: finding for finding in findings} if taught else {}
    return [_lesson(project, one, known) for one in sorted(taught, key=lambda one: (one.number, one.id))]


def _lesson(project: Project, decision: Decision, findings: dict[str, Finding]) -> Lesson:
    uses = {space.id: space.use for space in project.spaces}
    needs = {need.id: need.text for need in project.brief.needs}
    things = [project.things_by_id[id] for id in decision.things if id in project.things_by_id]
    return Lesson(
        record=decision.id,
        number=decision.number,
        title=decision.title,
        text=decision.hindsight,
        choice=decision.chosen.text[:_LONGEST] if decision.chosen else "",
        needs=tuple(needs[id][:_LONGEST] for id in decision.needs if id in needs),
        uses=tuple(sorted({uses[id] for id in decision.spaces if id in uses})),
        things=tuple(dict.fromkeys(f"{one.kind}@{uses.get(one.space, '')}" for one in things)),
        figures=tuple(_figure(id, findings.get(id)) for id in decision.findings),
    )


def _figure(id: str, finding: Finding | None) -> Figure:
    if finding is None:
        return Figure(id.partition(":")[0], "")
    if finding.measured is None or finding.required is None:
        return Figure(finding.rule, finding.title)
    unit = finding.required.unit
    measured = finding.measured.to(unit).value
    short = finding.verdict == "falls short"
    return Figure(finding.rule, finding.title, finding.required.how, finding.required.value, unit, measured, short)


def lesson_from(text: str) -> Lesson:
    """Read a lesson as the archive keeps it."""
    plain: dict[str, Any] = json.loads(text)
    for name in ("needs", "uses", "things"):
        plain[name] = tuple(plain[name])
    figures = []
    for one in plain["figures"]:
        asked = one["asked"]
        figures.append(Figure(**{**one, "asked": tuple(asked) if isinstance(asked, list) else asked}))
    return Lesson(**{**plain, "figures": tuple(figures)})


def facets_of(lesson: Lesson) -> tuple[str, ...]:
    """Return by what a lesson is looked up: its things, its rules, and the words of its needs and title."""
    words = words_of([lesson.title, *lesson.needs])
    facets = [*(f"thing {one}" for one in lesson.things), *(f"rule {one}" for one in sorted(lesson.rules)),
              *(f"word {one}" for one in words)]  # fmt: skip
    return tuple(dict.fromkeys(facets))


def words_of(texts: Sequence[str]) -> list[str]:
    """Return the words that say what texts are about, each once, the first so many.

    >>> words_of(["Two people cook at the same time.", "A place to cook"])
    ['people', 'cook', 'time', 'place']
    """
    found: dict[str, None] = {}
    for text in texts:
        for word in _WORD.findall(text[:_LONGEST].casefold()):
            if word not in _COMMON:
                found[word] = None
        if len(found) >= _MOST_WORDS:
            break
    return list(found)[:_MOST_WORDS]
