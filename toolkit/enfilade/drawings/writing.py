"""Text on a sheet: escaped for XML, measured without a browser, broken into lines."""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache
from typing import Final
from xml.sax.saxutils import escape, quoteattr

__all__ = ["attribute", "broken", "clean", "cut", "folded", "text_width", "xml_text"]

# What XML 1.0 (section 2.2) allows in no document, and the marks that would turn the direction of the rest.
_ILLEGAL: Final = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\ud800-\udfff\ufffe\uffff\u202a-\u202e\u2066-\u2069]")

# Advance widths in thousandths of the size, as the metrics of the common sans serifs of PDF readers give them: our own
# face is 5 % narrower, so that what fits by these fits in either. Letters not named here count as wide ones.
_WIDTHS: Final = {
    letter: width
    for width, letters in (
        (191, "'"),
        (222, "ijl\u2018\u2019"),
        (278, " \u00a0\u00b7ftI.,:;/!"),
        (333, "r()-\u00b2\u201c\u201d"),
        (355, '"'),
        (400, "\u00b0"),
        (500, "cksvxyzJ"),
        (556, "abdeghnopquL0123456789?_\u2013"),
        (584, "+=<>\u00d7"),
        (611, "FTZ"),
        (667, "ABEKPSVXY"),
        (722, "wCDHNRU"),
        (778, "GOQ"),
        (833, "mM"),
        (889, "%"),
        (944, "W"),
        (1000, "\u2014\u2026"),
    )
    for letter in letters
}
_BOLD: Final = 1.09


def clean(text: str) -> str:
    """Return text without characters that no document may carry; line breaks become spaces."""
    return _ILLEGAL.sub("\ufffd", re.sub(r"[\t\r\n]+", " ", text))


def xml_text(text: str) -> str:
    """Return text as the content of an XML element."""
    return escape(clean(text))


def attribute(text: str) -> str:
    """Return text as a quoted XML attribute."""
    return quoteattr(clean(text))


@lru_cache(maxsize=4096)
def text_width(text: str, size: float, bold: bool = False) -> float:
    """Return about how wide a line of text is on the sheet [px]; errs to the wide side for unknown scripts."""
    units = 0
    for ch in text:
        if ch in _WIDTHS:
            units += _WIDTHS[ch]
        elif unicodedata.combining(ch):
            continue
        elif ord(ch) > 0x2E80 and unicodedata.east_asian_width(ch) in "WF":
            units += 1000
        else:
            units += 722 if ch.isupper() else 584
    return units * size / 1000 * (_BOLD if bold else 1.0)


def broken(text: str, width: float, size: float, most: int = 3) -> list[str] | None:
    """Return text broken at spaces into lines of at most a width; None when it does not fit into `most` lines."""
    lines: list[str] = []
    for word in text.split():
        if text_width(word, size) > width:
            return None
        if lines and text_width(f"{lines[-1]} {word}", size) <= width:
            lines[-1] += f" {word}"
        else:
            lines.append(word)
    return lines if lines and len(lines) <= most else None


def cut(text: str, width: float, size: float) -> str:
    """Return text shortened with an ellipsis to a width."""
    if text_width(text, size) <= width:
        return text
    low, high = 0, len(text)
    while low < high:
        middle = (low + high + 1) // 2
        if text_width(text[:middle] + "\u2026", size) <= width:
            low = middle
        else:
            high = middle - 1
    return text[:low].rstrip() + "\u2026"


def folded(text: str, width: float, size: float) -> list[str]:
    """Return text broken into as many lines as it needs; words that are too long are broken too."""
    lines: list[str] = [""]
    # No letter is narrower than the narrowest: of a word without end only so much is measured at a time.
    most = max(int(width / (size * min(_WIDTHS.values()) / 1000)) + 2, 2)
    for word in text.split():
        piece = word
        while len(piece) > 1 and (len(piece) > most or text_width(piece, size) > width):
            end = min(len(piece), most)
            while end > 1 and text_width(piece[:end], size) > width:
                end -= max(1, end // 8)
            end = max(end, 1)
            if lines[-1]:
                lines.append("")
            lines[-1] = piece[:end]
            lines.append("")
            piece = piece[end:]
        joined = f"{lines[-1]} {piece}".strip()
        if text_width(joined, size) <= width:
            lines[-1] = joined
        else:
            lines.append(piece)
    return [line for line in lines if line]
