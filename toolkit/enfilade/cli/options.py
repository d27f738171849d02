"""What the archive's commands have in common: their options, and the archive that they open."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from enfilade.errors import NotFound
from enfilade.times import moment_here

if TYPE_CHECKING:
    from enfilade.archive.archive import Archive
    from enfilade.archive.versions import Version

__all__ = ["PROJECT", "add_archive", "add_version", "add_why", "numbered", "opened", "project_id"]

PROJECT = "its folder, or its id in the archive"


def add_archive(parser: argparse.ArgumentParser, name: str = "", words: str = "") -> argparse.ArgumentParser:
    """Add what a command is about, where it is one thing, and where the archive is; return the parser."""
    if name:
        parser.add_argument(name.lower(), metavar=name, help=words)
    parser.add_argument(
        "--archive",
        metavar="ADDRESS",
        help="a file, or postgresql://USER@HOST/DATABASE (default: $ENFILADE_ARCHIVE, else a file of your own)",
    )
    return parser


def add_why(parser: argparse.ArgumentParser, words: str) -> None:
    """Add who does it and why."""
    parser.add_argument("--why", metavar="TEXT", default="", help=words)
    parser.add_argument("--by", metavar="NAME", default="", help="who does it (default: the project's designer)")


def add_version(parser: argparse.ArgumentParser, words: str) -> None:
    """Add which version."""
    parser.add_argument("--version", metavar="N", type=int, help=words)


@contextmanager
def opened(options: argparse.Namespace, *, create: bool = False) -> Iterator[Archive]:
    """Open the archive that the options name; make it where it may be made."""
    from enfilade.archive.archive import Archive

    with Archive(options.archive, create=create) as archive:
        yield archive


def project_id(text: str) -> str:
    """Return the id of a project that was named by its folder or its id."""
    from enfilade.project.store import FILE, load

    path = Path(text)
    if path.name == FILE or (path / FILE).exists():
        return load(path).id
    if path.is_dir():
        raise NotFound(f"{path} holds no project", expected="a project's folder, or its id in the archive")
    return text


def numbered(version: Version) -> str:
    """Return a version in words: `version 3, 24 March 2026, 10:42, the designer`."""
    by = f", {version.who}" if version.who else ""
    return f"version {version.number}, {moment_here(version.on)}{by}"
