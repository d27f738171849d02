"""The floor round an island, as popular guides have it: 36 in on every side (common practice in popular guides)."""

from __future__ import annotations

from building import free, house, one, room, thing


def _island(x, width=60):
    # A room 180 x 144 in, an island 60 x 36 in; x is its middle, so its left side is x - 30 from the west wall.
    return house([thing("island", "island", width, 36, free(x, 72), working_sides=[])], spaces=[room(180, 144)])


def test_the_narrowest_side_is_measured():
    # Middle at 66: 66 - 30 = 36 in to the west wall; 54 in before front and back; 84 in to the east wall.
    finding = one(_island(66), "N6")
    assert finding.verdict == "met"
    assert round(finding.measured.to("in").value, 6) == 36
    short = one(_island(60), "N6")  # 60 - 30 = 30 in
    assert short.verdict == "falls short"
    assert round(short.margin, 6) == -6


def test_without_an_island_or_anything_near_it_there_is_nothing_to_measure():
    assert one(house(), "N6").because == "does not apply"
    alone = house([thing("island", "island", 60, 36, free(200, 200))], spaces=[room(400, 400)])
    assert one(alone, "N6").because == "does not apply"
