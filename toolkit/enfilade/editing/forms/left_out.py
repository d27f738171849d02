"""What the draft told and a person took out of the script, kept so that a redraft leaves it out."""

from __future__ import annotations

from collections.abc import Iterable

from enfilade.project.project import Project
from enfilade.project.speaking import MOST_LEFT_OUT, Stop

__all__ = ["remembered", "with_left_out"]


def remembered(stop: Stop, abouts: Iterable[str]) -> Stop:
    """Return a stop that keeps what was taken out, but for what a line of it still tells.

    Where there is too much to keep, what was taken out first is forgotten.

    Args:
        stop: As its lines are now.
        abouts: What the draft told (`Drafted.about`) and is taken out now.
    """
    still = {line.drafted.about for line in stop.lines if line.drafted is not None}
    kept = [about for about in dict.fromkeys((*stop.left_out, *abouts)) if about not in still]
    left_out = tuple(kept[-MOST_LEFT_OUT:])
    return stop if left_out == stop.left_out else stop.model_copy(update={"left_out": left_out})


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
    return after.with_records(script=[remembered(stop, gone.get(stop.id, ())) for stop in keepers.values()])


def _keeper(stop: Stop, keepers: list[Stop]) -> Stop:
    own = (one for one in keepers if one.id == stop.id)
    of_the_room = (one for one in keepers if one.space == stop.space)
    return next(own, None) or next(of_the_room, None) or keepers[0]
