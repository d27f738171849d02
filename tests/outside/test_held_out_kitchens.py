"""Five kitchens whose verdicts were worked out on paper from the printed guidelines, before any check saw them.

The records in `kitchens/` are invented: a galley and a U in feet and inches, an L with an island in inches, one wall
and a peninsula in millimetres. Required values are those of the NKBA Kitchen Planning Guidelines with Access Standards
(printing keyed to IRC 2015 and A117.1-2009), of the 2010 ADA Standards, and of NEC 210.52(C); the comment beside a
line has the arithmetic. x runs to the east and y to the north from the south-west corner of each kitchen.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from enfilade.checks.run import check
from enfilade.findings import Finding
from enfilade.project.store import load

FOLDER = Path(__file__).parent / "kitchens"
MET, SHORT = "met", "falls short"

Expected = dict[str, tuple[str, float | None]]
"""Verdict and figure by the finding's id; None where the verdict alone is expected."""


@cache
def judged(kitchen: str, yardstick: str) -> dict[str, Finding]:
    return {found.id: found for found in check(load(FOLDER / kitchen), yardstick=yardstick)}


# West run, from the south: counter 36, sink 33, counter 39, refrigerator 36. East run, from the south: counter 60,
# range 30, counter 54. Counter fronts at x = 25 and 71, sink 23, refrigerator 30, range 70. Room 96 by 144 in.
GALLEY: Expected = {
    "K1::back-door": (MET, 34),  # guideline 1: 32
    "K1::to-dining": (MET, 32),
    "K3:leg-cook-1:range+sink": (MET, 52.11),  # guideline 3: (23, 52.5) to (70, 75), root of 47^2 + 22.5^2
    "K3:leg-cook-1:sink+refrigerator": (MET, 73.83),  # to (30, 126): root of 7^2 + 73.5^2
    "K3:leg-cook-1:range+refrigerator": (MET, 64.82),  # root of 40^2 + 51^2
    "K3:sum-cook-1:range+sink+refrigerator": (MET, 190.76),  # at most 312
    "K3c:cook-1:sink+refrigerator": (MET, 0),  # the refrigerator itself is no obstacle to its own side
    "K4::sink+refrigerator": (MET, 0),
    # Guideline 5: the straight way at x = 48 enters where the side sink-range is at y = 52.5 + 22.5 x 25 / 47 = 64.47
    # and leaves at 126 - 51 x 18 / 40 = 103.05.
    "K5:cook-1:range+sink+refrigerator": (SHORT, 38.58),
    "K6:one-cook:east-north+refrigerator": (SHORT, 41),  # guideline 6: 96 - 30 - 25, 42 asked
    "K10::sink+range+refrigerator": (MET, 2),
    "K11:longer-side:sink": (MET, 39),  # guideline 11: 24
    "K11:shorter-side:sink": (MET, 36),  # 18
    "K12:width:sink+west-counter": (MET, 39),  # guideline 12: 36
    "K13::dishwasher+sink": (MET, 0),  # guideline 13: at most 36
    "K14::kitchen": (SHORT, 1),  # guideline 14: nothing for recycling
    "K16:landing:refrigerator": (MET, 39),  # guideline 16: 15
    "K17:longer-side:range": (MET, 60),  # guideline 17: 15
    "K17:shorter-side:range": (MET, 54),  # 12
    "K18:protected:range+hood": (MET, 30),  # guideline 18: 66 - 36, 24 asked
    "K19:recommended:range+hood": (SHORT, 100),  # guideline 19: 170 m3/h are 100 cfm, 150 asked
    "K19:code-intermittent:range+hood": (MET, 100),
    "K20:extinguisher:kitchen": (MET, 1),
    "K21:below-shoulder:microwave": (MET, 4),  # guideline 21: 56 - 52, 3 asked
    "K21:highest:microwave": (MET, 52),
    "K22::microwave": (MET, 54),  # guideline 22: the counter below
    "K24::sink+refrigerator+west-counter": (MET, 39),  # guideline 24: max(18, 15) + 12 = 30
    "K25:total:kitchen": (MET, 189),  # guideline 25: 36 + 39 + 54 + 60
    # Guideline 27: base shelves 144 + 66 + 108 + 108, drawers 72 + 120 + 54 + 54 + 180 + 180,
    # wall 108 + 117 + 72 + 180.
    "K27:small:kitchen": (MET, 1563),
    "IE1:reach:east-north": (SHORT, 27),  # NEC 210.52(C): 54 / 2, at most 24
    "IE1:count:east-north": (SHORT, 1),
    "IE1:reach:sink+west-counter": (MET, 20),
    "K31:glazing:kitchen": (SHORT, 7.85),  # guideline 31: 0.70 of 8.919 m2, 8 %
}
GALLEY_ACCESS: Expected = {
    "K1a::back-door": (MET, 34),  # guideline 1, access: 34
    "K1a::to-dining": (SHORT, 32),
    "K2a:push-depth:back-door+kitchen": (MET, None),  # guideline 2, access: the aisle of 46 holds 36 by 48
    "K6a:circle:kitchen": (SHORT, 46),  # guideline 6, access: between counters 96 - 2 x 25
    "K6a:square:kitchen": (SHORT, None),
    "A8041::east-north+refrigerator": (MET, 41),  # ADA 804.2.1: 40
    "A8041:entries:kitchen": (MET, 2),
    "K10a:rim-height:sink": (SHORT, 36),  # guideline 10, access: 34
    "K10a:bowl-depth:sink": (SHORT, 8),  # 6 1/2
    "K11a:height:west-counter": (SHORT, 36),
    "K13a:raised:dishwasher": (SHORT, 4),  # guideline 13, access: 6 to 12
    "K16a:offset:refrigerator": (MET, 6),  # guideline 16, access: floor y 96 to 144, its middle 6 from y = 126
    "K17a:height:range": (SHORT, 36),
    "K19a::hood": (SHORT, 67),  # guideline 19, access: 15 to 44
    "K20:extinguisher-height:extinguisher": (MET, 38),
    "K21a::microwave": (SHORT, 60),  # guideline 21, access: 48
    "K25a:higher-counter:west-counter": (SHORT, 0),  # guideline 25, access: one height only
    "K30:reach-over-counter:r1": (MET, 42),  # guideline 30: at most 44 over a counter of 20 to 25
    "A3082:high:switch": (MET, 46),  # ADA 308.2.1: beside the end of the counter, not over it
}

