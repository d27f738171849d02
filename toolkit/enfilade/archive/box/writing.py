"""A box written: the same state of an archive gives the same bytes."""

from __future__ import annotations

import os
import zipfile
import zlib
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from sqlalchemy import select

from enfilade import __version__
from enfilade.archive import tables as t
from enfilade.archive.box.container import container_of
from enfilade.archive.box.layout import (
    FORMAT,
    LARGEST_BYTES,
    MANIFEST,
    MOST_MEMBERS,
    MOST_RATIO,
    OWN,
    README,
    SMALL_BYTES,
    SUMS,
    member_of,
    readme,
)
from enfilade.archive.box.manifest import BoxProject, BoxVersion, Manifest, manifest_bytes, manifest_from
from enfilade.archive.cutting import digest
from enfilade.archive.paths import fault_in
from enfilade.archive.store import Store
from enfilade.archive.versions import Version, moment_words, seal_of
from enfilade.errors import BadRecord, EnfiladeError, Fault, NotFound, Refused
from enfilade.files import written_whole

__all__ = ["write_box"]

_OLDEST: Final = (1980, 1, 1, 0, 0, 0)
_PLAIN_FILE: Final = 0o100644 << 16
_PACKED_ALREADY: Final = (".jpg", ".jpeg", ".png", ".webp", ".gif", ".ttf", ".otf", ".woff2", ".zip", ".pdf")
_TOLD_EVERY: Final = 25


@dataclass(frozen=True)
class _Held:
    """Where the box's member comes from: the version and path that had it first."""

    number: int
    path: str
    digest: bytes


def write_box(
    store: Store, project_id: str, path: str | Path, progress: Callable[[str], None] = lambda _: None
) -> Path:
    """Write one file that holds a project with its photographs and all its versions.

    Args:
        store: The archive.
        project_id: Id of the project.
        path: Where to; a box that stands there is replaced once the new one is whole.
        progress: Hears what is being done.
    Raises:
        NotFound: The archive holds no such project.
        BadRecord: What the archive holds of it is damaged; nothing was written.
        Refused: Something that is no box stands there, or the disk is full; what stood there stands.
    """
    path = Path(path)
    _refuse_stranger(path)
    versions = store.versions(project_id)
    name = next((one.name for one in store.projects() if one.id == project_id), project_id)
    digests = _digests(store, project_id)
    _refuse_broken_seals(versions, digests, str(store.address))
    members, places = _laid_out(versions, digests)
    manifest = Manifest(
        box=FORMAT,
        made_by=f"enfilade {__version__}",
        project=BoxProject(id=project_id, name=name, holds="released" if store.released else "all"),
        versions=[_entry(version, places[version.number]) for version in versions],
    )
    own = {README: readme(name, versions).encode(), MANIFEST: manifest_bytes(manifest)}
    sums = {**{member: held.digest for member, held in members.items()}, **{one: digest(own[one]) for one in own}}
    own[SUMS] = "".join(f"{sums[member].hex()}  {member}\n" for member in sorted(sums)).encode()
    with written_whole(path) as stream, zipfile.ZipFile(stream, "w", allowZip64=False) as box:
        for count, member in enumerate(sorted([*members, *own])):
            if count % _TOLD_EVERY == 0:
                progress(f"writing file {count + 1} of {len(members) + len(own)}")
            data = own[member] if member in own else _read(store, project_id, members[member])
            _put(box, member, data)
    return path


def _refuse_stranger(path: Path) -> None:
    """Refuse to write over what is no box."""
    if os.path.isdir(path):
        raise Refused(f"{path} is a folder", expected="the path of a file")
    try:
        found = container_of(path)
        manifest_from(found.read(MANIFEST) if MANIFEST in found.members else b"", str(path))
    except NotFound:
        return
    except EnfiladeError as error:
        raise Refused(f"{str(path)!r} is there and is no project box", do="choose another name") from error


