"""One rule put into the text of a studio's file; everything else in it stays as it is."""

from __future__ import annotations

import math
import re
import tomllib
from collections.abc import Iterator
from typing import Any, Final

from enfilade.errors import BadRecord, Fault, Refused
from enfilade.project.readable import readable

__all__ = ["Value", "with_rule", "written"]

Value = float | str | tuple[float | str, float | str]
_HEAD: Final = re.compile(r"^[ \t]*\[[ \t]*(?:rules|\"rules\"|'rules')[ \t]*\][ \t]*(?:#.*)?$")
_ESCAPED: Final = {'"': '\\"', "\\": "\\\\"}


def with_rule(text: str, row: str, value: Value, file: str = "studio.toml") -> str:
    """Return a studio's file with one rule more, or with another value for one that it has.

    Every way of putting it there is read back; the first by which nothing else changed is taken.

    Args:
        text: The file as it is, its line ends and comments too.
        row: `K6/one cook`.
        value: A number in the printed unit, a typed length, or two of these.
        file: What to call it in errors.
    Raises:
        BadRecord: The file is no TOML.
        Refused: The value is none, or the file is written in a way that cannot be added to.
    """
    before = _read(text, file)
    rules = before.get("rules", {})
    if not isinstance(rules, dict):
        raise BadRecord(file, [Fault("rules", "is no table", "[rules]")])
    wanted = {**before, "rules": {**rules, row: list(value) if isinstance(value, tuple) else value}}
    line = f"{_quoted(row)} = {written(value)}"
    for changed in _ways(text, row, line, replaces=row in rules):
        try:
            if tomllib.loads(changed.removeprefix("\ufeff")) == wanted:
                return changed
        except (tomllib.TOMLDecodeError, RecursionError):
            continue
    raise Refused(f"{file}: its rules are written in a way that cannot be added to here", do=f"write {line} by hand")


def written(value: Value) -> str:
    """Return a value as the file writes it.

    >>> written(45), written("1200 mm"), written((15, 48.5))
    ('45', '"1200 mm"', '[15, 48.5]')
    """
    if isinstance(value, tuple | list):
        if len(value) != 2:
            raise Refused(f"{len(value)} values", expected="one, or a low and a high one")
        return f"[{', '.join(written(one) for one in value)}]"
    if isinstance(value, str):
        return _quoted(value)
    if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
        raise Refused(f"{value!r} is no value for a rule", expected="a number or a length")
    return repr(value)


def _read(text: str, file: str) -> dict[str, Any]:
    try:
        return tomllib.loads(text.removeprefix("\ufeff"))
    except (tomllib.TOMLDecodeError, RecursionError) as error:
        raise BadRecord(file, [Fault("text", readable(str(error)), "TOML")]) from error


def _ways(text: str, row: str, line: str, *, replaces: bool) -> Iterator[str]:
    """Yield the file with a rule in each place where it could stand."""
    end = "\r\n" if "\r\n" in text else "\n"
    lines = text.splitlines(keepends=True) if not _odd_ends(text) else text.split("\n")
    if _odd_ends(text):
        lines = [f"{one}\n" for one in lines[:-1]] + ([lines[-1]] if lines[-1] else [])
    if replaces:
        keys = (_quoted(row), f"'{row}'", row)
        for n, one in enumerate(lines):
            key, sign, _ = one.partition("=")
            if sign and key.strip() in keys:
                indent = one[: len(one) - len(one.lstrip(" \t"))]
                rest = one.rstrip("\r\n")
                comment = _comment(rest)
                yield "".join([*lines[:n], f"{indent}{line}{comment}{one[len(rest) :]}", *lines[n + 1 :]])
        return
    for n, one in enumerate(lines):
        if _HEAD.match(one.rstrip("\r\n").removeprefix("\ufeff")):
            head = one if one.endswith("\n") else one + end
            yield "".join([*lines[:n], head, line, end, *lines[n + 1 :]])
    whole = text if not text or text.endswith("\n") else text + end
    blank = end if whole.removeprefix("\ufeff").strip() else ""
    yield f"{whole}{blank}[rules]{end}{line}{end}"


def _odd_ends(text: str) -> bool:
    # TOML knows two line ends; Python's own splitting knows more, which may stand inside a text.
    return any(sign in text for sign in "\x0b\x0c\x1c\x1d\x1e\x85\u2028\u2029") or "\r" in text.replace("\r\n", "")


def _comment(line: str) -> str:
    """Return the comment behind a value with the blanks before it; empty where a sign of one stands in a text."""
    found = re.search(r"[ \t]*#[^\"']*$", line)
    return found.group() if found else ""


def _quoted(text: str) -> str:
    """Return a text as TOML writes it: https://toml.io/en/v1.0.0#string."""
    signs = (_ESCAPED.get(sign) or (sign if sign.isprintable() else f"\\U{ord(sign):08x}") for sign in text)
    return f'"{"".join(signs)}"'