# North wall, from the west [mm]: refrigerator 600, counter 1000, sink 800, counter 700, cooktop 580, counter 520.
# Room 4200 by 2700; fronts of sink and cooktop at y = 2140, of the refrigerator at 2050.
ONE_WALL: Expected = {
    "K1::door": (MET, 813),  # 32 in = 812.8
    "K3:leg-cook-1:cooktop+sink": (MET, 1390),
    "K3:leg-cook-1:sink+refrigerator": (MET, 1702.4),  # root of 1700^2 + 90^2
    "K3:leg-cook-1:cooktop+refrigerator": (SHORT, 3091.3),  # root of 3090^2 + 90^2; at most 2743
    "K3:sum-cook-1:cooktop+sink+refrigerator": (MET, 6183.7),
    "K4::cooktop+refrigerator": (MET, 0),
    "K10::sink+cooktop+refrigerator": (MET, 2),
    "K11:longer-side:sink": (MET, 1000),
    "K11:shorter-side:sink": (MET, 700),
    "K12:width:sink+counter": (MET, 1000),  # 914
    "K12:depth:sink+counter": (MET, 620),  # 610
    "K13::dishwasher+sink": (MET, 0),
    "K14::kitchen": (MET, 2),
    "K16:landing:refrigerator": (MET, 1000),
    "K17:longer-side:cooktop": (MET, 700),
    "K17:shorter-side:cooktop": (MET, 520),
    "K18:unprotected:cooktop+w2": (SHORT, 700),  # 1614 - 914; 762 below wood
    "K19:recommended:cooktop": (SHORT, 0),  # no hood
    "K20:extinguisher:kitchen": (SHORT, 0),
    "K23:landing:oven": (MET, 700),
    "K24::sink+cooktop+counter": (SHORT, 700),  # guideline 24: 457 + 305 = 762
    "K24::refrigerator+sink+counter": (MET, 1000),  # 610 + 305 = 914
    "K25:total:kitchen": (SHORT, 2220),  # 1000 + 700 + 520; 4013 asked
    # Guideline 27, width x count x depth in feet (600 mm are 1.969 ft, 300 mm 0.984): base 900 x 3, 800 and 520 x 2,
    # wall 900 x 3 and 580 x 2 make 5315 + 1575 + 2047 + 2657 + 1142.
    "K27:small:kitchen": (SHORT, 12736),  # 35560
    "K28:small:sink": (MET, None),
    "IE1:count:cooktop+counter": (SHORT, 0),  # 520 mm of wall counter with no receptacle
    "K31:glazing:kitchen": (SHORT, 7.05),  # 0.8 of 11.34 m2
}
ONE_WALL_ACCESS: Expected = {
    "K1a::door": (SHORT, 813),  # 34 in = 863.6
    "K2a:pull-depth:door+kitchen": (MET, 2050),
    "A8041::refrigerator+south": (MET, 2050),  # ADA 804.2.1 counts one side that faces a wall
    "A8041:entries:kitchen": (SHORT, 1),
    "K6a:circle:kitchen": (MET, None),
    "K10a:bowl-depth:sink": (MET, 160),
    "K11a:height:counter": (SHORT, 914),
}

