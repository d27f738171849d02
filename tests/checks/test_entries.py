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


def test_one_thing_in_the_way_is_told_once() -> None:
    # Beside the latch (x below 60) at 40 in from the wall: before the door itself the floor is free, beside it not.
    beside = thing("tall cabinet", "block", 20, 20, free(48, 50))
    parts = {f.id.split(":")[1]: f.verdict for f in findings(swung(beside), "K2a", yardstick="us-access")}
    assert (parts["pull-depth"], parts["pull-latch-side"]) == ("met", "falls short")
    # 50 in before the door and 20 in to its hinge side: the depth is short, and nothing stands beside the latch.
    ahead = thing("tall cabinet", "block", 20, 20, free(90, 60))
    parts = {f.id.split(":")[1]: f.verdict for f in findings(swung(ahead), "K2a", yardstick="us-access")}
    assert (parts["pull-depth"], parts["pull-latch-side"]) == ("falls short", "met")


def boxed(ahead: float, latch: float, hinge: float, *, pull: bool = False, closer: bool = False) -> Project:
    """A room as wide as a door of 36 in with `latch` and `hinge` in beside it, and `ahead` in deep before it."""
    swing = {"hinge": "left", "into": "this side" if pull else "other side", "closer_and_latch": closer}
    return house(
        spaces=[room(hinge + 36 + latch, ahead, use="hall")],
        openings=[door("way", "kitchen-south", hinge, 36, swing=swing)],
    )


# ADA table 404.2.4.1 (recalled): approach, depth and width beside the latch (from the hinge side on the push side:
# beside the hinge), and what a closer adds. Of each, a room in which it is just met and one in which an inch lacks;
# the room leaves no floor that another approach would need. Rows that are not listed ask no less, and of no other
# floor, than one that is: they are never the nearest. The front push without closer asks 0 in beside the latch.
Floor = tuple[float, float, float]
APPROACHES: list[tuple[str, str, Floor, dict[str, bool]]] = [
    ("front-pull-depth", "front-pull-latch", (60, 18, 0), {"pull": True}),
    ("front-push-depth", "front-push-latch", (48, 0, 0), {}),
    ("front-push-depth", "front-push-with-closer-latch", (48, 12, 0), {"closer": True}),
    ("hinge-pull-shallow-depth", "hinge-pull-shallow-latch", (54, 42, 0), {"pull": True, "closer": True}),
    ("hinge-push-depth", "hinge-push-latch", (42, 0, 22), {}),
    ("hinge-push-with-closer-depth", "hinge-push-latch", (48, 0, 22), {"closer": True}),
    ("latch-pull-depth", "latch-pull-latch", (48, 24, 0), {"pull": True}),
    ("latch-pull-with-closer-depth", "latch-pull-latch", (54, 24, 0), {"pull": True, "closer": True}),
    ("latch-push-depth", "latch-push-latch", (42, 24, 0), {}),
]


def clearances(project: Project) -> dict[str, str]:
    return {f.id.split(":")[1]: f.verdict for f in findings(project, "A4044", yardstick="us-access")}


@pytest.mark.parametrize(("depth", "width", "floor", "how"), APPROACHES)
def test_an_approach_is_just_met(depth: str, width: str, floor: Floor, how: dict[str, bool]) -> None:
    assert clearances(boxed(*floor, **how)) == {depth: "met", width: "met"}


@pytest.mark.parametrize(("depth", "width", "floor", "how"), APPROACHES)
def test_an_inch_less_depth(depth: str, width: str, floor: Floor, how: dict[str, bool]) -> None:
    ahead, latch, hinge = floor
    assert clearances(boxed(ahead - 1, latch, hinge, **how)) == {depth: "falls short", width: "met"}


@pytest.mark.parametrize(
    ("depth", "width", "floor", "how"),
    [one for one in APPROACHES if one[1] not in ("front-push-latch", "hinge-pull-shallow-latch")],
)
def test_an_inch_less_beside_it(depth: str, width: str, floor: Floor, how: dict[str, bool]) -> None:
    ahead, latch, hinge = floor
    less = (ahead, latch, hinge - 1) if hinge else (ahead, latch - 1, hinge)
    assert clearances(boxed(*less, **how)) == {depth: "met", width: "falls short"}


def test_a_closer_that_is_not_recorded_is_taken_not_to_be_there() -> None:
    found = findings(swung(into="other side"), "A4044", yardstick="us-access")
    assert {f.assumed for f in found} == {("way.swing.closer_and_latch",)}


def test_without_a_hinged_door_no_clearance_is_asked() -> None:
    assert one(house(), "A4044", yardstick="us-access").because == "does not apply"


# Guideline 1: of a sliding door half is sure to be free, and all of it at most.
@pytest.mark.parametrize(
    ("width", "verdict", "shown"), [(64, "met", 32), (63, "not assessed", None), (31, "falls short", 31)]
)
def test_a_sliding_door_whose_clear_width_is_not_recorded(width: float, verdict: str, shown: float | None) -> None:
    found = one(entered(width, kind="sliding door"), "K1")
    assert found.verdict == verdict
    if shown is None:
        assert found.needs == ("way.clear_width_mm",)
    else:
        assert found.measured is not None
        assert found.measured.to("in").value == pytest.approx(shown)


def test_nobody_enters_through_a_closet() -> None:
    spaces = [room(144, 144), room(60, 30, id="closet", use="closet", at=(40, -36))]
    openings = [door("brooms", "kitchen-south", 60, 24, beyond="closet-north"), door("way", "kitchen-west", 40, 34)]
    project = house(spaces=spaces, openings=openings)
    assert one(project, "K1", containing="brooms").because == "does not apply"
    assert one(project, "K1", containing="way").verdict == "met"
