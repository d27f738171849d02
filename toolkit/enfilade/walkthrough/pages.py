"""What stands on the pages of a walkthrough: plain typed data, every string ready to be shown.

Drawings are SVG text that the drawings layer has made and escaped; all other text is raw and
must be escaped by whoever shows it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

__all__ = [
    "Changes",
    "Cut",
    "DecisionPart",
    "Drawing",
    "FindingGroup",
    "FindingPart",
    "Handover",
    "OptionPart",
    "Picture",
    "RoomPage",
    "Row",
    "Spoken",
    "SpokenPart",
    "StopPart",
    "Table",
    "TalkPart",
    "Timed",
    "Undecided",
    "Walkthrough",
]

Row = tuple[str, ...]


@dataclass(frozen=True)
class Drawing:
    """A drawing with the words under it."""

    title: str
    svg: str


@dataclass(frozen=True)
class Picture:
    """A photograph as a data address, with its words."""

    source: str
    caption: str
    alternative: str


@dataclass(frozen=True)
class Table:
    """A table of strings; columns named in `numeric` are set to the right."""

    title: str
    head: Row
    rows: tuple[Row, ...]
    numeric: tuple[int, ...] = ()
    note: str = ""


@dataclass(frozen=True)
class FindingPart:
    """A finding, in words."""

    id: str
    anchor: str
    number: int
    title: str
    about: str
    """What it is about, by name."""
    sentence: str
    verdict: str
    level: str
    measured: str
    asks: str
    margin: str
    label: str
    source: str
    known: str
    working: tuple[str, ...]
    also: tuple[str, ...]
    caution: str
    assumed: tuple[str, ...]
    answer: str
    because: str = ""
    """Why it is not assessed, in words; empty when it is."""
    needs: tuple[str, ...] = ()
    """The facts that are missing, in words."""


@dataclass(frozen=True)
class FindingGroup:
    """Findings that say the same of several things: said once, with the list of what it is about."""

    title: str
    because: str
    level: str
    label: str
    source: str
    known: str
    caution: str
    also: tuple[str, ...]
    parts: tuple[FindingPart, ...]


@dataclass(frozen=True)
class OptionPart:
    """An option that was weighed."""

    text: str
    why_not: str
    cost: str
    chosen: bool


@dataclass(frozen=True)
class DecisionPart:
    """A decision, in words."""

    number: int
    title: str
    status: str
    reason: str
    needs: tuple[str, ...]
    options: tuple[OptionPart, ...]
    things: tuple[str, ...]
    changed: str
    hindsight: str
    who: str


@dataclass(frozen=True)
class Undecided:
    """What is still to be decided, by whom and by when."""

    number: int
    title: str
    room: str
    by: str
    due: str


@dataclass(frozen=True)
class SpokenPart:
    """A line, ready to be said and to be read."""

    id: str
    """`stop/line`, or `part/line` for a recap or lead-in: unique in the script."""
    shown: str
    """For the eye: figures as they are written."""
    said: str
    """For the ear: figures as they are spoken."""
    seconds: float
    """Spoken time, without the pause."""
    pause_s: float
    shows: tuple[str, ...]
    """Names of the things, decisions and photographs that are shown meanwhile."""


@dataclass(frozen=True)
class StopPart:
    """What is said in one room."""

    id: str
    space: str
    number: int
    """The room's number in the order of the rooms."""
    name: str
    lines: tuple[SpokenPart, ...]
    seconds: float
    """Its lines and their pauses."""
    walk_mm: float
    """Walked to get here from the stop before."""
    walk_s: float
    way: str
    """How one gets here: through which rooms."""


@dataclass(frozen=True)
class TalkPart:
    """One of the parts in which the house is told."""

    id: str
    title: str
    recap: tuple[SpokenPart, ...]
    stops: tuple[StopPart, ...]
    lead_in: tuple[SpokenPart, ...]
    seconds: float
    """Everything: lines, pauses and walks."""

    @property
    def lines(self) -> tuple[SpokenPart, ...]:
        """Return every line in the order in which it is said."""
        return (*self.recap, *(line for stop in self.stops for line in stop.lines), *self.lead_in)


