"""Clear floor at dishwasher and refrigerator. Figures: access parts of Kitchen guidelines 13 and 16."""

from __future__ import annotations

from typing import Any

import pytest

from building import findings, free, one, thing
from enfilade.findings import Finding
from enfilade.project.project import Project
from lines import inches_of, kitchen, line

DOOR: dict[str, Any] = {"opens": [{"kind": "drop-down", "reach_mm": 24 * 25.4}]}


def access(project: Project, rule: str, containing: str = "") -> Finding:
    return one(project, rule, yardstick="us-access", containing=containing)


@pytest.mark.parametrize(("low", "verdict"), [(0, "falls short"), (6, "met"), (12, "met"), (13, "falls short")])
def test_raised_dishwasher(low: float, verdict: str) -> None:
    # Guideline 13, access part: raised by 6 to 12 in.
    project = kitchen(line(("dishwasher", "dw", 24, {"bottom": low, "top": low + 34}), top=36 + low))
    assert access(project, "K13a", ":raised").verdict == verdict


def walled(beside: float, aisle: float = 100) -> Project:
    """A dishwasher at the end of its run, `beside` from a tall unit on its right and from a wall on its left."""
    parts = line(("gap", "", beside), ("dishwasher", "dw", 24, DOOR))
    block = thing("furniture piece", "block", 40, 200, free(beside + 24 + beside + 20, 140), top=80)
    facing = thing("island", "island", 200, 20, free(100, 240 - 25 - aisle - 10))
    return kitchen(parts, block, facing)


def test_clear_floor_beside_the_door() -> None:
    # 30 by 48 in beside the open door.
    good = walled(30)
    assert [access(good, "K13a", p).verdict for p in ("floor-width", "floor-length")] == ["met", "met"]
    narrow = access(walled(29), "K13a", "floor-width")
    assert (inches_of(narrow), narrow.verdict) == (pytest.approx(29), "falls short")
    # 50 in on either side, but an island 40 in ahead: 30 in deep alongside, 48 in long.
    across = walled(50, aisle=40)
    assert [access(across, "K13a", p).verdict for p in ("floor-width", "floor-length")] == ["met", "met"]
    short = access(walled(45, aisle=40), "K13a", "floor-length")
    assert (inches_of(short), short.verdict) == (pytest.approx(45), "falls short")


def test_door_over_the_sink_floor() -> None:
    beside = kitchen(line(("sink", "sink", 36), ("dishwasher", "dw", 24, DOOR)))
    assert access(beside, "K13a", ":door").verdict == "met"
    # Round an inside corner the open door lies before the sink.
    north = line(("dishwasher", "dw", 24, DOOR), ("counter", "", 30), at=360 - 54)
    east = line(("counter", "", 30), ("sink", "sink", 30), wall="kitchen-east", prefix="east")
    assert access(kitchen(north, east), "K13a", ":door").verdict == "falls short"


def test_not_told_twice() -> None:
    project = kitchen(line(("sink", "sink", 36), ("dishwasher", "dw", 24, DOOR)))
    assert not findings(project, "A8063", yardstick="us-access")
    assert not findings(project, "A8066", yardstick="us-access", containing=":offset")
    for rule in ("K13a", "K16a"):
        assert not findings(project, rule)


def cold(aisle: float, shift: float = 0, width: float = 200) -> Project:
    """A refrigerator 36 in wide before an aisle, the aisle `shift` off its middle and `width` long."""
    things = line(("refrigerator", "cold", 36, {"depth": 30}), at=100)
    middle = 118 + shift
    return kitchen(
        things,
        thing("island", "island", 200, 20, free(118, 240 - 30 - aisle - 10)),
        thing("furniture piece", "west", 40, 60, free(middle - width / 2 - 20, 180), top=80),
        thing("furniture piece", "east", 40, 60, free(middle + width / 2 + 20, 180), top=80),
    )


def test_clear_floor_alongside_the_refrigerator() -> None:
    # 30 by 48 in, its middle at most 24 in from the refrigerator's.
    parts = ("floor-width", "floor-length", "offset")
    assert [access(cold(30), "K16a", p).verdict for p in parts] == ["met"] * 3
    narrow = access(cold(29), "K16a", "floor-width")
    assert (inches_of(narrow), narrow.verdict) == (pytest.approx(29), "falls short")
    short = access(cold(40, width=47), "K16a", "floor-length")
    assert (inches_of(short), short.verdict) == (pytest.approx(47), "falls short")


def test_offset() -> None:
    # An aisle 48 in long whose middle lies 20 or 25 in off that of the refrigerator.
    good, far = (access(cold(40, shift, 48), "K16a", ":offset") for shift in (20, 25))
    assert (inches_of(good), good.verdict) == (pytest.approx(20), "met")
    assert (inches_of(far), far.verdict) == (pytest.approx(25), "falls short")
    assert {f.because for f in findings(kitchen(), "K16a", yardstick="us-access")} == {"missing fact"}
    assert {f.because for f in findings(kitchen(), "K13a", yardstick="us-access")} == {"does not apply"}
