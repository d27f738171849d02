"""The shots of a script: where the camera stands, through which lens, and what it sees."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Final

from enfilade.checks.shown import Names
from enfilade.drawings.perspective import in_frame, perspective
from enfilade.drawings.solids import HouseSolids, house_solids
from enfilade.geometry.camera import Camera
from enfilade.geometry.sightlines import Place
from enfilade.trade.lens import field_of_view_deg
from enfilade.walkthrough.filming.camera import Setup
from enfilade.walkthrough.filming.lines import script_lines
from enfilade.walkthrough.filming.phrases import lens_words, opening_words
from enfilade.walkthrough.filming.planner import Planned, Planner
from enfilade.walkthrough.filming.plans import Marked, position_plan
from enfilade.walkthrough.filming.troubles import Troubles
from enfilade.walkthrough.filming.words import Teller
from enfilade.walkthrough.pages import Drawing
from enfilade.walkthrough.telling import Telling

__all__ = ["Film", "ShotPart", "film", "names_of_things"]

_PICTURE_PX: Final = 640.0
_NAMED: Final = 6
_LEAST_SHARE: Final = 0.004
"""What fills less of the picture is not named (own choice)."""
_HIDES: Final = 0.02
"""What hides less of the subject is not named (own choice)."""
_ONE_PLACE_MM: Final = 1.0
_TOLD_EVERY: Final = 5
"""Of so many shots one is told of while they are planned."""


@dataclass(frozen=True)
class ShotPart:
    """One planned shot, in words and as a picture. There is one for each line: one row a shot."""

    number: int
    """From 1 through the whole script."""
    line: str
    """Id of the line that it goes with, as in `SpokenPart.id`."""
    space: str
    room: str
    size: str
    move: str
    """The move with its figures, such as `pan from left to right over 25°`; `still` when there is none."""
    focal_mm: float | None
    """None when there is no camera: it can stand nowhere. A shot with a trouble is planned as well as it can be."""
    lens: str
    """The lens in words: `24 mm`; empty without a camera."""
    subject: str
    also: tuple[str, ...]
    """What else is in frame, by name, the largest first."""
    blocked_by: tuple[str, ...]
    """What stands before a part of the subject, by name; without trouble it hides less than one part in twenty."""
    eye_mm: tuple[float, float, float] | None
    toward_mm: tuple[float, float, float] | None
    """A point that it looks at, in the direction of the lens's axis."""
    where: str
    """Where the camera stands, how high, and how it is set, in words."""
    trouble: str
    """Why it cannot be framed, and what would help; empty when it can."""
    note: str
    picture: Drawing | None
    """The perspective that this camera sees."""
    position: int | None = None
    """Number of the place where the camera stands, on the plans; shots from one place share it."""
    stands_in: str = ""
    """Name of the room in which it stands, when that is another than the line's."""
    pitch_deg: float = 0.0
    """How far the camera is tilted up; 0 keeps upright lines parallel."""
    shift_mm: float = 0.0
    """How far the picture is moved up on the sensor, or the lens shifted."""


@dataclass(frozen=True)
class Film:
    """The shots in the order of the script, and the plans that show their positions."""

    shots: tuple[ShotPart, ...]
    plans: tuple[Drawing, ...]


def film(telling: Telling, progress: Callable[[str], None] = lambda words: None) -> Film:
    """Plan every shot of the script, and draw what each camera sees.

    Every line is one shot, in the order in which the script is said. A line without a recorded shot is planned too: it
    shows what the line shows, or the room. The same house gives the same plan.

    Args:
        telling: The house as one audience is told it.
        progress: Called with a few words before what takes a while.
    """
    solids = house_solids(telling.house)
    maker = _Maker(telling, solids, names_of_things(telling))
    shots: list[ShotPart] = []
    marks: dict[str, list[Marked]] = {}
    named: dict[str, set[str]] = {}
    lines = list(script_lines(telling.project))
    for number, at in enumerate(lines, 1):
        if number % _TOLD_EVERY == 0 or number == len(lines):
            progress(f"shot {number} of {len(lines)}")
        planned = maker.planner.plan(at)
        shot = maker.shot(number, at.id, planned, at.line.shot.note if at.line.shot else "")
        shots.append(shot)
        if planned.setup is not None and shot.position is not None:
            drawn_in = planned.stands_in or planned.space
            marks.setdefault(drawn_in, []).append(maker.mark(shot, planned, planned.setup))
            named.setdefault(drawn_in, set()).update(planned.subject.ids if planned.subject else ())
    plans = [position_plan(telling.project, at, marks[at], named[at]) for at in telling.order if at in marks]
    return Film(tuple(shots), tuple(plans))


