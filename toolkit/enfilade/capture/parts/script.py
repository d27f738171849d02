"""The script: for each stop its lines, each with how it reads and sounds, its time, and what is found about it."""

from __future__ import annotations

from typing import Any, Final

from enfilade.capture.desk import Desk
from enfilade.capture.line_notes import Note, Notes, notes_of
from enfilade.capture.parts.fields import add_row, set_field
from enfilade.capture.sight import Sight, number_of, text_of
from enfilade.capture.telling import Told, line_at, line_paths, time_words, told_now
from enfilade.editing.forms.called import shortened
from enfilade.editing.forms.forms import Field, Forms, grouped
from enfilade.editing.forms.offers import Offers, Option
from enfilade.editing.forms.paths import Path
from enfilade.editing.forms.rows import with_row_moved
from enfilade.editing.forms.script_lines import with_line_added, with_line_moved, with_line_out
from enfilade.errors import NotFound, Refused
from enfilade.findings import Finding
from enfilade.project.project import Project
from enfilade.project.speaking import Part, SpokenLine, Stop
from enfilade.script.forms import FORMS
from enfilade.script.resolve import fields_in
from enfilade.walkthrough.drafting import drafted
from enfilade.walkthrough.pages import SpokenPart, StopPart, TalkPart

__all__ = ["HANDLERS", "NAME", "QUIET", "shown"]

