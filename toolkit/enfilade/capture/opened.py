"""`enfilade open`: what has to stand ready before the pages of one house are served, and is cleared away after."""

from __future__ import annotations

import contextlib
import os
import sys
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Final

from enfilade.capture.houses import CHOSEN, PROJECT, beside
from enfilade.capture.notebooks import write_notebooks
from enfilade.errors import Refused
from enfilade.project.photos import FOLDER as PHOTOS
from enfilade.project.store import DRAFTS, FILE, HOUSE_RULES, load
from enfilade.project.studio_file import named_files
from enfilade.resources import DATA

__all__ = ["open_lab", "open_pages", "project_folder"]

Say = Callable[[str], None]
_SHORT: Final = 20
_ARCHIVE: Final = "ENFILADE_ARCHIVE"
_MAY_LIE_THERE: Final = (PHOTOS, HOUSE_RULES, DRAFTS, "light")


def project_folder(given: str | None) -> Path | None:
    """Return the folder of a project that can be opened or begun; None when none was given.

    Raises:
        BadRecord: What lies there cannot be read.
        Refused: It is a file, or holds other things than a project.
    """
    if given is None:
        return None
    path = Path(given).expanduser()
    folder = (path.parent if path.name == FILE and not path.is_dir() else path).absolute()
    if (folder / FILE).exists():
        load(given)
        return folder
    if folder.exists() and not folder.is_dir():
        raise Refused(f"{given}: folder: a file stands there", expected="a project's folder, or its project.json")
    with contextlib.suppress(FileNotFoundError, PermissionError):
        may_lie = {*_MAY_LIE_THERE, *(path.parts[0] for path in named_files(folder))}
        others = sorted(e.name for e in folder.iterdir() if not e.name.startswith(".") and e.name not in may_lie)
        if others:
            raise Refused(
                f"{given}: folder: holds {others[0]!r}, and no {FILE}",
                expected="a project's folder, an empty folder, or a new name",
            )
    return folder


def open_pages(folder: Path | None, *, browser: bool, say: Say, tell: Say) -> None:
    """Serve the pages of a house until the program is told to stop.

    Args:
        folder: The project's folder; where there is no project yet, the pages begin with the questions of a new one.
        browser: Whether a browser may be opened.
        say: Called with words on what goes on.
        tell: Called with the address.
    """
    say("starting the pages")
    from enfilade.capture.serving import serve

    with _runtime(folder) as runtime:
        notebooks = runtime / "notebooks"
        write_notebooks(notebooks)

        def ready(address: str, once: str) -> None:
            tell(address)
            opened = browser and _open_browser(once)
            say(f"{'open' if opened else 'open the address'} in a browser; Ctrl+C here ends it")

        serve(notebooks, runtime, ready)


def open_lab(folder: Path, *, browser: bool, say: Say, tell: Say) -> None:
    """Serve the notebooks in JupyterLab, as copies beside the project; see `open_pages`."""
    notebooks = beside(folder, "notebooks")
    written, there = write_notebooks(notebooks)
    if written:
        say(f"copied {', '.join(path.name for path in written)} to {notebooks}")
    if there:
        say(f"{', '.join(path.name for path in there)} in {notebooks} left as they are")
    say("starting JupyterLab")
    from enfilade.capture.lab import serve_lab

    def ready(address: str) -> None:
        tell(address)
        say("choose Run, Run All Cells in a notebook to see its page; Ctrl+C here ends it")

    with _runtime(folder) as runtime:
        serve_lab(notebooks, runtime, ready, browser=browser and _has_browser())


@contextlib.contextmanager
def _runtime(folder: Path | None) -> Iterator[Path]:
    """Yield a folder that only this user may enter, for one server and its kernels alone."""
    # A short path, where there is one: see `own_sockets`.
    base = "/tmp" if os.name == "posix" and len(tempfile.gettempdir()) > _SHORT and os.path.isdir("/tmp") else None
    with tempfile.TemporaryDirectory(prefix="enfilade-", dir=base, ignore_cleanup_errors=True) as name:
        runtime = Path(name)
        ours = {
            "JUPYTER_RUNTIME_DIR": str(runtime / "runtime"),
            CHOSEN: str(runtime / "chosen"),
            PROJECT: str(folder) if folder else "",
            "PYDEVD_DISABLE_FILE_VALIDATION": "1",
            **_from_the_root(),
        }
        before = {key: os.environ.get(key) for key in ours}
        os.environ.update(ours)
        try:
            yield runtime
        finally:
            for key, value in before.items():
                os.environ.pop(key, None)
                if value is not None:
                    os.environ[key] = value


def _from_the_root() -> dict[str, str]:
    """Return whole paths for what was set from here: the pages run elsewhere, in a folder that goes when they end."""
    found = {name: os.environ.get(name, "") for name in (_ARCHIVE, DATA)}
    plain = {name: value for name, value in found.items() if value.strip() and not set(value) & set(":=~")}
    return {name: os.path.abspath(value.strip()) for name, value in plain.items()}


def _has_browser() -> bool:
    """Say whether a browser with windows is there; one that takes over the terminal would be in the way."""
    import webbrowser

    if sys.platform.startswith("linux") and not any(map(os.environ.get, ("DISPLAY", "WAYLAND_DISPLAY", "BROWSER"))):
        return False
    try:
        webbrowser.get()
    except webbrowser.Error:
        return False
    return True


def _open_browser(address: str) -> bool:
    import threading
    import webbrowser

    if not _has_browser():
        return False
    threading.Thread(target=webbrowser.open, args=(address,), daemon=True).start()
    return True
