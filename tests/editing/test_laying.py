"""Runs laid along walls: what stands where, what is left over and proposed for it, and laws for any run."""

from __future__ import annotations

from itertools import combinations, pairwise
from typing import Any

import pytest
import shapely
from hypothesis import assume, given
from hypothesis import strategies as st

from building import door, free, house, on_wall, room, set_in, thing, window
from enfilade.checks.run import check
from enfilade.editing.runs.laying import (
    in_the_way,
    parse_run,
    run_laid,
    run_left_over,
    run_stretch,
    run_stretches,
)
from enfilade.editing.runs.reading_runs import typed_item
from enfilade.editing.runs.run_strip import strip_of
from enfilade.editing.runs.run_words import run_words
from enfilade.editing.things.house import House
from enfilade.errors import NotFound, OutOfRange, Refused
from enfilade.lengths import inches, to_inches
from enfilade.project.placing import AgainstWall, SetIn
from enfilade.project.project import Project

NORTH = "kitchen-north"


def kitchen(*things: dict[str, Any], width: float = 165, **more: Any) -> Project:
    """Return a kitchen, 144 in deep, with a window 36 in wide in its north wall."""
    return house(things, spaces=[room(width, 144)], openings=[window("view", NORTH, 60, 36)], **more)


def bare() -> Project:
    """Return the same kitchen without its window."""
    return house(spaces=[room(165, 144)])


def laid(project: Project, text: str, **how: Any) -> tuple[Project, list[Any]]:
    """Lay a run along the north wall, typed in the units of the project."""
    wall = how.pop("wall", NORTH)
    after, ids = run_laid(project, wall, parse_run(text, project.show.units, how.get("row", "lower")), **how)
    return after, [after.thing(id) for id in ids]


def span(project: Project, id: str, wall: str = NORTH) -> tuple[float, float]:
    """Return where a thing stands along a wall, from its left end [in]."""
    line, box = House(project).lines[wall], House(project).stands[id].box
    places = [line.place(corner)[0] for corner in box.corners]
    return round(to_inches(min(places)), 3), round(to_inches(max(places)), 3)


def clashes(project: Project) -> list[Any]:
    return [f.working for f in check(project, "kitchen") if f.rule in ("R4", "R5", "R7") and f.verdict != "met"]


RUN = "36 base, 24 dishwasher, 36 sink, 30 range, 18, 18 tall"


def test_a_run_stands_in_order_with_its_counters_and_its_sink() -> None:
    project, new = laid(kitchen(), RUN)
    assert [(one.kind, *span(project, one.id)) for one in new] == [
        ("base cabinet", 0, 36), ("dishwasher", 36, 60), ("base cabinet", 60, 96), ("range", 96, 126),
        ("base cabinet", 126, 144), ("tall cabinet", 144, 162), ("counter", 0, 96), ("counter", 126, 144),
        ("sink", 63, 93),
    ]  # fmt: skip
    assert clashes(project) == []
    assert all(one.state == "new" for one in new)
    assert all(one.assumed("depth_mm", "top_mm") for one in new)
    assert [one.id for one in new if one.assumed("width_mm")] == ["counter", "counter-2", "sink"]
    sink, counter = new[-1], new[-3]
    assert isinstance(sink.place, SetIn)
    assert sink.place.host == counter.id
    assert sink.top_mm == counter.top_mm == inches(36)
    assert counter.overhang.front_mm == inches(1)


def test_from_the_right_it_mirrors() -> None:
    project, new = laid(kitchen(), RUN, from_end="right")
    assert [span(project, one.id) for one in new[:6]] == [
        (129, 165), (105, 129), (69, 105), (39, 69), (21, 39), (3, 21),
    ]  # fmt: skip
    assert {one.place.from_end for one in new if isinstance(one.place, AgainstWall)} == {"right"}
    assert clashes(project) == []


def test_metric_runs_are_laid_in_metric_sizes() -> None:
    metric = kitchen(show={"units": "metric"})
    project, new = laid(metric, "600, 600 dishwasher, 900 sink, 600 range")
    assert [one.width_mm for one in new[:4]] == [600, 600, 900, 600]
    assert new[0].top_mm == 860
    assert clashes(project) == []


def test_ranges_tall_things_and_spaces_break_the_counter() -> None:
    for what, kind in (("range", "range"), ("fridge", "refrigerator"), ("pantry", "tall cabinet"), ("space", None)):
        project, new = laid(kitchen(), f"24, 30 {what}, 24")
        assert [span(project, one.id) for one in new if one.kind == "counter"] == [(0, 24), (54, 78)]
        assert ([one.kind for one in new][1] == kind) is (kind is not None)


