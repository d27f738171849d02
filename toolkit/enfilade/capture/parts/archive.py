"""The studio's archive: where it is, the versions of the house that it keeps, and the way back to each."""

from __future__ import annotations

import hashlib
from contextlib import suppress
from dataclasses import replace
from typing import TYPE_CHECKING, Any, Final

from enfilade.capture.archives import Seen, forget_look, look, opened, plain_seen, seen, settled, use_another
from enfilade.capture.desk import Desk
from enfilade.capture.keeping_apart import Apart, asked_again, choose, found_apart, sides_taken
from enfilade.capture.sight import Sight, text_of
from enfilade.editing.merging.merging import merged
from enfilade.errors import Conflict, EnfiladeError, NotFound, Refused
from enfilade.files import read_bytes
from enfilade.project.photos import FOLDER as PHOTOS
from enfilade.project.project import Project
from enfilade.project.store import FILE
from enfilade.times import when_words

if TYPE_CHECKING:
    from enfilade.archive.store import Store
    from enfilade.archive.versions import Version

__all__ = ["HANDLERS", "NAME", "look_again", "shown"]

NAME: Final = "archive"
_TOLD: Final = 8
_FIRST: Final = 5
_MORE: Final = 10
_MOST: Final = "versions shown"
_CHANGED: Final = "versions changed"
_APART: Final = "kept apart"
_WHO: Final = "who keeps"
_LONGEST: Final = 4000


def shown(desk: Desk, sight: Sight) -> dict[str, Any]:
    """Return where the archive is, and the versions of the house, the newest first."""
    archive = seen(sight)
    who = sight.kept.get(_WHO, desk.project.show.studio.designer or "")
    state = {**plain_seen(sight), "who": who, "versions": [], "earlier": 0, "apart": None}
    if archive is None:
        return state
    most = int(sight.kept.get(_MOST, _FIRST))
    newest = list(reversed(archive.versions))
    apart = sight.kept.get(_APART)
    return {
        **state,
        "where": archive.where,
        "given": archive.given,
        "released": archive.released,
        "standing": _standing(desk, archive),
        "versions": [_row(sight, archive, one) for one in newest[:most]],
        "earlier": max(0, len(newest) - most),
        "apart": apart.plain(archive.versions) if isinstance(apart, Apart) else None,
    }


def _standing(desk: Desk, archive: Seen) -> str:
    """Return how the house of now stands to its newest version."""
    if not archive.versions:
        return "" if archive.trouble else "This house is not in the archive yet."
    last = archive.versions[-1]
    try:
        same = hashlib.sha256(read_bytes(desk.folder / FILE)).digest() == archive.record
    except EnfiladeError:
        return ""
    when = when_words(last.on)
    if same:
        return f"The record stands as it is kept in version {last.number}, of {when}."
    return f"The record is not as it is kept in version {last.number}, of {when}."


def _row(sight: Sight, archive: Seen, version: Version) -> dict[str, Any]:
    before = next((one for one in archive.versions if one.number == version.number - 1), None)
    told = _remembered(sight).get(_key(archive, before, version))
    changed = list(told or ())
    nothing = "It was not looked at yet." if told is None else "Nothing in the record."
    note = "The first one that is kept." if before is None else "" if changed else nothing
    return {
        "number": version.number,
        "when": when_words(version.on),
        "who": version.who,
        "why": version.why,
        "changed": changed[:_TOLD],
        "more": changed[_TOLD:],
        "note": note,
    }


def _remembered(sight: Sight) -> dict[tuple[str, bytes, bytes], tuple[str, ...]]:
    kept: dict[tuple[str, bytes, bytes], tuple[str, ...]] = sight.kept.setdefault(_CHANGED, {})
    return kept


def _key(archive: Seen, before: Version | None, version: Version) -> tuple[str, bytes, bytes]:
    return archive.id, before.seal if before else b"", version.seal


