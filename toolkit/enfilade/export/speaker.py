"""The speaker's page: what is said in each room, what is shown meanwhile, and how long it takes."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, Final

from enfilade.drawings.writing import text_width
from enfilade.export.bare_plans import bare_plan
from enfilade.export.document import Document
from enfilade.export.issue import running_words
from enfilade.export.setting import page
from enfilade.lengths import show_size
from enfilade.walkthrough.pages import SpokenPart, StopPart, TalkPart
from enfilade.walkthrough.spoken import timeline

__all__ = ["write"]

_PLAN_PX: Final = 400.0
_TALLEST: Final = 1.2


def write(document: Document) -> dict[str, bytes]:
    """Return `speaker.html`."""
    pages = document.pages
    cuts = {cut.line: cut for cut in pages.spoken.cuts}
    drawn: set[str] = set()
    markup = page(
        "speaker.html.j2",
        document.look,
        pages=pages,
        running=running_words(pages.spoken),
        spoken=pages.spoken,
        saved=sum(cut.seconds for cut in pages.spoken.cuts),
        places={line.id: place for part in pages.spoken.parts for line, place in _places(part)},
        parts=[_part(document, part, cuts, drawn) for part in pages.spoken.parts],
    )
    return {"speaker.html": markup.encode("utf-8")}


def _places(part: TalkPart) -> Iterable[tuple[SpokenPart, str]]:
    joins = part.title or "the part"
    yield from ((line, f"{joins}, before the first room") for line in part.recap)
    yield from ((line, stop.name) for stop in part.stops for line in stop.lines)
    yield from ((line, f"{joins}, after the last room") for line in part.lead_in)


def _part(document: Document, part: TalkPart, cuts: dict[str, Any], drawn: set[str]) -> dict[str, Any]:
    times = timeline(part)
    begins = {one.line.id: one for one in times if one.kind == "line" and one.line is not None}

    def lines(some: Iterable[SpokenPart]) -> list[dict[str, Any]]:
        return [
            {
                "line": line,
                "start_s": begins[line.id].start_s,
                "end_s": begins[line.id].end_s + line.pause_s,
                "cut": cuts.get(line.id),
            }
            for line in some
        ]

    walks = {one.stop.id: one for one in times if one.kind == "walk" and one.stop is not None}
    return {
        "title": part.title,
        "seconds": part.seconds,
        "recap": lines(part.recap),
        "lead_in": lines(part.lead_in),
        "stops": [
            {
                "stop": stop,
                "walk": walks.get(stop.id),
                "walked": show_size(stop.walk_mm, document.telling.project.show.units) if stop.walk_mm else "",
                "lines": lines(stop.lines),
                "plan": _plan(document, stop, drawn),
            }
            for stop in part.stops
        ],
    }


def _plan(document: Document, stop: StopPart, drawn: set[str]) -> dict[str, Any] | None:
    """Return the small plan of a room where it is told first; a drawing stands on a page once."""
    if stop.space in drawn or stop.space not in document.telling.order:
        return None
    drawn.add(stop.space)
    svg, names = bare_plan(document, stop.space, width_px=_PLAN_PX, tallest=_TALLEST)
    widest = max((text_width(tag, 13.0, True) for tag, _ in names), default=0.0)
    return {"svg": svg, "names": names, "tag_px": round(widest) + 8}