def test_fillers_lie_under_the_counter_and_are_as_high_as_what_is_beside() -> None:
    project, new = laid(kitchen(), "3 filler, 24, 18 tall, 3 filler")
    first, last = new[0], new[3]
    assert clashes(project) == []
    assert (first.kind, first.top_mm) == ("filler", inches(34.5))
    assert last.top_mm == inches(84)
    assert span(project, next(one.id for one in new if one.kind == "counter")) == (0, 27)
    _, new = laid(bare(), "24, 1 panel, 36 fridge, 1 panel")
    assert [one.top_mm for one in new if one.kind == "panel"] == [inches(84), inches(84)]
    project, new = laid(kitchen(), "30 range, 3 filler")
    assert [one.kind for one in new] == ["range", "filler"]  # no counter over a strip alone


def test_what_is_set_in_fits_its_cabinet() -> None:
    project, new = laid(bare(), "20 sink, 30 cooktop, 24 oven, 33 oven")
    sizes = {one.id: (round(to_inches(one.width_mm), 3), one.place) for one in new if isinstance(one.place, SetIn)}
    assert sizes["sink"][0] == 17
    assert sizes["cooktop"][0] == 30
    assert sizes["oven"][0] == 24
    assert sizes["oven-2"] == (30, SetIn(host="oven-tower-2", offset_mm=inches(1.5)))
    assert span(project, "sink") == (1.5, 18.5)
    assert clashes(project) == []


def test_a_ceiling_that_is_lower_cuts_what_is_tall() -> None:
    low = house(spaces=[room(120, 120, ceiling=80)])
    _, new = laid(low, "24 tall")
    assert new[0].top_mm == inches(80)


def test_an_upper_run_hangs() -> None:
    lower, _ = laid(kitchen(), "27, 30 range, 30")
    # The window from 60 to 96 in, 40 to 88 in high, ends the stretch above the run.
    assert to_inches(run_stretch(lower, NORTH, "upper").end_mm) == 60
    project, new = laid(lower, "27, 30 hood, 3 filler", row="upper")
    kinds = [(one.kind, *span(project, one.id)) for one in new]
    assert kinds == [("wall cabinet", 0, 27), ("hood", 27, 57), ("filler", 57, 60)]
    assert new[2].bottom_mm == new[0].bottom_mm == inches(54)
    assert clashes(project) == []
    # Kitchen guideline 21: no microwave begins above 54 in (seen second-hand).
    assert laid(lower, "27, 30 microwave", row="upper")[1][1].bottom_mm == inches(54)


def test_stretches_end_at_corners_openings_and_tall_things() -> None:
    project = house(
        [thing("tall cabinet", "pantry", 24, 24, on_wall(NORTH, 120)),
         thing("base cabinet", "low", 30, 24, on_wall(NORTH, 0))],
        spaces=[room(200, 144)],
        openings=[door("way", NORTH, 60, 36), window("low-window", NORTH, 160, 20, sill=20)],
    )  # fmt: skip
    found = run_stretches(project, NORTH)
    assert [(to_inches(one.start_mm), to_inches(one.end_mm), one.left, one.right) for one in found] == [
        (0, 60, "corner", "door"), (96, 120, "door", "tall cabinet"), (144, 160, "tall cabinet", "window"),
        (180, 200, "window", "corner"),
    ]  # fmt: skip
    assert [round(one.length_mm) for one in run_stretches(project, NORTH, replace=True)] == [
        round(inches(60)), round(inches(64)), round(inches(20)),
    ]  # fmt: skip
    assert run_stretch(project, NORTH, from_end="right").left == "window"


def test_a_run_on_the_next_wall_ends_the_stretch_and_the_counter_ends_at_the_other() -> None:
    first, _ = laid(kitchen(), "36, 36")
    # Facing west from inside, the right end is in the north, where the first run begins.
    stretch = run_stretch(first, "kitchen-west", from_end="right")
    assert (to_inches(stretch.end_mm), stretch.right, stretch.right_what) == (120, "base cabinet", "other")
    project, new = laid(first, "36, 24", wall="kitchen-west", from_end="right")
    counter = next(one for one in new if one.kind == "counter")
    # The cabinets end at the other's cabinets, 24 in deep; the counter at its edge, 25 in.
    assert span(project, new[0].id, "kitchen-west") == (84, 120)
    assert span(project, counter.id, "kitchen-west") == (60, 119)
    assert clashes(project) == []


