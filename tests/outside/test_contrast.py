"""Contrast against the definitions of WCAG 2.2 (relative luminance, contrast ratio)."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from enfilade.errors import Refused
from enfilade.trade.contrast import TEXT_LEAST, contrast, luminance

colours = st.integers(0, 0xFFFFFF).map(lambda number: f"#{number:06x}")


@pytest.mark.parametrize(
    ("colour", "ratio"),
    # Worked by hand from the WCAG 2.2 definitions, to three decimals; #767676 is the lightest grey that is enough for
    # text on white, #949494 the lightest for large text.
    [("#777777", 4.478), ("#767676", 4.542), ("#959595", 2.995), ("#949494", 3.033), ("#595959", 7.005),
     ("#000000", 21)],
)  # fmt: skip
def test_greys_on_white(colour: str, ratio: float) -> None:
    assert contrast(colour) == pytest.approx(ratio, abs=0.0006)


def test_the_limits_of_1_4_3() -> None:
    # WCAG 2.2, 1.4.3: 4.5 to 1 for text, 3 to 1 for large text.
    assert TEXT_LEAST == 4.5
    assert contrast("#777777") < TEXT_LEAST < contrast("#767676")
    assert contrast("#959595") < 3 < contrast("#949494")


def test_the_weights_are_those_of_the_primaries() -> None:
    # WCAG 2.2, relative luminance: L = 0.2126 R + 0.7152 G + 0.0722 B.
    assert [luminance(colour) for colour in ("#ff0000", "#00ff00", "#0000ff")] == pytest.approx(
        [0.2126, 0.7152, 0.0722]
    )


@given(colours, colours)
def test_contrast_does_not_ask_which_is_the_ground(one: str, other: str) -> None:
    assert contrast(one, other) == contrast(other, one)
    assert 1 <= contrast(one, other) <= 21.0000001
    assert contrast(one, one) == 1


@pytest.mark.parametrize("colour", ["777777", "#777", "white", "#77777g", "", "#7777777", "#777777\n"])
def test_what_is_no_colour_is_refused(colour: str) -> None:
    with pytest.raises(Refused, match="is not a colour"):
        contrast(colour)
