"""Lines with a figure that an audience may not know are left out; the others keep their figure, without names."""

from __future__ import annotations

import pytest

from enfilade.checks.run import check, project_yardstick
from enfilade.project.fields import Audience
from enfilade.project.project import Project
from enfilade.script.resolve import shown
from enfilade.walkthrough.compose import telling_of
from script.told_house import line, stop, told_house


def told(project: Project, audience: Audience) -> list[str]:
    telling = telling_of(project, check(project), project_yardstick(project), audience=audience)
    parts = telling.project.show.speaking.parts
    lines = [one for each in telling.project.script for one in each.lines]
    lines += [one for part in parts for one in (*part.recap, *part.lead_in)]
    return [shown(one.text, telling.figures) for one in lines]


LINES = {
    "size": "It is {width of island} long.",
    "price": "It cost {price of range}.",
    "day": "Decided on {day of decision 4}.",
    "people": "{people at the largest gathering} eat here.",
    "hidden": "And {cost of decision 5} more.",
    "slip": "A {width of iland}.",
    "measured": "Lines: {measured of T7::kitchen}.",
}
PARTS = [
    {"id": "one", "recap": [line("Cost {cost of decision 4}.", "r")], "lead_in": [line("On to {seats of table}.", "l")]}
]


def script() -> Project:
    lines = [line(text, id) for id, text in LINES.items()]
    return told_house([stop("kitchen", *lines)], show={"currency": "USD", "speaking": {"parts": PARTS}})


@pytest.mark.parametrize(
    ("audience", "kept"),
    [
        ("public", ["It is 8 ft 10 in long.", "A {width of iland}.", "On to 8."]),
        ("student", ["It is 8 ft 10 in long.", "14 eat here.", "A {width of iland}.", "On to 8."]),
        ("client", ["It is 8 ft 10 in long.", "It cost USD\u00a06,250.", "Decided on 12 June 2025.", "14 eat here.",
                    "A {width of iland}.", "Cost USD\u00a09,840.", "On to 8."]),
        ("studio", ["It is 8 ft 10 in long.", "It cost USD\u00a06,250.", "Decided on 12 June 2025.", "14 eat here.",
                    "And USD\u00a077 more.", "A {width of iland}.", "Lines: 7.", "Cost USD\u00a09,840.", "On to 8."]),
    ],
)  # fmt: skip
def test_who_is_told_what(audience: Audience, kept: list[str]) -> None:
    assert told(script(), audience) == kept


@pytest.mark.parametrize("audience", ["public", "student"])
@pytest.mark.parametrize(
    "field",
    ["width of merrowby-table", "width of Merrowby's table", "name of merrowby-table", "name of the Merrowby house"],
)
def test_a_name_in_a_field_is_taken_out_as_in_ids(audience: Audience, field: str) -> None:
    project = told_house([stop("kitchen", line(f"Look: {{{field}}}, {{width of island}}."))])
    named = {"id": "merrowby-table", "name": "Merrowby's table"}
    things = [one.model_copy(update=named) if one.id == "table" else one for one in project.things]
    project = project.model_copy(update={"name": "The Merrowby house", "things": tuple(things)}).verified()
    lines = told(project, audience)
    assert not any("errowby" in text for text in lines)
    if field.startswith("width"):
        assert lines == ["Look: 7 ft, 8 ft 10 in."]
    elif "table" in field:
        assert lines == ["Look: the client's table, 8 ft 10 in."] or lines == ["Look: the client table, 8 ft 10 in."]
    assert any("errowby" in text or "7 ft" in text for text in told(project, "client"))


def test_a_copy_without_lines_is_still_a_copy_for_telling() -> None:
    project = script()
    telling = telling_of(project, check(project), project_yardstick(project), audience="public")
    assert telling.project._told_to == "public"
    assert telling.project.script != project.script
    whole = telling_of(project, check(project), project_yardstick(project), audience="studio")
    assert whole.project is project


@pytest.mark.parametrize("audience", ["client", "public", "student"])
def test_findings_of_the_script_are_the_studios_own(audience: Audience) -> None:
    project = script()
    findings = check(project)
    assert {finding.rule[0] for finding in findings} >= {"T"}
    telling = telling_of(project, findings, project_yardstick(project), audience=audience)
    assert not [finding for finding in telling.findings if finding.rule.startswith("T")]
