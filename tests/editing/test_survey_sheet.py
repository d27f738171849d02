"""The sheet of a tape survey: what was typed, read into walls; what cannot be read, told at its place."""

from __future__ import annotations

import json
from dataclasses import asdict
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from enfilade.editing.rooms.rooms import wall_lengths
from enfilade.editing.rooms.survey_sheet import BLANK, Sheet, read_walls, room_from_sheet, sheet_of, typed_length
from enfilade.errors import BadRecord, EnfiladeError, Refused
from enfilade.geometry.traverse import Leg
from enfilade.lengths import inches
from enfilade.project.project import Project

US = Project(id="new", name="New house")
METRIC = Project.model_validate({"id": "new", "name": "New house", "show": {"units": "metric"}})


def sheet(*lengths: str, **more: Any) -> Sheet:
    return sheet_of({"name": "Kitchen", "walls": [{"length": length} for length in lengths], **more})


def places(error: BadRecord) -> list[str]:
    return [fault.place for fault in error.faults]


def test_a_plain_number_is_in_the_units_of_the_project() -> None:
    walls = ("144", "13'", "12 ft", "3.9624 m")
    assert read_walls(sheet(*walls), "us").legs == tuple(Leg(inches(n)) for n in (144, 156, 144, 156))
    assert read_walls(sheet("3600", "4.2 m", "12 ft"), "metric").legs == (Leg(3600), Leg(4200), Leg(3657.6))


def test_empty_walls_at_the_end_are_none() -> None:
    read = read_walls(sheet("12'", "", "  "), "us")
    assert read.legs == (Leg(inches(144)),)
    assert read.faults == ()


def test_a_wall_that_cannot_be_read_is_told_and_those_before_it_are_drawn() -> None:
    read = read_walls(sheet("12'", "", "oops", "-3", "10'"), "us")
    assert [fault.place for fault in read.faults] == ["walls/1/length", "walls/2/length", "walls/3/length"]
    assert read.faults[0].what == "wall 2 has no length"
    assert read.legs == (Leg(inches(144)),)


def test_a_number_that_was_meant_in_metres_is_told() -> None:
    (fault,) = read_walls(sheet("4.2", "3600"), "metric").faults
    assert fault.what == "“4.2” reads as 4 mm"
    assert "4.2 m" in fault.expected


@pytest.mark.parametrize(
    ("hand", "turn", "angle", "expected"),
    [
        ("right", "right", "", -90), ("right", "left", "", 90), ("right", "angle", "90", -90),
        ("right", "angle", "135°", -45), ("right", "angle", "270", 90), ("left", "angle", "90", 90),
        ("left", "angle", "270", -90),
    ],
)  # fmt: skip
def test_an_inside_angle_turns_towards_the_room(hand: str, turn: str, angle: str, expected: float) -> None:
    walls = [{"length": "10'", "turn": turn, "angle": angle}, {"length": "10'", "turn": turn, "angle": "90"}]
    read = read_walls(sheet_of({"hand": hand, "walls": walls}), "us")
    assert read.legs[0].turn_deg == expected


@pytest.mark.parametrize("angle", ["", "round", "0", "360", "-5", "nan", "inf"])
def test_what_is_no_angle_is_told(angle: str) -> None:
    walls = [{"length": "10'", "turn": "angle", "angle": angle}, {"length": "10'"}]
    (fault,) = read_walls(sheet_of({"walls": walls}), "us").faults
    assert fault.place == "walls/0/angle"


def test_a_wall_that_follows_runs_straight_to_the_start_where_its_corner_was_not_measured() -> None:
    walls = [{"length": "3 m"}, {"length": "4 m", "turn": "angle", "angle": ""}]
    project, id = room_from_sheet(METRIC, sheet_of({"name": "Loft", "follows": True, "walls": walls}))
    assert wall_lengths(project.space(id)) == pytest.approx((3000, 4000, 5000))  # 3, 4, 5


def test_a_finished_sheet_makes_a_room() -> None:
    done = sheet("3600", "4200", "3590", "4212", ceiling="2.4 m", spread=True, heading="east", use="pantry")
    project, id = room_from_sheet(METRIC, done)
    space = project.space(id)
    assert (space.name, space.use, space.ceiling_mm, space.measured_to) == ("Kitchen", "pantry", 2400, "finish")
    first, second, third, fourth = wall_lengths(space)
    assert first == pytest.approx(third)
    assert second == pytest.approx(fourth)
    assert space.outline[1][1] == pytest.approx(space.outline[0][1])  # the first wall runs to the east


