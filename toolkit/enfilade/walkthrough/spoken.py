"""The script with its times: what is said, how long that takes, and the walks between the rooms."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from enfilade.editing.parts import TalkStops, stops_by_part
from enfilade.listing import joined
from enfilade.project.speaking import SpokenLine, Stop
from enfilade.script.resolve import said, shown
from enfilade.trade.speech import spoken_time, walking_time, word_count
from enfilade.walkthrough.cutting import cut_down
from enfilade.walkthrough.pages import Spoken, SpokenPart, StopPart, TalkPart, Timed
from enfilade.walkthrough.route import way_in
from enfilade.walkthrough.telling import Telling
from enfilade.walkthrough.walking import HouseWalks

__all__ = ["exact_sum", "spoken", "spoken_line", "timeline"]


def spoken(telling: Telling) -> Spoken:
    """Return the script, part by part and stop by stop, with times in whole milliseconds.

    Words take their time at the recorded rate; silences are recorded; a walk goes from the stop before in the same
    part, on the floor and through doorways, at the recorded pace. Each sum is exactly that of what it is made of.
    A script without parts is one part without a title. A room to which no way on foot is found takes no time to
    walk to, and says so.
    """
    speaking = telling.project.show.speaking
    walks = HouseWalks(telling.house)
    parts = tuple(_part(telling, talk, walks) for talk in stops_by_part(telling.project))
    whole = Spoken(parts, speaking.rate_wpm, exact_sum(part.seconds for part in parts), speaking.target_s, ())
    cuts, too_long = cut_down(telling, whole)
    return replace(whole, cuts=cuts, too_long=too_long)


def exact_sum(seconds: Iterable[float]) -> float:
    """Return the sum of times that are kept to the millisecond, to the millisecond [s]."""
    return sum(round(one * 1000) for one in seconds) / 1000


def _part(telling: Telling, talk: TalkStops, walks: HouseWalks) -> TalkPart:
    part = talk.part
    recap = _lines(telling, part.id, part.recap) if part else ()
    lead_in = _lines(telling, part.id, part.lead_in) if part else ()
    stops = []
    before: Stop | None = None
    for stop in talk.stops:
        stops.append(_stop(telling, stop, before, walks))
        before = stop
    seconds = exact_sum(
        [
            *(second for line in (*recap, *lead_in) for second in (line.seconds, line.pause_s)),
            *(second for stop in stops for second in (stop.seconds, stop.walk_s)),
        ]
    )
    return TalkPart(part.id if part else "", part.title if part else "", recap, tuple(stops), lead_in, seconds)


def _stop(telling: Telling, stop: Stop, before: Stop | None, walks: HouseWalks) -> StopPart:
    names = {space.id: space.name for space in telling.project.spaces}
    walk_mm, way = 0.0, ""
    if before is None:
        way = f"One begins in {names[stop.space]}." if stop.space != way_in(telling.house) else ""
    elif before.space != stop.space:
        found = walks.way(before.space, stop.space)
        if found is None:
            way = f"No way on foot was found from {names[before.space]}."
        else:
            walk_mm = found.length_mm
            through = f", through {joined([names[id] for id in found.through])}" if found.through else ""
            way = f"From {names[before.space]}{through}."
    pace = telling.project.show.speaking.walk_mm_s
    lines = _lines(telling, stop.id, stop.lines)
    return StopPart(
        id=stop.id,
        space=stop.space,
        number=telling.order.index(stop.space) + 1 if stop.space in telling.order else 0,
        name=names.get(stop.space, stop.space),
        lines=lines,
        seconds=exact_sum(second for line in lines for second in (line.seconds, line.pause_s)),
        walk_mm=walk_mm,
        walk_s=_kept(walking_time(walk_mm, pace_mm_s=pace).seconds),
        way=way,
    )


def _lines(telling: Telling, owner: str, lines: Sequence[SpokenLine]) -> tuple[SpokenPart, ...]:
    return tuple(spoken_line(telling, owner, line) for line in lines)


def spoken_line(telling: Telling, owner: str, line: SpokenLine) -> SpokenPart:
    """Return one line with its time; `owner` is the id of its stop or part."""
    for_the_ear = said(line.text, telling.figures)
    taken = spoken_time(word_count(for_the_ear), rate_wpm=telling.project.show.speaking.rate_wpm)
    return SpokenPart(
        id=f"{owner}/{line.id}",
        shown=shown(line.text, telling.figures),
        said=for_the_ear,
        seconds=_kept(taken.seconds),
        pause_s=_kept(line.pause_s),
        shows=_shows(telling, line),
    )


def _shows(telling: Telling, line: SpokenLine) -> tuple[str, ...]:
    pictures = {one.id: one.caption or one.alternative for one in telling.project.photographs}
    named = [telling.names.get(id, "") for id in (*line.things, *line.decisions)]
    named += [pictures.get(id, "") for id in line.photographs]
    return tuple(dict.fromkeys(name for name in named if name))


def _kept(seconds: float) -> float:
    return round(seconds * 1000) / 1000


def timeline(part: TalkPart) -> tuple[Timed, ...]:
    """Return every line, silence and walk of a part with its start and end, from 0; what takes no time is left out.

    A line is there even when it takes no time to say. Each begins where the one before ends, and the last ends with
    the part.
    """
    found: list[Timed] = []
    clock_ms = 0

    def passed(seconds: float) -> tuple[float, float]:
        nonlocal clock_ms
        start_ms, clock_ms = clock_ms, clock_ms + round(seconds * 1000)
        return start_ms / 1000, clock_ms / 1000

    def say(lines: Iterable[SpokenPart], stop: StopPart | None) -> None:
        for line in lines:
            found.append(Timed("line", *passed(line.seconds), line, stop))
            if line.pause_s:
                found.append(Timed("pause", *passed(line.pause_s), line, stop))

    say(part.recap, None)
    for stop in part.stops:
        if stop.walk_s:
            found.append(Timed("walk", *passed(stop.walk_s), None, stop))
        say(stop.lines, stop)
    say(part.lead_in, None)
    return tuple(found)
