"""The lines that are not fit to go out: a field names nothing, or a figure is not what the record says."""

from __future__ import annotations

from typing import Any, Final

from enfilade.capture.line_notes import notes_now
from enfilade.capture.sight import Sight
from enfilade.capture.telling import Told, line_paths
from enfilade.editing.forms.called import named, shortened

__all__ = ["line_faults"]

_RULES: Final = frozenset({"T1", "T2"})
_BEGINNING: Final = 60


def line_faults(told: Told, sight: Sight) -> list[dict[str, Any]]:
    """Return each such line with its path, the room or part in which it is said, how it begins, and what is wrong."""
    notes = notes_now(told, sight).lines
    rooms = {space.id: space.name for space in told.project.spaces}
    where = {stop.id: rooms.get(stop.space, "") for stop in told.project.script}
    where |= {part.id: named(part) for part in told.project.show.speaking.parts if part.id not in where}
    found = []
    for id, path, line in line_paths(told.project):
        wrong = [one.words for one in notes.get(id, ()) if one.wrong and one.rule in _RULES]
        if wrong:
            about = {"at": list(path), "where": where.get(id.partition("/")[0], "")}
            found.append({**about, "begins": shortened(line.text, _BEGINNING), "words": " ".join(wrong)})
    return found
