"""Landings for refrigerator, microwave and oven. Figures: Kitchen guidelines 16, 22 and 23; ADA 804.6.5."""

from __future__ import annotations

from typing import Any

import pytest

from building import findings, free, on_wall, one, thing
from enfilade.checks.run import check
from enfilade.findings import Finding
from enfilade.project.project import Project
from enfilade.standards.yardsticks import yardstick
from lines import inches_of, kitchen, line


def cold(left: float, right: float, **more: Any) -> Project:
    parts = [("counter", "", left)] if left else []
    return kitchen(line(*parts, ("refrigerator", "cold", 36, more), *([("counter", "", right)] if right else [])))


def landing(project: Project, rule: str = "K16") -> Finding:
    return one(project, rule, containing=":landing:")


def test_handle_side() -> None:
    # Guideline 16 (a): 15 in at the handle.
    assert landing(cold(15, 0, handle="left")).verdict == "met"
    assert landing(cold(14, 30, handle="left")).verdict == "falls short"
    assert inches_of(landing(cold(14, 30, handle="left"))) == pytest.approx(14)


def test_unknown_handle() -> None:
    found = landing(cold(15, 10))
    assert (found.because, found.needs) == ("missing fact", ("cold.handle",))
    assert landing(cold(15, 16)).verdict == "met"  # both sides suffice
    assert inches_of(landing(cold(15, 16))) == pytest.approx(15)
    assert landing(cold(10, 12)).verdict == "falls short"  # neither does


def test_two_doors_side_by_side() -> None:
    # Guideline 16 (b), read as one side; the other reading as an option.
    project = cold(15, 6, doors="side by side")
    assert landing(project).verdict == "met"
    assert any("Only the left side" in text for text in landing(project).also)
    strict = yardstick("us").with_options({"side_by_side_landing": "both sides"})
    found = next(f for f in check(project, yardstick=strict) if f.id.startswith("K16:landing:"))
    assert (inches_of(found), found.verdict) == (pytest.approx(6), "falls short")


def across(aisle: float) -> Project:
    """A refrigerator without counter beside it, and a counter across the aisle from it."""
    north = line(("refrigerator", "cold", 36, {"handle": "left"}), at=100)
    return kitchen(north, thing("island", "island", 60, 30, free(118, 240 - 25 - aisle - 15, 180)))


def test_landing_across() -> None:
    # Guideline 16 (c): at most 48 in from the front of the appliance to the counter.
    near = across(48)
    assert (inches_of(landing(near)), landing(near).verdict) == (pytest.approx(60), "met")
    distance = one(near, "K16", containing=":across:")
    assert (inches_of(distance), distance.verdict) == (pytest.approx(48), "met")
    far = across(49)
    assert landing(far).verdict == "falls short"
    assert one(far, "K16", containing=":across:").verdict == "falls short"
    assert one(cold(15, 15), "K16", containing=":across:").because == "does not apply"


def test_landing_above_an_undercounter_unit() -> None:
    # Guideline 16 (d): the counter above it.
    def under(width: float) -> Project:
        drawers = thing("refrigerator", "cold", 14, 24, on_wall("kitchen-north", 0), top=34, doors="drawers")
        return kitchen(line(("counter", "", width)), drawers)

    assert landing(under(15)).verdict == "met"
    assert landing(under(14)).verdict == "falls short"


def test_no_refrigerator() -> None:
    found = findings(kitchen(line(("counter", "", 60))), "K16")
    assert {(f.because, f.needs) for f in found} == {("missing fact", ("kitchen: a refrigerator",))}
    assert {f.because for f in findings(kitchen(line(("counter", "", 60))), "K23")} == {"does not apply"}


def micro(width: float, bottom: float, *, at: float = 30, counter: float = 100, **more: Any) -> Project:
    microwave = thing(
        "microwave", "micro", width, 15, on_wall("kitchen-north", at), bottom=bottom, top=bottom + 14, **more
    )
    return kitchen(line(("counter", "", counter)), microwave)


def test_microwave_above_the_counter() -> None:
    # Guideline 22: 15 in below.
    assert one(micro(12, 54, at=1, counter=15), "K22").verdict == "met"
    assert one(micro(12, 54, at=1, counter=14), "K22").verdict == "falls short"


def test_microwave_on_the_counter() -> None:
    # Standing on it, it leaves no landing below: 30 in on the left, 100 - 30 - 24 = 46 in on the right.
    assert inches_of(one(micro(24, 36, handle="left"), "K22")) == pytest.approx(30)
    assert inches_of(one(micro(24, 36, handle="right"), "K22")) == pytest.approx(46)
    found = one(micro(24, 36, at=4), "K22")
    assert (found.because, found.needs) == ("missing fact", ("micro.handle",))
    assert one(micro(24, 36, at=4, handle="left"), "K22").verdict == "falls short"


def test_microwave_drawer_below_the_counter() -> None:
    found = one(micro(24, 18, handle="top"), "K22")
    assert inches_of(found) == pytest.approx(100)
    assert any("above" in text for text in found.working)


def test_microwave_over_the_range_lands_beside_it() -> None:
    things = line(("counter", "", 20), ("range", "fire", 30), ("counter", "", 10))
    hood = thing(
        "microwave", "micro", 30, 15, on_wall("kitchen-north", 20), bottom=54, top=70, in_hood=True, handle="right"
    )
    found = one(kitchen(things, hood), "K22")
    assert (inches_of(found), found.verdict) == (pytest.approx(10), "falls short")


def tower(left: float, at: float = 0, **more: Any) -> list[dict[str, Any]]:
    """An oven in a tall cabinet, with counter on its left only."""
    parts = [("counter", "", left)] if left else []
    things = line(*parts, ("tall cabinet", "tower", 30), at=at)
    return [*things, thing("oven", "oven", 28, 25, on_wall("kitchen-north", at + left + 1), bottom=30, top=58, **more)]


