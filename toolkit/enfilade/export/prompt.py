"""The prompting page: what is said, large, moving past a reading line as fast as it is spoken."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from enfilade.export.document import Document
from enfilade.export.issue import running_words
from enfilade.export.setting import page
from enfilade.walkthrough.pages import TalkPart
from enfilade.walkthrough.spoken import timeline

__all__ = ["write"]


def write(document: Document) -> dict[str, bytes]:
    """Return `prompt.html`."""
    spoken = document.pages.spoken
    markup = page(
        "prompt.html.j2",
        document.look,
        pages=document.pages,
        running=running_words(document.pages.spoken),
        spoken=spoken,
        parts=[{"title": part.title, "seconds": part.seconds, "steps": list(_steps(part))} for part in spoken.parts],
    )
    return {"prompt.html": markup.encode("utf-8")}


def _steps(part: TalkPart) -> Iterator[dict[str, Any]]:
    """Yield what moves past the reading line: rooms by name, lines, silences and walks, each with its time [s]."""
    here = ""
    for one in timeline(part):
        seconds = round(one.end_s - one.start_s, 3)
        stop = one.stop
        if one.kind == "walk" and stop is not None:
            yield {"kind": "walk", "seconds": seconds, "text": f"Walk to {stop.name}."}
        if stop is not None and stop.id != here:
            here = stop.id
            yield {"kind": "room", "seconds": 0.0, "text": stop.name}
        if one.kind == "line" and one.line is not None:
            yield {"kind": "line", "seconds": seconds, "text": one.line.said}
        if one.kind == "pause":
            yield {"kind": "pause", "seconds": seconds, "text": ""}
