"""Project folders for tests: one good project that uses every kind of record, and ways to look at a folder."""

from __future__ import annotations

import hashlib
import io
import json
import os
import stat
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from building import door, free, house, on_wall, room, set_in, thing, window
from enfilade.files import fingerprint
from enfilade.project.project import Project
from enfilade.project.writing import project_text

__all__ = ["as_nobody", "folder_state", "good_plain", "good_project", "picture", "put", "snapshot_name"]


def picture(width: int = 6, height: int = 4, form: str = "PNG", colour: str = "teal") -> bytes:
    """Return a small photograph."""
    stream = io.BytesIO()
    Image.new("RGB", (width, height), colour).save(stream, format=form)
    return stream.getvalue()


def snapshot_name() -> str:
    """Return the file name of the photograph in the good project."""
    return f"{fingerprint(picture())}.png"


def good_plain() -> dict[str, Any]:
    """Return a project of every kind of record as plain data, written in inches in `building`."""
    project = house(
        [
            thing("base cabinet", "base", 24, 24, on_wall("kitchen-north", 0),
                  opens=[{"kind": "drawer"}], finish="oak"),
            thing("counter", "top", 96, 25, on_wall("kitchen-north", 0), knee_space="none"),
            thing("sink", "bowl", 30, 20, set_in("top", 40), product="tap", bowls=2),
            thing("table", "table", 40, 40, free(72, 60), seating=[{"id": "row", "count": 2}]),
            thing("light", "lamp", 10, 10, free(72, 72)),
            thing("switch", "switch", 4, 1, on_wall("kitchen-east", 10), controls=["lamp"]),
            thing("window treatment", "blind", 36, 3, on_wall("kitchen-west", 50), opening="look-out"),
        ],
        spaces=[room(144, 144), room(144, 60, id="hall", use="hall", at=(0, -64))],
        openings=[
            door("way", "kitchen-south", 50, beyond="hall-north", swing={"hinge": "left", "into": "this side"}),
            window("look-out", "kitchen-west", 50, glazing={"area_m2": 0.9}),
        ],
        client={"names": ["Ida Quill"], "address": "9 Mudflat Row, Elverport"},
        household={"people": [{"id": "ida", "name": "Ida Quill", "cooks": True}], "gatherings": [{"people": 14}]},
        brief={"text": "Feed the club.", "needs": [{"id": "big-sink", "number": 1, "text": "Wash a kettle."}]},
        products=[{"id": "tap", "name": "Tap", "maker": "maker A", "purchase": {"quote": "120.50"}}],
        finishes=[{"id": "oak", "name": "Oiled oak", "colour": "#b08850"}],
        decisions=[
            {
                "id": "sink-size", "number": 1, "title": "Size of the sink",
                "spaces": ["kitchen"], "needs": ["big-sink"],
                "options": [{"id": "wide", "text": "30 in"}, {"id": "small", "text": "24 in"}], "choice": "wide",
                "status": "planned", "things": ["bowl"], "on": "2025-03-31",
            }
        ],
        answers=[{"id": "a1", "finding": "K6:aisle:top", "kind": "accepted", "reason": "One cook.", "by": "Ida",
                  "measured": 40.0, "unit": "in"}],
        photographs=[{"id": "before", "file": snapshot_name(), "space": "kitchen", "things": ["bowl"]}],
        script=[{"id": "stop", "space": "kitchen", "lines": ["Here is the sink."]}],
    )  # fmt: skip
    plain: dict[str, Any] = json.loads(project_text(project))
    return plain


def good_project() -> Project:
    """Return the same as a project."""
    return Project.model_validate(good_plain()).verified()


def put(folder: Path, plain: Any) -> None:
    """Write a project folder by hand: the JSON (a `dict`, text or bytes) and the photograph."""
    (folder / "photos").mkdir(parents=True, exist_ok=True)
    (folder / "photos" / snapshot_name()).write_bytes(picture())
    data = plain if isinstance(plain, bytes) else (plain if isinstance(plain, str) else json.dumps(plain)).encode()
    (folder / "project.json").write_bytes(data)


def folder_state(folder: Path) -> dict[str, tuple[int, str]]:
    """Return name, mode and content of everything below a folder, without following a link or opening a pipe."""
    state = {}
    for path in sorted([folder, *folder.rglob("*")]):
        about = path.lstat()
        if stat.S_ISLNK(about.st_mode):
            content = os.readlink(path)
        elif stat.S_ISREG(about.st_mode):
            small = about.st_size < 5_000_000 and os.access(path, os.R_OK)
            content = hashlib.sha256(path.read_bytes()).hexdigest() if small else str(about.st_size)
        else:
            content = ""
        state[str(path.relative_to(folder))] = (about.st_mode, content)
    return state


def as_nobody(work: Callable[[], str]) -> str:
    """Return what `work` says in a child process of an unprivileged user; skip where that cannot be."""
    if os.name == "nt" or os.geteuid() != 0:
        pytest.skip("privileges can be dropped by root alone")
    reader, writer = os.pipe()
    child = os.fork()
    if child == 0:
        answer = "the child failed"
        try:
            os.setgroups([])
            os.setgid(65534)
            os.setuid(65534)
            answer = work()
        except BaseException as error:
            answer = f"{type(error).__name__}: {error}"
        finally:
            os.write(writer, answer.encode()[:60_000])
            os._exit(0)
    os.close(writer)
    with os.fdopen(reader, "rb") as stream:
        answer = stream.read().decode()
    os.waitpid(child, 0)
    return answer