def test_too_short_a_stretch_beside_a_door_is_passed_over() -> None:
    project = house(spaces=[room(165, 144)], openings=[door("way", NORTH, 4, 36)])
    assert to_inches(run_stretch(project, NORTH).start_mm) == 40


def test_what_stands_there_is_named_and_replaced_on_request() -> None:
    project, _ = laid(kitchen(), "36 base, 36 sink")
    items = parse_run("24, 24, 48 sink", "us")
    assert in_the_way(project, NORTH, items) == (("base cabinet", "counter"), ())
    with pytest.raises(Refused, match="the base cabinet and the counter stand where the run goes"):
        run_laid(project, NORTH, items)
    after, new = laid(project, "24, 24, 48 sink", replace=True)
    assert sorted(one.kind for one in after.things) == sorted(one.kind for one in new)
    assert clashes(after) == []


def test_what_stands_elsewhere_or_opens_is_never_replaced() -> None:
    island = thing("island", "island", 60, 36, free(60, 118))
    with pytest.raises(Refused, match="the island stands where the run goes; move it"):
        laid(kitchen(island), "36, 36", replace=True)
    with pytest.raises(Refused, match="the window stands where the run goes"):
        laid(kitchen(), "60, 36 tall")
    assert in_the_way(kitchen(), NORTH, parse_run("60, 36 tall", "us")) == ((), ("window",))
    # A chair is moved aside by hand.
    chair = thing("seat", "chair", 18, 18, free(20, 130))
    assert in_the_way(kitchen(chair), NORTH, parse_run("60", "us")) == ((), ())


def test_a_run_that_is_too_long_meets_only_what_stands_in_its_stretch() -> None:
    case = thing("tall cabinet", "case", 24, 24, on_wall(NORTH, 100))
    assert in_the_way(kitchen(case), NORTH, parse_run("60, 60", "us")) == ((), ())


def test_an_opening_is_called_by_its_kind_where_its_name_does_not_say_it() -> None:
    project = house(spaces=[room(165, 144)], openings=[door("way", NORTH, 60, 36, name="to the hall")])
    assert run_stretch(project, NORTH).right == "door “to the hall”"


def test_what_is_set_in_what_is_replaced_goes_too() -> None:
    top = thing("counter", "top", 60, 25, on_wall(NORTH, 0), bottom=34.5, top=36)
    project = kitchen(top, thing("sink", "bowl", 20, 18, set_in("top", 5, 3)))
    after, _ = laid(project, "36", replace=True)
    assert "bowl" not in after.things_by_id


@pytest.mark.parametrize(
    ("text", "how", "error", "words"),
    [
        ("90, 90", {}, Refused, '15" too long for its stretch'),
        ("36", {"wall": "nowhere"}, NotFound, "wall"),
        ("36", {"start_mm": inches(150), "end_mm": inches(190)}, OutOfRange, "does not lie on the wall"),
        ("36", {"start_mm": inches(50), "end_mm": inches(40)}, OutOfRange, "does not lie"),
        ("36, 36", {"start_mm": 0.0, "end_mm": inches(60)}, Refused, '12" too long'),
    ],
)
def test_what_cannot_be_laid_is_refused(text: str, how: dict[str, Any], error: type[Exception], words: str) -> None:
    with pytest.raises(error, match=words):
        laid(kitchen(), text, **how)


def test_an_open_side_and_a_full_wall_are_refused() -> None:
    with pytest.raises(Refused, match="open side"):
        run_stretch(house(spaces=[room(120, 120, open_sides=["north"])]), NORTH)
    full = house(spaces=[room(40, 120)], openings=[door("way", NORTH, 2, 36)])
    with pytest.raises(Refused, match="no room for a run"):
        run_stretch(full, NORTH)
    with pytest.raises(Refused, match="no width"):
        run_laid(kitchen(), NORTH, [])


widths = st.integers(8 * 16, 60 * 16).map(lambda sixteenths: sixteenths * inches(1) / 16)
LOWER = list(run_words("lower"))
runs = st.lists(st.tuples(st.sampled_from(LOWER), widths), min_size=1, max_size=8)
rooms = st.integers(80 * 16, 300 * 16).map(lambda sixteenths: sixteenths / 16)


