"""Laws of all checks, whichever there are."""

from __future__ import annotations

import json
import math
from collections.abc import Iterator
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from enfilade.checks.answers import answers_by_finding, falls_short_unanswered
from enfilade.checks.registry import PARTS, Check
from enfilade.checks.run import _views, all_checks, check, project_yardstick
from enfilade.checks.view import House
from enfilade.findings import Finding
from enfilade.project.choices import Answer
from enfilade.project.demo import demo
from enfilade.project.placing import SetIn
from enfilade.project.project import Project
from laws.houses import houses, kitchen_plain, kitchens
from laws.moving import moved, shifted

some = settings(max_examples=15, deadline=None, suppress_health_check=[HealthCheck.too_slow])
TURNS = st.sampled_from([0.0, 90.0, 180.0, 270.0]) | st.floats(0, 359).map(lambda turn: round(turn, 2))
SHIFTS = st.tuples(st.integers(-50_000, 50_000), st.integers(-50_000, 50_000))


def verdicts(findings: list[Finding]) -> dict[str, tuple[str, str | None]]:
    return {finding.id: (finding.verdict, finding.because) for finding in findings}


def margins(findings: list[Finding]) -> dict[str, float | None]:
    return {finding.id: finding.margin for finding in findings}


# Moving


def same_when_moved(project: Project, by: Any, turn: float) -> None:
    before, after = check(project), check(moved(project, by, turn))
    assert verdicts(after) == verdicts(before)
    old, new = margins(before), margins(after)
    for name, margin in old.items():
        # What is held in square millimetres is a product of two lengths, and its noise is larger.
        assert new[name] == (margin if margin is None else pytest.approx(margin, rel=1e-5, abs=1e-3)), name


@given(kitchens(), SHIFTS, TURNS)
@some
def test_moving_a_kitchen_changes_no_verdict(project: Project, by: Any, turn: float) -> None:
    same_when_moved(project, by, turn)


@given(houses(), SHIFTS, TURNS)
@some
def test_moving_any_house_changes_no_verdict(project: Project, by: Any, turn: float) -> None:
    same_when_moved(project, by, turn)


@pytest.mark.parametrize(
    ("by", "turn"),
    [
        ((12_345, -6_789), 0.0),
        ((0, 0), 90.0),
        ((0, 0), 180.0),
        ((5, 5), 270.0),
        ((0, 0), 37.5),
        ((-800, 90_000), 211.03),
    ],
)
def test_moving_the_demo_house_changes_no_verdict(by: Any, turn: float) -> None:
    same_when_moved(demo(), by, turn)


@pytest.mark.parametrize(("by", "turn"), [((12_345, -6_789), 0.0), ((0, 0), 90.0), ((-70, 4_000), 180.0)])
def test_what_is_drawn_for_a_finding_moves_with_the_house(by: Any, turn: float) -> None:
    # Whole shifts and quarter turns alone: elsewhere noise may choose another of two lines of equal length.
    after = {finding.id: finding for finding in check(moved(demo(), by, turn))}
    seen = 0
    for finding in check(demo()):
        for old, new in zip(finding.marks, after[finding.id].marks, strict=True):
            if old.plane != "plan":
                continue
            seen += 1
            for point in old.points:
                there = shifted(point, by, turn)
                assert min(math.dist(there, other) for other in new.points) < 0.5, (finding.id, old.role)
    assert seen > 100


# What a check does not declare


def findings_of(one: Check, project: Project) -> list[Finding]:
    house, rules = House(project), project_yardstick(project)
    memos: dict[str, dict[Any, Any]] = {space: {} for space in house.spaces}
    return [finding for view in _views(one, house, memos, None) for finding in one.judge(view, rules)]


def without_undeclared(one: Check, project: Project) -> Project:
    """Return a copy without the things and parts that a check does not declare; hosts of what stays, stay."""
    by_id = project.things_by_id
    kept = {thing.id for thing in project.things if thing.kind in one.reads}
    for name in list(kept):
        place = by_id[name].place
        while isinstance(place, SetIn) and place.host not in kept:
            kept.add(place.host)
            place = by_id[place.host].place
    empty = {part: Project.model_fields[part].get_default() for part in PARTS - one.reads}
    return project.model_copy(update={"things": tuple(t for t in project.things if t.id in kept), **empty})


