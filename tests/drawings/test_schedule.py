"""Schedules: order, ends, fillers, openings, products and finishes."""

from __future__ import annotations

import pytest

from building import door, free, house, on_wall, room, thing
from drawings.crowded import crowded, rooms
from enfilade.drawings.numbering import cabinet_tags
from enfilade.drawings.schedule import (
    cabinet_schedule,
    finish_schedule,
    opening_schedule,
    product_schedule,
)
from enfilade.errors import NotFound
from enfilade.lengths import inches


def test_cabinets_are_numbered_clockwise_what_stands_first() -> None:
    rows = cabinet_schedule(crowded(), "kitchen")
    # From the south wall's end clockwise: the west run from its south end, then north from west to east, then uppers.
    west, north = ["trays", "pots", "spice", "blind"], ["corner", "sink-base", "drawers", "baking", "pantry"]
    assert [row.thing for row in rows] == [*west, *north, "upper"]
    assert [row.number for row in rows] == [f"K-{n}" for n in range(1, len(rows) + 1)]


def test_the_order_is_the_same_whichever_way_round_the_outline_was_drawn() -> None:
    space = room(144, 144)
    other = {**space, "outline": space["outline"][::-1], "walls": [space["walls"][i] for i in (2, 1, 0, 3)]}
    things = [
        thing("base cabinet", "a", 24, 24, on_wall("kitchen-west", 40)),
        thing("base cabinet", "b", 24, 24, on_wall("kitchen-north", 40)),
        thing("base cabinet", "c", 24, 24, on_wall("kitchen-north", 70)),
    ]
    orders = [[row.thing for row in cabinet_schedule(house(things, spaces=[s]), "kitchen")] for s in (space, other)]
    turns = [["a", "b", "c"], ["b", "c", "a"]]
    assert all(order in turns for order in orders)


def test_letters_tell_rooms_apart() -> None:
    spaces = [
        room(100, 100, id=name, use="other", at=(200 * n, 0)) for n, name in enumerate(("study", "scullery", "kitchen"))
    ]
    things = [
        thing("base cabinet", f"c-{n}", 24, 24, free(200 * n + 50, 50), space=s["id"]) for n, s in enumerate(spaces)
    ]
    assert set(cabinet_tags(house(things, spaces=spaces)).values()) == {"St-1", "Sc-1", "K-1"}


def test_rooms_of_one_name_still_get_numbers_of_their_own() -> None:
    spaces = [{**room(100, 100, id=f"r{n}", use="bedroom", at=(200 * n, 0)), "name": "Bedroom"} for n in range(3)]
    things = [thing("base cabinet", f"c-{n}", 24, 24, free(200 * n + 50, 50), space=f"r{n}") for n in range(3)]
    tags = cabinet_tags(house(things, spaces=spaces))
    assert len(set(tags.values())) == 3


def test_sizes_hinges_and_leaves_are_those_of_the_record() -> None:
    rows = {row.thing: row for row in cabinet_schedule(crowded(), "kitchen")}
    base = rows["sink-base"]
    assert (base.width_mm, base.depth_mm, base.height_mm) == (inches(36), inches(24), inches(34.5))
    assert (base.hinge, base.leaves) == ("left and right", "2 hinged")
    assert rows["pantry"].hinge == "right"
    assert rows["upper"].bottom_mm == inches(54)
    assert rows["drawers"].leaves == ""  # unknown, not none


def test_ends_are_recorded_or_worked_out_and_say_which() -> None:
    rows = {row.thing: row for row in cabinet_schedule(crowded(), "kitchen")}
    assert (rows["trays"].finished_ends, rows["trays"].ends_from) == ("left", "recorded")
    # The upper stands free on its left; on its right nothing hangs either.
    assert (rows["upper"].finished_ends, rows["upper"].ends_from) == ("left, right", "worked out")
    assert rows["sink-base"].finished_ends == "none"
    # The pantry ends the run at the room's corner: its left is higher than the base cabinet beside it.
    assert rows["pantry"].finished_ends == "left"


def test_fillers_stand_with_the_cabinet_they_close() -> None:
    things = [
        thing("base cabinet", "c", 24, 24, on_wall("kitchen-north", 10)),
        thing("filler", "f", 3, 24, on_wall("kitchen-north", 34), top=34.5),
    ]
    row = cabinet_schedule(house(things), "kitchen")[0]
    # A cabinet with its back to the north wall is faced from the south: the wall's left is its left.
    assert row.fillers == "right"
    assert row.fillers_mm == (inches(3),)


def test_what_is_removed_is_in_no_schedule() -> None:
    things = [
        thing("base cabinet", "gone", 24, 24, on_wall("kitchen-north", 0), state="removed"),
        thing("base cabinet", "here", 24, 24, on_wall("kitchen-north", 40)),
    ]
    project = house(things, openings=[door("d", "kitchen-south", 20, state="removed")])
    rows = cabinet_schedule(project, "kitchen")
    assert [(row.thing, row.number) for row in rows] == [("here", "K-1")]
    assert opening_schedule(project) == ()


def test_openings_say_where_they_lead_and_how_they_turn() -> None:
    rows = {row.opening: row for row in opening_schedule(rooms())}
    assert (rows["through"].space, rows["through"].to, rows["through"].swing) == ("Kitchen", "Dining", "")
    assert rows["front"].to == "outdoors"
    assert rows["in"].swing == "hinged right, into Kitchen"
    assert rows["pocket"].to == ""  # unknown
    assert {row.opening for row in opening_schedule(rooms(), "dining")} == {"through"}


def test_products_and_finishes_tell_where_they_are_used() -> None:
    things = [
        thing("base cabinet", f"c{n}", 24, 24, on_wall("kitchen-north", 24 * n), product="p", finish="oak")
        for n in range(3)
    ]
    project = house(things, products=[{"id": "p", "name": "Base"}, {"id": "unused", "name": "None"}],
                    finishes=[{"id": "oak", "name": "Oak"}])  # fmt: skip
    assert [(row.product, row.count) for row in product_schedule(project)] == [("p", 3)]
    assert [row.where for row in finish_schedule(project, "kitchen")] == [("base cabinet",)]
    cabinets = cabinet_schedule(project, "kitchen")
    assert cabinets[0].finish == "Oak"
    assert cabinets[0].product == "Base"


def test_a_room_that_does_not_exist_is_refused() -> None:
    with pytest.raises(NotFound):
        cabinet_schedule(house(), "attic")
