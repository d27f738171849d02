"""What every printed document says of itself: whose it is, which issue, what changed, what is undecided."""

from __future__ import annotations

from typing import Any

from enfilade.export.document import Document
from enfilade.export.signs import in_short
from enfilade.export.typesetting import Setting
from enfilade.walkthrough.pages import Walkthrough

__all__ = ["issue_data", "setting_of"]


def setting_of(document: Document, file: str, template: str, words: str = "") -> Setting:
    """Return what a document is.

    Args:
        document: What it is told from.
        file, template: Of this document.
        words: What it is beside the walkthrough: `script`.
    """
    pages, look = document.pages, document.look
    return Setting(
        file=file,
        template=template,
        title=in_short(f"{pages.title}: {words}" if words else pages.title, 200),
        look=look,
        language=pages.language,
        authors=(look.studio or pages.studio, look.designer or pages.designer),
        keywords=(
            words or "walkthrough",
            pages.stage,
            f"version {in_short(pages.version, 30)}" if pages.version else "",
        ),
        issued=pages.date,
    )


def issue_data(document: Document) -> dict[str, Any]:
    """Return whose document it is, which issue, what changed since the last one and what is still undecided."""
    pages, look = document.pages, document.look
    return {
        "paper": document.telling.project.show.units,
        "title": pages.title,
        "head": in_short(pages.title),
        "studio": in_short(look.studio or pages.studio),
        "designer": in_short(look.designer or pages.designer),
        "letterhead": look.letterhead,
        "reader": in_short(_reader(pages), 200),
        "stage": pages.stage.capitalize(),
        "version": _version(pages),
        "date": pages.date,
        "audience": pages.audience,
        "since": pages.changes.since,
        "changes": pages.changes.sentences,
        "undecided": [
            {"number": str(one.number), "title": one.title, "room": one.room, "by": one.by, "due": one.due}
            for one in pages.undecided
        ],
    }


def _reader(pages: Walkthrough) -> str:
    return f"For {pages.client}" if pages.client and pages.audience == "client" else pages.audience_words


def _version(pages: Walkthrough) -> str:
    return f"version {in_short(pages.version, 30)}" if pages.version else ""
