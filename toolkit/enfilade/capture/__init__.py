"""Widgets: each room is a page that can be written on. No rules, no arithmetic of the trade."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from enfilade.capture.opening import open_page

__all__ = ["open_page"]


def __getattr__(name: str) -> Any:
    if name != "open_page":
        raise AttributeError(f"module 'enfilade.capture' has no attribute {name!r}")
    from enfilade.capture.opening import open_page

    return open_page
