"""What is under the hand while it drags: the findings that change, before anything is let go."""

from __future__ import annotations

from typing import Any, Final

from enfilade.capture.desk import Desk
from enfilade.capture.sight import Sight, number_of, text_of
from enfilade.checks.run import check
from enfilade.checks.sentences import VERDICTS, sentence
from enfilade.editing.things.moving import moved
from enfilade.findings import Finding
from enfilade.walkthrough.findings_part import names_of
from enfilade.walkthrough.ranking import by_urgency

__all__ = ["live_state"]

_TOLD: Final = 4


def live_state(desk: Desk, sight: Sight, hand: dict[str, Any]) -> dict[str, Any]:
    """Return what changes when a thing stands where the hand holds it.

    Args:
        hand: `id`, `x`, `y` [mm], `turn` [deg], `wall` (id, or None), as the page sends it.
    Returns:
        `changes`: sentences on findings whose verdict or figure changed, the most urgent first, and `short`: how many
        fall short in the room.
    Raises:
        EnfiladeError: It cannot stand there.
    """
    id, wall = text_of(hand, "id", longest=64), hand.get("wall")
    project = moved(
        desk.project,
        id,
        number_of(hand, "x"),
        number_of(hand, "y"),
        number_of(hand, "turn"),
        wall=wall if isinstance(wall, str) else None,
    )
    before = {finding.id: finding for finding in desk.findings(sight.room)}
    now = check(project, sight.room)
    changed = [finding for finding in now if _differs(before.get(finding.id), finding)]
    urgent = by_urgency(changed)
    held = [f for f in changed if f.verdict == "met" and f.id in before and before[f.id].verdict == "falls short"]
    told = [*urgent, *held]
    names = names_of(project)
    return {
        "short": sum(finding.verdict == "falls short" for finding in now),
        "was": sum(finding.verdict == "falls short" for finding in before.values()),
        "changes": [
            {"verdict": VERDICTS[f.verdict], "said": sentence(f, project.show.units, names)} for f in told[:_TOLD]
        ],
        "more": max(0, len(told) - _TOLD),
    }


def _differs(before: Finding | None, now: Finding) -> bool:
    if before is None:
        return now.verdict == "falls short"
    return before is not now and (before.verdict != now.verdict or (before.measured != now.measured))
