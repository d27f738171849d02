"""Where what is recorded belongs: in which documents each field must be read by whoever may be told it."""

from __future__ import annotations

__all__ = ["BELONGS", "FILES", "NOWHERE", "PLAIN"]

FILES = frozenset(
    {
        "walkthrough.html", "speaker.html", "prompt.html", "slides.html", "walkthrough.pdf", "sheets.pdf",
        "walkthrough.docx", "walkthrough.pptx", "script.pdf", "shots.csv", "storyboard.pdf", "cards.pdf",
        "cards-single.pdf", "schedules.xlsx", "service.ics",
        *(f"walkthrough{part}.{form}" for part in ("", "-1", "-2") for form in ("vtt", "srt")),
    }
)  # fmt: skip
"""What `all` writes of a house that is told in two parts and has services."""

PLAIN = frozenset({"shots.csv", "walkthrough.srt", "walkthrough-1.srt", "walkthrough-2.srt", "service.ics"})
"""Forms that have no place of their own for a version or a studio."""

_READ = frozenset({"walkthrough.html", "walkthrough.pdf", "walkthrough.docx"})
_SHOWN = _READ | {"slides.html", "walkthrough.pptx"}
_LISTED = _READ | {"schedules.xlsx"}
_TOLD = _SHOWN | {"schedules.xlsx"}
_CARDS = frozenset({"cards.pdf", "cards-single.pdf"})
_SPOKEN = _CARDS | {"prompt.html", "speaker.html", "script.pdf"}
_HEADED = FILES - PLAIN

BELONGS: dict[str, frozenset[str]] = {
    "Answer.by": _READ,
    "Answer.reason": _READ,
    "Brief.text": _READ,
    "Client.names": _TOLD | {"sheets.pdf", "script.pdf", "storyboard.pdf"},
    "Decision.by": _TOLD,
    "Decision.changed": _TOLD,
    "Decision.hindsight": _LISTED,
    "Decision.reason": _TOLD,
    "Decision.title": _TOLD,
    "Finish.care": _LISTED | {"service.ics"},
    "Finish.maker": _LISTED,
    "Finish.material": _LISTED,
    "Finish.name": _LISTED,
    "Finish.note": frozenset({"schedules.xlsx"}),
    "Furniture.what": frozenset({"schedules.xlsx"}),
    "Gathering.what": _READ,
    "Household.entertains": _READ,
    "Need.text": _LISTED,
    "OpenPoint.by": _LISTED,
    "OpenPoint.trade": _LISTED,
    "OpenPoint.what": _LISTED,
    "Opening.name": frozenset({"walkthrough.html", "walkthrough.docx", "schedules.xlsx"}),
    "Opening.remark": _READ,
    "Option.text": _TOLD,
    "Option.why_not": _TOLD,
    "Part.title": _SPOKEN | {"shots.csv"},
    "Photograph.alternative": _SHOWN,
    "Photograph.caption": _SHOWN,
    "Product.care": _LISTED | {"service.ics"},
    "Product.maker": _LISTED,
    "Product.name": _LISTED,
    "Product.note": frozenset({"schedules.xlsx"}),
    "Project.name": FILES - {one for one in PLAIN if one != "service.ics"},
    "Purchase.quantity_unit": _LISTED,
    "Service.by": _LISTED | {"service.ics"},
    "Service.what": _LISTED | {"service.ics"},
    "Shot.note": frozenset({"script.pdf", "shots.csv", "storyboard.pdf"}),
    "Show.currency": _TOLD,
    "Show.version": _HEADED,
    "Space.name": _TOLD | _SPOKEN | {"sheets.pdf", "shots.csv", "storyboard.pdf"},
    "Space.story": _SHOWN,
    "SpokenLine.text": _SPOKEN | {"shots.csv", "storyboard.pdf", "walkthrough.vtt", "walkthrough.srt"},
    "Studio.designer": _TOLD | _CARDS | {"sheets.pdf", "script.pdf", "storyboard.pdf"},
    "Studio.name": _TOLD | _CARDS | {"sheets.pdf", "script.pdf", "storyboard.pdf", "speaker.html"},
    "Thing.name": frozenset({"walkthrough.html"}),
    "Thing.remark": _READ,
    "Trade.did": _READ,
    "Trade.name": _READ,
    "Trade.trade": _READ,
    "View.title": _SHOWN,
    "Wall.name": frozenset({"walkthrough.html"}),
}
"""For each field, by the record in which it is declared, the documents in which every word of it must stand."""

NOWHERE: dict[str, str] = {
    "Client.address": "documents are headed by the client's names; the address stays in the record",
    "Client.contact": "the studio's own",
    "Client.notes": "the studio's own",
    "Drafted.about": "the draft's own memory",
    "Drafted.text": "the draft's own memory; what is said now is told",
    "Opening.note": "the studio's own, read on the page where the house is edited",
    "Person.name": "the household is told as how many live here; who it is stays in the record",
    "Space.note": "the studio's own, read on the page where the house is edited",
    "Stop.left_out": "what a person took out is not told",
    "Thing.note": "the studio's own; in the schedule of furniture alone",
}
"""Fields that may be missing from every document, and why."""
