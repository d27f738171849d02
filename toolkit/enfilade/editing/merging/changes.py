"""What changed between two states of a house, in plain sentences."""

from __future__ import annotations

from enfilade.editing.merging.merging import differences
from enfilade.editing.merging.saying import STANDS, Words
from enfilade.editing.merging.three_ways import GONE, ORDER, Change, Place
from enfilade.listing import capital
from enfilade.project.project import Project

__all__ = ["became", "changes"]


def changes(before: Project, after: Project) -> list[str]:
    """Return what changed, one sentence a record, in people's words and the units that the later state shows.

    `Island: width 42", was 36".`
    """
    words = Words(after, before)
    about: dict[Place, list[Change]] = {}
    for change in differences(before, after):
        about.setdefault(words.record_place(change.place), []).append(change)
    return [_sentence(words, group) for group in about.values()]


def _sentence(words: Words, about: list[Change]) -> str:
    first = about[0]
    name = capital(words.record(first.place))
    if first.place == words.record_place(first.place):
        if first.before is GONE:
            return f"{name} was added."
        if first.after is GONE:
            return f"{name} was taken away."
    return f"{name}: {'; '.join(became(words, one) for one in about)}."


def became(words: Words, change: Change) -> str:
    """Return what became of one field, in words: `width 42", was 36"`."""
    field = words.field(change.place)
    if change.place[-1] == ORDER:
        return f"the {field} was changed"
    if words.is_long(change.before) or words.is_long(change.after):
        if not change.before:
            return f"{field} was written"
        return f"{field} was {'reworded' if change.after else 'taken out'}"
    after, before = (words.value(change.place, one) for one in (change.after, change.before))
    return f"{'now' if field == STANDS else field} {after}, was {before}"
