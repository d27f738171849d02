"""The ledger of the room: each decision in sentences, opened in place into its form."""

from __future__ import annotations

import datetime as dt
from typing import Any, Final

from enfilade.capture.desk import Desk
from enfilade.capture.parts.fields import add_row
from enfilade.capture.sight import Sight, text_of
from enfilade.editing.forms.called import shortened
from enfilade.editing.forms.forms import Forms, grouped
from enfilade.editing.forms.offers import Offers, Option
from enfilade.errors import NotFound
from enfilade.project.choices import Decision
from enfilade.project.project import Project
from enfilade.walkthrough.decisions_part import decision_parts
from enfilade.walkthrough.pages import DecisionPart

__all__ = ["HANDLERS", "NAME", "shown"]

NAME: Final = "decisions"
_OPEN: Final = "open decisions"
_Order = tuple[bool, dt.date, int]
_LONGEST: Final = 220
_GROUPS: Final = {
    "What it is about": ("title", "needs", "spaces", "things"),
    "What was weighed": ("options",),
    "What was chosen": ("choice", "reason", "status"),
    "Who and when": ("by", "due", "on", "approved_on"),
    "Afterwards": ("changed", "hindsight"),
}


def shown(desk: Desk, sight: Sight) -> dict[str, Any]:
    """Return the decisions of the room, then those of the whole house; of those that are open, the form as well."""
    project = desk.project
    offers = Offers(project, {"findings": _findings(desk, sight)})
    forms = Forms(project, offers, desk.drafts)
    opened = _opened(sight)
    everywhere = sight.act == "decide"
    of_room = [one for one in project.decisions if (one.spaces if everywhere else sight.room in one.spaces)]
    of_house = [one for one in project.decisions if not one.spaces]

    def told(decisions: list[Decision]) -> list[dict[str, Any]]:
        parts = {part.number: part for part in decision_parts(project, decisions)}
        # An open one stays where it was opened, whatever is typed into it.
        order = sorted(decisions, key=lambda one: opened.get(one.id) or _pressing(one))
        return [_told(project, one, parts[one.number], forms if one.id in opened else None) for one in order]

    ledger = {
        "room": project.space(sight.room).name if sight.room and not everywhere else "",
        "everywhere": everywhere,
        "words": _counted(of_room, of_house),
        "decisions": told(of_room),
        "house": told(of_house),
        "new": forms.new(("decisions",)),
    }
    return {**ledger, "lists": offers.told}


def _told(project: Project, decision: Decision, part: DecisionPart, forms: Forms | None) -> dict[str, Any]:
    told: dict[str, Any] = {
        "id": decision.id,
        "number": decision.number,
        "title": decision.title,
        "status": part.status,
        "sentences": _sentences(project, decision, part),
        "open": forms is not None,
    }
    if forms is not None:
        told["groups"] = grouped(forms.form(("decisions", decision.id)), _GROUPS)
    return told


def _sentences(project: Project, decision: Decision, part: DecisionPart) -> list[str]:
    """Return a decision as it reads when it is closed: what was chosen and why, or what is still open."""
    lines = []
    chosen = next((option for option in part.options if option.chosen), None)
    if chosen is not None:
        price = f" ({chosen.cost})" if chosen.cost else ""
        lines.append(f"{shortened(chosen.text, _LONGEST)}{price}")
    elif part.options:
        lines.append(
            f"To choose among: {'; '.join(shortened(option.text, 70).rstrip('.') for option in part.options[:4])}"
        )
    if part.reason:
        lines.append(shortened(part.reason, _LONGEST))
    if decision.status == "undecided" and not part.options:
        lines.append("No option is written down yet.")
    if part.changed:
        lines.append(f"Changed on site: {shortened(part.changed, _LONGEST)}")
    if part.who:
        lines.append(f"{part.who[:1].upper()}{part.who[1:]}.")
    if part.hindsight:
        lines.append(f"In hindsight: {shortened(part.hindsight, _LONGEST)}")
    return lines


def _pressing(decision: Decision) -> _Order:
    """Undecided first, by the day on which they are due; then all others by number."""
    waits = decision.status == "undecided"
    return not waits, (decision.due if waits and decision.due else dt.date.max), decision.number


def _counted(decisions: list[Decision], of_house: list[Decision]) -> str:
    open_still = sum(one.status == "undecided" for one in decisions)
    if not decisions:
        # What is decided for the whole house stands below: it would contradict that nothing is.
        return "No decision is about this room alone." if of_house else "Nothing is decided here yet."
    many = f"{len(decisions)} decision{'s' if len(decisions) > 1 else ''}"
    return f"{many}, {open_still} of them open." if open_still else f"{many}, none of them open."


def _findings(desk: Desk, sight: Sight) -> list[Option]:
    """Return what may bear on a decision: what falls short in the room, and what decisions name already."""
    if not _opened(sight):
        return []
    findings = {one.id: one for one in desk.findings(sight.room)}
    named = [id for decision in desk.project.decisions if decision.id in _opened(sight) for id in decision.findings]
    short = [one.id for one in findings.values() if one.verdict == "falls short"]
    told = []
    for id in dict.fromkeys([*short, *named]):
        finding = findings.get(id)
        label = f"{finding.title}: {finding.verdict}" if finding else "A finding that is not made any more"
        told.append({"value": id, "label": shortened(label)})
    return told


def _opened(sight: Sight) -> dict[str, _Order]:
    """Return the decisions that are open on this page, with their places in the order."""
    opened: dict[str, _Order] = sight.kept.setdefault(_OPEN, {})
    return opened


def _open(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    id = text_of(message, "id", longest=64)
    decision = next((one for one in desk.project.decisions if one.id == id), None)
    if decision is None:
        raise NotFound("this decision is not there any more")
    if message.get("open") is True:
        _opened(sight)[id] = _pressing(decision)
        return f"Decision {decision.number} open"
    _opened(sight).pop(id, None)
    return f"Decision {decision.number} closed"


def _new(desk: Desk, sight: Sight, message: dict[str, Any]) -> dict[str, Any]:
    """Add a decision of the room by its title alone, and open it."""
    values = {"title": text_of(message, "title", longest=2000)}
    # Where the decisions of every room stand, a new one is about the house until it is said.
    room = {"spaces": [sight.room]} if sight.room and sight.act != "decide" else {}
    answer = add_row(desk, ("decisions",), values | room)
    _opened(sight)[answer["key"]] = _pressing(desk.project.decisions[-1])
    return answer


HANDLERS: Final = {"open decision": _open, "new decision": _new}