@dataclass(frozen=True)
class Timed:
    """One stretch of a part's time: a line that is said, the silence after it, or the walk to the next room."""

    kind: Literal["line", "pause", "walk"]
    start_s: float
    """From the beginning of the part."""
    end_s: float
    line: SpokenPart | None
    """The line that is said, or after which it is silent; None on a walk."""
    stop: StopPart | None
    """The stop that it is said at, or walked to; None for a recap or a lead-in."""


@dataclass(frozen=True)
class Cut:
    """A line that could be left out to come down to the target length."""

    line: str
    """Id of the line."""
    words: str
    seconds: float
    why: str


@dataclass(frozen=True)
class Spoken:
    """The script with its times."""

    parts: tuple[TalkPart, ...]
    rate_wpm: float
    seconds: float
    target_s: float | None
    cuts: tuple[Cut, ...]
    """What could be left out to come down to the target, the least important first."""
    too_long: str = ""
    """Why it is still longer than the target without all of these; empty when it is not."""

    @property
    def lines(self) -> tuple[SpokenPart, ...]:
        """Return every line in the order in which it is said."""
        return tuple(line for part in self.parts for line in part.lines)


@dataclass(frozen=True)
class Changes:
    """What changed since the document was last issued to this audience."""

    since: str
    """Which issue it is compared with; empty when none was issued before."""
    sentences: tuple[str, ...]
    rooms: tuple[str, ...] = ()
    """Id of the room that each sentence is about, empty for the whole house; none where nothing was compared."""

    def of_room(self, space: str) -> tuple[str, ...]:
        """Return the sentences about a room."""
        return tuple(one for room, one in zip(self.rooms, self.sentences, strict=False) if room == space)


@dataclass(frozen=True)
class Handover:
    """What is handed over with the finished house."""

    register: tuple[Table, ...]
    """Products and finishes, with where they are, care and service."""
    services: Table
    points: Table
    lessons: tuple[Row, ...]
    """Number and title of the decision, and what to do differently next time."""
    credits: tuple[Row, ...]
    """Trade or product, and who built or made it."""


@dataclass(frozen=True)
class RoomPage:
    """One room's page."""

    id: str
    number: int
    name: str
    story: str
    size: str
    wide: bool
    """The plan runs across the page, the decisions under it."""
    plan: Drawing
    worth_mending: tuple[FindingPart, ...]
    decisions: tuple[DecisionPart, ...]
    elevations: tuple[Drawing, ...]
    short: tuple[FindingPart, ...]
    held: tuple[FindingPart, ...]
    open: tuple[FindingPart, ...]
    beside: tuple[FindingPart, ...]
    """Not assessed because the rule does not apply or its source is silent."""
    ribbons: tuple[Drawing, ...]
    """Charts as wide as the page: the runs of counter."""
    charts: tuple[Drawing, ...]
    counts: tuple[Table, ...]
    cautions: tuple[str, ...]
    schedules: tuple[Table, ...]
    pictures: tuple[Picture, ...]
    remarks: tuple[Row, ...]
    """What is remarked of a thing or an opening: its name, and the sentence."""
    lines: tuple[str, ...]
    """What is said here, for the eye."""
    views: tuple[Drawing, ...] = ()
    """Perspectives, drawn from the record alone."""


@dataclass(frozen=True)
class Walkthrough:
    """The whole document."""

    title: str
    language: str
    audience: str
    audience_words: str
    studio: str
    designer: str
    client: str
    version: str
    date: str
    stage: str
    yardstick: str
    house_rules: str
    brief: str
    household: tuple[str, ...]
    needs: tuple[Row, ...]
    plan: Drawing | None
    """None when no room is recorded."""
    tally: tuple[tuple[str, int], ...]
    rooms: Sequence[RoomPage]
    """In the order in which they are told; a page may be made only when it is read."""
    house: tuple[FindingPart, ...]
    """What falls short or is open in the house as a whole."""
    undecided: tuple[Undecided, ...]
    to_verify: tuple[Row, ...]
    schedules: tuple[Table, ...]
    sources: tuple[str, ...]
    spoken: Spoken
    changes: Changes
    handover: Handover
    decisions: tuple[DecisionPart, ...] = ()
    """Those about the house as a whole."""
