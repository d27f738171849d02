"""Runs of counters: the published U-shaped kitchen, islands, joins, corners, cut-outs."""

from __future__ import annotations

import pytest
from hypothesis import given, settings

from enfilade.errors import NotFound, OutOfRange
from enfilade.geometry import (
    Box,
    Piece,
    Run,
    Station,
    clear_between,
    counter_runs,
    counter_stretches,
    free_front,
    path_position,
    straight_counter,
)
from enfilade.geometry.runs import Role

from .placing import IN, Placing, inch_box, placings


def station(name: str, role: Role, box: Box, *, top: float = 914.0, host: str | None = None) -> Station:
    return Station(name, role, box, box.front, 0.0, top, host)


def u_shaped_kitchen() -> list[Station]:
    """The published U-shaped kitchen (see tests/outside), all widths as published; corners by blind bases.

    Stove wall on y = 0, its things face +y; sink wall at x = 186 in faces -x; refrigerator wall at x = 0 faces +x.
    """
    north, west, east = 180, -90, 90
    return [
        station("stove-right-of-it", "counter", inch_box(24, 0, 78, 24, north)),
        station("stove", "cooking", inch_box(78, 0, 108, 24, north)),
        station("stove-left-of-it", "counter", inch_box(108, 0, 162, 24, north)),
        station("sink-blind", "counter", inch_box(162, 0, 186, 36, west)),
        station("dishwasher-top", "counter", inch_box(162, 36, 186, 60, west)),
        station("sink", "sink", inch_box(162, 60, 186, 96, west)),
        station("sink-end", "counter", inch_box(162, 96, 186, 114, west)),
        station("cold-blind", "counter", inch_box(0, 0, 24, 42, east)),
        station("cold-18", "counter", inch_box(0, 42, 24, 60, east)),
        station("refrigerator", "cold", inch_box(0, 60, 24, 96, east), top=1778.0),
        station("cold-end", "counter", inch_box(0, 96, 24, 114, east)),
    ]


def only_run(stations: list[Station]) -> Run:
    runs = counter_runs(stations)
    assert len(runs) == 1
    return runs[0]


def shown(run: Run) -> list[tuple[str, float]]:
    return [(piece.station_id, round(piece.length_mm / IN, 6)) for piece in run.pieces]


# Facing the refrigerator wall (at x = 0) one has +y on the right, so that the run, left to right, goes
# sink wall, stove wall, refrigerator wall.
U_PIECES = [
    ("sink-end", 18.0),
    ("sink", 36.0),
    ("dishwasher-top", 24.0),
    ("sink-blind", 12.0),
    ("stove-left-of-it", 54.0),
    ("stove", 30.0),
    ("stove-right-of-it", 54.0),
    ("cold-blind", 18.0),
    ("cold-18", 18.0),
    ("refrigerator", 36.0),
    ("cold-end", 18.0),
]


def in_order(run: Run) -> list[tuple[str, float]]:
    pieces = shown(run)
    return pieces if pieces[0][0] == U_PIECES[0][0] else pieces[::-1]


def test_the_published_kitchen_is_one_run_with_the_published_fronts() -> None:
    run = only_run(u_shaped_kitchen())
    assert in_order(run) == U_PIECES
    assert not run.closed
    assert sum(p.corner_after for p in run.pieces) == 2
    assert [p.corner_before for p in run.pieces[1:]] == [p.corner_after for p in run.pieces[:-1]]


def test_the_published_kitchen_runs_left_to_right_as_seen_facing_it() -> None:
    for piece in only_run(u_shaped_kitchen()).pieces:
        assert piece.end_mm - piece.start_mm == pytest.approx(piece.front.length_mm)
    run = only_run(u_shaped_kitchen())
    stove = run.find("stove")[0]
    # facing the stove one looks to -y, so left is +x: there stands the 54 towards the sink wall
    assert run.pieces[stove - 1].station_id == "stove-left-of-it"


def test_the_published_kitchen_landings_beside_stove_sink_and_refrigerator() -> None:
    run = only_run(u_shaped_kitchen())
    found = {}
    for name in ("stove", "sink", "refrigerator"):
        sides = [straight_counter(run, run.find(name)[0], side) for side in ("left", "right")]
        found[name] = sorted(round(side.length_mm / IN, 6) for side in sides)
    # The published U-shaped kitchen: stove 54 and 54; sink 24 + 12 = 36 and 18; refrigerator 18 + 18 and 18
    assert found == {"stove": [54.0, 54.0], "sink": [18.0, 36.0], "refrigerator": [18.0, 36.0]}


