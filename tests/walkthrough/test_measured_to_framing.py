"""A room measured to its framing says so, and what was assumed of its lining is listed to be verified."""

from __future__ import annotations

import pytest

from building import house, room
from enfilade.lengths import inches
from enfilade.walkthrough.room_page import _size
from enfilade.walkthrough.tables import assumed_values


@pytest.mark.parametrize(
    ("more", "units", "words"),
    [
        ({}, "us", "144 sq ft, ceiling 8' 0\""),
        ({"measured_to": "framing", "lining_mm": 12.7}, "us",
         "144 sq ft, ceiling 8' 0\", measured to framing, less 1/2\" lining"),
        ({"measured_to": "framing", "lining_mm": 12.7}, "metric",
         "13.38 m², ceiling 2438 mm, measured to framing, less 13 mm lining"),
        ({"measured_to": "framing"}, "us", "144 sq ft, ceiling 8' 0\", measured to framing"),
    ],
)  # fmt: skip
def test_the_size_of_a_room_says_what_was_taken_off(more: dict[str, object], units: str, words: str) -> None:
    project = house(spaces=[{**room(144, 144), **more}])
    assert _size(project.spaces[0], units) == words  # type: ignore[arg-type]


def test_an_assumed_lining_is_listed_and_a_measured_one_is_not() -> None:
    framed = {**room(144, 144), "measured_to": "framing", "lining_mm": inches(0.5)}
    assert assumed_values(house(spaces=[framed])) == (("Kitchen", "Kitchen", "lining taken off the framing", '1/2"'),)
    assert assumed_values(house(spaces=[{**framed, "lining_basis": "measured"}])) == ()
    assert assumed_values(house(spaces=[room(144, 144)])) == ()
