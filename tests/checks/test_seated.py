"""Work for a seated person. Figures: access parts of Kitchen guidelines 10, 11, 12 and 17; ADA 2010 606 and 804."""

from __future__ import annotations

from typing import Any

import pytest

from building import findings, on_wall, one, thing
from enfilade.findings import Finding
from enfilade.project.project import Project
from lines import inches_of, kitchen, line

IN = 25.4
KNEES: dict[str, Any] = {"width_mm": 36 * IN, "height_mm": 27 * IN, "depth_mm": 19 * IN}


def access(project: Project, rule: str, containing: str = "") -> Finding:
    return one(project, rule, yardstick="us-access", containing=containing)


def sink(top: float = 34, **more: Any) -> Project:
    return kitchen(line(("counter", "", 40), ("sink", "sink", 30, {"top": top, **more}), ("counter", "", 40), top=top))


def test_rim() -> None:
    # Guideline 10, access part: at most 34 in, or adjustable between 29 and 36.
    assert access(sink(34), "K10a", ":rim").verdict == "met"
    assert access(sink(36), "K10a", ":rim").verdict == "falls short"
    moving = {"adjustable_from_mm": 29 * IN, "adjustable_to_mm": 36 * IN}
    assert access(sink(**moving), "K10a", ":adjustable").verdict == "met"
    assert access(sink(**moving), "K10a", ":rim").because == "does not apply"
    too_high = access(sink(**{**moving, "adjustable_to_mm": 37 * IN}), "K10a", ":adjustable")
    assert (inches_of(too_high), too_high.verdict) == (pytest.approx(37), "falls short")
    half = access(sink(adjustable_from_mm=29 * IN), "K10a", ":adjustable")
    assert (half.because, half.needs) == ("missing fact", ("sink.adjustable_to_mm",))


def test_bowl_and_pipes() -> None:
    # At most 6 1/2 in deep; pipes covered.
    assert access(sink(bowl_depth_mm=6.5 * IN), "K10a", ":bowl").verdict == "met"
    assert access(sink(bowl_depth_mm=8 * IN), "K10a", ":bowl").verdict == "falls short"
    assert access(sink(), "K10a", ":bowl").needs == ("sink.bowl_depth_mm",)
    assert access(sink(pipes_covered=True), "K10a", ":exposed").verdict == "met"
    assert access(sink(pipes_covered=False), "K10a", ":exposed").verdict == "falls short"
    assert access(sink(), "K10a", ":exposed").needs == ("sink.pipes_covered",)


def test_forward_approach() -> None:
    # ADA 606.2; height and pipes of 606 are not told twice.
    assert access(sink(knee_space=KNEES), "A606").verdict == "met"
    assert access(sink(knee_space="none"), "A606").verdict == "falls short"
    assert access(sink(), "A606").needs == ("sink.knee_space",)


def test_the_sink_with_knee_space_is_judged() -> None:
    things = line(
        ("sink", "main", 30), ("counter", "", 40), ("sink", "low", 20, {"knee_space": KNEES, "bowl_depth_mm": 150})
    )
    assert access(kitchen(things), "K10a", ":bowl").subjects == ("low",)


def test_nothing_to_sit_at() -> None:
    # Every kitchen has a sink, a cooking surface and a refrigerator; a counter at which one could sit it may lack.
    for rule in ("K10a", "K17a", "A606", "A8064", "A8066"):
        assert {f.because for f in findings(kitchen(), rule, yardstick="us-access")} == {"missing fact"}, rule
    assert {f.because for f in findings(kitchen(), "K11a", yardstick="us-access")} == {"does not apply"}


def test_low_landing() -> None:
    # Guideline 11, access part (recalled): one landing at most 34 in high.
    assert access(sink(34), "K11a", ":height").verdict == "met"
    assert access(sink(36), "K11a", ":height").verdict == "falls short"
    moving: dict[str, Any] = {"adjustable_from_mm": 28 * IN, "adjustable_to_mm": 36 * IN}
    things = line(("counter", "", 40), ("sink", "sink", 30))
    things[0].update(moving)
    assert access(kitchen(things), "K11a", ":adjustable").verdict == "falls short"  # 28 in is below 29
    things[0].update(adjustable_from_mm=29 * IN)
    assert access(kitchen(things), "K11a", ":adjustable").verdict == "met"


def surface(width: float, top: float, knees: Any, **more: Any) -> Project:
    things = line(("counter", "", width), top=top)
    things[0].update(knee_space=knees, **more)
    return kitchen(things)


