"""Slips of unit and of typing. The bounds are our own choice; every house here is invented."""

from __future__ import annotations

from typing import Any

import pytest

from building import door, findings, free, house, on_wall, one, room, thing, window
from enfilade.checks.plausible_sizes import readings
from enfilade.findings import Finding
from enfilade.lengths import inches
from enfilade.project.demo import demo
from enfilade.project.project import Project
from enfilade.standards.rows import rows
from enfilade.standards.yardsticks import yardstick

from .said import verdict, verdicts

USUAL_IN: dict[str, tuple[float, float, float]] = {  # width, depth, top
    "counter": (60, 25, 36), "island": (84, 42, 36), "peninsula": (60, 36, 36), "base cabinet": (30, 24, 34.5),
    "wall cabinet": (30, 12, 84), "tall cabinet": (24, 24, 84), "sink": (30, 20, 36), "cooktop": (30, 21, 36),
    "range": (30, 26, 36), "oven": (30, 24, 58), "microwave": (24, 16, 64), "refrigerator": (36, 30, 70),
    "dishwasher": (24, 24, 34), "hood": (30, 20, 84), "table": (72, 40, 30), "seat": (18, 18, 36),
}  # fmt: skip
BOUNDS = [row for row in rows() if row.rule == "R7" and row.part]


def sized(kind: str, **more: Any) -> dict[str, Any]:
    """One thing of a usual size, fields of the record changed as given."""
    width, depth, top = USUAL_IN[kind]
    low = 30.0 if kind in ("wall cabinet", "hood", "microwave", "oven", "sink", "cooktop") else 0.0
    kinds = {"seat": {"what": "chair"}, "peninsula": {"joined": "left"}}
    return {**thing(kind, "it", width, depth, free(72, 72), bottom=low, top=top), **kinds.get(kind, {}), **more}


@pytest.mark.parametrize("kind", USUAL_IN)
def test_a_thing_of_a_usual_size_is_met(kind: str) -> None:
    assert verdicts(house([sized(kind)]), "R7") == ["met"]
    assert one(house([sized(kind)]), "R7").working == ("5 sizes looked at, each one that such a thing has",)


@pytest.mark.parametrize(
    ("size", "field", "value_in"), [("width", "width_mm", 0), ("depth", "depth_mm", 1), ("top", "top_mm", 2)]
)
@pytest.mark.parametrize("kind", USUAL_IN)
def test_inches_read_as_millimetres_fall_short(kind: str, size: str, field: str, value_in: int) -> None:
    typed = USUAL_IN[kind][value_in]  # the number of inches, recorded as so many millimetres
    wrong = one(house([sized(kind, **{field: typed, "bottom_mm": 0})]), "R7")
    assert (wrong.verdict, wrong.subjects) == ("falls short", ("it",))
    assert f"{size} {typed:g} mm; did you mean {typed:g} in" in wrong.working[0]


def test_a_house_in_bare_inches_is_told_size_by_size_and_as_a_whole() -> None:
    in_inches = house([sized("counter"), {**sized("range"), "id": "range"}]).model_dump(mode="json")
    found = findings(Project.model_validate(_shrunk(in_inches)).verified(), "R7")
    # Two things of three sizes, and the room's least side and ceiling: 144 and 96 mm.
    assert [f.verdict for f in found] == ["falls short"] * 8
    assert any("least side 144 mm; did you mean 144 in (3,658 mm)" in f.working[0] for f in found)
    whole = "8 sizes of this room fit when read as inches, not as millimetres: the whole record may be in inches"
    assert all(whole in f.working for f in found)


def _shrunk(value: Any, key: str = "") -> Any:
    """Return a record with every length divided by 25.4: the inches that it was typed in."""
    if isinstance(value, dict):
        return {name: _shrunk(item, name) for name, item in value.items()}
    if isinstance(value, list | tuple):
        return [_shrunk(item, key) for item in value]
    # Lenses and sensors are named in millimetres everywhere.
    length = isinstance(value, float) and (key.endswith("_mm") or key == "outline")
    length = length and not key.startswith(("lenses", "sensor", "focal"))
    return round(value / 25.4, 6) if length else value


def test_a_depth_of_0_66_mm_asks_for_metres() -> None:
    wrong = one(house([sized("range", depth_mm=0.66)]), "R7")
    # 0.66 m = 660 mm = 26 in, within 16 to 48; 0.66 in and 0.66 ft are below.
    assert wrong.working == ("range: depth 0.66 mm; did you mean 0.66 m (660 mm)?",)
    assert wrong.required is not None
    assert (wrong.required.how, wrong.required.value, wrong.required.unit) == ("between", (16, 48), "in")


