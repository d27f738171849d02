"""What is handed over with the finished house."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from typing import Final

from enfilade.checks.sentences import sentence
from enfilade.checks.where_bought import where_bought
from enfilade.listing import capital
from enfilade.project.choices import Finish, Product
from enfilade.project.project import Project
from enfilade.project.spaces import OpenPoint, Space
from enfilade.standards.cautions import cautions
from enfilade.walkthrough.findings_part import about
from enfilade.walkthrough.pages import Handover, Row, Table
from enfilade.walkthrough.registers import registers
from enfilade.walkthrough.services import NOT_KNOWN, every_words, services_of
from enfilade.walkthrough.tables import each_once
from enfilade.walkthrough.telling import Telling

__all__ = ["handover"]

_NAMED: Final = 6
OPEN: Final = "open"


def handover(telling: Telling) -> Handover:
    """Return registers, services, open points, lessons and credits, as far as this audience may be told them."""
    told = telling.project
    return Handover(
        register=registers(told, telling.audience),
        services=_service_table(told),
        points=_point_table(telling),
        lessons=tuple((f"{one.number} {one.title}", one.hindsight) for one in told.decisions if one.hindsight),
        credits=tuple(_credits(told)),
    )


def _service_table(project: Project) -> Table:
    """Return what is to be done again and again, what is due first at the top; what has no day yet stands last."""
    today = project.show.date
    due = sorted(
        ((one.next(today), place, one) for place, one in enumerate(services_of(project))),
        key=lambda found: (found[0] is None, found[0] or dt.date.max, found[1]),
    )
    rows = tuple(
        (
            one.what,
            one.of,
            each_once(one.rooms, _NAMED) or "no room yet",
            every_words(one.every_months),
            day.isoformat() if day else NOT_KNOWN,
            one.by or "not said",
        )
        for day, _, one in due
    )
    counted = f"Next due is counted from {today.isoformat()}, the date of this document." if today else ""
    note = f"{counted} {cautions()['service']}".strip() if rows else ""
    return Table("Services", ("What is done", "Of", "Where", "How often", "Next due", "By"), rows, note=note)


def _point_table(telling: Telling) -> Table:
    """Return what is left to put right, what is due first at the top, and then what has been put right."""
    spaces = {space.id: space for space in telling.project.spaces}
    rooms = [spaces[id] for id in telling.order if id in spaces]
    points = [(space, point) for space in rooms for point in space.points]
    left = [(space, point) for space, point in points if point.closed_on is None]
    done = [(space, point) for space, point in points if point.closed_on is not None]
    left.sort(key=lambda found: found[1].due or dt.date.max)
    done.sort(key=lambda found: found[1].closed_on or dt.date.max)
    rows = [_point(telling.project, *found) for found in left]
    rows += _to_mend(telling)
    rows += [_point(telling.project, *found) for found in done]
    count = len(rows) - len(done)
    note = f"{count} open, {len(done)} put right." if rows else ""
    head = ("Room", "What", "Things", "Trade", "By", "Found", "Due", "Put right")
    return Table("Open points", head, tuple(rows), note=note)


def _point(project: Project, space: Space, point: OpenPoint) -> Row:
    things = [project.things_by_id[id].called for id in point.things if id in project.things_by_id]
    return (
        space.name, point.what, each_once(things, _NAMED), point.trade, point.by, _day(point.found_on), _day(point.due),
        _day(point.closed_on) or OPEN,
    )  # fmt: skip


def _to_mend(telling: Telling) -> Iterator[Row]:
    """Yield what was found by the rules, is to be mended, and still falls short."""
    names = {space.id: space.name for space in telling.project.spaces}
    for finding in telling.findings:
        answer = telling.answers.get(finding.id)
        if answer is not None and answer.kind == "to mend" and finding.verdict == "falls short":
            words = sentence(finding, telling.project.show.units, telling.names)
            reason = f" {answer.reason}" if answer.reason else ""
            yield (
                names.get(finding.space or "", "Whole house"), f"{words}{reason}", about(finding, telling.names), "",
                answer.by, _day(answer.on), "", OPEN,
            )  # fmt: skip


def _credits(project: Project) -> Iterator[Row]:
    """Yield who built and who made it; whom this audience may not know has no name here already."""
    for trade in project.show.trades:
        if trade.name:
            what = capital(trade.trade)
            yield f"{what}: {trade.did}" if what and trade.did else what or trade.did or "Built", trade.name
    made: dict[str, list[str]] = {}
    rooms, _ = where_bought(project)  # Who made what was weighed and not chosen is thanked for nothing.
    records: tuple[Product | Finish, ...] = (*project.products, *project.finishes)
    for record in records:
        if record.maker and record.id in rooms["products" if isinstance(record, Product) else "finishes"]:
            made.setdefault(record.maker, []).append(record.name)
    for maker, names in made.items():
        yield capital("; ".join(_first(names))), maker


def _first(names: list[str]) -> list[str]:
    return [*names[:_NAMED], *([f"and {len(names) - _NAMED} more"] if len(names) > _NAMED else [])]


def _day(day: dt.date | None) -> str:
    return day.isoformat() if day else ""
