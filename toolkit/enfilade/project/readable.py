"""Text of a stranger's file, made fit for a line on a terminal."""

from __future__ import annotations

__all__ = ["readable"]


def readable(text: str, longest: int = 60) -> str:
    """Return a text that a terminal shows as it is, on one line and cut short."""
    shown = "".join(sign if sign.isprintable() else repr(sign)[1:-1] for sign in text[: longest + 1])
    return shown if len(shown) <= longest else shown[: longest - 3] + "..."
