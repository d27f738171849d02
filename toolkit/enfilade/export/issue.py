"""What every printed document says of itself: whose it is, which issue, what changed, what is undecided."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Final

from enfilade.export.clock import length_words
from enfilade.export.document import Document
from enfilade.export.signs import in_short
from enfilade.export.typesetting import Setting
from enfilade.walkthrough.changes import NOTHING_CHANGED
from enfilade.walkthrough.pages import Spoken, Undecided, Walkthrough

__all__ = [
    "NOTHING_UNDECIDED", "UNDECIDED", "about_lines", "changed_heading", "changed_sentences", "changes_line",
    "issue_data", "running_words", "setting_of", "unchanged", "undecided_line", "undecided_words", "version_words",
]  # fmt: skip

UNDECIDED: Final = "Still to be decided"
"""The heading of all that is undecided."""
NOTHING_UNDECIDED: Final = "Nothing is recorded as undecided."


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
            version_words(pages),
        ),
        issued=pages.date,
    )


def issue_data(document: Document) -> dict[str, Any]:
    """Return whose document it is, which issue, what changed since the last one and what is still undecided."""
    pages, look = document.pages, document.look
    return {
        "paper": document.telling.project.show.units,
        "title": pages.title or "A house",
        "head": in_short(pages.title) or "A house",
        "studio": in_short(look.studio or pages.studio),
        "designer": in_short(look.designer or pages.designer),
        "letterhead": look.letterhead,
        "reader": in_short(_reader(pages), 200),
        "stage": pages.stage.capitalize(),
        "version": version_words(pages),
        "date": pages.date,
        "audience": pages.audience,
        "since": pages.changes.since,
        "changes": pages.changes.sentences,
        "unchanged": unchanged(pages.changes.since),
        "still": UNDECIDED,
        "settled": NOTHING_UNDECIDED,
        "undecided": [
            {"number": str(one.number), "title": one.title, "room": one.room, "by": one.by, "due": one.due}
            for one in pages.undecided
        ],
    }


def _reader(pages: Walkthrough) -> str:
    return f"For {pages.client}" if pages.client and pages.audience == "client" else pages.audience_words


def version_words(pages: Walkthrough) -> str:
    """Return which version it is, empty when it bears none."""
    return f"version {in_short(pages.version, 30)}" if pages.version else ""


def running_words(spoken: Spoken) -> str:
    """Return how long a script runs and how much of that is spoken: said alike wherever a length is told.

    >>> running_words(Spoken((), 150.0, 373.0, 330.0, ()))
    '6 min 13 s with walks and silences, 0 s of it spoken at 150 words a minute; the target is 5 min 30 s'
    """
    words_s = sum(line.seconds for line in spoken.lines)
    target = f"; the target is {length_words(spoken.target_s)}" if spoken.target_s is not None else ""
    return (
        f"{length_words(spoken.seconds)} with walks and silences, {length_words(words_s)} of it spoken at "
        f"{spoken.rate_wpm:g} words a minute{target}"
    )


def changed_heading(pages: Walkthrough) -> str:
    """Return the heading of what changed."""
    return f"What changed since {pages.changes.since}" if pages.changes.since else "What changed"


def changed_sentences(pages: Walkthrough) -> tuple[str, ...]:
    """Return what changed since the last issue, or the one sentence that says why nothing is told."""
    return pages.changes.sentences or (unchanged(pages.changes.since),)


def unchanged(since: str) -> str:
    """Return the sentence that stands where no change is told.

    Args:
        since: Which issue it is compared with; empty when none was issued before.
    """
    return NOTHING_CHANGED if since else "Not issued before."


def about_lines(pages: Walkthrough) -> tuple[str, ...]:
    """Return what a file without a page of its own says of itself: its issue, what changed, what is undecided."""
    bears = ", ".join(words for words in (version_words(pages), pages.date) if words)
    return tuple(words for words in (bears, changes_line(pages), undecided_line(pages)) if words)


def changes_line(pages: Walkthrough, most: int = 8) -> str:
    """Return in one line what changed since the last issue: so many sentences of it, and that there are more."""
    since = f"Changed since {pages.changes.since}: " if pages.changes.since else ""
    return f"{since}{_counted(changed_sentences(pages), most, ' ')}"


def undecided_line(pages: Walkthrough, most: int = 12) -> str:
    """Return in one line what is undecided, by whom and by when: so much of it, and that there is more."""
    if not pages.undecided:
        return NOTHING_UNDECIDED
    return f"Undecided: {_counted([undecided_words(one) for one in pages.undecided], most, '; ')}."


def undecided_words(one: Undecided) -> str:
    """Return one thing that is undecided, with by whom and by when, as far as it is recorded.

    >>> undecided_words(Undecided(8, "Where the air comes from", "Kitchen", "the engineer", "2026-04-10"))
    '8 Where the air comes from (Kitchen): the engineer, by 2026-04-10'
    """
    who = ", ".join(part for part in (one.by, f"by {one.due}" if one.due else "") if part)
    return f"{one.number} {one.title} ({one.room})" + (f": {who}" if who else "")


def _counted(texts: Sequence[str], most: int, between: str) -> str:
    more = f"{between}and more, which the client book tells" if len(texts) > most else ""
    return between.join(in_short(text, 300) for text in texts[:most]) + more
