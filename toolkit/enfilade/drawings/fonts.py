"""The shipped face as styles that a page carries along, so that it loads nothing."""

from __future__ import annotations

import base64
from functools import cache
from typing import Final

from enfilade.resources import shipped

__all__ = ["font_faces"]

_FONTS: Final = (
    # file, weight, style, characters: the same ranges as the files were cut to
    ("source-sans-3-latin-400-normal.woff2", 400, "normal", False),
    ("source-sans-3-latin-600-normal.woff2", 600, "normal", False),
    ("source-sans-3-latin-400-italic.woff2", 400, "italic", False),
    ("source-sans-3-latin-ext-400-normal.woff2", 400, "normal", True),
    ("source-sans-3-latin-ext-600-normal.woff2", 600, "normal", True),
    ("source-sans-3-latin-ext-400-italic.woff2", 400, "italic", True),
)
_BASIC: Final = (
    "U+0000-00FF,U+0131,U+0152-0153,U+02BB-02BC,U+02C6,U+02DA,U+02DC,U+2000-206F,U+20AC,U+2122,"
    "U+2191,U+2193,U+2212,U+2215,U+FEFF,U+FFFD"
)
_EXTENDED: Final = (
    "U+0100-02BA,U+02BD-02C5,U+02C7-02CC,U+02CE-02D7,U+02DD-02FF,U+0304,U+0308,U+0329,U+1D00-1DBF,"
    "U+1E00-1E9F,U+1EF2-1EFF,U+20A0-20AB,U+20AD-20C0,U+2113,U+2C60-2C7F,U+A720-A7FF"
)


@cache
def font_faces() -> str:
    """Return the `@font-face` rules of the face `Enfilade Text`, its files inside them."""
    faces = []
    for file, weight, style, extended in _FONTS:
        data = base64.b64encode(shipped("assets", "fonts", file).read_bytes()).decode("ascii")
        faces.append(
            f"@font-face{{font-family:'Enfilade Text';font-weight:{weight};font-style:{style};"
            f"src:url(data:font/woff2;base64,{data}) format('woff2');"
            f"unicode-range:{_EXTENDED if extended else _BASIC}}}"
        )
    return "\n".join(faces)
