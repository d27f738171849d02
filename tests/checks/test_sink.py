"""Landings beside sinks. Figures: NKBA Kitchen Planning Guidelines, printing keyed to IRC 2015 and A117.1-2009."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from building import findings, free, on_wall, one, set_in, thing
from lines import inches_of, kitchen, line


def sink_between(left: float, right: float, **sink: object) -> object:
    return kitchen(line(("counter", "", left), ("sink", "sink", 33, sink), ("counter", "", right)))


@pytest.mark.parametrize(
    ("left", "right", "longer", "shorter", "verdicts"),
    [
        (24, 18, 24, 18, ("met", "met")),  # guideline 11: 24 and 18 in
        (18, 24, 24, 18, ("met", "met")),  # either way round
        (23.9, 18, 23.9, 18, ("falls short", "met")),
        (30, 17, 30, 17, ("met", "falls short")),
        (24.03, 17.97, 24.03, 17.97, ("met", "met")),  # within half of 1/16 in
    ],
)
def test_main_sink(left: float, right: float, longer: float, shorter: float, verdicts: tuple[str, str]) -> None:
    project = sink_between(left, right)
    found = [one(project, "K11", containing=part) for part in ("longer", "shorter")]
    assert [inches_of(f) for f in found] == pytest.approx([longer, shorter])
    assert tuple(f.verdict for f in found) == verdicts


def test_counter_goes_on_above_a_dishwasher() -> None:
    project = kitchen(line(("dishwasher", "dw", 24), ("sink", "sink", 33), ("counter", "", 18)))
    assert inches_of(one(project, "K11", containing="longer")) == pytest.approx(24)


def test_counter_ends_at_a_tall_unit() -> None:
    project = kitchen(
        line(
            ("counter", "", 24),
            ("sink", "sink", 33),
            ("counter", "", 10),
            ("tall cabinet", "pantry", 24),
            ("counter", "", 40),
        )
    )
    found = one(project, "K11", containing="shorter")
    assert inches_of(found) == pytest.approx(10)
    assert any("tall cabinet" in text for text in found.working)


def test_shallow_counter_is_no_landing() -> None:
    # Guideline 11 (landing areas): 16 in deep; a ledge of 12 in beside the sink is none.
    things = line(("counter", "", 24), ("sink", "sink", 33))
    things.append(thing("counter", "ledge", 30, 12, free(57 + 15, 240 - 25 + 6, 0)))
    found = one(kitchen(things), "K11", containing="shorter")
    assert inches_of(found) == 0
    assert any("deep" in text for text in found.working)


def test_appliance_garage_spoils_a_landing() -> None:
    # 25 - 12 = 13 in are left before the garage, less than 16 in, from 10 in beside the sink on.
    things = line(("counter", "", 24), ("sink", "sink", 33), ("counter", "", 30))
    things.append(thing("appliance garage", "garage", 20, 12, on_wall("kitchen-north", 67), bottom=36, top=54))
    found = one(kitchen(things), "K11", containing="shorter")
    assert inches_of(found) == pytest.approx(10)


def test_kitchen_without_sink() -> None:
    for rule in ("K11", "K11c", "K11d"):
        found = {(f.because, f.needs) for f in findings(kitchen(line(("counter", "", 60))), rule)}
        assert found == {("missing fact", ("kitchen: a sink",))}, rule
    assert {f.because for f in findings(kitchen(line(("counter", "", 60))), "K15")} == {"does not apply"}


def test_sink_against_a_wall_has_no_front() -> None:
    project = kitchen(thing("sink", "sink", 30, 20, free(60, 60)), thing("counter", "slab", 40, 24, free(60, 38)))
    found = one(project, "K11", containing="longer")
    assert (found.because, found.needs) == ("missing fact", ("sink.place",))


def test_auxiliary_sink() -> None:
    # Guideline 15: 18 in on one side, 3 in on the other; 24 and 18 in are not asked of it.
    good = sink_between(18, 3, role="auxiliary")
    assert [one(good, "K15", containing=part).verdict for part in ("longer", "shorter")] == ["met", "met"]
    assert {f.because for f in findings(good, "K11")} == {"missing fact"}  # the main sink
    short = sink_between(17, 2, role="auxiliary")
    assert [one(short, "K15", containing=part).verdict for part in ("longer", "shorter")] == ["falls short"] * 2


def test_counter_beside_an_auxiliary_sink_is_at_its_height() -> None:
    # Guideline 15: the longer side lies at the height of the sink; a bar 42 in high beside it does not count.
    things = line(("sink", "sink", 15, {"role": "auxiliary"}), ("counter", "", 4))
    things += line(("counter", "", 30), at=19, top=42, prefix="bar")
    found = one(kitchen(things), "K15", containing="longer")
    assert inches_of(found) == pytest.approx(4)


def cornered(side: float, back: float, sink: float = 24) -> object:
    """A sink on the north wall, `side` from the inside corner at its right, `back` of counter round it."""
    north = line(("counter", "", 30), ("sink", "sink", sink), ("counter", "", side), at=360 - 25 - side - sink - 30)
    east = line(("counter", "", back + 25), wall="kitchen-east", prefix="return")
    return kitchen(north, east)


def test_sink_near_a_corner() -> None:
    # 1990s guideline 24, kept in 11: 3 in to the corner, and 21 in on the return where the side has less than 18 in;
    # the sink's centreline 15 in from the corner.
    project = cornered(3, 21)
    found = {part: one(project, "K11c", containing=part) for part in ("sink-to-corner", "return", "centreline")}
    assert {part: inches_of(f) for part, f in found.items()} == pytest.approx(
        {"sink-to-corner": 3, "return": 21, "centreline": 15}
    )
    assert {f.verdict for f in found.values()} == {"met"}
    # Guideline 11 still tells that the side is short, and that the return follows.
    shorter = one(project, "K11", containing="shorter")
    assert shorter.verdict == "falls short"
    assert any("corner" in text for text in shorter.also)


def test_sink_too_near_a_corner() -> None:
    project = cornered(2, 20)
    assert {f.verdict for f in findings(project, "K11c")} == {"falls short"}


def test_long_side_asks_nothing_of_the_return() -> None:
    assert one(cornered(18, 5), "K11c", containing="return").because == "does not apply"


def test_sink_without_corner() -> None:
    assert {f.because for f in findings(sink_between(30, 30), "K11c")} == {"does not apply"}


def stepped(left: float, right: float) -> object:
    """A sink with `left` and `right` at its height, and a counter 4 in higher beyond the right."""
    things = line(("counter", "", left), ("sink", "sink", 33), ("counter", "", right))
    return kitchen(things, line(("counter", "", 30), at=left + 33 + right, top=40, prefix="raised"))


def test_counter_heights_differ_around_the_sink() -> None:
    # Guideline 11 (recalled): 24 in on one side and 3 in on the other at the height of the sink.
    assert [one(stepped(24, 3), "K11d", containing=p).verdict for p in ("longer", "shorter")] == ["met", "met"]
    assert [one(stepped(23, 2), "K11d", containing=p).verdict for p in ("longer", "shorter")] == ["falls short"] * 2
    assert {f.because for f in findings(sink_between(30, 30), "K11d")} == {"does not apply"}


def test_only_sink_beside_both() -> None:
    # Guideline 10: beside the cooking surface and the refrigerator, no other centre between.
    beside = line(
        ("refrigerator", "cold", 36),
        ("counter", "", 30),
        ("sink", "sink", 33),
        ("counter", "", 36),
        ("range", "fire", 30),
    )
    found = one(kitchen(beside), "K10")
    assert found.measured is not None
    assert (found.measured.value, found.verdict) == (2, "met")


def test_another_centre_between() -> None:
    order = line(
        ("sink", "sink", 33),
        ("counter", "", 36),
        ("range", "fire", 30),
        ("counter", "", 30),
        ("refrigerator", "cold", 36),
    )
    found = one(kitchen(order), "K10")
    assert found.measured is not None
    assert (found.measured.value, found.verdict) == (1, "falls short")


def test_only_sink_across() -> None:
    north = line(("counter", "", 40), ("sink", "sink", 33), ("counter", "", 40))
    # The south wall runs from east to west as seen from inside: 360 - 40 - 33 = 287 is opposite the sink.
    south = line(
        ("range", "fire", 30),
        ("counter", "", 5),
        ("refrigerator", "cold", 36),
        wall="kitchen-south",
        at=270,
        prefix="south",
    )
    assert one(kitchen(north, south), "K10").verdict == "met"
    island = thing("island", "island", 120, 30, free(60, 120))
    assert one(kitchen(north, south, island), "K10").verdict == "falls short"


def facing_at(offset: float, *more: object) -> object:
    """A sink x 40 to 73 on the north wall, a range beside it, and a refrigerator that faces it from the south wall.

    The refrigerator's near side is `offset` in from the west.
    """
    north = line(("counter", "", 40), ("sink", "sink", 33), ("counter", "", 40), ("range", "fire", 30))
    return kitchen(north, thing("refrigerator", "cold", 36, 30, on_wall("kitchen-south", 360 - offset - 36)), *more)


def test_across_holds_further_along_the_run_that_faces_the_sink() -> None:
    # Guideline 10, facing runs: 7 in beside the sink is still across from it.
    found = one(facing_at(80), "K10")
    assert found.verdict == "met"
    assert any('7" (178 mm) further along' in text for text in found.working)


def test_another_centre_or_an_island_between_is_not_across() -> None:
    # A second range further along the south wall is no centre between; one that stands nearer the sink is.
    nearer = thing("cooktop", "second", 30, 20, free(94, 20, 180))
    assert one(facing_at(120), "K10").verdict == "met"
    assert one(facing_at(120, nearer), "K10").verdict == "falls short"
    island = thing("island", "island", 60, 30, free(95, 120))
    assert one(facing_at(120, island), "K10").verdict == "falls short"


def test_two_sinks_or_a_missing_centre() -> None:
    two = line(("sink", "a", 30), ("counter", "", 40), ("sink", "b", 15, {"role": "auxiliary"}), ("range", "fire", 30))
    assert one(kitchen(two), "K10").because == "does not apply"
    found = one(sink_between(30, 30), "K10")
    assert found.because == "missing fact"
    assert found.needs == ("kitchen: a cooking surface", "kitchen: a refrigerator")


@settings(max_examples=20, deadline=None)
@given(left=st.floats(1, 60), right=st.floats(1, 60), more=st.floats(0, 40))
def test_more_counter_never_falls_shorter(left: float, right: float, more: float) -> None:
    before, after = sink_between(left, right), sink_between(left, right + more)
    for part in ("longer", "shorter"):
        first, second = (one(project, "K11", containing=part) for project in (before, after))
        assert not (first.verdict == "met" and second.verdict == "falls short")


def test_sink_set_in_a_bare_base_cabinet() -> None:
    # Without a recorded top, counters are taken over the cabinets, and said to be.
    things = [
        thing("base cabinet", name, 36, 24, on_wall("kitchen-north", at))
        for name, at in (("a", 0), ("b", 36), ("c", 72))
    ]
    things.append(thing("sink", "sink", 30, 20, set_in("b", 3), top=34.5))
    found = one(kitchen(things), "K11", containing="shorter")
    assert inches_of(found) == pytest.approx(39)
    assert set(found.assumed) == {"a.counter", "b.counter", "c.counter"}


def test_only_the_longer_side_of_an_auxiliary_sink_is_at_its_height() -> None:
    # Guideline 15: 18 in at the height of the sink; the other 3 in may lie on a bar 42 in high.
    things = line(("counter", "", 18), ("sink", "sink", 15, {"role": "auxiliary"}))
    project = kitchen(things, line(("counter", "", 10), at=33, top=42, prefix="bar"))
    assert [one(project, "K15", containing=part).verdict for part in ("longer", "shorter")] == ["met", "met"]


def in_corner(left: float, right: float) -> object:
    """A sink 30 by 20 in at 45 degrees in the north-west corner, its edges 17.678 in from its middle at (20, 220).

    `left` and `right` are the lengths of the two counters, from the corner of the room.
    """
    north = thing("counter", "north", right, 25, on_wall("kitchen-north", 0))
    west = thing("counter", "west", left - 25, 25, on_wall("kitchen-west", 240 - left))
    return kitchen(north, west, thing("sink", "sink", 30, 20, free(20, 220, 45)))


def test_sink_across_a_corner_has_a_landing_on_either_side() -> None:
    # On both counters the sink's edge is 20 + 17.678 = 37.678 in from the corner of the room.
    project = in_corner(37.678 + 18, 37.678 + 24)
    longer, shorter = (one(project, "K11", containing=part) for part in ("longer", "shorter"))
    assert (inches_of(longer), inches_of(shorter)) == (pytest.approx(24, abs=0.01), pytest.approx(18, abs=0.01))
    assert (longer.verdict, shorter.verdict) == ("met", "met")
    assert {f.because for f in findings(project, "K11c")} == {"does not apply"}
    assert one(in_corner(37.678 + 17, 37.678 + 24), "K11", containing="shorter").verdict == "falls short"


def slanting(turn: float) -> object:
    """An island set at a slant with the only sink, and a range and a refrigerator on the north wall."""
    north = line(("range", "fire", 30), ("counter", "", 30), ("refrigerator", "cold", 36), at=150)
    island = thing("island", "island", 60, 30, free(170, 120, turn))
    return kitchen(north, island, thing("sink", "sink", 24, 18, set_in("island", 18)))


def test_sink_on_a_slanting_island() -> None:
    # Guideline 10: across, the island turned by 30 degrees from facing the wall; turned away it is not.
    assert one(slanting(150), "K10").verdict == "met"
    assert any("at a slant" in text for text in one(slanting(150), "K10").working)
    assert one(slanting(30), "K10").verdict == "falls short"
