"""What falls short and was accepted, and what is still to be put right, told gently."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final

from enfilade.checks.answers import Standing, answers_by_finding, standing_of
from enfilade.findings import Finding
from enfilade.project.choices import Answer
from enfilade.project.fields import Audience
from enfilade.project.project import Project
from enfilade.walkthrough.drafting.binding import Binding
from enfilade.walkthrough.drafting.items import MOST_SHOWN, Item, about, shot_of
from enfilade.walkthrough.drafting.voice import Voice
from enfilade.walkthrough.drafting.wording import Wording, sentences

__all__ = ["shortfalls"]

_ANSWERED: Final[tuple[Audience, ...]] = ("client", "student", "studio")


def shortfalls(
    project: Project, findings: Iterable[Finding], space: str, voice: Voice, wording: Wording, binding: Binding
) -> Iterator[Item]:
    """Yield what is told of the findings of a room that fall short and were answered; an answer that lapsed is not."""
    answers = answers_by_finding(project.answers)
    for finding in findings:
        answer = answers.get(finding.id)
        if finding.space != space or finding.verdict != "falls short" or answer is None:
            continue
        if standing_of(answer, finding) is Standing.HOLDS and answer.reason.strip():
            text = _text(finding, answer, voice, wording, binding)
            if text:
                things = tuple(id for id in finding.subjects if id in project.things_by_id)[:MOST_SHOWN]
                yield Item(
                    about=about("finding", finding.id),
                    text=text,
                    things=things,
                    findings=(finding.id,),
                    shot=shot_of(project, things),
                    hear=_ANSWERED,
                )


def _text(finding: Finding, answer: Answer, voice: Voice, wording: Wording, binding: Binding) -> str:
    reason = sentences(answer.reason)
    if answer.kind == "to mend":
        return voice.say("mend", "mend", finding.id, X=reason)
    if answer.kind != "accepted":
        return ""
    measured, asked = (binding.of_finding(name, finding.id) for name in ("measured", "asked"))
    required = finding.required
    one_sided = required is not None and required.unit in ("mm", "in") and required.how in ("at least", "at most")
    if not (measured and asked and one_sided) or required is None:
        return voice.say("accepted", "plain", finding.id, X=reason)
    what = wording.the(finding.title.partition(",")[0])
    return voice.say(
        "accepted",
        "measured",
        finding.id,
        X=reason,
        what=what,
        What=sentences(what).rstrip("."),
        measured=measured,
        asked=f"{required.how} {asked}",
    )
