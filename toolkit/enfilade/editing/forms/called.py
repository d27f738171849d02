"""What people call a record, a field, a choice: never its id."""

from __future__ import annotations

import re
from typing import Any, Final

from enfilade.editing.forms.field_shape import field_shapes, tag_word
from enfilade.listing import capital
from enfilade.project.field_words import field_words
from enfilade.project.fields import Record
from enfilade.project.shapes import called as record_words
from enfilade.project.thing import Thing

__all__ = ["NAMES", "choice_words", "help_words", "kind_words", "label_of", "named", "row_title", "shortened"]

NAMES: Final = ("title", "name", "text", "caption", "what")
"""Fields that say what a record is called, the likeliest first."""

# Names of fields that do not stand alone as a label.
_LABELS: Final = {
    "at": "what it stands at", "bases": "known otherwise", "basis": "sizes are", "beyond": "wall beyond",
    "by": "by whom", "changed": "changed on site", "entry": "way in from outdoors", "first": "begins in",
    "focal_mm": "focal length, mm", "from_end": "measured from its end", "hear": "who may hear of it",
    "into": "opens into", "last": "saved for last", "lenses_mm": "lenses at hand, mm", "misc": "racks and dividers",
    "on": "on what day", "open": "open side", "pause_s": "silence after it", "picture": "shape of the picture",
    "points": "open points", "rate_wpm": "rate of speech", "sensor_height_mm": "height of the sensor, mm",
    "sensor_width_mm": "width of the sensor, mm", "services": "service", "size": "people in all", "space": "room",
    "spaces": "rooms", "target_s": "how long it should take", "text": "in words", "trades": "who built it",
    "views": "perspectives", "walk_mm_s": "walking pace", "what": "what it is", "x_mm": "middle, across the plan",
    "y_mm": "middle, up the plan",
}  # fmt: skip
# Where a record means something else by the same name.
_LABELS_OF: Final = {
    ("Eye", "height_mm"): "height above the floor", ("Eye", "x_mm"): "across the plan", ("Eye", "y_mm"): "up the plan",
    ("OpenPoint", "by"): "who sees to it", ("OpenPoint", "what"): "what is left to do",
    ("OpenPoint", "trade"): "whose trade it is", ("Service", "by"): "who does it", ("Service", "what"): "what is done",
    ("Service", "every_months"): "every so many months", ("Service", "first_on"): "first on",
    ("Shot", "eye"): "where the camera stands", ("Shot", "size"): "size of the shot",
    ("SpokenLine", "hear"): "who may hear it", ("SpokenLine", "text"): "what is said",
    ("SpokenLine", "decisions"): "decisions that it tells", ("SpokenLine", "findings"): "findings that it tells",
    ("SpokenLine", "photographs"): "photographs that it shows", ("SpokenLine", "things"): "things that it shows",
    ("Trade", "did"): "what they built", ("Trade", "may_be_credited"): "may be named in public",
    ("View", "eye"): "where the eye is", ("View", "toward"): "looks toward",
    ("View", "toward_height_mm"): "height that it looks at", ("View", "width_deg"): "width of the view",
}  # fmt: skip
_CHOICES: Final = {"us": "feet and inches", "metric": "millimetres"}
_MARKED: Final = re.compile(r"`([^`]*)`")
_LONGEST: Final = 90


def label_of(field: str, record: type[Record] | None = None) -> str:
    """Return the label of a field; a record may mean something else by the same name.

    >>> label_of("bowl_depth_mm")
    'Bowl depth'
    """
    own = _LABELS_OF.get((record.__name__, field)) if record is not None else None
    words = own or _LABELS.get(field, field_words(field))
    return capital(words)


def help_words(description: str | None) -> str:
    """Return the description of a field as a person reads it: no marks, no names of fields.

    >>> help_words("how much opens is `openable_m2`; absent: unknown")
    'how much opens is openable; when empty: unknown'
    """
    if not description:
        return ""
    marked = _MARKED.findall(description)
    if marked and all(word in _CHOICES for word in marked):
        return ""  # Words that are read otherwise explain themselves.
    words = _MARKED.sub(lambda found: _quoted(found[1]), description)
    return re.sub(r"\b(?:absent|none):", "when empty:", words)


def _quoted(word: str) -> str:
    if "_" in word:
        return field_words(word)
    return _CHOICES.get(word, f"“{word}”")


def choice_words(word: str) -> str:
    """Return what a word of a fixed list is called."""
    return _CHOICES.get(word, word)


def kind_words(record: type[Record]) -> str:
    """Return what a kind of record is called: a thing by its kind, a way of standing by its description."""
    tag, word = tag_word(record)
    if tag == "kind":
        return word
    if tag and record.__doc__:
        words = re.split(r"[:,.]", record.__doc__.strip())[0]
        return words[:1].lower() + words[1:]
    return record_words(record)


def named(record: Record) -> str:
    """Return the name that a record was given; empty when it has none."""
    for field in NAMES:
        value = getattr(record, field, "")
        if isinstance(value, str) and value.strip():
            return shortened(value)
    return ""


def row_title(record: Record, index: int) -> str:
    """Return what a row is called among its like: its name, or its kind, or its number."""
    if isinstance(record, Thing):
        return record.called
    if name := named(record):
        number = getattr(record, "number", None)
        return f"{number}. {name}" if number is not None else name
    kind: Any = getattr(record, "kind", None)
    words = f"{kind}" if isinstance(kind, str) and "kind" in field_shapes(type(record)) else kind_words(type(record))
    return f"{words} {index + 1}"


def shortened(text: str, longest: int = _LONGEST) -> str:
    """Return a text on one line, cut at a word."""
    line = " ".join(text.split())
    if len(line) <= longest:
        return line
    return f"{line[: longest - 1].rsplit(' ', 1)[0]}…"
