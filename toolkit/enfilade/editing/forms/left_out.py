"""What the draft told and a person took out of the script as rows, kept so that a redraft leaves it out."""

from __future__ import annotations

from enfilade.project.project import Project
from enfilade.project.speaking import Stop

__all__ = ["with_left_out"]

_MOST: int = 1000


def with_left_out(before: Project, after: Project) -> Project:
    """Return the project as it is after rows of the script went, with what they told kept as left out.

    It is kept by the stop itself while it is there, else by another of its room, else by the first stop: a redraft
    asks all of them. The last stop of a script that a draft has filled stays, without its lines, since nothing else
    could keep it.
    """
    still = {line.drafted.about for stop in after.script for line in stop.lines if line.drafted is not None}
    gone: dict[str, list[str]] = {}
    keepers = {stop.id: stop for stop in after.script}
    for stop in before.script:
        told = [
            line.drafted.about for line in stop.lines if line.drafted is not None and line.drafted.about not in still
        ]
        told += [about for about in stop.left_out if stop.id not in keepers]
        if not told:
            continue
        if not keepers:
            keepers[stop.id] = stop.model_copy(update={"lines": ()})
        gone.setdefault(_keeper(stop, list(keepers.values())).id, []).extend(told)
    if not gone:
        return after
    script = []
    for stop in keepers.values():
        left_out = tuple(dict.fromkeys((*stop.left_out, *gone.get(stop.id, ()))))[:_MOST]
        script.append(stop if left_out == stop.left_out else stop.model_copy(update={"left_out": left_out}))
    return after.with_records(script=script)


def _keeper(stop: Stop, keepers: list[Stop]) -> Stop:
    own = (one for one in keepers if one.id == stop.id)
    of_the_room = (one for one in keepers if one.space == stop.space)
    return next(own, None) or next(of_the_room, None) or keepers[0]
