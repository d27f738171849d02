"""Gas carries its caution wherever a cooking surface is judged (Kitchen guidelines 17 to 20)."""

from __future__ import annotations

from typing import Any

import pytest

from building import door, findings, house, on_wall, one, set_in, thing
from enfilade.project.project import Project
from enfilade.standards.rows import cautions

RULES = ("K17", "K17b", "K17c", "K18", "K19", "K20")
UNKNOWN = "What it heats with is not recorded; gas asks more."


def cooking(kind: str = "range", **more: Any) -> Project:
    """A cooking surface between two counters with a hood above, a way in and an extinguisher."""
    return house(
        [
            thing("counter", "left", 30, 25, on_wall("kitchen-north", 20)),
            thing("counter", "right", 30, 25, on_wall("kitchen-north", 80)),
            thing(kind, "fire", 30, 26, on_wall("kitchen-north", 50), **more),
            thing("hood", "hood", 30, 20, on_wall("kitchen-north", 50), bottom=66, flow_m3h=255, ducted=True),
            thing("extinguisher", "ext", 5, 5, on_wall("kitchen-south", 60)),
        ],
        openings=[door("way", "kitchen-south", 10)],
    )


def judged(project: Project) -> list[Any]:
    return [f for rule in RULES for f in findings(project, rule) if f.subjects != ("kitchen",) or f.rule == "K20"]


@pytest.mark.parametrize("rule", ["K17", "K17c", "K18", "K19", "K20"])
def test_gas_is_cautioned_beside_what_the_row_says_itself(rule: str) -> None:
    found = [f for f in judged(cooking(fuel="gas")) if f.rule == rule]
    assert found
    for finding in found:
        assert finding.caution.endswith(cautions()["gas"]), finding.id
        assert finding.caution.count(cautions()["gas"]) == 1
        assert UNKNOWN not in finding.also
    own = {"K18": "fire", "K20": "fire", "K17c": "fire", "K19": "ventilation"}
    if rule in own:
        assert {f.caution for f in found} == {f"{cautions()[own[rule]]} {cautions()['gas']}"}


@pytest.mark.parametrize("fuel", ["electric", "induction"])
def test_other_fuels_add_nothing(fuel: str) -> None:
    for finding in judged(cooking(fuel=fuel)):
        assert cautions()["gas"] not in finding.caution, finding.id
        assert UNKNOWN not in finding.also, finding.id


def test_an_unknown_fuel_is_told_and_changes_no_verdict() -> None:
    unknown, electric = judged(cooking()), judged(cooking(fuel="electric"))
    assert all(UNKNOWN in f.also and cautions()["gas"] not in f.caution for f in unknown)
    assert [(f.id, f.verdict, f.needs) for f in unknown] == [(f.id, f.verdict, f.needs) for f in electric]


def test_behind_a_cooktop_on_an_island_too() -> None:
    island = thing("island", "island", 90, 36, on_wall("kitchen-north", 20, gap=60))
    for fuel, told in (("gas", True), ("induction", False)):
        project = house([island, thing("cooktop", "fire", 30, 21, set_in("island", 30, 6), fuel=fuel)])
        found = one(project, "K17b")
        assert found.caution.startswith(cautions()["fire"])
        assert (cautions()["gas"] in found.caution) == told


def test_one_of_two_surfaces_on_gas_is_enough_for_the_room() -> None:
    other = thing("range", "second", 30, 26, on_wall("kitchen-west", 40), fuel="gas")
    project = house(
        [thing("range", "first", 30, 26, on_wall("kitchen-north", 50), fuel="electric"), other],
        openings=[door("way", "kitchen-south", 10)],
    )
    assert cautions()["gas"] in one(project, "K20", containing="extinguisher").caution
    assert {cautions()["gas"] in f.caution for f in findings(project, "K19") if f.subjects == ("first",)} == {False}
    assert {cautions()["gas"] in f.caution for f in findings(project, "K19") if f.subjects == ("second",)} == {True}
