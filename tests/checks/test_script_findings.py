"""Findings of the script itself: met, falling short and not assessed."""

from __future__ import annotations

from typing import Any

import pytest

import enfilade as ef
from building import findings, one
from enfilade.checks.run import check
from enfilade.checks.sentences import sentence
from enfilade.checks.view import House
from enfilade.project.project import Project
from enfilade.walkthrough.report import report
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


def words(text: str, rule: str, **more: Any) -> str:
    return sentence(one(kitchen(text, **more), rule), "us")


def test_the_sentence_quotes_the_line_and_says_what_is_wrong_and_what_is_expected() -> None:
    assert words("It is {width of iland} wide.", "T1") == (
        "Fields of a line that stand for nothing: “It is {width of iland} wide.”: {width of iland}, at sign 7: "
        "`iland` is no record that has a width; expected `island` or `work island`."
    )
    assert words("The river counter is 9 feet long, 25 in deep.", "T2") == (
        "Typed figures of a line that the record contradicts: “The river counter is 9 feet long, 25 in deep.”: "
        "the line says 9 feet; the record has 8 ft 4 in (width of river counter)."
    )
    assert "“The aisle is 48 inches wide.”: “48 inches” is not compared" in words("The aisle is 48 inches wide.", "T2")
    assert words("{a of b} {c of d} {e of f} {g of h} {i of j}", "T1").endswith("; and 2 more.")
    assert words("It is {width of island}.", "T1").startswith("Fields of a line that stand for nothing: none.")


def test_the_report_says_where_and_gives_the_working() -> None:
    project = told_house(
        [stop("kitchen", line("Hello.", "a"), line("The river counter is 9 feet long, 25 in deep.", "b")),
         stop("dining", line("{width of x} {width of y} {width of z} {width of w}", "c", things=["table", "shelf"]))]
    )  # fmt: skip
    said = " ".join(report(project, check(project), {}).split())
    assert "8 ft 4 in (width of river counter). (Kitchen, line 2) “25 in” agrees: the record has 25 in" in said
    assert "{width of w}, at sign 40: `w` is no record that has a width" in said
    assert "open shelf stands in Store, which is not seen from here. (Dining, line 1) table stands in the room" in said


def test_the_report_of_odd_lines_does_not_steer_the_terminal() -> None:
    project = told_house([stop("kitchen", line("{\u202e of \u2066} " + "{x} " * 300))])
    said = report(project, [one for one in check(project) if one.rule == "T1"], {})
    assert "\u202e" not in said
    assert len(said) < 6000


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
        ("kitchen", {}, "Oiled walnut shelves.", "met", "oiled walnut is in Store, seen through a doorway"),
        ("dining", {}, "Soapstone next door.", "met", "soapstone is in Kitchen, seen through a doorway"),
        ("store", {}, "An induction range.", "met", "induction range, 36 in is in Kitchen, seen through a doorway"),
        ("dining", {"decisions": ["top"]}, "Not oiled walnut.", "met", "is weighed in a decision"),
        ("dining", {}, "Larch floor boards are next door.", "met", "larch floor boards is in Kitchen"),
    ],
)  # fmt: skip
def test_what_is_told_in_its_room(room: str, more: dict[str, Any], text: str, expected: str, words: str) -> None:
    finding = one(told_house([stop(room, line(text, **more))]), "T3")
    assert finding.verdict == expected
    assert any(words in said for said in finding.working), finding.working


def test_a_thing_that_a_line_shows_twice_is_told_of_once() -> None:
    project = told_house([stop("dining", line("There.", things=["shelf", "shelf", "table"]))])
    finding = one(project, "T3")
    assert finding.measured is not None
    assert finding.measured.value == 1
    assert "Store" in sentence(finding, "us")
    assert "stands in the room" not in sentence(finding, "us")