@given(runs, rooms, st.sampled_from(["left", "right"]))
def test_in_any_run_nothing_overlaps_and_the_order_is_kept(
    run: list[tuple[Any, float]], wide: float, from_end: Any
) -> None:
    project = house(spaces=[room(wide, 144)])
    text = ", ".join(typed_item(width, word, "us") for word, width in run)
    items = parse_run(text, "us")
    assume(run_left_over(run_stretch(project, NORTH), items) >= 0)
    after, ids = run_laid(project, NORTH, items, from_end)
    house_ = House(after)
    things = [after.thing(id) for id in ids]
    # Order: as typed, from the end that it was laid from; side by side, with the spaces between.
    laid_ = [item for item in items if item.word.kind]
    spans = [span(after, id) for id in ids[: len(laid_)]]
    ordered = spans if from_end == "left" else [(wide - b, wide - a) for a, b in spans]
    start = 0.0
    expected = []
    for item in items:
        if item.word.kind:
            expected.append((round(start, 3), round(start + to_inches(item.width_mm), 3)))
        start += to_inches(item.width_mm)
    assert [pytest.approx(pair, abs=0.002) for pair in expected] == ordered
    # Nothing overlaps that shares a height, but for what is set in something.
    standing = [one for one in things if not isinstance(one.place, SetIn)]
    for a, b in combinations(standing, 2):
        if min(a.top_mm, b.top_mm) - max(a.bottom_mm, b.bottom_mm) > 0.8:
            shapes = (house_.stands[one.id].box.polygon for one in (a, b))
            assert shapely.intersection(*shapes).area < 1.0, (a.id, b.id)
    # Each counter covers what is under it and nothing else; each cabinet under counter height lies under one.
    tops = [house_.stands[one.id].box.polygon for one in things if one.kind == "counter"]
    for one in standing:
        covered = shapely.union_all(tops).intersection(house_.stands[one.id].box.polygon).area if tops else 0.0
        low = one.kind in ("base cabinet", "dishwasher", "waste")
        if low:
            assert covered == pytest.approx(one.width_mm * one.depth_mm, rel=1e-6)
        elif one.kind not in ("counter", "filler", "panel"):
            assert covered < 1.0
    for one in things:
        if isinstance(one.place, SetIn):
            host = house_.stands[one.place.host].box.polygon
            assert host.buffer(0.01).covers(house_.stands[one.id].box.polygon)


@given(runs, rooms)
def test_a_run_from_the_right_is_the_mirror_of_one_from_the_left(run: list[tuple[Any, float]], wide: float) -> None:
    project = house(spaces=[room(wide, 144)])
    items = parse_run(", ".join(typed_item(width, word, "us") for word, width in run), "us")
    assume(run_left_over(run_stretch(project, NORTH), items) >= 0)
    left, ids = run_laid(project, NORTH, items, "left")
    right, others = run_laid(project, NORTH, items, "right")
    counters = {one.kind for one in left.things}
    assert counters == {one.kind for one in right.things}
    flipped = sorted(
        (round(wide - b, 2), round(wide - a, 2), right.thing(id).kind) for id in others for a, b in [span(right, id)]
    )
    plain = sorted((round(a, 2), round(b, 2), left.thing(id).kind) for id in ids for a, b in [span(left, id)])
    assert [kind for *_, kind in plain] == [kind for *_, kind in flipped]
    for one, other in zip(plain, flipped, strict=True):
        assert one[:2] == pytest.approx(other[:2], abs=0.02)


@given(runs, rooms, st.sampled_from(["left", "right"]))
def test_the_strip_is_drawn_in_order_within_the_wall(run: list[tuple[Any, float]], wide: float, from_end: Any) -> None:
    project = house(spaces=[room(wide, 144)])
    items = parse_run(", ".join(typed_item(width, word, "us") for word, width in run), "us")
    stretch = run_stretch(project, NORTH)
    strip = strip_of(project, stretch, items, from_end)
    assert strip["long"] == pytest.approx(inches(wide))
    boxes = sorted(strip["items"], key=lambda one: one["left"])
    for one, other in pairwise(boxes):
        assert one["left"] + one["width"] <= other["left"] + 1e-5
    left = run_left_over(stretch, items)
    if strip["left_over"]:
        assert strip["left_over"][1] - strip["left_over"][0] == pytest.approx(left, abs=1e-5)
    numbers = [one["no"] for one in boxes]
    assert numbers == sorted(numbers, reverse=from_end == "right")
