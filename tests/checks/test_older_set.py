"""The kitchen guidelines of the 1990s: NKBA, 1990s edition, guidelines 5, 7, 10, 23 and 26, and its frontages."""

from __future__ import annotations

from typing import Any

import pytest

from building import findings, free, house, on_wall, one, room, thing
from enfilade.findings import Finding
from enfilade.project.project import Project
from lines import inches_of, kitchen, line

SMALL = [room(140, 140)]  # 136 sq ft
LARGER = [room(240, 144)]  # 240 sq ft


def then(project: Project, rule: str, part: str = "") -> Finding:
    return one(project, rule, yardstick="us-1990s", containing=f"{rule}:{part}")


def counter(length: float, spaces: Any, *more: dict[str, Any], depth: float = 16) -> Project:
    rest = length - 130
    things = [thing("counter", "north", min(length, 130), depth, on_wall("kitchen-north", 0))]
    if rest > 0:
        things.append(thing("counter", "south", rest, depth, on_wall("kitchen-south", 0)))
    return house([*things, *more], spaces=spaces)


def test_other_yardsticks_do_not_ask() -> None:
    assert not [f for rule in ("KH1", "KH2", "KH3", "KH4", "KH5", "KH6", "KH7") for f in findings(kitchen(), rule)]


@pytest.mark.parametrize(("spaces", "part", "asked"), [(SMALL, "small", 132), (LARGER, "larger", 198)])
def test_total_counter(spaces: Any, part: str, asked: float) -> None:
    # Guideline 23: 132 in up to 150 sq ft, 198 in beyond; from 16 in deep.
    good, short = counter(asked, spaces), counter(asked - 1, spaces)
    assert (inches_of(then(good, "KH1", part)), then(good, "KH1", part).verdict) == (pytest.approx(asked), "met")
    assert then(short, "KH1", part).verdict == "falls short"
    assert inches_of(then(counter(asked, spaces, depth=15), "KH1", part)) == 0


def test_counter_before_an_appliance_garage() -> None:
    # Guideline 23: 16 in stay clear before it: 12 of 25 in deep leave 13, 9 leave 16.
    def garage(depth: float) -> Project:
        return counter(
            100, LARGER, thing("appliance garage", "g", 20, depth, on_wall("kitchen-north", 10), bottom=36, top=54),
            depth=25,
        )  # fmt: skip

    assert inches_of(then(garage(12), "KH1")) == pytest.approx(80)
    assert inches_of(then(garage(9), "KH1")) == pytest.approx(100)


def cabinets(kind: str, total: float, spaces: Any, *more: dict[str, Any], **fields: Any) -> Project:
    half = {"width": total / 2, "depth": 12 if kind == "wall cabinet" else 24}
    north = thing(kind, "a", half["width"], half["depth"], on_wall("kitchen-north", 0), **fields)
    south = thing(kind, "b", half["width"], half["depth"], on_wall("kitchen-south", 0), **fields)
    return house([north, south, *more], spaces=spaces)


@pytest.mark.parametrize(
    ("rule", "kind", "spaces", "part", "asked"),
    [
        ("KH2", "base cabinet", SMALL, "small", 156), ("KH2", "base cabinet", LARGER, "larger", 192),
        ("KH3", "wall cabinet", SMALL, "small", 144), ("KH3", "wall cabinet", LARGER, "larger", 186),
    ],
)  # fmt: skip
def test_cabinet_runs(rule: str, kind: str, spaces: Any, part: str, asked: float) -> None:
    good = then(cabinets(kind, asked, spaces), rule, part)
    assert (inches_of(good), good.verdict) == (pytest.approx(asked), "met")
    assert then(cabinets(kind, asked - 1, spaces), rule, part).verdict == "falls short"


def by_the_sink(width: float, *, deep: float = 12, high: float = 30) -> Project:
    sink = line(("counter", "", 60), ("sink", "sink", 30), ("counter", "", 60))
    cabinet = thing("wall cabinet", "w", width, deep, on_wall("kitchen-north", 45), bottom=54, top=54 + high)
    return kitchen(sink, cabinet)


