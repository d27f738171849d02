"""An editable document."""

from __future__ import annotations

from enfilade.export.document import Document

__all__ = ["write"]


def write(document: Document) -> dict[str, bytes]:
    """Return `walkthrough.docx`."""
    return {}
