"""Issues: what each audience was told, and when, kept beside the project so that the next telling can say what changed.

An issue is one file, `issued/AUDIENCE-NUMBER.json`: the version and date that the documents bore, their forms,
and the record as far as that audience was told it. Nothing else is in it: an issue to the public holds the
public's copy.
"""

from __future__ import annotations

import contextlib
import datetime as dt
import json
import os
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any, Final, get_args

from pydantic import TypeAdapter, ValidationError

from enfilade.errors import EnfiladeError, Refused
from enfilade.files import locked, read_bytes, sweep_parts, write_bytes
from enfilade.project.fields import AUDIENCES, Audience
from enfilade.project.migrations import migrated
from enfilade.project.names_before import is_changed
from enfilade.project.project import Project
from enfilade.project.reading import parsed
from enfilade.project.writing import project_text

__all__ = ["FOLDER", "KEPT", "Issue", "Issued", "as_kept", "copy_issues", "home_of", "issued_to", "keep_issue"]

FOLDER: Final = "issued"
KEPT: Final = 8
"""So many issues to one audience are kept (own choice)."""

_FORMAT: Final = 1
_NAME: Final = re.compile(rf"({'|'.join(AUDIENCES)})-(\d{{4,}})\.json")
_LONGEST: Final = 400


@dataclass(frozen=True)
class Issue:
    """One issue.

    Attributes:
        number: Counted up for each audience, from 1.
        version, date: As the documents bore them; None: they bore no date.
        forms: The forms that were written.
        project: The record as this audience was told it.
    """

    audience: Audience
    number: int
    version: str
    date: dt.date | None
    forms: tuple[str, ...]
    project: Project


@dataclass(frozen=True)
class Issued:
    """The last issue to one audience, and what is to be said of the files that could not be read.

    Attributes:
        last: The last one that can be read; None when there is none.
        troubles: A sentence for each later file that was passed over.
    """

    last: Issue | None
    troubles: tuple[str, ...] = ()


def home_of(project: Project) -> Path | None:
    """Return the folder that a project was loaded from or saved to, None when it has none yet."""
    return Path(project._loaded[0]) if project._loaded is not None else None


def keep_issue(told: Project, audience: Audience, forms: Iterable[str]) -> Path:
    """Keep what an audience has just been told in the project's folder, and return the file.

    Args:
        told: What `for_audience` made for that audience.
        audience: Who was told.
        forms: Names of the forms that were written.
    Raises:
        Refused: The project has no folder, the copy is another audience's, or the folder cannot be written.
        Conflict: Another process holds the folder's lock.
    """
    home = home_of(told)
    if home is None:
        raise Refused("the project has no folder yet, so that an issue cannot be kept", do="save it first")
    if audience != "studio" and told._told_to != audience:
        raise Refused(f"this is not the copy for {audience}", expected="what for_audience made for that audience")
    _refuse_link(home)
    show = told.show
    plain = {
        "issue": _FORMAT,
        "project": told.id,
        "audience": audience,
        "version": show.version,
        "date": show.date.isoformat() if show.date else None,
        "forms": list(dict.fromkeys(forms)),
    }
    head = json.dumps(plain, ensure_ascii=False)
    data = f'{head[:-1]}, "told": {project_text(told)}}}\n'.encode()
    with locked(home):
        sweep_parts(home / FOLDER)
        files = _files(home, audience)
        number = files[0][0] + 1 if files else 1
        path = home / FOLDER / f"{audience}-{number:04d}.json"
        write_bytes(path, data)
        for _, old in files[KEPT - 1 :]:
            with contextlib.suppress(OSError):
                old.unlink()
    return path


