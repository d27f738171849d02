"""How quickly the page answers: while a hand holds a thing, when it lets go, and while somebody types.

Run on demand, as the other benchmarks; nothing is asserted about time. How long it takes until a finding is on the
screen is measured in a real browser by `tests/browser/measure_drag.py`.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

import enfilade as ef
from enfilade.capture.desk import Desk
from enfilade.capture.hand import live_state
from enfilade.capture.opening import SECTIONS
from enfilade.capture.page import Page
from enfilade.project.demo import demo


def page_of_the_kitchen(folder: Path) -> Page:
    ef.save(demo(), folder / "house")
    return Page(Desk.open(folder / "house"), sections=SECTIONS["measure"], room="kitchen")


def places(page: Page) -> Callable[[], dict[str, Any]]:
    """Return what a hand sends while it moves the island about, each time another place."""
    draw = random.Random(5)
    at = page.desk.project.thing("island").place  # type: ignore[union-attr]

    def held() -> dict[str, Any]:
        x, y = at.x_mm + draw.uniform(-300, 300), at.y_mm + draw.uniform(-300, 300)  # type: ignore[union-attr]
        return {"list": "things", "id": "island", "x": x, "y": y, "turn": 0.0, "wall": None}

    return held


def held(page: Page) -> Callable[[], Any]:
    place = places(page)
    return lambda: live_state(page.desk, page.sight, place())  # type: ignore[arg-type]


def let_go(page: Page) -> Callable[[], Any]:
    place = places(page)
    return lambda: page.do({"do": "move", **place()})["ok"]


def typed(page: Page) -> Callable[[], Any]:
    draw = random.Random(6)
    path = ["things", "island", "remark"]
    return lambda: page.do({"do": "set", "path": path, "typed": f"The bench of the yard, {draw.random()}"})["ok"]


CASES = {"held in the hand": held, "let go": let_go, "typed": typed}


@pytest.mark.parametrize("name", CASES)
def test_answer_of_the_page(benchmark: Any, tmp_path: Path, capsys: pytest.CaptureFixture[str], name: str) -> None:
    benchmark.group = "the page answers"
    benchmark.pedantic(CASES[name](page_of_the_kitchen(tmp_path)), rounds=120, warmup_rounds=5)
    steps_ms = sorted(1e3 * step for step in benchmark.stats.stats.data)
    at_most = {f"p{share}_ms": round(steps_ms[len(steps_ms) * share // 100], 1) for share in (50, 95)}
    benchmark.extra_info.update(at_most)
    with capsys.disabled():
        print(f"\n{name}: {at_most}")