def test_preparation_with_knee_space() -> None:
    # Guideline 12, access part: 30 in wide, at most 34 in high or adjustable 29 to 36.
    good = surface(60, 34, KNEES)
    assert [access(good, "K12a", p).verdict for p in (":width", ":height")] == ["met", "met"]
    narrow = access(surface(28, 34, KNEES), "K12a", ":width")
    assert (inches_of(narrow), narrow.verdict) == (pytest.approx(28), "falls short")
    assert access(surface(60, 36, KNEES), "K12a", ":height").verdict == "falls short"
    moving = {"adjustable_from_mm": 29 * IN, "adjustable_to_mm": 36 * IN}
    assert access(surface(60, 34, KNEES, **moving), "K12a", ":adjustable").verdict == "met"
    moving["adjustable_from_mm"] = 27 * IN
    assert access(surface(60, 34, KNEES, **moving), "K12a", ":adjustable").verdict == "falls short"
    assert access(surface(60, 34, None), "K12a", ":width").needs == ("top-1.knee_space",)
    assert access(surface(60, 34, "none"), "K12a", ":width").verdict == "falls short"


def test_work_surface_of_the_standard() -> None:
    # ADA 804.3: one work surface with knee space, nothing sharp below; its sizes are told by guideline 12.
    assert access(surface(60, 34, KNEES), "A8043", ":work").verdict == "met"
    assert access(surface(60, 34, "none"), "A8043", ":work").verdict == "falls short"
    assert access(surface(60, 34, KNEES, smooth_below=True), "A8043", ":sharp").verdict == "met"
    assert access(surface(60, 34, KNEES, smooth_below=False), "A8043", ":sharp").verdict == "falls short"
    assert access(surface(60, 34, KNEES), "A8043", ":sharp").needs == ("top-1.smooth_below",)
    assert not findings(surface(60, 34, KNEES), "A8043", yardstick="us-access", containing=":width")


def cooking(top: float = 34, **more: Any) -> Project:
    return kitchen(
        line(("counter", "", 40), ("cooktop", "fire", 30, {"bottom": 30, **more}), ("counter", "", 40), top=top)
    )


def test_cooking_surface() -> None:
    # Guideline 17, access part (recalled): at most 34 in high, knee space at or beside it, insulated below.
    assert access(cooking(34), "K17a", ":height").verdict == "met"
    assert access(cooking(36), "K17a", ":height").verdict == "falls short"
    assert access(cooking(knee_space=KNEES), "K17a", ":knee").verdict == "met"
    assert access(cooking(knee_space="none"), "K17a", ":knee").verdict == "falls short"
    assert access(cooking(), "K17a", ":knee").needs == ("fire.knee_space",)
    assert access(cooking(underside_insulated=True), "K17a", ":bare").verdict == "met"
    assert access(cooking(underside_insulated=False), "K17a", ":bare").verdict == "falls short"
    assert access(cooking(), "K17a", ":bare").because == "missing fact"


def test_knee_space_beside_the_cooking_surface() -> None:
    things = line(("counter", "", 40), ("range", "fire", 30, {"knee_space": "none"}))
    things.append(thing("base cabinet", "open", 36, 24, on_wall("kitchen-north", 4), knee_space=KNEES))
    assert access(kitchen(things), "K17a", ":knee").verdict == "met"


def test_controls() -> None:
    # ADA 804.6.4: no control is reached across burners; 804.6.5: those of an oven are on its front.
    assert access(cooking(controls="front"), "A8064", ":reach").verdict == "met"
    assert access(cooking(controls="back"), "A8064", ":reach").verdict == "falls short"
    assert access(cooking(), "A8064", ":reach").needs == ("fire.controls",)

    def oven(**more: Any) -> Finding:
        tower = line(("tall cabinet", "tower", 30))
        return access(
            kitchen(tower, thing("oven", "oven", 28, 24, on_wall("kitchen-north", 1), **more)), "A8065", ":front"
        )

    assert oven(controls="front").verdict == "met"
    assert oven(controls="above").verdict == "falls short"
    assert oven().needs == ("oven.controls",)


def test_freezer() -> None:
    # ADA 804.6.6 (recalled): half of the freezer space at most 54 in high.
    def freezer(**more: Any) -> Finding:
        return access(kitchen(line(("refrigerator", "cold", 36, more))), "A8066", ":freezer")

    half = freezer(freezer_bottom_mm=48 * IN, freezer_top_mm=60 * IN)
    assert half.measured is not None
    assert (half.measured.value, half.verdict) == (pytest.approx(50), "met")
    assert freezer(freezer_bottom_mm=50 * IN, freezer_top_mm=70 * IN).verdict == "falls short"
    assert freezer().needs == ("cold.freezer_bottom_mm", "cold.freezer_top_mm")
    assert freezer(holds="fresh").because == "does not apply"


def test_access_rows_are_silent_in_the_general_yardstick() -> None:
    for rule in ("K10a", "K11a", "K12a", "K17a", "A606", "A8043", "A8064", "A8065", "A8066"):
        assert not findings(sink(), rule), rule
