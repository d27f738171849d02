"""What a former telling left in a folder and this one does not write again: the captions of a part that is no more."""

from __future__ import annotations

import contextlib
import json
import re
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any, Final

from enfilade.errors import EnfiladeError
from enfilade.files import fingerprint, read_bytes, write_text

__all__ = ["RECORD", "clear_former"]

RECORD: Final = ".told.json"
"""Lies among the documents and names, by form, the files that were written there, each with its fingerprint."""

_LARGEST: Final = 1_000_000
_NAME: Final = re.compile(r"[a-z0-9][a-z0-9-]*\.[a-z0-9]+")


def clear_former(folder: Path, form: str, written: Mapping[str, bytes], progress: Callable[[str], None]) -> None:
    """Take away what this form wrote there the last time and did not write now, and record what it wrote.

    A file that was changed since, or that somebody else put there, stays; what stays of the former telling is said.

    Args:
        folder: The folder that was written into.
        form: Name of the form.
        written: Its files, by name.
        progress: Told what was taken away, and what stays.
    """
    known = _recorded(folder)
    for name, mark in known.get(form, {}).items():
        if name in written:
            continue
        match _mark(folder / name):
            case None:
                pass
            case found if found == mark:
                with contextlib.suppress(OSError):
                    (folder / name).unlink()
                    progress(f"{name} of the telling before is taken away")
            case _:
                progress(f"{name} is of a telling before; it was changed since, and stays")
    now = {**known, form: {name: fingerprint(data) for name, data in written.items()}}
    if now != known:
        write_text(folder / RECORD, json.dumps(now, indent=1) + "\n")


def _mark(path: Path) -> str | None:
    """Return the fingerprint of a plain file; None when there is none."""
    try:
        return fingerprint(read_bytes(path))
    except EnfiladeError:
        return None


def _recorded(folder: Path) -> dict[str, dict[str, str]]:
    """Return what was recorded, as far as it can be: names that lead elsewhere are none of ours."""
    try:
        plain: Any = json.loads(read_bytes(folder / RECORD, largest=_LARGEST))
    except (EnfiladeError, ValueError, RecursionError):
        return {}
    if not isinstance(plain, dict):
        return {}
    return {
        form: {name: str(mark) for name, mark in files.items() if _NAME.fullmatch(name)}
        for form, files in plain.items()
        if isinstance(files, dict)
    }
