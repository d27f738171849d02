"""Landings that share one counter, and counters that serve as landings. Figures: Kitchen guidelines 24 and 11."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from building import findings, on_wall, one, thing
from enfilade.findings import Finding
from enfilade.project.project import Project
from lines import inches_of, kitchen, line


def asked(finding: Finding) -> float:
    assert finding.required is not None
    value = finding.required.value
    assert isinstance(value, float | int)
    return float(value)


def test_refrigerator_and_cooking() -> None:
    # Published: cooking 12 and refrigerator 15 on one counter ask 15 + 12 = 27 in.
    def shared(width: float) -> Project:
        return kitchen(
            line(
                ("refrigerator", "cold", 36, {"handle": "right"}),
                ("counter", "", width),
                ("range", "fire", 30),
                ("counter", "", 40),
            )
        )

    good, short = one(shared(27), "K24"), one(shared(26), "K24")
    assert (inches_of(good), asked(good), good.verdict) == (pytest.approx(27), pytest.approx(27), "met")
    assert short.verdict == "falls short"
    # 15 and 12 added up are 27 as well.
    assert any('27"' in text for text in good.also)


@pytest.mark.parametrize(
    ("outside_sink", "outside_fire", "expected", "total"),
    [
        # The longer landings are turned outwards where there is room: 18 and 12 are left, 18 + 12 = 30.
        (24, 15, 30, 30),
        # With 18 in outside the sink its 24 in lie between: 24 + 12 = 36; 24 and 12 added up are 36.
        (18, 15, 36, 36),
        # With 18 and 12 in outside: 24 and 15 lie between: 36, while added up they are 39.
        (18, 12, 36, 39),
    ],
)
def test_sink_and_cooking(outside_sink: float, outside_fire: float, expected: float, total: float) -> None:
    project = kitchen(
        line(("counter", "", outside_sink), ("sink", "sink", 33), ("counter", "", 36), ("range", "fire", 30),
             ("counter", "", outside_fire))
    )  # fmt: skip
    found = one(project, "K24")
    assert asked(found) == pytest.approx(expected)
    assert any(f'{total}"' in text for text in found.also)
    assert found.verdict == "met"


def test_the_rule_can_ask_more_than_the_sum() -> None:
    # Auxiliary sink 3 and cooking 12: 12 + 12 = 24 in, though 15 in are the sum.
    project = kitchen(
        line(("counter", "", 18), ("sink", "bar", 15, {"role": "auxiliary"}), ("counter", "", 20),
             ("range", "fire", 30), ("counter", "", 15))
    )  # fmt: skip
    found = one(project, "K24")
    assert (asked(found), found.verdict) == (pytest.approx(24), "falls short")
    assert any('15"' in text for text in found.also)


def test_refrigerator_lands_elsewhere_when_it_can() -> None:
    # Two doors side by side with 20 in on the far side: the counter to the range is not shared.
    project = kitchen(
        line(("counter", "", 20), ("refrigerator", "cold", 36, {"doors": "side by side"}), ("counter", "", 15),
             ("range", "fire", 30), ("counter", "", 12))
    )  # fmt: skip
    assert one(project, "K24").because == "does not apply"


def third() -> Project:
    """An oven below the counter between sink and range, which have no other counter."""
    oven = thing("oven", "oven", 27, 24, on_wall("kitchen-north", 40), bottom=4, top=33)
    return kitchen(line(("sink", "sink", 33), ("counter", "", 40), ("range", "fire", 30)), oven)


def test_three_on_one_counter() -> None:
    project = third()
    third_one = one(project, "K24", containing="third-landing")
    assert (third_one.because, third_one.subjects[0]) == ("source silent", "oven")
    both = next(f for f in findings(project, "K24") if f.measured is not None)
    assert both.subjects[:2] == ("sink", "fire")
    assert asked(both) == pytest.approx(36)


def test_corner_parts_two_landings() -> None:
    north = line(("sink", "sink", 33), ("counter", "", 30), at=360 - 25 - 63)
    east = line(
        ("counter", "", 25 + 30), ("range", "fire", 30), ("counter", "", 15), wall="kitchen-east", prefix="east"
    )
    assert one(kitchen(north, east), "K24").because == "does not apply"


def test_landing_area_depth_and_height() -> None:
    # Guideline 11: at least 16 in deep, 28 to 45 in high.
    good = kitchen(line(("range", "fire", 30), ("counter", "", 20), depth=16, top=28))
    assert {f.verdict for f in findings(good, "K11b")} == {"met"}
    shallow = kitchen(line(("range", "fire", 30), ("counter", "", 20), depth=15))
    assert one(shallow, "K11b", containing=":depth").verdict == "falls short"
    high = kitchen(line(("range", "fire", 30), ("counter", "", 20), top=46))
    assert one(high, "K11b", containing=":height").verdict == "falls short"
    assert {f.because for f in findings(kitchen(line(("counter", "", 20))), "K11b")} == {"does not apply"}


def test_each_landing_area_is_told_once() -> None:
    project = kitchen(line(("sink", "sink", 33), ("counter", "", 40), ("range", "fire", 30), ("counter", "", 20)))
    assert len(findings(project, "K11b", containing=":depth")) == 2


@settings(max_examples=20, deadline=None)
@given(
    widths=st.lists(st.sampled_from([3, 12, 15, 18, 24, 27, 30, 36]), min_size=4, max_size=4), longer=st.integers(0, 3)
)
def test_more_counter_lacks_no_more(widths: list[int], longer: int) -> None:
    def plan(sizes: list[int]) -> Project:
        kinds: list[Any] = [
            ("refrigerator", "cold", 36, {"handle": "right"}),
            ("sink", "sink", 30),
            ("range", "fire", 30),
        ]
        parts: list[Any] = [("counter", "", sizes[0])]
        for kind, size in zip(kinds, sizes[1:], strict=True):
            parts += [kind, ("counter", "", size)]
        return kitchen(line(*parts))

    def lacking(project: Project) -> int:
        return sum(f.verdict == "falls short" for f in findings(project, "K24"))

    more = [size + (40 if i == longer else 0) for i, size in enumerate(widths)]
    shared = {f.id: f.verdict for f in findings(plan(widths), "K24")}
    after = {f.id: f.verdict for f in findings(plan(more), "K24")}
    assert lacking(plan(more)) <= lacking(plan(widths)) or shared.keys() != after.keys()


def test_only_what_serves_as_a_landing_is_held_against_its_depth() -> None:
    # Guideline 11: the 24 in beside the range are 25 in deep; the ledge 12 in deep beyond them is no landing.
    ledge = line(("counter", "", 30), at=84, depth=12, prefix="ledge")
    project = kitchen(line(("counter", "", 30), ("range", "fire", 30), ("counter", "", 24)), ledge)
    assert {f.verdict for f in findings(project, "K11b")} == {"met"}


def test_a_second_counter_that_nobody_needs_is_left_out() -> None:
    # Guideline 16 (b): the right side of the refrigerator suffices; the shallow left one is not asked.
    shallow = line(("counter", "", 30), depth=12, prefix="shallow")
    cold = line(("refrigerator", "cold", 36, {"doors": "side by side"}), ("counter", "", 20), at=30)
    project = kitchen(shallow, cold)
    assert {f.verdict for f in findings(project, "K11b")} == {"met"}
