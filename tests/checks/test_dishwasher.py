"""The dishwasher by the sink. Figures: Kitchen guideline 13."""

from __future__ import annotations

import math

import pytest

from building import findings, free, one, thing
from enfilade.project.project import Project
from lines import inches_of, kitchen, line


@pytest.mark.parametrize(("between", "verdict"), [(0, "met"), (36, "met"), (37, "falls short")])
def test_distance_along_the_run(between: float, verdict: str) -> None:
    parts = [("counter", "", between)] if between else []
    found = one(kitchen(line(("dishwasher", "dw", 24), *parts, ("sink", "sink", 33))), "K13")
    assert (inches_of(found), found.verdict) == (pytest.approx(between, abs=1e-6), verdict)


def test_round_a_corner_the_frontage_is_counted() -> None:
    north = line(("dishwasher", "dw", 24), ("counter", "", 10), at=360 - 25 - 34)
    east = line(("counter", "", 25 + 14), ("sink", "sink", 33), wall="kitchen-east", prefix="east")
    assert inches_of(one(kitchen(north, east), "K13")) == pytest.approx(24)


def test_on_no_common_run() -> None:
    island = thing("island", "island", 90, 30, free(100, 150, 180))
    sink = thing("sink", "sink", 30, 20, {"how": "set in", "host": "island", "offset_mm": 30 * 25.4, "setback_mm": 0})
    # The sink spans y from 145 to 165 in below the island's working edge, the dishwasher's front is at y = 216 in.
    found = one(kitchen(line(("counter", "", 90), ("dishwasher", "dw", 24)), island, sink), "K13")
    assert found.working[0].startswith("not on one run")
    assert found.verdict == "falls short"


def test_auxiliary_sink_is_not_meant() -> None:
    project = kitchen(
        line(
            ("dishwasher", "dw", 24), ("sink", "bar", 15, {"role": "auxiliary"}), ("counter", "", 40), ("sink", "s", 30)
        )
    )
    assert inches_of(one(project, "K13")) == pytest.approx(55)


def test_nothing_to_measure() -> None:
    # A kitchen may do without a dishwasher, not without a sink.
    assert one(kitchen(line(("sink", "sink", 30))), "K13").because == "does not apply"
    assert one(kitchen(line(("dishwasher", "dw", 24))), "K13").needs == ("kitchen: a sink",)
    assert one(kitchen(line(("sink", "sink", 30))), "K13b").because == "does not apply"


def in_a_corner(gap: float) -> Project:
    """A dishwasher whose edge is `gap` from the front of the counter at a right angle."""
    north = line(("sink", "sink", 33), ("dishwasher", "dw", 24), ("counter", "", gap + 25), at=360 - 25 - gap - 57)
    east = line(("counter", "", 60), wall="kitchen-east", at=25, prefix="east")
    return kitchen(north, east)


def test_standing_room() -> None:
    # 21 in between the edge of the dishwasher and a counter at a right angle.
    good, short = one(in_a_corner(21), "K13b"), one(in_a_corner(20), "K13b")
    assert (inches_of(good), good.verdict) == (pytest.approx(21), "met")
    assert (inches_of(short), short.verdict) == (pytest.approx(20), "falls short")
    assert "dw.opens" in good.assumed


def test_tall_unit_at_a_right_angle() -> None:
    north = line(("sink", "sink", 33), ("dishwasher", "dw", 24), ("counter", "", 40), at=360 - 97)
    tower = line(("tall cabinet", "tower", 30), wall="kitchen-east", at=26)
    found = one(kitchen(north, tower), "K13b")
    assert (inches_of(found), found.subjects) == (pytest.approx(15), ("dw", "tower"))


def test_nothing_at_a_right_angle() -> None:
    assert one(kitchen(line(("sink", "sink", 33), ("dishwasher", "dw", 24))), "K13b").because == "does not apply"


def test_front_beyond_the_open_door_does_not_count() -> None:
    # An island's end 48 in ahead lies beyond a door 34 in high.
    things = line(("sink", "sink", 33), ("dishwasher", "dw", 24), ("counter", "", 40))
    island = thing("island", "island", 60, 30, free(40, 240 - 25 - 48 - 15))
    assert one(kitchen(things, island), "K13b").because == "does not apply"


def diagonal(away: float) -> Project:
    """A dishwasher turned 45 degrees, the near corner of its open door `away` to the right of the sink's middle."""
    things = line(("counter", "", 40), ("sink", "sink", 30), ("counter", "", 30))
    half = 12 * math.sqrt(0.5)
    reach = 26 * math.sqrt(0.5)
    # Front at 45 degrees, facing down and left: its open door's corner furthest left stands at the front's
    # upper end, moved out by the reach: x = middle - half - reach.
    middle = 55 + away + half + reach
    centre = (middle + 12 * math.sqrt(0.5), 200 + 12 * math.sqrt(0.5))
    door = [{"kind": "drop-down", "reach_mm": 26 * 25.4}]
    return kitchen(things, thing("dishwasher", "dw", 24, 24, free(*centre, turn=-45), opens=door))


@pytest.mark.parametrize(("away", "verdict"), [(21, "met"), (20, "falls short")])
def test_diagonal_dishwasher(away: float, verdict: str) -> None:
    # Set diagonally: 21 in from the centre of the sink to the edge of the open door.
    found = one(diagonal(away), "K13b")
    assert (inches_of(found), found.verdict) == (pytest.approx(away, abs=0.01), verdict)
    assert found.subjects == ("dw", "sink")


def test_findings_are_one_a_dishwasher() -> None:
    project = kitchen(line(("dishwasher", "a", 24), ("sink", "sink", 33), ("dishwasher", "b", 18)))
    assert len(findings(project, "K13")) == 2
