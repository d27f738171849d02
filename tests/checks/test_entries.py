"""Ways into the kitchen and the floor at hinged doors, against Kitchen guidelines 1 and 2 and ADA 404."""

from __future__ import annotations

import pytest

from building import door, findings, free, house, one, room, thing
from enfilade.lengths import inches
from enfilade.project.project import Project


def entered(width: float, **more: object) -> Project:
    """A kitchen of 12 x 12 ft with one door in the south wall; a hall 6 in beyond it."""
    hall = room(144, 60, id="hall", use="hall", at=(0, -66))
    return house(
        spaces=[room(144, 144), hall],
        openings=[door("way", "kitchen-south", 48, width, beyond="hall-north", **more)],
    )


# Kitchen guideline 1: 32 in clear; the source prints a 34 in leaf for it.
@pytest.mark.parametrize(("width", "verdict"), [(34, "met"), (33, "falls short")])
def test_a_34_in_leaf_leaves_32_in_clear(width: float, verdict: str) -> None:
    found = one(entered(width, swing={"hinge": "left", "into": "this side"}), "K1")
    assert found.verdict == verdict
    assert found.measured is not None
    assert found.measured.to("in").value == pytest.approx(width - 2)
    assert found.assumed == ("way.clear_width_mm",)


def test_a_recorded_clear_width_is_no_assumption() -> None:
    found = one(entered(36, clear_width_mm=inches(31)), "K1")
    assert (found.verdict, found.assumed) == ("falls short", ())


def test_a_cased_opening_is_measured_jamb_to_jamb() -> None:
    found = one(entered(32, kind="cased opening"), "K1")
    assert (found.verdict, found.assumed) == ("met", ())


def test_a_kitchen_without_ways_in_says_what_is_missing() -> None:
    assert one(house(), "K1").needs == ("openings",)
    den = room(144, 60, id="den", use="living", at=(0, -60))
    open_plan = house(spaces=[room(144, 144, open_sides=("south",)), den])
    assert one(open_plan, "K1").because == "does not apply"


# Guideline 1, access part: 34 in clear, leaf 36 in.
@pytest.mark.parametrize(("width", "verdict"), [(36, "met"), (35, "falls short")])
def test_access_asks_34_in_clear(width: float, verdict: str) -> None:
    assert one(entered(width), "K1a", yardstick="us-access", containing="K1a::").verdict == verdict


# Guideline 1, access part: a way in deeper than 24 in is 36 in clear.
@pytest.mark.parametrize(("width", "verdict"), [(36, "met"), (35, "falls short")])
def test_a_deep_way_in_is_36_in_wide(width: float, verdict: str) -> None:
    project = entered(width, kind="cased opening", depth_mm=inches(25))
    assert one(project, "K1a", yardstick="us-access", containing="deep-passage").verdict == verdict


def test_depth_is_read_off_the_walls_of_both_rooms() -> None:
    # 6 in between the two faces: not deep.
    found = one(entered(36), "K1a", yardstick="us-access", containing="deep-passage")
    assert found.because == "does not apply"
    outdoors = house(openings=[door("way", "kitchen-south", 48, 36)])
    found = one(outdoors, "K1a", yardstick="us-access", containing="deep-passage")
    assert found.needs == ("way.depth_mm",)


# ADA 404.2.3: 32 in, and 36 in where the passage is deeper than 24 in; for doors of other rooms.
@pytest.mark.parametrize(("width", "verdict"), [(36, "met"), (33, "falls short")])
def test_doors_between_other_rooms(width: float, verdict: str) -> None:
    rooms = [room(144, 144, id="den", use="living"), room(144, 60, id="hall", use="hall", at=(0, -66))]
    project = house(spaces=rooms, openings=[door("way", "den-south", 48, width, beyond="hall-north")])
    assert one(project, "A4042", yardstick="us-access", containing="A4042::").verdict == verdict
    deep = house(
        spaces=rooms,
        openings=[door("way", "den-south", 48, width, kind="cased opening", depth_mm=inches(30), beyond="hall-north")],
    )
    assert one(deep, "A4042", yardstick="us-access", containing="deep").verdict == verdict
    assert findings(entered(30), "A4042", yardstick="us-access") == []


