"""What no landing, counter or seat check may do, whatever the kitchen: laws, not figures."""

from __future__ import annotations

import math
from functools import cache
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from building import free, house, on_wall, room, set_in, thing
from enfilade.checks.landings import LANDING_KINDS
from enfilade.checks.registry import Check
from enfilade.checks.run import all_checks
from enfilade.checks.view import House, View
from enfilade.findings import Finding
from enfilade.project.project import Project
from enfilade.standards.yardsticks import yardstick
from lines import line

MODULES = {
    "appliance_landing", "clear_beside", "cooking_landing", "counter", "dishwasher", "islands", "preparation", "seated",
    "seats", "shared_landing", "sink",
}  # fmt: skip
IN = 25.4


def mine() -> list[Check]:
    return [one for one in all_checks() if one.name.partition(".")[0] in MODULES]


def judged(project: Project, only: Check | None = None) -> list[Finding]:
    whole, rules = House(project), yardstick("us-access")
    found = []
    for one in [only] if only else mine():
        for space in project.spaces:
            if one.uses is None or space.use in one.uses:
                found += list(one.judge(View(whole, one.reads, space), rules))
    return found


def furnished(turn: float = 0.0, shift: tuple[float, float] = (0.0, 0.0)) -> Project:
    """A kitchen with something for every check, turned and moved as a whole."""
    outline = room(300, 240)
    things: list[dict[str, Any]] = line(
        ("refrigerator", "cold", 36, {"handle": "right"}), ("counter", "", 27), ("cooktop", "fire", 30),
        ("counter", "", 20), ("tall cabinet", "tower", 30), at=40,
    )  # fmt: skip
    things += line(
        ("counter", "", 40), ("sink", "sink", 33), ("dishwasher", "dw", 24), ("counter", "", 30), wall="kitchen-east",
        prefix="east",
    )  # fmt: skip
    things.append(thing("oven", "oven", 28, 25, on_wall("kitchen-north", 154), bottom=30, top=58, latch="left"))
    things.append(thing("microwave", "micro", 20, 14, on_wall("kitchen-north", 80), bottom=54, top=68))
    things.append(thing("wall cabinet", "low", 20, 12, on_wall("kitchen-north", 76), bottom=48, top=53))
    things.append(thing("waste", "bin", 12, 12, free(20, 20)))
    row = {"id": "row", "count": 3, "side": "back"}
    middle = free(130, 110)
    things.append(thing("island", "island", 90, 40, middle, seating=[row], overhang={"back_mm": 14 * IN}))
    things.append(thing("sink", "bar", 15, 15, set_in("island", 20), role="auxiliary"))
    c, s = math.cos(math.radians(turn)), math.sin(math.radians(turn))

    def moved(x: float, y: float) -> list[float]:
        return [x * c - y * s + shift[0], x * s + y * c + shift[1]]

    outline["outline"] = [moved(*corner) for corner in outline["outline"]]
    for one in things:
        if one["place"]["how"] == "free":
            x, y = moved(one["place"]["x_mm"], one["place"]["y_mm"])
            one["place"] = {"how": "free", "x_mm": x, "y_mm": y, "turn_deg": (one["place"]["turn_deg"] + turn) % 360}
    return house(things, spaces=[outline])


@cache
def plain() -> dict[str, Finding]:
    return {f.id: f for f in judged(furnished())}


def test_the_kitchen_gives_every_check_something_to_say() -> None:
    assert {one.name for one in mine() if not judged(furnished(), one)} == set()
    assert len(plain()) == len(judged(furnished()))


@settings(max_examples=12, deadline=None)
@given(turn=st.floats(0, 360), x=st.floats(-5e4, 5e4), y=st.floats(-5e4, 5e4))
def test_turning_the_house_changes_no_verdict(turn: float, x: float, y: float) -> None:
    turned = {f.id: f for f in judged(furnished(turn, (x, y)))}
    assert turned.keys() == plain().keys()
    for name, before in plain().items():
        after = turned[name]
        assert (after.verdict, after.because, after.needs) == (before.verdict, before.because, before.needs), name
        if before.measured is not None and after.measured is not None:
            assert after.measured.value == pytest.approx(before.measured.value, rel=1e-6, abs=1e-3), name


@pytest.mark.parametrize("one", mine(), ids=lambda one: one.name)
def test_what_is_not_read_changes_nothing(one: Check) -> None:
    whole = furnished()
    read = {t.id for t in whole.things if t.kind in one.reads}
    hosts = {getattr(t.place, "host", None) for t in whole.things if t.id in read}
    fewer = whole.model_copy(update={"things": tuple(t for t in whole.things if t.id in read | hosts)})
    assert judged(fewer, one) == judged(whole, one)


def test_one_finding_an_id_in_a_kitchen_that_is_empty() -> None:
    found = judged(house(spaces=[room(100, 100)]))
    assert len({f.id for f in found}) == len(found)
    assert {f.verdict for f in found} <= {"not assessed", "falls short"}


def test_working_holds_no_verdict() -> None:
    words = {"met", "short", "fails", "passes", "complies", "safe", "compliant"}
    for finding in plain().values():
        for text in finding.working:
            assert not words & set(text.lower().replace(",", " ").replace(":", " ").split()), (finding.id, text)


def test_runs_are_read_whole() -> None:
    for one in mine():
        if "counter" in one.reads and one.name.startswith(("sink", "cooking", "appliance", "shared", "prepar")):
            assert one.reads >= LANDING_KINDS, one.name
