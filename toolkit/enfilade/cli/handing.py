"""The commands that hand an archive's content on, let go of it, and look after it."""

from __future__ import annotations

import argparse
import os
from collections.abc import Callable
from pathlib import Path

from enfilade.cli.options import PROJECT, add_archive, add_version, add_why, numbered, opened, project_id
from enfilade.cli.printing import say, tell
from enfilade.errors import Refused

__all__ = ["add_commands"]


def box(options: argparse.Namespace) -> int:
    """Write one file that holds a project with its photographs and all its versions."""
    from enfilade.archive.box import write_box

    with opened(options) as archive:
        name = project_id(options.project)
        out = Path(options.out) if options.out else Path(f"{name}-box.zip")
        if os.path.lexists(out) and not options.replace:
            raise Refused(f"{out} is there already", do="name another file with --out, or say --replace")
        tell(f"{write_box(archive, name, out, progress=say).resolve()}")
    return 0


def unbox(options: argparse.Namespace) -> int:
    """Verify a project box; take its versions into the archive, or unpack one into a new folder with --out."""
    from enfilade.archive.box import take_in, unpack

    if options.out:
        tell(f"{unpack(Path(options.box), Path(options.out), options.version).resolve()}")
        return 0
    with opened(options, create=True) as archive:
        taken = take_in(archive, Path(options.box), progress=say)
        for version in taken:
            tell(f"{version.project}: {numbered(version)}{f': {version.why}' if version.why else ''}")
        if not taken:
            tell("every version of it is there already; nothing was added")
        tell(f"archive: {archive.address}")
    return 0


def release(options: argparse.Namespace) -> int:
    """Make a copy for students, from which everything of the client's is left out."""
    from enfilade.archive.releasing import grant
    from enfilade.archive.releasing import release as release_copy

    with opened(options) as archive:
        version = release_copy(
            archive, project_id(options.project), options.to, number=options.version, who=options.by, why=options.why
        )
        if options.reader:
            grant(archive, options.reader)
        tell(f"{version.project}: released as version {version.number} in {options.to or archive.address}")
    return 0


def forget(options: argparse.Namespace) -> int:
    """Erase a client's names, addresses and photographs from every version, and say what remains.

    Without --erase it says what would be erased, and changes nothing.
    """
    from enfilade.archive.forgetting import forget as forget_client

    with opened(options) as archive:
        name = project_id(options.project)
        folder = Path(options.folder) if options.folder else None
        done = forget_client(archive, name, folder=folder, erase=options.erase, who=options.by)
        for sentence in (*done.sentences, *done.remains):
            tell(sentence)
        if not options.erase:
            say("nothing was changed; --erase does it, and it cannot be undone.")
    return 0


def verify(options: argparse.Namespace) -> int:
    """Hold every version in the archive against its seals, and name what is damaged."""
    from enfilade.archive.address import address_of, when_damaged
    from enfilade.archive.copy_taken import take_copy
    from enfilade.archive.forgetting import finish
    from enfilade.archive.verifying import verify as verify_all

    if options.take_copy:
        path = address_of(options.archive).path
        if path is None:
            raise Refused("a shared archive has no copy beside it", do="ask whoever keeps its backups")
        for sentence in take_copy(path, say).sentences:
            tell(sentence)
    with opened(options) as archive:
        for sentence in finish(archive):
            tell(sentence)
        found = verify_all(archive, say)
        for damage in found:
            tell(str(damage))
        if found and archive.address.path is not None:
            tell(f"What to do: {when_damaged(archive.address)}.")
        if not found:
            count = sum(one.latest for one in archive.projects())
            tell(f"{count} {'version' if count == 1 else 'versions'} in {archive.address}: every one is as it was kept")
    return 1 if found else 0


def add_commands(command: Callable[[Callable[[argparse.Namespace], int]], argparse.ArgumentParser]) -> None:
    """Add these commands; `command` adds a handler's and returns its parser."""
    boxing = add_archive(command(box), "PROJECT", PROJECT)
    boxing.add_argument("--out", metavar="FILE", help="where to write (default: ID-box.zip)")
    boxing.add_argument("--replace", action="store_true", help="also where a box stands there already")
    unboxing = add_archive(command(unbox))
    unboxing.add_argument("box", metavar="FILE", help="the box")
    unboxing.add_argument("--out", metavar="FOLDER", help="unpack a version here, in place of taking it in")
    add_version(unboxing, "which version to unpack (default: the newest)")
    releasing = add_archive(command(release), "PROJECT", PROJECT)
    releasing.add_argument("--to", metavar="ADDRESS", help="the archive for students; a shared one can hold both")
    releasing.add_argument("--reader", metavar="ROLE", help="a role of a shared database, to read what is released")
    add_version(releasing, "which version (default: the newest)")
    add_why(releasing, "what it is released for")
    forgetting = add_archive(command(forget), "PROJECT", PROJECT)
    forgetting.add_argument("--folder", metavar="FOLDER", help="the working folder, to be rewritten too")
    forgetting.add_argument("--erase", action="store_true", help="do it; it cannot be undone")
    forgetting.add_argument("--by", metavar="NAME", default="", help="who erases it, for the record")
    verifying = add_archive(command(verify))
    verifying.add_argument(
        "--take-copy",
        action="store_true",
        help="first put the copy beside a damaged file in its place; a whole one is left alone",
    )