def test_the_published_kitchen_counter_frontage_is_216_in() -> None:
    run = only_run(u_shaped_kitchen())
    stretches = counter_stretches(run)
    # The published U-shaped kitchen: 108 + (12 + 24 + 18) + (18 + 18 + 18) = 216
    assert sum(s.length_mm for s in stretches) == pytest.approx(216 * IN)
    assert sorted(round(s.length_mm / IN) for s in stretches) == [18, 18, 36, 36, 54, 54]
    assert {round(s.least_depth_mm / IN, 6) for s in stretches} == {24.0}


def test_a_stretch_tells_what_ends_it() -> None:
    run = only_run(u_shaped_kitchen())
    sink = run.find("sink")[0]
    ends = {straight_counter(run, sink, side).ended_by: straight_counter(run, sink, side) for side in ("left", "right")}
    assert set(ends) == {"corner", "end"}
    beyond = ends["corner"].beyond
    assert isinstance(beyond, Piece)
    assert beyond.station_id == "stove-left-of-it"
    assert ends["end"].beyond is None
    stove_left = run.find("stove-left-of-it")[0]
    assert straight_counter(run, stove_left, "right").ended_by == "piece"
    with pytest.raises(OutOfRange, match="piece 11 of a run of 11"):
        straight_counter(run, 11, "left")


def test_a_counter_loses_the_front_before_which_the_other_stands() -> None:
    blind = inch_box(162, 0, 186, 36, -90)
    free = free_front(blind.front, [inch_box(108, 0, 162, 24, 180).polygon])
    assert [round(part.length_mm / IN, 6) for part in free] == [12.0]
    pillar = Box(900, -50, 100, 100)
    split = free_front(Box(900, 300, 1800, 600).front, [pillar.polygon])
    assert [part.length_mm for part in split] == [850.0, 850.0]
    assert free_front(Box(0, 300, 600, 600).front, [Box(0, -300, 800, 600).polygon]) == ()


def test_what_stands_proud_by_less_than_the_tolerance_takes_no_front() -> None:
    front = Box(0, 300, 600, 600).front
    assert free_front(front, [Box(590, 299.7, 600, 600).polygon]) == (front,)


def test_a_sink_cuts_its_host_and_only_the_side_it_faces() -> None:
    island = Box(0, 0, 2400, 1000)
    sides = [
        Station("island", "counter", island, island.front, 0, 914),
        Station("island", "counter", island, island.back, 0, 914),
        Station("island", "counter", island, island.left, 0, 914),
    ]
    sink = station("sink", "sink", Box(-300, -200, 800, 500), host="island")
    runs = counter_runs([*sides, sink])
    assert [[(p.station_id, p.length_mm) for p in run.pieces] for run in runs] == [
        [("island", 500.0), ("sink", 800.0), ("island", 1100.0)],
        [("island", 2400.0)],
        [("island", 1000.0)],
    ]
    assert runs[0].pieces[1].depth_mm == 500.0
    assert [run.pieces[0].depth_mm for run in runs] == [1000.0, 1000.0, 2400.0]
    left, right = (straight_counter(runs[0], 1, side).length_mm for side in ("left", "right"))
    assert (left, right) == (500.0, 1100.0)


def test_an_unknown_host_is_named() -> None:
    with pytest.raises(NotFound, match="sink is set in 'counter-9'"):
        counter_runs([station("sink", "sink", Box(0, 0, 800, 500), host="counter-9")])


def test_a_deeper_refrigerator_beside_a_counter_still_follows_it() -> None:
    run = only_run(
        [
            station("counter", "counter", Box(500, 300, 1000, 600)),
            station("cold", "cold", Box(1460, 250, 900, 700), top=1800),
        ]
    )
    assert [p.station_id for p in run.pieces] == ["counter", "cold"]
    assert not any(p.corner_after for p in run.pieces)


@pytest.mark.parametrize(("gap", "runs"), [(0.0, 1), (25.0, 1), (26.0, 2), (300.0, 2)])
def test_a_gap_wider_than_the_join_breaks_a_run(gap: float, runs: int) -> None:
    pair = [
        station("a", "counter", Box(500, 300, 1000, 600)),
        station("b", "counter", Box(1500 + gap, 300, 1000, 600)),
    ]
    assert len(counter_runs(pair)) == runs


