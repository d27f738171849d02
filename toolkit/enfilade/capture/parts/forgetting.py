"""A client who is to be forgotten: what would be erased and what would remain is shown, then it is done."""

from __future__ import annotations

from typing import Any, Final

from enfilade.capture.archives import let_go_of_all, opened, plain_seen, seen, settled, turn
from enfilade.capture.desk import Desk
from enfilade.capture.houses import remember
from enfilade.capture.parts.archive import look_again
from enfilade.capture.parts.states import let_go
from enfilade.capture.sight import Sight, text_of
from enfilade.editing.quoting import quoted
from enfilade.errors import BadRecord, Fault

__all__ = ["HANDLERS", "NAME", "shown"]

NAME: Final = "forgetting"
_TOLD: Final = "forgetting"
_FORGOTTEN: Final = "forgotten"
_DONE: Final = "erased"
_LONGEST: Final = 4000


def shown(desk: Desk, sight: Sight) -> dict[str, Any]:
    """Return what forgetting would erase, where that was asked for, and what remains where it was done."""
    archive = seen(sight)
    return {
        **plain_seen(sight),
        "kept": len(archive.versions) if archive else 0,
        "released": archive.released if archive else False,
        "name": desk.project.name,
        "told": _told(desk, sight),
        "forgotten": list(sight.kept.get(_FORGOTTEN, ())),
        "done": list(sight.kept.get(_DONE, ())),
    }


def _told(desk: Desk, sight: Sight) -> dict[str, Any] | None:
    """Return what would be erased, as long as neither the house nor the archive has changed since it was told."""
    told = sight.kept.get(_TOLD)
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
    sight.kept[_TOLD] = (desk.project, turn(sight), list(told.sentences), told.remains)
    return "Nothing is changed yet. What would be erased is shown"


def _forget(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    """Erase the client of the open house, once its name is typed and what goes was shown."""
    from enfilade.archive.forgetting import forget

    if text_of(message, "name", longest=_LONGEST).strip() != desk.project.name.strip():
        raise _at("this is not the name of the house", quoted(desk.project.name, 80))
    if _told(desk, sight) is None:
        raise _at("the house or the archive has changed since", "to look first at what would be erased")
    settled(desk)
    if desk.others:
        raise _at(
            "the house is open in another window, or was until a moment ago",
            "this window alone: close the others, and try again in about three minutes, since one that was just closed "
            "is known to be closed only then",
        )
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
    look_again(desk, sight)
    sight.kept[_FORGOTTEN], sight.kept[_DONE] = done.remains, done.sentences
    return "The client is forgotten. What remains is said on the page"


def _at(what: str, expected: str) -> BadRecord:
    return BadRecord(NAME, [Fault("house name", what, expected)])


HANDLERS: Final = {"tell forgetting": _tell_forgetting, "forget client": _forget}
