"""Waste receptacles (Kitchen guideline 14: one near each sink for dishes or food, one for recycling)."""

from __future__ import annotations

import pytest

from building import house, on_wall, one, thing

from .said import verdict


def _kitchen(*bins, sinks=1, role="cleanup and preparation"):
    things = [
        thing("sink", f"sink-{n}", 30, 20, on_wall("kitchen-north", 10 + 40 * n), role=role) for n in range(sinks)
    ]
    for n, (purpose, count) in enumerate(bins):
        things.append(thing("waste", f"bin-{n}", 15, 20, on_wall("kitchen-south", 20 * n), purpose=purpose, bins=count))
    return house(things)


@pytest.mark.parametrize(
    ("bins", "sinks", "expected"),
    [
        ([("waste", 1), ("recycling", 1)], 1, "met"),
        ([("waste and recycling", 2)], 1, "met"),
        ([("waste and recycling", 1)], 1, "falls short"),
        ([("waste", 3)], 1, "falls short"),  # no recycling
        ([("recycling", 3)], 1, "falls short"),  # no waste
        ([], 1, "falls short"),
        ([("waste", 1), ("recycling", 1)], 2, "falls short"),  # two sinks ask two, and recycling
        ([("waste", 2), ("recycling", 1)], 2, "met"),
        ([("waste and recycling", 2), ("waste", 1)], 2, "met"),
        ([("waste", 1), ("compost", 1)], 1, "falls short"),
    ],
)
def test_one_for_each_sink_and_one_for_recycling(bins, sinks, expected):
    assert verdict(_kitchen(*bins, sinks=sinks), "K14") == expected


def test_an_auxiliary_sink_asks_none():
    kitchen = _kitchen(("waste", 1), ("recycling", 1), sinks=2, role="auxiliary")
    assert one(kitchen, "K14").required.value == 2
