"""The two-column script: picture on the left, sound on the right, and a column of running time before them.

Form: page margins of 1 in, the number at the top right, picture instructions in capitals, sound instructions in
brackets, one shot a row, every spoken word written (teaching handouts on the audio-visual script). Formal scripts are
typed in 12-point fixed-width type; ours has 12 points of the one face that all documents share, as its times come from
the words and not from the count of lines.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from enfilade.export.clock import clock, length_words
from enfilade.export.document import Document
from enfilade.export.issue import issue_data, running_words, setting_of
from enfilade.export.typesetting import set_pdf
from enfilade.walkthrough.film import ShotPart
from enfilade.walkthrough.pages import SpokenPart, StopPart, TalkPart, Timed
from enfilade.walkthrough.spoken import timeline

__all__ = ["picture_words", "shots_by_line", "write"]


def write(document: Document) -> dict[str, bytes]:
    """Return `script.pdf`."""
    spoken = document.pages.spoken
    setting = setting_of(document, "script.pdf", "script", "script")
    shots = shots_by_line(document.film.shots)
    data = {
        **issue_data(document),
        "length": running_words(spoken),
        "parts": [_part(part, shots) for part in spoken.parts if part.stops or part.recap or part.lead_in],
        "cuts": [{"words": one.words, "seconds": f"{one.seconds:.0f} s", "why": one.why} for one in spoken.cuts],
        "too_long": spoken.too_long,
    }
    return {setting.file: set_pdf(setting, data)}


def shots_by_line(shots: Sequence[ShotPart]) -> Mapping[str, Sequence[ShotPart]]:
    """Return the shots of each line, in their order."""
    found: dict[str, list[ShotPart]] = {}
    for shot in shots:
        found.setdefault(shot.line, []).append(shot)
    return found


def picture_words(shot: ShotPart) -> str:
    """Return a shot as a picture instruction, in capitals."""
    if shot.focal_mm is None:
        return f"{shot.subject or shot.room}: cannot be framed. {shot.trouble}".upper()
    size = shot.size if shot.size.endswith("close-up") else f"{shot.size} shot"
    sights = ", ".join(part for part in (size, shot.lens, shot.move if shot.move != "still" else "") if part)
    also = f", with {' and '.join(shot.also[:2])}" if shot.also else ""
    return f"{sights}: {shot.subject or shot.room}{also}.".upper()


def _note(shot: ShotPart) -> str:
    """Return what whoever films must know; of a shot that has a camera, what is wrong with it first."""
    return " ".join(words for words in (shot.trouble if shot.focal_mm is not None else "", shot.note) if words)


def _part(part: TalkPart, shots: Mapping[str, Sequence[ShotPart]]) -> dict[str, Any]:
    """Return one part as sections, a stop or a recap each, of rows."""
    sections: list[dict[str, Any]] = []
    at: Any = _NOWHERE
    for one in timeline(part):
        if one.stop is not at:
            at = one.stop
            sections.append({"title": _heading(part, at, one.line), "rows": []})
        if one.kind == "pause" and sections[-1]["rows"]:
            sections[-1]["rows"][-1]["sounds"].append(f"[silence, {one.end_s - one.start_s:.2g} s]")
        else:
            sections[-1]["rows"] += _rows(one, shots, opens=not sections[-1]["rows"])
    return {"title": part.title, "length": length_words(part.seconds), "sections": sections}


_NOWHERE = object()


def _heading(part: TalkPart, stop: StopPart | None, line: SpokenPart | None) -> str:
    if stop is not None:
        return f"{stop.number} {stop.name}" if stop.number else stop.name
    return "Recap" if line is not None and line in part.recap else "Lead-in"


def _rows(one: Timed, shots: Mapping[str, Sequence[ShotPart]], *, opens: bool) -> Iterator[dict[str, Any]]:
    """Yield the rows of a stretch of time: one a shot; the words stand beside the first."""
    time = clock(one.start_s)
    if one.line is None:
        stop = one.stop
        way = stop.way.rstrip(".") if stop else ""
        seconds = one.end_s - one.start_s
        yield {
            "time": time, "shot": "", "note": "", "spoken": "",
            "picture": f"Follow to {stop.name}.".upper() if stop else "",
            "sounds": [f"[walk, {seconds:.0f} s{': ' + way if way else ''}]"],
        }  # fmt: skip
        return
    planned = shots.get(one.line.id, ())
    if not planned:
        shown = ", ".join(one.line.shows)
        room = f"{one.stop.name}." if one.stop else "The house."
        picture = (f"Show {shown}." if shown else room if opens else "As before.").upper()
        yield {"time": time, "shot": "", "note": "", "picture": picture, "spoken": one.line.said, "sounds": []}
    for number, shot in enumerate(planned):
        yield {
            "time": time if number == 0 else "", "shot": str(shot.number), "note": _note(shot),
            "picture": picture_words(shot),
            "spoken": one.line.said if number == 0 else "", "sounds": [] if number == 0 else ["[goes on]"],
        }  # fmt: skip
