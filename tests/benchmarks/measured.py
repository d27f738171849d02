"""What is timed: each function makes ready and returns the call to be timed."""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

import enfilade as ef
from benchmarks.big_houses import big_house
from enfilade.checks import run
from enfilade.project.audience import for_audience
from enfilade.project.demo import demo
from enfilade.project.project import Project
from enfilade.project.store import FILE

__all__ = ["GROWING", "ONCE", "Ready"]

Ready = Callable[[Path], Callable[[], Any]]


def python(code: str) -> Callable[[], Any]:
    environment = {**os.environ, "PYTHONPATH": str(Path(ef.__file__).parents[1])}
    return lambda: subprocess.run([sys.executable, "-c", code], check=True, env=environment)


def start_of_python(folder: Path) -> Callable[[], Any]:
    return python("pass")


def import_of_the_package(folder: Path) -> Callable[[], Any]:
    return python("import enfilade")


def import_of_load(folder: Path) -> Callable[[], Any]:
    return python("import enfilade; enfilade.load")


def import_of_check(folder: Path) -> Callable[[], Any]:
    return python("import enfilade.checks.run as run; run.all_checks()")


def check_forgotten(project: Project) -> Callable[[], Any]:
    """Check with nothing remembered from the last time."""

    def call() -> Any:
        run._CACHE.clear()
        return ef.check(project)

    return call


def check_remembered(project: Project) -> Callable[[], Any]:
    """Check again, when nothing has changed."""
    ef.check(project)
    return lambda: ef.check(project)


def check_after_a_change(project: Project) -> Callable[[], Any]:
    """Check again, after one table was moved: what the plan does while something is dragged."""
    at = next(i for i, thing in enumerate(project.things) if thing.place.how == "free")
    ef.check(project)
    turn = [0]

    def call() -> Any:
        turn[0] += 1
        moved = project.things[at].place.model_copy(update={"turn_deg": float(turn[0] % 300)})
        things = list(project.things)
        things[at] = things[at].model_copy(update={"place": moved})
        return ef.check(project.model_copy(update={"things": tuple(things)}))

    return call


def load(project: Project, folder: Path) -> Callable[[], Any]:
    home = folder / f"load-{len(project.spaces)}"
    ef.save(project.model_copy(), home)
    return lambda: ef.load(home)


def save(project: Project, folder: Path) -> Callable[[], Any]:
    """Save a change, the state before it being kept."""
    home = folder / f"save-{len(project.spaces)}"
    state = [project.model_copy()]
    ef.save(state[0], home)

    def call() -> Any:
        state[0] = state[0].model_copy(update={"name": state[0].name[:20] + str(len(state[0].name) % 7)})
        ef.save(state[0], home)
        return (home / FILE).stat().st_size

    return call


def tell_to_a_page(folder: Path) -> Callable[[], Any]:
    project = demo()

    def call() -> Any:
        with tempfile.TemporaryDirectory(dir=folder) as out:
            return ef.tell(project, to=["html"], audience="client", out=out)[0].name

    return call


def leave_out_for_the_public(folder: Path) -> Callable[[], Any]:
    project = demo()
    return lambda: for_audience(project.model_copy(), "public")


ONCE: dict[str, Ready] = {
    "start of python": start_of_python,
    "import enfilade": import_of_the_package,
    "import for load": import_of_load,
    "import for check": import_of_check,
    "tell to a page": tell_to_a_page,
    "leave out for the public": leave_out_for_the_public,
}
"""Timed on the demo house alone."""

GROWING: dict[str, Callable[[int], Ready]] = {
    "check, nothing remembered": lambda copies: lambda folder: check_forgotten(big_house(copies)),
    "check, nothing changed": lambda copies: lambda folder: check_remembered(big_house(copies)),
    "check, one thing moved": lambda copies: lambda folder: check_after_a_change(big_house(copies)),
    "load": lambda copies: lambda folder: load(big_house(copies), folder),
    "save": lambda copies: lambda folder: save(big_house(copies), folder),
}
"""Timed on one, ten and a hundred demo houses."""