def test_oven_beside() -> None:
    # Guideline 23: 15 in next to it.
    assert landing(kitchen(tower(15)), "K23").verdict == "met"
    assert landing(kitchen(tower(14)), "K23").verdict == "falls short"


def test_oven_below_the_counter() -> None:
    under = thing("oven", "oven", 28, 24, on_wall("kitchen-north", 0), bottom=4, top=33)
    assert inches_of(landing(kitchen(line(("counter", "", 28)), under), "K23")) == pytest.approx(28)


def oven_across(aisle: float, *, sink: bool) -> Project:
    """An oven tower alone, across from an island that carries the sink, or nothing."""
    island = thing("island", "island", 90, 30, free(115, 240 - 25 - aisle - 15, 180))
    more = (
        [thing("sink", "sink", 20, 18, {"how": "set in", "host": "island", "offset_mm": 1200, "setback_mm": 50})]
        if sink
        else []
    )
    return kitchen(tower(0, at=100), island, *more)


def test_oven_across() -> None:
    # Guideline 23: across at most 48 in, only where the oven does not open into a walkway.
    assert landing(oven_across(48, sink=True), "K23").verdict == "met"
    assert one(oven_across(48, sink=True), "K23", containing=":across:").verdict == "met"
    assert landing(oven_across(50, sink=True), "K23").verdict == "falls short"
    assert one(oven_across(50, sink=True), "K23", containing=":across:").verdict == "falls short"
    walkway = landing(oven_across(40, sink=False), "K23")
    assert walkway.verdict == "falls short"
    assert any("walkway" in text for text in walkway.working)


def test_range_takes_its_landing_from_guideline_17() -> None:
    assert {f.because for f in findings(kitchen(line(("range", "fire", 30))), "K23")} == {"does not apply"}


def opening(rule: str, project: Project, containing: str = "") -> Finding:
    return one(project, rule, yardstick="us-access", containing=containing)


def test_side_opening_oven() -> None:
    # Guideline 23, access part; A117.1 804.6.5.1: counter next to the latch.
    assert opening("K23a", kitchen(tower(15, latch="left"))).verdict == "met"
    assert opening("K23a", kitchen(tower(15, latch="right"))).verdict == "falls short"
    found = opening("K23a", kitchen(tower(15)))
    assert (found.because, found.needs) == ("missing fact", ("oven.latch", "oven.opens"))
    hinged = {"opens": [{"kind": "hinged", "hinge": "right"}]}
    assert opening("K23a", kitchen(tower(15, **hinged))).verdict == "met"


def test_oven_that_opens_downwards() -> None:
    # ADA 804.6.5: a work surface at one side of it.
    drop: dict[str, Any] = {"opens": [{"kind": "drop-down"}]}
    assert opening("A8065", kitchen(tower(15, **drop)), "beside").verdict == "met"
    assert opening("A8065", kitchen(tower(0, **drop)), "beside").verdict == "falls short"
    assert opening("K23a", kitchen(tower(15, **drop))).because == "does not apply"
    assert not findings(kitchen(tower(15)), "A8065", yardstick="us-access", containing="latch-side")


def test_wine_alone_asks_for_no_landing() -> None:
    # Food has to be kept somewhere: the refrigerator for it is not on record.
    assert {f.because for f in findings(cold(0, 0, holds="wine"), "K16")} == {"missing fact"}


def aside(shift: float, aisle: float = 45) -> Project:
    """The refrigerator x 100 to 136, and an island 40 in long that begins `shift` in beyond its right side."""
    north = line(("refrigerator", "cold", 36, {"handle": "left"}), at=100)
    return kitchen(north, thing("island", "island", 40, 30, free(136 + shift + 20, 240 - 25 - aisle - 15, 180)))


@pytest.mark.parametrize(
    ("shift", "inches"),
    [
        (-15, 45),  # all 15 in of a landing lie straight before the front
        (-10, 45.277),  # its far end 5 in beyond: root of 45^2 + 5^2
        (1, 47.760),  # root of 45^2 + 16^2
        (2, 48.104),  # root of 45^2 + 17^2
    ],
)
def test_landing_across_and_off_to_one_side(shift: float, inches: float) -> None:
    # Guideline 16 (c): at most 48 in from the front, read as all of the 15 in that near (own reading).
    found = one(aside(shift), "K16", containing=":across:")
    assert inches_of(found) == pytest.approx(inches, abs=1e-3)
    assert found.verdict == landing(aside(shift)).verdict == ("met" if inches <= 48.03 else "falls short")
    assert any("own reading" in text for text in found.also)


def test_counter_further_aside_than_ahead_is_not_across() -> None:
    found = one(aside(40), "K16", containing=":across:")
    assert (found.because, landing(aside(40)).verdict) == ("does not apply", "falls short")
    assert any("no counter of" in text for text in found.working)


def test_marks_of_a_landing_across() -> None:
    # The length is drawn on the counter's edge, the distance from the front to it.
    north = line(("refrigerator", "cold", 36, {"handle": "left"}), at=100)
    project = kitchen(north, thing("island", "island", 60, 30, free(118, 240 - 25 - 44 - 15, 180)))
    edge, gap = landing(project).marks[0], one(project, "K16", containing=":across:").marks[0]
    assert sorted(round(y / 25.4, 6) for _, y in edge.points) == pytest.approx([171, 171])
    assert sorted(round(y / 25.4, 6) for _, y in gap.points) == pytest.approx([171, 215])
    assert (edge.text, gap.text) == ('60"', '44" (1118 mm)')