@pytest.mark.parametrize("one", all_checks(), ids=lambda one: one.name)
def test_what_a_check_does_not_declare_changes_none_of_its_findings(one: Check) -> None:
    for project in (demo(), Project.model_validate(kitchen_plain(44, cooks=2))):
        assert findings_of(one, without_undeclared(one, project)) == findings_of(one, project)


@given(houses())
@settings(max_examples=8, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_nor_in_any_other_house(project: Project) -> None:
    for one in all_checks():
        assert findings_of(one, without_undeclared(one, project)) == findings_of(one, project), one.name


# Aisles


@given(
    st.integers(20, 80), st.integers(1, 40), st.integers(20, 80), st.sampled_from([None, 1, 2]),
    st.sampled_from([None, "none", "edge past", "walk past", "wheelchair"]),
    st.booleans(),
)  # fmt: skip
@settings(max_examples=25, deadline=None)
def test_a_wider_aisle_is_never_worse(
    aisle: int, more: int, behind: int, cooks: int | None, passing: str | None, at_seats: bool
) -> None:
    """Guidelines 6, 7 and 8 ask for a width of at least so much, so more room never turns met into falling short."""

    def found(wider: int) -> dict[str, str]:
        wide, back = (aisle, behind + wider) if at_seats else (aisle + wider, behind)
        plain = kitchen_plain(wide, behind=back, cooks=cooks, passing=passing)
        house = Project.model_validate(plain).verified()
        return {f.id: f.verdict for f in check(house) if f.rule.rstrip("abc") in ("K6", "K7", "K8")}

    narrow, wide = found(0), found(more)
    assert any(name.startswith("K6") for name in narrow)
    for name, verdict in narrow.items():
        if verdict == "met":
            assert wide.get(name) != "falls short", name


# Every finding


def all_houses() -> Iterator[Project]:
    yield demo()
    yield Project.model_validate(kitchen_plain(44))
    yield Project(id="empty", name="Empty")


def sound(findings: list[Finding]) -> None:
    ids = [finding.id for finding in findings]
    assert len(ids) == len(set(ids))
    plain = json.loads(json.dumps([finding.as_json() for finding in findings], allow_nan=False))
    for finding, data in zip(findings, plain, strict=True):
        assert finding.id.startswith(f"{finding.rule}:")
        assert data["verdict"] == finding.verdict
        if finding.verdict == "not assessed":
            assert finding.because
            assert finding.because != "missing fact" or finding.needs, finding.id
        else:
            assert (data["margin"] < 0) >= (finding.verdict == "falls short")


def test_findings_are_unique_and_plain() -> None:
    for project in all_houses():
        sound(check(project))
        sound(check(project, yardstick="us-access"))


@given(houses())
@some
def test_findings_of_any_house_are_unique_and_plain(project: Project) -> None:
    findings = check(project)
    sound(findings)
    rooms = {None, *(space.id for space in project.spaces)}
    assert all(finding.space in rooms for finding in findings)


@given(kitchens())
@some
def test_checking_twice_or_one_space_alone_says_the_same(project: Project) -> None:
    whole = check(project)
    assert check(project) == whole
    alone = check(project, space="k")
    assert {f.id for f in alone} <= {f.id for f in whole}
    assert all(f in whole for f in alone)


# Answers


def test_an_answer_holds_until_the_measured_figure_worsens() -> None:
    narrow, narrower = (Project.model_validate(kitchen_plain(aisle)).verified() for aisle in (40, 36))
    short = [finding for finding in check(narrow) if finding.verdict == "falls short" and finding.rule == "K6"]
    assert short
    finding = short[0]
    assert finding.measured is not None
    answer = Answer(
        id="a", finding=finding.id, kind="accepted", reason="One cook, narrow house.", by="Ida",
        measured=finding.measured.value, unit=finding.measured.unit,
    )  # fmt: skip
    answers = answers_by_finding([answer])
    assert finding.id not in {f.id for f in falls_short_unanswered(check(narrow), answers)}
    assert finding.id in {f.id for f in falls_short_unanswered(check(narrow), {})}
    assert finding.id in {f.id for f in falls_short_unanswered(check(narrower), answers)}
    wider = check(Project.model_validate(kitchen_plain(41)).verified())
    assert finding.id not in {f.id for f in falls_short_unanswered(wider, answers)}