def test_a_lining_is_assumed_whether_it_was_typed_or_not() -> None:
    walls = ("12'", "10'", "12'", "10'")
    usual, id = room_from_sheet(US, sheet(*walls, measured_to="framing"))
    assert (usual.space(id).lining_mm, usual.space(id).lining_basis) == (12.7, "assumed")
    typed, id = room_from_sheet(US, sheet(*walls, measured_to="framing", lining='5/8"'))
    assert (typed.space(id).lining_mm, typed.space(id).lining_basis) == (inches(0.625), "assumed")
    assert wall_lengths(typed.space(id))[0] == pytest.approx(inches(144 - 1.25))


def test_what_is_missing_is_told_at_its_place() -> None:
    with pytest.raises(BadRecord) as caught:
        room_from_sheet(US, sheet("12'", "x", "12'", name=" ", ceiling="high", lining="thin"))
    assert places(caught.value) == ["walls/1/length", "name", "ceiling", "lining"]
    with pytest.raises(Refused, match="no wall is taped yet"):
        room_from_sheet(US, sheet())
    with pytest.raises(Refused, match="do not come back"):
        room_from_sheet(US, sheet("12'", "10'"))


def test_diagonals_are_read_by_corner_number() -> None:
    typed = [("1", "3", "20'"), ("1", "9", "20'"), ("2", "2", "1'"), ("x", "1", "1'"), ("1", "2", ""), ("²", "1", "1'")]
    rows = [{"a": a, "b": b, "length": length} for a, b, length in typed]
    read = read_walls(sheet("12'", "16'", "12'", "16'", diagonals=rows), "us")
    assert [(d.a, d.b, d.length_mm) for d in read.diagonals.values()] == [(0, 2, inches(240))]
    assert [fault.place for fault in read.faults] == ["diagonals/1", "diagonals/2", "diagonals/3", "diagonals/5"]


def test_a_length_is_above_nothing() -> None:
    assert typed_length("12", "us") == inches(12)
    for text in ("0", "-1", "", "one"):
        with pytest.raises(EnfiladeError):
            typed_length(text, "us")


# What a stranger sends


@pytest.mark.parametrize(
    "plain",
    [
        None, [], "sheet", {"name": 5}, {"use": "ballroom"}, {"heading": "up"}, {"hand": None}, {"walls": "12"},
        {"walls": ["12"]}, {"walls": [{"length": 12}]}, {"walls": [{"turn": "round"}]}, {"walls": [{}] * 501},
        {"name": "x" * 401}, {"diagonals": [{"a": 1}]}, {"measured_to": "studs"},
    ],
)  # fmt: skip
def test_what_is_no_sheet_is_refused(plain: object) -> None:
    with pytest.raises(Refused, match="no survey that can be read"):
        sheet_of(plain)


def test_a_sheet_survives_being_kept() -> None:
    full = sheet(
        "12'",
        "x",
        wide="14'",
        deep="x",
        follows=True,
        spread=True,
        diagonals=[{"a": "1", "b": "3", "length": "2'"}],
        hand="left",
    )
    assert sheet_of(json.loads(json.dumps(asdict(full)))) == full
    assert sheet_of(asdict(BLANK)) == BLANK


texts = st.text(max_size=12)
rows = st.fixed_dictionaries({"length": texts, "turn": st.sampled_from(["right", "left", "angle"]), "angle": texts})
diagonals = st.fixed_dictionaries({"a": texts, "b": texts, "length": texts})


@given(st.lists(rows, max_size=6), st.lists(diagonals, max_size=3), st.booleans(), st.sampled_from(["us", "metric"]))
def test_no_typing_makes_the_reader_fail_otherwise(walls: Any, crossing: Any, follows: bool, system: Any) -> None:
    given_sheet = sheet_of({"name": "Room", "walls": walls, "diagonals": crossing, "follows": follows})
    read = read_walls(given_sheet, system)
    assert len(read.legs) <= len(walls) + follows
    try:
        room_from_sheet(US, given_sheet)
    except EnfiladeError:
        return
    assert len(read.legs) >= 3
