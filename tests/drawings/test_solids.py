"""The house in three dimensions, held against the records it is made from."""

from __future__ import annotations

import pytest
import shapely

from building import door, free, house, on_wall, room, set_in, thing, window
from enfilade.checks.view import House
from enfilade.drawings.solids import CEILING_MM, HouseSolids, house_solids
from enfilade.lengths import inches
from enfilade.project.demo import demo


def _solids(*args: object, **more: object) -> HouseSolids:
    return house_solids(House(house(*args, **more)))


def _two_rooms(**second: object) -> list[dict[str, object]]:
    # A wall 6 in thick between them.
    return [room(120, 120), room(120, 120, id="hall", use="hall", at=(126, 0), **second)]


def test_a_wall_has_the_hole_of_its_window() -> None:
    solids = _solids(openings=[window("w", "kitchen-north", 30)])
    panel = next(p for p in solids.panels if p.id == "kitchen-north")
    (hole,) = panel.holes
    # 30 in from the left end, 36 in wide, sill at 40 in, 48 in high.
    assert (hole.from_mm, hole.to_mm, hole.bottom_mm, hole.top_mm) == pytest.approx(
        [inches(n) for n in (30, 66, 40, 88)]
    )
    assert (panel.bottom_mm, panel.top_mm) == pytest.approx((0.0, inches(96)))


def test_a_door_between_rooms_is_open_in_both_walls_and_has_the_thickness_between_them() -> None:
    solids = _solids(
        spaces=_two_rooms(), openings=[door("d", "kitchen-east", 40, beyond="hall-west", kind="cased opening")]
    )
    holes = {p.id: p.holes for p in solids.panels if p.holes}
    assert set(holes) == {"kitchen-east", "hall-west"}
    # Left in one room is right in the other: both holes are the same stretch of the house.
    for name in ("kitchen", "hall"):
        (reveal,) = solids.rooms[name].reveals
        assert shapely.LineString([reveal.near.a, reveal.far.a]).length == pytest.approx(inches(6))
        assert shapely.LineString([reveal.near.b, reveal.far.b]).length == pytest.approx(inches(6))
        assert not reveal.outdoors


def test_an_open_side_has_no_panel_but_the_face_over_it_where_the_room_beyond_is_lower() -> None:
    first = room(120, 120, open_sides=["east"], ceiling=108)
    second = room(120, 120, id="bay", use="breakfast", at=(120, 0), open_sides=["west"], ceiling=90)
    solids = _solids(spaces=[first, second])
    (over,) = [p for p in solids.panels if p.id == "kitchen-east"]
    assert (over.bottom_mm, over.top_mm) == pytest.approx((inches(90), inches(108)))
    assert not [p for p in solids.panels if p.id == "bay-west"]


def test_a_ceiling_that_is_not_recorded_is_that_of_the_neighbour_or_the_usual() -> None:
    alone = _solids(spaces=[room(120, 120, ceiling=None)])
    assert alone.rooms["kitchen"].ceiling_mm == CEILING_MM
    beside = _solids(
        spaces=[room(120, 120, ceiling=None), room(120, 120, id="hall", use="hall", at=(126, 0), ceiling=110)],
        openings=[door("d", "kitchen-east", 40, beyond="hall-west")],
    )
    assert beside.rooms["kitchen"].ceiling_mm == pytest.approx(inches(110))
    # It is never lower than what stands in the room.
    tall = thing("tall cabinet", "tall", 24, 24, on_wall("kitchen-north", 10), top=120)
    assert _solids([tall], spaces=[room(120, 120, ceiling=None)]).rooms["kitchen"].ceiling_mm == pytest.approx(
        inches(120)
    )


def test_what_hides_a_view_and_what_does_not() -> None:
    things = [
        thing("refrigerator", "cold", 36, 30, on_wall("kitchen-north", 10)),
        thing("rug", "rug", 60, 40, free(72, 72), top=0.5),
        thing("receptacle", "plug", 3, 1, on_wall("kitchen-north", 60)),
        thing("table", "table", 60, 36, free(72, 60)),
    ]
    solids = _solids(things)
    assert {p.id for p in solids.prisms} == {"cold", "table"}
    # One looks under a table, between its legs: only its top hides.
    assert min(p.bottom_mm for p in solids.prisms if p.id == "table") > inches(25)
    assert solids.bodies["rug"].prisms


def test_what_was_removed_is_not_there() -> None:
    solids = _solids([thing("island", "gone", 60, 36, free(72, 72), state="removed")])
    assert not solids.bodies


@pytest.mark.parametrize("kind", ["table", "sink", "light", "seat", "bed", "range", "hood", "open shelf", "fixture"])
def test_no_piece_reaches_beyond_the_recorded_size(kind: str) -> None:
    extra = {"fixture": {"what": "toilet"}, "seat": {"what": "armchair"}}.get(kind, {})
    solids = _solids([thing(kind, "it", 40, 30, free(72, 72, 20.0), bottom=0, top=40, **extra)])
    body = solids.bodies["it"]
    assert body.stand is not None
    outline = body.stand.box.polygon.buffer(0.01)
    for piece in body.pieces:
        if piece.role in ("tap", "cord"):  # Shown, though not recorded.
            continue
        assert outline.covers(shapely.Polygon(piece.prism.footprint)), piece.role
        assert piece.prism.bottom_mm >= -1e-6
        assert piece.prism.top_mm <= inches(40) + 1e-6


def test_a_sink_stands_where_its_counter_holds_it() -> None:
    things = [
        thing("counter", "top", 96, 25, on_wall("kitchen-north", 10)),
        thing("sink", "sink", 30, 18, set_in("top", 30)),
    ]
    solids = _solids(things)
    top, sink = (shapely.Polygon(solids.bodies[name].prisms[0].footprint) for name in ("top", "sink"))
    assert top.covers(sink)


def test_every_wall_and_thing_of_the_demo_house_is_there() -> None:
    project = demo()
    solids = house_solids(House(project))
    standing = {t.id for t in project.things if t.state != "removed"}
    drops = {drop.id for space in project.spaces for drop in space.dropped}
    assert set(solids.bodies) == standing | drops
    walls = {wall.id for space in project.spaces for wall in space.walls if not wall.open}
    assert walls <= {p.id for p in solids.panels}
    assert solids.space_at((9000.0, 2500.0)) == "kitchen"
    assert solids.space_at((-9000.0, 2500.0)) is None
