"""An editable slide deck: titles in real titles, a decision a slide, what is said in the notes."""

from __future__ import annotations

import io

from enfilade.export.document import Document
from enfilade.export.office.deck import Deck
from enfilade.export.office.deck_frame import framed
from enfilade.export.office.deck_house import after_the_rooms, before_the_rooms, cover
from enfilade.export.office.deck_rooms import room_slides
from enfilade.export.office.naming import about_of, family_of, issue_of, language_of
from enfilade.export.office.package import packed
from enfilade.export.office.text import plain, shortened

__all__ = ["write"]


def write(document: Document) -> dict[str, bytes]:
    """Return `walkthrough.pptx`."""
    import pptx

    presentation = pptx.Presentation()
    look = document.look
    framed(
        presentation,
        family=family_of(document),
        ink=look.ink,
        accent=look.accent,
        language=language_of(document),
    )
    title = shortened(plain(document.pages.title), 60)
    deck = Deck(presentation, " \u00b7 ".join(part for part in (title, issue_of(document)) if part))
    cover(deck, document)
    before_the_rooms(deck, document)
    told: set[int] = set()
    for page in document.pages.rooms:
        room_slides(deck, document, page, told)
    after_the_rooms(deck, document)
    stream = io.BytesIO()
    presentation.save(stream)
    return {"walkthrough.pptx": packed(stream.getvalue(), about_of(document))}
