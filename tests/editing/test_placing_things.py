"""Adding, copying and taking out: where a new thing goes, what is assumed of it, what goes with it."""

from __future__ import annotations

from typing import Any

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from building import door, free, house, on_wall, room, set_in, thing, window
from enfilade.checks.run import check
from enfilade.editing.things.default_sizes import OPENING_KINDS, default_size
from enfilade.editing.things.house import House
from enfilade.editing.things.openings_placed import opening_added
from enfilade.editing.things.placing_things import seated_size, thing_added, thing_copied, things_removed
from enfilade.errors import NotFound, OutOfRange, Refused
from enfilade.geometry.outlines import polygon_of
from enfilade.lengths import inches, to_inches
from enfilade.project.placing import AgainstWall, Free, SetIn
from enfilade.project.project import Project
from enfilade.project.things import KINDS
from laws.houses import houses


def kitchen(*things: dict[str, Any], **more: Any) -> Project:
    """Return a kitchen of 15 x 12 ft with a door, a window, and a hall beyond its east wall."""
    rooms = [room(180, 144), room(100, 144, id="hall", at=(185, 0))]
    openings = [door("way", "kitchen-east", 20, 36, beyond="hall-west"), window("view", "kitchen-north", 70, 40)]
    return house(things, spaces=rooms, openings=openings, **more)


def added(project: Project, kind: str, **how: Any) -> tuple[Project, Any]:
    """Add to the kitchen, and return the project and the new thing."""
    after, id = thing_added(project, "kitchen", kind, **how)
    return after, after.thing(id)


def clashes(project: Project) -> list[Any]:
    return [f.working for f in check(project, "kitchen") if f.rule in ("R4", "R5") and f.verdict != "met"]


RUN = [
    thing("base cabinet", "base", 60, 24, on_wall("kitchen-north", 0)),
    thing("counter", "top", 120, 25, on_wall("kitchen-north", 0), bottom=34.5, top=36),
    thing("sink", "sink", 30, 18, set_in("top", 15, 3.5)),
    thing("range", "range", 30, 25, on_wall("kitchen-north", 120)),
]


@pytest.mark.parametrize("units", ["us", "metric"])
@pytest.mark.parametrize("kind", list(KINDS))
def test_every_kind_can_be_added_to_a_kitchen_in_the_way_of_nothing(kind: str, units: str) -> None:
    before = kitchen(*RUN, show={"units": units})
    after, new = added(before, kind)
    assert clashes(after) == clashes(before) == []
    assert new.kind == kind
    assert new.name == ""
    assert new.state == "new"
    assert new.basis == "assumed"
    assert new.assumed("width_mm", "depth_mm", "top_mm")
    assert all(one is other for one, other in zip(before.things, after.things, strict=False))
    assert len(after.things) == len(before.things) + 1
    floor = polygon_of(after.space("kitchen").outline)
    assert floor.buffer(1).covers(House(after).stands[new.id].box.polygon) or kind in ("receptacle", "switch")


@pytest.mark.parametrize("kind", list(KINDS))
def test_every_kind_finds_a_place_in_the_smallest_room_or_says_what_is_missing(kind: str) -> None:
    closet = house(spaces=[room(14, 14)], show={"units": "metric"})
    if kind in ("sink", "cooktop", "appliance garage"):
        with pytest.raises(Refused, match="no counter"):
            added(closet, kind)
    elif kind == "window treatment":
        with pytest.raises(Refused, match="no window"):
            added(closet, kind)
    else:
        assert added(closet, kind)[1].kind == kind


def test_ids_are_read_and_never_stand_twice() -> None:
    project = kitchen()
    for expected in ("base-cabinet", "base-cabinet-2", "base-cabinet-3"):
        project, new = added(project, "base cabinet")
        assert new.id == expected
    assert added(kitchen(), "seat", what="stool")[1].id == "stool"
    assert added(kitchen(thing("furniture", "island", 30, 30, free(40, 40))), "island")[1].id == "island-2"


