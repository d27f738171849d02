"""Photographs of a room: taken in, linked to what they show, taken out again."""

from __future__ import annotations

import datetime as dt
from pathlib import Path
from typing import Literal

from enfilade.editing.forms.paths import with_fields
from enfilade.editing.ids import new_id
from enfilade.errors import NotFound, Refused
from enfilade.files import fingerprint
from enfilade.project.photos import keep_photograph
from enfilade.project.project import Project
from enfilade.project.showing import Photograph
from enfilade.project.stripping import day_taken, tried

__all__ = [
    "Links",
    "photograph_added",
    "photograph_linked",
    "photograph_of",
    "photograph_removed",
    "photograph_taken_in",
    "photographs_of",
]

Links = Literal["things", "decisions"]


def photographs_of(project: Project, space: str) -> tuple[Photograph, ...]:
    """Return the photographs of a room in their order; scanned plans are none."""
    return tuple(one for one in project.photographs if one.space == space and one.scan is None)


def photograph_of(project: Project, id: str) -> Photograph:
    """Return a photograph by id, or raise NotFound."""
    found = next((one for one in project.photographs if one.id == id), None)
    if found is None:
        raise NotFound("this photograph is not in the project any more", do="load the page again")
    return found


def photograph_taken_in(project: Project, folder: Path, data: bytes, space: str) -> tuple[Project, str]:
    """Put a picture among a room's photographs, with the day that its camera wrote down.

    The file is kept in the project's folder as it came; it is tried first, so that what is kept can be shown.

    Args:
        project: The house.
        folder: The project's folder.
        data: A whole PNG, JPEG or WebP file.
        space: Id of the room.
    Returns:
        The changed house, and the id of the photograph.
    Raises:
        Refused: It is no picture that can be shown, the room has it already, or the folder cannot be written.
        NotFound: There is no such room.
    """
    room = project.space(space)
    content = fingerprint(data)
    if any(one.file.startswith(content) for one in photographs_of(project, space)):
        raise Refused(f"the photographs of {room.name} have this picture already")
    tried(data)
    return photograph_added(project, keep_photograph(folder, data), space, taken_on=day_taken(data))


def photograph_added(
    project: Project,
    file: str,
    space: str,
    *,
    taken_on: dt.date | None = None,
    caption: str = "",
    alternative: str = "",
) -> tuple[Project, str]:
    """Record a picture that was kept before as the last of a room's photographs.

    Args:
        project: The house.
        file: Name that `keep_photograph` gave to it.
        space: Id of the room.
        taken_on: Day on which it was taken, None when unknown; the studio alone is told.
        caption: Words under it.
        alternative: What it shows, for who cannot see it.
    Returns:
        The changed house, and the id of the photograph.
    Raises:
        BadRecord: There is no such room, or a text is too long.
    """
    id = new_id(f"photograph {space}", {one.id for one in project.photographs})
    new = {
        "id": id,
        "file": file,
        "space": space,
        "taken_on": taken_on,
        "caption": caption,
        "alternative": alternative,
    }
    return project.with_records(photographs=[*project.photographs, new]), id


def photograph_linked(project: Project, id: str, links: Links, to: str, linked: bool) -> Project:
    """Say, or no longer say, that a photograph shows a thing or belongs to a decision.

    Args:
        project: The house.
        id: Id of the photograph.
        links: `things` or `decisions`.
        to: Id of the thing or the decision.
        linked: Whether it does.
    Raises:
        NotFound: There is no such photograph.
        BadRecord: There is no such thing or decision, or there are too many.
    """
    photograph = photograph_of(project, id)
    standing = getattr(photograph, links)
    if (to in standing) == linked:
        return project
    others = [one for one in standing if one != to]
    new = with_fields(photograph, {links: tuple([*others, to] if linked else others)})
    return project.with_records(photographs=[new if one is photograph else one for one in project.photographs])


def photograph_removed(project: Project, id: str) -> Project:
    """Return the house without a photograph.

    Its file stays in the project's folder: undo and the earlier states that are kept lead to it.

    Raises:
        NotFound: There is no such photograph.
    """
    photograph = photograph_of(project, id)
    return project.with_records(photographs=[one for one in project.photographs if one is not photograph])
