"""The plan of one shot: what it shows, from where, and what is wrong with it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Final

import shapely

from enfilade.checks.floor import footprint
from enfilade.checks.shown import Names
from enfilade.drawings.solids import HouseSolids
from enfilade.geometry.sightlines import Place
from enfilade.project.project import Project
from enfilade.project.speaking import Shot, SpokenLine
from enfilade.walkthrough.filming.camera import Kit, Setup
from enfilade.walkthrough.filming.ground import Ground
from enfilade.walkthrough.filming.judging import Seen, aimed, judged, toward
from enfilade.walkthrough.filming.lines import ScriptLine
from enfilade.walkthrough.filming.rooms import RoomView, find_room
from enfilade.walkthrough.filming.search import Found, find, lens_heights
from enfilade.walkthrough.filming.sizes import SIZES, Size, size_for
from enfilade.walkthrough.filming.subjects import Subject, Subjects

__all__ = ["Planned", "Planner"]

_LEAST_OF_A_ROOM: Final = "medium"
"""A room of whose floor less is in view than this size asks is not shown (own choice)."""
_STANDS_ABOVE_MM: Final = 30.0
_WIDE_LENSES_MM: Final = (20.0, 18.0, 16.0, 14.0, 12.0, 10.0, 8.0)
"""Wide lenses that are made for the sensors of today, to be hired where those at hand are too long (recalled)."""


@dataclass(frozen=True)
class Planned:
    """One shot as planned.

    Attributes:
        space: The room of the line.
        shot: The record, or what stands for it where none is recorded.
        size: What is aimed at.
        kit: Lenses and picture.
        setup: The camera; None when it can stand nowhere.
        stands_in: The room in which it stands; None outside every room.
        subject: What is framed, as it is judged; None for a room.
        name: What people call the subject.
        seen: What is seen of it; None for a room.
        share: Of the floor of a room, what is in view [-].
        fits: The whole of what is framed can be in frame.
        stuck_in: Ids of what a given camera stands in or over, and whether the lens itself is in it.
        asked: What was asked for stands in the house; else the room is shown for it.
        fixed: The record says where the camera stands.
        better_mm: For a room of which too little is in view: the lens that would show enough; None when none would.
    """

    space: str
    shot: Shot
    size: Size
    kit: Kit
    setup: Setup | None
    stands_in: str | None
    subject: Subject | None
    name: str
    seen: Seen | None = None
    share: float = 1.0
    fits: bool = True
    stuck_in: tuple[tuple[str, bool], ...] = ()
    asked: bool = True
    fixed: bool = False
    better_mm: float | None = None

    @property
    def across(self) -> bool:
        """Tell whether the width must fit the picture: a pan or a sideways track crosses it."""
        return self.shot.move not in ("pan", "track")

    @property
    def upright(self) -> bool:
        """Tell whether the height must fit the picture."""
        return self.shot.move not in ("tilt", "pedestal")

    @property
    def works(self) -> bool:
        """Tell whether the shot shows what it should."""
        if self.setup is None or any(inside for _, inside in self.stuck_in) or (self.fixed and self.stands_in is None):
            return False
        if self.seen is None:
            return self.share >= self.least
        return self.fits and self.seen.enough

    @property
    def least(self) -> float:
        """Return the share of a room that must be in view [-]."""
        return self.size.of_room if self.shot.size else SIZES[_LEAST_OF_A_ROOM].of_room


class Planner:
    """Plans the shots of one house; what is asked twice is worked out once.

    Args:
        project: The house, as it is told.
        solids: The same in three dimensions.
        names: What people call everything, by id.
    """

    def __init__(self, project: Project, solids: HouseSolids, names: Names) -> None:
        self.project, self.solids = project, solids
        self.ground = Ground(solids)
        self.subjects = Subjects(self.ground, names)
        self.closer = Subjects(self.ground, names, dense=1.4)
        self.closest = Subjects(self.ground, names, dense=2.0)
        self.names = names
        self._decided = {decision.id: decision.things for decision in project.decisions}
        self._known: dict[tuple[object, ...], Planned] = {}

    def plan(self, at: ScriptLine) -> Planned:
        """Return the shot of a line."""
        shot = at.line.shot or Shot()
        asked = tuple(self._asked(shot, at.line))
        key = (at.space, asked, shot.size, shot.move, shot.focal_mm, shot.eye)
        if key not in self._known:
            self._known[key] = self._planned(at.space, shot, asked)
        return self._known[key]

    def _asked(self, shot: Shot, line: SpokenLine) -> Iterable[str]:
        if shot.subjects or line.things:
            return shot.subjects or line.things
        return [thing for decision in line.decisions for thing in self._decided.get(decision, ())]

    def _planned(self, space: str, shot: Shot, asked: tuple[str, ...]) -> Planned:
        subject = self.subjects.of(asked, space) if asked else None
        kit = Kit.of(self.project.show.filming, shot.focal_mm)
        if subject is None:
            return self._of_room(space, shot, kit, there=not asked)
        size = size_for(shot, room=False)
        close = self.closest.of(asked, space) or subject
        bare = Planned(space, shot, size, kit, None, None, close.middle(size.part), subject.name)
        if shot.eye is not None:
            return self._fixed(bare, subject.middle(size.part))
        more = (self.closer.of(asked, space) or subject).middle(size.part)
        return self._searched(bare, (subject.middle(size.part), more))

    # A thing, somewhere

    def _searched(self, bare: Planned, looks: tuple[Subject, Subject]) -> Planned:
        """Return the shot from the first room from which all is seen, else from that in which it is best."""
        tried: list[tuple[float, Planned]] = []
        for number, space in enumerate(self._rooms_for(bare.space, looks[0])):
            planned = self._in(space, bare, looks, thorough=number == 0)
            if planned is None:
                continue
            if planned[1].works:
                return planned[1]
            tried.append((planned[0] + 1.5 * (number > 0), planned[1]))
        return min(tried, key=lambda one: one[0])[1] if tried else bare

    def _rooms_for(self, space: str, subject: Subject) -> tuple[str, ...]:
        home = space if set(subject.spaces) & set(self.ground.room(space)) else subject.spaces[0]
        return tuple(dict.fromkeys([space, home, *self.ground.next_to(home)]))

    def _in(
        self, space: str, bare: Planned, looks: tuple[Subject, Subject], *, thorough: bool
    ) -> tuple[float, Planned] | None:
        """Return the best shot from one room with what speaks against it; every height is tried in the room itself."""
        heights = lens_heights(self.ground, space, self.project.show.filming.camera_height_mm)
        heights = heights if thorough else heights[:1]
        best: tuple[float, Planned] | None = None
        # Few points promise, many decide: where they disagree the search is made again with many.
        for points in looks:
            found = find(
                self.ground, points, bare.size, bare.kit, space, heights,
                ahead=[bare.space], across=bare.across, upright=bare.upright,
            )  # fmt: skip
            if found is None:
                return None
            planned = self._as_found(bare, found)
            best = (found.cost, planned) if best is None or planned.works or not best[1].works else best
            if best[1].works or found.cost > 3.0 or not found.fits:
                break
        return best

    def _as_found(self, bare: Planned, found: Found) -> Planned:
        return self._with(bare, found.setup, found.space, fits=found.fits)

    def _with(self, bare: Planned, setup: Setup, stands_in: str | None, *, fits: bool, fixed: bool = False) -> Planned:
        assert bare.subject is not None
        rooms = [room for room in (stands_in, bare.space, *bare.subject.spaces) if room is not None]
        way = self.ground.in_the_way(rooms)
        seen = judged(setup, bare.subject, bare.kit, way, across=bare.across, upright=bare.upright)
        where = self.solids.space_at(setup.eye[:2]) or stands_in
        return replace(bare, setup=setup, stands_in=where, seen=seen, fits=fits, fixed=fixed)

    # A camera that is given

    def _fixed(self, bare: Planned, subject: Subject) -> Planned:
        eye = self._eye(bare.shot)
        assert bare.subject is not None
        setup = aimed(eye, bare.subject, bare.kit, bare.size, across=bare.across, upright=bare.upright)
        lost = setup is None
        where = self.solids.space_at(eye[:2])
        setup = setup or toward(eye, (float(subject.centre[0]), float(subject.centre[1])), bare.kit)
        planned = self._with(bare, setup, where, fits=not lost and setup.fills <= 1.0, fixed=True)
        return replace(planned, stands_in=where, stuck_in=self._stuck(eye))

    def _eye(self, shot: Shot) -> Place:
        assert shot.eye is not None
        return shot.eye.x_mm, shot.eye.y_mm, shot.eye.height_mm

    def _stuck(self, eye: Place) -> tuple[tuple[str, bool], ...]:
        """Return what stands where a given camera is: in it, or under it where its foot or the person must be."""
        here = shapely.Point(eye[:2])
        found = []
        for stand in self.ground.house.standing.values():
            thing = stand.thing
            if thing.kind in ("rug", "light") or not footprint(stand).contains(here):
                continue
            if thing.bottom_mm < eye[2] < thing.top_mm:
                found.append((thing.id, True))
            elif _STANDS_ABOVE_MM < thing.top_mm <= eye[2]:
                found.append((thing.id, False))
        return tuple(found)

    # A room

    def _of_room(self, space: str, shot: Shot, kit: Kit, *, there: bool) -> Planned:
        size = size_for(shot, room=True)
        name = self.ground.house.spaces[space].name
        eye = self._eye(shot) if shot.eye is not None else None
        height = lens_heights(self.ground, space, self.project.show.filming.camera_height_mm)[0]
        bare = Planned(space, shot, size, kit, None, None, None, name, asked=there)
        view = self._room_view(bare, height, eye)
        if view is None:
            return bare
        planned = replace(
            bare,
            size=self._size_had(view, bare),
            setup=view.setup,
            stands_in=self.solids.space_at(view.setup.eye[:2]),
            share=view.share,
            stuck_in=self._stuck(eye) if eye else (),
            fixed=eye is not None,
        )
        enough = planned.share >= planned.least
        return planned if enough else replace(planned, better_mm=self._wider_lens(bare, height, eye))

    def _room_view(self, bare: Planned, height: float, eye: Place | None) -> RoomView | None:
        view = find_room(self.ground, bare.space, bare.size.of_room, bare.kit, height, eye=eye)
        return view if eye is not None else self._through_a_doorway(view, bare, height)

    def _size_had(self, view: RoomView, bare: Planned) -> Size:
        """Return the size that was asked; where none was, the widest that the room allows."""
        if bare.shot.size is not None:
            return bare.size
        had = [size for size in SIZES.values() if size.of_room <= min(bare.size.of_room, view.share)]
        return max(had, key=lambda size: size.of_room, default=bare.size)

    def _through_a_doorway(self, view: RoomView | None, bare: Planned, height: float) -> RoomView | None:
        if view is not None and view.share >= bare.least:
            return view
        found = [view] if view is not None else []
        for other in self.ground.next_to(bare.space):
            more = find_room(self.ground, bare.space, bare.size.of_room, bare.kit, height, stands_in=other)
            if more is not None and (view is None or more.share > view.share + 0.05):
                found.append(more)
        return min(found, key=lambda one: one.cost + 0.3 * (one is not view), default=None)

    def _wider_lens(self, bare: Planned, height: float, eye: Place | None) -> float | None:
        """Return the longest lens that would show enough of the room: one at hand, or a wider one down to 8 mm."""
        lenses = {*Kit.of(self.project.show.filming).lenses_mm, *_WIDE_LENSES_MM}
        for focal in sorted((lens for lens in lenses if lens < bare.kit.lenses_mm[0]), reverse=True):
            # Planned as if that lens were asked for, so that whoever takes the advice gets the shot.
            kit = Kit.of(self.project.show.filming, focal)
            view = self._room_view(replace(bare, kit=kit), height, eye)
            if view is not None and view.share >= bare.least:
                return focal
        return None
