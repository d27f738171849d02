"""Landings beside and behind cooking surfaces. Figures: Kitchen guideline 17, printing keyed to IRC 2015."""

from __future__ import annotations

import pytest

from building import findings, free, one, set_in, thing
from lines import inches_of, kitchen, line


@pytest.mark.parametrize(
    ("left", "right", "verdicts"),
    [
        (15, 12, ("met", "met")),  # 15 in on one side, 12 on the other
        (12, 15, ("met", "met")),
        (14, 12, ("falls short", "met")),
        (15, 11, ("met", "falls short")),
    ],
)
@pytest.mark.parametrize("kind", ["range", "cooktop"])
def test_landing_beside(kind: str, left: float, right: float, verdicts: tuple[str, str]) -> None:
    project = kitchen(line(("counter", "", left), (kind, "fire", 30), ("counter", "", right)))
    found = [one(project, "K17", containing=part) for part in ("longer", "shorter")]
    assert tuple(f.verdict for f in found) == verdicts
    assert inches_of(found[0]) == pytest.approx(max(left, right))


def test_counter_at_another_height_does_not_count() -> None:
    # Guideline 17: with the cooking surface at another height, both landings are at its height.
    things = line(("cooktop", "fire", 30, {"bottom": 0, "top": 30}), ("counter", "", 12), top=30)
    things += line(("counter", "", 30), at=42, prefix="high")
    found = one(kitchen(things), "K17", containing="longer")
    assert inches_of(found) == pytest.approx(12)
    lone = kitchen(line(("range", "fire", 30, {"bottom": 0, "top": 30})), line(("counter", "", 40), at=30))
    assert inches_of(one(lone, "K17", containing="longer")) == 0
    assert any("not at" in text for text in one(lone, "K17", containing="longer").working)


def test_no_cooking_surface() -> None:
    project = kitchen(line(("counter", "", 60)))
    for rule in ("K17", "K17b", "K17c"):
        found = {(f.because, f.needs) for f in findings(project, rule)}
        assert found == {("missing fact", ("kitchen: a cooking surface",))}, rule


def island_cooktop(setback: float, *, depth: float = 36, top: float = 36) -> object:
    island = thing("island", "island", 90, depth, free(180, 120))
    cooktop = thing("cooktop", "fire", 30, 21, set_in("island", 30, setback), top=top)
    return kitchen(island, cooktop)


def test_counter_behind_on_an_island() -> None:
    # Guideline 17: 9 in behind. 36 - 21 - 6 = 9 in; 36 - 21 - 8 = 7 in.
    good, short = one(island_cooktop(6), "K17b"), one(island_cooktop(8), "K17b")
    assert (inches_of(good), good.verdict) == (pytest.approx(9), "met")
    assert (inches_of(short), short.verdict) == (pytest.approx(7), "falls short")
    # At another height than the counter behind, the rule is silent.
    assert one(island_cooktop(8, top=40), "K17b").because == "does not apply"


def test_wall_beside_the_cooking_surface() -> None:
    # Guideline 17: the maker sets the side clearance; the landing is still told as short.
    project = kitchen(line(("range", "fire", 30), ("counter", "", 30), at=6))
    left, right = one(project, "K17c", containing="left"), one(project, "K17c", containing="right")
    assert (left.because, right.because) == ("source silent", "does not apply")
    assert any('6"' in text for text in left.working)
    assert left.caution
    assert one(project, "K17", containing="shorter").verdict == "falls short"


def test_tall_unit_beside_the_cooking_surface() -> None:
    project = kitchen(line(("counter", "", 40), ("range", "fire", 30), ("tall cabinet", "pantry", 24)))
    found = one(project, "K17c", containing="right")
    assert (found.because, found.subjects) == ("source silent", ("fire", "pantry"))