# North wall, from the west: corner 25, counter 47, range 36, counter 30, refrigerator 36, counter 42. West wall, from
# the south at y = 49: counter 21, sink 33, counter 40 to the corner. Island x 73 to 169, y 53 to 95. Room 216 x 168 in.
L_ISLAND: Expected = {
    "K3:leg-cook-1:range+sink": (MET, 88.03),  # (22.5, 86.5) to (90, 143): root of 67.5^2 + 56.5^2
    "K3:leg-cook-1:range+refrigerator": (MET, 66.19),  # to (156, 138): root of 66^2 + 5^2
    "K3:leg-cook-1:sink+refrigerator": (SHORT, 143.09),  # root of 133.5^2 + 51.5^2; at most 108
    "K3:sum-cook-1:range+sink+refrigerator": (MET, 297.31),
    "K3c:cook-1:sink+refrigerator": (MET, 0),  # passes x = 73 at y = 106, above the island
    "K5:cook-1:range+sink+refrigerator": (MET, 0),
    "K6:two-cooks:island+refrigerator": (SHORT, 43),  # 138 - 95; 48 for two cooks
    "K6:two-cooks:island+west-counter": (MET, 48),  # 73 - 25
    "K7::east+island": (MET, 47),  # guideline 7: 216 - 169, 36 asked
    "K8:walk-past-stools:island": (MET, 53),  # guideline 8: 44
    "K9:seat-width:island+stools": (MET, 24),  # guideline 9: 96 / 4
    "K9:36-in-high:island+stools": (MET, 15),
    "N1::island+stools": (MET, 4),  # floor of 96 / 24
    "K10::sink+range+refrigerator": (SHORT, 1),  # the range stands between sink and refrigerator on the run
    "K11:longer-side:sink": (MET, 40),
    "K11:shorter-side:sink": (MET, 21),
    "K12:width:sink+west-counter": (MET, 40),
    "K13b::dishwasher+north-west": (SHORT, 16),  # guideline 13: 143 - 127, 21 asked
    "K14::kitchen": (MET, 2),
    "K16:landing:refrigerator": (MET, None),
    "K17:longer-side:range": (MET, 47),
    "K17:shorter-side:range": (MET, 30),
    "K18:protected:range+hood": (MET, 27),
    "K19:make-up-air:range+hood": (SHORT, 0),  # 850 m3/h are 500 cfm, over 400
    "K21:lowest:microwave": (SHORT, 14),  # guideline 21: 15
    "K22::microwave": (MET, 96),
    "K24::range+refrigerator+north-middle": (MET, 30),  # max(12, 15) + 12 = 27
    "K25:total:kitchen": (MET, 276),  # 21 + 40 + 47 + 30 + 42 + 96
    "K26::island": (SHORT, 4),
    # Drawers 126 + 216 + 180 + 84 + 216, base shelves 66 + 168 + 144, turntable 120, wall 108 + 90 + 126.
    "K27:medium:kitchen": (SHORT, 1644),  # 1700
    "K29::kitchen": (MET, 1),
    # Round the corner of the room: 22 to y = 125, 43 + 2 to x = 2, 46.5 to x = 48.5, 23.5 to the range at x = 72.
    "IE1:reach:sink+west-counter+north-west": (MET, 23.5),
    "IE1:count:sink+west-counter+north-west": (MET, 3),  # 137 / 48, rounded up
    "IE3::island": (SHORT, 1),  # NEC 2020: 28 sq ft ask 1 + 2
    "K31:glazing:kitchen": (MET, 11.11),  # 28 of 252 sq ft
}
L_ISLAND_ACCESS: Expected = {
    "K6a:circle:kitchen": (MET, None),  # one of 60 stands at (51, 30): 32.2 from (25, 49), 31.8 from (73, 53)
    "K8a:wheelchair-past-stools:island": (SHORT, 53),  # 60
    "K17a:height:range": (SHORT, 36),
    "A8041:entries:kitchen": (MET, 2),
    "K21a::microwave": (MET, 29),
    "K20:extinguisher-height:extinguisher": (SHORT, 50),
}

