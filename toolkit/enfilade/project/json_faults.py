"""What stops the reader of JSON, told in words: which slip it most likely is, and where it began."""

from __future__ import annotations

import json
import re
from dataclasses import dataclass
from functools import cached_property
from typing import Final

from enfilade.errors import Fault
from enfilade.project.readable import readable

__all__ = ["OUTSIDE_TEXT", "json_fault"]

# Possessive, and a text that never ends runs to the end of the file: no input makes it go back over itself.
OUTSIDE_TEXT: Final = re.compile(r'"[^"\\]*+(?:\\.[^"\\]*+)*+(?:"|\\?\Z)|[\[\]{}]', re.DOTALL)
"""Finds texts, and the brackets that stand outside them; those inside a text are never found."""

_CLOSES: Final = {"{": "}", "[": "]"}
_OTHER_QUOTES: Final = "'`\u2018\u2019\u201a\u201c\u201d\u201e"
_WORDS: Final = {"True": "true", "False": "false", "None": "null"}
_QUOTED: Final = '`"` before and after each text and each name'
_SPACES: Final = " \t\r\n"


def json_fault(text: str, error: json.JSONDecodeError) -> Fault:
    """Return the fault for a text that is not JSON; its place is a line and a column, counted from 1."""
    met = _Met(text, error.pos, error.msg)
    found = _in_text(met) or _at_the_end(met) or _comma_too_many(met) or _odd_sign(met) or _missing(met)
    at, what, expected = found or (met.at, error.msg[:1].lower() + error.msg[1:], "JSON")
    return Fault(_place(text, at), what, expected)


_Found = tuple[int, str, str] | None
"""Where the slip stands in the text, what it is, and what was expected; None when it is another one."""


@dataclass(frozen=True)
class _Met:
    """The place where the reader stopped."""

    text: str
    at: int
    said: str

    @cached_property
    def sign(self) -> str:
        """The sign there, empty at the end of the file."""
        return self.text[self.at : self.at + 1]

    @cached_property
    def before(self) -> int:
        """Where the last sign before it stands that is no space, -1 when there is none."""
        return len(self.text[: self.at].rstrip(_SPACES)) - 1

    @cached_property
    def sign_before(self) -> str:
        return self.text[self.before] if self.before >= 0 else ""

    @cached_property
    def word(self) -> str:
        """The letters and digits that stand there."""
        found = re.compile(r"\w{0,40}").match(self.text, self.at)
        return found.group() if found else ""

    @cached_property
    def text_before(self) -> int:
        """Where the last text began that begins before it, -1 when there is none."""
        found = -1
        for match in OUTSIDE_TEXT.finditer(self.text):
            if match.start() >= self.at:
                break
            if match.group()[0] == '"':
                found = match.start()
        return found

    @cached_property
    def open(self) -> tuple[int, ...]:
        """Where the brackets stand that are still open there, the outermost first."""
        found: list[int] = []
        for match in OUTSIDE_TEXT.finditer(self.text):
            if match.start() >= self.at:
                break
            if match.group() in _CLOSES:
                found.append(match.start())
            elif match.group() in "]}" and found:
                found.pop()
        return tuple(found)


def _place(text: str, at: int) -> str:
    start = text.rfind("\n", 0, at) + 1
    return f"line {text.count(chr(10), 0, at) + 1} column {at - start + 1}"


def _in_text(met: _Met) -> _Found:
    """Tell what is wrong inside a text."""
    if met.said.startswith("Unterminated string"):
        return met.at, "the text that opens here is never closed", '`"` at its end'
    if met.said.startswith("Invalid control character"):
        if met.sign in "\r\n":
            what = f"the text that opens at {_place(met.text, met.text_before)} is not closed on its line"
            return met.at, what, '`"` at its end (a line end inside a text is written `\\n`)'
        return met.at, f"the sign U+{ord(met.sign):04X} stands in a text", "`\\t` for a tab, and no other such sign"
    if met.said.startswith("Invalid \\"):
        return met.at, "a backslash stands alone in a text", "`\\\\` for a backslash"
    return None


