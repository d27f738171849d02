"""What the charts show, as plain records worked out from the project and its findings."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final, get_args

from enfilade.checks.layout import RUN_KINDS, Layout, layout
from enfilade.checks.run import project_yardstick
from enfilade.checks.sentences import asks
from enfilade.checks.storage_units import STORAGE, Group, storage_units
from enfilade.checks.view import House, View
from enfilade.drawings.measures import AISLE_RULES
from enfilade.errors import OutOfRange
from enfilade.findings import Finding, Verdict
from enfilade.geometry.counters import path_position
from enfilade.geometry.outlines import area_m2
from enfilade.geometry.runs import Run
from enfilade.lengths import System
from enfilade.project.project import Project
from enfilade.quantities import convert
from enfilade.standards.yardsticks import Yardstick
from enfilade.trade.storage import frontage_needed, kitchen_size, other_storage_counted, split_of_frontage

__all__ = [
    "Aisle",
    "AisleChart",
    "Landing",
    "RunChart",
    "RunPiece",
    "StorageChart",
    "StorageGroup",
    "aisle_chart",
    "run_chart",
    "run_charts",
    "storage_chart",
]

LANDING_RULES: Final = ("K11", "K12", "K15", "K16", "K17", "K22", "K23", "K24")
_NAMES: Final[dict[Group, str]] = {
    "wall": "wall cabinets and shelves",
    "base": "base cabinets",
    "drawer": "drawers",
    "pantry": "pantries",
    "misc": "other storage",
}
_ON_FRONT_MM: Final = 80.0


@dataclass(frozen=True, slots=True)
class StorageGroup:
    """Frontage in one group beside its usual share, which is guidance and not asked [mm]."""

    group: Group
    name: str
    measured_mm: float
    usual_mm: float
    counted_mm: float


@dataclass(frozen=True, slots=True)
class StorageChart:
    """Shelf and drawer frontage of a kitchen.

    Attributes:
        size: `small`, `medium` or `large`, by floor area.
        total_mm, asked_mm: What counts in all, and what is asked.
        unknown: Names of units of which neither shelves nor drawers are recorded; the total is then a lower bound.
        verdict: None when the total is short but some units are unknown.
        label: What asks it, as people read it.
    """

    space: str
    system: System
    size: str
    groups: tuple[StorageGroup, ...]
    total_mm: float
    asked_mm: float
    unknown: tuple[str, ...]
    verdict: Verdict
    label: str


@dataclass(frozen=True, slots=True)
class RunPiece:
    """One stretch of a run from its left end [mm]."""

    subject: str
    name: str
    role: str
    start_mm: float
    end_mm: float
    corner_after: bool


@dataclass(frozen=True, slots=True)
class Landing:
    """A stretch of counter that a finding measured along a run [mm]."""

    finding: str
    name: str
    start_mm: float
    end_mm: float
    asked: str
    verdict: Verdict


@dataclass(frozen=True, slots=True)
class RunChart:
    """A counter run laid out straight, left to right as one faces it."""

    space: str
    system: System
    number: int
    pieces: tuple[RunPiece, ...]
    landings: tuple[Landing, ...]
    length_mm: float
    counter_mm: float


@dataclass(frozen=True, slots=True)
class Aisle:
    """A clear width beside what is asked [mm]."""

    finding: str
    name: str
    measured_mm: float
    asked_mm: float
    asked: str
    verdict: Verdict


@dataclass(frozen=True, slots=True)
class AisleChart:
    """The clear widths of a room, narrowest margin first."""

    space: str
    system: System
    aisles: tuple[Aisle, ...]


def storage_chart(
    project: Project | House, space: str, findings: Sequence[Finding] = (), *, by: Yardstick | None = None
) -> StorageChart:
    """Return the storage of a room beside the guideline.

    Args:
        project: The house, or the same worked out already.
        findings: When the total was judged among them, that verdict is told.
        by: Yardstick; None takes the project's.
    Raises:
        NotFound: The space does not exist, or the yardstick does not speak of storage.
    Source: Kitchen guideline 27 and its split, through `trade.storage`.
    """
    house = project if isinstance(project, House) else House(project)
    rules, room = by or project_yardstick(house.project), house.project.space(space)
    view = View(house, frozenset({*STORAGE, "sink"}), room)
    units = storage_units(view, rules)
    size = kitchen_size(area_m2(room.outline), by=rules)
    usual = split_of_frontage(size, by=rules)
    asked = frontage_needed(size, by=rules)[0]
    parts = {group: sum(unit.in_group(group) for unit in units) for group in get_args(Group)}
    counted = {**parts, "misc": other_storage_counted(parts["misc"], size, by=rules)}
    total = sum(counted.values())
    unknown = tuple(unit.stand.thing.called for unit in units if unit.frontage is None)
    enough = total >= asked.value_mm
    verdict: Verdict = "met" if enough else "not assessed" if unknown else "falls short"
    told = next((f.verdict for f in findings if f.rule == "K27" and f.space == space), verdict)
    groups = tuple(StorageGroup(g, _NAMES[g], parts[g], usual.get(g, 0.0), counted[g]) for g in parts)
    return StorageChart(
        space, house.project.show.units, size, groups, total, asked.value_mm, unknown, told, asked.source.label
    )


def run_charts(project: Project | House, space: str, findings: Sequence[Finding] = ()) -> tuple[RunChart, ...]:
    """Return every counter run of a room; empty without counters.

    Args:
        project: The house, or the same worked out already.
    Raises:
        NotFound: The space does not exist.
    """
    house = project if isinstance(project, House) else House(project)
    project, room = house.project, house.project.space(space)
    found = layout(View(house, frozenset(RUN_KINDS), room))
    runs = [run for run in found.runs if any(piece.role == "counter" for piece in run.pieces)]
    mine = [f for f in findings if f.space == space and f.rule in LANDING_RULES and f.verdict != "not assessed"]
    return tuple(_run(project, space, n, run, found, mine) for n, run in enumerate(runs, 1))


def run_chart(project: Project, space: str, index: int = 0, findings: Sequence[Finding] = ()) -> RunChart:
    """Return one counter run of a room.

    Raises:
        NotFound: The space does not exist.
        OutOfRange: It has fewer runs.
    """
    charts = run_charts(project, space, findings)
    if not 0 <= index < len(charts):
        raise OutOfRange(f"run {index} of {len(charts)} in {space}", expected=f"0 to {len(charts) - 1}")
    return charts[index]


def _run(project: Project, space: str, number: int, run: Run, found: Layout, findings: Iterable[Finding]) -> RunChart:
    pieces = tuple(
        RunPiece(p.station_id, found.stands[p.station_id].thing.called, p.role, p.start_mm, p.end_mm, p.corner_after)
        for p in run.pieces
    )
    landings = []
    for finding in findings:
        for mark in finding.marks:
            if mark.role != "measure" or mark.plane != "plan" or len(mark.points) != 2:
                continue
            (a, off_a), (b, off_b) = (path_position(run, point) for point in mark.points)
            if max(off_a, off_b) <= _ON_FRONT_MM and abs(a - b) > 5.0:
                asked = asks(finding.required, project.show.units) if finding.required else ""
                landings.append(Landing(finding.id, finding.title, min(a, b), max(a, b), asked, finding.verdict))
    counter = sum(p.length_mm for p in run.pieces if p.role == "counter")
    return RunChart(space, project.show.units, number, pieces, tuple(landings), run.length_mm, counter)


def aisle_chart(project: Project, space: str, findings: Sequence[Finding]) -> AisleChart:
    """Return the clear widths that the checks measured in a room, each beside what is asked.

    Raises:
        NotFound: The space does not exist.
    """
    project.space(space)
    names = {record.id: record.called for record in project.things} | {
        wall.id: wall.name or wall.id.replace("-", " ") for one in project.spaces for wall in one.walls
    }
    aisles = []
    for finding in findings:
        if (
            finding.space != space
            or finding.rule not in AISLE_RULES
            or finding.measured is None
            or finding.required is None
        ):
            continue
        unit, value = finding.required.unit, finding.required.value
        if unit not in ("in", "mm") or isinstance(value, tuple):
            continue
        between = " to ".join(names.get(one, one) for one in finding.subjects[:2])
        aisles.append(
            Aisle(
                finding.id,
                f"{finding.title}: {between}",
                convert(finding.measured.value, finding.measured.unit, "mm"),
                convert(value, unit, "mm"),
                asks(finding.required, project.show.units),
                finding.verdict,
            )
        )
    ordered = sorted(aisles, key=lambda one: (one.measured_mm - one.asked_mm, one.finding))
    return AisleChart(space, project.show.units, tuple(ordered))
