"""Paths of a version's files: names that every machine can hold, inside the project's folder."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable
from typing import Final

__all__ = ["fault_in", "twins"]

LONGEST: Final = 400
_LONGEST_STEP_BYTES: Final = 240
_ODD: Final = re.compile(
    r'[\x00-\x1f\x7f-\x9f\\:*?"<>|\u200e\u200f\u202a-\u202e\u2066-\u2069\ud800-\udfff\ufeff\ufffe]'
)
"""Signs that some machine cannot hold in a name, or that show a name as another one."""
_DEVICE: Final = re.compile(
    r"(con|prn|aux|nul|conin\$|conout\$|(com|lpt)[0-9\u00b9\u00b2\u00b3])\s*(\..*)?", re.IGNORECASE
)
"""Names that are devices on some machines, with any ending (Microsoft, `Naming Files, Paths, and Namespaces`;
recalled)."""


def fault_in(path: str) -> str:
    """Say what is wrong with a path that should be relative, plain, and the same on every machine; empty: nothing.

    >>> fault_in("photos/a.jpg"), fault_in("../a.jpg"), fault_in("light/con.csv")
    ('', "it climbs out with '..'", "'con.csv' is the name of a device on some machines")
    """
    if not path or len(path) > LONGEST:
        return f"it has {len(path)} signs, and 1 to {LONGEST} are expected"
    if path.startswith("/"):
        return "it is absolute"
    if re.match(r"[A-Za-z]:", path):
        return "it names a drive"
    if (odd := _ODD.search(path)) is not None:
        return f"the sign U+{ord(odd[0]):04X} stands in it"
    return next((fault for step in path.split("/") if (fault := _fault_in_step(step))), "")


def _fault_in_step(step: str) -> str:
    if not step:
        return "a step of it is empty"
    if step == "..":
        return "it climbs out with '..'"
    if step == ".":
        return "a step of it is '.'"
    if step[-1] in ". " or step[0] == " ":
        return f"{step!r} begins or ends with a space, or ends with a dot"
    if _DEVICE.fullmatch(step):
        return f"{step!r} is the name of a device on some machines"
    if len(step.encode("utf-8")) > _LONGEST_STEP_BYTES:
        return f"a step of it has over {_LONGEST_STEP_BYTES} bytes"
    return ""


def twins(paths: Iterable[str]) -> tuple[str, str] | None:
    """Return two paths that are one file on some machine: equal but for case or the form of accents, or one of them
    a folder of the other; None when there are none."""
    seen: dict[str, str] = {}
    for path in paths:
        if (same := _same(path)) in seen:
            return seen[same], path
        seen[same] = path
    for path in seen.values():
        steps = _same(path).split("/")
        for count in range(1, len(steps)):
            if (other := seen.get("/".join(steps[:count]), "")) != "":
                return other, path
    return None


def _same(path: str) -> str:
    return unicodedata.normalize("NFKC", unicodedata.normalize("NFKC", path).casefold())
