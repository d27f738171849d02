"""A studio's house rules: stricter values of its own, read from one file (`studio.toml`)."""

from __future__ import annotations

import hashlib
import json
import tomllib
from dataclasses import replace
from pathlib import Path
from typing import Any, Final

from enfilade.errors import BadRecord, EnfiladeError, Fault, Refused
from enfilade.lengths import parse_length
from enfilade.quantities import convert
from enfilade.sources import Source
from enfilade.standards.row import Row
from enfilade.standards.yardsticks import Yardstick

__all__ = ["LIMIT_BYTES", "with_house_rules"]

LIMIT_BYTES: Final = 1_000_000
_TOP: Final = {"rules", "options"}
_BESIDE: Final = {"studio", "look"}
"""What a studio says of itself in the same file; no rule, and no part of the hash."""
Value = float | tuple[float, float]


class _WrongError(Exception):
    """One entry that cannot be taken; gathered into the faults of the file."""

    def __init__(self, what: str, expected: str) -> None:
        self.what, self.expected = what, expected
        super().__init__(what)


def with_house_rules(base: Yardstick, path_or_text: Path | str) -> Yardstick:
    """Return the yardstick with the studio's own stricter values.

    `[rules]` holds `"K6/one cook" = 45` in the printed unit, a typed length (`"1200 mm"`), or
    `{ value = 45, why = "..." }`; a range is a list of two. `[options]` holds named choices.
    Levels stay; the source becomes the studio's, and the published value is told beside it.

    Args:
        base: The yardstick to tighten.
        path_or_text: The file as a `Path`, or its text.
    Raises:
        Refused: The file cannot be read or is over 1 MB.
        BadRecord: An unknown rule or option, a definition, a value that is not stricter.

    >>> from enfilade.standards.yardsticks import yardstick
    >>> with_house_rules(yardstick("us"), '[rules]\\n"K6/one cook" = 45').row("K6", "one cook").printed
    '45 in'
    """
    file, text = _text(path_or_text)
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise BadRecord(file, [Fault("text", str(error), "TOML")]) from error
    faults = [Fault(key, "is unknown", "rules, options, studio, look") for key in data if key not in _TOP | _BESIDE]
    faults += [Fault(key, "is no table", f"[{key}]") for key in _TOP if not isinstance(data.get(key, {}), dict)]
    if faults:
        raise BadRecord(file, faults)
    if data and not data.keys() & _TOP:
        return base  # Its look alone makes no rule stricter.
    stricter: dict[str, Row] = {}
    for name, given in data.get("rules", {}).items():
        try:
            stricter[name] = _stricter(_published(base, name), given)
        except _WrongError as wrong:
            faults.append(Fault(f"rules/{name}", wrong.what, wrong.expected))
    changed = base
    for name, choice in data.get("options", {}).items():
        try:
            changed = changed.with_options({name: choice})
        except EnfiladeError as error:
            faults.append(Fault(f"options/{name}", error.what, error.expected))
    if faults:
        raise BadRecord(file, faults)
    mark = _hash(stricter, data.get("options", {}))
    chosen = tuple(replace(stricter.get(row.name, row), house_rules=mark) for row in base.chosen)
    return replace(changed, chosen=chosen, house_rules=mark)


def _text(path_or_text: Path | str) -> tuple[str, str]:
    if isinstance(path_or_text, str):
        if len(path_or_text.encode()) > LIMIT_BYTES:
            raise Refused("the house rules are over 1 MB", expected=f"at most {LIMIT_BYTES} bytes")
        return "studio.toml", path_or_text
    try:
        with path_or_text.open("rb") as stream:
            raw = stream.read(LIMIT_BYTES + 1)
    except OSError as error:
        raise Refused(f"{path_or_text} cannot be read: {error.strerror}", expected="a file of house rules") from error
    if len(raw) > LIMIT_BYTES:
        raise Refused(f"{path_or_text} is over 1 MB", expected=f"at most {LIMIT_BYTES} bytes")
    try:
        return str(path_or_text), raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise Refused(f"{path_or_text} is not UTF-8 text", expected="UTF-8") from error


def _published(base: Yardstick, name: str) -> Row:
    rule, _, part = name.partition("/")
    try:
        row = base.row(rule, part)
    except EnfiladeError as error:
        raise _WrongError(error.what, error.expected) from error
    if row.definition:
        raise _WrongError("is a definition and is never judged", "a rule that is")
    if row.how == "equal":
        raise _WrongError("asks for one exact value", "a rule with room to be stricter")
    return row


def _stricter(row: Row, given: Any) -> Row:
    why = ""
    if isinstance(given, dict):
        if extra := set(given) - {"value", "why"} or {"value"} - set(given):
            raise _WrongError(f"has or lacks {', '.join(sorted(extra))}", "value, and why if you like")
        why = str(given.get("why", ""))[:500]
        given = given["value"]
    value: Value
    if row.how == "between":
        if not isinstance(given, list) or len(given) != 2:
            raise _WrongError(f"value is {given!r}", "a list of a low and a high value")
        value = (_number(row, given[0]), _number(row, given[1]))
        if value[0] > value[1]:
            raise _WrongError(f"{given[0]!r} is above {given[1]!r}", "the low value first")
        ok = value[0] >= row.low and value[1] <= row.high
    else:
        value = _number(row, given)
        ok = value > row.number if row.how == "at least" else value < row.number
    if not ok or value == row.value:
        lean = {"at least": "above", "at most": "below", "between": "within"}[row.how]
        raise _WrongError(f"{given!r} is not stricter than {row.source.label}", f"{lean} {row.printed}")
    source = Source(
        document="House rules",
        body="",
        edition="",
        section=row.name,
        known="own choice",
        label=f"House rule (stricter than {row.source.label})",
    )
    also = (f"{row.source.label} asks {row.how} {row.printed}.", *row.also)
    stricter = replace(row, value=value, source=source, also=(f"Why: {why}", *also) if why else also)
    return replace(stricter, words=f"The studio asks {row.how} {stricter.printed}. As published: {row.words}")


def _number(row: Row, given: Any) -> float:
    """Return a given value in the row's unit: a number as printed, or a typed length."""
    if isinstance(given, bool) or not isinstance(given, int | float | str):
        raise _WrongError(f"value is {given!r}", f"a number in {row.unit}")
    if row.unit not in ("in", "mm"):
        if isinstance(given, str):
            raise _WrongError(f"value is {given!r}", f"a number in {row.unit}")
        if not 0 <= given <= 1e9:
            raise _WrongError(f"value is {given!r}", f"a number in {row.unit}, 0 or more")
        return float(given)
    try:
        value = convert(parse_length(given, bare=row.unit), "mm", row.unit)
    except EnfiladeError as error:
        raise _WrongError(error.what, error.expected) from error
    if value < 0:
        raise _WrongError(f"value is {given!r}", "0 or more")
    return value


def _hash(stricter: dict[str, Row], options: dict[str, Any]) -> str:
    content = {"rules": {name: row.value for name, row in stricter.items()}, "options": options}
    canonical = json.dumps(content, sort_keys=True, separators=(",", ":"))
    return hashlib.sha256(canonical.encode()).hexdigest()[:12]