def _look(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    """Look at the archive, unless another part of the page has just done so."""
    if message.get("again") is True:
        forget_look(sight)
    if seen(sight) is None:
        look(desk, sight)
    _tell(desk, sight)
    return "The archive has been looked at again" if message.get("again") is True else ""


def _tell(desk: Desk, sight: Sight) -> None:
    """Work out what changed in the versions that are shown, once for each."""
    archive = seen(sight)
    if archive is None or not archive.versions or sight.act != "keep":
        return
    most, told = int(sight.kept.get(_MOST, _FIRST)), _remembered(sight)
    pairs = list(zip(archive.versions[:-1], archive.versions[1:], strict=True))[-most:]
    new = [(before, one) for before, one in pairs if _key(archive, before, one) not in told]
    if not new:
        return
    with suppress(EnfiladeError), opened(sight) as store:
        for before, one in reversed(new):
            sight.progress(f"telling what changed in version {one.number}")
            told[_key(archive, before, one)] = _between(store, before, one)


def _between(store: Store, before: Version, after: Version) -> tuple[str, ...]:
    from enfilade.archive.changing import changed

    try:
        return tuple(changed(store, after.project, before.number, after.number))
    except EnfiladeError as error:
        return (f"What changed cannot be told: {error.what}.",)


def _show_earlier(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    sight.kept[_MOST] = int(sight.kept.get(_MOST, _FIRST)) + _MORE
    _tell(desk, sight)
    return "Earlier versions are shown"


def _use(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    use_another(sight, text_of(message, "where", longest=_LONGEST))
    sight.kept.pop(_APART, None)
    archive = look(desk, sight)
    _tell(desk, sight)
    return f"The archive of this page is now {archive.where}"


def _keep(desk: Desk, sight: Sight, message: dict[str, Any]) -> dict[str, Any]:
    """Keep the house as it stands in its folder; where another was kept meanwhile, show what changed there."""
    who, why = (text_of(message, name, longest=_LONGEST).strip() for name in ("who", "why"))
    settled(desk)
    sight.kept[_WHO] = who
    with opened(sight, create=True) as store:
        said = _kept(desk, sight, store, who, why)
    look_again(desk, sight)
    return said


def _kept(desk: Desk, sight: Sight, store: Store, who: str, why: str) -> dict[str, Any]:
    from enfilade.archive.keeping import keep

    before = sight.kept.pop(_APART, None)
    try:
        kept = keep(store, desk.folder, who=who, why=why, progress=sight.progress)
    except Conflict:
        apart = found_apart(desk, store, who=who, why=why, chosen=before.chosen if isinstance(before, Apart) else {})
        if apart is None:
            raise
        sight.kept[_APART] = apart
        return {"say": _why_apart(apart), "apart": True}
    number = kept.version.number
    if not kept.new:
        return {"say": f"Nothing to keep: all of it stands in version {number} already"}
    return {"say": f"Kept as version {number}"}


def _why_apart(apart: Apart) -> str:
    if apart.lost is not None:
        return (
            f"This house was made from version {apart.lost}, and the archive ends with version {apart.newest}. Nothing "
            "was kept: choose which version it goes on from"
        )
    return f"Version {apart.newest} was kept meanwhile. Nothing was kept: see what changed there"


def look_again(desk: Desk, sight: Sight) -> None:
    """Look at the archive, and tell what changed in the versions that are shown."""
    look(desk, sight)
    _tell(desk, sight)


def _choose(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    apart = choose(_apart(sight), text_of(message, "key", longest=64), text_of(message, "side", longest=10))
    return _asked(desk, sight, apart)


def _made_from(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    """Say which version this house was made from, where nothing else says so."""
    apart, number = _apart(sight), _number(message)
    if not 1 <= number <= apart.newest:
        raise Refused(f"there is no version {number}", expected=f"1 to {apart.newest}")
    return _asked(desk, sight, replace(apart, base=number, chosen={}))


def _asked(desk: Desk, sight: Sight, apart: Apart) -> str:
    with opened(sight) as store:
        sight.kept[_APART] = apart = asked_again(desk, store, apart)
    left = len(apart.left)
    return f"{left} more to choose" if left else "Both can be brought together now"


def _together(desk: Desk, sight: Sight, message: dict[str, Any]) -> dict[str, Any]:
    """Bring what was kept meanwhile into this house, and keep both as a new version."""
    from enfilade.archive.merging import keep_merged

    settled(desk)
    apart = _apart(sight)
    with opened(sight) as store:
        sight.progress("bringing both together")
        sight.kept[_APART] = apart = asked_again(desk, store, apart)
        if apart.left or apart.base is None:
            return {"say": "There is more to choose: the house or the archive has changed since"}
        done = keep_merged(
            store, desk.folder, take=sides_taken(apart), who=apart.who, why=apart.why, onto=apart.base,
            progress=sight.progress,
        )  # fmt: skip
    sight.kept.pop(_APART, None)
    desk.look()
    look_again(desk, sight)
    return {"say": f"Both are brought together, and kept as version {done.kept.version.number}"}


def _apart(sight: Sight) -> Apart:
    apart = sight.kept.get(_APART)
    if not isinstance(apart, Apart):
        raise Refused("nothing was kept meanwhile", do="load the page again")
    return apart


def _number(message: dict[str, Any]) -> int:
    number = message.get("version")
    if isinstance(number, bool) or not isinstance(number, int):
        raise Refused("the page sent no version", do="load the page again")
    return number


def _leave(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    sight.kept.pop(_APART, None)
    return "Left as it is. Nothing was kept"


def _go_back(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    """Make the house what it was in a version; a change like any other, so that undo takes it back."""
    number = _number(message)
    settled(desk)
    with opened(sight) as store:
        sight.progress(f"reading version {number}")
        version, state = store.version(desk.project.id, number), store.project(desk.project.id, number)
        _bring_photographs(desk, store, state, number)
    words = f"version {version.number}, of {when_words(version.on)}"
    # What is the same stays the same object, so that what was found for it is remembered.
    desk.change(f"brought back {words}", merged(desk.project, desk.project, state).project)
    return f"The house is as it was in {words}. Undo takes it back."


def _bring_photographs(desk: Desk, store: Store, project: Project, number: int) -> None:
    """Put photographs of a version that lie in the folder no more back there.

    Raises:
        Refused: One is neither in the folder nor in the archive.
    """
    from enfilade.project.photos import keep_photograph

    for photograph in project.photographs:
        if (desk.folder / PHOTOS / photograph.file).is_file():
            continue
        try:
            data = store.file(project.id, f"{PHOTOS}/{photograph.file}", number)
        except NotFound:
            name = f"photograph “{photograph.caption}”" if photograph.caption else "a photograph"
            raise Refused(f"{name} of that version is not kept any more", do="choose another version") from None
        keep_photograph(desk.folder, data)


HANDLERS: Final = {
    "look at archive": _look,
    "show earlier versions": _show_earlier,
    "use archive": _use,
    "keep version": _keep,
    "choose apart": _choose,
    "made from": _made_from,
    "bring together": _together,
    "leave apart": _leave,
    "go back to version": _go_back,
}