@pytest.mark.parametrize(
    ("recorded_mm", "question"),
    [
        (inches(660), "depth 660 in (16,764 mm); did you mean 660 mm?"),  # millimetres typed as inches
        (26 * 304.8, "depth 26 ft (7,925 mm); did you mean 26 in (660 mm)?"),  # inches typed as feet
        (2.2, "depth 2.2 mm; did you mean 2.2 ft (671 mm)?"),
    ],
)
def test_the_unit_that_fits_is_asked_for(recorded_mm: float, question: str) -> None:
    spaces = [room(1700, 1700)]
    assert one(house([sized("range", depth_mm=recorded_mm)], spaces=spaces), "R7").working[0] == f"range: {question}"


def test_a_number_that_nobody_types_is_not_asked_about() -> None:
    # 100 mm are 3.937008 in, and 3.937008 ft are 47 in, a depth of a range (16 to 48 in); 100 and 0.1 fit in no unit.
    row = yardstick("us").row("R7", "range depth")
    assert readings(row, 100.0) == ()
    # 30.48 mm: 30.48 in are 30 in deep; typed as 1.2 in, 1.2 m are 47 in deep. Both are short numbers.
    assert {reading.typed for reading in readings(row, 30.48)} == {"mm", "in"}
    # 33.3333 mm have six digits in every unit: millimetres alone are asked about.
    assert {reading.typed for reading in readings(row, 33.3333)} == {"mm"}
    assert readings(row, 33.3333)[0].meant == "in"


def test_what_fits_in_no_unit_says_so() -> None:
    wrong = one(house([sized("seat", top_mm=0)]), "R7")
    assert "top 0 mm; in no unit" in wrong.working[0]


@pytest.mark.parametrize(
    ("opening", "part", "expected"),
    [
        (door("d", "kitchen-south", 20), "", "met"),
        ({**door("d", "kitchen-south", 20), "width_mm": 36}, "door width", "falls short"),
        ({**door("d", "kitchen-south", 20), "height_mm": 80}, "door height", "falls short"),
        (window("w", "kitchen-south", 20), "", "met"),
        ({**window("w", "kitchen-south", 20), "width_mm": 36}, "window width", "falls short"),
        ({**window("w", "kitchen-south", 20), "height_mm": 48}, "window height", "falls short"),
    ],
)
def test_openings(opening: dict[str, Any], part: str, expected: str) -> None:
    assert verdict(house([], openings=[opening]), "R7", part) == expected


@pytest.mark.parametrize(
    ("width", "ceiling", "part", "expected"),
    [
        (144, 96, "", "met"),
        (144 / 25.4, 96, "room least side", "falls short"),
        (144, 96 / 25.4, "room ceiling height", "falls short"),
    ],
)
def test_rooms(width: float, ceiling: float, part: str, expected: str) -> None:
    assert verdict(house([], spaces=[room(width, 144, ceiling=ceiling)]), "R7", part) == expected


def test_what_is_just_within_the_bounds_is_met_and_just_outside_is_not() -> None:
    row = yardstick("us").row("R7", "range depth")
    for value_mm, expected in ((row.low_mm, "met"), (row.low_mm - 2, "falls short"), (row.high_mm + 2, "falls short")):
        assert {f.verdict for f in findings(house([sized("range", depth_mm=value_mm)]), "R7")} == {expected}


@pytest.mark.parametrize("row", BOUNDS, ids=lambda row: row.part)
def test_no_usual_size_lies_within_the_bounds_when_inches_are_read_as_millimetres(row: Any) -> None:
    # A counter of 8 ft, typed as 96, is as wide as a filler strip: widths are not always caught, the rest is.
    kind, _, size = row.part.rpartition(" ")
    if kind in USUAL_IN and size in ("depth", "top"):
        usual = USUAL_IN[kind][1 if size == "depth" else 2]
        assert row.low <= usual <= row.high
        assert not row.low <= usual / 25.4 <= row.high
        assert not row.low <= usual * 25.4 <= row.high
        assert readings(row, usual)[0].meant == "in"
    else:
        assert row.low * 4 < row.high


def test_the_demo_house_is_met_in_every_room() -> None:
    found: list[Finding] = findings(demo(), "R7")
    assert len(found) == len(demo().spaces)
    assert {f.verdict for f in found} == {"met"}


def test_an_assumed_size_is_told() -> None:
    wrong = one(house([sized("range", depth_mm=0.66, bases={"depth_mm": "assumed"})]), "R7")
    assert wrong.assumed == ("it.depth_mm",)


def test_a_door_between_two_rooms_is_one_finding() -> None:
    spaces = [room(144, 144), room(144, 144, id="dining", use="dining", at=(0, 144))]
    way = {**door("d", "kitchen-north", 40, beyond="dining-south"), "width_mm": 36}
    assert verdicts(house([], spaces=spaces, openings=[way]), "R7", "door width") == ["falls short"]


def test_a_thing_that_is_removed_is_not_looked_at() -> None:
    gone = sized("range", depth_mm=0.66, state="removed")
    assert verdicts(house([gone, thing("counter", "c", 60, 25, on_wall("kitchen-north", 0))]), "R7") == ["met"]