def test_an_island_stands_with_a_work_aisle_all_round() -> None:
    # Kitchen guideline 6 asks 42 in for one cook, 48 in for two; the room is free for both, but for the door's way.
    for cooks, aisle in ((1, 42), (2, 48)):
        project, new = added(house(spaces=[room(240, 200)], household={"cooks_together": cooks}), "island")
        box = House(project).stands[new.id].box
        walls = polygon_of(project.space("kitchen").outline).exterior
        assert box.polygon.distance(walls) >= inches(aisle) - 1
        # Along the longer way of the room, in its middle.
        assert (to_inches(box.x), to_inches(box.y)) == (pytest.approx(120, abs=1), pytest.approx(100, abs=1))


def test_a_free_thing_keeps_off_others_and_off_the_way_in() -> None:
    project, table = added(kitchen(*RUN), "table")
    stands = House(project).stands
    way = shapely.box(inches(144), inches(88), inches(180), inches(124))
    others = [stand.box.polygon for id, stand in stands.items() if id != table.id]
    assert not stands[table.id].box.polygon.intersects(shapely.union_all([way, *others]))


def test_a_free_thing_stands_square_to_a_room_that_is_not() -> None:
    turned = room(200, 160) | {"outline": [[0, 0], [4000, 2000], [2600, 4800], [-1400, 2800]]}
    _project, new = added(house(spaces=[turned]), "island")
    assert new.place.turn_deg == pytest.approx(26.565, abs=0.01)


def test_what_stands_at_walls_goes_beside_what_stands_there_along_the_longest_free_stretch() -> None:
    project, new = added(kitchen(), "tall cabinet")
    # South: 180 in and free; north: the window (sill 40 in) leaves 70 to its left for what is 84 in high.
    assert new.place == AgainstWall(wall="kitchen-south", offset_mm=0.0)
    project, other = added(project, "tall cabinet")
    assert other.place == AgainstWall(wall="kitchen-south", offset_mm=inches(24))
    # Under the sill there is room along the north wall, which is as long: the wall of the first is named first.
    assert added(project, "base cabinet")[1].place.wall in ("kitchen-north", "kitchen-south")


def test_beside_a_door_it_keeps_to_the_other_end() -> None:
    # The west wall: 144 in, with a door at its left end.
    project = house(spaces=[room(60, 144)], openings=[door("way", "kitchen-west", 0, 36)])
    place = added(project, "tall cabinet", wall="kitchen-west")[1].place
    assert place == AgainstWall(wall="kitchen-west", from_end="right", offset_mm=0.0)


def test_where_it_is_asked_for_it_goes() -> None:
    assert added(kitchen(), "range", wall="kitchen-west")[1].place.wall == "kitchen-west"
    near = added(kitchen(), "range", at=(inches(10), inches(60)))[1].place
    # Facing west, the left end is in the south: a middle at 60 in leaves 45 to its left edge.
    assert near == AgainstWall(wall="kitchen-west", offset_mm=inches(45))
    there = added(kitchen(), "island", at=(inches(60), inches(70)))[1].place
    assert there == Free(x_mm=inches(60), y_mm=inches(70))
    assert isinstance(added(kitchen(), "range", free=True)[1].place, Free)
    assert added(kitchen(), "island", at=(inches(230), inches(70)))[1].space == "hall"


def test_sinks_and_cooktops_are_set_in_the_middle_of_the_longest_piece_of_a_counter() -> None:
    top = thing("counter", "top", 120, 25, on_wall("kitchen-south", 0), bottom=34.5, top=38)
    project, sink = added(kitchen(top), "sink")
    assert sink.place == SetIn(host="top", offset_mm=inches(45), setback_mm=inches(3.5))
    assert sink.top_mm == inches(38)
    # 45 in are left on each side: the first of the two, 30 in of it in the middle.
    project, hob = added(project, "cooktop")
    assert hob.place == SetIn(host="top", offset_mm=inches(7.5), setback_mm=inches(2))
    island = thing("island", "island", 60, 40, free(90, 50))
    assert added(kitchen(top, island), "sink", host="island")[1].place.host == "island"
    assert added(kitchen(top, island), "sink", at=(inches(90), inches(60)))[1].place.host == "island"
    under = thing("base cabinet", "base", 60, 24, on_wall("kitchen-south", 0))
    assert added(kitchen(top, island, under), "sink", host="base")[1].place.host == "top"


