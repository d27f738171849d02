"""How long the telling takes, against how long it should take, and where to cut."""

from __future__ import annotations

from typing import Any, Final

from enfilade.capture.desk import Desk
from enfilade.capture.sight import Sight
from enfilade.capture.telling import Told, line_paths, time_words, told_now
from enfilade.project.fields import AUDIENCES, Audience
from enfilade.walkthrough.pages import StopPart, TalkPart
from enfilade.walkthrough.spoken import exact_sum

__all__ = ["HANDLERS", "NAME", "shown"]

NAME: Final = "timing"
_HEARS: Final[dict[Audience, str]] = {
    "client": "The client hears", "public": "The public hears", "student": "Students hear",
    "studio": "The studio hears",
}  # fmt: skip


def shown(desk: Desk, sight: Sight) -> dict[str, Any]:
    """Return the times of every part and room, how far they are off the target, and which lines could go."""
    told = told_now(desk, sight)
    whole = told.spoken
    if not told.lines:
        return {"nothing": "Times stand here once something is said."}
    paths = {id: list(path) for id, path, _ in line_paths(told.project)}
    return {
        "whole": time_words(whole.seconds),
        "against": _against(whole.seconds, whole.target_s),
        "target": whole.target_s is not None,
        "over": whole.target_s is not None and whole.seconds > whole.target_s,
        "rate": f"At {whole.rate_wpm:g} words a minute.",
        "parts": [_part(part) for part in whole.parts],
        "hears": _hears(told),
        "cuts": [
            {"path": paths[cut.line], "words": cut.words, "time": time_words(cut.seconds), "why": cut.why}
            for cut in whole.cuts
        ],
        "too_long": whole.too_long,
    }


def _against(seconds: float, target_s: float | None) -> str:
    if target_s is None:
        return "No length is asked for: it is set above, under how it is told."
    off = round(seconds) - round(target_s)
    if off == 0:
        return f"Just the {time_words(target_s)} that are asked for."
    if off > 0:
        return f"{time_words(off)} over the {time_words(target_s)} that are asked for."
    return f"{time_words(-off)} under the {time_words(target_s)} that are asked for."


def _part(part: TalkPart) -> dict[str, Any]:
    joins = exact_sum(second for line in (*part.recap, *part.lead_in) for second in (line.seconds, line.pause_s))
    return {
        "key": part.id or "whole",
        "title": part.title,
        "time": time_words(part.seconds),
        "joins": time_words(joins) if joins else "",
        "stops": [_stop(stop) for stop in part.stops],
    }


def _stop(stop: StopPart) -> dict[str, Any]:
    silent = exact_sum(line.pause_s for line in stop.lines)
    return {
        "key": stop.id,
        "name": stop.name,
        "lines": str(len(stop.lines)),
        "said": time_words(exact_sum(line.seconds for line in stop.lines)),
        "silent": time_words(silent) if silent else "",
        "walk": time_words(stop.walk_s) if stop.walk_s else "",
        "time": time_words(stop.seconds + stop.walk_s),
    }


def _hears(told: Told) -> str:
    """Return how long each audience listens, where that is not the whole for all of them."""
    heard = {id: line.hear for id, _, line in line_paths(told.project)}
    walks = exact_sum(stop.walk_s for part in told.spoken.parts for stop in part.stops)
    times = {}
    for one in AUDIENCES:
        lines = [line for id, line in told.lines.items() if one in heard[id]]
        times[one] = walks + exact_sum(second for line in lines for second in (line.seconds, line.pause_s))
    if len({round(time) for time in times.values()}) < 2:
        return ""
    return "; ".join(f"{_HEARS[one]} {time_words(time)}" for one, time in times.items()) + "."


HANDLERS: Final[dict[str, Any]] = {}
