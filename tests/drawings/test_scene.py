"""The plan as a display list: everything is on it, its strings add up, and turning the house changes nothing."""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import FrozenInstanceError

import pytest
import shapely

from building import door, free, house, on_wall, room, thing
from drawings.crowded import crowded, rooms, turned
from enfilade.checks.run import check
from enfilade.drawings.items import Arc, Circle, Dimension, Label, Line, Numbered, Polygon, Scene
from enfilade.drawings.measures import breaks
from enfilade.drawings.scene import plan_scene
from enfilade.errors import NotFound
from enfilade.findings import Finding, Mark, Requirement
from enfilade.lengths import inches
from enfilade.quantities import Quantity
from enfilade.sources import Source


def _finding(verdict: str, id: str = "x", **more: object) -> Finding:
    measured = Quantity({"met": 50.0, "falls short": 40.0}.get(verdict, 0.0), "in")
    known = {"measured": measured} if verdict != "not assessed" else {"because": "missing fact"}
    return Finding(
        id=f"K6:{id}", rule="K6", title="Work aisle", level="recommended", space="kitchen", subjects=("island",),
        source=Source("Guidelines", "", "", "6", "seen", "Kitchen guideline 6"),
        required=Requirement("at least", 42.0, "in"), **known, **more,  # type: ignore[arg-type]
    )  # fmt: skip


def _strings(scene: Scene) -> list[Dimension]:
    return [item for item in scene.items if isinstance(item, Dimension) and item.role == "dimension"]


def test_every_thing_opening_and_wall_is_on_the_plan_of_its_room() -> None:
    project = crowded()
    subjects = {item.subject for item in plan_scene(project, "kitchen").items}
    assert {one.id for one in project.things} <= subjects
    assert {one.id for one in project.openings} <= subjects
    assert {wall.id for wall in project.spaces[0].walls} <= subjects


def test_the_plan_of_the_house_shows_all_but_services() -> None:
    project = rooms()
    subjects = {item.subject for item in plan_scene(project).items}
    assert {
        *(o.id for o in project.openings),
        *(t.id for t in project.things),
        *(s.id for s in project.spaces),
    } <= subjects


def test_items_cannot_be_changed() -> None:
    item = plan_scene(crowded(), "kitchen").items[0]
    with pytest.raises(FrozenInstanceError):
        item.subject = "other"  # type: ignore[misc]


@pytest.mark.parametrize("angle", [31.0, 90.0, 180.0, 247.5])
def test_turning_the_house_changes_no_item_but_its_place(angle: float) -> None:
    project = crowded()
    straight, leaning = plan_scene(project, "kitchen"), plan_scene(turned(project, angle), "kitchen")
    kinds = [Counter((type(i).__name__, i.role, i.subject) for i in scene.items) for scene in (straight, leaning)]
    assert kinds[0] == kinds[1]
    parts = [sorted(tuple(round(p, 3) for p in s.parts_mm) for s in _strings(scene)) for scene in (straight, leaning)]
    assert parts[0] == parts[1]


def test_each_string_is_as_long_as_its_wall() -> None:
    # Walls of 15 ft and 13 ft by construction.
    lengths = {"north": 180, "south": 180, "east": 156, "west": 156}
    strings = _strings(plan_scene(crowded(), "kitchen"))
    for name, length in lengths.items():
        here = [s for s in strings if s.subject == f"kitchen-{name}"]
        assert here
        for string in here:
            assert sum(string.parts_mm) == pytest.approx(inches(length))
            assert all(part > 0 for part in string.parts_mm)


def test_widths_stand_in_order_along_the_wall() -> None:
    # From the left end: return 24, corner 24, sink base 36, dishwasher 24, drawers 18, baking 30, pantry 24.
    strings = [s for s in _strings(plan_scene(crowded(), "kitchen")) if s.subject == "kitchen-north"]
    first = min(strings, key=lambda s: s.tier)
    assert [round(part / 25.4, 6) for part in first.parts_mm] == [24, 24, 36, 24, 18, 30, 24]
    openings = next(s for s in strings if s.tier == 2)
    assert [round(part / 25.4, 6) for part in openings.parts_mm] == [48, 36, 96]


def test_breaks_merge_what_is_closer_than_the_tolerance() -> None:
    # 0.5 mm is inside the 0.8 mm tolerance, so no sliver of half a millimetre is dimensioned.
    assert breaks([(0.0, 500.0), (500.5, 1000.0)], 1000.0) == (500.0, 500.0)
    assert breaks([], 1000.0) == (1000.0,)
    assert breaks([(-50.0, 1200.0)], 1000.0) == (1000.0,)


