"""Why a lesson comes back: what a house records that the lesson was about."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any, Final

from enfilade.archive.changing_verdicts import about, house_names
from enfilade.archive.lessons.lesson import Lesson, words_of
from enfilade.archive.lessons.reminder import Reason
from enfilade.archive.stated import Stated
from enfilade.checks.sentences import margin_words, measured_words
from enfilade.editing.forms.called import shortened
from enfilade.findings import Finding
from enfilade.listing import listed
from enfilade.project.thing import Thing

__all__ = ["ALIKE", "House"]

ALIKE: Final = 72.0
"""So alike are two needs, or two subjects, that a lesson of one is told at the other: token sort ratio of 100
(rapidfuzz; own choice)."""
_FINDING: Final = 0.95
_NEED: Final = 0.9
_DECISION: Final = 0.85
"""How strong a reason is, for the order of reminders (own choice: what was measured before what is worded alike)."""
_THING: Final = 0.4
_MORE_THINGS: Final = 0.05
_MOST_THINGS: Final = 0.6
"""The same of things in common: of one, of each more, and at most (own choice: nearly every house has a sink; the
weakest likeness of words, 0.85 of 72 in 100, is 0.61 and comes before them)."""
_LONGEST: Final = 400
_SAID: Final = 100
_MOST_TEXTS: Final = 500
"""So many needs, and so many decisions, are compared by their words."""


@dataclass(frozen=True)
class House:
    """A house as lessons are looked up for it."""

    state: Stated

    @cached_property
    def things(self) -> dict[str, list[Thing]]:
        """What stands there by `kind@use`, without what is to be removed."""
        uses = {space.id: space.use for space in self.state.project.spaces}
        found: dict[str, list[Thing]] = {}
        for thing in self.state.project.things:
            if thing.state != "removed":
                found.setdefault(f"{thing.kind}@{uses.get(thing.space, '')}", []).append(thing)
        return found

    @cached_property
    def short(self) -> dict[str, list[Finding]]:
        """What falls short, by rule."""
        found: dict[str, list[Finding]] = {}
        for finding in self.state.findings:
            if finding.verdict == "falls short":
                found.setdefault(finding.rule, []).append(finding)
        return found

    @cached_property
    def texts(self) -> list[tuple[str, str, float]]:
        """Needs and subjects of decisions: the record, its text, and how much it weighs."""
        project = self.state.project
        needs = [(f"needs/{one.id}", one.text[:_LONGEST], _NEED) for one in project.brief.needs[:_MOST_TEXTS]]
        return needs + [(f"decisions/{one.id}", one.title, _DECISION) for one in project.decisions[:_MOST_TEXTS]]

    @cached_property
    def facets(self) -> tuple[str, ...]:
        """By what lessons are looked up for it."""
        words = dict.fromkeys(word for _, text, _ in self.texts for word in words_of([text]))
        return (*(f"rule {rule}" for rule in self.short), *(f"thing {one}" for one in self.things),
                *(f"word {word}" for word in words))  # fmt: skip

    def reasons(self, lessons: Sequence[Lesson]) -> list[tuple[Reason, ...]]:
        """Return for each lesson why it comes back here, the best reason first; empty when it does not."""
        by_words = self._by_words(lessons)
        return [
            tuple(sorted((*self._findings(one), *by_words[n], *self._things(one)), key=lambda r: (r.sort, -r.strength)))
            for n, one in enumerate(lessons)
        ]

    def _findings(self, lesson: Lesson) -> Iterator[Reason]:
        units = self.state.project.show.units
        for rule in sorted(lesson.rules & self.short.keys()):
            worst = min(self.short[rule], key=lambda one: one.margin or 0.0)
            figures = ", ".join(filter(None, (measured_words(worst, units), margin_words(worst, units))))
            there = "as it did there" if any(one.short and one.rule == rule for one in lesson.figures) else (
                "and the lesson was learnt at the same rule"
            )  # fmt: skip
            yield Reason(f"findings/{worst.id}", f"{about(worst, self._names)} falls short here ({figures}), {there}.",
                         _FINDING)  # fmt: skip

    @cached_property
    def _names(self) -> dict[str, str]:
        return house_names(self.state.project)

    def _by_words(self, lessons: Sequence[Lesson]) -> list[list[Reason]]:
        """Return the needs that ask much the same, and the decisions on the same subject, of each lesson."""
        found: list[list[Reason]] = [[] for _ in lessons]
        for kind, said in (("needs", [one.needs for one in lessons]), ("decisions", [(one.title,) for one in lessons])):
            here = [one for one in self.texts if one[0].startswith(kind)]
            there = [(n, text) for n, texts in enumerate(said) for text in texts]
            best: dict[int, Reason] = {}
            for at, place, ratio in _alike([text for _, text in there], [text for _, text, _ in here]):
                n, (record, text, weight) = there[at][0], here[place]
                reason = Reason(record, _alike_words(kind, text, ratio), weight * ratio / 100)
                if n not in best or reason.strength > best[n].strength:
                    best[n] = reason
            for n, reason in best.items():
                found[n].append(reason)
        return found

    def _things(self, lesson: Lesson) -> Iterator[Reason]:
        same = [one for one in lesson.things if one in self.things]
        if not same:
            return
        named = [kind_words(one) for one in same]
        strength = min(_MOST_THINGS, _THING + _MORE_THINGS * (len(same) - 1))
        yield Reason(f"things/{self.things[same[0]][0].id}", f"There is {listed(named, 3)} here too.", strength)


def kind_words(kind: str) -> str:
    """Return a thing with its room as one says it.

    >>> kind_words("island@kitchen"), kind_words("wall cabinet@other")
    ('an island in a kitchen', 'a wall cabinet')
    """
    thing, _, use = kind.partition("@")
    room = {"other": "", "": "", "outside": " outside"}.get(use, f" in {_article(use)} {use}")
    return f"{_article(thing)} {thing}{room}"


def _article(word: str) -> str:
    return "an" if word[:1] in "aeio" else "a"


def _alike_words(kind: str, text: str, ratio: float) -> str:
    said = f"\u201c{shortened(text, _SAID)}\u201d"
    if kind == "needs":
        return f"A need here asks much the same: {said} ({ratio:.0f} of 100 alike)."
    return f"A decision here is on much the same subject: {said} ({ratio:.0f} of 100 alike)."


def _alike(there: Sequence[str], here: Sequence[str]) -> Iterator[tuple[int, int, float]]:
    if not there or not here:
        return
    import numpy as np
    from rapidfuzz import fuzz, process, utils

    sides: list[list[Any]] = [[utils.default_process(text) for text in side] for side in (there, here)]
    ratios = process.cdist(*sides, scorer=fuzz.token_sort_ratio, score_cutoff=ALIKE, workers=1)
    for at, place in np.argwhere(ratios >= ALIKE):
        if sides[0][at] and sides[1][place]:
            yield int(at), int(place), float(ratios[at, place])
