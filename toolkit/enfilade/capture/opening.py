"""What a notebook shows: the page of its act for the house that is open, or the questions of a new one."""

from __future__ import annotations

import gc
import os
from collections.abc import Callable, Iterable
from html import escape
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final
from urllib.parse import parse_qs

from enfilade.capture.houses import given_folder, remember
from enfilade.errors import EnfiladeError, Refused
from enfilade.project.store import FILE

if TYPE_CHECKING:
    from enfilade.capture.page import Page

__all__ = ["SECTIONS", "Trouble", "open_page"]

SECTIONS: Final[dict[str, tuple[str, ...]]] = {
    "measure": (
        "head", "rooms", "survey", "scan", "plan", "adding", "selected", "laying", "decisions", "findings", "lines",
        "photographs",
    ),
    "decide": ("head", "lessons", "brief", "decisions", "schedules", "budget"),
    "check": ("head", "rooms", "plan", "findings"),
    "tell": ("head", "speaking", "route", "script", "timing", "shots", "documents"),
    "keep": ("head", "archive", "found", "lessons", "comparison", "passing", "aftercare", "states", "forgetting"),
}  # fmt: skip
"""The parts of each act's page, in their order."""


class Trouble:
    """Why the page cannot be shown, in words."""

    def __init__(self, error: EnfiladeError) -> None:
        self.words = str(error)

    def __repr__(self) -> str:
        return self.words

    def _repr_html_(self) -> str:
        lines = "<br>".join(escape(line) for line in self.words.splitlines())
        return f'<div class="enfilade"><h1>The house cannot be opened</h1><p class="trouble">{lines}</p></div>'


def open_page(
    act: str = "measure", write: Callable[..., list[Path]] | None = None, forms: Iterable[Any] = ()
) -> Page | Trouble:
    """Return the page of an act, to be shown by a notebook.

    The house is the one that `enfilade open` was started with or that was chosen on its first page; otherwise the one
    that ENFILADE_PROJECT names, or that lies beside the folder of the notebooks.

    Args:
        act: `measure`, `decide`, `check`, `tell` or `keep`.
        write: What writes the documents, as `enfilade.tell`; the pages themselves write none.
        forms: The forms that it writes, each with a `name` and `words`; none: the page for a browser alone.
    Raises:
        Refused: There is no such act.
    """
    from enfilade.capture.desk import Desk
    from enfilade.capture.page import Page
    from enfilade.capture.parts import documents

    if act not in SECTIONS:
        raise Refused(f"act {act!r} is unknown", expected=", ".join(SECTIONS))
    documents.written_by(write, forms)
    folder = given_folder()
    if folder is None or not (folder / FILE).exists():
        return Page(sections=SECTIONS[act], room=_room(), act=act)
    try:
        desk = Desk.at(folder)
    except EnfiladeError as error:
        return Trouble(error)
    remember(folder, desk.project.name)
    page = Page(desk, sections=SECTIONS[act], room=_room(), act=act)
    # What is loaded by now stays: the collector need not look through it again while a hand drags.
    gc.collect()
    gc.freeze()
    return page


def _room() -> str | None:
    """Return the room that the page's address asks for."""
    asked: list[Any] = parse_qs(os.environ.get("QUERY_STRING", "")).get("room", [])
    return str(asked[0]) if asked else None
