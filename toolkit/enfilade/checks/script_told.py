"""Every line of the script with its place, as the checks of the script look at them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from enfilade.checks.view import View
from enfilade.project.fields import AUDIENCES, Audience
from enfilade.project.people import Show
from enfilade.project.speaking import SpokenLine, Stop

__all__ = ["ToldLine", "tellings", "told_lines", "words_of"]

_QUOTED = 60


@dataclass(frozen=True, slots=True)
class ToldLine:
    """One line with its place.

    Attributes:
        line: What is said.
        room: Id of the room in which it is said; None for what joins the parts.
        subject: By which a finding names it: the stop's or the part's id, and the line's.
    """

    line: SpokenLine
    room: str | None
    subject: str

    @property
    def quoted(self) -> str:
        """Return how the line begins, in quotation marks."""
        text = " ".join(self.line.text.split())
        cut = text if len(text) <= _QUOTED else f"{text[:_QUOTED].rstrip()}…"
        return f"“{cut}”"


def told_lines(view: View) -> tuple[ToldLine, ...]:
    """Return every line in the order in which the record holds them: of the rooms, then what joins the parts."""
    return tuple(_lines(view.script, view.show))


def _lines(script: Iterable[Stop], show: Show) -> Iterator[ToldLine]:
    for stop in script:
        yield from (ToldLine(line, stop.space, f"{stop.id}/{line.id}") for line in stop.lines)
    for part in show.speaking.parts:
        joining = (*part.recap, *part.lead_in)
        yield from (ToldLine(line, None, f"{part.id}/{line.id}") for line in joining)


def tellings(script: Iterable[Stop]) -> dict[tuple[str, Audience], list[SpokenLine]]:
    """Return, by decision and audience, the first line of each time that the decision is told to the audience.

    Lines of one stop that follow one another tell it once. What joins the parts may repeat, and is not counted.
    """
    found: dict[tuple[str, Audience], list[SpokenLine]] = {}
    for stop in script:
        for audience in AUDIENCES:
            before: frozenset[str] = frozenset()
            for line in stop.lines:
                if audience in line.hear:
                    tells = frozenset(line.decisions)
                    for decision in tells - before:
                        found.setdefault((decision, audience), []).append(line)
                    before = tells
    return found


def words_of(audiences: Iterable[Audience]) -> str:
    """Return audiences as people say them."""
    named = {"client": "the client", "public": "the public", "student": "students", "studio": "the studio"}
    return ", ".join(named[one] for one in AUDIENCES if one in set(audiences))
