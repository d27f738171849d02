"""A lesson made into a house rule, in the studio's own file."""

from __future__ import annotations

import re
from pathlib import Path
from typing import TYPE_CHECKING, Final

from enfilade.archive.lessons.answering import answer, answerable, rule_told
from enfilade.archive.lessons.reminder import Proposal
from enfilade.archive.lessons.rule_text import Value, with_rule, written
from enfilade.errors import BadRecord, NotFound, Refused
from enfilade.files import locked, read_bytes, write_bytes
from enfilade.project.readable import readable
from enfilade.project.store import HOUSE_RULES, load
from enfilade.standards.house_rules import LIMIT_BYTES, with_house_rules
from enfilade.standards.yardsticks import Yardstick, yardstick

if TYPE_CHECKING:
    from enfilade.archive.store import Store

__all__ = ["Proposal", "make_rule", "rule_left"]

_NUMBER: Final = re.compile(r"[0-9]{1,9}(?:\.[0-9]{1,6})?")


def make_rule(store: Store, folder: str | Path, reminder_id: str, row: str, value: Value, who: str = "") -> Yardstick:
    """Turn a lesson into a house rule of the studio, in the `studio.toml` of a project's folder.

    The rest of the file stays as it is, byte for byte.

    Args:
        store: The archive, in which the reminder is answered by it.
        folder: Of the project that was reminded.
        reminder_id: The reminder.
        row: The row, as a house rule names it: `K6/one cook`.
        value: The stricter value: a number in the printed unit, a typed length, or a low and a high one.
        who: Who makes it.
    Returns:
        The project's rules as they are from now on.
    Raises:
        NotFound: There is no such project, or no such reminder.
        BadRecord: The row is unknown or never judged, or the value is not stricter; nothing was written.
        Refused: The file cannot be read, or is written in a way that cannot be added to; nothing was written.
        Conflict: Another window saves the project.
    """
    project, value = load(folder), _as_typed(value)
    assert project._loaded is not None
    home = Path(project._loaded[0])
    answerable(store, project.id, reminder_id)
    base = yardstick(project.yardstick)
    with locked(home):
        data = _read(home)
        text = _decoded(data, home)
        changed = with_rule(text, row, value, str(home / HOUSE_RULES))
        try:
            rules = with_house_rules(base, changed.removeprefix("\ufeff"))
        except BadRecord as error:
            raise BadRecord(str(home / HOUSE_RULES), error.faults) from error
        new = changed.encode("utf-8")
        if len(new) > LIMIT_BYTES:
            raise Refused(f"{home / HOUSE_RULES} would be over 1 MB", expected=f"at most {LIMIT_BYTES} bytes")
        write_bytes(home / HOUSE_RULES, new)
    answer(store, project.id, reminder_id, "house rule", f"{row} = {written(value)}", who)
    return rules


def rule_left(store: Store, folder: str | Path, project_id: str, reminder_id: str) -> str:
    """Return a sentence on the house rule that a lesson was made into, for when it is answered otherwise.

    Empty where it was made into none, or the rule stands in the studio's file no more.

    Args:
        store: The archive, before the other answer is kept.
        folder: Of the project that was reminded.
        project_id, reminder_id: The project, and the reminder.
    """
    rule = rule_told(store, project_id, reminder_id)
    home = Path(folder)
    row = rule.rpartition(" = ")[0]
    if not row or row not in _read(home).decode("utf-8", "replace"):
        return ""
    return (
        f"The house rule {readable(rule)} stays in {home / HOUSE_RULES}, and findings are made by it; to take it back, "
        "delete its line there."
    )


def _as_typed(value: Value) -> Value:
    """Return a value as it was meant: a number that came as a text is a number in the printed unit."""
    if isinstance(value, str) and _NUMBER.fullmatch(value.strip()):
        return float(value) if "." in value else int(value)
    return value


def _read(home: Path) -> bytes:
    try:
        return read_bytes(home / HOUSE_RULES, largest=LIMIT_BYTES)
    except NotFound:
        return b""


def _decoded(data: bytes, home: Path) -> str:
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError as error:
        raise Refused(f"{home / HOUSE_RULES} is not UTF-8 text", expected="UTF-8") from error