def test_counters_back_to_back_do_not_follow_each_other() -> None:
    pair = [station("a", "counter", Box(500, 300, 1000, 600)), station("b", "counter", Box(1500, 1200, 1000, 600))]
    assert len(counter_runs(pair)) == 2


def test_an_outside_corner_ends_a_run() -> None:
    ends = [station("a", "counter", Box(500, 300, 1000, 600)), station("b", "counter", Box(1300, 500, 1000, 600, 90))]
    assert len(counter_runs(ends)) == 2


def test_a_diagonal_corner_unit_joins_both_runs() -> None:
    # room corner at (0, 0), unit with 900 along each wall and sides 600 deep: its front runs (600, 900) to (900, 600)
    diagonal = Box(600, 600, 300 * 2**0.5, 300 * 2**0.5, 135)
    run = only_run(
        [
            station("along-x", "counter", Box(1500, 300, 1200, 600, 180)),
            station("corner", "sink", diagonal),
            station("along-y", "counter", Box(300, 1500, 1200, 600, 90)),
        ]
    )
    assert [p.station_id for p in run.pieces] == ["along-x", "corner", "along-y"]
    assert [round(p.length_mm, 3) for p in run.pieces] == [1200.0, 424.264, 1200.0]  # 300 sqrt 2
    assert [p.corner_after for p in run.pieces] == [True, True, False]


def test_counters_at_one_height_are_one_and_at_two_heights_are_two() -> None:
    run = only_run(
        [
            station("stove", "cooking", Box(300, 300, 600, 600)),
            station("a", "counter", Box(800, 300, 400, 600)),
            station("b", "counter", Box(1250, 300, 500, 600)),
            station("low", "counter", Box(1800, 300, 600, 600), top=762),
        ]
    )
    beside = straight_counter(run, 0, "right")
    assert [p.station_id for p in beside.pieces] == ["a", "b"]
    assert beside.length_mm == 900.0
    assert beside.beyond is not None
    assert beside.beyond.station_id == "low"
    assert [s.length_mm for s in counter_stretches(run)] == [900.0, 600.0]


def test_fronts_all_round_close_the_run() -> None:
    # four counters of 600 round a room of 3000 x 3000, each in one corner
    ring = [
        station("south", "counter", Box(1200, 300, 2400, 600, 180)),
        station("east", "counter", Box(2700, 1200, 2400, 600, -90)),
        station("north", "counter", Box(1800, 2700, 2400, 600, 0)),
        station("west", "counter", Box(300, 1800, 2400, 600, 90)),
    ]
    run = only_run(ring)
    assert run.closed
    assert run.length_mm == pytest.approx(4 * 1800)  # the inner square is 1800 a side
    assert all(p.corner_before and p.corner_after for p in run.pieces)
    assert clear_between(run, 0, 3) == 0.0


def test_places_and_distances_along_a_run() -> None:
    run = only_run(u_shaped_kitchen())
    sink, stove = run.find("sink")[0], run.find("stove")[0]
    # The published U-shaped kitchen, between sink and stove: 24 + 12 + 54 in of front
    assert clear_between(run, sink, stove) == pytest.approx(90 * IN)
    assert clear_between(run, stove, sink) == pytest.approx(90 * IN)
    position, off = path_position(run, (93 * IN, 30 * IN))
    assert off == pytest.approx(6 * IN)
    assert position == pytest.approx((run.pieces[stove].start_mm + run.pieces[stove].end_mm) / 2)


@given(placings)
@settings(max_examples=20, deadline=None)
def test_moving_and_turning_the_kitchen_changes_no_front(placing: Placing) -> None:
    moved = [station(s.id, s.role, placing.box(s.box), top=s.top_mm) for s in u_shaped_kitchen()]
    run, still = only_run(moved), only_run(u_shaped_kitchen())
    assert [p.station_id for p in run.pieces] == [p.station_id for p in still.pieces]
    assert [p.corner_after for p in run.pieces] == [p.corner_after for p in still.pieces]
    assert [p.length_mm for p in run.pieces] == pytest.approx([p.length_mm for p in still.pieces], abs=1e-6)
