"""Elevations: heights, openings, hinges and strings of one wall."""

from __future__ import annotations

import pytest

from building import door, house, on_wall, room, thing, window
from drawings.crowded import crowded
from enfilade.drawings.items import Circle, Dimension, Line, Numbered, Polygon, Scene
from enfilade.drawings.scene import elevation_scene
from enfilade.errors import NotFound
from enfilade.findings import Finding, Mark, Requirement
from enfilade.lengths import inches
from enfilade.quantities import Quantity
from enfilade.sources import Source


def _outline(scene: object, subject: str) -> tuple[float, float, float, float]:
    shape = next(i for i in scene.of(subject) if isinstance(i, Polygon) and i.title)  # type: ignore[attr-defined]
    xs, ys = zip(*shape.points, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def test_things_show_where_they_stand_with_their_heights() -> None:
    scene = elevation_scene(crowded(), "kitchen-north")
    # Sink base: 48 in from the left end, 36 wide, 34 1/2 high; upper: 108, 30 wide, from 54 to 84.
    assert _outline(scene, "sink-base") == pytest.approx((inches(48), 0.0, inches(84), inches(34.5)))
    assert _outline(scene, "upper") == pytest.approx((inches(108), inches(54), inches(138), inches(84)))
    assert _outline(scene, "window") == pytest.approx((inches(48), inches(40), inches(84), inches(88)))


def test_what_stands_far_from_the_wall_is_left_out() -> None:
    subjects = {item.subject for item in elevation_scene(crowded(), "kitchen-north").items}
    assert "island" not in subjects
    assert {"sink", "outlet", "blind-window", "pantry"} <= subjects


@pytest.mark.parametrize(("side", "apex"), [("left", 0.0), ("right", inches(24))])
def test_the_mark_of_a_hinge_points_to_its_side(side: str, apex: float) -> None:
    leaf = {"kind": "hinged", "hinge": side}
    project = house([thing("base cabinet", "c", 24, 24, on_wall("kitchen-north", 0), opens=[leaf])])
    mark = next(
        i for i in elevation_scene(project, "kitchen-north").of("c") if isinstance(i, Line) and i.weight == "hidden"
    )
    assert mark.points[1] == pytest.approx((apex, inches(34.5 / 2)))


@pytest.mark.parametrize(("kind", "apex"), [("drop-down", 0.0), ("lift-up", inches(34.5))])
def test_flaps_point_to_the_edge_on_which_they_hang(kind: str, apex: float) -> None:
    project = house([thing("base cabinet", "c", 24, 24, on_wall("kitchen-north", 0), opens=[{"kind": kind}])])
    mark = next(
        i for i in elevation_scene(project, "kitchen-north").of("c") if isinstance(i, Line) and i.weight == "hidden"
    )
    assert mark.points[1] == pytest.approx((inches(12), apex))


def test_drawers_without_heights_are_spread_evenly() -> None:
    scene = elevation_scene(crowded(), "kitchen-north")
    fronts = [i for i in scene.of("drawers") if isinstance(i, Polygon) and i.role == "symbol"]
    heights = [max(y for _, y in f.points) - min(y for _, y in f.points) for f in fronts]
    assert heights == pytest.approx([inches(34.5) / 4] * 4)


def test_a_door_seen_from_beyond_hangs_on_the_other_hand() -> None:
    spaces = [room(100, 100), room(100, 100, id="hall", use="hall", at=(0, 104.5))]
    swing = {"hinge": "left", "into": "other side"}
    project = house(spaces=spaces, openings=[door("d", "kitchen-north", 20, 30, beyond="hall-south", swing=swing)])

    def apex(wall: str) -> float:
        mark = next(i for i in elevation_scene(project, wall).of("d") if isinstance(i, Line) and i.weight == "hidden")
        return mark.points[1][0]

    # From the kitchen it hangs left of the middle at 35 in; from the hall, where it stands 50 to 80 in, right of 65.
    assert apex("kitchen-north") < inches(35)
    assert apex("hall-south") > inches(65)


def test_strings_add_up_to_the_length_and_to_the_height() -> None:
    for wall, length in (("north", 180), ("south", 180), ("east", 156), ("west", 156)):
        strings = [
            i for i in elevation_scene(crowded(), f"kitchen-{wall}").items if isinstance(i, Dimension) and i.tier
        ]
        across = [s.total_mm for s in strings if s.direction == (1.0, 0.0)]
        upright = [s.total_mm for s in strings if s.direction == (0.0, 1.0)]
        assert across == pytest.approx([inches(length)] * len(across))
        assert upright == pytest.approx([inches(96)] * len(upright))
        assert across
        assert upright


def test_the_ceiling_is_dashed_and_noted_when_its_height_is_unknown() -> None:
    project = house(spaces=[room(144, 144, ceiling=None)], openings=[window("w", "kitchen-north", 40)])
    scene = elevation_scene(project, "kitchen-north")
    ceiling = next(i for i in scene.items if i.role == "ceiling" and isinstance(i, Line))
    assert ceiling.weight == "hidden"
    assert any("not recorded" in note for note in scene.notes)


def test_a_dropped_ceiling_hangs_where_it_meets_the_wall() -> None:
    space = room(144, 144)
    x = [[inches(u), inches(v)] for u, v in ((50, 100), (80, 100), (80, 144), (50, 144))]
    space["dropped"] = [{"id": "beam", "outline": x, "height_mm": inches(84)}]
    beam = next(i for i in elevation_scene(house(spaces=[space]), "kitchen-north").of("beam") if isinstance(i, Polygon))
    xs, ys = zip(*beam.points, strict=True)
    assert (min(xs), max(xs), min(ys), max(ys)) == pytest.approx((inches(50), inches(80), inches(84), inches(96)))


def _finding(id: str, subject: str, *marks: Mark) -> Finding:
    return Finding(
        id=id, rule="K18", title="Above the surface", level="recommended", space="kitchen", subjects=(subject,),
        source=Source("Guidelines", "", "", "18", "seen", "Kitchen guideline 18"), measured=Quantity(20, "in"),
        required=Requirement("at least", 24, "in"), marks=marks,
    )  # fmt: skip


def test_findings_in_the_plane_of_the_wall_are_numbered_and_those_on_the_floor_are_not() -> None:
    points = ((500.0, 900.0), (500.0, 1500.0))
    wall = _finding("wall", "cooktop", Mark("measure", points, plane="kitchen-west"))
    found = [wall, _finding("floor", "cooktop", Mark("measure", points))]
    scene = elevation_scene(crowded(), "kitchen-west", found)
    assert [key.finding for key in scene.key] == ["wall"]
    mark = next(i for i in scene.items if isinstance(i, Numbered))
    assert mark.at == pytest.approx((500.0, 1200.0))


def _marked(scene: Scene) -> dict[str, tuple[float, float]]:
    return {item.subject: item.at for item in scene.items if isinstance(item, Numbered)}


def _in(x: float, y: float) -> tuple[float, float]:
    return inches(x), inches(y)


@pytest.mark.parametrize(
    ("wall", "at", "place"),
    [
        # A room of 144 by 144 in; its north wall runs from left to right as x does, its west wall as y does.
        ("north", (90, 118.5), (90, 36)),
        ("north", (20, 118.5), (20, 36)),
        ("west", (20, 118.5), (118.5, 36)),
        # 90 in from the west wall, and in the middle of the room.
        ("west", (90, 118.5), None),
        ("north", (90, 60), None),
        # The middle of the counter stands for the whole of it: half of 34 1/2 to 36 in.
        ("north", (55, 131.25), (55, 35.25)),
    ],
)
def test_a_point_of_the_plan_shows_on_the_wall_at_which_it_lies(
    wall: str, at: tuple[float, float], place: tuple[float, float] | None
) -> None:
    top = thing("counter", "top", 70, 25.5, on_wall("kitchen-north", 20), bottom=34.5, top=36)
    project, mark = house([top]), Mark("point", (_in(*at),))
    scene = elevation_scene(project, f"kitchen-{wall}", [_finding("corner", "top", mark)])
    assert _marked(scene) == ({} if place is None else {"corner": pytest.approx(_in(*place))})
    assert [line.finding for line in scene.key] == list(_marked(scene))


def test_of_several_points_those_at_the_wall_are_marked() -> None:
    top = thing("counter", "top", 70, 25.5, on_wall("kitchen-north", 20), bottom=34.5, top=36)
    marks = [Mark("point", (_in(90, 60),)), Mark("point", (_in(90, 118.5),)), Mark("area", (_in(0, 0), _in(1, 0)))]
    scene = elevation_scene(house([top]), "kitchen-north", [_finding("corner", "top", *marks)])
    assert _marked(scene) == {"corner": pytest.approx(_in(90, 36))}
    assert [i.centre for i in scene.of("corner") if isinstance(i, Circle)] == [pytest.approx(_in(90, 36))]


def test_the_measured_width_of_a_door_shows_at_its_head() -> None:
    project = house(openings=[door("d", "kitchen-north", 40, 30)])
    line = Mark("measure", (_in(40, 144), _in(70, 144)))
    scene = elevation_scene(project, "kitchen-north", [_finding("width", "d", line)])
    assert _marked(scene) == {"width": pytest.approx(_in(55, 80))}
    assert any(isinstance(i, Dimension) and i.total_mm == pytest.approx(inches(30)) for i in scene.of("width"))


def test_a_wall_that_does_not_exist_is_refused() -> None:
    with pytest.raises(NotFound, match="attic"):
        elevation_scene(house(), "attic-north")
