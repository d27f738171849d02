"""Steps from each earlier file format to the next, dict to dict, before anything is validated."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Final

from enfilade.errors import BadRecord, Fault, NewerFormat
from enfilade.project.project import FORMAT

__all__ = ["STEPS", "migrated"]

STEPS: Final[dict[int, Callable[[dict[str, Any]], dict[str, Any]]]] = {}
"""`STEPS[n]` turns a file of format `n` into one of format `n + 1`. Format 1 is the first, so there is none yet."""


def migrated(plain: dict[str, Any], file: str) -> dict[str, Any]:
    """Return the data in the present format.

    Raises:
        BadRecord: The format is missing, or not a whole number.
        NewerFormat: It is newer than this version reads.
    """
    if "format" not in plain:
        raise BadRecord(file, [Fault("format", "is missing", f'`"format": {FORMAT}` at the top of the file')])
    number = plain["format"]
    if not isinstance(number, int) or isinstance(number, bool) or number < 1:
        raise BadRecord(file, [Fault("format", f"{number!r} is not a format number", f'`"format": {FORMAT}`')])
    if number > FORMAT:
        raise NewerFormat(
            file, [Fault("format", f"{number} is newer than this version reads", f"at most {FORMAT}; update enfilade")]
        )
    for step in range(number, FORMAT):
        plain = STEPS[step](plain)
    return plain
