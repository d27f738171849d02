"""Text for plotly, which reads labels as its own small HTML and sums between dollar signs as formulae."""

from __future__ import annotations

from enfilade.drawings.writing import clean

__all__ = ["plotly_text"]


def plotly_text(text: str) -> str:
    """Return text that plotly shows as it stands.

    >>> plotly_text("<b>5 & 6</b>")
    '&lt;b&gt;5 &amp; 6&lt;/b&gt;'
    """
    plain = clean(text).replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
    # Between two dollar signs plotly sees a formula; the entity is a dollar sign only once it is drawn.
    return plain.replace("$", "&#36;").replace("%{", "&#37;{")