def test_wall_cabinets_near_the_sink() -> None:
    # Guideline 7: 60 in within 72 in of the sink, 12 in deep and 30 in high.
    assert (inches_of(then(by_the_sink(60), "KH3", "near")), then(by_the_sink(60), "KH3", "near").verdict) == (
        pytest.approx(60), "met",
    )  # fmt: skip
    assert then(by_the_sink(59), "KH3", "near").verdict == "falls short"
    assert inches_of(then(by_the_sink(60, deep=11), "KH3", "near")) == 0
    assert inches_of(then(by_the_sink(60, high=29), "KH3", "near")) == 0
    assert then(kitchen(), "KH3", "near").needs == ("kitchen: a sink",)


@pytest.mark.parametrize(("spaces", "part", "asked"), [(SMALL, "small", 120), (LARGER, "larger", 165)])
def test_drawers(spaces: Any, part: str, asked: float) -> None:
    # 120 and 165 in of drawers and roll-outs: two cabinets with three each.
    good = cabinets("base cabinet", asked / 3, spaces, drawers=3)
    assert (inches_of(then(good, "KH4", part)), then(good, "KH4", part).verdict) == (pytest.approx(asked), "met")
    assert then(cabinets("base cabinet", asked / 3 - 1, spaces, drawers=3), "KH4", part).verdict == "falls short"
    found = then(cabinets("base cabinet", 100, spaces), "KH4", part)
    assert (found.because, found.needs) == ("missing fact", ("a.drawers", "b.drawers"))


def test_storage_aids() -> None:
    # Guideline 10: five within 15 to 48 in. What an aid is, is not said: fewer on record are not judged.
    def racks(count: int, bottom: float = 20) -> Project:
        return kitchen(
            [thing("open shelf", f"r{i}", 12, 4, on_wall("kitchen-north", 20 * i), bottom=bottom, top=bottom + 10,
                   misc=True, shelves=1) for i in range(count)]
        )  # fmt: skip

    assert then(racks(5), "KH4", "aids").verdict == "met"
    assert then(racks(4), "KH4", "aids").because == "source silent"
    assert then(racks(5, bottom=60), "KH4", "aids").because == "source silent"


@pytest.mark.parametrize(("passing", "part", "asked"), [("none", "no-traffic", 36), ("walk past", "with-walkway", 65)])
def test_behind_seats(passing: str, part: str, asked: float) -> None:
    # Guideline 5: 36 in where nobody passes, 65 in with a walkway, from the edge to what stands behind.
    def behind(free_in: float) -> Finding:
        row = {"id": "row", "count": 2, "side": "back", "passing": passing}
        island = thing("island", "island", 60, 36, free(180, 240 - free_in - 18), seating=[row])
        return then(kitchen(island), "KH5", part)

    assert (inches_of(behind(asked)), behind(asked).verdict) == (pytest.approx(asked), "met")
    assert behind(asked - 1).verdict == "falls short"
    assert {f.because for f in findings(kitchen(), "KH5", yardstick="us-1990s")} == {"does not apply"}


def test_landings() -> None:
    # Guideline 26: 15 in wide and 16 in deep for oven, microwave and refrigerator.
    def beside(width: float, depth: float) -> Project:
        return kitchen(line(("refrigerator", "cold", 36)), line(("counter", "", width), at=36, depth=depth))

    assert [then(beside(15, 16), "KH6", part).verdict for part in ("width", "depth")] == ["met", "met"]
    assert then(beside(14, 16), "KH6", "width").verdict == "falls short"
    shallow = [then(beside(15, 15), "KH6", part) for part in ("width", "depth")]
    assert [f.verdict for f in shallow] == ["falls short", "falls short"]
    assert inches_of(shallow[1]) == pytest.approx(15)
    assert {f.because for f in findings(kitchen(), "KH6", yardstick="us-1990s")} == {"missing fact"}


def test_preparation_counter() -> None:
    assert then(kitchen(line(("counter", "", 36))), "KH7").verdict == "met"
    assert then(kitchen(line(("counter", "", 35))), "KH7").verdict == "falls short"
    assert inches_of(then(kitchen(), "KH7")) == 0