def test_a_dishwasher_goes_under_the_counter_beside_the_sink() -> None:
    project, new = added(kitchen(*RUN), "dishwasher")
    # The cabinet of the sink ends at 60 in; the counter goes on to 120.
    assert new.place == AgainstWall(wall="kitchen-north", offset_mm=inches(60))
    project, waste = added(project, "waste")
    assert waste.place == AgainstWall(wall="kitchen-north", offset_mm=inches(84))
    # In a kitchen without a counter it stands at a wall.
    assert added(kitchen(), "dishwasher")[1].place.how == "wall"
    island = thing("island", "island", 60, 40, free(90, 50), bottom=34.5)
    in_island = added(kitchen(island), "dishwasher")[1].place
    assert (in_island.how, in_island.host) == ("set in", "island")


def test_a_hood_hangs_above_what_cooks() -> None:
    project, hood = added(kitchen(*RUN), "hood")
    assert hood.place == AgainstWall(wall="kitchen-north", offset_mm=inches(120))
    # Kitchen guideline 18 asks 30 in to an unprotected surface (seen second-hand).
    assert hood.bottom_mm - project.thing("range").top_mm == pytest.approx(inches(30))
    low = thing("range", "range", 36, 25, on_wall("kitchen-north", 100), top=34)
    project, hood = added(kitchen(low), "hood")
    assert (hood.width_mm, hood.bottom_mm) == (inches(36), inches(64))
    island = thing("island", "island", 84, 40, free(90, 50, 180))
    hob = thing("cooktop", "hob", 30, 21, set_in("island", 10, 2))
    over = added(kitchen(island, hob), "hood")[1].place
    assert isinstance(over, Free)
    assert over.turn_deg == 180


def test_ovens_go_into_a_tall_cabinet_that_is_free_there() -> None:
    case = thing("tall cabinet", "case", 33, 24, on_wall("kitchen-south", 0))
    project, oven = added(kitchen(case), "oven")
    assert oven.place == SetIn(host="case", offset_mm=inches(1.5))
    assert added(project, "oven")[1].place.how == "wall"


def test_what_hangs_from_the_ceiling_hangs_from_the_one_of_the_room() -> None:
    light = added(house(spaces=[room(120, 120, ceiling=108)]), "light")[1]
    assert (light.top_mm, light.bottom_mm) == (inches(108), inches(102))


def test_a_window_treatment_is_as_wide_and_high_as_its_window() -> None:
    _project, blind = added(kitchen(), "window treatment")
    assert (blind.opening, blind.width_mm, blind.bottom_mm, blind.top_mm) == (
        "view",
        inches(40),
        inches(40),
        inches(88),
    )
    assert blind.place == AgainstWall(wall="kitchen-north", offset_mm=inches(70))


def test_a_peninsula_stands_out_from_its_wall() -> None:
    project, new = added(kitchen(), "peninsula", wall="kitchen-west")
    box = House(project).stands[new.id].box
    assert box.left.midpoint == pytest.approx((0.0, inches(72)), abs=1e-6)
    assert to_inches(box.right.midpoint[0]) == pytest.approx(60)
    assert new.joined == "left"


def test_a_typed_width_is_known_and_the_rest_assumed() -> None:
    new = added(kitchen(), "refrigerator", width_mm=inches(33))[1]
    assert new.width_mm == inches(33)
    assert new.assumed("width_mm") == ()
    assert new.assumed("depth_mm", "top_mm") == ("refrigerator.depth_mm", "refrigerator.top_mm")


@pytest.mark.parametrize("seats", range(1, 13))
def test_seats_have_their_edge_and_their_knees(seats: int) -> None:
    # Kitchen guideline 9 (seen second-hand): 24 in of edge a seat; 15 in of knee depth at 36 in high.
    size, more = seated_size("island", "us", seats)
    assert size.width_mm >= seats * inches(24) - 1e-6
    assert more["overhang"]["back_mm"] == inches(15)
    assert size.depth_mm >= inches(24 + 15)
    _table, rows = seated_size("table", "us", seats)
    assert sum(row["count"] for row in rows["seating"]) == seats
    project, new = added(house(spaces=[room(400, 300)]), "island", seats=seats)
    assert [f for f in check(project) if f.rule == "K9" and f.verdict != "met"] == []
    assert new.seating[0].count == seats


