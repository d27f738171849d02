"""The route against every order tried in turn, and walked distances against a net of sight lines made apart."""

from __future__ import annotations

import math
import random
from functools import partial
from itertools import pairwise, permutations
from typing import Any

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, Point
from shapely.ops import nearest_points

import enfilade as ef
from building import door, free, house, room, thing
from enfilade.checks.view import House
from enfilade.checks.ways import BODY_MM
from enfilade.editing.parts import stops_by_part
from enfilade.lengths import inches
from enfilade.project.project import Project
from enfilade.walkthrough.order import room_order
from enfilade.walkthrough.route import best_route, with_route
from enfilade.walkthrough.shortest_order import EXACT_UP_TO, shortest_order
from enfilade.walkthrough.walking import HouseWalks

SIDE, WALL = 130, 5


def invented(seed: int, rooms: int, **show: Any) -> Project:
    """A house of square rooms in rows of three, some with a table, doors at odd places; a few may be cut off."""
    chance = random.Random(seed)
    ids = [f"r{number}" for number in range(rooms)]
    pitch = SIDE + WALL
    spaces = [room(SIDE, SIDE, id=id, at=(n % 3 * pitch, n // 3 * pitch), use="other") for n, id in enumerate(ids)]
    things, openings = [], []
    for n, id in enumerate(ids):
        if chance.random() < 0.6:
            size = chance.choice((20, 34, 44))
            x, y = n % 3 * pitch + chance.uniform(45, 85), n // 3 * pitch + chance.uniform(45, 85)
            things.append(thing("table", f"t{n}", size, size, free(x, y, chance.choice((0.0, 30.0))), space=id))
        for other, mine, theirs in ((n + 1, "east", "west"), (n + 3, "north", "south")):
            beside = other < rooms and (mine == "north" or other % 3)
            if beside and chance.random() < 0.8:
                place = chance.uniform(0, SIDE - 36)
                openings.append(door(f"d{n}-{other}", f"{id}-{mine}", place, beyond=f"{ids[other]}-{theirs}"))
    if ids:
        way_in = chance.choice(ids)
        openings.append(door("in", f"{way_in}-{'south' if ids.index(way_in) < 3 else 'north'}", 40, beyond="none"))
        openings[-1]["entry"] = True
    speaking = {"first": show.get("first"), "last": show.get("last")}
    return house(things, spaces=spaces, openings=openings, show={"speaking": speaking})


# --- distances, by another way


def sight_line_table(project: Project, places: dict[str, tuple[float, float]]) -> dict[tuple[str, str], float]:
    """Walked distances by a plain net: every corner of each floor seen from every other, lengths let sink to the least.

    It shares with the toolkit only where one stands and that one walks through the middle of a doorway.
    """
    view = House(project)
    nodes: dict[Any, tuple[float, float]] = {}
    edges: list[tuple[Any, Any, float]] = []
    for space in project.spaces:
        floor = shapely.Polygon(space.outline)
        for stand in view.by_space[space.id]:
            floor = floor.difference(stand.box.polygon)
        slim = floor.buffer(-BODY_MM / 2, quad_segs=24)
        wide = slim.buffer(0.5)
        here: dict[Any, tuple[float, float]] = {("", space.id): places[space.id]}
        for opening in view.doorways[space.id]:
            if opening.beyond is not None:
                here[opening.id, space.id] = opening.segment.midpoint
        feet = {}
        for key, point in here.items():
            near = nearest_points(slim, Point(point))[0]
            feet[key] = ((near.x, near.y), math.dist(point, (near.x, near.y)))
        corners = {(space.id, n): (x, y) for n, (x, y) in enumerate(shapely.get_coordinates(slim))}
        nodes |= here | corners
        ends = [(key, foot, extra) for key, (foot, extra) in feet.items()] + [(k, p, 0.0) for k, p in corners.items()]
        for n, (a, p, more) in enumerate(ends):
            for b, q, most in ends[n + 1 :]:
                if p == q or wide.covers(LineString([p, q])):
                    edges.append((a, b, more + math.dist(p, q) + most))
    for space in project.spaces:
        for opening in view.doorways[space.id]:
            there = (opening.id, opening.beyond)
            if there in nodes:
                edges.append(((opening.id, space.id), there, math.dist(nodes[opening.id, space.id], nodes[there])))
    table = {}
    for space in project.spaces:
        least = dict.fromkeys(nodes, math.inf) | {("", space.id): 0.0}
        sunk = True
        while sunk:
            sunk = False
            for a, b, length in edges:
                for one, other in ((a, b), (b, a)):
                    # One passes no standing place but the first.
                    if (one[0] != "" or one == ("", space.id)) and least[one] + length < least[other] - 1e-9:
                        least[other], sunk = least[one] + length, True
        table |= {(space.id, other.id): least["", other.id] for other in project.spaces}
    return table


@pytest.mark.parametrize(("seed", "rooms"), [(3, 4), (11, 3), (29, 4)])
def test_walked_distances_are_those_of_a_net_of_sight_lines(seed: int, rooms: int) -> None:
    project = invented(seed, rooms)
    walks = HouseWalks(House(project))
    other = sight_line_table(project, walks.places)
    for a in walks.places:
        ways = walks.ways_from(a)
        for b in walks.places:
            if math.isinf(other[a, b]):
                assert b not in ways
            else:
                # Round corners are polygons in both; a per cent of half a body's width at each.
                assert ways[b].length_mm == pytest.approx(other[a, b], rel=0.005, abs=10)


def test_a_straight_walk_is_measured_by_hand() -> None:
    # Two rooms of 100 in beside each other, wall of 5 in, the door opposite both middles: 50 + 5 + 50 in.
    spaces = [room(100, 100, id="a"), room(100, 100, id="b", at=(105, 0))]
    project = house(spaces=spaces, openings=[door("d", "a-east", 32, beyond="b-west")])
    walks = HouseWalks(House(project))
    assert walks.places["a"] == pytest.approx((inches(50), inches(50)), abs=10)
    found = walks.way("a", "b")
    assert found is not None
    assert found.length_mm == pytest.approx(inches(105), abs=15)
    assert found.through == ()
    assert found.last_door == ("d", "b")


def two_rooms_with(*things: dict[str, Any]) -> House:
    spaces = [room(120, 120, id="a"), room(120, 120, id="b", at=(125, 0))]
    return House(house(things, spaces=spaces, openings=[door("d", "a-east", 42, beyond="b-west")]))


def test_one_stands_on_free_floor() -> None:
    view = two_rooms_with(thing("table", "t", 40, 40, free(60, 60), space="a"))
    place = HouseWalks(view).places["a"]
    assert not view.standing["t"].box.polygon.buffer(BODY_MM / 2 - 1).contains(Point(place))


def test_one_walks_round_what_is_there() -> None:
    bare = HouseWalks(two_rooms_with())
    # 20 in wide and 40 in deep, its middle 35 in from the door, both in one line with where one stands.
    full = HouseWalks(two_rooms_with(thing("table", "t", 20, 40, free(85, 60), space="a")))
    assert full.places["a"] == pytest.approx(bare.places["a"], abs=10)
    straight, round_it = bare.way("a", "b"), full.way("a", "b")
    assert straight is not None
    assert round_it is not None
    # By hand, over the corners themselves: 25 + 20 + 32 in instead of 60; a body keeps half its width, 9 in, off them.
    # Along the sides of a box that far off: 29 + 44 + 29 + 16 in.
    more = (round_it.length_mm - straight.length_mm) / 25.4
    assert 17.1 < more < 58


# --- the order


def walked(project: Project) -> float:
    """What is walked from room to room on a route, as far as rooms can be reached from its first."""
    route = best_route(House(project))
    reached = HouseWalks(House(project)).ways_from(route.order[0])
    return sum(leg.length_mm or 0.0 for leg in route.legs[: len(reached) - 1])


def brute_force(project: Project) -> float:
    """The least that is walked, every order tried."""
    walks = HouseWalks(House(project))
    speaking = project.show.speaking
    start = best_route(House(project)).order[0]
    reached = [id for id in walks.ways_from(start) if id != start]
    best = math.inf
    for order in permutations(reached):
        if speaking.last in reached and order[-1] != speaking.last:
            continue
        length = sum(walks.ways_from(a)[b].length_mm for a, b in pairwise((start, *order)))
        best = min(best, length)
    return best


@settings(max_examples=25, deadline=None)
@given(st.integers(0, 10**6), st.integers(1, 7), st.booleans(), st.booleans())
def test_no_other_order_is_shorter(seed: int, rooms: int, first: bool, last: bool) -> None:
    chance = random.Random(seed)
    show = {"first": f"r{chance.randrange(rooms)}" if first else None,
            "last": f"r{chance.randrange(rooms)}" if last else None}  # fmt: skip
    project = invented(seed, rooms, **show)
    route = best_route(House(project))
    assert walked(project) == pytest.approx(brute_force(project), abs=1e-3)
    assert sorted(route.order) == sorted(space.id for space in project.spaces)
    if show["first"]:
        assert route.order[0] == show["first"]
    assert route.length_mm == pytest.approx(sum(leg.length_mm or 0.0 for leg in route.legs))


@pytest.mark.parametrize("seed", [1, 2, 5])
def test_no_other_order_of_nine_rooms_is_shorter(seed: int) -> None:
    project = invented(seed, 9)
    assert walked(project) == pytest.approx(brute_force(project), abs=1e-3)


def test_the_demo_house_is_walked_without_a_shorter_order() -> None:
    project = ef.demo()
    route = best_route(House(project))
    assert walked(project) == pytest.approx(brute_force(project), abs=1e-3)
    assert route.order[0] == "entry"


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 10**6), st.integers(EXACT_UP_TO + 1, 25), st.booleans())
def test_a_good_order_of_many_places_is_no_longer_than_going_to_the_nearest(seed: int, count: int, last: bool) -> None:
    chance = random.Random(seed)
    points = [(chance.random() * 1e4, chance.random() * 1e4) for _ in range(count)]
    table = [[math.dist(a, b) for b in points] for a in points]
    kept = chance.randrange(1, count) if last else None
    order = shortest_order(table, last=kept)
    assert sorted(order) == list(range(count))
    assert order[0] == 0
    assert kept is None or order[-1] == kept
    nearest = [0]
    while len(nearest) < count:
        left = [one for one in range(count) if one not in nearest and (one != kept or len(nearest) == count - 1)]
        nearest.append(min(left, key=partial(lambda here, one: table[here][one], nearest[-1])))
    length = partial(lambda order: sum(table[a][b] for a, b in pairwise(order)))
    assert length(order) <= length(nearest) + 1e-6


def test_rooms_without_a_way_come_last_and_are_named() -> None:
    spaces = [room(100, 100, id="apart", at=(0, 300)), room(100, 100, id="in"), room(100, 100, id="next", at=(105, 0))]
    openings = [door("d", "in-east", 20, beyond="next-west"), door("e", "in-west", 20, beyond="none", entry=True)]
    route = best_route(House(house(spaces=spaces, openings=openings)))
    assert route.order == ("in", "next", "apart")
    assert route.legs[-1].length_mm is None
    assert route.words == ("No way on foot was found from In to Apart.",)


def test_many_rooms_say_that_the_route_may_not_be_the_shortest() -> None:
    ids = [f"r{n}" for n in range(EXACT_UP_TO + 2)]
    spaces = [room(60, 100, id=id, at=(n * 65, 0)) for n, id in enumerate(ids)]
    openings = [door(f"d{n}", f"{a}-east", 30, beyond=f"{b}-west") for n, (a, b) in enumerate(pairwise(ids))]
    route = best_route(House(house(spaces=spaces, openings=openings)))
    assert route.order == tuple(ids)  # one row of rooms
    assert not route.exact
    assert "shorter route may exist" in route.words[0]


@pytest.mark.parametrize("rooms", [0, 1])
def test_no_room_or_one_is_a_route_too(rooms: int) -> None:
    project = house(spaces=[room(100, 100, id=f"r{n}") for n in range(rooms)])
    assert best_route(House(project)).order == tuple(f"r{n}" for n in range(rooms))
    assert best_route(House(project)).length_mm == 0.0


# --- applied


def test_without_a_script_rooms_are_told_along_the_route_and_with_one_in_its_order() -> None:
    project = ef.demo()
    told = [stop.space for stop in project.script]
    by_part = [stop.space for part in stops_by_part(project) for stop in part.stops]
    assert room_order(House(project))[: len(told)] == list(dict.fromkeys(by_part))
    silent = project.model_copy(update={"script": ()})
    assert room_order(House(silent)) == list(best_route(House(project)).order)


def test_a_route_is_applied_within_each_part_and_applying_it_again_changes_nothing() -> None:
    plain = ef.demo()
    parts = [{"id": "one"}, {"id": "two"}]
    show = plain.show.model_dump() | {"speaking": {"parts": parts}}
    stops = [stop.model_copy(update={"part": None}) for stop in plain.script]
    stops = [stops[5].model_copy(update={"part": "one"}), *stops[:5][::-1],
             stops[6].model_copy(update={"part": "two"}), *stops[7:][::-1]]  # fmt: skip
    project = Project.model_validate(plain.model_dump() | {"show": show, "script": [s.model_dump() for s in stops]})
    route = best_route(House(project))
    moved = with_route(project, route)
    first = {stop.space for stop in stops[:6]}
    assert [stop.space for stop in moved.script] == [
        *(id for id in route.order if id in first), *(id for id in route.order if id not in first),
    ]  # fmt: skip
    assert {stop.id: stop.lines for stop in moved.script} == {stop.id: stop.lines for stop in project.script}
    assert with_route(moved, route) is moved
    assert [stop.part for stop in moved.script if stop.part] == ["one", "two"]
