"""A version of a project in the archive, and the seal that holds it to the ones before it."""

from __future__ import annotations

import datetime as dt
import hashlib
from collections.abc import Mapping
from dataclasses import dataclass, replace

__all__ = ["KeptProject", "Version", "moment_words", "seal_of", "sealed"]


@dataclass(frozen=True)
class KeptProject:
    """A project of the archive: its own id, its name, and the number of its newest version."""

    id: str
    name: str
    latest: int


@dataclass(frozen=True)
class Version:
    """One version of a project; it never changes.

    Attributes:
        project: Id of the project.
        number: Counted from 1.
        on: When it was kept [UTC].
        who, why: Who kept it and for what reason, as they said.
        yardstick: The set of rules by which its findings were made.
        house_rules: Fingerprint of the studio's own rules at that time; empty: none.
        seal: SHA-256 over the seal of the version before, all of these words, and the digest of every file.
    """

    project: str
    number: int
    on: dt.datetime
    who: str
    why: str
    format: int
    yardstick: str
    house_rules: str
    seal: bytes


def moment_words(moment: dt.datetime) -> str:
    """Return a moment [UTC] as archives and boxes write it: `2026-03-24T10:42:00Z`."""
    return moment.strftime("%Y-%m-%dT%H:%M:%SZ")


def sealed(version: Version, before: bytes, digests: Mapping[str, bytes]) -> Version:
    """Return a version with its seal; see `seal_of`."""
    return replace(version, seal=seal_of(version, before, digests))


def seal_of(version: Version, before: bytes, digests: Mapping[str, bytes]) -> bytes:
    """Return the seal of a version: whoever changes a word or a file of it changes this, and all seals after it.

    Args:
        version: Its own seal is not looked at.
        before: Seal of the version before; empty for the first.
        digests: SHA-256 of each file, by path.
    """
    lines = [
        before.hex(), version.project, str(version.number), moment_words(version.on), version.who, version.why,
        str(version.format), version.yardstick, version.house_rules,
        *(f"{digests[path].hex()} {path}" for path in sorted(digests)),
    ]  # fmt: skip
    whole = "\x00".join(lines)
    return hashlib.sha256(whole.encode("utf-8", "surrogatepass")).digest()
