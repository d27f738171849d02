"""Laws that the checks on doors, aisles, triangles and floors keep together."""

from __future__ import annotations

import math
import re
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from building import door, house, on_wall, room, set_in, thing
from enfilade.checks.run import all_checks, check
from enfilade.checks.view import House, View
from enfilade.findings import Finding
from enfilade.lengths import inches
from enfilade.project.demo import demo
from enfilade.project.project import Project
from enfilade.standards.yardsticks import yardstick

RULES = {
    "K1", "K1a", "K2", "K2a", "K3", "K3b", "K3c", "K4", "K5", "K6", "K6a", "K6b", "K6c", "K7", "K7a", "K8", "K8a",
    "P3", "A8041", "A8042", "A8042x", "A3041", "A3042", "A4042", "A4044", "D1", "D2", "D3", "D4", "D5",
}  # fmt: skip
MODULES = {
    "entries", "door_floors", "door_swings", "work_triangle", "triangle_crossings", "aisles", "kitchen_shapes",
    "behind_seats", "turning_space", "clear_floors", "open_in_aisles", "corner_clashes", "doors_and_pull_outs",
    "room_doors",
}  # fmt: skip
FLAP = {"kind": "drop-down", "reach_mm": inches(24)}


def plan() -> dict[str, Any]:
    """A kitchen of two runs and an island, open to a dining room, with two doors."""
    spaces = [
        room(180, 160, open_sides=("south",)),
        room(180, 140, id="dining", use="dining", at=(0, -140), open_sides=("north",)),
    ]
    things = [
        thing("counter", "north-a", 90, 25, on_wall("kitchen-north", 0)),
        thing("range", "range", 30, 25, on_wall("kitchen-north", 90), opens=[FLAP]),
        thing("counter", "north-b", 60, 25, on_wall("kitchen-north", 120)),
        thing("base cabinet", "base-b", 30, 24, on_wall("kitchen-north", 120), opens=[{"kind": "drawer"}]),
        thing("counter", "east", 80, 25, on_wall("kitchen-east", 25)),
        thing("sink", "sink", 30, 20, set_in("east", 20)),
        thing("dishwasher", "dw", 24, 24, on_wall("kitchen-east", 80), opens=[FLAP]),
        thing("refrigerator", "cold", 36, 28, on_wall("kitchen-west", 60),
              opens=[{"kind": "hinged", "hinge": "left"}]),
        thing("island", "island", 66, 30, {"how": "free", "x_mm": inches(90), "y_mm": inches(75)},
              seating=[{"id": "row", "side": "front", "count": 2}]),
        thing("table", "table", 60, 40, {"how": "free", "x_mm": inches(90), "y_mm": inches(-70)}, space="dining",
              seating=[{"id": "row", "side": "back", "count": 2}]),
        thing("hood", "hood", 30, 20, on_wall("kitchen-north", 90)),
        thing("rug", "rug", 40, 40, {"how": "free", "x_mm": inches(40), "y_mm": inches(40)}, top=0.5),
    ]  # fmt: skip
    doors = [
        door("way-in", "kitchen-west", 97, 36, swing={"hinge": "left", "into": "this side"}),
        door("garden", "dining-east", 40, 36, kind="sliding door"),
    ]
    return {"spaces": spaces, "things": things, "openings": doors}


def judged(project: Project) -> dict[str, Finding]:
    return {f.id: f for f in check(project, yardstick="us-access") if f.rule in RULES}


@pytest.fixture(scope="module")
def base() -> dict[str, Finding]:
    return judged(house(**plan()))


def test_every_rule_speaks_for_an_ordinary_house(base: dict[str, Finding]) -> None:
    # A8042x and A4042 speak only of kitchens without cooking surface and of doors between other rooms.
    assert {f.rule for f in base.values()} >= RULES - {"A8042x"}


def test_every_finding_shows_its_working_or_what_it_needs(base: dict[str, Finding]) -> None:
    for finding in base.values():
        assert finding.working or finding.needs, finding.id


CLAIMS = re.compile(r"\b(safe|safely|compl(y|ies|ied|iant|iance))\b", re.IGNORECASE)


@pytest.mark.parametrize("name", ["us", "us-access", "us-1990s"])
@pytest.mark.parametrize("which", ["plan", "bare", "demo"])
def test_no_finding_claims_what_a_check_cannot_know(which: str, name: str) -> None:
    project = {"plan": house(**plan()), "bare": house([]), "demo": demo()}[which]
    found = check(project, yardstick=name)
    assert len(found) > 50
    for finding in found:
        told = (finding.title, *finding.working, *finding.also, *finding.needs, finding.caution, finding.source.label)
        assert [text for text in told if CLAIMS.search(text)] == [], finding.id


def placed(turn_deg: float, dx: float, dy: float) -> Project:
    """The same house, turned about the origin and moved."""
    record = plan()
    c, s = math.cos(math.radians(turn_deg)), math.sin(math.radians(turn_deg))

    def there(x: float, y: float) -> list[float]:
        return [c * x - s * y + dx, s * x + c * y + dy]

    for space in record["spaces"]:
        space["outline"] = [there(x, y) for x, y in space["outline"]]
    for one in record["things"]:
        place = one["place"]
        if place["how"] == "free":
            x, y = there(place["x_mm"], place["y_mm"])
            one["place"] = {"how": "free", "x_mm": x, "y_mm": y, "turn_deg": turn_deg}
    return house(**record)


@settings(max_examples=8, deadline=None)
@given(st.sampled_from([31.0, 90.0, 137.5, 180.0]), st.floats(-1e5, 1e5), st.floats(-1e5, 1e5))
def test_turning_and_moving_the_house_changes_no_verdict(turn: float, dx: float, dy: float) -> None:
    base, moved = judged(house(**plan())), judged(placed(turn, dx, dy))
    assert {name: f.verdict for name, f in moved.items()} == {name: f.verdict for name, f in base.items()}
    for name, finding in base.items():
        other = moved[name].measured
        if finding.measured is not None and other is not None:
            assert other.value == pytest.approx(finding.measured.value, abs=8.0, rel=1e-3), name


def test_each_check_depends_on_nothing_that_it_does_not_declare() -> None:
    record = plan()
    project = house(**record)
    whole = {f.id: f for f in check(project, yardstick="us-access")}
    for one in all_checks():
        if one.name.partition(".")[0] not in MODULES:
            continue
        hosts = {"east"}  # what a thing is set in moves with it
        kept = [t for t in record["things"] if t["kind"] in one.reads or t["id"] in hosts]
        openings = record["openings"] if "openings" in one.reads else []
        fewer = house(kept, spaces=record["spaces"], openings=openings)
        alone = _by(one.name, fewer)
        assert alone == {key: whole[key] for key in alone}, one.name
        assert alone.keys() == _by(one.name, project).keys()


def _by(name: str, project: Project) -> dict[str, Finding]:
    one = next(c for c in all_checks() if c.name == name)
    house_ = House(project)
    found: dict[str, Finding] = {}
    for space in house_.spaces.values():
        if one.uses is None or space.use in one.uses:
            for finding in one.judge(View(house_, one.reads, space), yardstick("us-access")):
                found[finding.id] = finding
    return found


def test_ids_are_given_once_by_each_check() -> None:
    house_ = House(house(**plan()))
    for one in all_checks():
        if one.name.partition(".")[0] in MODULES:
            for space in house_.spaces.values():
                if one.uses is None or space.use in one.uses:
                    ids = [f.id for f in one.judge(View(house_, one.reads, space), yardstick("us-access"))]
                    assert len(ids) == len(set(ids)), (one.name, sorted(ids))
