"""Who signs a document, in what it is set, and what it says of itself."""

from __future__ import annotations

from enfilade.export.document import Document
from enfilade.export.office.package import About

__all__ = ["about_of", "designer_of", "family_of", "for_whom", "issue_of", "language_of", "studio_of"]

_SHIPPED: str = "Enfilade Text"


def family_of(document: Document) -> str:
    """Return the name of the type family."""
    return document.look.family or _SHIPPED


def studio_of(document: Document) -> str:
    """Return the name of the studio; empty when none is recorded."""
    return document.look.studio or document.pages.studio


def designer_of(document: Document) -> str:
    """Return who signs; nobody is named to the public."""
    if document.pages.audience == "public":
        return ""
    return document.look.designer or document.pages.designer


def for_whom(document: Document) -> str:
    """Return for whom it is."""
    pages = document.pages
    return f"For {pages.client}" if pages.client and pages.audience == "client" else pages.audience_words


def issue_of(document: Document) -> str:
    """Return stage, version and date: `Proposed · version 4 · 2026-03-16`."""
    pages = document.pages
    return " \u00b7 ".join(
        part for part in (pages.stage.capitalize(), pages.version and f"version {pages.version}", pages.date) if part
    )


def about_of(document: Document, what: str = "") -> About:
    """Return what a file says of itself: title, studio, language and the date of the issue."""
    title = f"{document.pages.title}, {what}" if what else document.pages.title
    return {
        "title": title,
        "creator": studio_of(document),
        "language": document.pages.language,
        "date": document.pages.date,
    }


def language_of(document: Document) -> str:
    """Return language and region of the text, for the program that checks its spelling."""
    if document.pages.language != "en":
        return document.pages.language
    return "en-GB" if document.telling.project.show.units == "metric" else "en-US"
