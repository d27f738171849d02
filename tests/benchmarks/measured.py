"""What is timed: each function makes ready and returns the call to be timed."""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from collections.abc import Callable
from itertools import count
from pathlib import Path
from typing import Any

import enfilade as ef
from benchmarks.big_houses import big_house
from enfilade.checks import run
from enfilade.checks.kept import Kept
from enfilade.project.audience import for_audience
from enfilade.project.demo import demo
from enfilade.project.project import Project
from enfilade.project.store import FILE

__all__ = ["DRAGS", "GROWING", "ONCE", "Ready", "forget"]

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


def forget() -> None:
    """Forget the findings, and all that was worked out on the way to them, as if nothing had been checked yet."""
    run._CACHE.clear()
    run._latest = None
    for name, module in list(sys.modules.items()):
        if name.startswith(("enfilade.checks.", "enfilade.geometry.")):
            for value in vars(module).values():
                if isinstance(value, Kept):
                    value.clear()
                elif hasattr(value, "cache_clear") and value is not run.all_checks:
                    value.cache_clear()


def check_forgotten(project: Project) -> Callable[[], Any]:
    """Check with nothing remembered from the last time."""

    def call() -> Any:
        forget()
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


def drag(kind: str) -> Callable[[Path], Callable[[], Any]]:
    """Move one thing of the demo kitchen a little, at its own free place or along its wall, and check the kitchen.

    It is what the kernel does for each step of a drag on the plan: change the record, check the room. Each
    step is to another place, so that no step is remembered from an earlier one.
    """

    def ready(folder: Path) -> Callable[[], Any]:
        state = [demo()]
        found = next(t for t in state[0].things if t.kind == kind and t.space == "kitchen" and t.place.how != "set in")
        field = "x_mm" if found.place.how == "free" else "offset_mm"
        start = getattr(found.place, field)
        steps = count(1)
        ef.check(state[0])

        def call() -> Any:
            step = next(steps)
            by = step * 7 % 61 - 30 + step / 1024
            place = found.place.model_copy(update={field: start + by})
            moved = found.model_copy(update={"place": place})
            state[0] = state[0].with_records(things=[moved if t.id == found.id else t for t in state[0].things])
            return run.check(state[0], "kitchen")

        return call

    return ready


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

DRAGS: dict[str, Ready] = {kind: drag(kind) for kind in ("island", "refrigerator", "base cabinet")}
"""Timed step by step, so that the slow ones show: one thing moved, its room checked."""

GROWING: dict[str, Callable[[int], Ready]] = {
    "check, nothing remembered": lambda copies: lambda folder: check_forgotten(big_house(copies)),
    "check, nothing changed": lambda copies: lambda folder: check_remembered(big_house(copies)),
    "check, one thing moved": lambda copies: lambda folder: check_after_a_change(big_house(copies)),
    "load": lambda copies: lambda folder: load(big_house(copies), folder),
    "save": lambda copies: lambda folder: save(big_house(copies), folder),
}
"""Timed on one, ten and a hundred demo houses."""
