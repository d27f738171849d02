"""The commands of the archive."""

from __future__ import annotations

import argparse
import shlex
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING

from enfilade.cli import handing
from enfilade.cli.options import PROJECT, add_archive, add_version, add_why, numbered, opened, project_id
from enfilade.cli.printing import print_json, say, tell
from enfilade.errors import BadRecord, EnfiladeError, NotFound, Refused
from enfilade.project.readable import readable

if TYPE_CHECKING:
    from enfilade.archive.archive import Archive
    from enfilade.archive.versions import Version

__all__ = ["add_commands"]

_Command = Callable[[Callable[[argparse.Namespace], int]], argparse.ArgumentParser]


def keep(options: argparse.Namespace) -> int:
    """Keep a project, as it stands, as a new version in the studio's archive."""
    from enfilade.archive.keeping import keep as keep_folder
    from enfilade.archive.merging import keep_merged, take_of

    with opened(options, create=True) as archive:
        if options.merge or options.take:
            merged = keep_merged(
                archive, options.project, take=take_of(options.take or ()), why=options.why, who=options.by,
                onto=options.onto, progress=say,
            )  # fmt: skip
            version, new, words = merged.kept.version, merged.kept.new, merged.told
        else:
            kept = keep_folder(
                archive, options.project, why=options.why, who=options.by, onto=options.onto, progress=say
            )
            version, new, words = kept.version, kept.new, ()
        done = f"{numbered(version)} kept" if new else f"nothing was added; it is as in {numbered(version)}"
        tell(f"{version.project}: {done}")
        for sentence in words or (_since(archive, version) if new else ()):
            tell(f"  {sentence}")
        tell(f"archive: {archive.address}")
    return 0


def versions(options: argparse.Namespace) -> int:
    """List the versions of a project, with who kept them, why, and what changed; without PROJECT, the projects."""
    with opened(options) as archive:
        if not options.project:
            for sentence in _projects(archive):
                tell(sentence)
            return 0
        name = project_id(options.project)
        for version in reversed(archive.versions(name)):
            tell(f"{numbered(version)}{f': {version.why}' if version.why else ''}")
            for sentence in _since(archive, version):
                tell(f"  {sentence}")
    return 0


def _projects(archive: Archive) -> Iterator[str]:
    """Yield a line for each project: its id, its name, its newest version and when that was kept."""
    kept = archive.projects()
    if not kept:
        yield f"no project is kept in {archive.address} yet"
    widest = max((len(one.id) for one in kept), default=0)
    for one in kept:
        yield f"{one.id:{widest}}  {readable(one.name)}; {numbered(archive.version(one.id))}"


def bring_back(options: argparse.Namespace) -> int:
    """Bring a version back into a folder; of a folder whose project.json is damaged, its last good state.

    What stood in the folder stays among its earlier states.
    """
    from enfilade.archive.restoring import bring_back as bring
    from enfilade.archive.restoring import way_back
    from enfilade.project.last_good import take_last_good
    from enfilade.project.store import FILE

    folder = Path(options.project)
    if options.version is None and options.out is None and (folder / FILE).exists():
        try:
            tell(take_last_good(folder))
        except NotFound as error:
            raise _from_the_archive(options, error) from error
        return 0
    with opened(options) as archive:
        number = options.version
        try:
            name = project_id(options.project)
        except BadRecord:  # The folder remembers what it was kept as.
            name, number = way_back(archive, folder, number)
        out = Path(options.out) if options.out else folder if folder.is_dir() else Path(name)
        brought = bring(archive, name, number, out)
        tell(f"{name}: {numbered(brought.version)} stands in {brought.folder.resolve()}")
        if brought.before is not None:
            tell(f"  What stood there before is {brought.before.resolve()}.")
        if brought.made_from != brought.version.number:
            tell(f"  It is a change to version {brought.made_from}, from which the folder goes on.")
    return 0


def _from_the_archive(options: argparse.Namespace, error: NotFound) -> NotFound:
    """Return why no earlier state was taken, with the command that brings the folder back from the archive."""
    from enfilade.archive.restoring import way_back

    try:
        with opened(options) as archive:
            name, number = way_back(archive, Path(options.project))
            number = archive.version(name, number).number
    except EnfiladeError:
        return error
    other = f" --archive {shlex.quote(options.archive)}" if options.archive else ""
    command = f"enfilade bring-back {shlex.quote(options.project)} --version {number}{other}"
    return NotFound(
        error.what,
        do=f"`{command}` brings version {number} of {name} back, as it was kept, and puts the damaged file aside",
    )


def find(options: argparse.Namespace) -> int:
    """Look through all that was kept: words, or figures such as "islands between 2.4 and 3.0 m with four seats"."""
    with opened(options) as archive:
        answers = archive.find(
            " ".join(options.words),
            kinds=tuple(options.kind or ()),
            use=options.use,
            project=options.project,
            state=options.state,
            past=options.past,
            limit=options.limit,
        )
        if options.page:
            from enfilade.files import write_text

            write_text(Path(options.page), answers.page())
            say(f"written to {Path(options.page).resolve()}.")
        if options.json:
            print_json([hit.as_json() for hit in answers.hits])
        else:
            tell(answers.as_text(_width()))
    return 0


