"""The walkthrough as documents on disk."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from pathlib import Path

from enfilade.checks.run import check, project_yardstick
from enfilade.errors import Refused
from enfilade.export.document import Document
from enfilade.export.former import clear_former
from enfilade.export.forms import forms_of, written
from enfilade.export.look import look_of
from enfilade.files import write_bytes
from enfilade.project.fields import AUDIENCES, Audience
from enfilade.project.issues import home_of, keep_issue
from enfilade.project.project import Project
from enfilade.standards.yardsticks import Yardstick
from enfilade.walkthrough.compose import compose, telling_of

__all__ = ["tell", "told"]


def tell(
    project: Project,
    to: Iterable[str] = ("html",),
    audience: Audience = "client",
    out: str | Path = "told",
    *,
    yardstick: str | Yardstick | None = None,
    issue: bool = False,
    progress: Callable[[str], None] = lambda words: None,
) -> list[Path]:
    """Write the walkthrough for one audience.

    A file that the same form wrote into the folder before, and that there is no more, is taken away.

    Args:
        project: The declared house.
        to: Forms, of `FORMS`, or `all`.
        audience: Who it is for; what they may not be told is left out before a document is made.
        out: The folder to write into; made when it does not exist.
        yardstick: As for `check`.
        issue: Whether this is an issue: the record as it is told here is kept in the project's folder, so that the
            next telling to this audience says what has changed since.
        progress: Called with a few words before each step.
    Returns:
        The files written, in the order of the forms.
    Raises:
        Refused: An unknown form or audience, a folder that cannot be written, or an issue of a project that was not
            saved yet.
        BadRecord: The studio's file cannot be read.
    """
    forms = forms_of((to,) if isinstance(to, str) else to)
    if audience not in AUDIENCES:
        raise Refused(f"audience {audience!r} is unknown", expected=", ".join(AUDIENCES))
    if Path(out).exists() and not Path(out).is_dir():
        raise Refused(f"{out}: folder: a file stands there", expected="a folder to write into")
    if issue and home_of(project) is None:
        raise Refused("an issue is kept in the project's folder, and this project has none yet", do="save it first")
    document = told(project, audience, yardstick=yardstick, progress=progress)
    paths = []
    for form in forms:
        files: dict[str, bytes] = {}
        for name, data in written(form, document):
            path = Path(out) / name
            write_bytes(path, data)
            paths.append(path)
            files[name] = data
        clear_former(Path(out), form.name, files, progress)
    if issue:
        progress("keeping what was issued")
        keep_issue(document.telling.project, audience, (form.name for form in forms))
    return paths


def told(
    project: Project,
    audience: Audience = "client",
    *,
    yardstick: str | Yardstick | None = None,
    progress: Callable[[str], None] = lambda words: None,
) -> Document:
    """Return what the documents for one audience are written from."""
    rules = yardstick if isinstance(yardstick, Yardstick) else project_yardstick(project, yardstick)
    progress("checking")
    findings = check(project, yardstick=rules)
    telling = telling_of(project, findings, rules, audience=audience)
    return Document(telling, compose(telling, progress=progress), look_of(telling.project), progress)
