"""The preparation area. Figures: Kitchen guideline 12; shared landings, guideline 24 and the 1990s wording."""

from __future__ import annotations

import pytest

from building import findings, one
from enfilade.checks.run import check
from enfilade.project.project import Project
from enfilade.standards.yardsticks import yardstick
from lines import inches_of, kitchen, line


def beside_sink(width: float, depth: float = 24) -> Project:
    return kitchen(line(("counter", "", 20), ("sink", "sink", 33), ("counter", "", width), depth=depth))


def test_width_and_depth() -> None:
    # 36 in wide and 24 in deep.
    good = beside_sink(36)
    assert [one(good, "K12", containing=p).verdict for p in (":width", ":depth")] == ["met", "met"]
    assert one(beside_sink(35), "K12", containing=":width").verdict == "falls short"
    shallow = one(beside_sink(40, 23), "K12", containing=":depth")
    assert (inches_of(shallow), shallow.verdict) == (pytest.approx(23), "falls short")


def test_a_tall_unit_breaks_the_counter() -> None:
    project = kitchen(line(("sink", "sink", 33), ("counter", "", 30), ("tall cabinet", "t", 24), ("counter", "", 60)))
    assert inches_of(one(project, "K12", containing=":width")) == pytest.approx(30)


def test_counter_away_from_the_sink_is_not_beside_it() -> None:
    project = kitchen(line(("sink", "sink", 33), ("range", "fire", 30), ("counter", "", 60)))
    assert inches_of(one(project, "K12", containing=":width")) == 0


def test_no_sink() -> None:
    assert {f.because for f in findings(kitchen(line(("counter", "", 60))), "K12")} == {"missing fact"}


def test_both_readings() -> None:
    # On the sink's landing (18 in) it may lie; counted like a landing, the longer, 36, and 12 in more: 48 in.
    project = beside_sink(40)
    shares = one(project, "K12", containing=":width")
    assert shares.verdict == "met"
    assert any('48"' in text for text in shares.also)
    strict = yardstick("us").with_options({"preparation_shares_landing": False})
    found = next(f for f in check(project, yardstick=strict) if f.id.startswith("K12:width"))
    assert found.verdict == "falls short"
    assert found.required is not None
    assert found.required.value == pytest.approx(48)
    assert any("36 in" in text for text in found.also)
