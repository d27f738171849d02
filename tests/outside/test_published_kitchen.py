"""The one published kitchen plan with all cabinet widths, held against the kitchen guidelines.

The plan is a published worked example of a cabinet layout (document not found): a U-shaped kitchen without
any result given there. Stove wall: a 30 in stove in its middle, 54 in (36 + 18) on each side. Sink wall as seen from
the room: 36 in blind corner base with a 12 in door, 24 in dishwasher left of the sink, 36 in sink base, 18 in base that
ends the run. Refrigerator wall: 42 in blind corner base with an 18 in door, 18, a 36 in two-door refrigerator, 18. The
dimensions are published; the expected figures are worked by hand from them and from the printed guidelines (NKBA
Kitchen Planning Guidelines with Access Standards, printing keyed to IRC 2015 and A117.1-2009).

Our reading: blind bases fill the two corners (24 in blind and the door), so the room is 24 + 54 + 30 + 54 + 24 = 186 in
wide, and both arms are 114 in long. All fronts are 24 in deep. The edge of the 36 in sink base is the sink's edge.
"""

from __future__ import annotations

from typing import Any

import pytest

from building import findings, house, on_wall, one, room, set_in, thing
from enfilade.checks.run import check
from enfilade.checks.view import House
from enfilade.findings import Finding
from enfilade.project.project import Project
from enfilade.standards.yardsticks import yardstick

# The stove wall is drawn as the north wall, so that the sink wall on the east has the stove corner at its left, as the
# plan shows it from the room. x runs from the refrigerator wall (west) to the sink wall, y from the stove wall into
# the room.
WIDTH, LENGTH, DEPTH = 186, 180, 24


def published_kitchen(*, counters: bool, cooks: int = 1) -> Project:
    """Return the plan with its counter tops recorded, or with bare cabinets over which tops are taken."""
    north, east, west = "kitchen-north", "kitchen-east", "kitchen-west"
    things: list[dict[str, Any]] = [
        thing("base cabinet", "stove-left-18", 18, DEPTH, on_wall(north, 24)),
        thing("base cabinet", "stove-left-36", 36, DEPTH, on_wall(north, 42)),
        thing("range", "stove", 30, DEPTH, on_wall(north, 78)),
        thing("base cabinet", "stove-right-36", 36, DEPTH, on_wall(north, 108)),
        thing("base cabinet", "stove-right-18", 18, DEPTH, on_wall(north, 144)),
        thing("base cabinet", "sink-blind", 36, DEPTH, on_wall(east, 0), corner="blind", accessible_width_mm=12 * 25.4),
        thing("dishwasher", "dishwasher", 24, DEPTH, on_wall(east, 36)),
        thing("base cabinet", "sink-base", 36, DEPTH, on_wall(east, 60)),
        thing("base cabinet", "sink-end", 18, DEPTH, on_wall(east, 96)),
        # y on the refrigerator wall counts from its right end as seen from inside.
        thing("base cabinet", "cold-blind", 42, DEPTH, on_wall(west, 0, from_end="right"), corner="blind",
              accessible_width_mm=18 * 25.4),
        thing("base cabinet", "cold-18", 18, DEPTH, on_wall(west, 42, from_end="right")),
        thing("refrigerator", "refrigerator", 36, DEPTH, on_wall(west, 60, from_end="right"), doors="side by side"),
        thing("base cabinet", "cold-end", 18, DEPTH, on_wall(west, 96, from_end="right")),
    ]  # fmt: skip
    if counters:
        things += [
            thing("counter", "top-stove-left", 54, DEPTH, on_wall(north, 24)),
            thing("counter", "top-stove-right", 54, DEPTH, on_wall(north, 108)),
            thing("counter", "top-sink", 114, DEPTH, on_wall(east, 0)),
            thing("counter", "top-cold", 60, DEPTH, on_wall(west, 0, from_end="right")),
            thing("counter", "top-cold-end", 18, DEPTH, on_wall(west, 96, from_end="right")),
            thing("sink", "sink", 36, 22, set_in("top-sink", 60, 0)),
        ]
    else:
        things.append(thing("sink", "sink", 36, 22, set_in("sink-base", 0, 0), top=34.5))
    return house(things, spaces=[room(WIDTH, LENGTH)], household={"cooks_together": cooks})


def inches_of(finding: Finding) -> float:
    assert finding.measured is not None, finding.because
    return finding.measured.to("in").value


@pytest.fixture(params=[True, False], ids=["counters recorded", "bare cabinets"])
def plan(request: pytest.FixtureRequest) -> Project:
    return published_kitchen(counters=request.param)


def test_where_the_centres_stand(plan: Project) -> None:
    # stove (93, 24), sink (162, 78), refrigerator (24, 78)
    found = {name: House(plan).standing[name].box.front.midpoint for name in ("stove", "sink", "refrigerator")}
    places = {name: (round(x / 25.4, 6), round(LENGTH - y / 25.4, 6)) for name, (x, y) in found.items()}
    assert places == {"stove": (93, 24), "sink": (162, 78), "refrigerator": (24, 78)}


