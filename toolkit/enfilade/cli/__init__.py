"""The commands."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable, Sequence
from pathlib import Path

from enfilade import __version__
from enfilade.cli import archive
from enfilade.cli.printing import print_json, say
from enfilade.cli.printing import tell as tell_
from enfilade.errors import EnfiladeError, Refused

__all__ = ["main"]

Handler = Callable[[argparse.Namespace], int]


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command; return 0 when nothing is left, 1 when something falls short unanswered, 2 for wrong use."""
    parser = _parser()
    options = parser.parse_args(argv)
    try:
        handler: Handler = options.handler
        return handler(options)
    except EnfiladeError as error:
        print(error, file=sys.stderr)
        return 2
    except BrokenPipeError:
        # Whoever read the output has had enough of it.
        sys.stderr.close()
        return 0
    except KeyboardInterrupt:
        print("stopped; nothing half written was left behind", file=sys.stderr)
        return 2


def demo(options: argparse.Namespace) -> int:
    """Make the demo house and its walkthrough: FOLDER/project/ and FOLDER/walkthrough.html."""
    from enfilade.export.tell import tell
    from enfilade.project.demo import demo as demo_house
    from enfilade.project.store import FILE, load, save

    folder = Path(options.out)
    home = folder / "project"
    if (home / FILE).exists():
        say(f"{home} is there already and is left as it is; its page is made anew")
    else:
        say(f"writing the demo house to {home}")
        save(demo_house(), home)
    written = tell(load(home), out=folder, progress=say)
    print(f"project: {home}")
    print(f"walkthrough: {written[0].resolve()}")
    return 0


def open_(options: argparse.Namespace) -> int:
    """Open a house, or begin a new one, as pages in a browser on this machine."""
    from enfilade.capture.opened import open_lab, open_pages, project_folder

    folder = project_folder(options.project)
    if folder is not None and not folder.exists():
        say(f"{folder} is not there yet; the first page asks what is needed to begin")
    browser = not options.no_browser
    if not options.lab:
        open_pages(folder, browser=browser, say=say, tell=tell_)
    elif folder is None:
        raise Refused("no project is named", expected="open --lab PROJECT", do="a new name begins a new project")
    else:
        open_lab(folder, browser=browser, say=say, tell=tell_)
    return 0


def check(options: argparse.Namespace) -> int:
    """Hold a project against the published rules, and say what falls short and by how much."""
    from enfilade.checks.answers import answers_by_finding, falls_short_unanswered
    from enfilade.checks.run import check as hold
    from enfilade.project.store import load

    project = load(options.project)
    findings = hold(project, options.space, options.yardstick)
    answers = answers_by_finding(project.answers)
    if options.json:
        print_json([finding.as_json() for finding in findings])
    else:
        from enfilade.walkthrough.report import report

        print(report(project, findings, answers))
    return 1 if falls_short_unanswered(findings, answers) else 0


def tell(options: argparse.Namespace) -> int:
    """Write the walkthrough, room by room, for one audience."""
    from enfilade.export.tell import tell as tell_project
    from enfilade.project.store import load

    project = load(options.project)
    forms = [form.strip() for form in options.to.split(",") if form.strip()]
    home = Path(options.project)
    home = home.parent if home.name == "project.json" else home
    out = Path(options.out) if options.out else home.resolve().with_name(f"{home.resolve().name}-told")
    for path in tell_project(
        project, forms, options.audience, out, yardstick=options.yardstick, issue=options.issue, progress=say
    ):
        print(path.resolve())
    return 0


def schema(options: argparse.Namespace) -> int:
    """Print the JSON Schema of project.json."""
    from enfilade.project.schema import project_schema

    print_json(project_schema())
    return 0


def selftest(options: argparse.Namespace) -> int:
    """Say what works on this machine."""
    from enfilade.export.selftest import selftest_lines

    lines = selftest_lines()
    for line in lines:
        print(line)
    return 0 if all(line.works or not line.needed for line in lines) else 1


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="enfilade",
        description="From measured rooms to finished ones, and the words to explain them.",
    )
    parser.add_argument("--version", action="version", version=f"enfilade {__version__}")
    commands = parser.add_subparsers(title="commands", metavar="COMMAND", required=True)

    def command(handler: Handler) -> argparse.ArgumentParser:
        words = (handler.__doc__ or "").strip()
        name = handler.__name__.rstrip("_").replace("_", "-")
        added = commands.add_parser(name, help=words.partition("\n")[0], description=words)
        added.set_defaults(handler=handler)
        return added

    command(demo).add_argument(
        "--out", metavar="FOLDER", default="enfilade-demo", help="where to write (default: %(default)s)"
    )
    opening = command(open_)
    opening.add_argument("project", metavar="PROJECT", nargs="?", help="its folder; a new name begins a new one")
    opening.add_argument("--lab", action="store_true", help="in JupyterLab, as notebooks beside the project")
    opening.add_argument("--no-browser", action="store_true", help="write the address, and open no browser")
    checking = command(check)
    _project(checking)
    checking.add_argument("--space", metavar="ID", help="one room only, by its id")
    checking.add_argument("--json", action="store_true", help="print the findings as a JSON list")
    telling = command(tell)
    _project(telling)
    telling.add_argument(
        "--to",
        metavar="FORMS",
        default="html",
        help="one form or several of those listed below, joined by commas, or all (default: %(default)s)",
    )
    telling.formatter_class = argparse.RawDescriptionHelpFormatter
    telling.epilog = _forms()
    telling.add_argument(
        "--audience",
        choices=("client", "public", "student", "studio"),
        default="client",
        help="who it is for; what they may not be told is left out (default: %(default)s)",
    )
    telling.add_argument("--out", metavar="FOLDER", help="where to write (default: PROJECT-told)")
    telling.add_argument(
        "--issue", action="store_true", help="keep what was told, so that the next telling says what changed since"
    )
    archive.add_commands(command)
    command(schema)
    command(selftest)
    return parser


def _forms() -> str:
    from enfilade.export.forms import FORMS

    width = max(map(len, FORMS))
    return "\n".join(["forms:", *(f"  {form.name:{width}}  {form.words}" for form in FORMS.values())])


def _project(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("project", metavar="PROJECT", help="the project's folder, or its project.json")
    parser.add_argument(
        "--yardstick",
        metavar="NAME",
        help="the set of published rules: us, us-access, us-1990s (default: the project's own)",
    )


if __name__ == "__main__":
    raise SystemExit(main())
