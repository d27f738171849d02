"""Drawings as pictures of points, for programs that show no vector drawings."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Final

from enfilade.drawings.perspective import for_points
from enfilade.export.look import Look
from enfilade.resources import shipped

__all__ = ["Rasters", "alternative_of", "size_of"]

_VIEW_BOX: Final = re.compile(r"""viewBox=["']\s*-?[\d.]+[\s,]+-?[\d.]+[\s,]+([\d.]+)[\s,]+([\d.]+)""")
_DESCRIBED: Final = re.compile(r"<desc[^>]*>(.*?)</desc>", re.DOTALL)
_MOST_PX: Final = 6000
"""No picture is wider or higher than this: a drawing that is a hundred times as long as wide stays a small file."""
_NOT_OURS: Final = re.compile(
    "[^\u0000-\u0181\u2013\u2014\u2018\u2019\u201c\u201d\u2022\u2026\u2032\u2033\u2044\u2122\u2191\u2193\u2212]"
)
"""Letters and signs that the shipped face lacks; they take what the machine has."""
_ALTERNATIVE_SIGNS: Final = 1000


def size_of(svg: str) -> tuple[float, float]:
    """Return the width and height of a drawing [px]."""
    found = _VIEW_BOX.search(svg[:2000])
    if found is None:
        return 640.0, 480.0
    return max(float(found[1]), 1.0), max(float(found[2]), 1.0)


def alternative_of(title: str, svg: str) -> str:
    """Return what is said of a drawing to those who do not see it: its title, then its own description."""
    import html

    found = _DESCRIBED.search(svg[:200_000])
    words = " ".join(part for part in (title, html.unescape(found[1]) if found else "") if part)
    if len(words) <= _ALTERNATIVE_SIGNS:
        return words
    return words[:_ALTERNATIVE_SIGNS].rsplit(" ", 1)[0] + " \u2026"


class Rasters:
    """The drawings of one document as PNG: each is worked out once, whichever forms show it.

    Args:
        look: Its fonts; without any the shipped face is taken.
    """

    def __init__(self, look: Look) -> None:
        own = [str(file) for file in look.font_files if Path(file).suffix.lower() in (".ttf", ".otf")]
        self._fonts = own or [str(file) for file in sorted(shipped("assets", "fonts").glob("*.ttf"))]
        self._family = (look.family if own else "") or "Enfilade Text"
        self._made: dict[tuple[str, int], bytes] = {}
        self.drawn: dict[tuple[object, ...], object] = {}
        """Drawings that several forms show beside those of the pages, by what they are drawn of."""

    def png(self, svg: str, width_px: float) -> bytes:
        """Return a drawing as PNG.

        Args:
            svg: As the drawings layer has made it.
            width_px: How wide the picture is to be [px]; made smaller when it would be higher than 6,000 px.
        """
        wide, high = size_of(svg)
        width = max(1, round(min(width_px, _MOST_PX, _MOST_PX * wide / high)))
        key = (svg, width)
        if key not in self._made:
            self._made[key] = self._drawn(svg, width)
        return self._made[key]

    def _drawn(self, svg: str, width: int) -> bytes:
        import resvg_py

        # Reading all fonts of a machine takes longer than the drawing: only for letters that our face lacks.
        return bytes(
            resvg_py.svg_to_bytes(
                svg_string=for_points(_in_family(svg, self._family)),
                width=width,
                background="#ffffff",
                skip_system_fonts=_NOT_OURS.search(svg) is None,
                font_files=self._fonts,
                font_family=self._family,
                sans_serif_family=self._family,
            )
        )


def _in_family(svg: str, family: str) -> str:
    from xml.sax.saxutils import quoteattr

    quoted = quoteattr("'" + family.replace("'", "") + "', sans-serif")
    return re.sub(r'font-family="[^"]*"', lambda _: f"font-family={quoted}", svg, count=1)
