"""What belongs to a version of a project: its record, what lies beside it, and what was found when it was kept."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from enfilade.archive.contents import FINDINGS
from enfilade.archive.cutting import digest
from enfilade.checks.run import check, project_yardstick
from enfilade.errors import Conflict, NotFound, Refused
from enfilade.files import fingerprint, read_bytes
from enfilade.findings import Finding
from enfilade.project.issues import FOLDER as ISSUED
from enfilade.project.photos import FOLDER as PHOTOS
from enfilade.project.project import Project
from enfilade.project.store import FILE, HOUSE_RULES, load
from enfilade.project.studio_file import named_files

__all__ = ["Gathered", "findings_bytes", "gathered", "gathered_files"]

_LIGHT: Final = "light"
_MOST_BYTES: Final = 2 * 1024**3
"""They are held in memory together, and a box holds 4 GiB at most (own choice)."""


@dataclass(frozen=True)
class Gathered:
    """A project as it stands in its folder.

    Attributes:
        files: Bytes by path, `project.json` and `findings.json` among them.
        findings: What its yardstick says of it.
        house_rules: Fingerprint of the studio's own rules; empty: none.
    """

    project: Project
    files: dict[str, bytes]
    findings: list[Finding]
    house_rules: str

    @property
    def home(self) -> Path:
        """Return the folder that it was read from."""
        assert self.project._loaded is not None
        return Path(self.project._loaded[0])

    @property
    def digests(self) -> dict[str, bytes]:
        """Return the SHA-256 of each file, by path."""
        return {path: digest(data) for path, data in self.files.items()}


def gathered(folder: str | Path) -> Gathered:
    """Read all that a version holds from a project's folder, and check the project.

    Raises:
        NotFound, BadRecord, Refused: As for `load`.
        Conflict: The folder changed while it was read.
    """
    found = gathered_files(folder)
    findings = check(found.project)
    files = {**found.files, FINDINGS: findings_bytes(findings)}
    return Gathered(found.project, files, findings, project_yardstick(found.project).house_rules)


def gathered_files(folder: str | Path) -> Gathered:
    """Read what lies in a project's folder and belongs to a version; nothing is checked or found.

    Raises:
        NotFound, BadRecord, Refused, Conflict: As for `gathered`.
    """
    project = load(folder)
    assert project._loaded is not None
    home = Path(project._loaded[0])
    files: dict[str, bytes] = {FILE: read_bytes(home / FILE)}
    if fingerprint(files[FILE]) != project._loaded[1]:
        raise Conflict(f"{home / FILE} was saved while it was read", do="try again")
    size = 0
    for path in _listed(project, home):
        try:
            files[path] = read_bytes(home / path)
        except NotFound:
            continue  # It went away meanwhile, and loading did not need it.
        size += len(files[path])
        if size > _MOST_BYTES:
            raise Refused(f"{home} holds over {_MOST_BYTES} bytes beside its record", do="keep fewer photographs there")
    return Gathered(project, files, [], "")


def _listed(project: Project, home: Path) -> list[str]:
    try:
        return list(_beside(project, home))
    except OSError as error:
        raise Refused(
            f"{error.filename or home} cannot be looked at ({error.strerror or error})", do="see who may read it"
        ) from error


def findings_bytes(findings: Sequence[Finding]) -> bytes:
    """Return findings as a file: one a line, with source and working, without the marks of drawings."""
    lines = [json.dumps(_plain(one), ensure_ascii=False, allow_nan=False) for one in findings]
    return ("[\n" + ",\n".join(lines) + "\n]\n").encode()


def _plain(finding: Finding) -> dict[str, Any]:
    plain = finding.as_json()
    del plain["marks"]
    return plain


def _beside(project: Project, home: Path) -> Iterator[str]:
    """Yield the paths of what belongs to a project beside its record, never through a link."""
    yield from dict.fromkeys(f"{PHOTOS}/{photograph.file}" for photograph in project.photographs)
    if (home / HOUSE_RULES).is_file():
        yield HOUSE_RULES
        yield from (path.as_posix() for path in named_files(home))
    for folder in (_LIGHT, ISSUED):
        if (home / folder).is_dir() and not (home / folder).is_symlink():
            yield from sorted(
                f"{folder}/{entry.name}"
                for entry in (home / folder).iterdir()
                if entry.is_file() and not entry.is_symlink() and not entry.name.startswith(".")
            )
