"""Text for plotly, which reads labels as its own small HTML and sums between dollar signs as formulae."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable
from typing import Final

from enfilade.drawings.writing import clean

__all__ = ["hover_text", "plotly_lines", "plotly_text"]

_WIDEST: Final = 64


def plotly_text(text: str) -> str:
    """Return text that plotly shows as it stands.

    >>> plotly_text("<b>5 & 6</b>")
    '&lt;b&gt;5 &amp; 6&lt;/b&gt;'
    """
    plain = clean(text).replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
    # Between two dollar signs plotly sees a formula; the entity is a dollar sign only once it is drawn.
    return plain.replace("$", "&#36;").replace("%{", "&#37;{")


def plotly_lines(lines: Iterable[str], bold: int = 0) -> str:
    """Return lines of text, the first `bold` of them in bold."""
    shown = [plotly_text(line) for line in lines]
    return "<br>".join(f"<b>{line}</b>" if n < bold else line for n, line in enumerate(shown))


def hover_text(title: str) -> str:
    """Return the title of a thing as a list: its name, then one line for each thing that is said of it.

    >>> hover_text('Pantry: 24" wide; oak')
    '<b>Pantry</b><br>24" wide<br>oak'
    """
    head, *rest = clean(title).split("; ")
    name, _, size = head.partition(": ")
    names = textwrap.wrap(name, _WIDEST)
    lines = [piece for line in (size, *rest) for piece in textwrap.wrap(line, _WIDEST)]
    return plotly_lines([*names, *lines], len(names))