# North wall: corner 24, counter 14, range 30, counter 14 3/4, corner 24. East arm, from the corner: counter 26, sink
# 30, counter 40. West arm, from the corner: counter 63, refrigerator 33. Room 106 3/4 by 120 in; range front at y = 94.
U_SHAPE: Expected = {
    "K3:leg-cook-1:range+sink": (MET, 50.29),  # (53, 94) to (84.75, 55): root of 31.75^2 + 39^2; 48 at least
    "K3:leg-cook-1:sink+refrigerator": (MET, 68.58),  # to (28, 16.5): root of 56.75^2 + 38.5^2
    "K3:leg-cook-1:range+refrigerator": (MET, 81.43),  # root of 25^2 + 77.5^2
    "K3:sum-cook-1:range+sink+refrigerator": (MET, 200.3),
    "K6:one-cook:east-counter+refrigerator": (MET, 54.75),  # 106.75 - 24 - 28
    # Guideline 10: the refrigerator is the only centre on the run that faces the sink's, 7 in further along.
    "K10::sink+range+refrigerator": (MET, 2),
    "K11:longer-side:sink": (MET, 40),
    "K11:shorter-side:sink": (MET, 26),
    "K12:width:sink+east-counter": (MET, 40),
    "K12:depth:sink+east-counter": (MET, 24),
    "K13b::dishwasher+range": (MET, 54),  # 94 - 40
    "K14::kitchen": (SHORT, 1),  # two bins for waste, none for recycling
    "K16:landing:refrigerator": (MET, 63),
    "K17:longer-side:range": (SHORT, 14.75),  # 15
    "K17:shorter-side:range": (MET, 14),
    "K18:protected:range+hood": (MET, 24),  # exactly
    "K19:ducted:range+hood": (SHORT, 0),
    "K20:extinguisher:kitchen": (SHORT, 0),
    "K21:highest:microwave": (SHORT, 56),  # 54
    "K25:total:kitchen": (SHORT, 157.75),  # 14 + 14 3/4 + 63 + 26 + 40; 158
    # Blind corners by what is reached 56 + 59, base 120 + 60 + 64, drawers 198 + 60 + 156, wall 81 + 78 + 120.
    "K27:small:kitchen": (SHORT, 1052),
    "K29::kitchen": (SHORT, 0),  # guideline 29: two blind corners without a device
    "IE1:count:west-counter+north-west": (MET, 3),  # 38 + 87 = 125
    "IE1:reach:west-counter+north-west": (MET, 23),
    "IE1:reach:north-east+east-counter+sink": (MET, 23),
    "K30:unprotected:kitchen": (SHORT, 1),
    "K31:glazing:kitchen": (MET, 8.43),  # 7.5 of 88.96 sq ft
}
U_SHAPE_ACCESS: Expected = {
    "A8042::east-counter+refrigerator": (SHORT, 54.75),  # ADA 804.2.2: 60
    "K6a:circle:kitchen": (SHORT, 58.75),  # 106.75 - 2 x 24
    "K6a:square:kitchen": (SHORT, None),
    "K1a::to-hall": (MET, 36),
    "K16a:offset:refrigerator": (MET, 7.5),  # floor y 0 to 48, its middle 24 from that of the refrigerator at 16.5
}