def test_work_triangle(plan: Project) -> None:
    # Guideline 3: sqrt(69^2 + 54^2) = 87.62 in twice, 186 - 48 = 138 in; 87.62 + 87.62 + 138 = 313.24 in, over 312.
    legs = sorted(inches_of(f) for f in findings(plan, "K3", containing=":leg"))
    total = one(plan, "K3", containing=":sum")
    assert legs == pytest.approx([87.62, 87.62, 138.0], abs=0.01)
    assert inches_of(total) == pytest.approx(313.24, abs=0.01)
    assert total.verdict == "falls short"
    assert sorted(f.verdict for f in findings(plan, "K3", containing=":leg")) == ["falls short", "met", "met"]


@pytest.mark.parametrize("cooks", [1, 2])
def test_work_aisle(cooks: int) -> None:
    # Guideline 6: 186 - 2 x 24 = 138 in between the arms, enough for any number of cooks.
    aisles = [f for f in findings(published_kitchen(counters=True, cooks=cooks), "K6") if f.measured is not None]
    assert aisles
    assert {f.verdict for f in aisles} == {"met"}
    assert min(inches_of(f) for f in aisles) == pytest.approx(138.0)


def test_u_shape_for_access(plan: Project) -> None:
    # ADA 804.2.2: at least 60 in in a kitchen enclosed on three sides; here 138 in.
    found = one(plan, "A8042", yardstick="us-access")
    assert found.verdict == "met"
    assert inches_of(found) == pytest.approx(138.0)


def test_sink_landing(plan: Project) -> None:
    # Guideline 11: left 24 (dishwasher) + 12 (corner front) = 36 in, right 18 in.
    longer, shorter = one(plan, "K11", containing="longer"), one(plan, "K11", containing="shorter")
    assert inches_of(longer) == pytest.approx(36.0)
    assert inches_of(shorter) == pytest.approx(18.0)
    assert (longer.verdict, shorter.verdict) == ("met", "met")
    assert any("left" in line and '36"' in line for line in longer.working)


def test_preparation_area(plan: Project) -> None:
    # Guideline 12: 36 in beside the sink, 24 in deep: exactly enough.
    width, depth = one(plan, "K12", containing="width"), one(plan, "K12", containing="depth")
    assert inches_of(width) == pytest.approx(36.0)
    assert width.margin == pytest.approx(0.0)
    assert (width.verdict, depth.verdict) == ("met", "met")


def test_dishwasher(plan: Project) -> None:
    # Guideline 13: next to the sink, 0 in; its edge at y = 36 in, the stove wall's front at y = 24 in: 12 in of 21.
    near, room_beside = one(plan, "K13"), one(plan, "K13b")
    assert inches_of(near) == pytest.approx(0.0, abs=1e-6)
    assert near.verdict == "met"
    assert inches_of(room_beside) == pytest.approx(12.0)
    assert room_beside.verdict == "falls short"


def test_stove_landing(plan: Project) -> None:
    # Guideline 17: 54 in on both sides.
    for part in ("longer", "shorter"):
        found = one(plan, "K17", containing=part)
        assert inches_of(found) == pytest.approx(54.0)
        assert found.verdict == "met"


def test_refrigerator_landing(plan: Project) -> None:
    # Guideline 16: two doors side by side; 18 in on the far side, 18 + 18 = 36 in on the corner side.
    found = one(plan, "K16", containing=":landing")
    assert inches_of(found) == pytest.approx(36.0)
    assert found.verdict == "met"
    assert any('18"' in line for line in found.working)
    # The landing across is 138 in away, more than 48: not available, and not needed.
    across = one(plan, "K16", containing=":across")
    assert across.because == "does not apply"
    assert any('138"' in line for line in across.working)


def test_refrigerator_landing_on_both_sides(plan: Project) -> None:
    # The other reading of 'on either side': 18 in on the shorter side is still at least 15 in.
    strict = yardstick("us").with_options({"side_by_side_landing": "both sides"})
    found = next(f for f in check(plan, yardstick=strict) if f.rule == "K16" and ":landing" in f.id)
    assert inches_of(found) == pytest.approx(18.0)
    assert found.verdict == "met"


def test_total_counter(plan: Project) -> None:
    # Guideline 25: 108 + (12 + 24 + 18) + (18 + 18 + 18) = 216 in.
    found = one(plan, "K25")
    assert inches_of(found) == pytest.approx(216.0)
    assert found.verdict == "met"
    # The breakdown of what is asked: 15+15+15+12+15+36+24+18+8 = 158 in.
    assert any("158" in line for line in found.working)


def test_no_tall_unit_between_centres(plan: Project) -> None:
    # Guideline 4: the refrigerator stands at the end of its arm, not between two centres.
    assert {f.verdict for f in findings(plan, "K4")} == {"met"}


def test_corner_cabinets_without_a_device(plan: Project) -> None:
    # Guideline 29: two blind corners, no device named.
    assert one(plan, "K29").verdict == "falls short"


def test_the_only_sink_reaches_both_centres(plan: Project) -> None:
    # Guideline 10: round the corner from the stove, across from the refrigerator.
    found = one(plan, "K10")
    assert (found.measured.value, found.verdict) == (2, "met")


def test_no_landing_is_shared(plan: Project) -> None:
    # Guideline 24: each counter ends at an inside corner before it meets another appliance.
    assert one(plan, "K24").because == "does not apply"
