"""Which lines to speak show a thing, so that who takes it out hears which of them show it no more."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from typing import Final

from enfilade.editing.forms.called import named, shortened
from enfilade.project.project import Project
from enfilade.project.speaking import SpokenLine

__all__ = ["lines_showing"]

_BEGINNING: Final = 36
_QUOTED: Final = 4


def lines_showing(project: Project, ids: Collection[str]) -> str:
    """Return in sentences which lines show one of some things or openings; empty when none does.

    They are told by the room or the part in which they are said, and by how they begin: `2 lines in Kitchen showed it:
    “The sink has the middle…” and “The island is…”.`
    """
    found: dict[str, list[SpokenLine]] = {}
    for where, lines in _told(project):
        found.setdefault(where, []).extend(line for line in lines if not _seen(line).isdisjoint(ids))
    return " ".join(_sentence(where, lines) for where, lines in found.items() if lines)


def _told(project: Project) -> Iterator[tuple[str, Sequence[SpokenLine]]]:
    names = {space.id: space.name for space in project.spaces}
    for stop in project.script:
        yield f"in {names.get(stop.space, stop.space)}", stop.lines
    for index, part in enumerate(project.show.speaking.parts, 1):
        yield f"that join part {index}{f', {named(part)},' if named(part) else ''}", (*part.recap, *part.lead_in)


def _seen(line: SpokenLine) -> set[str]:
    return {*line.things, *(line.shot.subjects if line.shot is not None else ())}


def _sentence(where: str, lines: Sequence[SpokenLine]) -> str:
    many = "1 line" if len(lines) == 1 else f"{len(lines)} lines"
    quotes = [f"“{_beginning(line.text)}”" for line in lines[:_QUOTED]]
    quotes += [f"{len(lines) - _QUOTED} more"] if len(lines) > _QUOTED else []
    listed = f"{', '.join(quotes[:-1])} and {quotes[-1]}" if len(quotes) > 1 else quotes[0]
    return f"{many} {where if len(lines) > 1 else where.replace('that join', 'that joins')} showed it: {listed}."


def _beginning(text: str) -> str:
    """Return how a line begins; a long word alone is cut."""
    words = shortened(text, _BEGINNING)
    return words if len(words) > 1 else f"{' '.join(text.split())[: _BEGINNING - 1]}…"