@pytest.mark.parametrize(
    ("text", "fields"),
    [("{width of a" + " in kitchen" * 1_500 + "}", ["falls short"]),
     ("{number of a" + " in kitchen" * 1_500 + "}", ["falls short"]),
     ("a" + " dozen" * 400, []), ("a" + " dozen" * 400 + " feet six inches", [])],
    ids=["field", "count", "number", "length"],
)  # fmt: skip
def test_the_checks_read_a_line_of_any_length(text: str, fields: list[str]) -> None:
    assert verdicts(kitchen(text), "T1") == fields


def with_bearing(text: str, room: str, **bears: Any) -> Project:
    """The house with a finish `moss` and a product `larder rail`, borne as told, and one line."""
    plain = told_house([stop(room, line(text))]).model_dump()
    plain["finishes"] = (*plain["finishes"], {"id": "moss-paint", "name": "moss"})
    plain["products"] = (*plain["products"], {"id": "rail", "name": "larder rail, 24 in"})
    plain["things"][-1].update(bears.get("shelf", {}))
    plain["things"][-3].update(bears.get("table", {}))
    for space, wall in bears.get("walls", ()):
        next(one for one in plain["spaces"][space]["walls"] if one["id"] == wall)["finish"] = "moss-paint"
    return Project.model_validate(plain)


# The shelf stands to the side of the store: seen from the kitchen through one doorway, not from the dining room.
@pytest.mark.parametrize(
    ("room", "text", "bears", "expected"),
    [
        ("dining", "The larder rail holds the ladles.", {"shelf": {"product": "rail"}}, "falls short"),
        ("kitchen", "The larder rail holds the ladles.", {"shelf": {"product": "rail"}}, "met"),
        ("dining", "Moss, because of the river.", {"shelf": {"finish": "moss-paint"}}, "falls short"),
        ("kitchen", "Moss, because of the river.", {"shelf": {"finish": "moss-paint"}}, "met"),
        ("kitchen", "Moss on the walls.", {"walls": [(1, "dining-east")]}, "met"),
        # The other face of the wall that one looks through is not seen.
        ("kitchen", "Moss on the walls.", {"walls": [(1, "dining-west")]}, "falls short"),
        ("kitchen", "Moss on the walls.", {}, "falls short"),  # it is in no room yet
    ],
)
def test_what_is_bought_is_seen_as_things_are(room: str, text: str, bears: dict[str, Any], expected: str) -> None:
    assert verdict(with_bearing(text, room, **bears), "T3") == expected


def test_a_word_of_something_else_in_the_room_is_no_name() -> None:
    there = {"shelf": {"finish": "moss-paint"}}
    assert verdicts(with_bearing("The moss table is old.", "dining", table={"name": "moss table"}, **there), "T3") == []
    assert verdicts(with_bearing("Mossy stones.", "dining", **there), "T3") == []
    both = with_bearing("Moss.", "dining", **there).model_dump()
    both["products"] = (*both["products"], {"id": "rug", "name": "moss"})
    assert verdicts(Project.model_validate(both), "T3") == []  # it may be the one or the other


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


def test_what_lines_read_is_kept_while_only_places_and_lines_change() -> None:
    """A thing that is dragged changes no figure; one that is made wider does, and so does a name."""
    project = kitchen("The island is 2.7 metres long, {width of island}.")
    house = House(project)
    figures = house.figures

    def after(**changed: Any) -> House:
        things = tuple(one.model_copy(update=changed) if one.id == "island" else one for one in project.things)
        return House(project.model_copy(update={"things": things}), house)

    moved = next(one.place for one in project.things if one.id == "pans")
    assert after(place=moved).figures is figures
    house = House(project, after(place=moved))
    assert house.figures is figures
    other_lines = kitchen("Another line.").script
    assert House(project.model_copy(update={"script": other_lines}), House(project, house)).figures is figures
    house.__dict__["figures"] = figures
    for changed in ({"width_mm": 2000.0}, {"name": "bench"}, {"state": "removed"}, {"space": "dining"}):
        assert after(**changed).figures is not figures, changed
    metric = project.show.model_copy(update={"units": "metric"})
    assert House(project.model_copy(update={"show": metric}), house).figures is not figures
