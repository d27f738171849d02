"""What all interactive figures share: ground, ink, font, title and the box that the pointer opens."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Final

from enfilade.drawings.plotly_text import plotly_lines, plotly_text
from enfilade.drawings.style import FONT, GREY, INK, PAPER

__all__ = ["TITLE_PX", "plain_layout", "title_height"]

TITLE_PX: Final = 44.0
"""Height of the title above a figure [px]."""
_LINE_PX: Final = 16.0


def plain_layout(title: str, notes: Sequence[str] = ()) -> dict[str, Any]:
    """Return what all figures share: white ground, black ink, one font, no decoration.

    Args:
        title: What the figure shows.
        notes: Lines under the title.
    """
    shown: dict[str, Any] = {
        "text": plotly_text(title),
        "font": {"size": 15},
        "x": 0,
        "xanchor": "left",
        "y": 1,
        "yanchor": "top",
        "yref": "container",
        "pad": {"t": 12, "l": 8},
    }
    if notes:
        shown["subtitle"] = {"text": plotly_lines(notes), "font": {"size": 11, "color": GREY}}
    return {
        "template": "none",
        "title": shown,
        "font": {"family": FONT, "color": INK, "size": 12},
        "paper_bgcolor": PAPER,
        "plot_bgcolor": PAPER,
        "showlegend": False,
        "hovermode": "closest",
        "hoverlabel": {
            "bgcolor": PAPER,
            "bordercolor": GREY,
            "align": "left",
            "namelength": -1,
            "font": {"family": FONT, "color": INK, "size": 12},
        },
        "modebar": {"bgcolor": PAPER, "color": GREY, "activecolor": INK, "remove": ["select2d", "lasso2d"]},
    }


def title_height(notes: Sequence[str] = ()) -> float:
    """Return how much room the title and its notes take above a figure [px]."""
    return TITLE_PX + _LINE_PX * len(notes)