def compare(options: argparse.Namespace) -> int:
    """Set two to six projects or versions side by side, where they differ: folders, boxes, ID or ID@VERSION."""
    from enfilade.archive.comparing import compare as set_beside

    def beside(archive: Archive | None) -> int:
        comparison = set_beside(options.what, archive)
        if options.json:
            print_json(comparison.as_json())
        else:
            tell(comparison.as_text(_width(), differing=not options.all))
        return 0

    if all(Path(one).exists() for one in options.what):
        return beside(None)
    with opened(options) as archive:
        return beside(archive)


def lessons(options: argparse.Namespace) -> int:
    """Say what was learnt in other projects and bears on this one; take it up, dismiss it, or make it a house rule."""
    from enfilade.archive.lessons import answer, make_rule, reminders, rule_left
    from enfilade.archive.lessons.told import as_text
    from enfilade.project.store import load

    project = load(options.project)
    home = Path(project._loaded[0]) if project._loaded else Path(options.project)
    who = options.by or project.show.studio.designer
    with opened(options) as archive:
        changed = options.accept or options.dismiss
        left = rule_left(archive, home, project.id, changed) if changed else ""
        if options.accept:
            answer(archive, project.id, options.accept, "accepted", options.reason, who)
        elif options.dismiss:
            if not options.reason.strip():
                raise Refused("a lesson is not dismissed without a reason", expected='--reason "another stone"')
            answer(archive, project.id, options.dismiss, "dismissed", options.reason, who)
        elif options.rule:
            if not (options.row and options.value):
                raise Refused("a house rule needs a row and a value", expected='--row "K6/two cooks" --value "50 in"')
            make_rule(archive, home, options.rule, options.row, options.value, who)
        if left:
            say(left)
        found = reminders(archive, project)
        if options.json:
            print_json([one.as_json() for one in found])
        else:
            tell(as_text(found, _width()))
    return 0


def add_commands(command: _Command) -> None:
    """Add the archive's commands.

    Args:
        command: Adds a handler's command and returns its parser.
    """
    keeping = add_archive(command(keep), "PROJECT", "the project's folder, or its project.json")
    add_why(keeping, "why it is kept: before the tender")
    keeping.add_argument("--onto", metavar="N", type=int, help="the version that it was made from, where it is unknown")
    keeping.add_argument("--merge", action="store_true", help="bring together with what somebody kept meanwhile")
    keeping.add_argument("--take", metavar="SIDE", action="append",
                         help="merge; where both changed the same take mine or theirs, or PLACE=SIDE")  # fmt: skip
    listing = add_archive(command(versions))
    listing.add_argument(
        "project", metavar="PROJECT", nargs="?", help=f"{PROJECT} (without it: all projects are listed)"
    )
    bringing = add_archive(command(bring_back), "PROJECT", PROJECT)
    add_version(bringing, "which version (default: the newest)")
    bringing.add_argument(
        "--out", metavar="FOLDER", help="where to (default: the project's folder; of an ID, a folder of that name here)"
    )
    _add_find(command(find))
    comparing = add_archive(command(compare))
    comparing.add_argument("what", metavar="PROJECT", nargs="+", help="a folder, a box, ID, or ID@VERSION")
    comparing.add_argument("--all", action="store_true", help="also what is the same in all of them")
    comparing.add_argument("--json", action="store_true", help="print it for another program")
    _add_lessons(add_archive(command(lessons), "PROJECT", "the project's folder, or its project.json"))
    handing.add_commands(command)


def _add_find(finding: argparse.ArgumentParser) -> None:
    add_archive(finding)
    finding.add_argument("words", metavar="WORDS", nargs="+", help="what to look for")
    finding.add_argument("--kind", action="append", metavar="KIND",
                         help="need, decision, reason, option, product, finish, finding, answer or lesson")  # fmt: skip
    finding.add_argument("--use", metavar="ROOM", default="", help="only rooms of this use: kitchen, bath ...")
    finding.add_argument("--project", metavar="ID", default="", help="only this project")
    finding.add_argument(
        "--state", metavar="WORDS", default="", help='only this verdict or status: holds, "falls short", built'
    )
    finding.add_argument("--past", action="store_true", help="also what stood in earlier versions alone")
    finding.add_argument("--limit", metavar="N", type=int, default=20, help="so many answers (default: %(default)s)")
    finding.add_argument("--page", metavar="FILE", help="write the answers with the plans of their rooms, as HTML")
    finding.add_argument("--json", action="store_true", help="print them as a JSON list")


def _add_lessons(learning: argparse.ArgumentParser) -> None:
    which = learning.add_mutually_exclusive_group()
    which.add_argument("--accept", metavar="LESSON", help="take it up")
    which.add_argument("--dismiss", metavar="LESSON", help="it does not bear on this project; needs --reason")
    which.add_argument("--rule", metavar="LESSON", help="make it a rule of the house; needs --row and --value")
    learning.add_argument("--reason", metavar="TEXT", default="", help="why")
    learning.add_argument("--row", metavar="ROW", default="", help='the rule: "K6/two cooks"')
    learning.add_argument("--value", metavar="VALUE", default="", help='what the studio asks: "50 in"')
    learning.add_argument("--by", metavar="NAME", default="", help="who says so (default: the project's designer)")
    learning.add_argument("--json", action="store_true", help="print them for another program")


def _since(archive: Archive, version: Version) -> tuple[str, ...]:
    if version.number == 1:
        return ("the first version.",)
    return archive.changed(version.project, version.number - 1, version.number)


def _width() -> int:
    return max(60, min(shutil.get_terminal_size((100, 24)).columns, 160))