def swung(
    *things: dict[str, object], into: str = "this side", closer: bool | None = None, offset: float = 48
) -> Project:
    """A door 36 in wide in the south wall, hinged on the left seen from inside: its latch is on the right (west)."""
    swing: dict[str, object] = {"hinge": "left", "into": into}
    if closer is not None:
        swing["closer_and_latch"] = closer
    return house(things, openings=[door("way", "kitchen-south", offset, 36, swing=swing)])


# Guideline 2, access part: pull side 18 in beside the latch and 60 in deep.
# Seen from inside, left of the south wall is its east end: the door spans x 60 to 96, the latch is at x = 60.
# A block centred at (78, 70), 20 in wide and 20 in deep, stands 60 in from the wall; at y 69 it stands 59 in.
@pytest.mark.parametrize(("y", "verdict"), [(70, "met"), (69, "falls short")])
def test_pull_side_depth(y: float, verdict: str) -> None:
    block = thing("tall cabinet", "block", 20, 20, free(78, y))
    found = one(swung(block), "K2a", yardstick="us-access", containing="pull-depth")
    assert found.verdict == verdict
    assert found.measured is not None
    assert found.measured.to("in").value == pytest.approx(y - 10)


@pytest.mark.parametrize(("x", "verdict"), [(32, "met"), (33, "falls short")])
def test_pull_side_beside_the_latch(x: float, verdict: str) -> None:
    # The block's east face stands at x + 10; from the latch at 60 that leaves 50 - x in.
    block = thing("tall cabinet", "block", 20, 20, free(x, 20))
    found = one(swung(block), "K2a", yardstick="us-access", containing="pull-latch")
    assert found.verdict == verdict
    assert found.measured is not None
    assert found.measured.to("in").value == pytest.approx(50 - x)


@pytest.mark.parametrize(("y", "verdict"), [(58, "met"), (57, "falls short")])
def test_push_side_depth(y: float, verdict: str) -> None:
    block = thing("tall cabinet", "block", 20, 20, free(78, y))
    project = swung(block, into="other side")
    assert one(project, "K2a", yardstick="us-access", containing="push-depth").verdict == verdict


@pytest.mark.parametrize(("x", "verdict"), [(38, "met"), (39, "falls short")])
def test_push_side_with_closer_and_latch_asks_12_in(x: float, verdict: str) -> None:
    block = thing("tall cabinet", "block", 20, 20, free(x, 20))
    project = swung(block, into="other side", closer=True)
    assert one(project, "K2a", yardstick="us-access", containing="push-latch").verdict == verdict


def test_what_is_not_recorded_of_a_door_is_asked_for() -> None:
    found = one(swung(into="other side"), "K2a", yardstick="us-access", containing="push-latch")
    assert found.needs == ("way.swing.closer_and_latch",)
    unsaid = house(openings=[door("way", "kitchen-south", 48)])
    assert {f.needs for f in findings(unsaid, "K2a", yardstick="us-access")} == {("way.swing",)}


def test_a_door_near_a_corner_has_less_beside_its_latch() -> None:
    # Offset from the left (east) end is 98 in: the latch is 144 - 98 - 36 = 10 in from the west wall.
    found = one(swung(offset=98), "K2a", yardstick="us-access", containing="pull-latch")
    assert found.measured is not None
    assert found.measured.to("in").value == pytest.approx(10)


# ADA 404.2.4: front pull 60 x 18, hinge pull 60 x 36 or 54 x 42, latch pull 48 x 24 (recalled).
def test_the_approach_that_suits_the_floor_is_taken() -> None:
    clear = findings(swung(), "A4044", yardstick="us-access")
    assert [f.verdict for f in clear] == ["met", "met"]
    assert all("front-pull" in f.id for f in clear)
    # A wall of cabinets 50 in ahead: no 60 in, yet 48 in with 24 in beside the latch is there.
    block = thing("tall cabinet", "block", 140, 20, free(72, 60))
    side = findings(swung(block), "A4044", yardstick="us-access")
    assert [f.verdict for f in side] == ["met", "met"]
    assert all("latch-pull" in f.id for f in side)


def test_no_approach_suits_a_crowded_door() -> None:
    block = thing("tall cabinet", "block", 140, 20, free(72, 50))  # 40 in ahead
    assert "falls short" in {f.verdict for f in findings(swung(block), "A4044", yardstick="us-access")}
