"""A box read: everything in it is verified before anything is used."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from enfilade.archive.box.container import Container, container_of
from enfilade.archive.box.layout import MANIFEST, OWN, SUMS
from enfilade.archive.box.manifest import Manifest, manifest_from, version_of
from enfilade.archive.cutting import digest
from enfilade.archive.versions import Version, seal_of
from enfilade.errors import BadRecord, Conflict, Fault, NotFound
from enfilade.project.project import Project
from enfilade.project.readable import readable
from enfilade.project.reading import project_from
from enfilade.project.store import FILE

__all__ = ["Box", "read_box"]

_SUM: Final = re.compile(r"([0-9a-f]{64})  ([^\n]+)\n")
_SHOWN: Final = 20
_TOLD_EVERY: Final = 50


@dataclass(frozen=True)
class Box:
    """A box that was verified whole.

    Attributes:
        path: Its file.
        project: Id of the project.
        name: The project's name.
        released: It is a copy for students.
        made_by: Which version of the tool wrote it.
        versions: The oldest first.
    """

    path: Path
    project: str
    name: str
    released: bool
    made_by: str
    versions: tuple[Version, ...]
    _places: Mapping[int, Mapping[str, str]]
    _digests: Mapping[str, bytes]
    _container: Container

    def version(self, number: int | None = None) -> Version:
        """Return one version, the newest unless a number is given.

        Raises:
            NotFound: There is none.
        """
        if number is None:
            return self.versions[-1]
        if not 1 <= number <= len(self.versions):
            raise NotFound(f"{self.path} has no version {number}", expected=f"1 to {len(self.versions)}")
        return self.versions[number - 1]

    def paths(self, number: int | None = None) -> dict[str, int]:
        """Return the files of a version with their sizes [bytes], by path."""
        places = self._places[self.version(number).number]
        return {path: self._container.members[member].size for path, member in sorted(places.items())}

    def digests(self, number: int | None = None) -> dict[str, bytes]:
        """Return the SHA-256 of each file of a version, by path."""
        places = self._places[self.version(number).number]
        return {path: self._digests[member] for path, member in places.items()}

    def file(self, path: str = FILE, number: int | None = None) -> bytes:
        """Return the bytes of a file.

        Raises:
            NotFound: There is no such version, or it has no such file.
            Conflict: The box changed since it was verified.
        """
        number = self.version(number).number
        member = self._places[number].get(path)
        if member is None:
            raise NotFound(f"{self.path}, version {number}: it has no file {path!r}")
        data = self._container.read(member)
        if digest(data) != self._digests[member]:
            raise Conflict(f"{self.path} changed while it was read", do="try again")
        return data

    def files(self, number: int | None = None) -> dict[str, bytes]:
        """Return the bytes of all files of a version, by path."""
        return {path: self.file(path, number) for path in self.paths(number)}

    def record(self, number: int | None = None) -> Project:
        """Return a version as a project; files of earlier formats are read as today's."""
        return project_from(self.file(FILE, number), f"{self.path}, version {self.version(number).number}")


def read_box(path: str | Path, progress: Callable[[str], None] = lambda _: None) -> Box:
    """Verify a box whole and return it.

    Args:
        path: The file.
        progress: Hears what is being done.
    Raises:
        NotFound, Refused: It is not there, is a link, or cannot be read.
        BadRecord: It is no box, is damaged, or was made to harm; the place says which file of it, and where in it.
    """
    path = Path(path)
    container = container_of(path)
    for name in OWN:
        if name not in container.members:
            raise _bad(path, name, "is missing", "a project box")
    manifest = manifest_from(container.read(MANIFEST), str(path))
    _refuse_strangers(manifest, container)
    digests = _digests(container, progress)
    versions = _versions(manifest, digests, path)
    _refuse_bad_records(manifest, container, progress)
    return Box(
        path, manifest.project.id, manifest.project.name, manifest.project.holds == "released", manifest.made_by,
        versions, {entry.number: entry.files for entry in manifest.versions}, digests, container,
    )  # fmt: skip


