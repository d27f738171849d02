"""Where to cut when the script is longer than it should be: the least important decisions first.

How much a decision matters is our own choice of order. It is read off the record: what answers needs, was changed on
site, is still open, touches a hazard or falls short matters to whoever listens; so does what cost much, was weighed
between several options, or would be done otherwise next time.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from statistics import median
from typing import Final

from enfilade.findings import Finding
from enfilade.project.choices import Decision
from enfilade.project.project import Project
from enfilade.project.speaking import SpokenLine
from enfilade.walkthrough.pages import Cut, Spoken, SpokenPart
from enfilade.walkthrough.telling import Telling

__all__ = ["cut_down", "importance", "weights_of"]

_NEED: Final = 2.0
_MOST_NEEDS: Final = 3
_CHANGED_ON_SITE: Final = 3.0
_STILL_OPEN: Final = 3.0
_FALLS_SHORT: Final = 2.0
_HAZARD: Final = 2.0
_HINDSIGHT: Final = 1.0
_MOST_OPTIONS: Final = 3
_DEAREST: Final = 3.0
_FINDING_ALONE: Final = 5.0
"""Of a line that tells what falls short and no decision."""


def importance(decision: Decision, findings: dict[str, Finding], dearest: float) -> float:
    """Return how much a decision matters to whoever listens [-].

    Args:
        decision: The decision.
        findings: All findings, by id.
        dearest: The cost of the dearest choice in the house; 0 when no cost is recorded.
    """
    bearing = [findings[id] for id in decision.findings if id in findings]
    chosen = decision.chosen
    cost = float(chosen.cost) if chosen is not None and chosen.cost is not None else 0.0
    return (
        _NEED * min(len(decision.needs), _MOST_NEEDS)
        + _CHANGED_ON_SITE * (decision.status == "changed on site")
        + _STILL_OPEN * (decision.status == "undecided")
        + _FALLS_SHORT * any(finding.verdict == "falls short" for finding in bearing)
        + _HAZARD * any(finding.caution for finding in bearing)
        + _HINDSIGHT * bool(decision.hindsight)
        + min(max(len(decision.options) - 1, 0), _MOST_OPTIONS)
        + (_DEAREST * cost / dearest if dearest > 0 else 0.0)
    )


def weights_of(project: Project, findings: Iterable[Finding]) -> dict[str, float]:
    """Return how much each decision matters, by its id (see `importance`)."""
    known = {finding.id: finding for finding in findings}
    chosen = (decision.chosen for decision in project.decisions)
    costs = [float(option.cost) for option in chosen if option is not None and option.cost is not None]
    dearest = max(costs, default=0.0)
    return {decision.id: importance(decision, known, dearest) for decision in project.decisions}


@dataclass(frozen=True)
class _Line:
    """A line that could be left out: its place in the script, and how much it matters."""

    said: SpokenPart
    record: SpokenLine
    space: str
    at: int
    """Its place among the lines of its stop."""
    order: int
    matters: float

    @property
    def takes_ms(self) -> int:
        return round(self.said.seconds * 1000) + round(self.said.pause_s * 1000)


def cut_down(telling: Telling, whole: Spoken) -> tuple[tuple[Cut, ...], str]:
    """Return what could be left out to come down to the target length, and why that is not enough.

    The lines of the least important decision come first, and of those the last that is said. A line that tells no
    decision ranks with the middle one of those that are told. The last line that is left in a room, and what
    joins the parts, are never proposed: no room falls silent. The order does not hang on the target, so a shorter
    one takes the same lines and more.
    """
    if whole.target_s is None:
        return (), ""
    over_ms = round(whole.seconds * 1000) - int(whole.target_s * 1000)
    lines = sorted(_lines(telling, whole), key=lambda line: (line.matters, -line.at, -line.order))
    left = Counter(line.space for line in lines)
    cuts = []
    for line in lines:
        if over_ms <= 0:
            break
        if left[line.space] > 1 and line.takes_ms:
            left[line.space] -= 1
            over_ms -= line.takes_ms
            cuts.append(Cut(line.said.id, line.said.shown, line.takes_ms / 1000, _why(telling, line.record)))
    return tuple(cuts), _too_long(whole, left, over_ms)


def _lines(telling: Telling, whole: Spoken) -> Iterator[_Line]:
    project = telling.project
    weights = weights_of(project, telling.findings)
    records = {f"{stop.id}/{line.id}": line for stop in project.script for line in stop.lines}
    told = {id for line in records.values() for id in line.decisions if id in weights}
    middle = median(weights[id] for id in told) if told else 0.0
    order = 0
    for stop in (stop for part in whole.parts for stop in part.stops):
        for at, line in enumerate(stop.lines):
            record = records[line.id]
            tells = [weights[id] for id in record.decisions if id in weights]
            alone = max(_FINDING_ALONE, middle) if record.findings else middle
            yield _Line(line, record, stop.space, at, order, max(tells, default=alone))
            order += 1


def _why(telling: Telling, line: SpokenLine) -> str:
    told = [decision for decision in telling.project.decisions if decision.id in line.decisions]
    if not told:
        return "It tells what falls short, and no decision." if line.findings else "It tells no decision."
    words = []
    for decision in told:
        count = len(decision.needs)
        needs = f"{'one need' if count == 1 else f'{count} needs'} of the brief" if count else "no need of the brief"
        words.append(f"decision {decision.number}, {decision.title}, which answers {needs}")
    return f"It tells {'; and '.join(words)}."


def _too_long(whole: Spoken, left: Counter[str], over_ms: int) -> str:
    if over_ms <= 0 or whole.target_s is None:
        return ""
    walks_ms = sum(round(stop.walk_s * 1000) for part in whole.parts for stop in part.stops)
    joins = sum(len(part.recap) + len(part.lead_in) for part in whole.parts)
    stays = [f"{len(left)} rooms keep one line each" if len(left) > 1 else "one room keeps one line"] if left else []
    stays += [f"the walks take {_minutes(walks_ms)}"] if walks_ms else []
    stays += ["what joins the parts stays"] if joins else []
    return f"Without all of these it is still {_minutes(over_ms)} too long: {'; '.join(stays)}."


def _minutes(ms: int) -> str:
    """Write a length of time: `4 min 5 s`, `12 s`."""
    minutes, seconds = divmod(-(-ms // 1000), 60)
    return f"{minutes} min {seconds} s" if minutes else f"{seconds} s"
