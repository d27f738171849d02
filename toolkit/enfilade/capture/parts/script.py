"""The script: for each stop its lines, each with how it reads and sounds, its time, and what is found about it."""

from __future__ import annotations

from typing import Any, Final

from enfilade.capture.desk import Desk
from enfilade.capture.line_figures import figures_here
from enfilade.capture.line_notes import Note, Notes, notes_now
from enfilade.capture.line_words import about_line, counted, findings_to_tell, plainer, views_words, whose
from enfilade.capture.room_views import FIELDS as ROOM_FIELDS
from enfilade.capture.room_views import HANDLERS as ROOM
from enfilade.capture.room_views import open_rooms
from enfilade.capture.said_lines import BEGUN, born, path_of_line
from enfilade.capture.said_lines import HANDLERS as SAID
from enfilade.capture.sight import Sight
from enfilade.capture.telling import Told, line_at, line_paths, time_words, told_now
from enfilade.editing.forms.forms import Forms, grouped
from enfilade.editing.forms.offers import Offers, Option
from enfilade.editing.forms.paths import Path
from enfilade.project.speaking import SpokenLine
from enfilade.script.forms import FORMS
from enfilade.script.resolve import fields_in
from enfilade.walkthrough.drafting import drafted
from enfilade.walkthrough.pages import SpokenPart, StopPart, TalkPart

__all__ = ["HANDLERS", "NAME", "QUIET", "shown"]

NAME: Final = "script"
_OPEN: Final = "open lines"
_GROUPS: Final = {
    "What it shows": ("things", "photographs"),
    "What it tells": ("decisions", "findings"),
    "Who hears it, and the silence after it": ("hear", "pause_s"),
    "How it is filmed": ("shot",),
}
_HIDDEN: Final = frozenset({"text", "drafted"})


def shown(desk: Desk, sight: Sight) -> dict[str, Any]:
    """Return the script, part after part and stop after stop; the rest of a line only while it is open."""
    project = desk.project
    if not project.spaces:
        return {"nothing": "What is said is written here once a room is drawn."}
    told = told_now(desk, sight)
    return _Script(desk, sight, told).shown()


