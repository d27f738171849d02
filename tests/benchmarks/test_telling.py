"""How long telling a house takes, step by step, and that a picture costs no more for all that it does not show.

On demand: `python -m pytest tests/benchmarks --benchmark-only -k telling`.
"""

from __future__ import annotations

import time
from importlib import import_module
from typing import Any, Final

import pytest

from benchmarks.big_houses import big_house
from enfilade.checks.view import House
from enfilade.drawings.perspective import in_frame
from enfilade.drawings.perspective_faces import model_of
from enfilade.drawings.solids import HouseSolids, house_solids
from enfilade.export.forms import FORMS
from enfilade.export.tell import told
from enfilade.geometry.camera import camera_toward
from enfilade.project.demo import demo
from enfilade.walkthrough.compose import compose

_TIMES: Final = 3.3
"""A picture in eight houses side by side may take so many times what it takes in one (2.2 measured): it asks of all
their faces which lie in it, and that should stay a small part of the work."""


@pytest.mark.benchmark(group="telling")
def test_composing_with_all_drawings(benchmark: Any) -> None:
    telling = told(demo()).telling
    assert len(benchmark.pedantic(lambda: tuple(compose(telling).rooms), rounds=2)) == 9


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.benchmark(group="telling")
def test_telling_in_one_form(benchmark: Any, form: str) -> None:
    document = told(demo())
    tuple(document.pages.rooms)
    assert document.film.shots
    modules = [import_module(f"enfilade.export.{name}") for name in FORMS[form].modules]
    assert all(benchmark.pedantic(lambda: [module.write(document) for module in modules], rounds=1))


def test_a_picture_takes_little_longer_in_a_much_larger_house() -> None:
    times = []
    for copies in (1, 8):
        solids = house_solids(House(big_house(copies)))
        model_of(solids)
        times.append(min(_seconds(solids, step) for step in range(5)))
    assert times[1] < _TIMES * times[0]


def _seconds(solids: HouseSolids, step: int) -> float:
    """Return how long a view in the first house takes, towards the others, from a place that was not asked before."""
    camera = camera_toward((9500.0 + step, 2700.0, 1581.0), (14200.0, 2900.0, 1200.0), width_deg=80, level=True)
    start = time.process_time()
    assert in_frame(solids, camera)
    return time.process_time() - start
