"""What was found about the script, in plain words, by the line or the room that it is about."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Final

from enfilade.capture.plain_words import without_marks
from enfilade.capture.removed_names import RemovedNames
from enfilade.capture.sight import Sight
from enfilade.capture.telling import Told, line_paths
from enfilade.checks.answers import falls_short_unsettled
from enfilade.errors import Fault
from enfilade.findings import Finding
from enfilade.project.project import Project
from enfilade.project.speaking import SpokenLine
from enfilade.script.claims import claims
from enfilade.script.resolve import fields_in, resolved

__all__ = ["Note", "Notes", "notes_now", "notes_of"]

_KEPT: Final = "notes"
_SCRIPT: Final = frozenset({"T1", "T2", "T3", "T4", "T5", "T6", "T7"})


@dataclass(frozen=True)
class Note:
    """One sentence or more about a line or a room.

    Attributes:
        finding: Id of the finding.
        words: Sentences.
        wrong: It falls short; otherwise something could not be compared, and says why.
        rule: What was checked.
    """

    finding: str
    words: str
    wrong: bool = True
    rule: str = ""


@dataclass(frozen=True)
class Notes:
    """Notes by the line (`stop/line`), by the room, and those about no room."""

    lines: Mapping[str, tuple[Note, ...]]
    rooms: Mapping[str, tuple[Note, ...]]
    house: tuple[Note, ...]


def notes_now(told: Told, sight: Sight) -> Notes:
    """Return the notes on a state of the house, worked out once for all parts of the page that show them."""
    kept = sight.kept.get(_KEPT)
    if kept is None or kept[0] is not told:
        kept = sight.kept[_KEPT] = (told, notes_of(told))
    notes: Notes = kept[1]
    return notes


def notes_of(told: Told) -> Notes:
    """Return what is to be said of the script: what falls short and is not answered yet, and what was not compared."""
    project, telling = told.project, told.telling
    waits = {one.id for one in falls_short_unsettled(telling.findings, telling.answers)}
    found = [one for one in telling.findings if one.rule in _SCRIPT and _says(one, waits)]
    lines: dict[str, list[Note]] = defaultdict(list)
    rooms: dict[str, list[Note]] = defaultdict(list)
    house: list[Note] = []
    records = {id: line for id, _, line in line_paths(project)} if found else {}
    removed = RemovedNames(project)
    for finding in found:
        places = list(_places(finding, records))
        for id in places:
            if words := _line_words(finding, records[id], told, id, removed):
                lines[id].append(Note(finding.id, words, finding.id in waits, finding.rule))
        if not places and finding.id in waits:
            note = Note(finding.id, _room_words(finding, project))
            if finding.space in telling.house.spaces:
                rooms[finding.space or ""].append(note)
            else:
                house.append(note)
    return Notes(
        {id: tuple(notes) for id, notes in lines.items()},
        {id: tuple(notes) for id, notes in rooms.items()},
        tuple(house),
    )


def _says(finding: Finding, waits: set[str]) -> bool:
    return finding.id in waits or (finding.because == "missing fact" and finding.rule == "T2")


def _places(finding: Finding, records: Mapping[str, SpokenLine]) -> Iterator[str]:
    """Yield the lines that a finding is about: the line itself, or those that tell the decision."""
    if finding.rule in ("T4", "T6"):
        yield from (id for id, line in records.items() if set(finding.subjects) & set(line.decisions))
    else:
        yield from (id for id in finding.subjects if id in records)


def _line_words(finding: Finding, line: SpokenLine, told: Told, id: str, removed: RemovedNames) -> str:
    figures, project = told.telling.figures, told.project
    if finding.rule == "T1":
        faults = resolved(line.text, figures).faults
        gone = {field: words for field in fields_in(line.text) if (words := removed.words(field))}
        return " ".join(_sentence(_fault(one, gone)) for one in faults)
    if finding.rule == "T2":
        room = next((stop.space for stop in project.script if stop.id == id.partition("/")[0]), None)
        wanted = "contradicts" if finding.measured is not None else "not compared"
        made = [one for one in claims(line, room, figures) if one.outcome == wanted]
        says = "does not agree with the record" if wanted == "contradicts" else "was not compared with the record"
        return " ".join(_sentence(f"“{one.text}” {says}: {one.why}") for one in made)
    if finding.rule == "T3":
        away = int(finding.measured.value) if finding.measured is not None else 0
        return " ".join(_sentence(f"not in this room: {words}") for words in finding.working[1 : 1 + away])
    names = _decisions(finding, project)
    if finding.rule == "T4":
        times = int(finding.measured.value) if finding.measured is not None else 0
        return _sentence(f"{names} is told {times} times; once is enough")
    return _sentence(f"{names} is told without a reason on record")


def _room_words(finding: Finding, project: Project) -> str:
    if finding.rule == "T7":
        return "Nothing is said here yet."
    if finding.rule == "T5":
        return _sentence(f"{_decisions(finding, project)} is not told anywhere yet")
    return _sentence("; ".join(finding.working))


def _decisions(finding: Finding, project: Project) -> str:
    named = [f"decision {one.number}, {one.title}," for one in project.decisions if one.id in finding.subjects]
    return " and ".join(named) or "the decision"


def _field(place: str) -> str:
    """Return the field at a place such as `sign 5, {width of iland}`, to begin a sentence with."""
    field = place.partition(", ")[2]
    return f"{field}: " if field.startswith("{") else ""


def _fault(fault: Fault, gone: Mapping[str, str]) -> str:
    field = _field(fault.place)
    for name, words in gone.items():
        # A long field stands cut at its place.
        if field and f"{{{name}}}".startswith(field.removesuffix(": ").removesuffix("…")):
            return f"{field}{words}"
    return f"{field}{fault.what}; expected {fault.expected}" if fault.expected else fault.what


def _sentence(words: str) -> str:
    plain = without_marks(" ".join(words.split()))
    return f"{plain[:1].upper()}{plain[1:].rstrip('.')}."
