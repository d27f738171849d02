"""The walkthrough as one self-contained HTML file."""

from __future__ import annotations

from typing import Final

from enfilade.export.document import Document
from enfilade.walkthrough.pages import Walkthrough

__all__ = ["walkthrough_html", "write"]

# Control characters that no HTML or XML document may hold; a record's text shows a mark in their place.
_FORBIDDEN: Final = dict.fromkeys((*range(9), 11, 12, *range(14, 32), *range(127, 160), 65534, 65535), "\ufffd")


def write(document: Document) -> dict[str, bytes]:
    """Return `walkthrough.html`."""
    return {"walkthrough.html": walkthrough_html(document.pages).encode("utf-8")}


def walkthrough_html(walkthrough: Walkthrough) -> str:
    """Return the page. It holds its own fonts, styles and drawings, and loads nothing."""
    from enfilade.export.exporter import WalkthroughExporter
    from enfilade.export.notebook import walkthrough_notebook

    html, _ = WalkthroughExporter().from_notebook_node(walkthrough_notebook(walkthrough))
    return str(html).translate(_FORBIDDEN)
