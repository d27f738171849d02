"""The lines to speak in a room, typed as plain text: one paragraph a line."""

from __future__ import annotations

from collections.abc import Sequence
from difflib import SequenceMatcher

from pydantic import ValidationError

from enfilade.editing.forms.left_out import remembered
from enfilade.editing.forms.rows import with_row_added
from enfilade.errors import BadRecord, Fault
from enfilade.project.project import Project
from enfilade.project.speaking import SpokenLine, Stop

__all__ = ["lines_of", "with_lines"]


def lines_of(project: Project, space: str) -> Stop | None:
    """Return what is said in a room; None while nothing is."""
    return next((stop for stop in project.script if stop.space == space), None)


def with_lines(project: Project, space: str, text: str) -> Project:
    """Return the project with other lines to speak in a room; empty lines part nothing and are left out.

    A line whose text did not change stays the same record; one that was typed over keeps what it shows and its shot.

    Raises:
        BadRecord: The text cannot be taken.
        NotFound: No such room.
    """
    texts = [line.strip() for line in text.splitlines() if line.strip()]
    stop = lines_of(project, space)
    if stop is None:
        project.space(space)
        if not texts:
            return project
        project, _ = with_row_added(project, ("script",), {"space": space})
        stop = lines_of(project, space)
        assert stop is not None
    if texts == [line.text for line in stop.lines]:
        return project
    try:
        lines = _matched(stop.lines, texts)
        gone = [line.drafted.about for line in stop.lines if line.drafted is not None]
        # Plain data is checked, how many lines there are too.
        told = dict(remembered(stop.model_copy(update={"lines": lines}), gone))
        return project.with_records(script=[told if one is stop else one for one in project.script])
    except ValidationError as error:
        faults = [Fault(f"script/{stop.id}/lines", one["msg"], "plain sentences") for one in error.errors()]
        raise BadRecord("project", faults) from error


def _matched(lines: Sequence[SpokenLine], texts: Sequence[str]) -> tuple[SpokenLine, ...]:
    """Return a record for each text: the one that said it, else the one in its place, else a new one."""
    taken = {line.id for line in lines}
    new = (f"line-{number}" for number in range(1, len(lines) + len(texts) + 1) if f"line-{number}" not in taken)
    found: list[SpokenLine] = []
    compared = SequenceMatcher(None, [line.text for line in lines], texts, autojunk=False)
    for _, a, b, c, d in compared.get_opcodes():
        for place, text in enumerate(texts[c:d]):
            old = lines[a + place] if a + place < b else None
            if old is None:
                found.append(SpokenLine(id=next(new), text=text))
            else:
                found.append(old if old.text == text else SpokenLine.model_validate({**dict(old), "text": text}))
    return tuple(found)
