"""A project's folder kept as a new version, and what the folder remembers of it."""

from __future__ import annotations

import contextlib
import getpass
import json
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import Any, Final

from enfilade.archive.adding import Kept, add_version, rewritten
from enfilade.archive.copies import copy_daily
from enfilade.archive.cutting import digest
from enfilade.archive.figures import figures_of
from enfilade.archive.gathering import Gathered, gathered
from enfilade.archive.notes import notes_of
from enfilade.archive.store import Store
from enfilade.archive.versions import Version
from enfilade.errors import Conflict, EnfiladeError, NotFound, Refused
from enfilade.files import locked, read_bytes, write_text
from enfilade.project.last_good import KEPT
from enfilade.project.readable import readable
from enfilade.project.store import FILE, kept_states

__all__ = ["REMEMBERED", "keep", "memory_of", "remember", "remember_brought", "remembered_base"]

REMEMBERED: Final = KEPT
"""The file in a project's folder that says as which version it was kept last, by the id of the archive."""
_LARGEST_BYTES: Final = 1024 * 1024
_LONGEST_WHO: Final = 200
_MOST_TOLD: Final = 12
_LONGEST_LINE: Final = 300


def keep(
    store: Store,
    folder: str | Path,
    *,
    why: str = "",
    who: str = "",
    onto: int | None = None,
    progress: Callable[[str], None] = lambda _: None,
) -> Kept:
    """Keep a project, as it stands in its folder, as a new version.

    Args:
        store: The archive.
        folder: The project's folder, or its `project.json`.
        why: For what reason; `before the tender`.
        who: Who keeps it; none: the designer that the project names, else whoever is logged in.
        onto: The version that it was made from; none: the one that the folder was kept as last.
        progress: Hears what is being done.
    Raises:
        Conflict: Somebody kept another version meanwhile.
        NotFound, BadRecord, Refused: The folder cannot be read, or the archive not written; nothing was kept.
    """
    if store.released:
        raise Refused(f"{store.address}: this archive holds copies for students alone", do="choose another archive")
    progress("reading and checking the project")
    memory = memory_of(folder)
    found = gathered(folder)
    base = onto if onto is not None else remembered_base(store, found, memory)
    seal = _seal_of_base(store, found.project.id, base, memory) if onto is None else None
    copy_daily(store, progress)
    progress(f"keeping {len(found.files)} files")
    _remember_trying(store, found, base, seal)
    try:
        kept = add_version(
            store,
            found.project,
            found.files,
            who=who or _who(found),
            why=why,
            base=base,
            base_seal=seal,
            notes=notes_of(found.project, found.findings),
            figures=figures_of(found.project, found.findings),
            house_rules=found.house_rules,
        )
    except Conflict as error:
        brought = _brought_into(store, found.project.id, memory, base)
        raise _with_changes(store, found.project.id, base, error, brought) from error
    remember(store, found.home, kept.version, found.files[FILE])
    return kept


def memory_of(folder: str | Path) -> dict[str, Any]:
    """Return what a project's folder remembers of having been kept, by the id of the archive.

    It is read before the folder is: else somebody could save and keep between, and what was read before that would be
    taken for newer.
    """
    home = Path(folder)
    return _remembered(home.parent if home.name == FILE else home)


def remembered_base(store: Store, found: Gathered, memory: Mapping[str, Any]) -> int | None:
    """Return the version that a folder was made from: the one it remembers, else one whose record it held before.

    Args:
        store: The archive.
        found: What stands in the folder.
        memory: What `memory_of` returned before that was read.
    Raises:
        Conflict: The folder was saved while it was looked at, or the version that it was made from was rewritten.
    """
    home = found.home
    plain = memory.get(store.id)
    if isinstance(plain, dict) and plain.get("project") == found.project.id and type(plain.get("version")) is int:
        known = _kept_after_all(store, found.project.id, int(plain["version"]), plain.get("trying"))
        if known:
            if known == plain["version"]:
                _refuse_rewritten(store, found.project.id, known, _remembered_seal(plain))
            return known
    try:
        versions = store.versions(found.project.id)
    except NotFound:
        return None
    held = {digest(found.files[FILE])}
    for state in kept_states(home):
        with contextlib.suppress(EnfiladeError):
            held.add(digest(read_bytes(state)))
    if read_bytes(home / FILE) != found.files[FILE]:
        raise Conflict(f"{home / FILE} was saved while it was looked at", do="try again; nothing was kept")
    records = store.digests(found.project.id, FILE)
    base = next((one.number for one in reversed(versions) if records.get(one.number) in held), None)
    # Versions may differ in what lies beside the record alone; then the earliest asks rather too much than too little.
    while base is not None and records.get(base - 1) == records[base]:
        base -= 1
    return base


def _remembered_seal(plain: object) -> bytes | None:
    """Return the seal of the version that a folder remembers; None where it remembers none."""
    seal = plain.get("seal") if isinstance(plain, dict) else None
    with contextlib.suppress(ValueError):
        return bytes.fromhex(seal) if isinstance(seal, str) else None
    return None