def _refuse_strangers(manifest: Manifest, container: Container) -> None:
    """Refuse members that the manifest does not name, and names that are no members."""
    named = set(OWN)
    for entry in manifest.versions:
        for path, member in entry.files.items():
            if member in OWN or member not in container.members:
                place = f"{MANIFEST}/versions/{entry.number}/files/{path}"
                what = f"{readable(repr(member), 200)} is no file of a version in this box"
                raise _bad(container.path, place, what, "a file that lies in it")
            named.add(member)
    for name in container.members:
        if name not in named:
            raise _bad(container.path, name, "lies in the box and is named by no version", "what the manifest names")


def _digests(container: Container, progress: Callable[[str], None]) -> dict[str, bytes]:
    """Return the digest of every member, after holding it against the list of checksums."""
    said = _sums(container)
    found: dict[str, bytes] = {}
    for count, name in enumerate(container.members):
        if count % _TOLD_EVERY == 0:
            progress(f"checking file {count + 1} of {len(container.members)}")
        found[name] = digest(container.read(name))
        if name != SUMS and said.get(name) != found[name]:
            what = "has no checksum" if name not in said else "is damaged: it has another checksum"
            raise _bad(container.path, name, what, f"the one in {SUMS}")
    if strange := said.keys() - found.keys():
        raise _bad(container.path, SUMS, f"names {readable(repr(min(strange)), 200)}, which is not there", "its files")
    return found


def _sums(container: Container) -> dict[str, bytes]:
    try:
        text = container.read(SUMS).decode("utf-8")
    except UnicodeDecodeError as error:
        raise _bad(container.path, SUMS, "is not UTF-8", "a line for each file") from error
    found: dict[str, bytes] = {}
    at = 0
    while at < len(text):
        line = _SUM.match(text, at)
        if line is None or line[2] in found or line[2] == SUMS:
            place = f"{SUMS}/line {len(found) + 1}"
            what = "is no checksum, or names a file again"
            raise _bad(container.path, place, what, "64 signs, two spaces and a name")
        found[line[2]] = bytes.fromhex(line[1])
        at = line.end()
    return found


def _versions(manifest: Manifest, digests: Mapping[str, bytes], path: Path) -> tuple[Version, ...]:
    versions, before = [], b""
    for entry in manifest.versions:
        version = version_of(entry, manifest.project.id)
        of_files = {name: digests[member] for name, member in entry.files.items()}
        if seal_of(version, before, of_files) != version.seal:
            place = f"{MANIFEST}/versions/{entry.number}/seal"
            what = "does not fit: words or files of this version, or a version before it, are not what was kept"
            raise _bad(path, place, what, "the seal of what stands there")
        versions.append(version)
        before = version.seal
    return tuple(versions)


def _refuse_bad_records(manifest: Manifest, container: Container, progress: Callable[[str], None]) -> None:
    """Read every record as a project; an equal one is read once."""
    last = manifest.versions[-1].number
    names: dict[str, tuple[str, str]] = {}
    for entry in manifest.versions:
        member = entry.files[FILE]
        if member not in names:
            progress(f"reading version {entry.number} of {last}")
            names[member] = _named(container, member)
        if names[member][0] != manifest.project.id:
            what = f"is the record of {names[member][0]}"
            raise _bad(container.path, member, what, f"the record of {manifest.project.id}")
    if names[manifest.versions[-1].files[FILE]][1] != manifest.project.name:
        raise _bad(container.path, f"{MANIFEST}/project/name", "is another one than the newest record has", "the same")


def _named(container: Container, member: str) -> tuple[str, str]:
    try:
        project = project_from(container.read(member), member)
    except BadRecord as error:
        faults = [Fault(f"{member}/{fault.place}", fault.what, fault.expected) for fault in error.faults[:_SHOWN]]
        raise BadRecord(str(container.path), faults or [Fault(member, error.what)]) from error
    return project.id, project.name


def _bad(path: Path, place: str, what: str, expected: str) -> BadRecord:
    return BadRecord(str(path), [Fault(readable(place, 300), what, expected)])
