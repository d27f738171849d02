"""A draft put into the script: what a person wrote or changed stays, and what was taken out stays out."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final

from enfilade.editing.ids import new_id
from enfilade.project.project import Project
from enfilade.project.speaking import Drafted, Part, SpokenLine, Stop
from enfilade.walkthrough.drafting.items import Item, line_of
from enfilade.walkthrough.drafting.joining import Joins

__all__ = ["Redraft"]

_MOST_LINES: Final = 1000
_MOST_JOINING: Final = 100
_COMING_IN: Final = ("room:", "sight:")


class Redraft:
    """Puts what a draft tells into the lines that stand.

    A line that a person wrote or changed stays as it is, where it is. A line that still says what was drafted says
    what the new draft says in its place; a person's shot, pause and place stay, and it is never told to more people.
    It goes when what it told is gone. What is new comes after what stands before it in the draft. Nothing is added
    that a person took out, or that a person's own line tells already; where a person's line opens a room, neither is
    what one says when one comes in.

    Args:
        project: The house as it stands.
        items: Everything that the draft tells.
    """

    def __init__(self, project: Project, items: Iterable[Item]) -> None:
        self._items = {item.about: item for item in items}
        parts = project.show.speaking.parts
        standing = [line for stop in project.script for line in stop.lines]
        standing += [line for part in parts for line in (*part.recap, *part.lead_in)]
        self._there = {line.drafted.about for line in standing if line.drafted is not None}
        self._left_out = {about for stop in project.script for about in stop.left_out}
        own = [line for line in standing if line.drafted is None]
        self._told_already = {id for line in own for id in (*line.decisions, *line.findings)}

    def stop(self, stop: Stop, told: Sequence[Item]) -> Stop:
        """Return a stop with what is told in it; `told` is all of that for the first stop in a room, else nothing."""
        lines = self._refreshed(stop.lines)
        # Where a person opens the room, nobody comes in a second time.
        opened = bool(lines) and lines[0].drafted is None
        new = [item for item in told if self._is_new(item) and not (opened and _comes_in(item))]
        lines = _put_in(lines, new, told, {line.id for line in lines}, _MOST_LINES)
        return stop if lines == stop.lines else stop.model_copy(update={"lines": lines})

    def part(self, part: Part, told: Joins) -> Part:
        """Return a part with what joins it to the others; where a person wrote a recap or lead-in, theirs stands."""
        taken = {line.id for line in (*part.recap, *part.lead_in)}
        changed = {}
        for name, items in (("recap", told.recap), ("lead_in", told.lead_in)):
            before: tuple[SpokenLine, ...] = getattr(part, name)
            lines = self._refreshed(before)
            if not any(line.drafted is None for line in lines):
                new = [item for item in items if item.about not in self._there | self._left_out]
                lines = _put_in(lines, new, items, taken, _MOST_JOINING)
            if lines != before:
                changed[name] = lines
        return part.model_copy(update=changed) if changed else part

    def _is_new(self, item: Item) -> bool:
        told = {*item.decisions, *item.findings} & self._told_already
        return not told and item.about not in self._there and item.about not in self._left_out

    def _refreshed(self, lines: Iterable[SpokenLine]) -> tuple[SpokenLine, ...]:
        found = []
        for line in lines:
            item = self._items.get(line.drafted.about) if line.drafted is not None else None
            if line.edited:
                found.append(line)
            elif item is not None:
                found.append(_as_drafted_now(line, item))
        return tuple(found)


def _comes_in(item: Item) -> bool:
    """Tell whether an item is what one says when one comes in: which room it is, and what one sees first."""
    return item.about.startswith(_COMING_IN)


def _as_drafted_now(line: SpokenLine, item: Item) -> SpokenLine:
    hear = tuple(one for one in line.hear if one in item.hear) or ("studio",)
    changed: dict[str, object] = {"decisions": item.decisions, "findings": item.findings, "hear": hear}
    if line.text != item.text:
        changed |= {
            "text": item.text,
            "drafted": Drafted(about=item.about, text=item.text),
            "things": item.things,
            "photographs": item.photographs,
        }
    changed = {name: value for name, value in changed.items() if getattr(line, name) != value}
    return line.model_copy(update=changed) if changed else line


def _put_in(
    lines: tuple[SpokenLine, ...], new: Sequence[Item], told: Sequence[Item], taken: set[str], most: int
) -> tuple[SpokenLine, ...]:
    """Return lines with new ones put in: each after the nearest that stands before it in the draft."""
    rank = {item.about: place for place, item in enumerate(told)}
    found = list(lines)
    for item in new[: max(0, most - len(found))]:
        ranks = [rank.get(line.drafted.about, -1) if line.drafted is not None else -1 for line in found]
        before = [(place, at) for at, place in enumerate(ranks) if 0 <= place < rank[item.about]]
        after = [at for at, place in enumerate(ranks) if place > rank[item.about]]
        at = max(before)[1] + 1 if before else min(after) if after else 0 if _comes_in(item) else len(found)
        id = new_id(item.about, taken)
        taken.add(id)
        found.insert(at, line_of(item, id))
    return tuple(found)
