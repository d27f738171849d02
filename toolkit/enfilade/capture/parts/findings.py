"""What falls short in the room, the few most worth mending first, each to be answered in place."""

from __future__ import annotations

import datetime as dt
from typing import Any, Final

from enfilade.capture.desk import Desk
from enfilade.capture.scenes import room_scene
from enfilade.capture.sight import Sight, text_of
from enfilade.checks.answers import answers_by_finding, falls_short_unsettled, standing_of
from enfilade.checks.sentences import cautions_of, tally
from enfilade.editing.answering import answer_taken_back, answered
from enfilade.errors import NotFound
from enfilade.findings import Finding
from enfilade.walkthrough.findings_part import finding_parts, names_of
from enfilade.walkthrough.pages import FindingPart
from enfilade.walkthrough.ranking import by_urgency, worth_mending

__all__ = ["HANDLERS", "NAME", "shown"]

NAME: Final = "findings"
_SHORTEST: Final = 5


def shown(desk: Desk, sight: Sight) -> dict[str, Any]:
    """Return the findings of the room in words, in four groups, with the answers that were given."""
    project = desk.project
    if sight.room is None:
        return {"nothing": "Findings appear here once a room is drawn."}
    findings = desk.findings(sight.room)
    answers = answers_by_finding(project.answers)
    names = names_of(project)
    key = room_scene(desk, sight, sight.room).key
    numbers = {line.finding: line.number for line in key if line.number}
    worth = worth_mending(findings, answers, _SHORTEST)
    waiting = {finding.id for finding in falls_short_unsettled(findings, answers)}
    chosen = {finding.id for finding in worth}
    house = _of_the_house(desk) if sight.act == "check" else []
    by_id = {finding.id: finding for finding in (*findings, *house)}

    here = _on_the_plan(desk, sight.room)

    def told(these: list[Finding]) -> list[dict[str, Any]]:
        parts = finding_parts(these, answers, project.show.units, numbers, names)
        return [
            _plain(part, by_id[part.id], answers)
            | {"draft": _draft(desk, part.id), "subjects": [s for s in by_id[part.id].subjects if s in here]}
            for part in parts
        ]

    return {
        "tally": [[name, count] for name, count in tally(findings).items()],
        "worth": told(worth),
        "short": told([one for one in by_urgency(findings) if one.id not in chosen and one.id in waiting]),
        "answered": told([one for one in by_urgency(findings) if one.id not in waiting]),
        "open": told([one for one in findings if one.because == "missing fact"]),
        "house": told(house),
        "held": [part["sentence"] for part in told([one for one in findings if one.verdict == "met"])],
        "cautions": list(cautions_of(findings)),
        "people": _people(desk),
    }


def _plain(part: FindingPart, finding: Finding, answers: dict[str, Any]) -> dict[str, Any]:
    answer = answers.get(finding.id)
    return {
        "id": part.id,
        "number": part.number,
        "about": part.about,
        "sentence": part.sentence,
        "verdict": part.verdict,
        "level": part.level,
        "working": list(part.working),
        "also": list(part.also),
        "source": part.source,
        "known": part.known,
        "caution": part.caution,
        "assumed": list(part.assumed),
        "answer": part.answer,
        "kind": answer.kind if answer else "",
        "reason": answer.reason if answer else "",
        "by": answer.by if answer else "",
        "lapsed": bool(answer and standing_of(answer, finding).value == "worsened"),
    }


def _of_the_house(desk: Desk) -> list[Finding]:
    """Return what falls short or lacks a fact in the house as a whole."""
    found = [one for one in desk.findings() if one.space is None]
    return [*by_urgency(found), *(one for one in found if one.because == "missing fact")]


def _on_the_plan(desk: Desk, room: str) -> set[str]:
    """Return what can be selected on the room's plan."""
    project, walls = desk.project, {wall.id for wall in desk.project.space(room).walls}
    things = [thing.id for thing in project.things if thing.space == room and thing.state != "removed"]
    openings = [one.id for one in project.openings if walls & {one.wall, one.beyond}]
    return {*things, *openings, *walls}


def _people(desk: Desk) -> list[str]:
    """Return the names that were signed with before, for the form to offer."""
    project = desk.project
    names = [answer.by for answer in project.answers] + [decision.by for decision in project.decisions]
    return sorted({name for name in [*names, project.show.studio.designer] if name})


def _answer(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    id = text_of(message, "finding", longest=2000)
    found = [*desk.findings(sight.room), *(desk.findings() if sight.act == "check" else ())]
    finding = next((one for one in found if one.id == id), None)
    if finding is None:
        raise NotFound("this finding is not there any more; the house has changed since")
    kind = text_of(message, "kind", longest=40)
    reason, by = text_of(message, "reason"), text_of(message, "by", longest=400)
    project = answered(desk.project, finding, kind, reason, by, dt.date.today())
    desk.change(f"answered {finding.title}", project)
    desk.drafts.drop(("answers", id))
    return f"{finding.title}: answered, {kind}"


def _keep(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    """Keep an answer that is being typed, so that a page that is loaded again shows it."""
    typed = {name: text_of(message, name) for name in ("kind", "reason", "by")}
    desk.drafts.keep(("answers", text_of(message, "finding", longest=2000)), typed, "")
    return ""


def _draft(desk: Desk, finding: str) -> Any:
    draft = desk.drafts.get(("answers", finding))
    return draft.typed if draft is not None else None


def _take_back(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    desk.change("took an answer back", answer_taken_back(desk.project, text_of(message, "finding", longest=2000)))
    return "Answer taken back"


HANDLERS: Final = {"answer": _answer, "keep answer": _keep, "take answer back": _take_back}
