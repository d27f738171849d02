"""What is passed on and taken in: a project box, a copy for students; and a client who is to be forgotten."""

from __future__ import annotations

from pathlib import Path
from typing import Any, Final

from enfilade.capture.archives import let_go_of_all, look, opened, plain_seen, seen, settled, turn
from enfilade.capture.desk import Desk
from enfilade.capture.houses import remember
from enfilade.capture.parts.states import let_go
from enfilade.capture.sight import Sight, text_of
from enfilade.editing.quoting import quoted
from enfilade.errors import BadRecord, EnfiladeError, Fault

__all__ = ["HANDLERS", "NAME", "shown"]

NAME: Final = "handover"
_SAID: Final = "handed over"
_FORGETTING: Final = "forgetting"
_FORGOTTEN: Final = "forgotten"
_LONGEST: Final = 4000


def shown(desk: Desk, sight: Sight) -> dict[str, Any]:
    """Return what of the open house can be handed over, and what was done on this page."""
    archive = seen(sight)
    state = {**plain_seen(sight), "said": dict(sight.kept.get(_SAID, {})), "forgetting": _forgetting(desk, sight)}
    return {
        **state,
        "kept": len(archive.versions) if archive else 0,
        "newest": archive.versions[-1].number if archive and archive.versions else 0,
        "released": archive.released if archive else False,
        "shared": archive is not None and archive.path is None,
        "file": _box_name(desk),
        "folder": str(desk.folder.resolve().parent),
        "name": desk.project.name,
        "forgotten": list(sight.kept.get(_FORGOTTEN, ())),
    }


def _box_name(desk: Desk) -> str:
    return f"{desk.project.id}-box.zip"


def _write_box(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    """Write one file that holds every version of the open house."""
    from enfilade.archive.box import write_box

    folder = _path(message, "folder", "box folder")
    if not folder.is_dir():
        raise _at("box folder", f"there is no folder {folder}", "a folder that is there")
    with opened(sight) as store:
        path = _at_field(
            "box folder", lambda: write_box(store, desk.project.id, folder / _box_name(desk), sight.progress)
        )
    return _say(sight, "box", f"The box is written: {path}")


def _take_in(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    """Verify a box, and take its versions into the archive."""
    from enfilade.archive.box import take_in

    path = _path(message, "box", "box")
    with opened(sight, create=True) as store:
        taken = _at_field("box", lambda: take_in(store, path, sight.progress))
        names = {one.id: one.name for one in store.projects()}
    look(desk, sight)
    if not taken:
        return _say(sight, "in", "The box is whole. All of it is in the archive already; nothing was added.")
    house = names.get(taken[0].project, taken[0].project)
    versions = f"version {taken[0].number}" if len(taken) == 1 else f"versions {taken[0].number} to {taken[-1].number}"
    return _say(sight, "in", f"The box is whole. {house}: {versions} added to the archive.")


def _unpack(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    """Lay the newest version of a box out as a house's folder."""
    from enfilade.archive.box import unpack

    path, folder = _path(message, "box", "box"), _path(message, "folder", "unpack folder")
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
    with opened(sight) as store:
        version = _at_field("students", lambda: release(store, desk.project.id, to or None, who=who, why=why))
        where = to or str(store.address)
    look(desk, sight)
    return _say(
        sight, "released", f"Released for students as version {version.number} of {version.project}, in {where}"
    )


def _forgetting(desk: Desk, sight: Sight) -> dict[str, Any] | None:
    """Return what would be erased, as long as neither the house nor the archive has changed since it was told."""
    told = sight.kept.get(_FORGETTING)
    if told is None or told[0] is not desk.project or told[1] != turn(sight):
        return None
    return {"erased": list(told[2]), "remains": list(told[3])}


def _tell_forgetting(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    """Say what forgetting the client of the open house would erase, and what would remain; nothing is changed."""
    from enfilade.archive.forgetting import forget

    settled(desk)
    sight.progress("looking through all versions")
    with opened(sight) as store:
        told = forget(store, desk.project.id, folder=desk.folder)
    sight.kept[_FORGETTING] = (desk.project, turn(sight), list(told.sentences), told.remains)
    return "Nothing is changed yet. What would be erased is shown"


def _forget(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    """Erase the client of the open house, once its name is typed and what goes was shown."""
    from enfilade.archive.forgetting import forget

    if text_of(message, "name", longest=_LONGEST).strip() != desk.project.name.strip():
        raise _at("house name", "this is not the name of the house", quoted(desk.project.name, 80))
    if _forgetting(desk, sight) is None:
        raise _at("house name", "the house or the archive has changed since", "to look first at what would be erased")
    settled(desk)
    if desk.others:
        raise _at("house name", "the house is open in another window", "this window alone: close the others first")
    sight.progress("erasing, in every version")
    try:
        with opened(sight) as store:
            done = forget(
                store, desk.project.id, folder=desk.folder, erase=True, who=desk.project.show.studio.designer or ""
            )
    finally:  # What this page still remembers holds names too, and where the folder failed the archive has forgotten.
        let_go_of_all(sight)
        let_go()
    desk.reopen()
    remember(desk.folder, desk.project.name)
    look(desk, sight)
    sight.kept[_FORGOTTEN] = done.remains
    return "The client is forgotten. What remains is said on the page"


def _path(message: dict[str, Any], name: str, place: str) -> Path:
    typed = text_of(message, name, longest=_LONGEST).strip()
    try:
        path = Path(typed).expanduser()
        if not typed or "\0" in typed or not path.is_absolute():
            raise ValueError("it does not begin at the root")
    except (RuntimeError, ValueError) as error:
        raise _at(
            place,
            f"{quoted(typed)} is no whole path" if typed else "nothing is named",
            "a path on this machine, from its root",
        ) from error
    return path


def _at_field(place: str, work: Any) -> Any:
    """Do some work, and show what is refused at the field that it came from."""
    try:
        return work()
    except EnfiladeError as error:
        raise _at(place, error.what, "; ".join(one for one in (error.expected, error.do) if one)) from error


def _at(place: str, what: str, expected: str) -> BadRecord:
    return BadRecord("handover", [Fault(place, what, expected)])


def _say(sight: Sight, what: str, words: str) -> str:
    sight.kept.setdefault(_SAID, {})[what] = words
    return words


HANDLERS: Final = {
    "write box": _write_box,
    "take in box": _take_in,
    "unpack box": _unpack,
    "release copy": _release,
    "tell forgetting": _tell_forgetting,
    "forget client": _forget,
}
