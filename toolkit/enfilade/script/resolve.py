"""A line with its bound figures put in, for the eye and for the ear."""

from __future__ import annotations

from enfilade.script.figures import Figures

__all__ = ["said", "shown"]


def shown(text: str, figures: Figures) -> str:
    """Return a line for the eye."""
    return text


def said(text: str, figures: Figures) -> str:
    """Return a line for the ear."""
    return text