def _digests(store: Store, project: str) -> dict[int, dict[str, bytes]]:
    """Return the digest of each file of each version, by number and path."""
    query = (
        select(t.versions.c.number, t.version_files.c.path, t.files.c.digest)
        .join(t.projects, t.projects.c.id == t.versions.c.project)
        .join(t.version_files, t.version_files.c.version == t.versions.c.id)
        .join(t.files, t.files.c.id == t.version_files.c.file)
        .where(t.projects.c.project == project, t.projects.c.released == store.released)
    )
    found: dict[int, dict[str, bytes]] = {}
    with store.reading() as connection:
        for number, path, name in connection.execute(query):
            found.setdefault(number, {})[path] = bytes(name)
    return found


def _refuse_broken_seals(versions: list[Version], digests: dict[int, dict[str, bytes]], archive: str) -> None:
    before = b""
    for version in versions:
        if seal_of(version, before, digests.get(version.number, {})) != version.seal:
            place = f"{version.project}/{version.number}"
            what = "is damaged: its seal does not fit its words and files"
            expected = "what was kept; `enfilade verify` says which version is whole"
            raise BadRecord(archive, [Fault(place, what, expected)])
        before = version.seal


def _laid_out(
    versions: list[Version], digests: dict[int, dict[str, bytes]]
) -> tuple[dict[str, _Held], dict[int, dict[str, str]]]:
    """Return the members, and for each version the member of each of its paths; equal files are one member."""
    known: dict[bytes, str] = {}
    members: dict[str, _Held] = {}
    places: dict[int, dict[str, str]] = {}
    for version in versions:
        places[version.number] = {}
        for path, name in sorted(digests[version.number].items()):
            if name not in known:
                known[name] = _free(member_of(path, version.number, name), name, members)
                members[known[name]] = _Held(version.number, path, name)
            places[version.number][path] = known[name]
    if len(members) + len(OWN) > MOST_MEMBERS:
        raise Refused(f"{versions[0].project} has {len(members)} files", expected=f"at most {MOST_MEMBERS} in a box")
    return members, places


def _free(member: str, name: bytes, members: dict[str, _Held]) -> str:
    return f"files/{name.hex()}" if fault_in(member) or member in members else member


def _entry(version: Version, places: dict[str, str]) -> BoxVersion:
    return BoxVersion(
        number=version.number, on=moment_words(version.on), who=version.who, why=version.why, format=version.format,
        yardstick=version.yardstick, house_rules=version.house_rules, seal=version.seal.hex(), files=places,
    )  # fmt: skip


def _read(store: Store, project: str, held: _Held) -> bytes:
    data = store.file(project, held.path, held.number)
    if digest(data) != held.digest:  # Forgetting is the one thing that changes a version.
        raise Refused(f"{project} was changed while the box was written", do="write the box again")
    if len(data) > LARGEST_BYTES:
        raise Refused(f"{held.path} has {len(data)} bytes", expected=f"at most {LARGEST_BYTES} in a box")
    return data


def _put(box: zipfile.ZipFile, member: str, data: bytes) -> None:
    entry = zipfile.ZipInfo(member, _OLDEST)
    entry.create_system, entry.external_attr = 3, _PLAIN_FILE
    entry.compress_type = zipfile.ZIP_STORED if _better_stored(member, data) else zipfile.ZIP_DEFLATED
    try:
        box.writestr(entry, data, compresslevel=6)
    except zipfile.LargeZipFile as error:
        raise Refused("the box would be over 4 GiB, where plain zip ends", do="keep fewer photographs") from error


def _better_stored(member: str, data: bytes) -> bool:
    """Tell whether a file is packed already, or would be packed so small that a reader must take it for a bomb."""
    if member.lower().endswith(_PACKED_ALREADY):
        return True
    return len(data) > SMALL_BYTES and len(zlib.compress(data, 6)) * MOST_RATIO < len(data) * 1.1
