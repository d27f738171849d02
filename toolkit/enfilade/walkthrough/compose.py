"""A project and its findings, composed into the pages of one walkthrough for one audience."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from typing import Final

from enfilade.checks.answers import answers_by_finding
from enfilade.checks.run import check
from enfilade.checks.sentences import tally
from enfilade.checks.view import House
from enfilade.drawings.scene import plan_scene
from enfilade.drawings.svg import svg_sheet
from enfilade.findings import Finding
from enfilade.listing import joined
from enfilade.project.audience import for_audience, told_before, without_names
from enfilade.project.fields import Audience
from enfilade.project.issues import Issued, issued_to
from enfilade.project.people import Household
from enfilade.project.project import Project
from enfilade.script.figures import Figures
from enfilade.script.hearing import without_untellable
from enfilade.standards.yardsticks import Yardstick
from enfilade.walkthrough.changes import changes
from enfilade.walkthrough.decisions_part import decision_parts, undecided
from enfilade.walkthrough.findings_part import finding_parts, names_of
from enfilade.walkthrough.handover import handover
from enfilade.walkthrough.order import room_order
from enfilade.walkthrough.pages import Drawing, Row, Walkthrough
from enfilade.walkthrough.room_pages import RoomPages
from enfilade.walkthrough.spoken import spoken
from enfilade.walkthrough.tables import assumed_values, care_table, finish_table, product_table
from enfilade.walkthrough.telling import Telling

__all__ = ["AUDIENCE_WORDS", "compose", "telling_of"]

_RECORD_RULES: Final = frozenset({"R1", "R2", "R3", "T1", "T2", "T3", "T4", "T5", "T6", "T7"})
"""Rules about how well decisions are recorded and told: the studio's own business, no fault of the house."""
_WIDEST_PX: Final = 1080.0
_NARROWEST_PX: Final = 480.0
_LONG_HOUSE_MM: Final = 18_000.0

AUDIENCE_WORDS: Final[dict[Audience, str]] = {
    "client": "For the client",
    "public": "For anyone: names, addresses and prices are left out",
    "student": "For students: reasons and working first",
    "studio": "For the studio: everything that is recorded",
}


def telling_of(
    project: Project, findings: Iterable[Finding], rules: Yardstick, *, audience: Audience = "client"
) -> Telling:
    """Return what a walkthrough is made from: what the audience may not be told is left out here.

    Args:
        project: The whole record.
        findings: What `check` found on the whole record.
        rules: The yardstick that it was held against; held against it anew without the household for whom it is not.
        audience: Who it is for.
    """
    told, findings = for_audience(project, audience), tuple(findings)
    nameless = tuple(
        without_names(finding, project, audience)
        for finding in _tellable(project, told, findings, rules)
        if audience == "studio" or finding.rule not in _RECORD_RULES
    )
    told = without_untellable(told, Figures(told, nameless), Figures(project, findings))
    house, answers = House(told), answers_by_finding(told.answers)
    order, issued = tuple(room_order(house)), _issued(told, project, audience)
    return Telling(told, house, nameless, answers, rules, names_of(told), audience, order, issued)


def _issued(told: Project, project: Project, audience: Audience) -> Issued:
    """Return the last issue, in which names may stand that the record did not know then."""
    issued = issued_to(told, audience)
    if issued.last is None:
        return issued
    before = told_before(issued.last.project, project, told, audience)
    return replace(issued, last=replace(issued.last, project=before))


def _tellable(project: Project, told: Project, findings: tuple[Finding, ...], rules: Yardstick) -> tuple[Finding, ...]:
    """Return findings in which nothing shows of a household that is not told: who cooks, how many come to supper."""
    lived_in, known = (_nameless(one.household) for one in (project, told))
    if lived_in == known:
        return findings
    return tuple(check(project.model_copy(update={"household": known}), yardstick=rules))


def _nameless(household: Household) -> Household:
    people = tuple(person.model_copy(update={"name": ""}) for person in household.people)
    return household.model_copy(update={"people": people})


def compose(telling: Telling, *, progress: Callable[[str], None] = lambda words: None) -> Walkthrough:
    """Return the walkthrough; the page of a room is made when it is first read.

    Args:
        telling: What it is made from.
        progress: Called with a few words before each step that takes a while.
    """
    told, rules, audience, order = telling.project, telling.rules, telling.audience, telling.order
    in_house = telling.of(None)
    return Walkthrough(
        title=told.name,
        language="en",
        audience=audience,
        audience_words=AUDIENCE_WORDS[audience],
        studio=told.show.studio.name,
        designer=told.show.studio.designer,
        client=joined(told.client.names),
        version=told.show.version,
        date=told.show.date.isoformat() if told.show.date else "",
        stage=told.show.stage,
        yardstick=rules.title,
        house_rules=rules.house_rules,
        brief=told.brief.text,
        household=_household(told),
        needs=_needs(told),
        plan=_house_plan(telling, order),
        tally=tuple(tally(telling.findings).items()),
        rooms=RoomPages(telling, progress),
        house=finding_parts(
            [f for f in in_house if f.verdict != "met"], telling.answers, told.show.units, {}, telling.names
        ),
        undecided=undecided(told),
        to_verify=assumed_values(told),
        schedules=(product_table(told, audience), finish_table(told, audience), care_table(told)),
        sources=_sources(telling.findings),
        spoken=spoken(telling),
        changes=changes(telling),
        handover=handover(telling),
        decisions=decision_parts(told, (decision for decision in told.decisions if not decision.spaces)),
    )


def _house_plan(telling: Telling, order: Sequence[str]) -> Drawing | None:
    project = telling.project
    corners = [corner for space in project.spaces for corner in space.outline]
    if not corners:
        return None
    long_mm = max(max(c[i] for c in corners) - min(c[i] for c in corners) for i in (0, 1))
    scene = plan_scene(project, None, (), marks=False, order=order)
    # A small house is not blown up to the width of the page.
    width_px = min(_WIDEST_PX, max(_NARROWEST_PX, _WIDEST_PX * long_mm / _LONG_HOUSE_MM))
    return Drawing(
        "The rooms, numbered in the order in which one walks through them.",
        svg_sheet(scene, system=project.show.units, frame=False, keys=False, width_px=width_px),
    )


def _household(project: Project) -> tuple[str, ...]:
    household = project.household
    parts = []
    if household.count:
        parts.append(f"{household.count} {'person lives' if household.count == 1 else 'people live'} here.")
    if household.cooks_together:
        several = household.cooks_together > 1
        parts.append(f"{household.cooks_together} cook at the same time." if several else "One person cooks.")
    if any(person.uses_wheelchair for person in household.people):
        parts.append("A wheelchair is used in the house.")
    parts += [f"{meal.people} sit down: {meal.what or 'a regular meal'}." for meal in household.gatherings]
    return tuple(line for line in (" ".join(parts), household.entertains) if line)


def _needs(project: Project) -> tuple[Row, ...]:
    rows = []
    for need in sorted(project.brief.needs, key=lambda one: one.number):
        decided = [f"{one.number} {one.title}" for one in project.decisions if need.id in one.needs]
        rows.append((str(need.number), need.text, "; ".join(decided) or "not yet decided"))
    return tuple(rows)


def _sources(findings: Iterable[Finding]) -> tuple[str, ...]:
    seen = {(f.source.document, f.source.body, f.source.edition) for f in findings}
    return tuple(", ".join(part for part in source if part) for source in sorted(seen))
