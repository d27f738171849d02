"""Frontage (Kitchen guidelines 27 to 29, and the handout on how cabinets are counted)."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from building import free, house, on_wall, one, room, thing
from enfilade.checks.storage_units import unit_of
from enfilade.checks.view import House
from enfilade.lengths import inches
from enfilade.standards.yardsticks import yardstick

from .said import verdict

# Floors of 144, 196 and 360 sq ft: small, medium and large (guideline 27).
SIZES = {"small": (144, 144, 1400, 400), "medium": (168, 168, 1700, 480), "large": (240, 216, 2000, 560)}


def _total(unit, sinks=()):
    built = House(house([unit, *sinks]))
    found = unit_of(built.standing[unit["id"]], [built.standing[s["id"]] for s in sinks], yardstick("us"))
    return None if found.frontage is None else round(found.frontage.total_mm / 25.4, 6)


def _unit(kind, width, depth, **more):
    return thing(kind, "unit", width, depth, on_wall("kitchen-north", 0), **more)


@pytest.mark.parametrize(
    ("unit", "inches_of_frontage"),
    [
        # Handout: wall cabinet 12 wide, 30 high, 12 deep, 3 shelves = 36; angled end = 18.
        (_unit("wall cabinet", 12, 12, shelves=3), 36),
        (_unit("wall cabinet", 12, 12, shelves=3, angled=True), 18),
        (_unit("wall cabinet", 24, 12, shelves=2, angled=True), 24),
        # Handout: blind corner base 48 with 24 accessible, two full shelves and a drawer = 96 + 48.
        (_unit("base cabinet", 48, 24, shelves=2, drawers=1, corner="blind", accessible_width_mm=609.6), 144),
        # The same with a swing-out: a quarter of 96 more.
        (_unit("base cabinet", 48, 24, shelves=2, drawers=1, corner="swing-out", accessible_width_mm=609.6), 168),
        (_unit("base cabinet", 36, 36, corner="turntable", shelves=2), 120),
        # Guideline 27: width x count x depth in feet; a 24 in base shelf counts 48.
        (_unit("base cabinet", 24, 24, shelves=1), 48),
        # A door makes the box deeper, not the shelf: own choice.
        (_unit("base cabinet", 24, 25, shelves=1), 48),
        (_unit("base cabinet", 24, 12, drawers=2), 48),
        # 15 in are no 12 in with a door: 24 x 2 x 15 / 12.
        (_unit("wall cabinet", 24, 15, shelves=2), 60),
        (_unit("wall cabinet", 24, 13, shelves=2), 48),
        # Not known at all, and a blind corner of which the accessible width is not known.
        (_unit("base cabinet", 24, 24), None),
        (_unit("base cabinet", 48, 24, shelves=2, corner="blind"), None),
    ],
)
def test_units_count_as_the_handout_counts_them(unit, inches_of_frontage):
    assert _total(unit) == inches_of_frontage


def test_a_sink_base_counts_its_bottom_alone():  # own choice: no source says
    sink = thing("sink", "sink", 30, 20, on_wall("kitchen-north", 3, gap=2))
    assert _total(_unit("base cabinet", 36, 24), [sink]) == 72


def _kitchen(size, shelves_of_100, *, sink=True, extra=()):
    """Return a kitchen with open shelves 100 in wide and 12 in deep, each layer 100 in of frontage."""
    width, depth, _, _ = SIZES[size]
    things = [
        thing("open shelf", f"shelf-{n}", 100, 12, free(width / 2, 60, 0), bottom=20, top=80, shelves=count)
        for n, count in enumerate(shelves_of_100)
    ]
    if sink:
        things.append(thing("sink", "sink", 30, 20, free(width / 2, 40)))
    return house([*things, *extra], spaces=[room(width, depth)])


@pytest.mark.parametrize(("size", "needed"), [(size, spec[2]) for size, spec in SIZES.items()])
def test_total_by_size(size, needed):
    assert verdict(_kitchen(size, [needed // 100]), "K27", size) == "met"
    assert verdict(_kitchen(size, [needed // 100 - 1]), "K27", size) == "falls short"


def test_total_is_a_lower_bound_when_a_cabinet_is_unknown():
    unknown = thing("base cabinet", "unknown", 24, 24, on_wall("kitchen-north", 0))
    assert verdict(_kitchen("small", [14], extra=[unknown]), "K27", "small") == "met"
    finding = one(_kitchen("small", [13], extra=[unknown]), "K27")
    assert (finding.because, finding.needs) == ("missing fact", ("unknown.shelves", "unknown.drawers"))


def test_other_storage_counts_up_to_its_share():
    # Guideline 27: at most 40 in from other places in a small kitchen; shelves at 84 in and above are such.
    high = thing("wall cabinet", "high", 100, 12, on_wall("kitchen-north", 0), bottom=84, top=96, shelves=2)
    dresser = thing("furniture piece", "dresser", 100, 12, on_wall("kitchen-south", 0), shelves=3)
    finding = one(_kitchen("small", [13], extra=[high, dresser]), "K27")
    assert finding.measured.to("in").value == 1340


def test_one_shelf_above_84_is_taken_out_of_its_cabinet():
    # 54 to 96 in with four shelves spread evenly: 54, 64.5, 75 and 85.5 in, the last one other storage.
    tall = thing("wall cabinet", "tall", 100, 12, on_wall("kitchen-north", 0), bottom=54, top=96, shelves=4)
    finding = one(_kitchen("small", [0], extra=[tall]), "K27")
    assert finding.measured.to("in").value == 340  # 300, and 40 of the 100 above


def test_the_usual_split_is_told_for_guidance():
    finding = one(_kitchen("small", [14]), "K27")
    # Guideline 27, table: 300 wall, 520 base, 360 drawer, 180 pantry, 40 misc.
    assert any('wall 300"' in line and 'base 520"' in line and 'misc 40"' in line for line in finding.also)


@pytest.mark.parametrize(("size", "needed"), [(size, spec[3]) for size, spec in SIZES.items()])
def test_near_the_sink_by_size(size, needed):
    count = -(-needed // 100)
    assert verdict(_kitchen(size, [count]), "K28", size) == "met"
    assert verdict(_kitchen(size, [needed // 100 - 1]), "K28", size) == "falls short"


def test_near_the_sink_by_the_share_of_the_front():
    # The sink's centre lies on the line of a front 100 in long that begins there: 72 of 100 in are near.
    kitchen = house(
        [
            thing("sink", "sink", 20, 20, free(20, 54)),
            thing("open shelf", "shelf", 100, 12, free(70, 50), bottom=20, top=80, shelves=10),
        ],
        spaces=[room(144, 144)],
    )
    # Front of the sink at y = 44, front of the shelf at y = 44, sink centre x = 20, shelf from 20 to 120.
    assert round(one(kitchen, "K28").measured.to("in").value, 6) == 720


def test_a_room_too_small_for_the_figure_says_so():
    kitchen = house(
        [thing("sink", "sink", 20, 20, free(45, 45))], spaces=[room(90, 90)]
    )  # 90 in = 2.29 m, under about 2.5 m
    assert any("out of reach" in line for line in one(kitchen, "K28").also)


def test_without_a_sink_nothing_is_near_it():
    assert verdict(_kitchen("small", [10], sink=False), "K28", "small") == "missing fact"


def test_unknown_cabinets_far_from_the_sink_do_not_matter():
    big = house(
        [
            thing("sink", "sink", 20, 20, free(20, 20)),
            thing("base cabinet", "far", 24, 24, free(225, 200)),
            thing("open shelf", "shelf", 100, 12, free(60, 12), bottom=20, top=80, shelves=1),
        ],
        spaces=[room(240, 216)],
    )
    assert verdict(big, "K28", "large") == "falls short"


@pytest.mark.parametrize(
    ("corner", "expected"),
    [
        ("blind", "falls short"), ("turntable", "met"), ("swing-out", "met"), ("pull-out", "met"), ("diagonal", "met"),
        ("none", "does not apply"),
    ],
)  # fmt: skip
def test_corner_devices(corner, expected):
    unit = _unit("base cabinet", 36, 24, corner=corner, shelves=2, accessible_width_mm=inches(18))
    assert verdict(house([unit]), "K29") == expected


def test_a_corner_of_the_counters_whose_cabinet_is_unknown():
    things = [
        thing("counter", "north", 144, 25, on_wall("kitchen-north", 0)),
        thing("counter", "east", 100, 25, on_wall("kitchen-east", 25)),
        thing("base cabinet", "corner-base", 36, 24, on_wall("kitchen-north", 108)),
    ]
    finding = one(house(things), "K29")
    assert (finding.because, finding.needs) == ("missing fact", ("corner-base.corner",))


@settings(max_examples=25, deadline=None)
@given(st.integers(0, 20), st.integers(0, 20))
def test_more_shelves_never_turn_met_into_short(few, more):
    low, high = sorted((few, more))
    least = one(_kitchen("small", [low]), "K27").measured.value
    assert one(_kitchen("small", [high]), "K27").measured.value >= least


@pytest.mark.parametrize(
    ("floor", "size"),
    [((150, 144), "small"), ((150, 145), "medium"), ((240, 210), "medium"), ((240, 211), "large")],
    # 150 sq ft exactly (read as small), 151.04; 350 exactly, 351.7.
)
def test_size_classes(floor, size):
    assert one(house([], spaces=[room(*floor)]), "K27").id == f"K27:{size}:kitchen"
