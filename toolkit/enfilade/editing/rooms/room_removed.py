"""A room taken out of the house, with what belongs to it and to nothing else."""

from __future__ import annotations

from enfilade.editing.forms.removing import with_row_removed
from enfilade.errors import Refused
from enfilade.geometry.boxes import Segment
from enfilade.project.doorways import near_to_far
from enfilade.project.project import Project
from enfilade.project.spaces import Opening, Swing
from enfilade.project.standing import opening_segment, wall_segments

__all__ = ["in_the_way", "space_removed"]


def in_the_way(project: Project, space_id: str) -> tuple[str, ...]:
    """Return what would be lost with a room, in words: things, openings of its own, lines to speak."""
    space = project.space(space_id)
    own = {wall.id for wall in space.walls}
    things = sum(thing.space == space_id for thing in project.things)
    openings = sum(one.wall in own and one.beyond not in project.walls_by_id for one in project.openings)
    lines = sum(len(stop.lines) for stop in project.script if stop.space == space_id)
    counted = ((things, "thing", "things"), (openings, "opening", "openings"), (lines, "line", "lines to speak"))
    return tuple(f"{number} {one if number == 1 else many}" for number, one, many in counted if number)


def space_removed(project: Project, space_id: str, *, with_all: bool = False) -> Project:
    """Return the project without a room.

    Its things, its openings to the outside and its lines to speak go with it. A door to another room stays with
    that room. Decisions and photographs stay, and no longer name it.

    Args:
        with_all: What stands in it may go too.
    Raises:
        NotFound: There is no such room.
        Refused: Something stands in it, and it was not said that it may go.
    """
    space = project.space(space_id)
    if not with_all and (lost := in_the_way(project, space_id)):
        raise Refused(
            f"{space.name} is not empty: {', '.join(lost)}",
            expected="an empty room",
            do="take it out with everything in it, or empty it first",
        )
    own, lines = {wall.id for wall in space.walls}, wall_segments(project.spaces)
    openings = [
        _of_the_other_room(one, lines[one.wall], one.beyond, lines[one.beyond])
        if one.wall in own and one.beyond in lines and one.beyond not in own
        else one
        for one in project.openings
    ]
    return with_row_removed(project.with_records(openings=openings), ("spaces", space_id), along=True)


def _of_the_other_room(opening: Opening, line: Segment, beyond: str, far: Segment) -> Opening:
    """Return an opening as the room beyond has it."""
    segment = near_to_far(opening_segment(opening, line), far)
    offset = round(min(max(far.place(segment.a)[0], 0.0), max(far.length_mm - opening.width_mm, 0.0)), 6)
    swing = opening.swing
    if isinstance(swing, Swing):
        # What is left and on this side for one room is right and on the other side for its neighbour.
        hinge = "right" if swing.hinge == "left" else "left"
        swing = swing.model_copy(
            update={"hinge": hinge, "into": "other side" if swing.into == "this side" else "this side"}
        )
    update = {"wall": beyond, "beyond": None, "from_end": "left", "offset_mm": offset, "swing": swing}
    return opening.model_copy(update=update)