def _at_the_end(met: _Met) -> _Found:
    """Tell which bracket is open where the file ends, closed by another kind, or closed twice."""
    if met.said.startswith("Extra data"):
        if _begins_comment(met):
            return _comment(met)
        return met.at, "something stands after the last bracket", "nothing after it"
    if not met.open:
        return None
    bracket = met.text[met.open[-1]]
    opened = f"the `{bracket}` that opens at {_place(met.text, met.open[-1])}"
    if not met.sign or met.text[met.at :].isspace():
        return met.at, f"the file ends, and {opened} is never closed", f"`{_CLOSES[bracket]}`"
    if met.sign in "]}" and met.sign != _CLOSES[bracket]:
        return met.at, f"`{met.sign}` stands where {opened} is still open", f"`{_CLOSES[bracket]}`"
    return None


def _comma_too_many(met: _Met) -> _Found:
    """Tell of a comma before a closing bracket, of two in a row, and of one inside a number."""
    comma = met.at if met.said.startswith("Illegal trailing comma") else met.before  # so from Python 3.13 on
    if met.text[comma : comma + 1] != ",":
        return None
    after = met.text[comma + 1 :].lstrip(_SPACES)[:1] if comma == met.at else met.sign
    if after and after in "]}":
        return comma, f"a comma stands before `{after}`", "no comma after the last entry"
    if after == ",":
        return met.at, "two commas stand side by side", "one comma between two entries"
    if after.isdigit() and comma == met.at - 1 and met.text[comma - 1].isdigit():
        return comma, "a comma stands inside a number", "a point for the decimals, such as 0.66"
    return None


def _odd_sign(met: _Met) -> _Found:
    """Tell of other quotes, comments, and words and numbers that are not written as JSON has them."""
    if met.sign and met.sign in _OTHER_QUOTES:
        kind = "single quotes" if met.sign in "'\u2018\u2019\u201a`" else "typographic quotes"
        return met.at, f"{kind} stand here", _QUOTED
    if _begins_comment(met):
        return _comment(met)
    if not met.said.startswith(("Expecting value", "Expecting property name")):
        return None
    if met.word in _WORDS:
        return met.at, f"`{met.word}` stands here", f"`{_WORDS[met.word]}`"
    if met.word[:1].isalpha():
        return met.at, f"`{readable(met.word)}` stands without quotes", _QUOTED
    if met.sign in (".", "+"):
        return met.at, f"a number begins with `{met.sign}`", "a digit, such as 0.5"
    return None


def _missing(met: _Met) -> _Found:
    """Tell of a missing comma, colon or value, or of a text or number that goes on where it should have ended."""
    if met.said.startswith("Expecting ':'"):
        return met.at, "a colon is missing after the name", "`:` and a value"
    if met.said.startswith("Expecting value"):
        return met.at, "a value is missing", 'a text in `"`, a number, true, false, null, or a list or record'
    if not met.said.startswith("Expecting ','"):
        return None
    if met.before == met.at - 1 and met.sign_before == '"':
        what = f"`{readable(met.sign)}` follows the end of the text that opens at {_place(met.text, met.text_before)}"
        return met.at, what, '`,` or a closing bracket (`"` inside a text is written `\\"`)'
    # Between two entries of a list any value may follow, in a record the name of the next field alone.
    in_list = bool(met.open) and met.text[met.open[-1]] == "["
    begins = met.sign == '"' or (in_list and (met.sign in "{[-" or met.sign.isdigit() or met.word in _WORDS.values()))
    if met.sign_before.isdigit() and (met.before == met.at - 1 or not begins):
        what = f"a number goes on with `{readable(met.word or met.sign)}`"
        return met.at, what, 'a plain number, or a length as a text, such as "30 in"'
    if not begins:
        return None
    line = met.text.count("\n", 0, met.before) + 1
    ends = "\n" in met.text[met.before : met.at]
    where = f"at the end of line {line}" if ends else "before this"
    return met.at, f"a comma is probably missing {where}", "`,` between two entries"


def _begins_comment(met: _Met) -> bool:
    return met.text.startswith(("//", "/*", "#"), met.at)


def _comment(met: _Met) -> _Found:
    return met.at, "a comment stands here", "no comments; a `note` field holds what is to be remembered"
