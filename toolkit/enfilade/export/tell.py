"""The walkthrough as documents on disk."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable, Sequence
from pathlib import Path
from typing import Final

from enfilade.checks.run import check, project_yardstick
from enfilade.errors import Refused
from enfilade.export.document import Document
from enfilade.export.former import clear_former
from enfilade.export.forms import forms_of, written
from enfilade.export.look import Look, look_of
from enfilade.files import write_bytes
from enfilade.project.audience import for_audience
from enfilade.project.fields import AUDIENCES, Audience
from enfilade.project.issues import home_of, keep_issue
from enfilade.project.project import Project
from enfilade.standards.yardsticks import Yardstick
from enfilade.walkthrough.compose import compose, telling_of
from enfilade.walkthrough.slips import Slip, slips_of
from enfilade.walkthrough.telling import Telling

__all__ = ["tell", "told"]

_LISTED: Final = 50


def tell(
    project: Project,
    to: Iterable[str] = ("html",),
    audience: Audience = "client",
    out: str | Path = "told",
    *,
    yardstick: str | Yardstick | None = None,
    issue: bool = False,
    progress: Callable[[str], None] | None = None,
) -> list[Path]:
    """Write the walkthrough for one audience.

    A file that the same form wrote into the folder before, and that there is no more, is taken away. Before anything
    is written, every field of the lines that this audience hears which stands for nothing is named, and every typed
    figure that the record contradicts.

    Args:
        project: The declared house.
        to: Forms, of `FORMS`, or `all`.
        audience: Who it is for; what they may not be told is left out before a document is made.
        out: The folder to write into; made when it does not exist.
        yardstick: As for `check`.
        issue: Whether this is an issue: the record as it is told here is kept in the project's folder, so that the
            next telling to this audience says what has changed since. A field that stands for nothing is refused then.
        progress: Called with a few words before each step, and with a sentence for each line that is at fault; None:
            those sentences go to standard error, and nothing else is said.
    Returns:
        The files written, in the order of the forms.
    Raises:
        Refused: An unknown form or audience, a folder that cannot be written, an issue of a project that was not
            saved yet, or one with fields that stand for nothing.
        BadRecord: The studio's file cannot be read.
    """
    forms = forms_of((to,) if isinstance(to, str) else to)
    if audience not in AUDIENCES:
        raise Refused(f"audience {audience!r} is unknown", expected=", ".join(AUDIENCES))
    if Path(out).exists() and not Path(out).is_dir():
        raise Refused(f"{out}: folder: a file stands there", expected="a folder to write into")
    if issue and home_of(project) is None:
        raise Refused("an issue is kept in the project's folder, and this project has none yet", do="save it first")
    say = progress or _nothing
    telling, look, slips = _telling(project, audience, yardstick, say)
    _named(slips, progress or _to_stderr, audience, issue=issue)
    document = Document(telling, compose(telling, progress=say), look, say)
    paths = []
    for form in forms:
        files: dict[str, bytes] = {}
        for name, data in written(form, document):
            path = Path(out) / name
            write_bytes(path, data)
            paths.append(path)
            files[name] = data
        clear_former(Path(out), form.name, files, say)
    if issue:
        say("keeping what was issued")
        keep_issue(telling.project, audience, (form.name for form in forms))
    return paths


def told(
    project: Project,
    audience: Audience = "client",
    *,
    yardstick: str | Yardstick | None = None,
    progress: Callable[[str], None] = lambda words: None,
) -> Document:
    """Return what the documents for one audience are written from."""
    telling, look, _ = _telling(project, audience, yardstick, progress)
    return Document(telling, compose(telling, progress=progress), look, progress)


def _telling(
    project: Project, audience: Audience, yardstick: str | Yardstick | None, progress: Callable[[str], None]
) -> tuple[Telling, Look, tuple[Slip, ...]]:
    """Return what is told, the studio's look, and the lines that are at fault.

    The look is read first: a fault in the studio's file is said before anything is worked out.
    """
    look = look_of(for_audience(project, audience))
    rules = yardstick if isinstance(yardstick, Yardstick) else project_yardstick(project, yardstick)
    progress("checking")
    findings = check(project, yardstick=rules)
    telling = telling_of(project, findings, rules, audience=audience)
    return telling, look, slips_of(project, findings, telling)


def _named(slips: Sequence[Slip], say: Callable[[str], None], audience: Audience, *, issue: bool) -> None:
    """Name the lines that are at fault.

    Raises:
        Refused: It is an issue, and fields stand for nothing.
    """
    broken = [str(slip) for slip in slips if slip.broken]
    if issue and broken:
        told_to = "for the public" if audience == "public" else f"for the {audience}"
        listed = "".join(f"\n  {words}" for words in broken[:_LISTED])
        more = f"\n  and {len(broken) - _LISTED} more" if len(broken) > _LISTED else ""
        count = "a field of its lines stands" if len(broken) == 1 else f"{len(broken)} fields of its lines stand"
        raise Refused(
            f"nothing was issued {told_to}: {count} for nothing, and would be read as typed:{listed}{more}\n",
            do="mend the lines, or tell them without issuing",
        )
    for slip in slips:
        say(str(slip))


def _nothing(words: str) -> None:
    """Say nothing."""


def _to_stderr(words: str) -> None:
    print(words, file=sys.stderr)
