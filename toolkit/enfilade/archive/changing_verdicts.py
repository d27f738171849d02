"""What became of verdicts between two states of a house: by the house, or by the rules alone."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Final

from enfilade.archive.stated import Stated
from enfilade.checks.run import check
from enfilade.checks.sentences import BECAUSE, asks, margin_words, measured_words
from enfilade.checks.shown import Names
from enfilade.findings import Finding
from enfilade.lengths import TOLERANCE_MM, System
from enfilade.project.project import Project
from enfilade.quantities import convert
from enfilade.walkthrough.change_words import Told

__all__ = ["about", "house_names", "told_verdicts"]

_SHORT: Final = {"code": 5, "access": 5, "recommended": 6, "practice": 7}
_SHORTER: Final = 8
_LESS_SHORT: Final = 24
_MENDED: Final = 25
_UNKNOWN: Final = 45
_RULES: Final = 90


@dataclass(frozen=True)
class _Turn:
    """A finding whose verdict is another than before; None where it was not there."""

    was: Finding | None
    now: Finding | None

    @property
    def known(self) -> Finding:
        found = self.now or self.was
        assert found is not None
        return found


def told_verdicts(before: Stated, after: Stated) -> list[Told]:
    """Return which findings turned, those of the house apart from those that another set of rules alone made.

    A turn is of the house when today's rules, held against both states, see it too. What is turned in the kept
    findings, and not in these, was turned by the rules.
    """
    turns = list(_turns(before.findings, after.findings))
    if not turns and _same(before, after):
        return []
    then, now = (_by_id(check(one.project, yardstick=after.rules)) for one in (before, after))
    of_house = [turn for turn in turns if _seen(turn, then, now)]
    of_rules = [turn for turn in turns if not _seen(turn, then, now)]
    names, units = house_names(before.project, after.project), after.project.show.units
    told = _joined(of_house, names, units, _standing(before.project, after.project))
    if of_rules or not _same(before, after):
        told.append(Told(_RULES, "", _rules_differ(before, after)))
        told += [Told(_RULES + 1, one.room, f"by the rules alone, {one.words}")
                 for one in _joined(of_rules, names, units, frozenset())]  # fmt: skip
    return told


def _standing(before: Project, after: Project) -> frozenset[str]:
    """Return the ids of what still stands; none where who lives there changed, since rules come and go with them."""
    return frozenset(house_names(after)) if before.household == after.household else frozenset()


def _joined(turns: Iterable[_Turn], names: Mapping[str, str], units: System, standing: frozenset[str]) -> list[Told]:
    """Return what is told of turns; those that differ only in what they are about stand in one sentence."""
    alike: dict[tuple[int, str, str, str], list[tuple[str, ...]]] = {}
    for turn in turns:
        key = _rank(turn), turn.known.space or "", turn.known.title, _words(turn, units, standing)
        alike.setdefault(key, []).append(_subjects(turn.known, names))
    told = []
    for (rank, room, title, words), several in alike.items():
        many = f" ({len(several)} of them)" if len(several) > 1 else ""
        told.append(Told(rank, room, f"{_named(title, several)} {words}{many}"))
    return told


def _named(title: str, several: list[tuple[str, ...]]) -> str:
    shared = tuple(one for one in several[0] if all(one in other for other in several[1:]))
    if len(several) == 1 or not shared:
        told = "; ".join(", ".join(one) for one in dict.fromkeys(several))
    else:
        others = dict.fromkeys(one for subjects in several for one in subjects if one not in shared)
        told = f"{', '.join(shared)}{' with ' if others else ''}{', '.join(others)}"
    return f"{title} ({told})" if told else title


def house_names(*projects: Project) -> dict[str, str]:
    """Return what people call the things, walls and openings of a house, by id; where states differ, of the last."""
    called: dict[str, str] = {}
    for project in projects:
        called |= {wall.id: wall.name or "a wall" for space in project.spaces for wall in space.walls}
        called |= {one.id: one.name or one.kind for one in project.openings}
        called |= {thing.id: thing.called for thing in project.things}
    return called


def about(finding: Finding, names: Mapping[str, str]) -> str:
    """Return a finding's title with what it is about: `Work aisle, two cooks (island, oven tower)`."""
    return _named(finding.title, [_subjects(finding, names)])


def _subjects(finding: Finding, names: Mapping[str, str]) -> tuple[str, ...]:
    return tuple(Names(names).of(*(id for id in finding.subjects if id in names)))


