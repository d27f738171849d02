"""Real pages in a real browser: `enfilade open` in a process of its own, and what a test asks of it."""

from __future__ import annotations

import contextlib
import os
import queue
import signal
import subprocess
import sys
import threading
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any
from urllib.parse import parse_qs, urlencode, urlsplit

import enfilade

__all__ = ["OpenPages", "another_home", "open_pages", "outside_requests", "run_all", "when_shown"]

SECONDS_TO_START = 60
SECONDS_TO_END = 20
SHOWN_MS = 30_000
_OF_THE_USER = ("JUPYTER", "ENFILADE_P", "ENFILADE_ARCHIVE", "ENFILADE_DATA")
"""Variables that would lead to what the user who runs the tests keeps."""


@dataclass
class OpenPages:
    """One running `enfilade open`."""

    process: subprocess.Popen[str]
    address: str
    lab: bool
    said: list[str] = field(default_factory=list)
    """What it wrote to its error output so far."""

    @property
    def root(self) -> str:
        """Return the address without its page: `http://127.0.0.1:PORT`."""
        parts = urlsplit(self.address)
        return f"{parts.scheme}://{parts.netloc}"

    @property
    def token(self) -> str:
        """Return the token that the address bears."""
        return parse_qs(urlsplit(self.address).query)["token"][0]

    def url(self, act: str = "measure", room: str | None = None) -> str:
        """Return the address of an act's page, with its token."""
        asked = {"token": self.token} | ({"room": room} if room and not self.lab else {})
        return f"{self.root}/{f'lab/tree/{act}.ipynb' if self.lab else act}?{urlencode(asked)}"

    def kernels(self) -> list[int]:
        """Return the process ids of the kernels that run now."""
        import psutil

        with contextlib.suppress(psutil.NoSuchProcess):
            children = psutil.Process(self.process.pid).children(recursive=True)
            return [child.pid for child in children if "ipykernel_launcher" in " ".join(child.cmdline())]
        return []

    def stop(self) -> int:
        """End it as Ctrl+C does, and return its exit code."""
        if self.process.poll() is None:
            self.process.send_signal(signal.SIGINT)
        return self.process.wait(SECONDS_TO_END)


def another_home(folder: Path) -> dict[str, str]:
    """Return an environment in which nothing of the user who runs the tests is seen or touched."""
    package = str(Path(enfilade.__file__).resolve().parents[1])
    found = os.environ.get("PYTHONPATH")
    return {
        **{name: value for name, value in os.environ.items() if not name.startswith(_OF_THE_USER)},
        "HOME": str(folder),
        "XDG_DATA_HOME": str(folder / "data"),
        "XDG_CONFIG_HOME": str(folder / "config"),
        "IPYTHONDIR": str(folder / "ipython"),
        "PYTHONPATH": os.pathsep.join([package, *([found] if found else [])]),
    }


@contextlib.contextmanager
def open_pages(
    project_folder: Path | None,
    *,
    home: Path,
    lab: bool = False,
    browser: bool = False,
    environment: dict[str, str] | None = None,
) -> Iterator[OpenPages]:
    """Run `enfilade open` on a folder, yield it once it has written its address, and end it.

    Args:
        project_folder: A project's folder, a new one, or None for none.
        home: An empty folder that stands for the user's home.
        lab: Whether JupyterLab is opened in place of the pages.
        browser: Whether it may open a browser of its own.
        environment: Variables beside those of `another_home`.
    """
    arguments = [str(project_folder)] if project_folder else []
    arguments += [*([] if browser else ["--no-browser"]), *(["--lab"] if lab else [])]
    home.mkdir(parents=True, exist_ok=True)
    process = subprocess.Popen(
        [sys.executable, "-m", "enfilade", "open", *arguments],
        cwd=home, env={**another_home(home), **(environment or {})}, text=True, stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE, stderr=subprocess.PIPE,
    )  # fmt: skip
    said: list[str] = []
    told: queue.Queue[str] = queue.Queue()
    assert process.stdout is not None
    assert process.stderr is not None
    readers = [
        threading.Thread(target=lambda: [told.put(line) for line in process.stdout or ()], daemon=True),
        threading.Thread(target=lambda: said.extend(process.stderr or ()), daemon=True),
    ]
    for reader in readers:
        reader.start()
    try:
        try:
            address = told.get(timeout=SECONDS_TO_START).strip()
        except queue.Empty:
            raise AssertionError(f"enfilade open wrote no address; it said {said}") from None
        yield OpenPages(process, address, lab, said)
    finally:
        if process.poll() is None:
            process.send_signal(signal.SIGINT)
            try:
                process.wait(SECONDS_TO_END)
            except subprocess.TimeoutExpired:
                process.kill()
                process.wait()
        for reader in readers:
            reader.join(5)
        process.stdout.close()
        process.stderr.close()


def when_shown(page: Any, url: str, *, lab: bool = False) -> None:
    """Go to an address and wait until the page of the house stands there."""
    page.goto(url)
    if lab:
        run_all(page)
    page.locator(".enfilade :is(h1, h2)").first.wait_for(timeout=SHOWN_MS)


def run_all(page: Any) -> None:
    """Run every cell of the notebook that JupyterLab shows, as a person would from the menu."""
    page.locator(".jp-Notebook .jp-CodeCell").first.wait_for(timeout=SHOWN_MS)
    page.wait_for_function("document.body.innerText.includes('| Idle')", timeout=SHOWN_MS)
    page.get_by_role("menuitem", name="Run", exact=True).first.click()
    page.get_by_role("menuitem", name="Run All Cells", exact=True).first.click()


def outside_requests(page: Any) -> list[str]:
    """Return a list that fills with the addresses that the page asks of any other machine."""
    asked: list[str] = []

    def note(request: Any) -> None:
        here = urlsplit(request.url)
        if here.scheme not in ("data", "blob") and here.hostname != "127.0.0.1":
            asked.append(request.url)

    page.on("request", note)
    return asked