class _Script:
    """Puts one state of the script into plain data."""

    def __init__(self, desk: Desk, sight: Sight, told: Told) -> None:
        self.desk, self.sight, self.told = desk, sight, told
        self.project = told.project
        self.notes: Notes = notes_now(told, sight)
        self.records = {id: (path, line) for id, path, line in line_paths(self.project)}
        self.offers = Offers(self.project, {"findings": findings_to_tell(told, self._open_lines())})
        self.forms = Forms(self.project, self.offers, desk.drafts)
        self.begun = [path for path in desk.drafts.paths() if path[0] == BEGUN]
        self.born: dict[Path, Path] = {there: at for at, there in born(sight).items()}

    def shown(self) -> dict[str, Any]:
        spoken, project = self.told.spoken, self.project
        stopped = {stop.space for stop in project.script}
        untold = [id for id in self.told.telling.order if id not in stopped]
        parts = [self._part(part) for part in spoken.parts]
        target = f", where {time_words(spoken.target_s)} are asked for" if spoken.target_s is not None else ""
        return {
            "words": f"{counted(len(self.records))}; {time_words(spoken.seconds)}{target}.",
            "parts": parts,
            "untold": [self._untold(id) for id in untold],
            "notes": [_note(one) for one in self.notes.house],
            "forms": [{"words": one.words, "fits": list(one.fits), "says": one.says} for one in FORMS],
            "lists": self.offers.told,
        }

    def _part(self, part: TalkPart) -> dict[str, Any]:
        found: dict[str, Any] = {
            "id": part.id,
            "title": part.title,
            "time": time_words(part.seconds),
            "stops": [self._stop(stop) for stop in part.stops],
        }
        if part.id:
            for name, lines, words in (("recap", part.recap, "Recap"), ("lead_in", part.lead_in, "Lead-in")):
                path = ("show", "speaking", "parts", part.id, name)
                title = f"{words} of {part.title or 'the part'}"
                found[name] = self._lines(path, lines, title)
        return found

    def _stop(self, stop: StopPart) -> dict[str, Any]:
        room = self.project.space(stop.space)
        opened = stop.space in open_rooms(self.sight)
        # A perspective begins as a person sees the room; where its eye is, is changed afterwards.
        fields = (
            [self.forms.field(("spaces", stop.space, name)) | {"add": []} for name in ROOM_FIELDS] if opened else []
        )
        return {
            "id": stop.id,
            "space": stop.space,
            "name": stop.name,
            "time": time_words(stop.seconds),
            "way": stop.way,
            "notes": [_note(one) for one in self.notes.rooms.get(stop.space, ())],
            "views": views_words(len(room.views)),
            "open": opened,
            "fields": fields,
            **self._lines(("script", stop.id, "lines"), stop.lines, stop.name),
        }

    def _untold(self, space: str) -> dict[str, Any]:
        return {
            "space": space,
            "name": self.project.space(space).name,
            "notes": [_note(one) for one in self.notes.rooms.get(space, ())],
            **self._lines(("spaces", space), (), self.project.space(space).name),
        }

    def _lines(self, path: Path, lines: tuple[SpokenPart, ...], title: str) -> dict[str, Any]:
        """Return the lines of a list, with those begun among them; `path` leads to the list, or to a room without."""
        begun: dict[str, list[Path]] = {}
        for at in self.begun:
            if at[1:-1] == path:
                begun.setdefault(at[-1], []).append(at)
        ids = [one.id.partition("/")[2] for one in lines]
        found: list[dict[str, Any]] = []
        # A line begun after one that has gone stands first.
        first = [at for after, those in begun.items() if after not in ids for at in those]
        found += [self._begun(at, title) for at in first]
        for number, one in enumerate(lines, 1):
            found.append(self._line(one, f"Line {number} of {title}", number == 1, number == len(lines)))
            found += [self._begun(at, title) for at in begun.get(ids[number - 1], ())]
        return {"path": list(path), "title": title, "lines": found}

    def _line(self, part: SpokenPart, label: str, first: bool, last: bool) -> dict[str, Any]:
        path, line = self.records[part.id]
        text = (*path, "text")
        draft = self.desk.drafts.get(text)
        bound = bool(fields_in(line.text))
        opened = path in _open_lines(self.sight)
        told: dict[str, Any] = {
            "key": "/".join(self.born.get(path, path)),
            "at": list(path),
            "label": label,
            "path": list(text),
            "shown": line.text,
            "reads": part.shown if bound else "",
            "sounds": part.said if part.said != line.text else "",
            "time": time_words(part.seconds),
            "pause": f"then {time_words(part.pause_s)} of silence" if part.pause_s else "",
            "whose": whose(line),
            "about": about_line(line, part),
            "first": first,
            "last": last,
            "open": opened,
            "notes": [_note(one) for one in self.notes.lines.get(part.id, ())],
        }
        if draft is not None:
            error = draft.error if str(draft.typed).strip() else "A line says something; take it out to be rid of it."
            told |= {"typed": draft.typed, "error": error}
        if opened:
            form = [plainer(field) for field in self.forms.form(path) if field["name"] not in _HIDDEN]
            told["groups"] = grouped(form, _GROUPS)
            told["stops"] = self._other_stops(path)
        return told

    def _begun(self, at: Path, title: str) -> dict[str, Any]:
        draft = self.desk.drafts.get(at)
        assert draft is not None
        more = {"error": draft.error} if draft.error else {}
        return {
            "key": "/".join(at),
            "begun": True,
            "label": f"New line of {title}",
            "path": list(at),
            "shown": draft.typed,
            **more,
        }

    def _other_stops(self, path: Path) -> list[Option]:
        if path[0] != "script":
            return []
        names = {space.id: space.name for space in self.project.spaces}
        return [{"value": stop.id, "label": names[stop.space]} for stop in self.project.script]

    def _open_lines(self) -> list[SpokenLine]:
        opened = _open_lines(self.sight)
        return [line for path, line in self.records.values() if path in opened]


def _note(note: Note) -> dict[str, Any]:
    return {"id": note.finding, "words": note.words, "wrong": note.wrong}


def _open_lines(sight: Sight) -> set[Path]:
    opened: set[Path] = sight.kept.setdefault(_OPEN, set())
    return opened


def _open(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    path = path_of_line(message)
    line_at(desk.project, path)
    if message.get("open") is True:
        _open_lines(sight).add(path)
        return "What it shows, its shot and its pause, open"
    _open_lines(sight).discard(path)
    return "Closed"


def _draft(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    """Draft what is missing; what a person wrote, changed or took out stays so."""
    before = {path: line for _, path, line in line_paths(desk.project)}
    project = drafted(desk.project, desk.findings())
    after = {path: line for _, path, line in line_paths(project)}
    added = len(after.keys() - before.keys())
    gone = len(before.keys() - after.keys())
    renewed = sum(path in before and before[path] is not line and before[path] != line for path, line in after.items())
    if project is desk.project or not (added or gone or renewed):
        return "Nothing is missing: the script tells what the record holds"
    desk.change("drafted what was missing", project)
    words = [_many(added, "added"), *([_many(renewed, "refreshed")] if renewed else [])]
    words += [f"{_many(gone, 'taken out')}, since what was told there has gone"] if gone else []
    return f"{', '.join(words)}. What was written or changed by hand stays as it was"


def _many(count: int, done: str) -> str:
    return f"{count or 'No'} {'line' if count == 1 else 'lines'} {done}"


HANDLERS: Final = {
    **SAID,
    **ROOM,
    "open line": _open,
    "figures": figures_here,
    "draft": _draft,
}
QUIET: Final = ("figures", "perspectives")
