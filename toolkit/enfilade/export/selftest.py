"""What works on this machine."""

from __future__ import annotations

import importlib.metadata
import sys
from collections.abc import Callable
from dataclasses import dataclass

from enfilade.errors import EnfiladeError
from enfilade.export.selftest_archive import archive_tried
from enfilade.resources import FOLDERS, shipped

__all__ = ["Line", "selftest_lines"]

_LIBRARIES = (
    "pydantic", "shapely", "nbconvert", "plotly", "pandas", "jupyterlab", "ipywidgets", "anywidget", "voila", "Pillow",
    "openpyxl", "python-docx", "python-pptx", "resvg-py", "typst", "sqlalchemy", "rapidfuzz",
)  # fmt: skip


@dataclass(frozen=True)
class Line:
    """One thing that was tried."""

    what: str
    works: bool
    needed: bool
    words: str

    def __str__(self) -> str:
        state = "works" if self.works else ("missing, needed" if self.needed else "not here, not needed")
        return f"{self.what:<14} {state:<22} {self.words}".rstrip()


def selftest_lines() -> tuple[Line, ...]:
    """Try everything that the commands rely on."""
    libraries = (_library(name) for name in _LIBRARIES)
    return (
        Line("python", sys.version_info >= (3, 11), True, sys.version.split()[0]),
        *libraries,
        *(_tried(f"folder {name}", lambda name=name: str(shipped(name).name)) for name in FOLDERS),  # type: ignore[misc]
        _tried("fonts", lambda: f"{len(list(shipped('assets', 'fonts').glob('*.woff2')))} files"),
        _tried("checks", _checks_run),
        _tried("page", _page_is_made),
        _browser(),
        *(Line(*tried) for tried in archive_tried()),
    )


def _library(name: str) -> Line:
    try:
        return Line(name, True, True, importlib.metadata.version(name))
    except importlib.metadata.PackageNotFoundError:
        return Line(name, False, True, "install the package again")


def _tried(what: str, attempt: Callable[[], str]) -> Line:
    try:
        return Line(what, True, True, attempt())
    except (EnfiladeError, OSError, ImportError) as error:
        return Line(what, False, True, str(error))


def _checks_run() -> str:
    from enfilade.checks.run import check
    from enfilade.project.demo import demo

    return f"{len(check(demo()))} findings on the demo house"


def _page_is_made() -> str:
    from enfilade.export.html import walkthrough_html
    from enfilade.export.tell import told
    from enfilade.project.demo import demo

    page = walkthrough_html(told(demo()))
    return f"{len(page.encode()) / 1e6:.1f} MB"


def _browser() -> Line:
    import webbrowser

    try:
        webbrowser.get()
    except webbrowser.Error:
        return Line("browser", False, False, "any browser, here or on another machine, reads the page")
    return Line("browser", True, False, "to read the page")
