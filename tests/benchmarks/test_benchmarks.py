"""Timings, run on demand: `python -m pytest tests/benchmarks --benchmark-only`.

The table of each group shows beside each figure how many times the least it is: for a house ten
times as large, about ten. Nothing is asserted about time.

Of the steps of a drag the slow ones matter more than the middle one: how long 50, 95 and 99 of 100 steps take at most
is printed as they run, and kept in the saved file (`--benchmark-json=FILE`).
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from benchmarks.measured import DRAGS, GROWING, ONCE

COPIES = (1, 10, 100)


@pytest.mark.parametrize("name", ONCE)
def test_once(benchmark: Any, tmp_path: Path, name: str) -> None:
    benchmark.group = "imports" if "import" in name or "python" in name else name
    call = ONCE[name](tmp_path)
    benchmark.pedantic(call, rounds=7, warmup_rounds=1)


@pytest.mark.parametrize("copies", COPIES)
@pytest.mark.parametrize("name", GROWING)
def test_growth(benchmark: Any, tmp_path: Path, name: str, copies: int) -> None:
    benchmark.group = name
    call = GROWING[name](copies)(tmp_path)
    benchmark.pedantic(call, rounds={1: 9, 10: 3, 100: 1}[copies], warmup_rounds=copies == 1)


@pytest.mark.parametrize("kind", DRAGS)
def test_one_thing_moved_its_room_checked(
    benchmark: Any, tmp_path: Path, capsys: pytest.CaptureFixture[str], kind: str
) -> None:
    benchmark.group = "one thing moved, its room checked"
    benchmark.pedantic(DRAGS[kind](tmp_path), rounds=200, warmup_rounds=5)
    steps_ms = sorted(1e3 * step for step in benchmark.stats.stats.data)
    at_most = {f"p{share}_ms": round(steps_ms[len(steps_ms) * share // 100], 1) for share in (50, 95, 99)}
    benchmark.extra_info.update(at_most)
    with capsys.disabled():
        print(f"\n{kind} moved: {at_most}")
