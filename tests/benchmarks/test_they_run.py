"""Each benchmarked function runs and does what it says, so that the benchmarks do not rot between timings."""

from __future__ import annotations

from pathlib import Path

import pytest

from benchmarks.big_houses import big_house
from benchmarks.measured import DRAGS, GROWING, ONCE
from enfilade.checks.run import check
from enfilade.project.demo import demo


@pytest.mark.parametrize("name", ONCE)
def test_it_runs_once(tmp_path: Path, name: str) -> None:
    assert ONCE[name](tmp_path)()


@pytest.mark.parametrize("kind", DRAGS)
def test_each_step_of_a_drag_judges_the_room_anew(tmp_path: Path, kind: str) -> None:
    step = DRAGS[kind](tmp_path)
    first, second = step(), step()
    assert {finding.space for finding in first} == {"kitchen"}
    assert [f for f in first if f not in second]


@pytest.mark.parametrize("name", GROWING)
def test_it_runs_on_two_houses(tmp_path: Path, name: str) -> None:
    assert GROWING[name](2)(tmp_path)()


def test_two_houses_are_found_as_one_is_found_twice() -> None:
    """Copies stand apart, so each room is judged as in the demo house; what is judged for the house may differ."""
    single = {(f.rule, f.space, f.verdict, f.measured) for f in check(demo()) if f.space}
    double = check(big_house(2))
    for number in (0, 1):
        prefix = f"h{number}-"
        own = {
            (f.rule, f.space.removeprefix(prefix), f.verdict) for f in double if f.space and f.space.startswith(prefix)
        }
        alone = {(rule, space, verdict) for rule, space, verdict, _ in single}
        assert len(own & alone) > 0.9 * len(alone)
    assert len(big_house(2).things) == 2 * len(demo().things)
