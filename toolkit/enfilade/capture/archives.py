"""The studio's archive as a page sees it: looked at when the page asks for it, and remembered until it has changed.

What knows the database is imported inside functions, since most pages never ask for it.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from enfilade.capture.desk import Desk
from enfilade.capture.sight import Sight
from enfilade.editing.quoting import quoted
from enfilade.errors import EnfiladeError, NotFound, Refused

if TYPE_CHECKING:
    from enfilade.archive.address import Address
    from enfilade.archive.store import Store
    from enfilade.archive.versions import KeptProject, Version

__all__ = [
    "Seen", "forget_look", "let_go_of_all", "look", "opened", "plain_seen", "seen", "settled", "turn", "use_another",
    "whole_address",
]  # fmt: skip

_KEPT: Final = "archive"
_GIVEN: Final = "archive address"
_TURN: Final = "archive turn"


@dataclass(frozen=True)
class Seen:
    """An archive as it was when the page last looked.

    Attributes:
        where: Its address; it holds no password.
        given: Another than the usual one was chosen on this page.
        there: It has been made.
        released: It holds copies for students alone.
        trouble, do: Why it cannot be used, and what can be done about it; empty when it can.
        id: Its own id; empty while it is not there.
        projects: All that it holds.
        versions: Of the house that is open, the oldest first.
        record: SHA-256 of the record of the newest version.
        stamp: By which a file that has changed is told.
    """

    where: str
    given: bool
    there: bool = False
    released: bool = False
    trouble: str = ""
    do: str = ""
    id: str = ""
    projects: tuple[KeptProject, ...] = ()
    versions: tuple[Version, ...] = ()
    record: bytes = b""
    path: Path | None = None
    stamp: tuple[int, ...] = field(default=(), compare=False)


def seen(sight: Sight) -> Seen | None:
    """Return the archive as it was looked at; None when it was not yet, or its file has changed since."""
    kept = sight.kept.get(_KEPT)
    if not isinstance(kept, Seen):
        return None
    if kept.path is not None and _stamp(kept.path) != kept.stamp:
        forget_look(sight)
        return None
    return kept


def forget_look(sight: Sight) -> None:
    """Have the archive looked at again before anything more is shown of it."""
    sight.kept.pop(_KEPT, None)
    sight.kept[_TURN] = turn(sight) + 1


def let_go_of_all(sight: Sight) -> None:
    """Forget all that this page remembers, but for which archive it uses."""
    kept: dict[str, Any] = {name: sight.kept[name] for name in (_GIVEN, _TURN) if name in sight.kept}
    sight.kept.clear()
    sight.kept.update(kept)
    forget_look(sight)


def turn(sight: Sight) -> int:
    """Return how often the archive had to be looked at again: a page asks once for each."""
    return int(sight.kept.get(_TURN, 0))


def plain_seen(sight: Sight) -> dict[str, Any]:
    """Return what every part about the archive shows of it."""
    archive = seen(sight)
    if archive is None:
        return {"looked": False, "turn": turn(sight), "closed": None, "there": False}
    closed = {"words": archive.trouble, "do": archive.do} if archive.trouble else None
    return {"looked": True, "turn": turn(sight), "closed": closed, "there": archive.there}


def look(desk: Desk, sight: Sight) -> Seen:
    """Look at the archive, and remember what it holds; what is wrong with it is remembered in words."""
    sight.progress("opening the archive")
    archive = _looked(desk, sight)
    sight.kept[_KEPT] = archive
    return archive


def _looked(desk: Desk, sight: Sight) -> Seen:
    from enfilade.archive.address import address_of
    from enfilade.archive.store import FILE

    given = str(sight.kept.get(_GIVEN, ""))
    try:
        address = address_of(given or None)
    except EnfiladeError as error:
        return Seen("", bool(given), trouble=_sentence(error), do=error.do)
    # Taken before what is read: what is kept meanwhile is looked at again, and not taken for known.
    stamp = _stamp(address.path) if address.path else ()
    plain: dict[str, Any] = {"where": str(address), "given": bool(given), "path": address.path, "stamp": stamp}
    try:
        with opened(sight) as store:
            sight.progress("reading what is kept")
            plain |= {"there": True, "released": store.released, "id": store.id, "projects": tuple(store.projects())}
            if store.newest(id := desk.project.id):
                plain["versions"] = versions = tuple(store.versions(id))
                plain["record"] = store.file_digests(id, versions[-1].number).get(FILE, b"")
    except NotFound:
        pass  # It is made when something is kept.
    except EnfiladeError as error:
        plain |= {"trouble": _sentence(error), "do": error.do}
    return Seen(**plain)


def _sentence(error: EnfiladeError) -> str:
    return error.what + (f"; expected {error.expected}" if error.expected else "")


def _stamp(path: Path) -> tuple[int, ...]:
    """Return what changes with an archive's file and its journal; an empty journal comes and goes with its readers."""
    stamp = [0, 0, 0, 0]
    for at, one in ((0, path), (2, path.with_name(f"{path.name}-wal"))):
        with suppress(OSError, ValueError):
            about = os.stat(one)
            if about.st_size:
                stamp[at : at + 2] = about.st_size, about.st_mtime_ns
    return tuple(stamp)


@contextmanager
def opened(sight: Sight, *, create: bool = False) -> Iterator[Store]:
    """Give the archive of this page for a while.

    Args:
        create: Make it when it is not there.
    Raises:
        NotFound, Refused: As for `Store`.
    """
    from enfilade.archive.store import Store

    with Store(str(sight.kept.get(_GIVEN, "")) or None, create=create) as store:
        yield store


def use_another(sight: Sight, typed: str) -> None:
    """Use another archive on this page; the usual one where nothing is typed.

    Raises:
        Refused: What is typed is no address, or what is there is no archive; the one of before stays.
    """
    typed = typed.strip()
    before = sight.kept.get(_GIVEN, "")
    whole_address(typed, "archive.sqlite")
    sight.kept[_GIVEN] = typed
    try:
        with opened(sight):
            pass
    except NotFound:
        pass  # It is made when something is kept.
    except EnfiladeError:
        sight.kept[_GIVEN] = before
        raise
    forget_look(sight)


def whole_address(typed: str, name: str) -> Address:
    """Return the address that was typed on a page; the usual one where nothing is typed.

    Args:
        typed: A whole path, or the address of a shared archive.
        name: A file's name, for an example of a whole path.
    Raises:
        Refused: It is no address, or a path that would be looked for where the page runs, which nobody knows.
    """
    from enfilade.archive.address import address_of

    address = address_of(typed or None)
    if typed and address.path is not None and not Path(typed).expanduser().is_absolute():
        raise Refused(
            f"{quoted(typed)} is no whole path",
            expected=f"a path on this machine, from its root, such as {Path.home() / name}",
        )
    return address


def settled(desk: Desk) -> None:
    """Bring the page and its file together before what stands in the folder is kept.

    Raises:
        Refused: The page holds what is not saved yet.
    """
    desk.look()
    if desk.saved.trouble or desk.question is not None:
        raise Refused("what is on this page is not saved yet", do="see to that first, at the head of the page")