def _same(before: Stated, after: Stated) -> bool:
    return (before.rules.name, before.rules.house_rules) == (after.rules.name, after.rules.house_rules)


def _by_id(findings: Iterable[Finding]) -> dict[str, Finding]:
    return {finding.id: finding for finding in findings}


def _turns(before: Iterable[Finding], after: Iterable[Finding]) -> Iterator[_Turn]:
    old, new = _by_id(before), _by_id(after)
    for id in dict.fromkeys((*new, *old)):
        turn = _Turn(old.get(id), new.get(id))
        if _weighs(turn):
            yield turn


def _weighs(turn: _Turn) -> bool:
    """Tell whether a turn says something: what begins or ceases to fall short, or what can or cannot be judged now."""
    was, now = _verdict(turn.was), _verdict(turn.now)
    unknown = any(one is not None and one.because == "missing fact" for one in (turn.was, turn.now))
    if was == now:
        return _further(turn.was, turn.now) != 0
    return "falls short" in (was, now) or (unknown and "met" in (was, now))


def _further(was: Finding | None, now: Finding | None) -> int:
    """Return 1 for what fell short and falls short by more, -1 by less, 0 for what is neither, up to the tolerance."""
    if was is None or now is None or not was.verdict == now.verdict == "falls short":
        return 0
    if was.margin is None or now.margin is None or was.required is None or now.required is None:
        return 0
    if was.required.unit != now.required.unit:
        return 0
    unit = now.required.unit
    slack = convert(TOLERANCE_MM, "mm", unit) if unit in ("mm", "in") else max(abs(was.margin), 1.0) * 1e-6
    by = was.margin - now.margin
    return 0 if abs(by) <= slack else 1 if by > 0 else -1


def _verdict(finding: Finding | None) -> str:
    return finding.verdict if finding is not None else ""


def _seen(turn: _Turn, then: Mapping[str, Finding], now: Mapping[str, Finding]) -> bool:
    was_now = then.get(turn.known.id), now.get(turn.known.id)
    if further := _further(turn.was, turn.now):
        return _further(*was_now) == further
    return _verdict(was_now[0]) != _verdict(was_now[1])


def _rank(turn: _Turn) -> int:
    if further := _further(turn.was, turn.now):
        return _SHORTER if further > 0 else _LESS_SHORT
    if _verdict(turn.now) == "falls short":
        return _SHORT[turn.known.level]
    return _MENDED if _verdict(turn.was) == "falls short" else _UNKNOWN


def _words(turn: _Turn, units: System, standing: frozenset[str]) -> str:
    """Return what became of a finding, without what it is about."""
    was, now = turn.was, turn.now
    if now is None:
        assert was is not None
        gone = not was.subjects or not standing.issuperset(was.subjects)
        return "is not looked at any more; it fell short" if gone else "no longer occurs"
    if now.verdict == "not assessed":
        return f"can no longer be judged: {BECAUSE[now.because or 'source silent']}; it {_past(was)}"
    state = "now falls short" if now.verdict == "falls short" else "now holds" if was is None else "holds again"
    if was is not None and was.verdict == "not assessed":
        state = "now falls short" if now.verdict == "falls short" else "can be judged now, and holds"
    if further := _further(was, now):
        state = "falls further short" if further > 0 else "falls short by less"
    assert now.required is not None
    # Where none is asked, all of it is too much.
    margin = margin_words(now, units) if asks(now.required, units) != "none" else ""
    figures = f"{measured_words(now, units)}, {f'{margin}, ' if margin else ''}asked {asks(now.required, units)}"
    before = f"; was {measured_words(was, units)}" if was is not None and was.measured is not None else ""
    if before and was is not None and was.required is not None and was.required != now.required:
        before += f", asked {asks(was.required, units)}"
    return f"{state}: {figures}{before}"


def _past(was: Finding | None) -> str:
    return "fell short" if _verdict(was) == "falls short" else "held"


def _rules_differ(before: Stated, after: Stated) -> str:
    if before.rules.name != after.rules.name:
        what = f"the set of rules is now {after.rules.title}, was {before.rules.title}"
    elif before.rules.house_rules != after.rules.house_rules:
        what = "the studio's house rules are others than before"
    else:
        what = "the published rules are read otherwise than when the earlier state was looked at"
    return f"{what}; what turned by that alone is told as such, and is no change of the house"
