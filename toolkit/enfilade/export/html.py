"""The walkthrough as one self-contained HTML file."""

from __future__ import annotations

from enfilade.export.document import Document
from enfilade.export.notebook import notebook_data
from enfilade.export.setting import environment, plain

__all__ = ["walkthrough_html", "write"]


def write(document: Document) -> dict[str, bytes]:
    """Return `walkthrough.html`."""
    return {"walkthrough.html": walkthrough_html(document).encode("utf-8")}


def walkthrough_html(document: Document) -> str:
    """Return the page. It holds its own fonts, styles and drawings, and loads nothing.

    It is what the exporter makes of the walkthrough's notebook, without the time that loading nbconvert takes.
    """
    return plain(environment().get_template("index.html.j2").render(nb=notebook_data(document)))
