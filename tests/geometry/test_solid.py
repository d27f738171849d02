"""Bodies and panels refuse what cannot exist."""

from __future__ import annotations

import math

import pytest

from enfilade.errors import OutOfRange
from enfilade.geometry.solid import Hole, Panel, Prism

_SQUARE = ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0))


def test_a_panel_knows_its_length() -> None:
    assert Panel("w", (0.0, 0.0), (3.0, 4.0), 0.0, 2400.0, (Hole(0.0, 1.0, 0.0, 2.0),)).length_mm == 5.0


@pytest.mark.parametrize(
    ("ring", "low", "high"), [(_SQUARE, 2.0, 1.0), (_SQUARE[:2], 0.0, 1.0), (((math.nan, 0.0), *_SQUARE), 0.0, 1.0)]
)
def test_a_prism_that_cannot_exist(ring: tuple[tuple[float, float], ...], low: float, high: float) -> None:
    with pytest.raises(OutOfRange):
        Prism("p", ring, low, high)


def test_a_panel_that_cannot_exist() -> None:
    with pytest.raises(OutOfRange, match="two different ends"):
        Panel("w", (1.0, 1.0), (1.0, 1.0), 0.0, 1.0)
