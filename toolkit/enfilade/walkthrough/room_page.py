"""One room's page."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from enfilade.checks.sentences import cautions_of
from enfilade.drawings.charts import aisle_chart, aisle_svg, run_charts, run_svg, storage_chart, storage_svg
from enfilade.drawings.scene import elevation_scene, plan_scene
from enfilade.drawings.svg import svg_sheet
from enfilade.findings import Finding
from enfilade.geometry.outlines import area_m2
from enfilade.lengths import System, show_size
from enfilade.project.placing import AgainstWall
from enfilade.project.project import Project
from enfilade.project.spaces import Space, Wall
from enfilade.quantities import Quantity, show_quantity
from enfilade.script.resolve import shown
from enfilade.walkthrough.count_tables import count_tables
from enfilade.walkthrough.decisions_part import decision_parts
from enfilade.walkthrough.findings_part import finding_parts
from enfilade.walkthrough.pages import Drawing, FindingPart, Picture, RoomPage
from enfilade.walkthrough.pictures import pictures
from enfilade.walkthrough.ranking import by_urgency, worth_mending
from enfilade.walkthrough.tables import remarks, room_tables
from enfilade.walkthrough.telling import Telling
from enfilade.walkthrough.views import views

__all__ = ["elevation_walls", "room_page"]

# Drawings are made as wide as they stand on the page, so that their text is as large as the page's.
_PAGE_PX: Final = 1090.0
_BESIDE_PX: Final = 640.0
_HALF_PX: Final = 530.0
_CROWDED: Final = 40
"""A room with more things than this gets its plan across the page, the decisions under it."""

# What hangs or sits on a wall without being worth an elevation of its own.
_SMALL: Final = {"receptacle", "switch", "light", "extinguisher"}


def room_page(telling: Telling, space_id: str, number: int) -> RoomPage:
    """Return the page of one room."""
    project = telling.project
    space = project.space(space_id)
    findings = telling.of(space_id)
    system = project.show.units
    plan = plan_scene(project, space_id, findings)
    wide = sum(thing.space == space_id for thing in project.things) > _CROWDED
    # A finding bears one number on the plan, on every elevation and in the text.
    numbers = {line.finding: line.number for line in plan.key if line.number}
    elevations = _elevations(telling, space, findings, numbers)

    def parts(chosen: Sequence[Finding]) -> tuple[FindingPart, ...]:
        return finding_parts(chosen, telling.answers, system, numbers, telling.names)

    open_ = [f for f in findings if f.verdict == "not assessed" and f.because == "missing fact"]
    beside = [f for f in findings if f.verdict == "not assessed" and f.because != "missing fact"]
    return RoomPage(
        id=space_id,
        number=number,
        name=space.name,
        story=space.story,
        size=_size(space, system),
        wide=wide,
        plan=Drawing(
            f"Plan of {space.name}.",
            svg_sheet(plan, system=system, title=f"{number} {space.name}", width_px=_PAGE_PX if wide else _BESIDE_PX),
        ),
        worth_mending=parts(worth_mending(findings, telling.answers)),
        decisions=decision_parts(project, (one for one in project.decisions if space_id in one.spaces)),
        elevations=elevations,
        short=parts(by_urgency(findings)),
        held=parts([finding for finding in findings if finding.verdict == "met"]),
        open=parts(open_),
        beside=parts(beside),
        ribbons=_ribbons(telling, space, findings),
        charts=_charts(telling, space, findings),
        counts=count_tables(telling.house, space_id, telling.rules),
        cautions=cautions_of(finding for finding in findings if finding not in beside),
        schedules=room_tables(project, space_id),
        pictures=tuple[Picture, ...](pictures(project, space_id)),
        remarks=remarks(project, space_id),
        lines=tuple(
            shown(line.text, telling.figures)
            for stop in project.script
            if stop.space == space_id
            for line in stop.lines
        ),
        views=views(telling, space_id),
    )


def elevation_walls(project: Project, space: Space) -> tuple[Wall, ...]:
    """Return the walls of a room that are worth an elevation: those that carry something."""
    walls = {
        thing.place.wall
        for thing in project.things
        if isinstance(thing.place, AgainstWall) and thing.state != "removed" and thing.kind not in _SMALL
    }
    return tuple(wall for wall in space.walls if wall.id in walls and not wall.open)


def _size(space: Space, system: System) -> str:
    words = [show_quantity(Quantity(area_m2(space.outline), "m2"), system)]
    if space.ceiling_mm is not None:
        words.append(f"ceiling {show_quantity(Quantity(space.ceiling_mm, 'mm'), system)}")
    if space.measured_to == "framing":
        lining = show_size(space.lining_mm, system)
        words.append("measured to framing" + (f", less {lining} lining" if space.lining_mm else ""))
    return ", ".join(words)


def _elevations(
    telling: Telling, space: Space, findings: Sequence[Finding], numbers: dict[str, int]
) -> tuple[Drawing, ...]:
    """Return the elevations of the walls that carry something; `numbers` grows by what only they mark."""
    project = telling.project
    coloured = {finish.id for finish in project.finishes if finish.colour}
    finished = {
        thing.place.wall
        for thing in project.things
        if isinstance(thing.place, AgainstWall) and thing.finish in coloured and thing.state != "removed"
    } | {wall.id for wall in space.walls if wall.finish in coloured}
    drawings = []
    for wall in elevation_walls(project, space):
        scene = elevation_scene(project, wall.id, findings, filled=True, numbers=numbers)
        numbers |= {line.finding: line.number for line in scene.key if line.number}
        name = wall.name or wall.id
        drawings.append(
            Drawing(
                f"Elevation, {name}{', in the recorded finishes' if wall.id in finished else ''}.",
                svg_sheet(scene, system=project.show.units, title=f"{space.name}, {name}", width_px=_HALF_PX),
            )
        )
    return tuple(drawings)


def _ribbons(telling: Telling, space: Space, findings: Sequence[Finding]) -> tuple[Drawing, ...]:
    if space.use != "kitchen":
        return ()
    system = telling.project.show.units
    return tuple(
        Drawing(f"Counter and landing along run {number}.", run_svg(chart, system=system, width_px=_PAGE_PX))
        for number, chart in enumerate(run_charts(telling.house, space.id, findings), 1)
    )


def _charts(telling: Telling, space: Space, findings: Sequence[Finding]) -> tuple[Drawing, ...]:
    if space.use != "kitchen":
        return ()
    project, system = telling.project, telling.project.show.units
    storage = storage_chart(telling.house, space.id, findings, by=telling.rules)
    drawings = [
        Drawing(
            "Shelf and drawer frontage against the guideline, by group.",
            storage_svg(storage, system=system, width_px=_HALF_PX),
        )
    ]
    aisles = aisle_chart(project, space.id, findings)
    if aisles.aisles:
        drawings.append(
            Drawing("Clear widths, with what is asked of each.", aisle_svg(aisles, system=system, width_px=_HALF_PX))
        )
    return tuple(drawings)
