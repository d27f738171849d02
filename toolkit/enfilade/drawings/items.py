"""The display list: what a drawing shows, in millimetres, before anything is styled.

On a plan y points up (plan north); on an elevation x runs along the wall and y is the height above the floor.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from enfilade.findings import Point, Verdict
from enfilade.lengths import System

__all__ = [
    "Arc",
    "Circle",
    "Dimension",
    "Item",
    "KeyLine",
    "Label",
    "Line",
    "Numbered",
    "Point",
    "Polygon",
    "Role",
    "Scene",
    "Weight",
]

Weight = Literal["cut", "edge", "dimension", "hidden"]
"""Line weights, heavy to light; `hidden` is dashed."""

Role = Literal[
    "floor",
    "wall",
    "removed",
    "opening",
    "swing",
    "counter",
    "under",
    "thing",
    "upper",
    "furniture",
    "service",
    "symbol",
    "dimension",
    "clear-width",
    "finding",
    "label",
    "ceiling",
    "ground",
]
"""What an item is. `under` stands below a counter, `upper` hangs above the cut plane, `symbol` is a thing's detail."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Drawn:
    """What every item has.

    Attributes:
        role: What it is.
        subject: Id of the record that it shows; empty for what shows none.
        weight: Line weight.
        title: What a pointer or a screen reader is told: name, size, product, findings.
        verdict: Of the finding that it marks.
    """

    role: Role
    subject: str = ""
    weight: Weight = "edge"
    title: str = ""
    verdict: Verdict | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Line(_Drawn):
    """An open line through points [mm]."""

    points: tuple[Point, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Polygon(_Drawn):
    """A closed shape [mm]; white when it has no `finish` colour, so that it hides what is drawn before it.

    Attributes:
        points: The outer ring, not closed.
        holes: Inner rings.
        finish: Recorded colour as `#rrggbb`.
        solid: Filled as cut material (walls, piers).
        clear: Not filled at all.
    """

    points: tuple[Point, ...]
    holes: tuple[tuple[Point, ...], ...] = ()
    finish: str | None = None
    solid: bool = False
    clear: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Arc(_Drawn):
    """An arc about a centre from one point to another [mm]."""

    centre: Point
    start: Point
    end: Point
    clockwise: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Circle(_Drawn):
    """A circle [mm]."""

    centre: Point
    radius_mm: float
    filled: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Label(_Drawn):
    """Words, and the room that there is for them.

    Attributes:
        at: Middle of that room [mm].
        width_mm, height_mm: Its size; 0 when nothing bounds it.
        turn_deg: Direction of its width, counter-clockwise.
        text: First line; `detail` are further lines.
        tag: The number with which `text` begins. It stands alone when the words do not fit; the key tells them either
            way. Empty: there is no number, and when the words do not fit, the renderer counts letters.
        inside: Outline within which it may be moved [mm].
        may_drop: Whether it may be left out when there is no room (its subject is told by its symbol).
        upright: Never written upwards; the tag stands instead.
        keyed: The tag stands on the drawing even where the words would fit.
        ground: Colour on which it is written, as `#rrggbb`.
        size: `room` for names of rooms, `thing` for the rest, `note` for remarks; `sign` for letters that are a symbol
            and stay where they are.
    """

    at: Point
    text: str
    width_mm: float = 0.0
    height_mm: float = 0.0
    turn_deg: float = 0.0
    detail: tuple[str, ...] = ()
    tag: str = ""
    inside: tuple[Point, ...] = ()
    may_drop: bool = False
    upright: bool = False
    keyed: bool = False
    ground: str | None = None
    size: Literal["room", "thing", "note", "sign"] = "thing"


@dataclass(frozen=True, slots=True, kw_only=True)
class Dimension(_Drawn):
    """A dimension string: parts in order along a line, which stands off to one side.

    Attributes:
        start: Where the first part begins [mm].
        direction: Unit vector along the string.
        outward: Unit vector to the side on which the string stands off.
        parts_mm: Lengths in order [mm].
        offset_mm: From `start` to where tiers are counted from [mm].
        tier: Which string out from there (1, 2 ...); 0 lies on the line itself.
    """

    start: Point
    direction: Point
    outward: Point
    parts_mm: tuple[float, ...]
    offset_mm: float = 0.0
    tier: int = 1

    @property
    def total_mm(self) -> float:
        """Return the length of the whole string [mm]."""
        return sum(self.parts_mm)

    @property
    def stops(self) -> tuple[Point, ...]:
        """Return the points on the measured line at which parts begin and end [mm]."""
        (x, y), (dx, dy) = self.start, self.direction
        run, points = 0.0, [self.start]
        for part in self.parts_mm:
            run += part
            points.append((x + dx * run, y + dy * run))
        return tuple(points)


@dataclass(frozen=True, slots=True, kw_only=True)
class Numbered(_Drawn):
    """The numbered mark of a finding, as large on any sheet; its words stand in the key."""

    at: Point
    number: int


Item = Line | Polygon | Arc | Circle | Label | Dimension | Numbered


@dataclass(frozen=True, slots=True)
class KeyLine:
    """One finding in words, under its number; 0 when it has no place on any drawing, and is about the whole room."""

    number: int
    finding: str
    verdict: Verdict
    text: str


@dataclass(frozen=True, slots=True)
class Scene:
    """One drawing: items in the order in which they are painted.

    Attributes:
        id: Letters, digits and `-`; unique for a project's drawings.
        title, description: What it shows, in words.
        system: Units that its titles are written in, and that renderers use unless told otherwise.
        bounds: Least x, least y, greatest x, greatest y of what is drawn, strings of dimensions left out [mm].
        key: The findings that the drawing marks by number, in the order of their numbers, then those without a place.
        about: Heading in the key over the findings that have no place on the drawing.
        notes: Sentences to print under the drawing.
        project, version, date, stage, studio: For the title block.
    """

    id: str
    kind: Literal["plan", "elevation"]
    title: str
    description: str
    system: System
    items: tuple[Item, ...]
    bounds: tuple[float, float, float, float]
    key: tuple[KeyLine, ...] = ()
    about: str = "About the room"
    notes: tuple[str, ...] = ()
    project: str = ""
    version: str = ""
    date: str = ""
    stage: str = ""
    studio: str = ""

    def of(self, subject: str) -> tuple[Item, ...]:
        """Return the items of one record."""
        return tuple(item for item in self.items if item.subject == subject)
