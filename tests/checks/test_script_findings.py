"""Findings of the script itself: met, falling short and not assessed."""

from __future__ import annotations

from typing import Any

import pytest

import enfilade as ef
from building import findings, one
from enfilade.checks.run import check
from enfilade.project.project import Project
from script.told_house import line, stop, told_house

from .said import verdict, verdicts


def kitchen(text: str, **more: Any) -> Project:
    return told_house([stop("kitchen", line(text, **more))])


@pytest.mark.parametrize("script", [[], [{"id": "stop", "space": "kitchen"}]])
def test_a_house_without_lines_has_no_findings_of_its_script(script: list[dict[str, Any]]) -> None:
    assert [finding.id for finding in check(told_house(script)) if finding.rule.startswith("T")] == []


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("It is {width of island}.", "met"), ("It is {width of iland}.", "falls short"), ("A { alone", "falls short"),
        ("{bowls of island}", "falls short"), ("{measured of K6:aisle:island+range}", "met"),
        ("{measured of nothing}", "falls short"),
    ],
)  # fmt: skip
def test_fields(text: str, expected: str) -> None:
    assert verdict(kitchen(text), "T1") == expected


def test_a_line_without_a_field_has_nothing_to_look_at() -> None:
    assert verdicts(kitchen("Nothing."), "T1") == []


def test_the_working_names_the_place_and_what_comes_near() -> None:
    finding = one(kitchen("It is {width of iland}."), "T1")
    assert finding.subjects == ("stop-kitchen/line",)
    assert finding.space == "kitchen"
    assert finding.measured is not None
    assert finding.measured.value == 1
    assert any("sign 7" in text and "`island`" in text for text in finding.working)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("The island is 2.7 metres long.", "met"), ("The island is 2.4 metres long.", "falls short"),
        ("The aisle is 48 inches wide.", "missing fact"),
    ],
)  # fmt: skip
def test_typed_figures(text: str, expected: str) -> None:
    assert verdict(kitchen(text), "T2") == expected


def test_what_is_not_compared_says_why() -> None:
    finding = one(kitchen("The aisle is 48 inches wide."), "T2")
    assert finding.needs == ("what 48 inches is of",)
    assert any("no record holds" in text for text in finding.working)


def test_the_demo_house_has_no_line_that_its_record_contradicts() -> None:
    assert "falls short" not in {finding.verdict for finding in findings(ef.demo(), "T2")}


@pytest.mark.parametrize(
    ("room", "more", "text", "expected", "words"),
    [
        ("kitchen", {"things": ["island"]}, "Here.", "met", "stands in the room"),
        ("kitchen", {"things": ["table"]}, "There.", "met", "stands in Dining, seen through a doorway"),
        ("dining", {"things": ["shelf"]}, "There.", "falls short", "stands in Store, which is not seen from here"),
        ("kitchen", {}, "An induction range.", "met", "is in the room"),
        ("store", {}, "Oiled walnut shelves.", "met", "oiled walnut is in the room"),
        ("dining", {}, "Oiled walnut shelves.", "falls short", "oiled walnut is in Store"),
        ("dining", {}, "The {name of finish walnut}.", "falls short", "oiled walnut is in Store"),
        ("kitchen", {}, "Oiled walnut shelves.", "met", "in the next room"),
        ("dining", {"decisions": ["top"]}, "Not oiled walnut.", "met", "is weighed in a decision"),
        ("dining", {}, "Larch floor boards are next door.", "met", "in the next room"),
    ],
)  # fmt: skip
def test_what_is_told_in_its_room(room: str, more: dict[str, Any], text: str, expected: str, words: str) -> None:
    finding = one(told_house([stop(room, line(text, **more))]), "T3")
    assert finding.verdict == expected
    assert any(words in said for said in finding.working), finding.working


