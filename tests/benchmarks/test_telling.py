"""How long telling a house takes, step by step, and that it grows no faster than the house.

On demand: `python -m pytest tests/benchmarks --benchmark-only -k telling`.
"""

from __future__ import annotations

import time
from importlib import import_module
from typing import Any

import pytest

from benchmarks.big_houses import big_house
from enfilade.export.document import Document
from enfilade.export.forms import FORMS
from enfilade.export.tell import told
from enfilade.project.demo import demo
from enfilade.walkthrough.compose import compose
from enfilade.walkthrough.film import film

_ROOMS_SHARE = 2.0
"""Times its share that the larger house may take: room for a busy machine, and for what each drawing asks of the whole
house, such as which faces lie in its picture."""


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


def test_drawing_and_filming_three_houses_take_no_more_than_their_share() -> None:
    steps = {"rooms": lambda one: tuple(compose(one.telling).rooms), "film": lambda one: film(one.telling)}
    small, large = told(big_house(1)), told(big_house(3))
    for name, step in steps.items():
        step(small)  # what the libraries remember is warm
        once, thrice = _seconds(step, small), _seconds(step, large)
        assert thrice < 3 * _ROOMS_SHARE * once, name


def _seconds(step: Any, document: Document) -> float:
    start = time.process_time()
    assert step(document)
    return time.process_time() - start
