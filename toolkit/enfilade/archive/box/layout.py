"""How a project box is laid out: the names in it, its limits, and its own short readme."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import PurePosixPath
from typing import Final

from enfilade.archive.versions import Version, moment_words
from enfilade.project.photos import FOLDER as PHOTOS

__all__ = ["FORMAT", "LARGEST_BYTES", "MANIFEST", "MOST_BYTES", "MOST_MEMBERS", "MOST_RATIO", "OWN", "README",
           "SMALL_BYTES", "SUMS", "member_of", "readme"]  # fmt: skip

FORMAT: Final = 1
README: Final = "README.txt"
MANIFEST: Final = "manifest.json"
SUMS: Final = "SHA256SUMS"
OWN: Final = (README, MANIFEST, SUMS)

LARGEST_BYTES: Final = 64 * 1024 * 1024
"""Of one file in a box (own choice: a file of an archive is no larger, so that what is kept can be boxed)."""
MOST_BYTES: Final = 16 * 1024**3
"""Of all files together, unpacked (own choice: a box stays under 4 GiB, where a zip file without extensions ends,
and records are a fourth of their size in it, photographs nearly all of theirs)."""
MOST_MEMBERS: Final = 60_000
"""Files in a box (own choice: a zip file without extensions ends at 65,535, and this leaves some for whoever adds)."""
MOST_RATIO: Final = 200
"""So many times larger a file may become when it is unpacked (own choice: of the demo house the record
becomes 6 times larger and its findings 14 times; deflate ends at 1,032, which only a file made to grow comes near)."""
SMALL_BYTES: Final = 1024 * 1024
"""A file under this size may be packed as small as it will (own choice: unpacked it does no harm)."""
_LONGEST: Final = 200
"""Signs of who and why on a line of the readme (own choice: a line to read, all of it stands in the manifest)."""


def member_of(path: str, number: int, digest: bytes) -> str:
    """Return where a file of a version lies in the box: photographs together, by what they hold, the rest by version.

    >>> member_of("findings.json", 3, b"")
    'versions/0003/findings.json'
    """
    if path.startswith(f"{PHOTOS}/"):
        return f"files/{digest.hex()}{PurePosixPath(path).suffix.lower()[:8]}"
    return f"versions/{number:04d}/{path}"


def readme(name: str, versions: Sequence[Version]) -> str:
    """Return the box's readme.

    Args:
        name: The project's name.
        versions: All of them, at least one.
    """
    listed = "\n".join(
        f"  {one.number:04d}  {moment_words(one.on)}  {_plain(f'{one.who}: {one.why}'.strip(': '))}".rstrip()
        for one in versions
    )
    project = versions[0].project
    return _README.format(name=_plain(name) or project, project=project, versions=listed)


def _plain(text: str) -> str:
    """Return a text on one line, cut short."""
    return " ".join("".join(sign if sign.isprintable() else " " for sign in text[:1000]).split())[:_LONGEST]


_README: Final = """\
PROJECT BOX

{name}
({project})

This file holds one interior design project: every version that was kept of it, with its photographs, what was found
when it was held against its rules, and the studio's own rules of that time. It is an ordinary zip file. Nothing in it
runs. It can be read without the program that wrote it.

How to read it
  Unpack it with any zip program. What ends in .json or .txt opens in any text editor (UTF-8); photographs open in any
  viewer of pictures.

What lies in it
  manifest.json             the list of versions: number, when it was kept (UTC), by whom and why, the set of rules, and
                            for each path of the project the file in this box that holds it. Equal files lie here once.
  versions/NUMBER/          the files of a version that were new in it
    project.json            the record of the house: rooms, things, needs, decisions, products; lengths in mm
    findings.json           what was measured and required, with source and working, when the version was kept
    studio.toml             the studio's own stricter values, where it had some
  files/                    photographs, each named by the SHA-256 of its content
  SHA256SUMS                the checksum of every other file

How to see whether it is whole
  In the unpacked folder:   sha256sum -c SHA256SUMS
  Each version has a seal in manifest.json: the SHA-256 over these, as UTF-8, with one zero byte between each and the
  next: the seal of the version before (in hexadecimal; nothing for the first), the project's id, the number, the
  moment, who, why, the format, the yardstick, the house rules, and for each file, by path in the order of code points,
  its SHA-256 in hexadecimal, a space and its path. Whoever changes a version changes its seal and all seals after it.
  A seal shows that nothing was changed since; it does not show who made it. Whoever must prove that keeps the last
  seal, or the checksum of this file, in another place as well.

What it is not
  Findings compare what was declared and measured with published guidance, as it was then. They are no approval. Local
  codes and licensed practice decide.

Versions
{versions}
"""