def test_strings_lie_outside_the_walls() -> None:
    scene = plan_scene(crowded(), "kitchen")
    for string in _strings(scene):
        x, y = string.start
        out = (x + string.outward[0] * string.offset_mm, y + string.outward[1] * string.offset_mm)
        x0, y0, x1, y1 = scene.bounds
        assert not (x0 + 1 < out[0] < x1 - 1 and y0 + 1 < out[1] < y1 - 1)


def test_what_hangs_is_dashed_and_what_stands_is_not() -> None:
    outline = {
        i.subject: i for i in plan_scene(crowded(), "kitchen").items if isinstance(i, Polygon) and i.role != "finding"
    }
    assert (outline["upper"].role, outline["upper"].weight) == ("upper", "hidden")
    assert (outline["hood"].role, outline["hood"].weight) == ("upper", "hidden")
    assert (outline["sink-base"].role, outline["sink-base"].weight) == ("under", "hidden")
    assert outline["top-north"].role == "counter"
    pantry = [i for i in plan_scene(crowded(), "kitchen").of("pantry") if isinstance(i, Line)]
    assert len(pantry) == 2  # the diagonal cross of a tall unit


def test_symbols_follow_the_record() -> None:
    scene = plan_scene(crowded(), "kitchen")
    burners = [i for i in scene.of("cooktop") if isinstance(i, Circle)]
    assert len(burners) == 2 * 5  # two rings a burner
    bowls = [i for i in scene.of("sink") if isinstance(i, Polygon) and i.role == "symbol"]
    assert len(bowls) == 2
    chairs = [i for i in scene.of("island") if isinstance(i, Polygon) and i.role == "furniture"]
    assert len(chairs) == 3


def test_a_door_swings_as_recorded_and_as_far() -> None:
    project = house(
        openings=[door("d", "kitchen-south", 30, 36, swing={"hinge": "left", "into": "this side", "angle_deg": 90})]
    )
    arc = next(i for i in plan_scene(project, "kitchen").of("d") if isinstance(i, Arc))
    # South wall seen from inside runs from east to west: left is east, at 144 - 30 = 114 in.
    assert arc.centre == pytest.approx((inches(114), 0.0))
    assert arc.start == pytest.approx((inches(78), 0.0))
    assert arc.end == pytest.approx((inches(114), inches(36)))
    assert math.dist(arc.centre, arc.end) == pytest.approx(inches(36))


def test_the_wall_between_two_rooms_is_as_thick_as_the_gap() -> None:
    bodies = [
        shapely.Polygon(i.points, i.holes)
        for i in plan_scene(rooms(), "kitchen").items
        if isinstance(i, Polygon) and i.solid
    ]
    probe = shapely.LineString([(inches(150) - 50, inches(20)), (inches(150) + 600, inches(20))])
    assert sum(body.intersection(probe).length for body in bodies) == pytest.approx(inches(4.5))


def test_an_opening_interrupts_the_wall() -> None:
    project = rooms()
    faces = [i for i in plan_scene(project, "kitchen").of("kitchen-east") if isinstance(i, Line) and i.weight == "cut"]
    length = sum(math.dist(*face.points) for face in faces)
    assert length == pytest.approx(inches(120 - 36))


def test_an_open_side_has_no_wall_and_says_where_it_leads() -> None:
    spaces = [
        room(100, 100, open_sides=("east",)),
        room(80, 100, id="bay", use="breakfast", at=(100, 0), open_sides=("west",)),
    ]
    scene = plan_scene(house(spaces=spaces), "kitchen")
    items = scene.of("kitchen-east")
    assert {i.weight for i in items if isinstance(i, Line)} == {"hidden"}
    assert "open to Bay" in {i.text for i in items if isinstance(i, Label)}


def test_clear_widths_are_the_measured_ones() -> None:
    # By hand: counter front at 156 - 25.5 = 130.5; island back edge at 72 + 21 = 93; 130.5 - 93 = 37.5 in.
    widths = [i for i in plan_scene(crowded(), "kitchen").items if i.role == "clear-width" and isinstance(i, Dimension)]
    assert inches(37.5) in [pytest.approx(i.total_mm) for i in widths]
    # Counter front at 25.5; island left end at 102 - 42 = 60; 34.5 in.
    assert inches(34.5) in [pytest.approx(i.total_mm) for i in widths]