@pytest.mark.parametrize(
    ("kind", "how", "error", "words"),
    [
        ("dragon", {}, NotFound, "dragon"),
        ("seat", {"what": "throne"}, NotFound, "throne"),
        ("sink", {}, Refused, "add a counter first"),
        ("island", {"width_mm": 0.0}, OutOfRange, "width"),
        ("island", {"seats": 13}, OutOfRange, "13"),
        ("island", {"seats": -1}, OutOfRange, "-1"),
        ("range", {"wall": "nowhere"}, NotFound, "wall"),
    ],
)
def test_what_cannot_be_added_is_refused(kind: str, how: dict[str, Any], error: type[Exception], words: str) -> None:
    with pytest.raises(error, match=words):
        added(kitchen(), kind, **how)


def test_a_copy_stands_beside_with_all_that_is_set_in_it() -> None:
    island = thing("island", "island", 60, 36, free(70, 50), name="the big one", remark="x", note="y")
    project = kitchen(island, thing("sink", "prep", 15, 15, set_in("island", 5, 3)))
    after, id = thing_copied(project, "island")
    new = after.thing(id)
    assert (id, new.name, new.remark, new.note) == ("island-2", "", "", "")
    assert to_inches(new.place.x_mm) == pytest.approx(132)
    inner = [one for one in after.things if isinstance(one.place, SetIn) and one.place.host == id]
    assert [one.kind for one in inner] == ["sink"]
    assert clashes(after) == []


def test_a_copy_at_a_wall_finds_room_beside_or_elsewhere_on_the_wall() -> None:
    cases = [thing("tall cabinet", f"case-{i}", 24, 24, on_wall("kitchen-south", 24.0 * i)) for i in range(3)]
    after, id = thing_copied(kitchen(*cases), "case-2")
    assert after.thing(id).place.offset_mm == inches(72)
    after, id = thing_copied(kitchen(*cases), "case-1")
    assert after.thing(id).place.offset_mm == inches(72)
    right = thing("tall cabinet", "case", 24, 24, on_wall("kitchen-south", 0, from_end="right"))
    after, id = thing_copied(kitchen(right), "case")
    assert after.thing(id).place == AgainstWall(wall="kitchen-south", from_end="right", offset_mm=inches(24))
    with pytest.raises(NotFound):
        thing_copied(kitchen(), "case")


def test_what_goes_with_a_thing_is_said() -> None:
    project = kitchen(
        *RUN,
        thing("light", "lamp", 12, 12, free(90, 70), name="pendant"),
        thing("switch", "switch", 3, 1, on_wall("kitchen-west", 10), controls=["lamp"]),
        thing("seat", "stool", 16, 16, free(20, 20), at="top"),
        decisions=[{"id": "d", "number": 3, "title": "Which counter", "things": ["top", "range"]}],
        photographs=[],
    )
    after, words = things_removed(project, ["top"])
    assert set(project.things_by_id) - set(after.things_by_id) == {"top", "sink"}
    assert after.decisions[0].things == ("range",)
    assert after.thing("stool").at is None  # type: ignore[attr-defined]
    assert words.startswith("Counter taken out, with sink; no longer named by ")
    assert "decision 3, Which counter" in words
    after, words = things_removed(project, ["lamp", "range"])
    assert after.thing("switch").controls == ()  # type: ignore[attr-defined]
    assert "Pendant taken out; no longer named by switch" in words
    assert "Range taken out" in words
    together, words = things_removed(project, ["top", "sink"])
    assert "sink" not in together.things_by_id


def test_an_opening_takes_its_window_treatment_along() -> None:
    project, _blind = added(kitchen(), "window treatment")
    after, words = things_removed(project, ["view"])
    assert [one.id for one in after.openings] == ["way"]
    assert after.things == ()
    assert words == "Window taken out, with window treatment"
    with pytest.raises(NotFound):
        things_removed(project, ["nothing-here"])
    with pytest.raises(NotFound):
        things_removed(project, [])