def _seal_of_base(store: Store, project: str, base: int | None, memory: Mapping[str, Any]) -> bytes | None:
    """Return the seal that a version has to have, for this folder to be kept on top of it."""
    if not base:
        return None
    plain = memory.get(store.id)
    if isinstance(plain, dict) and plain.get("version") == base and (seal := _remembered_seal(plain)) is not None:
        return seal
    with contextlib.suppress(NotFound):
        return store.version(project, base).seal
    return None


def _refuse_rewritten(store: Store, project: str, base: int, seal: bytes | None) -> None:
    """Refuse a folder whose version was rewritten since: what was forgotten would come back with it."""
    with contextlib.suppress(NotFound):
        if seal is not None and store.version(project, base).seal != seal:
            raise rewritten(project, base)


def _brought_into(store: Store, project: str, memory: Mapping[str, Any], base: int | None) -> int | None:
    """Return the version that was brought back into a folder which goes on from a later one."""
    plain = memory.get(store.id)
    if not isinstance(plain, dict) or (plain.get("project"), plain.get("version")) != (project, base):
        return None
    return brought if type(brought := plain.get("brought")) is int else None


def _with_changes(
    store: Store, project: str, base: int | None, conflict: Conflict, brought: int | None = None
) -> Conflict:
    """Return a conflict that also says what was changed there, where that can be told."""
    told: Sequence[str] = ()
    with contextlib.suppress(EnfiladeError, ImportError):
        newest = store.newest(project)
        if base and newest is not None and base < newest.number:
            told = _told_between(store, project, base, newest.number)
    if brought is not None:
        conflict = Conflict(f"{conflict}\nVersion {brought} was brought back into this folder after version {base}.")
    if not told:
        return conflict
    there = "\n".join(f"  {readable(one, _LONGEST_LINE)}" for one in told[:_MOST_TOLD])
    more = f"\n  and {len(told) - _MOST_TOLD} more" if len(told) > _MOST_TOLD else ""
    return Conflict(f"{conflict}\nChanged there since version {base}:\n{there}{more}")


def _told_between(store: Store, project: str, base: int, newest: int) -> Sequence[str]:
    from enfilade.archive.changing import told_between
    from enfilade.archive.stated import kept_state

    return told_between(kept_state(store, project, base), kept_state(store, project, newest))


def remember(store: Store, home: Path, version: Version, data: bytes) -> None:
    """Remember in a project's folder as which version it was kept; a folder that cannot be written is no failure."""
    entry = {
        "project": version.project,
        "version": version.number,
        "seal": version.seal.hex(),
        "record": digest(data).hex(),
    }
    _remember(store, home, entry)


def remember_brought(store: Store, home: Path, version: Version, data: bytes) -> int:
    """Remember which version was brought back into a folder, and return the version that it goes on from.

    One that had been kept as a later version goes on from that: bringing back is a change like any other, and merging
    against the version that was brought back would undo it.
    """
    plain = _remembered(home).get(store.id)
    made_from = plain.get("version") if isinstance(plain, dict) and plain.get("project") == version.project else None
    if isinstance(plain, dict) and type(made_from) is int and made_from > version.number:
        _remember(store, home, {**plain, "brought": version.number})
        return made_from
    remember(store, home, version, data)
    return version.number


def _remember(store: Store, home: Path, entry: Mapping[str, Any]) -> None:
    with contextlib.suppress(EnfiladeError), locked(home, wait_s=2):
        plain = {**_remembered(home), store.id: entry}
        write_text(home / REMEMBERED, json.dumps(plain, indent=1) + "\n")


def _remember_trying(store: Store, found: Gathered, base: int | None, seal: bytes | None) -> None:
    """Remember what is about to be kept: who is stopped before being told knows it again, and not as another's."""
    entry = {"project": found.project.id, "version": base or 0, "trying": _whole(found.digests)}
    if seal is not None:
        entry["seal"] = seal.hex()
    if (brought := _brought_into(store, found.project.id, _remembered(found.home), base)) is not None:
        entry["brought"] = brought
    if base is not None or _remembered(found.home).get(store.id) is None:
        _remember(store, found.home, entry)


def _kept_after_all(store: Store, project: str, base: int, trying: object) -> int:
    """Return the version that a folder was made from, where it was stopped before it heard that it had been kept."""
    if isinstance(trying, str):
        with contextlib.suppress(NotFound):
            if _whole(store.file_digests(project, base + 1)) == trying:
                return base + 1
    return base


def _whole(digests: Mapping[str, bytes]) -> str:
    return digest("\0".join(f"{digests[path].hex()} {path}" for path in sorted(digests)).encode()).hex()


def _remembered(home: Path) -> dict[str, Any]:
    try:
        plain = json.loads(read_bytes(home / REMEMBERED, largest=_LARGEST_BYTES))
    except (EnfiladeError, ValueError, RecursionError):
        return {}
    return plain if isinstance(plain, dict) else {}


def _who(found: Gathered) -> str:
    named = found.project.show.studio.designer
    if named:
        return named
    with contextlib.suppress(OSError, KeyError, ImportError):
        return getpass.getuser()[:_LONGEST_WHO]
    return ""
