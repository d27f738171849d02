"""The client book: the whole walkthrough, set for paper."""

from __future__ import annotations

from typing import Any

from enfilade.export.book_drawings import Sheet, house_plan
from enfilade.export.book_rooms import decision_data, findings_data, room_data
from enfilade.export.document import Document
from enfilade.export.gallery import Gallery
from enfilade.export.issue import issue_data, setting_of
from enfilade.export.printed_tables import table_data, tables_data
from enfilade.export.typesetting import set_pdf
from enfilade.walkthrough.pages import Walkthrough

__all__ = ["write"]


def write(document: Document) -> dict[str, bytes]:
    """Return `walkthrough.pdf`."""
    setting = setting_of(document, "walkthrough.pdf", "book")
    return {setting.file: set_pdf(setting, _data(document, setting.gallery))}


def _data(document: Document, gallery: Gallery) -> dict[str, Any]:
    pages, sheet = document.pages, Sheet.of(document.telling.project.show.units)
    told: dict[int, str] = {}
    rooms = []
    for page in pages.rooms:
        document.progress(f"setting {page.name}")
        rooms.append(room_data(document, page, gallery, sheet, told))
    look = document.look
    return {
        **issue_data(document),
        "sheet": sheet.data(),
        "logo": gallery.file(look.logo, look.logo_kind) if look.logo else "",
        "frontispiece": _frontispiece(pages, gallery, sheet.full_mm, sheet.high * 0.45),
        "brief": pages.brief,
        "household": pages.household,
        "plan": house_plan(document, gallery, sheet),
        "tally": [f"{word.lower()} {count}" for word, count in pages.tally],
        "yardstick": pages.yardstick,
        "house_rules": pages.house_rules,
        "rooms": rooms,
        **_house(document, told),
    }


def _frontispiece(pages: Walkthrough, gallery: Gallery, widest_mm: float, highest_mm: float) -> Any:
    """Return the perspective for the cover: of the room about which most was decided; None when there is none."""
    seen = [page for page in pages.rooms if page.views]
    if not seen:
        return None
    view = max(seen, key=lambda page: len(page.decisions)).views[0]
    return gallery.drawing(view, widest_mm=widest_mm, highest_mm=highest_mm, largest=3.0)


def _house(document: Document, told: dict[int, str]) -> dict[str, Any]:
    """Return what is told of the house as a whole."""
    pages, handed = document.pages, document.pages.handover
    needs: set[str] = set()
    return {
        "needs": table_data("Needs of the brief", ("No.", "Need", "Answered by decision"), pages.needs, (0,)),
        "decisions": [decision_data(one, "The whole house", told, needs) for one in pages.decisions],
        "house": findings_data(pages.house, pages.audience in ("student", "studio")),
        "registers": tables_data(handed.register),
        "purchases": _purchases(pages),
        "services": tables_data((handed.services,)),
        "points": tables_data((handed.points,)),
        "verify": table_data("To verify on site", ("What", "Room", "Value", "Assumed"), pages.to_verify),
        "lessons": table_data("", ("No.", "Decision", "Next time"), handed.lessons, (0,)),
        "credits": table_data("Credits", ("What", "By"), handed.credits),
        "sources": pages.sources,
    }


def _purchases(pages: Walkthrough) -> list[Any]:
    """Return what was allowed, ordered and is awaited; care stands in the registers, where there are any."""
    if not pages.handover.register:
        return tables_data(pages.schedules)
    return [
        {**one, "title": f"{one['title']}: allowances, orders and dates"}
        for one in tables_data(pages.schedules)
        if one["title"] != "Care"
    ]
