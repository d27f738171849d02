"""The speaker's page."""

from __future__ import annotations

from enfilade.export.document import Document

__all__ = ["write"]


def write(document: Document) -> dict[str, bytes]:
    """Return `speaker.html`."""
    return {}
