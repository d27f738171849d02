"""An editable document: real styles, a list of contents, pictures with words, schedules as tables."""

from __future__ import annotations

import io
from typing import Any

from enfilade.export.document import Document
from enfilade.export.office.naming import about_of, family_of, issue_of, language_of, studio_of
from enfilade.export.office.package import packed
from enfilade.export.office.paper import Paper
from enfilade.export.office.paper_contents import contents_before
from enfilade.export.office.paper_house import after_the_rooms, before_the_rooms, cover
from enfilade.export.office.paper_rooms import room
from enfilade.export.office.paper_settings import fonts_inside, head_and_foot, page_set, settled
from enfilade.export.office.paper_styles import dressed
from enfilade.export.office.text import plain

__all__ = ["write"]


def write(document: Document) -> dict[str, bytes]:
    """Return `walkthrough.docx`."""
    paper, width_in, height_in = _blank(document)
    page = Paper(paper, width_in, height_in)
    cover(page, document)
    page.page_break()
    page.line("Contents", style="TOC Heading")
    mark = page.line("", style="Small")
    before_the_rooms(page, document)
    told: dict[int, str] = {}
    for one in document.pages.rooms:
        room(page, document, one, told)
    after_the_rooms(page, document)
    contents_before(page, mark)
    stream = io.BytesIO()
    paper.save(stream)
    return {"walkthrough.docx": packed(stream.getvalue(), about_of(document))}


def _blank(document: Document) -> tuple[Any, float, float]:
    """Return an empty document in the studio's look, and the width and height of its text [in]."""
    import docx

    metric = document.telling.project.show.units == "metric"
    paper = docx.Document()
    width_in, height_in = page_set(paper, metric=metric)
    look, family = document.look, family_of(document)
    dressed(paper, family=plain(family), ink=look.ink, accent=look.accent, language=language_of(document))
    head = (document.pages.title, studio_of(document))
    head_and_foot(paper.sections[0], head=head, foot=issue_of(document), width_in=width_in)
    fonts_inside(paper, family=family, own=bool(look.family))
    settled(paper)
    return paper, width_in, height_in
