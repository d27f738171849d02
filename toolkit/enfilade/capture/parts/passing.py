"""What is passed on and taken in: a project box, and a copy for students."""

from __future__ import annotations

from pathlib import Path
from typing import Any, Final

from enfilade.capture.archives import opened, plain_seen, seen, whole_address
from enfilade.capture.desk import Desk
from enfilade.capture.parts.archive import look_again
from enfilade.capture.sight import Sight, text_of
from enfilade.editing.quoting import quoted
from enfilade.errors import BadRecord, EnfiladeError, Fault

__all__ = ["HANDLERS", "NAME", "shown"]

NAME: Final = "passing"
_SAID: Final = "passed on"
_LONGEST: Final = 4000


def shown(desk: Desk, sight: Sight) -> dict[str, Any]:
    """Return what of the open house can be passed on, and what was done on this page."""
    archive = seen(sight)
    return {
        **plain_seen(sight),
        "said": dict(sight.kept.get(_SAID, {})),
        "kept": len(archive.versions) if archive else 0,
        "newest": archive.versions[-1].number if archive and archive.versions else 0,
        "released": archive.released if archive else False,
        "shared": archive is not None and archive.path is None,
        "file": _box_name(desk),
        "folder": str(desk.folder.resolve().parent),
    }


def _box_name(desk: Desk) -> str:
    return f"{desk.project.id}-box.zip"


def _write_box(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    """Write one file that holds every version of the open house."""
    from enfilade.archive.box import write_box

    folder = _path(message, "folder", "box folder", "boxes")
    if not folder.is_dir():
        raise _at("box folder", f"there is no folder {folder}", "a folder that is there")
    there = (folder / _box_name(desk)).exists()
    with opened(sight) as store:
        path = _at_field(
            "box folder", lambda: write_box(store, desk.project.id, folder / _box_name(desk), sight.progress)
        )
    return _say(sight, "box", f"The box is written{', in place of the one that stood there' if there else ''}: {path}")


def _take_in(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    """Verify a box, and take its versions into the archive."""
    from enfilade.archive.box import take_in

    path = _path(message, "box", "box", _box_name(desk))
    with opened(sight, create=True) as store:
        taken = _at_field("box", lambda: take_in(store, path, sight.progress))
        names = {one.id: one.name for one in store.projects()}
    look_again(desk, sight)
    if not taken:
        return _say(sight, "in", "The box is whole. All of it is in the archive already; nothing was added.")
    house = names.get(taken[0].project, taken[0].project)
    versions = f"version {taken[0].number}" if len(taken) == 1 else f"versions {taken[0].number} to {taken[-1].number}"
    return _say(sight, "in", f"The box is whole. {house}: {versions} added to the archive.")


def _unpack(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    """Lay the newest version of a box out as a house's folder."""
    from enfilade.archive.box import unpack

    path = _path(message, "box", "box", _box_name(desk))
    folder = _path(message, "folder", "unpack folder", "unpacked")
    sight.progress("verifying the box")
    made = _at_field("unpack folder", lambda: unpack(path, folder))
    return _say(sight, "in", f"The box is whole. Its newest version is unpacked into {made}; it opens like any house.")


def _release(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    """Keep a copy of the newest version, from which what students may not know was left out."""
    from enfilade.archive.releasing import release

    to = text_of(message, "to", longest=_LONGEST).strip()
    why = text_of(message, "why", longest=_LONGEST).strip()
    who = desk.project.show.studio.designer or ""
    sight.progress("leaving out what students may not know")
    address = _at_field("students", lambda: whole_address(to, "students.sqlite")) if to else None
    with opened(sight) as store:
        version = _at_field("students", lambda: release(store, desk.project.id, address, who=who, why=why))
        where = str(address or store.address)
    look_again(desk, sight)
    return _say(
        sight, "released", f"Released for students as version {version.number} of {version.project}, in {where}"
    )


def _path(message: dict[str, Any], name: str, place: str, example: str) -> Path:
    typed = text_of(message, name, longest=_LONGEST).strip()
    try:
        path = Path(typed).expanduser()
        if not typed or "\0" in typed or not path.is_absolute():
            raise ValueError("it does not begin at the root")
    except (RuntimeError, ValueError) as error:
        raise _at(
            place,
            f"{quoted(typed)} is no whole path" if typed else "nothing is named",
            f"a path on this machine, from its root, such as {Path.home() / example}",
        ) from error
    return path


def _at_field(place: str, work: Any) -> Any:
    """Do some work, and show what is refused at the field that it came from."""
    try:
        return work()
    except EnfiladeError as error:
        raise _at(place, error.what, "; ".join(one for one in (error.expected, error.do) if one)) from error


def _at(place: str, what: str, expected: str) -> BadRecord:
    return BadRecord(NAME, [Fault(place, what, expected)])


def _say(sight: Sight, what: str, words: str) -> str:
    sight.kept.setdefault(_SAID, {})[what] = words
    return words


HANDLERS: Final = {
    "write box": _write_box,
    "take in box": _take_in,
    "unpack box": _unpack,
    "release copy": _release,
}