# North wall, from the west [mm]: refrigerator 900, counter 600, sink 800, counter 700 to the peninsula's front at
# x = 3000. Peninsula x 3000 to 3900, y 890 to 2990, cooktop y 1530 to 2290. West wall: counter 1200, oven tower 600.
PENINSULA: Expected = {
    "K1::door": (SHORT, 800),  # 812.8
    "K2:appliance-doors:kitchen": (MET, 0),  # the refrigerator's right leaf ends where the dishwasher begins
    "K2:entry-door:door": (MET, 0),
    "K3:leg-cook-1:sink+refrigerator": (MET, 1456.7),  # (1900, 3040) to (450, 2900): root of 1450^2 + 140^2
    "K3:leg-cook-1:cooktop+sink": (MET, 1619.4),  # (3060, 1910): root of 1160^2 + 1130^2
    "K3:leg-cook-1:cooktop+refrigerator": (SHORT, 2791.5),  # root of 2610^2 + 990^2; at most 2743
    "K3:sum-cook-1:cooktop+sink+refrigerator": (MET, 5867.6),
    "K5:cook-1:cooktop+sink+refrigerator": (MET, 0),
    "K6:two-cooks:peninsula+tower": (MET, 2390),  # 3000 - 610
    "K7::peninsula+south": (SHORT, 890),  # 914
    "K8:edge-past-stools:peninsula": (SHORT, 900),  # 4800 - 3900; 914
    "K9:seat-width:peninsula+stools": (MET, 700),
    "K9:36-in-high:peninsula+stools": (SHORT, 300),  # 381
    "N1::peninsula+stools": (MET, 3),  # floor of 2100 / 609.6
    "K10::sink+cooktop+refrigerator": (MET, 2),
    "K11:longer-side:sink": (MET, 700),
    "K11:shorter-side:sink": (MET, 600),
    "K12:width:sink+north-counter": (SHORT, 700),  # 914
    "K13::dishwasher+sink": (MET, 0),
    "K13b::dishwasher+peninsula": (MET, 1500),  # 3000 - 1500
    "K14::kitchen": (MET, 2),
    "K16:landing:refrigerator": (MET, 600),
    "K17:longer-side:cooktop": (MET, 700),
    "K17:shorter-side:cooktop": (MET, 640),
    "K17b::cooktop+peninsula": (MET, 320),  # 900 - 60 - 520; 229
    "K18:protected:cooktop+hood": (MET, 736),  # 1650 - 914; 610
    "K19:recommended:cooktop+hood": (MET, 353),  # 600 m3/h
    "K20:extinguisher:kitchen": (MET, 1),
    "K23:landing:oven": (MET, 1200),
    "K24::refrigerator+sink+north-counter": (SHORT, 600),  # 457 + 305 = 762
    "K25:total:kitchen": (SHORT, 3840),  # 600 + 700 + 700 + 640 + 1200; 4013
    "K26::peninsula": (MET, 0),
    # 610 and 305 mm count as 2 and 1 ft: base 800 x 2, 2100 x 2, 450 x 2 x 2, 3600 x 2, tower 1800 x 2, wall
    # 1800 and 4800; in the peninsula (2100 + 1280) x 600 / 304.8 = 6654.
    "K27:medium:kitchen": (SHORT, 31653.5),  # 43180
    "K29::kitchen": (MET, 1),
    "IE1:count:sink+north-counter": (MET, 2),  # 1600 / 1219, rounded up
    "IE1:reach:west-counter": (MET, 600),
    "IE3::peninsula": (SHORT, 1),  # 2.1 by 0.9 m are 20.3 sq ft: 1 + 1
    "K31:glazing:kitchen": (SHORT, 4.17),  # 0.72 of 17.28 m2
}
PENINSULA_ACCESS: Expected = {
    "K1a::door": (SHORT, 800),
    "A8041:entries:kitchen": (MET, 2),
    "K16a:clear-floor-width:refrigerator": (MET, 1100),  # from the tower at y = 1800 to 2900
    "K10a:rim-height:sink": (SHORT, 914),
}