def names_of_things(telling: Telling) -> Names:
    """Return what people call things, openings and walls: ids are unique among those, but not among all records."""
    project = telling.project
    called = {wall.id: wall.name or wall.id for space in project.spaces for wall in space.walls}
    called |= {opening.id: opening_words(opening.name, opening.kind) for opening in project.openings}
    return Names(called | {thing.id: thing.called for thing in project.things})


@dataclass
class _Maker:
    telling: Telling
    solids: HouseSolids
    names: Names
    positions: dict[tuple[int, int], int] = field(default_factory=dict)
    drawn: dict[Camera, tuple[Mapping[str, float], Drawing]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.planner = Planner(self.telling.project, self.solids, self.names)
        told_by = (self.planner.ground, self.names, self.telling.project.show.units)
        self.teller, self.troubles = Teller(*told_by), Troubles(*told_by)
        self.rooms = {space.id: space.name for space in self.telling.project.spaces}

    def shot(self, number: int, line: str, planned: Planned, note: str) -> ShotPart:
        setup = planned.setup
        also, picture = self._picture(planned, setup) if setup is not None else ((), None)
        hidden = planned.seen.hidden_by if planned.seen is not None else ()
        elsewhere = planned.stands_in is not None and planned.stands_in != planned.space
        return ShotPart(
            number=number,
            line=line,
            space=planned.space,
            room=self.rooms[planned.space],
            size=planned.size.name,
            move=self.teller.move(planned),
            focal_mm=setup.focal_mm if setup else None,
            lens=lens_words(setup.focal_mm) if setup else "",
            subject=planned.name,
            also=also,
            blocked_by=self.names.of(*(id for id, share in hidden if share >= _HIDES)),
            eye_mm=setup.eye if setup else None,
            toward_mm=_toward(setup, planned) if setup else None,
            where=self.teller.where(planned),
            trouble=self.troubles.trouble(planned),
            note=" ".join(part for part in (note, *self.teller.notes(planned)) if part),
            picture=picture,
            position=self._position(setup) if setup else None,
            stands_in=self.rooms[planned.stands_in] if elsewhere and planned.stands_in else "",
            pitch_deg=setup.pitch_deg if setup else 0.0,
            shift_mm=setup.shift_mm if setup else 0.0,
        )

    def mark(self, shot: ShotPart, planned: Planned, setup: Setup) -> Marked:
        angle = field_of_view_deg(planned.kit.width_mm, setup.focal_mm)
        title = f"Position {shot.position}, {shot.lens}: shot {shot.number}, {shot.subject}"
        return Marked(shot.position or 0, setup.eye[:2], setup.yaw_deg, angle, _reach(setup, planned), title)

    def _position(self, setup: Setup) -> int:
        key = round(setup.eye[0] / _ONE_PLACE_MM), round(setup.eye[1] / _ONE_PLACE_MM)
        return self.positions.setdefault(key, len(self.positions) + 1)

    def _picture(self, planned: Planned, setup: Setup) -> tuple[tuple[str, ...], Drawing]:
        camera = setup.camera(planned.kit)
        if camera not in self.drawn:
            shares: Mapping[str, float] = in_frame(self.solids, camera)
            title = f"{planned.name}: {lens_words(setup.focal_mm)}"
            also = self._also(shares, planned)
            beside = f", with {', '.join(also)}" if also else ""
            alt = f"{planned.size.name.capitalize()} of {planned.name}{beside}."
            svg = perspective(self.solids, camera, filled=True, title=title, alt=alt, width_px=_PICTURE_PX)
            self.drawn[camera] = shares, Drawing(title, svg)
        shares, picture = self.drawn[camera]
        return self._also(shares, planned), picture

    def _also(self, shares: Mapping[str, float], planned: Planned) -> tuple[str, ...]:
        own = set(planned.subject.ids) if planned.subject is not None else set()
        shown = {opening.id for opening in self.telling.project.openings} | self.telling.house.standing.keys()
        ids = [id for id, share in shares.items() if share >= _LEAST_SHARE and id in shown - own]
        return self.names.of(*ids[:_NAMED])


def _reach(setup: Setup, planned: Planned) -> float:
    """Return how far away on the plan what is shown is; for a room 3 m, where it begins to be read."""
    if planned.subject is None:
        return 3000.0
    x, y, _ = planned.subject.centre.tolist()
    return max(400.0, ((x - setup.eye[0]) ** 2 + (y - setup.eye[1]) ** 2) ** 0.5)


def _toward(setup: Setup, planned: Planned) -> Place:
    reach = _reach(setup, planned)
    return (
        setup.eye[0] + reach * setup.ahead[0],
        setup.eye[1] + reach * setup.ahead[1],
        setup.eye[2] + reach * setup.ahead[2],
    )
