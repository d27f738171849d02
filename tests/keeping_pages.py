"""What the tests of the act `keep` share: its page on a house of its own, with an archive of its own."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

import enfilade as ef
from enfilade.capture.desk import Desk
from enfilade.capture.opening import SECTIONS
from enfilade.capture.page import Page

__all__ = ["asked", "changed", "keep_page", "looked"]


def keep_page(project: ef.Project, folder: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Page]:
    """Yield the page of the act on a saved house; nothing of the user who runs the tests is seen or touched."""
    monkeypatch.setenv("ENFILADE_DATA", str(folder / "data"))
    monkeypatch.delenv("ENFILADE_ARCHIVE", raising=False)
    ef.save(project.model_copy(), folder / "house")
    desk = Desk.open(folder / "house")
    yield Page(desk, sections=SECTIONS["keep"], act="keep")
    desk.close()


def asked(page: Page, do: str, **more: Any) -> dict[str, Any]:
    """Ask for something, which is done."""
    answer = page.do({"do": do, **more})
    assert answer["ok"], answer
    return answer


def looked(page: Page) -> dict[str, Any]:
    """Have the page look at its archive, and return what its part shows."""
    asked(page, "look at archive")
    state: dict[str, Any] = page.archive
    return state


def changed(page: Page, id: str, **update: Any) -> None:
    """Change a thing of the house."""
    assert page.desk is not None
    project = page.desk.project
    things = [one.model_copy(update=update) if one.id == id else one for one in project.things]
    page.desk.change(f"changed {id}", project.with_records(things=things))