@pytest.mark.parametrize("units", ["us", "metric"])
@pytest.mark.parametrize("kind", OPENING_KINDS)
def test_every_kind_of_opening_can_be_added(kind: str, units: str) -> None:
    project, id = opening_added(kitchen(show={"units": units}), "kitchen-south", kind)
    new = next(one for one in project.openings if one.id == id)
    assert (new.kind, new.state, new.basis) == (kind, "new", "assumed")
    assert new.beyond is None
    assert (new.swing is not None) == (kind in ("door", "cased opening", "sliding door", "pocket door"))


def test_a_door_is_joined_to_the_room_behind_and_hung() -> None:
    rooms = [room(180, 144), room(100, 144, id="hall", at=(185, 0))]
    project, id = opening_added(house(spaces=rooms), "kitchen-east", "door")
    new = project.openings[0]
    # 2 ft 8 in wide in the middle of 144 in; the wall is 5 in thick.
    assert (id, new.beyond, new.width_mm, new.offset_mm) == ("door", "hall-west", inches(32), inches(56))
    assert new.depth_mm == pytest.approx(inches(5))
    assert new.swing.hinge == "left"  # type: ignore[union-attr]
    assert new.swing.into == "this side"  # type: ignore[union-attr]


def test_an_opening_goes_where_nothing_opens_and_nothing_stands() -> None:
    case = thing("tall cabinet", "case", 24, 24, on_wall("kitchen-east", 100))
    project, _id = opening_added(kitchen(case), "kitchen-east", "door")
    new = project.openings[-1]
    # The door reaches from 20 to 56, the case from 100 to 124: the stretch between has its middle at 78.
    assert to_inches(new.offset_mm) == pytest.approx(78 - 16)
    exact, _ = opening_added(kitchen(), "kitchen-east", "door", inches(2), from_end="right", width_mm=inches(30))
    assert (exact.openings[-1].from_end, exact.openings[-1].offset_mm) == ("right", inches(2))


def test_an_opening_that_does_not_fit_is_refused() -> None:
    narrow = house(spaces=[room(20, 144, open_sides=["south"])])
    project, _ = opening_added(narrow, "kitchen-north", "door")
    assert project.openings[0].width_mm == inches(20)
    with pytest.raises(OutOfRange, match="does not fit"):
        opening_added(narrow, "kitchen-north", "door", width_mm=inches(21))
    with pytest.raises(OutOfRange, match="past an end"):
        opening_added(kitchen(), "kitchen-north", "door", inches(150))
    with pytest.raises(Refused, match="open side"):
        opening_added(narrow, "kitchen-south", "door")
    with pytest.raises(NotFound):
        opening_added(kitchen(), "nowhere", "door")


@given(houses(), st.sampled_from(list(KINDS)), st.sampled_from([None, 50.0, 700.0]), st.integers(0, 3))
def test_any_kind_can_be_added_to_any_house_or_is_refused_in_words(
    project: Project, kind: str, width: float | None, seats: int
) -> None:
    space = project.spaces[-1].id
    try:
        after, id = thing_added(project, space, kind, width_mm=width, seats=seats)
    except (Refused, OutOfRange):
        return  # in words, and never with another error
    after.verified()
    assert after.thing(id).kind == kind
    usual = default_size(kind, project.show.units)
    assert width is None or after.thing(id).width_mm <= max(width, usual.width_mm, 3000)


@given(houses(), st.data())
def test_any_thing_can_be_copied_and_taken_out(project: Project, data: st.DataObject) -> None:
    if not project.things:
        return
    one = data.draw(st.sampled_from(project.things))
    after, _ = things_removed(project, [one.id])
    assert one.id not in after.things_by_id
    after.verified()
    from enfilade.errors import BadRecord

    try:
        copied, id = thing_copied(project, one.id)
    except BadRecord:
        return  # what hangs over the edge of its room has no room beside it
    assert copied.thing(id).kind == one.kind
    copied.verified()
