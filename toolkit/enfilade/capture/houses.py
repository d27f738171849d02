"""Which house is open, and which were open before."""

from __future__ import annotations

import contextlib
import datetime as dt
import json
import os
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Final

from enfilade.errors import EnfiladeError
from enfilade.files import locked, read_bytes, write_text
from enfilade.project.store import FILE
from enfilade.resources import user_folder

__all__ = ["CHOSEN", "PROJECT", "Opened", "beside", "choose", "given_folder", "house_name", "opened_before", "remember"]

PROJECT: Final = "ENFILADE_PROJECT"
"""The variable that names the project's folder."""
CHOSEN: Final = "ENFILADE_CHOSEN"
"""The variable that names a file of `enfilade open`, in which the folder stands that was chosen on its first page."""

_REMEMBERED: Final = 12
_LARGEST_BYTES: Final = 1024 * 1024


@dataclass(frozen=True)
class Opened:
    """A house that was open before."""

    name: str
    folder: str
    on: str
    """Day, as in `2026-03-14`."""


def given_folder() -> Path | None:
    """Return the folder that is meant, whether a project is there yet or not; None when none is."""
    with contextlib.suppress(OSError, KeyError):
        chosen = Path(os.environ[CHOSEN]).read_text(encoding="utf-8").strip()
        if chosen:
            return Path(chosen)
    if os.environ.get(PROJECT):
        given = Path(os.environ[PROJECT]).expanduser()
        return given.parent if given.name == FILE else given
    here = Path.cwd()
    if here.name.endswith("-notebooks"):
        return here.with_name(here.name.removesuffix("-notebooks"))
    return here if (here / FILE).is_file() else None


def choose(folder: Path) -> None:
    """Make a folder the one that is meant from now on, here and on the other pages of the same `enfilade open`."""
    os.environ[PROJECT] = str(folder)
    if os.environ.get(CHOSEN):
        write_text(Path(os.environ[CHOSEN]), f"{folder}\n")


def house_name() -> str:
    """Return what the house that is meant is called, without reading more of it; empty when that is not known."""
    folder = given_folder()
    if folder is None:
        return ""
    try:
        plain = json.loads(read_bytes(folder / FILE))
        return str(plain["name"]) if isinstance(plain, dict) else ""
    except (EnfiladeError, ValueError, KeyError):
        return ""


def beside(folder: Path, what: str) -> Path:
    """Return the folder beside a project for what is made from it: `PROJECT-told`, `PROJECT-notebooks`."""
    home = folder.resolve()
    return home.with_name(f"{home.name}-{what}")


def opened_before() -> list[Opened]:
    """Return the houses that were open before and are still where they were, the last one first."""
    return [one for one in _remembered() if (Path(one.folder) / FILE).is_file()]


def remember(folder: Path, name: str) -> None:
    """Remember that a house was opened; a list that cannot be written is no reason to stop."""
    here = Opened(name, str(folder.resolve()), dt.date.today().isoformat())
    with contextlib.suppress(EnfiladeError), locked(user_folder(), wait_s=1):
        others = [one for one in _remembered() if one.folder != here.folder]
        kept = [asdict(one) for one in [here, *others][:_REMEMBERED]]
        write_text(user_folder() / "opened.json", json.dumps(kept, ensure_ascii=False, indent=1) + "\n")


def _remembered() -> list[Opened]:
    try:
        kept = json.loads(read_bytes(user_folder() / "opened.json", largest=_LARGEST_BYTES))
        return [Opened(str(one["name"]), str(one["folder"]), str(one["on"])) for one in kept][:_REMEMBERED]
    except (EnfiladeError, ValueError, TypeError, KeyError):
        return []