KITCHENS: dict[tuple[str, str], Expected] = {
    ("galley", "us"): GALLEY,
    ("galley", "us-access"): GALLEY_ACCESS,
    ("one-wall", "us"): ONE_WALL,
    ("one-wall", "us-access"): ONE_WALL_ACCESS,
    ("l-island", "us"): L_ISLAND,
    ("l-island", "us-access"): L_ISLAND_ACCESS,
    ("u-shape", "us"): U_SHAPE,
    ("u-shape", "us-access"): U_SHAPE_ACCESS,
    ("peninsula", "us"): PENINSULA,
    ("peninsula", "us-access"): PENINSULA_ACCESS,
}
LINES = [(kitchen, yard, name) for (kitchen, yard), expected in KITCHENS.items() for name in expected]


@pytest.mark.parametrize(("kitchen", "yardstick", "name"), LINES, ids=lambda part: part)
def test_verdict_and_figure(kitchen: str, yardstick: str, name: str) -> None:
    verdict, figure = KITCHENS[kitchen, yardstick][name]
    found = judged(kitchen, yardstick)[name]
    assert found.verdict == verdict
    if figure is None:
        return
    assert found.measured is not None
    metric = kitchen in ("one-wall", "peninsula")
    value, within = found.measured.value, 0.01
    if found.measured.unit == "mm":
        # A sixteenth of an inch, and half a millimetre, are what a drawing shows.
        value, within = (value, 0.5) if metric else (found.measured.to("in").value, 1 / 16)
    assert value == pytest.approx(figure, abs=within)


# What does not apply is said, never left out.
@pytest.mark.parametrize(
    ("kitchen", "rule"),
    [
        ("galley", "K8"), ("galley", "K9"), ("galley", "K15"), ("galley", "K29"), ("one-wall", "K5"),
        ("one-wall", "K13b"), ("one-wall", "K21"), ("u-shape", "K7"), ("peninsula", "K22"),
    ],
)  # fmt: skip
def test_a_rule_that_does_not_apply_says_so(kitchen: str, rule: str) -> None:
    assert {found.because for found in judged(kitchen, "us").values() if found.rule == rule} == {"does not apply"}


def test_the_floor_before_one_wall_is_told_and_not_judged() -> None:
    # Guideline 6 measures between opposing fronts; there are none. The floor is 2700 - 650 = 2050 mm deep at its least.
    found = [found for found in judged("one-wall", "us").values() if found.rule == "K6"]
    assert {one.verdict for one in found} == {"not assessed"}
    assert any("2050 mm" in line for one in found for line in one.working)


@pytest.mark.parametrize("kitchen", ["galley", "one-wall", "l-island", "u-shape", "peninsula"])
def test_no_kitchen_guideline_is_silent(kitchen: str) -> None:
    numbers = {found.rule.rstrip("abcd") for found in judged(kitchen, "us").values() if found.rule.startswith("K")}
    assert numbers == {f"K{number}" for number in range(1, 32)}


def test_where_the_edge_of_the_counter_decides_it_is_told() -> None:
    # From the counter edges (3000, 1910) to (450, 2900): root of 2550^2 + 990^2 = 2735 mm, within 2743.
    found = judged("peninsula", "us")["K3:leg-cook-1:cooktop+refrigerator"]
    assert any("2735 mm" in line and line.endswith("and holds.") for line in found.also)
    other = judged("one-wall", "us")["K3:leg-cook-1:cooktop+refrigerator"]
    assert not any(line.startswith("Measured from") for line in other.also)
