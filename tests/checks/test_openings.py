"""What opens and what it meets. Common practice and own choices, no source; areas and fillers worked by hand."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from building import door, findings, free, house, on_wall, one, room, thing
from enfilade.checks.open_shapes import open_shape, swept_shape
from enfilade.checks.view import House
from enfilade.lengths import inches
from enfilade.project.project import Project

FLAP = {"kind": "drop-down", "reach_mm": inches(24)}
DRAWER = {"kind": "drawer", "reach_mm": inches(20)}
DOOR = {"kind": "hinged", "hinge": "right", "reach_mm": None}


def before_island(clear: float, **leaf: Any) -> Project:
    """A dishwasher 24 in deep against the north wall of 144 in, an island `clear` in before it."""
    return house(
        [
            thing("dishwasher", "dw", 24, 24, on_wall("kitchen-north", 60), opens=[{**FLAP, **leaf}]),
            thing("island", "island", 60, 24, free(72, 120 - clear - 12)),
        ]
    )


# Left beyond an open flap 24 in long: the aisle less 24 in.
@pytest.mark.parametrize(("clear", "left", "verdict"), [(42, 18, "met"), (24, 0, "met"), (23, -1, "falls short")])
def test_what_is_left_beyond_an_open_flap(clear: float, left: float, verdict: str) -> None:
    found = one(before_island(clear), "D1")
    assert found.verdict == verdict
    assert found.measured is not None
    assert found.measured.to("in").value == pytest.approx(left)
    assert found.level == "practice"


def test_what_does_not_say_how_it_opens_is_asked_for() -> None:
    unknown = house([thing("dishwasher", "dw", 24, 24, on_wall("kitchen-north", 60))])
    assert one(unknown, "D1").needs == ("dw.opens",)
    assert one(house(), "D1").because == "does not apply"


def test_the_top_over_a_cabinet_is_not_in_its_way() -> None:
    project = house(
        [
            thing("counter", "top", 60, 25, on_wall("kitchen-north", 30)),
            thing("base cabinet", "base", 30, 24, on_wall("kitchen-north", 40), opens=[DRAWER]),
        ]
    )
    found = one(project, "D1")
    assert found.measured is not None
    assert found.measured.to("in").value == pytest.approx(120 - 20)


def corner(gap: float, other: dict[str, Any] | None = None, **leaf: Any) -> Project:
    """Base cabinets 24 in deep on both sides of the north-east corner, each beginning `gap` in from it."""
    return house(
        [
            thing(
                "base cabinet", "a", 18, 24, on_wall("kitchen-north", gap, from_end="right"), opens=[{**DRAWER, **leaf}]
            ),
            thing("base cabinet", "b", 18, 24, on_wall("kitchen-east", gap), opens=[other or DRAWER]),
        ]
    )


def test_a_door_and_a_drawer_open_at_once_at_a_corner() -> None:
    # With 24 in to the corner (nothing spare) a's door stands open along the line of the east fronts, 20 mm thick
    # (own choice) and 18 in long; b's drawer covers 20 x 18 in before the east front, and all of that door. The door
    # clears it 20 in further off, the drawer 18 in.
    found = one(corner(24, **DOOR), "D2", containing="both-open")
    assert found.verdict == "falls short"
    assert found.measured is not None
    assert found.measured.value == pytest.approx(20 * inches(18))
    assert found.working[0] == "base cabinet (a) and base cabinet (b) open at once: they lie over each other for " \
        "14.2 sq in (9,144 mm²)"  # fmt: skip
    assert [line.split(" on ")[0] for line in found.working[1:]] == [
        'a filler of 20" (508 mm)', 'a filler of 18" (457 mm)',
    ]  # fmt: skip


def test_two_drawers_at_a_corner_are_held_against_closed_fronts_alone() -> None:
    # No kitchen has fillers of 20 in at its corners. Both out, with 24 in to the corner, the drawers share 18 x 18 in,
    # 2.25 sq ft, and a filler of 20 in moves either past the other's reach.
    assert one(corner(24), "D2", containing="both-open").because == "does not apply"
    short = findings(corner(24), "D2", containing="past-a-closed-front")
    assert {f.verdict for f in short} == {"falls short"}
    assert all("(0.21 m²)" in f.also[-1] and 'filler of 20" (508 mm)' in f.also[-1] for f in short)
    # With 1 1/2 in more the handles are passed; both out, 18 x 18 in are still shared, 18 1/2 in from clear.
    past = one(corner(25.5), "D2", containing="past-a-closed-front")
    assert (past.verdict, past.subjects) == ("met", ("a", "b"))
    assert 'filler of 18 1/2" (470 mm)' in past.also[-1]
    clear = one(corner(44), "D2", containing="past-a-closed-front")
    assert clear.subjects == ("kitchen",)
    assert not any("pulled out" in line for line in clear.also)


def test_a_cabinet_with_a_door_and_a_drawer_is_held_by_its_door() -> None:
    low = {**DOOR, "top_mm": inches(28)}
    high = {**DRAWER, "bottom_mm": inches(28)}
    project = house(
        [
            thing("base cabinet", "a", 18, 24, on_wall("kitchen-north", 24, from_end="right"), opens=[low, high]),
            thing("base cabinet", "b", 18, 24, on_wall("kitchen-east", 24), opens=[low, high]),
        ]
    )
    found = one(project, "D2", containing="both-open")
    assert (found.verdict, found.subjects) == ("falls short", ("a", "b"))


def test_no_area_is_told_in_square_millimetres_alone() -> None:
    told = [line for f in findings(corner(24, **DOOR), "D2") for line in (*f.working, *f.also)]
    assert any("mm²" in line for line in told)
    assert all("sq in (" in line for line in told if "mm²" in line)


def test_the_filler_that_is_named_cures_it() -> None:
    project = house(
        [
            thing("base cabinet", "a", 18, 24, on_wall("kitchen-north", 44, from_end="right"), opens=[DOOR]),
            thing("base cabinet", "b", 18, 24, on_wall("kitchen-east", 24), opens=[DRAWER]),
        ]
    )
    assert one(project, "D2", containing="both-open").verdict == "met"


def test_a_drawer_past_the_handle_round_the_corner() -> None:
    # Handles stand 1 1/2 in proud (own choice): flush at the corner a's drawer comes out over b's handle on
    # 1.5 x 18 in, and a filler of 1 1/2 in clears it; with that filler nothing is met.
    tight = findings(corner(24), "D2", containing="past-a-closed-front")
    assert [f.verdict for f in tight] == ["falls short", "falls short"]
    assert tight[0].measured is not None
    assert tight[0].measured.to("sq in").value == pytest.approx(1.5 * 18)
    assert any('filler of 1 1/2"' in line for line in tight[0].working)
    assert one(corner(25.5), "D2", containing="past-a-closed-front").verdict == "met"


def test_corners_without_anything_that_opens() -> None:
    lone = house([thing("base cabinet", "a", 18, 24, on_wall("kitchen-north", 10), opens=[DRAWER])])
    assert {f.because for f in findings(lone, "D2")} == {"does not apply"}
    unsaid = house([thing("base cabinet", "a", 18, 24, on_wall("kitchen-north", 10))])
    assert {f.needs for f in findings(unsaid, "D2")} == {("a.opens",)}


def behind_a_door(filler: float, inset: float = 0.0, angle: float = 110) -> Project:
    """A cabinet 18 in wide, `filler` in from the west wall, its door hung on that side, a pull-out behind it."""
    leaves = [
        {"kind": "hinged", "hinge": "left", "angle_deg": angle},
        {"kind": "pull-out", "from_left_mm": inches(inset), "width_mm": inches(18 - inset), "reach_mm": inches(20)},
    ]
    return house([thing("base cabinet", "base", 18, 24, on_wall("kitchen-north", filler), opens=leaves)])


def test_a_door_at_a_wall_needs_a_filler_for_its_handle() -> None:
    # The door's face and handle stand 3/8 + 1 1/2 = 1 7/8 in before its line. Hung on the wall itself, its end meets
    # the wall when tan(angle) = 18 / 1.875: 84.05 degrees; the pull-out beside the hinge needs 90.
    found = one(behind_a_door(0), "D3")
    assert found.verdict == "falls short"
    assert found.measured is not None
    assert found.measured.value == pytest.approx(math.degrees(math.atan2(18, 1.875)), abs=0.05)
    assert any('filler of 1 7/8"' in line for line in found.working)
    assert one(behind_a_door(1.9375), "D3").verdict == "met"


def test_a_pull_out_set_in_from_the_hinge_needs_less() -> None:
    # 3 in from the hinge: the line of the leaf is clear at arccos(3 / 18) = 80.4 degrees.
    found = one(behind_a_door(0, inset=3), "D3")
    assert found.verdict == "met"
    assert found.required is not None
    assert found.required.value == pytest.approx(math.degrees(math.acos(3 / 18)))


def test_a_hinge_that_stops_short() -> None:
    assert one(behind_a_door(10, angle=85), "D3").verdict == "falls short"


def test_cabinets_without_pull_outs_behind_doors() -> None:
    assert one(corner(24), "D3").because == "does not apply"
    unsaid = house([thing("base cabinet", "a", 18, 24, on_wall("kitchen-north", 10))])
    assert one(unsaid, "D3").needs == ("a.opens",)


def behind_a_room_door(away: float) -> Project:
    """A door 36 in wide hung at the east end of the south wall; a drawer in the east wall, `away` in from the door."""
    base = thing("base cabinet", "base", 18, 12, on_wall("kitchen-east", 144 - away - 18), opens=[DRAWER])
    swing = {"hinge": "left", "into": "this side", "angle_deg": 90}
    return house([base], openings=[door("way", "kitchen-south", 14, 36, swing=swing)])


def test_a_drawer_behind_an_open_room_door() -> None:
    # The door stands open along x = 144 - 14 = 130 in, y 0 to 36; the drawer comes out from x = 132 to 112.
    assert one(behind_a_room_door(10), "D4", containing="way").verdict == "falls short"
    assert one(behind_a_room_door(40), "D4", containing="way").verdict == "met"


def test_room_doors_that_turn_away_or_are_not_recorded() -> None:
    assert one(house(), "D4").because == "does not apply"
    assert one(house(openings=[door("way", "kitchen-south", 14)]), "D4").needs == ("way.swing",)


def hung(*things: dict[str, Any], angle: float = 90, offset: float = 14, **swing: Any) -> Project:
    """A door 36 in wide in the south wall: hinged `offset` in from its east end, it opens along x = 144 - offset."""
    turns = {"hinge": "left", "into": "this side", "angle_deg": angle, **swing}
    return house(things, openings=[door("way", "kitchen-south", offset, 36, swing=turns)])


def test_a_door_that_furniture_holds() -> None:
    # Common practice. Hinged at (130, 0), its line at an angle t ends at (130 - 36 cos t, 36 sin t). The west side of
    # a cabinet stands at x = 120 from y = 24: its corner is met at tan t = 24 / 10, 67.4 degrees.
    cabinet = thing("tall cabinet", "cabinet", 24, 24, free(132, 36))
    found = one(hung(cabinet), "D5")
    assert found.verdict == "falls short"
    assert found.measured is not None
    assert found.measured.value == pytest.approx(math.degrees(math.atan2(24, 10)), abs=0.1)
    assert "tall cabinet is in its way" in found.working[-1]
    assert found.level == "practice"
    assert any("no document" in line for line in found.also)
    # Past the end of the leaf, 37 in from the wall, it holds nothing.
    assert one(hung(thing("tall cabinet", "cabinet", 24, 24, free(132, 49))), "D5").verdict == "met"


def test_a_door_opens_as_far_as_it_is_recorded_to() -> None:
    # The east wall lies 14 in behind the hinge: the end of the leaf meets it at 90 + arcsin(14 / 36) = 112.9 degrees.
    found = one(hung(angle=170), "D5")
    assert found.verdict == "falls short"
    assert found.measured is not None
    assert found.measured.value == pytest.approx(90 + math.degrees(math.asin(14 / 36)), abs=0.1)
    assert "kitchen-east is in its way" in found.working[-1]
    assert one(hung(angle=110), "D5").verdict == "met"
    assert one(hung(offset=0), "D5").verdict == "met"  # flat against the wall, at a right angle


def test_what_can_be_pushed_aside_or_hangs_over_the_door_holds_it_not() -> None:
    chair = thing("seat", "chair", 18, 18, free(115, 20), what="chair")
    beam = thing("wall cabinet", "high", 24, 12, free(120, 20), bottom=84, top=96)
    assert one(hung(chair, beam), "D5").verdict == "met"
    low = thing("wall cabinet", "low", 24, 12, free(120, 20), bottom=54, top=84)
    assert one(hung(low), "D5").verdict == "falls short"


def test_a_door_that_cannot_open_at_all() -> None:
    found = one(hung(thing("base cabinet", "base", 24, 24, free(110, 12))), "D5")
    assert found.verdict == "falls short"
    assert found.measured is not None
    assert found.measured.value == pytest.approx(0)
    assert found.working[-1] == "cannot open; base cabinet is in its way"


def test_each_door_is_held_in_the_room_into_which_it_turns() -> None:
    hall = room(144, 60, id="hall", use="hall", at=(0, -66))
    swing = {"hinge": "left", "into": "other side"}
    project = house(spaces=[room(144, 144), hall],
                    openings=[door("way", "kitchen-south", 50, 36, beyond="hall-north", swing=swing)])  # fmt: skip
    assert [f.space for f in findings(project, "D5", containing="way")] == ["hall"]
    assert one(hung(into="other side"), "D5").because == "does not apply"
    assert one(house(openings=[door("way", "kitchen-south", 14)]), "D5").needs == ("way.swing",)
    assert one(house(), "D5").because == "does not apply"


def test_things_are_called_by_their_names() -> None:
    washer = thing("dishwasher", "dw", 24, 24, on_wall("kitchen-north", 60), opens=[FLAP], name="new dishwasher")
    found = one(house([washer, thing("island", "island", 60, 24, free(72, 66))]), "D1")
    assert found.working[0].startswith("new dishwasher to island: ")
    assert found.subjects == ("dw",)


@settings(max_examples=20, deadline=None)
@given(st.floats(24, 70), st.floats(0, 20))
def test_a_wider_corner_never_clashes_more(gap: float, more: float) -> None:
    def area(at: float) -> float:
        return sum(f.measured.value for f in findings(corner(at, **DOOR), "D2", containing="both-open") if f.measured)

    assert area(gap + more) <= area(gap) + 1.0


@settings(max_examples=20, deadline=None)
@given(st.sampled_from(["hinged", "drop-down", "drawer", "pull-out", "lift-up"]), st.floats(0, 360))
def test_an_open_leaf_lies_within_what_it_swept(kind: str, turn: float) -> None:
    leaf = {"kind": kind, "hinge": "right"} if kind == "hinged" else {"kind": kind}
    project = house(
        [thing("base cabinet", "a", 18, 24, free(0, 0, turn), opens=[leaf])], spaces=[room(300, 300, at=(-150, -150))]
    )
    stand = House(project).standing["a"]
    shape, swept = open_shape(stand, stand.thing.leaves[0]), swept_shape(stand, stand.thing.leaves[0])
    assert shape is not None
    assert swept is not None
    # A leaf is drawn 20 mm thick about its line; the sweep is that of the line.
    assert swept.buffer(10.5).covers(shape)
    assert shape.area > 0