NAME: Final = "script"
_BEGUN: Final = "begun line"
"""First step of the path under which a line is kept that has no words yet."""
_OPEN: Final = "open lines"
_BORN: Final = "born lines"
_ROOMS: Final = "open rooms"
_GROUPS: Final = {
    "What it shows": ("things", "photographs"),
    "What it tells": ("decisions", "findings"),
    "Who hears it, and the silence after it": ("hear", "pause_s"),
    "How it is filmed": ("shot",),
}
_HIDDEN: Final = frozenset({"text", "drafted"})
_ROOM_FIELDS: Final = ("story", "views")
_Path = tuple[str, ...]


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
        self.notes: Notes = notes_of(told)
        self.records = {id: (path, line) for id, path, line in line_paths(self.project)}
        self.offers = Offers(self.project, {"findings": _findings(told, self._open_lines())})
        self.forms = Forms(self.project, self.offers, desk.drafts)
        self.begun = [path for path in desk.drafts.paths() if path[0] == _BEGUN]
        self.born: dict[_Path, _Path] = {there: at for at, there in _born(sight).items()}

    def shown(self) -> dict[str, Any]:
        spoken, project = self.told.spoken, self.project
        stopped = {stop.space for stop in project.script}
        untold = [id for id in self.told.telling.order if id not in stopped]
        parts = [self._part(part) for part in spoken.parts]
        target = f" of {time_words(spoken.target_s)}" if spoken.target_s is not None else ""
        return {
            "words": f"{_counted(len(self.records))}, {time_words(spoken.seconds)}{target}.",
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
        opened = stop.space in _kept(self.sight, _ROOMS)
        fields = [self.forms.field(("spaces", stop.space, name)) for name in _ROOM_FIELDS] if opened else []
        return {
            "id": stop.id,
            "space": stop.space,
            "name": stop.name,
            "time": time_words(stop.seconds),
            "way": stop.way,
            "notes": [_note(one) for one in self.notes.rooms.get(stop.space, ())],
            "views": _views_words(len(room.views)),
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

    def _lines(self, path: _Path, lines: tuple[SpokenPart, ...], title: str) -> dict[str, Any]:
        """Return the lines of a list, with those begun among them; `path` leads to the list, or to a room without."""
        begun: dict[str, list[_Path]] = {}
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
        opened = path in _kept(self.sight, _OPEN)
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
            "whose": _whose(line),
            "about": _about(line, part),
            "first": first,
            "last": last,
            "open": opened,
            "notes": [_note(one) for one in self.notes.lines.get(part.id, ())],
        }
        if draft is not None:
            error = draft.error if str(draft.typed).strip() else "A line says something; take it out to be rid of it."
            told |= {"typed": draft.typed, "error": error}
        if opened:
            form = [field for field in self.forms.form(path) if field["name"] not in _HIDDEN]
            told["groups"] = grouped(form, _GROUPS)
            told["stops"] = self._other_stops(path)
        return told

    def _begun(self, at: _Path, title: str) -> dict[str, Any]:
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

    def _other_stops(self, path: _Path) -> list[Option]:
        if path[0] != "script":
            return []
        names = {space.id: space.name for space in self.project.spaces}
        return [{"value": stop.id, "label": names[stop.space]} for stop in self.project.script]

    def _open_lines(self) -> list[SpokenLine]:
        opened = _kept(self.sight, _OPEN)
        return [line for path, line in self.records.values() if path in opened]


def _findings(told: Told, lines: list[SpokenLine]) -> list[Option]:
    """Return what a line may tell: what falls short, room by room, and what lines name already."""
    if not lines:
        return []
    named = {id for line in lines for id in line.findings}
    rooms = {space.id: space.name for space in told.project.spaces}
    found = []
    for one in told.telling.findings:
        named.discard(one.id)
        if one.verdict == "falls short" or one.id in {id for line in lines for id in line.findings}:
            found.append(_finding_option(one, rooms))
    found += [{"value": id, "label": "A finding that is not made any more"} for id in sorted(named)]
    return sorted(found, key=lambda one: one.get("group", ""))


def _finding_option(one: Finding, rooms: dict[str, str]) -> Option:
    return {
        "value": one.id,
        "label": shortened(f"{one.title}: {one.verdict}"),
        "group": rooms.get(one.space or "", "The whole house"),
    }


def _note(note: Note) -> dict[str, Any]:
    return {"id": note.finding, "words": note.words, "wrong": note.wrong}


def _counted(lines: int) -> str:
    if not lines:
        return "Nothing is written yet"
    return "One line" if lines == 1 else f"{lines} lines"


def _whose(line: SpokenLine) -> str:
    if line.drafted is None:
        return "written by hand"
    return "drafted, then changed by hand" if line.edited else "as drafted"


def _about(line: SpokenLine, part: SpokenPart) -> str:
    """Return in a few words what is folded away: what it shows, its shot, who may hear it."""
    words = [f"shows {shortened(', '.join(part.shows), 60)}"] if part.shows else []
    if line.shot is not None:
        size = f"{line.shot.size} shot" if line.shot.size else "a shot"
        words.append(size if line.shot.move == "still" else f"{size}, {line.shot.move}")
    if set(line.hear) != {"client", "public", "student", "studio"}:
        words.append(f"heard by {', '.join(line.hear) or 'nobody'}")
    return "; ".join(words)


def _views_words(count: int) -> str:
    return "no perspective recorded" if not count else "one perspective" if count == 1 else f"{count} perspectives"


def _kept(sight: Sight, name: str) -> set[Any]:
    kept: set[Any] = sight.kept.setdefault(name, set())
    return kept


def _born(sight: Sight) -> dict[_Path, _Path]:
    """Return the lines that were begun on this page and have words by now: where they were begun, and their path."""
    born: dict[_Path, _Path] = sight.kept.setdefault(_BORN, {})
    return born


def _path(message: dict[str, Any], name: str = "path") -> Path:
    path = message.get(name)
    if not isinstance(path, list) or not 1 < len(path) <= 12 or not all(isinstance(s, str) for s in path):
        raise Refused("the page sent no place", do="load the page again")
    return tuple(path)


def _say(desk: Desk, sight: Sight, message: dict[str, Any]) -> dict[str, Any]:
    """Take what was typed into a line; one that was begun is written down with its first words."""
    path, typed = _path(message), message.get("typed")
    if path[0] != _BEGUN:
        return set_field(desk, path, typed)
    if not isinstance(typed, str):
        raise Refused("the page sent no line", do="load the page again")
    if (there := _born(sight).get(path)) is not None:
        return set_field(desk, (*there, "text"), typed)
    if not typed.strip():
        desk.drafts.keep(path, typed, "")
        return {"say": ""}
    desk.drafts.keep(path, typed, "")
    try:
        project, line = _written(desk.project, path, typed)
    except Exception as error:
        what = getattr(error, "faults", None)
        desk.drafts.keep(path, typed, what[0].what if what else str(error))
        raise
    desk.change("wrote a line", project, joins="/".join((*line, "text")))
    desk.drafts.drop(path)
    _born(sight)[path] = line
    return {"say": "", "shown": typed}


def _written(project: Project, begun: _Path, text: str) -> tuple[Project, _Path]:
    """Return the project with a line that was begun, and the path to it."""
    where, after = begun[1:-1], begun[-1]
    if where[0] == "spaces":
        project, stop, line = with_line_added(project, where[1], text)
        return project, ("script", stop, "lines", line)
    if where[0] == "script":
        found = _stop_of(project, where[1])
        ids = [one.id for one in found.lines]
        at = ids.index(after) + 1 if after in ids else 0
        return _added(project, where, text, at)
    part = _part_of(project, where[3])
    ids = [one.id for one in getattr(part, where[4])]
    return _added(project, where, text, ids.index(after) + 1 if after in ids else 0)


def _added(project: Project, where: _Path, text: str, at: int) -> tuple[Project, _Path]:
    from enfilade.editing.forms.rows import with_row_added

    project, line = with_row_added(project, where, {"text": text})
    return with_row_moved(project, (*where, line), at), (*where, line)


def _stop_of(project: Project, id: str) -> Stop:
    found = next((one for one in project.script if one.id == id), None)
    if found is None:
        raise NotFound("this stop is not there any more", do="load the page again")
    return found


def _part_of(project: Project, id: str) -> Part:
    found = next((one for one in project.show.speaking.parts if one.id == id), None)
    if found is None:
        raise NotFound("this part is not there any more", do="load the page again")
    return found


def _begin(desk: Desk, sight: Sight, message: dict[str, Any]) -> dict[str, Any]:
    """Begin a line after another, or as the first."""
    where, after = _path(message), text_of(message, "after", longest=64)
    taken = {*desk.drafts.paths(), *_born(sight)}
    number = next(n for n in range(1, 10_000) if (_BEGUN, *where, f"{after}") not in taken or n > 1)
    path = (_BEGUN, *where, after)
    if path in _born(sight):
        # A line that was begun there has its words by now; this is another one.
        _born(sight).pop(path)
    del number
    desk.drafts.keep(path, "", "")
    return {"say": "A new line", "path": list(path)}


def _leave(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    """Leave a line that was begun and never written."""
    desk.drafts.drop(_path(message))
    return "The new line is left out"


def _take_out(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    path = _path(message)
    owner, line = line_at(desk.project, path)
    project = with_line_out(desk.project, owner, line.id)
    desk.change(f"took out “{shortened(line.text, 40)}”", project)
    desk.drafts.drop((*path, "text"))
    _kept(sight, _OPEN).discard(path)
    return f"Taken out: {shortened(line.text, 60)}"


def _move(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    path, by = _path(message), int(number_of(message, "by"))
    _, line = line_at(desk.project, path)
    rows = _rows(desk.project, path)
    at = [one.id for one in rows].index(line.id)
    to = min(max(at + by, 0), len(rows) - 1)
    if to == at:
        return "It stands there already"
    desk.change(f"moved “{shortened(line.text, 40)}”", with_row_moved(desk.project, path, to))
    return f"Line {to + 1} of {len(rows)}"


def _rows(project: Project, path: Path) -> tuple[SpokenLine, ...]:
    if path[0] == "script":
        return _stop_of(project, path[1]).lines
    rows: tuple[SpokenLine, ...] = getattr(_part_of(project, path[3]), path[4])
    return rows


def _to_stop(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    """Say a line in another room."""
    path, stop = _path(message), text_of(message, "stop", longest=64)
    owner, line = line_at(desk.project, path)
    if path[0] != "script":
        raise Refused("what joins the parts is said in no other room")
    there = _stop_of(desk.project, stop)
    if owner == stop:
        return "It is said there already"
    project = with_line_moved(desk.project, owner, line.id, len(there.lines), to_stop=stop)
    desk.change(f"said “{shortened(line.text, 40)}” in another room", project)
    _kept(sight, _OPEN).discard(path)
    return f"It is said last in {desk.project.space(there.space).name}"


def _open(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    path = _path(message)
    line_at(desk.project, path)
    if message.get("open") is True:
        _kept(sight, _OPEN).add(path)
        return "What it shows, its shot and its pause, open"
    _kept(sight, _OPEN).discard(path)
    return "Closed"


def _open_room(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    space = desk.project.space(text_of(message, "space", longest=64))
    if message.get("open") is True:
        _kept(sight, _ROOMS).add(space.id)
        return f"Page of {space.name} open"
    _kept(sight, _ROOMS).discard(space.id)
    return "Closed"


def _figures(desk: Desk, sight: Sight, message: dict[str, Any]) -> dict[str, Any]:
    """Return the figures that a line in a room can be bound to, with what they say now; what it shows comes first."""
    told, path = told_now(desk, sight), _path(message)
    figures = told.telling.figures
    space, things = _where(desk.project, path)
    if space is None:
        return {"say": "", "figures": []}
    called = [desk.project.things_by_id[id].called.casefold() for id in things if id in desk.project.things_by_id]
    found = []
    for one in figures.fields_for(space):
        bound = figures.bound(one.field[1:-1])
        value = getattr(bound, "value", None)
        kind = value.kind if value is not None else "words"
        first = any(one.label.casefold().endswith(f" of {name}") for name in called)
        found.append({"field": one.field, "label": one.label, "shown": one.shown, "kind": kind, "first": first})
    found.sort(key=lambda one: not one["first"])
    return {"say": "", "figures": found}


def _where(project: Project, path: Path) -> tuple[str | None, tuple[str, ...]]:
    """Return the room in which a line, written or begun, is said, and what it shows."""
    begun = path[0] == _BEGUN
    where = path[1:] if begun else path
    if where[0] == "spaces":
        return project.space(where[1]).id, ()
    if where[0] == "script":
        line = None if begun else line_at(project, path)[1]
        return _stop_of(project, where[1]).space, line.things if line is not None else ()
    told = [stop.space for stop in project.script]
    return (told[0] if told else next((space.id for space in project.spaces), None)), ()


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
    "say line": _say,
    "begin line": _begin,
    "leave line": _leave,
    "take line out": _take_out,
    "move line": _move,
    "line to stop": _to_stop,
    "open line": _open,
    "open room": _open_room,
    "figures": _figures,
    "draft": _draft,
}
QUIET: Final = ("figures",)
