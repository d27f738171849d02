"""How long a perspective takes, run on demand: `python -m pytest tests/benchmarks --benchmark-only -k perspective`.

Of one camera, what is seen is remembered; so each picture is taken from a place of its own.
"""

from __future__ import annotations

from itertools import count
from typing import Any

import pytest

from enfilade.checks.view import House
from enfilade.drawings.perspective import perspective
from enfilade.drawings.perspective_faces import Model, model_of
from enfilade.drawings.solids import house_solids
from enfilade.geometry.camera import Camera, camera_toward
from enfilade.project.demo import demo

_AIM = (9500.0, 1000.0, 1200.0)
_MOST_BYTES = 120_000


def _kitchen_camera(step: int) -> Camera:
    return camera_toward((14200.0 - step % 40, 4700.0 - step // 40, 1581.0), _AIM, width_deg=80, level=True)


def test_faces_of_a_house(benchmark: Any) -> None:
    benchmark.group = "perspective"
    solids = house_solids(House(demo()))
    benchmark.pedantic(lambda: Model(solids), rounds=5)


@pytest.mark.parametrize("filled", [False, True])
def test_the_demo_kitchen(benchmark: Any, filled: bool) -> None:
    benchmark.group = "perspective"
    solids = house_solids(House(demo()))
    model_of(solids)
    steps = count(1)
    benchmark.pedantic(
        lambda: perspective(solids, _kitchen_camera(next(steps)), filled=filled, title="t", alt="a"),
        rounds=20,
        warmup_rounds=2,
    )


@pytest.mark.parametrize("filled", [False, True])
def test_a_picture_of_the_demo_kitchen_is_small(filled: bool) -> None:
    svg = perspective(house_solids(House(demo())), _kitchen_camera(0), filled=filled, title="t", alt="a")
    assert 5_000 < len(svg.encode()) < _MOST_BYTES