def test_what_is_removed_is_told_of_as_it_was() -> None:
    plain = kitchen("The old hood.", things=["hood"]).model_dump()
    next(thing for thing in plain["things"] if thing["id"] == "hood")["state"] = "removed"
    finding = one(Project.model_validate(plain), "T3")
    assert finding.verdict == "met"
    assert any("is removed" in said for said in finding.working)


TELLS = {"decisions": ["top"]}


@pytest.mark.parametrize(
    ("script", "expected"),
    [
        ([stop("kitchen", line("a", "a", **TELLS))], "met"),
        ([stop("kitchen", line("a", "a", **TELLS), line("b", "b", **TELLS))], "met"),  # one telling
        ([stop("kitchen", line("a", "a", **TELLS), line("x", "x"), line("b", "b", **TELLS))], "falls short"),
        ([stop("kitchen", line("a", "a", **TELLS)), stop("dining", line("b", "b", **TELLS))], "falls short"),
        ([stop("kitchen", line("a", "a", hear=["client"], **TELLS)),
          stop("dining", line("b", "b", hear=["student"], **TELLS))], "met"),
    ],
)  # fmt: skip
def test_a_decision_is_told_once(script: list[dict[str, Any]], expected: str) -> None:
    assert verdict(told_house(script), "T4") == expected


def test_a_recap_may_repeat() -> None:
    parts = [
        {"id": "one"},
        {"id": "two", "recap": [line("again", "r", **TELLS)], "lead_in": [line("soon", "l", **TELLS)]},
    ]
    project = told_house([stop("kitchen", line("a", **TELLS), part="one")], show={"speaking": {"parts": parts}})
    assert verdict(project, "T4") == "met"


def test_a_recap_alone_does_not_tell_a_decision() -> None:
    parts = [{"id": "one", "recap": [line("again", "r", **TELLS)]}]
    project = told_house([stop("kitchen", line("a"))], show={"speaking": {"parts": parts}})
    assert one(project, "T5", containing="top").verdict == "falls short"


def test_every_decision_is_told() -> None:
    told = told_house([stop("kitchen", line("a", hear=["client"], **TELLS))])
    finding = one(told, "T5", containing="top")
    assert finding.verdict == "met"
    assert "not to the public, students" in finding.working
    assert one(kitchen("a"), "T5", containing="top").verdict == "falls short"
    assert one(told, "T5", containing="hidden").because == "does not apply"


@pytest.mark.parametrize(("reason", "expected"), [("It wears well.", "met"), (" ", "falls short")])
def test_a_told_decision_has_its_reason(reason: str, expected: str) -> None:
    plain = kitchen("a", **TELLS).model_dump()
    plain["decisions"][0]["reason"] = reason
    assert verdict(Project.model_validate(plain), "T6") == expected


def test_an_open_decision_needs_no_reason_yet() -> None:
    plain = kitchen("a", **TELLS).model_dump()
    plain["decisions"][0].update(status="undecided", choice=None)
    assert verdict(Project.model_validate(plain), "T6") == "does not apply"


def test_every_room_has_a_line() -> None:
    assert verdicts(kitchen("a"), "T7") == ["met", "falls short", "falls short"]


def test_nothing_outside_needs_a_line() -> None:
    plain = kitchen("a").model_dump()
    plain["spaces"][2]["use"] = "outside"
    assert verdicts(Project.model_validate(plain), "T7") == ["met", "falls short", "does not apply"]


def test_a_changed_record_is_held_against_its_lines_again() -> None:
    project = kitchen("The island is 2.7 metres long, {width of island}.")
    assert verdict(project, "T2") == "met"
    things = [one.model_copy(update={"width_mm": 2000.0}) if one.id == "island" else one for one in project.things]
    assert verdict(project.model_copy(update={"things": tuple(things)}), "T2") == "falls short"
    assert verdict(project, "T2") == "met"
    gone = [one.model_copy(update={"state": "removed"}) if one.id == "island" else one for one in project.things]
    assert verdict(project.model_copy(update={"things": tuple(gone)}), "T1") == "falls short"
