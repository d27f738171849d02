"""What the tests of the pages share: a house on a page, and what is asked of it."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

import enfilade as ef
from enfilade.capture.desk import Desk
from enfilade.capture.opening import SECTIONS
from enfilade.capture.page import Page

__all__ = ["ask", "page_on", "project_of"]


def page_on(
    project: ef.Project, folder: Path, *, more: Sequence[str] = (), sections: Sequence[str] | None = None, **told: Any
) -> Page:
    """Return the page of the act `tell` on a saved house, with further parts, or with the parts that are named."""
    ef.save(project, folder / "house")
    shown = [*SECTIONS["tell"], *more] if sections is None else sections
    return Page(Desk.open(folder / "house"), sections=shown, act="tell", **told)


def ask(page: Page, do: str, **more: Any) -> dict[str, Any]:
    """Ask for a change, which is taken."""
    answer = page.do({"do": do, **more})
    assert answer["ok"], answer
    return answer


def project_of(page: Page) -> ef.Project:
    """Return the house as it stands on the page."""
    assert page.desk is not None
    return page.desk.project
