"""The shots: planned when they are asked for, drawn as each camera sees them, and fixed where they shall stay."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Final

from enfilade.capture.desk import Desk
from enfilade.capture.said_lines import path_of_line
from enfilade.capture.sight import Sight
from enfilade.capture.telling import line_at, line_paths, told_now
from enfilade.editing.forms.called import shortened
from enfilade.editing.forms.paths import Path, spot_of, with_row
from enfilade.errors import Refused
from enfilade.project.project import Project
from enfilade.project.speaking import Eye, Shot, SpokenLine
from enfilade.walkthrough.film import Film, ShotPart, film

__all__ = ["HANDLERS", "NAME", "QUIET", "shown"]

NAME: Final = "shots"
_KEPT: Final = "film"
_LONGEST: Final = 90
_GONE: Final = "This line is not said any more."
_NONE: Final = (None, None)


@dataclass(frozen=True)
class _Planned:
    """A film, and the house that it was planned for."""

    film: Film
    project: Project
    number: int


def shown(desk: Desk, sight: Sight) -> dict[str, Any]:
    """Return the planned shots in words; nothing is planned here, and pictures are handed over when they are asked for.

    Drawings are named by the number of the plan that they belong to.
    """
    planned = _planned(sight)
    lines = {id: (path, line) for id, path, line in line_paths(desk.project)}
    if planned is None:
        return {"number": 0, "can": bool(lines), "shots": [], "plans": []}
    said = {id: shortened(part.shown, _LONGEST) for id, part in told_now(desk, sight).lines.items()}
    return {
        "number": planned.number,
        "can": bool(lines),
        "older": planned.project is not desk.project,
        "words": _in_words(planned.film),
        "shots": [_shot(one, said.get(one.line, _GONE), *lines.get(one.line, _NONE)) for one in planned.film.shots],
        "plans": [one.title for one in planned.film.plans],
    }


def _planned(sight: Sight) -> _Planned | None:
    kept = sight.kept.get(_KEPT)
    return kept if isinstance(kept, _Planned) else None


def _in_words(film_: Film) -> str:
    shots = len(film_.shots)
    places = len({one.position for one in film_.shots if one.position is not None})
    trouble = sum(bool(one.trouble) for one in film_.shots)
    words = f"{shots} shot{'' if shots == 1 else 's'} from {places} position{'' if places == 1 else 's'}"
    return f"{words}; {trouble} in trouble." if trouble else f"{words}."


def _shot(one: ShotPart, said: str, path: Path | None, line: SpokenLine | None) -> dict[str, Any]:
    fixed = bool(line is not None and line.shot is not None and line.shot.eye is not None)
    also = f"Also in frame: {', '.join(one.also)}." if one.also else ""
    hidden = f"Partly hidden by {', '.join(one.blocked_by)}." if one.blocked_by else ""
    seen = [one.lens, f"position {one.position}" if one.position is not None else ""]
    return {
        "key": one.line,
        "number": one.number,
        "room": one.room,
        "title": f"{one.size[:1].upper()}{one.size[1:]}: {one.subject}",
        "how": ", ".join([*(part for part in seen if part), *([one.move] if one.move != "still" else [])]),
        "where": one.where,
        "also": " ".join(part for part in (hidden, also) if part),
        "trouble": one.trouble,
        "note": one.note,
        "said": said,
        "path": list(path) if path is not None else None,
        "picture": one.picture is not None,
        "fixed": fixed,
        "here": one.eye_mm is not None and line is not None and not fixed,
    }


def _plan(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    """Plan every shot of the script as it stands now."""
    before = _planned(sight)
    sight.progress("working out what can be seen from where")
    made = film(told_now(desk, sight).telling, sight.progress)
    sight.kept[_KEPT] = _Planned(made, desk.project, before.number + 1 if before else 1)
    return _in_words(made)


def _pictures(desk: Desk, sight: Sight, message: dict[str, Any]) -> dict[str, Any]:
    """Return the drawings of the plan that is shown."""
    planned = _planned(sight)
    if planned is None:
        raise Refused("no shots are planned yet")
    return {
        "say": "",
        "number": planned.number,
        "pictures": {one.line: one.picture.svg for one in planned.film.shots if one.picture is not None},
        "alts": {one.line: one.picture.title for one in planned.film.shots if one.picture is not None},
        "plans": [{"words": one.title, "svg": one.svg} for one in planned.film.plans],
    }


def _stand(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    """Fix the place that was found for the camera of a line."""
    path = path_of_line(message)
    owner, line = line_at(desk.project, path)
    planned = _planned(sight)
    found = next((s for s in planned.film.shots if s.line == f"{owner}/{line.id}"), None) if planned else None
    if found is None or found.eye_mm is None:
        raise Refused("no place is found for this shot yet", do="plan the shots")
    x, y, z = (round(one, 1) for one in found.eye_mm)
    shot = (line.shot or Shot()).model_copy(update={"eye": Eye(x_mm=x, y_mm=y, height_mm=z)})
    desk.change(f"fixed the camera of shot {found.number}", _with_shot(desk.project, path, line, shot))
    return f"Shot {found.number} is taken from here, until it is found again"


def _with_shot(project: Project, path: Path, line: SpokenLine, shot: Shot) -> Project:
    return with_row(spot_of(project, path), line.model_copy(update={"shot": shot}))


def _free(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    """Have the place of a line's camera found again."""
    path = path_of_line(message)
    _, line = line_at(desk.project, path)
    if line.shot is None or line.shot.eye is None:
        return "Its place is found by calculation already"
    free = line.shot.model_copy(update={"eye": None})
    desk.change("freed the camera of a shot", _with_shot(desk.project, path, line, free))
    return "Its place is found again when the shots are planned"


HANDLERS: Final = {"plan shots": _plan, "shot pictures": _pictures, "stand here": _stand, "find again": _free}
QUIET: Final = ("shot pictures",)
