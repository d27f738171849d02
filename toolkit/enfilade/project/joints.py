"""What must hold between records: ids are unique, names lead somewhere, and things stand in their rooms."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import TYPE_CHECKING

import shapely

from enfilade.errors import Fault
from enfilade.geometry.boxes import Segment
from enfilade.geometry.outlines import polygon_of
from enfilade.geometry.points import dot
from enfilade.lengths import TOLERANCE_MM
from enfilade.project.choices import Finish, Product
from enfilade.project.furnishings import WindowTreatment
from enfilade.project.placing import AgainstWall, SetIn
from enfilade.project.project import repeated
from enfilade.project.services import Switch
from enfilade.project.standing import opening_segment, stands, wall_segments

if TYPE_CHECKING:
    from enfilade.project.project import Project

__all__ = ["faults_between"]

_Named = Callable[[str, Iterable[str | None], str], Iterator[Fault]]
LISTS = ("spaces", "openings", "things", "products", "finishes", "decisions", "answers", "photographs", "script")

# A switch or receptacle sits in the thickness of a wall, so its middle may lie a little beyond the finished face.
_IN_THE_WALL_MM = 100.0
# Two faces of one wall look opposite ways; measured rooms are never quite square, so up to 60 degrees off.
_FACING = 0.5


def faults_between(project: Project) -> Iterator[Fault]:
    """Yield what does not fit between the records of a project, with its place."""
    yield from _repeats(project)
    known = {name: {record.id for record in getattr(project, name)} for name in LISTS}
    known["walls"] = set(project.walls_by_id)
    known["subjects"] = known["things"] | known["openings"] | known["walls"]
    known["needs"] = {need.id for need in project.brief.needs}
    broken = list(_loose_ends(project, known))
    broken += _rings(project)
    yield from broken
    if broken:
        return  # Places cannot be worked out before every name leads somewhere.
    lines = wall_segments(project.spaces)
    yield from _openings_that_do_not_fit(project, lines)
    yield from _openings_that_lead_nowhere(project, lines)
    yield from _things_out_of_place(project, lines)


def _repeats(project: Project) -> Iterator[Fault]:
    for name in LISTS:
        for twice in repeated(record.id for record in getattr(project, name)):
            yield Fault(f"{name}/{twice}", "id stands more than once", "one id a record")
    for twice in repeated(wall.id for space in project.spaces for wall in space.walls):
        yield Fault(f"spaces/walls/{twice}", "wall id stands more than once in the house", "one id a wall")
    for space in project.spaces:
        for twice in repeated(dropped.id for dropped in space.dropped):
            yield Fault(f"spaces/{space.id}/dropped/{twice}", "id stands more than once", "one id a dropped ceiling")
    for place, records in (("brief/needs", project.brief.needs), ("household/people", project.household.people)):
        for twice in repeated(record.id for record in records):
            yield Fault(f"{place}/{twice}", "id stands more than once", "one id a record")
    for place, numbered in (("brief/needs", project.brief.needs), ("decisions", project.decisions)):
        for twice in repeated(str(record.number) for record in numbered):
            yield Fault(place, f"number {twice} stands more than once", "one number a record")


def _loose_ends(project: Project, known: dict[str, set[str]]) -> Iterator[Fault]:
    def named(place: str, ids: Iterable[str | None], what: str) -> Iterator[Fault]:
        for name in ids:
            if name is not None and name not in known[what]:
                yield Fault(place, f"{name!r} is not among the {what}", f"an id of the {what}")

    for need in project.brief.needs:
        yield from named(f"brief/needs/{need.id}/spaces", need.spaces, "spaces")
    for space in project.spaces:
        finishes = [space.floor_finish, space.ceiling_finish, *(wall.finish for wall in space.walls)]
        yield from named(f"spaces/{space.id}/finish", finishes, "finishes")
    for opening in project.openings:
        yield from named(f"openings/{opening.id}/wall", [opening.wall], "walls")
        if opening.beyond != "none":
            yield from named(f"openings/{opening.id}/beyond", [opening.beyond], "walls")
    for thing in project.things:
        at = f"things/{thing.id}"
        yield from named(f"{at}/space", [thing.space], "spaces")
        yield from named(f"{at}/product", [thing.product], "products")
        yield from named(f"{at}/finish", [thing.finish], "finishes")
        if isinstance(thing.place, AgainstWall):
            yield from named(f"{at}/place/wall", [thing.place.wall], "walls")
        elif isinstance(thing.place, SetIn):
            yield from named(f"{at}/place/host", [thing.place.host], "things")
        if isinstance(thing, Switch):
            yield from named(f"{at}/controls", thing.controls, "things")
        elif isinstance(thing, WindowTreatment):
            yield from named(f"{at}/opening", [thing.opening], "openings")
    for decision in project.decisions:
        at = f"decisions/{decision.id}"
        for field in ("spaces", "needs", "things"):
            yield from named(f"{at}/{field}", getattr(decision, field), field)
        for option in decision.options:
            for field in ("products", "finishes"):
                yield from named(f"{at}/options/{option.id}/{field}", getattr(option, field), field)
    for photograph in project.photographs:
        at = f"photographs/{photograph.id}"
        yield from named(f"{at}/space", [photograph.space], "spaces")
        for field in ("things", "decisions"):
            yield from named(f"{at}/{field}", getattr(photograph, field), field)
    yield from _loose_ends_of_the_telling(project, named)


def _loose_ends_of_the_telling(project: Project, named: _Named) -> Iterator[Fault]:
    speaking = project.show.speaking
    known_parts = [part.id for part in speaking.parts]
    for twice in repeated(known_parts):
        yield Fault(f"show/speaking/parts/{twice}", "id stands more than once", "one id a record")
    yield from named("show/speaking/first", [speaking.first], "spaces")
    yield from named("show/speaking/last", [speaking.last], "spaces")
    for twice in repeated(trade.id for trade in project.show.trades):
        yield Fault(f"show/trades/{twice}", "id stands more than once", "one id a record")
    said = [(f"script/{stop.id}/lines", stop.lines) for stop in project.script]
    for part in speaking.parts:
        said += [
            (f"show/speaking/parts/{part.id}/recap", part.recap),
            (f"show/speaking/parts/{part.id}/lead_in", part.lead_in),
        ]
    for stop in project.script:
        yield from named(f"script/{stop.id}/space", [stop.space], "spaces")
        if stop.part is not None and stop.part not in known_parts:
            yield Fault(
                f"script/{stop.id}/part", f"{stop.part!r} is not among the parts", "an id of show/speaking/parts"
            )
    for place, lines in said:
        for line in lines:
            for field in ("things", "decisions", "photographs"):
                yield from named(f"{place}/{line.id}/{field}", getattr(line, field), field)
            if line.shot is not None:
                yield from named(f"{place}/{line.id}/shot/subjects", line.shot.subjects, "subjects")
    for space in project.spaces:
        for field in ("views", "points"):
            for twice in repeated(record.id for record in getattr(space, field)):
                yield Fault(f"spaces/{space.id}/{field}/{twice}", "id stands more than once", "one id a record")
        for point in space.points:
            yield from named(f"spaces/{space.id}/points/{point.id}/things", point.things, "things")
    bought: tuple[Product | Finish, ...] = (*project.products, *project.finishes)
    for record in bought:
        for twice in repeated(service.id for service in record.services):
            place = "products" if isinstance(record, Product) else "finishes"
            yield Fault(f"{place}/{record.id}/services/{twice}", "id stands more than once", "one id a record")


def _openings_that_do_not_fit(project: Project, lines: dict[str, Segment]) -> Iterator[Fault]:
    for opening in project.openings:
        if opening.kind == "skylight":
            continue
        length = lines[opening.wall].length_mm
        if opening.width_mm > length + TOLERANCE_MM:
            yield Fault(
                f"openings/{opening.id}/width_mm",
                f"{opening.width_mm:g} mm is wider than its wall {opening.wall!r} of {length:.0f} mm",
                "an opening that fits its wall",
            )
        elif not -TOLERANCE_MM <= opening.offset_mm <= length - opening.width_mm + TOLERANCE_MM:
            yield Fault(
                f"openings/{opening.id}/offset_mm",
                f"{opening.offset_mm:g} mm puts it past an end of its wall {opening.wall!r} of {length:.0f} mm",
                f"0 to {length - opening.width_mm:.0f} mm",
            )


def _openings_that_lead_nowhere(project: Project, lines: dict[str, Segment]) -> Iterator[Fault]:
    """Yield openings whose other side cannot be seen through them."""
    for opening in project.openings:
        if opening.beyond is None or opening.beyond == "none" or opening.kind == "skylight":
            continue
        place, far = f"openings/{opening.id}/beyond", lines[opening.beyond]
        near = opening_segment(opening, lines[opening.wall])
        if dot(near.outward, far.outward) > -_FACING:
            yield Fault(place, f"{opening.beyond!r} does not face {opening.wall!r}", "a wall that faces the other way")
            continue
        (right, _), (left, _) = far.place(near.a), far.place(near.b)
        if min(right, far.length_mm) - max(left, 0.0) < TOLERANCE_MM:
            yield Fault(place, f"the opening lies beside {opening.beyond!r}", "the wall that is behind the opening")


def _rings(project: Project) -> Iterator[Fault]:
    """Yield things that are set in themselves, directly or through others; one fault a ring."""
    hosts = {thing.id: thing.place.host for thing in project.things if isinstance(thing.place, SetIn)}
    settled: set[str] = set()
    for start in hosts:
        chain: dict[str, None] = {}
        at = start
        while at in hosts and at not in settled and at not in chain:
            chain[at] = None
            at = hosts[at]
        if at in chain:
            what = f"{at!r} is set in itself, through {hosts[at]!r}"
            yield Fault(f"things/{at}/place/host", what, "a host that stands")
        settled.update(chain)


def _things_out_of_place(project: Project, lines: dict[str, Segment]) -> Iterator[Fault]:
    if not project.things:
        return
    standing = stands(project.things, lines)
    floors = {space.id: polygon_of(space.outline) for space in project.spaces}
    middles = shapely.points([(standing[thing.id].box.x, standing[thing.id].box.y) for thing in project.things])
    distances = shapely.distance([floors[thing.space] for thing in project.things], middles)
    for thing, outside in zip(project.things, distances, strict=True):
        if outside > _IN_THE_WALL_MM:
            yield Fault(
                f"things/{thing.id}/place",
                f"its middle stands {outside:.0f} mm outside {thing.space!r}",
                "a place inside its own space",
            )
