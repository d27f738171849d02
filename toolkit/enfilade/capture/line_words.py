"""What is said of a line in a few words, and how the fields of its form read."""

from __future__ import annotations

from typing import Final

from enfilade.capture.telling import Told
from enfilade.editing.forms.called import shortened
from enfilade.editing.forms.forms import Field
from enfilade.editing.forms.offers import Option
from enfilade.findings import Finding
from enfilade.project.fields import AUDIENCES
from enfilade.project.speaking import SpokenLine
from enfilade.walkthrough.pages import SpokenPart

__all__ = ["about_line", "counted", "findings_to_tell", "plainer", "views_words", "whose"]

_AUDIENCES: Final = {"client": "the client", "public": "the public", "student": "students", "studio": "the studio"}


def findings_to_tell(told: Told, lines: list[SpokenLine]) -> list[Option]:
    """Return what a line may tell: what falls short, room by room, and what lines name already."""
    if not lines:
        return []
    named = {id for line in lines for id in line.findings}
    rooms = {space.id: space.name for space in told.project.spaces}
    made = [one for one in told.telling.findings if one.verdict == "falls short" or one.id in named]
    gone = sorted(named - {one.id for one in made})
    return [
        *sorted((_finding_option(one, rooms) for one in made), key=lambda one: one["group"]),
        *({"value": id, "label": "A finding that is not made any more"} for id in gone),
    ]


def _finding_option(one: Finding, rooms: dict[str, str]) -> Option:
    return {
        "value": one.id,
        "label": shortened(f"{one.title}: {one.verdict}"),
        "group": rooms.get(one.space or "", "The whole house"),
    }


def plainer(field: Field) -> Field:
    """Return a field of a line, whose label says it all; audiences are called as people call them."""
    if field["name"] == "shot":
        return field
    plain = field | {"help": "", "told": ""}
    if field["name"] == "hear":
        plain["options"] = [one | {"label": _AUDIENCES[one["value"]]} for one in field["options"]]
    return plain


def counted(lines: int) -> str:
    """Return how many lines there are."""
    if not lines:
        return "Nothing is written yet"
    return "One line" if lines == 1 else f"{lines} lines"


def whose(line: SpokenLine) -> str:
    """Return whether a line is drafted or a person's own."""
    if line.drafted is None:
        return "written by hand"
    return "drafted, then changed by hand" if line.edited else "as drafted"


def about_line(line: SpokenLine, part: SpokenPart) -> str:
    """Return in a few words what is folded away: what it shows, its shot, who may hear it."""
    words = [f"shows {shortened(', '.join(part.shows), 60)}"] if part.shows else []
    if line.shot is not None:
        size = f"{line.shot.size} shot" if line.shot.size else "a shot"
        words.append(size if line.shot.move == "still" else f"{size}, {line.shot.move}")
    if set(line.hear) != set(AUDIENCES):
        words.append(f"heard by {_listeners(line)}")
    return "; ".join(words)


def _listeners(line: SpokenLine) -> str:
    """Return who hears a line: `the client, students and the studio`."""
    names = [_AUDIENCES[one] for one in AUDIENCES if one in line.hear]
    return f"{', '.join(names[:-1])} and {names[-1]}" if len(names) > 1 else "".join(names) or "nobody"


def views_words(count: int) -> str:
    """Return how many perspectives are recorded."""
    return "no perspective recorded" if not count else "one perspective" if count == 1 else f"{count} perspectives"
