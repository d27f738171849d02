"""The walkthrough as documents on disk."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from pathlib import Path
from typing import Final

from enfilade.checks.run import check, project_yardstick
from enfilade.errors import Refused
from enfilade.export.html import walkthrough_html
from enfilade.files import write_text
from enfilade.project.fields import AUDIENCES, Audience
from enfilade.project.project import Project
from enfilade.standards.yardsticks import Yardstick
from enfilade.walkthrough.compose import compose

__all__ = ["FORMS", "tell"]

FORMS: Final = ("html",)
"""The forms that the walkthrough is told in."""


def tell(
    project: Project,
    to: Iterable[str] = ("html",),
    audience: Audience = "client",
    out: str | Path = "told",
    *,
    yardstick: str | Yardstick | None = None,
    progress: Callable[[str], None] = lambda words: None,
) -> list[Path]:
    """Write the walkthrough for one audience.

    Args:
        project: The declared house.
        to: Forms, of `FORMS`.
        audience: Who it is for; what they may not be told is left out before a document is made.
        out: The folder to write into; made when it does not exist.
        yardstick: As for `check`.
        progress: Called with a few words before each step.
    Returns:
        The files written.
    Raises:
        Refused: An unknown form or audience, or a folder that cannot be written.
    """
    unknown = [form for form in to if form not in FORMS]
    if unknown:
        raise Refused(f"form {unknown[0]!r} is unknown", expected=", ".join(FORMS))
    if audience not in AUDIENCES:
        raise Refused(f"audience {audience!r} is unknown", expected=", ".join(AUDIENCES))
    if Path(out).exists() and not Path(out).is_dir():
        raise Refused(f"{out}: folder: a file stands there", expected="a folder to write into")
    rules = yardstick if isinstance(yardstick, Yardstick) else project_yardstick(project, yardstick)
    progress("checking")
    findings = check(project, yardstick=rules)
    pages = compose(project, findings, rules, audience=audience, progress=progress)
    progress("setting the page")
    path = Path(out) / "walkthrough.html"
    write_text(path, walkthrough_html(pages))
    return [path]
