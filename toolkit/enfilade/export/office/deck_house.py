"""What the editable deck tells before the rooms and after them."""

from __future__ import annotations

from enfilade.export.document import Document
from enfilade.export.issue import UNDECIDED, changed_heading, changed_sentences
from enfilade.export.office.deck import Deck
from enfilade.export.office.deck_frame import FRAMES
from enfilade.export.office.deck_rooms import decision_slides
from enfilade.export.office.deck_text import Block
from enfilade.export.office.naming import designer_of, for_whom, issue_of, studio_of
from enfilade.export.office.pictures import HOUSE_PX, drawing_shown

__all__ = ["after_the_rooms", "before_the_rooms", "cover"]


def cover(deck: Deck, document: Document) -> None:
    """Put the first slide."""
    told = [
        Block(issue_of(document), 18.0, tone="accent"),
        Block(for_whom(document), 18.0, tone="accent", before=2.0),
        Block(studio_of(document), 14.0, bold=True, before=18.0),
        Block(designer_of(document), 14.0, before=2.0),
    ]
    deck.slides("Cover", document.pages.title or "Walkthrough", told)


def before_the_rooms(deck: Deck, document: Document) -> None:
    """Put what changed, what is undecided, and the plan of the house."""
    pages = document.pages
    bullet = bool(pages.changes.sentences)
    changed = [Block(line, 17.0, bullet=bullet, before=5.0 if bullet else 0.0) for line in changed_sentences(pages)]
    deck.slides("Text", changed_heading(pages), changed)
    if pages.undecided:
        told: list[Block] = []
        for one in pages.undecided:
            told.append(Block(f"{one.number} {one.title}", 19.0, before=12.0, with_next=True))
            due = f"due {one.due}" if one.due else ""
            told.append(Block(" \u00b7 ".join(part for part in (one.room, one.by, due) if part), 14.0, tone="grey"))
        deck.slides("Text", UNDECIDED, told)
    if pages.plan:
        (slide, *_) = deck.slides("Picture", "The house", [Block(pages.plan.title, 13.0, tone="grey")])
        _, _, wide, high = FRAMES["whole picture"]
        deck.picture(
            slide,
            drawing_shown(document, pages.plan, width_in=wide, height_in=high, width_px=HOUSE_PX),
            "whole picture",
        )
    for part in pages.decisions:
        decision_slides(deck, part, "Whole house")


def after_the_rooms(deck: Deck, document: Document) -> None:
    """Put the open points of the house, and what this was held against, with its cautions."""
    pages = document.pages
    points = pages.handover.points
    if points.rows:
        told = [
            Block(" \u00b7 ".join(cell for cell in row if cell.strip()), 15.0, bullet=True, before=5.0)
            for row in points.rows
        ]
        deck.slides("Text", points.title or "Open points", told)
    rules = f", with the studio's house rules ({pages.house_rules})" if pages.house_rules else ""
    told = [
        Block(", ".join(f"{words.lower()}: {count}" for words, count in pages.tally), 17.0),
        Block(f"Held against {pages.yardstick}{rules}.", 17.0, before=6.0),
        Block(
            "This says what was measured and what each source asks. Local codes and licensed practice decide.",
            17.0,
            before=6.0,
        ),
    ]
    cautions = list(dict.fromkeys(line for room in pages.rooms for line in room.cautions))
    if cautions:
        told.append(Block("Cautions", 13.0, bold=True, tone="accent", before=16.0, with_next=True))
        told += [Block(line, 14.0, bullet=True, before=4.0) for line in cautions]
    deck.slides("Text", "What was measured, and what decides", told)