def test_findings_that_fall_short_are_numbered_and_told_in_words() -> None:
    line = Mark("measure", ((1000.0, 1000.0), (1000.0, 2000.0)))
    found = [_finding("met", "a"), _finding("falls short", "b", marks=(line,)), _finding("falls short", "c")]
    scene = plan_scene(crowded(), "kitchen", found)
    marks = [i for i in scene.items if isinstance(i, Numbered)]
    assert [mark.number for mark in marks] == [1, 2]
    assert [key.finding for key in scene.key] == ["K6:b", "K6:c"]
    assert all("falls short" in key.text and "Kitchen guideline 6" in key.text for key in scene.key)
    assert all(mark.verdict in mark.title for mark in marks if mark.verdict)
    assert any("falls short: Work aisle" in item.title for item in scene.of("island"))
    assert not any(isinstance(i, Numbered) for i in plan_scene(crowded(), "kitchen", found, marks=False).items)


def test_other_verdicts_are_numbered_when_asked() -> None:
    found = [_finding("met", "a"), _finding("not assessed", "b")]
    scene = plan_scene(crowded(), "kitchen", found, verdicts=("met", "not assessed"))
    assert [key.verdict for key in scene.key] == ["met", "not assessed"]
    assert "missing fact" in scene.key[1].text


def test_no_mark_is_without_its_word() -> None:
    scene = plan_scene(crowded(), "kitchen", check(crowded()), verdicts=("met", "falls short", "not assessed"))
    marked = [item for item in scene.items if item.role == "finding"]
    assert marked
    for item in marked:
        assert item.verdict is not None
        assert item.verdict in item.title


def test_stages_leave_out_what_is_not_there() -> None:
    things = [
        thing("base cabinet", "old", 30, 24, on_wall("kitchen-north", 0), state="removed"),
        thing("base cabinet", "new", 30, 24, on_wall("kitchen-north", 40), state="new"),
        thing("base cabinet", "kept", 30, 24, on_wall("kitchen-north", 80), state="kept"),
    ]
    drawn = {
        stage: {i.subject for i in plan_scene(house(things), "kitchen", stage=stage).items} & {"old", "new", "kept"}  # type: ignore[arg-type]
        for stage in ("as found", "proposed", "as built")
    }
    assert drawn == {"as found": {"old", "kept"}, "proposed": {"old", "new", "kept"}, "as built": {"new", "kept"}}
    removed = plan_scene(house(things), "kitchen").of("old")
    assert [item.role for item in removed] == ["removed"]


def test_finishes_fill_only_when_asked() -> None:
    finish = {"id": "oak", "name": "Oak", "colour": "#c8a165"}
    project = house([thing("tall cabinet", "t", 30, 24, on_wall("kitchen-north", 0), finish="oak")], finishes=[finish])
    plain, filled = plan_scene(project, "kitchen"), plan_scene(project, "kitchen", filled=True)
    assert {i.finish for i in plain.of("t") if isinstance(i, Polygon)} == {None}
    assert "#c8a165" in {i.finish for i in filled.of("t") if isinstance(i, Polygon)}
    assert "Oak" in next(i.title for i in filled.of("t") if i.title)


def test_rooms_of_the_house_are_named_and_numbered_in_the_told_order() -> None:
    names = [
        i for i in plan_scene(rooms(), order=("hall", "kitchen")).items if isinstance(i, Label) and i.size == "room"
    ]
    assert {label.text.split()[0]: label.subject for label in names} == {"1": "hall", "2": "kitchen", "3": "dining"}


def test_an_empty_house_and_an_empty_room_can_be_drawn() -> None:
    assert plan_scene(house(spaces=[])).items == ()
    assert _strings(plan_scene(house(), "kitchen"))


def test_a_room_that_does_not_exist_is_refused() -> None:
    with pytest.raises(NotFound, match="attic"):
        plan_scene(house(), "attic")


def test_a_room_is_drawn_without_looking_at_the_rest_of_the_house() -> None:
    few = house([thing("table", "t", 40, 40, free(60, 60))])
    spaces = [
        room(144, 144),
        *(room(144, 144, id=f"far-{n}", use="other", at=(1000 + 200 * n, 5000)) for n in range(20)),
    ]
    far = [thing("table", f"f-{n}", 40, 40, free(1060 + 200 * n, 5060), space=f"far-{n}") for n in range(20)]
    many = house([thing("table", "t", 40, 40, free(60, 60)), *far], spaces=spaces)
    assert plan_scene(many, "kitchen").items == plan_scene(few, "kitchen").items