def issued_to(project: Project, audience: Audience) -> Issued:
    """Return the last issue of a project to one audience. Files that cannot be read are passed over, and said so."""
    home = home_of(project)
    if home is None:
        return Issued(None)
    if (home / FOLDER).is_symlink():
        return Issued(None, (f"The folder {FOLDER} is a link and was not read.",))
    troubles: list[str] = []
    for number, path in _files(home, audience):
        try:
            issue = _read(path, number, audience)
        except (EnfiladeError, ValidationError) as error:
            what = error.what if isinstance(error, EnfiladeError) else "it holds something else"
            what = what.splitlines()[0].replace(str(path), path.name)
            troubles.append(f"The issue {path.name} cannot be read and was passed over: {what[:_LONGEST]}.")
            continue
        ids = (issue.project.id, project.id)
        if ids[0] != ids[1] and not any(map(is_changed, ids)):  # a changed id hides a name, and tells no project
            troubles.append(f"The issue {path.name} is of another project and was passed over.")
            continue
        return Issued(issue, tuple(troubles))
    return Issued(None, tuple(troubles))


def copy_issues(source: Path, target: Path) -> None:
    """Bring the issues along to another folder, where they do not lie yet.

    Raises:
        Refused: The folder of issues is a link, or one cannot be read or written.
    """
    _refuse_link(source)
    _refuse_link(target)
    for audience in AUDIENCES:
        for _, path in _files(source, audience):
            if not os.path.lexists(target / FOLDER / path.name):
                write_bytes(target / FOLDER / path.name, read_bytes(path))


def as_kept(told: Project) -> Project:
    """Return a told copy as it would be read back from an issue, so that the two can be compared."""
    return _lenient(json.loads(project_text(told)))


def _refuse_link(home: Path) -> None:
    if (home / FOLDER).is_symlink():
        raise Refused(f"{home / FOLDER} is a link", expected="a folder inside the project")


def _files(home: Path, audience: Audience) -> list[tuple[int, Path]]:
    """Return the files of the issues to one audience with their numbers, newest first; other files are not ours."""
    found = []
    try:
        entries = list((home / FOLDER).iterdir())
    except OSError:
        return []
    for path in entries:
        name = _NAME.fullmatch(path.name)
        if name and name[1] == audience:
            found.append((int(name[2]), path))
    return sorted(found, reverse=True)


def _read(path: Path, number: int, audience: Audience) -> Issue:
    plain = parsed(read_bytes(path), path.name)
    if plain.get("issue") != _FORMAT:
        raise Refused(f"{plain.get('issue')!r:.40} is no known form of an issue", expected=f"{_FORMAT}")
    if plain.get("audience") != audience:
        raise Refused("it is for another audience than its name says")
    told, version, day, forms = (plain.get(key) for key in ("told", "version", "date", "forms"))
    if not (
        isinstance(told, dict) and isinstance(version, str) and isinstance(forms, list) and len(version) <= _LONGEST
    ):
        raise Refused("it holds no record, version and forms")
    try:
        date = dt.date.fromisoformat(day) if day is not None else None
    except (TypeError, ValueError) as error:
        raise Refused(f"{day!r:.40} is not a day", expected="a date such as 2026-03-16") from error
    project = _lenient(migrated(told, path.name))
    return Issue(audience, number, version, date, tuple(str(form) for form in forms), project)


def _lenient(plain: dict[str, Any]) -> Project:
    """Return the records of a told copy. One that says too little to stand alone, now that facts are left out of it,
    goes back to its default, or out of its list."""
    kept: dict[str, Any] = {"id": str(plain.get("id", "")), "name": str(plain.get("name", ""))}
    for name, field in Project.model_fields.items():
        if name in ("format", "id", "name") or name not in plain:
            continue
        annotation: Any = field.annotation
        if isinstance(plain[name], list):
            records = tuple(_records(get_args(annotation)[0], plain[name]))
            seen: set[str] = set()
            kept[name] = tuple(one for one in records if not (one.id in seen or seen.add(one.id)))  # type: ignore[func-returns-value]
            continue
        try:
            kept[name] = _adapter(annotation).validate_python(plain[name])
        except ValidationError:
            kept[name] = field.default
    return Project.model_construct(**{name: field.default for name, field in Project.model_fields.items()} | kept)


def _records(kind: Any, plain: list[Any]) -> Iterator[Any]:
    try:
        yield from _adapter(tuple[kind, ...]).validate_python(plain)
    except ValidationError:
        for one in plain:
            try:
                yield _adapter(kind).validate_python(one)
            except ValidationError:
                continue


@cache
def _adapter(kind: Any) -> TypeAdapter[Any]:
    return TypeAdapter(kind)
