"""Measuring on a page: a room drawn by its walls or over a plan, its walls taped again, its place among the others."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

import enfilade as ef
from building import door, free, house, room, thing
from enfilade.capture.desk import Desk
from enfilade.capture.parts import handlers, rooms, scan, survey
from enfilade.capture.sight import Sight
from enfilade.capture.uploads import PIECE_BYTES
from enfilade.editing.rooms.rooms import wall_lengths
from enfilade.errors import BadRecord, EnfiladeError, NotFound, Refused
from enfilade.geometry.traverse import Leg, walked
from enfilade.project.project import Project
from picture_files import camera_jpeg
from project_folders import picture

METRIC = {"units": "metric"}


def desk_of(folder: Path, project: Project) -> Desk:
    ef.save(project, folder)
    return Desk.open(folder)


@pytest.fixture
def empty(tmp_path: Path) -> Desk:
    return desk_of(tmp_path / "new", Project.model_validate({"id": "new", "name": "New house", "show": METRIC}))


@pytest.fixture
def two(tmp_path: Path) -> Desk:
    """A kitchen with an island, and a hall to the south of it, joined by a door."""
    project = house(
        [thing("island", "island", 60, 30, free(72, 72))],
        spaces=[room(144, 144), room(144, 60, id="hall", use="hall", at=(0, -64))],
        openings=[door("way", "kitchen-south", 50, beyond="hall-north", name="hall door")],
    )
    return desk_of(tmp_path / "two", project)


def do(desk: Desk, sight: Sight, what: str, **message: Any) -> str:
    said = handlers()[what](desk, sight, {"do": what, **message})
    return said if isinstance(said, str) else said["say"]


def sheet_with(*lengths: str, **more: Any) -> dict[str, Any]:
    return {"name": "Kitchen", "walls": [{"length": length, "turn": "right"} for length in lengths], **more}


def begin(desk: Desk, sight: Sight, part: Any = survey, what: str = "draw room") -> str:
    do(desk, sight, what)
    opened: str = part.shown(desk, sight)["opened"]
    return opened


# Drawn by its walls


def test_nothing_is_shown_before_a_room_is_drawn(empty: Desk) -> None:
    assert survey.shown(empty, Sight()) == {}
    assert scan.shown(empty, Sight()) == {}
    assert rooms.shown(empty, Sight()) == {"rooms": [], "present": None, "measuring": True, "unit": "mm"}


def test_a_room_of_4_2_by_3_6_m_is_drawn_by_tape(empty: Desk) -> None:
    sight = Sight()
    opened = begin(empty, sight)
    typed = sheet_with("3.6 m", "4.2 m", "3.6 m", "4.2 m")
    do(empty, sight, "survey", opened=opened, sheet=typed)
    shown = survey.shown(empty, sight)
    assert shown["walk"]["words"] == "The walls close."
    assert shown["walk"]["area"] == "15.12 m²"
    assert shown["walk"]["gap"] == []
    assert [wall["reads"] for wall in shown["walk"]["walls"]] == ["3600 mm", "4200 mm", "3600 mm", "4200 mm"]
    assert do(empty, sight, "make room", opened=opened, sheet=typed) == "Kitchen: 15.12 m²"
    assert sight.room == "kitchen"
    assert survey.shown(empty, sight) == {}
    assert ef.load(empty.folder).space("kitchen").walls[0].name == "west wall"
    assert empty.undo() == "drew Kitchen"
    assert empty.project.spaces == ()


def test_the_closing_error_is_told_and_spread_when_asked(empty: Desk) -> None:
    sight = Sight()
    opened = begin(empty, sight)
    typed = sheet_with("3600", "4200", "3605", "4212")
    do(empty, sight, "survey", opened=opened, sheet=typed)
    walk = survey.shown(empty, sight)["walk"]
    # 5, 12, 13; the perimeter is 15 617 mm, and 15 617 / 13 = 1201.
    assert walk["words"] == "Closing error: 13 mm open, 1 in 1200; the last wall takes it up."
    assert walk["gap"] == [[pytest.approx(-12), pytest.approx(-5)], [0, 0]]
    assert len(walk["points"]) == 5
    do(empty, sight, "survey", opened=opened, sheet={**typed, "spread": True})
    walk = survey.shown(empty, sight)["walk"]
    assert walk["words"] == "Closing error: 13 mm open, 1 in 1200; spread over the walls."
    assert (walk["closes"], len(walk["points"])) == (True, 4)
    assert [wall["drawn"] for wall in walk["walls"]] == ["3602 mm", "4206 mm", "3602 mm", "4206 mm"]


@pytest.mark.parametrize(
    ("lengths", "system", "words"),
    [
        ((3600, 4200), "metric", "5532 mm from where the first wall began."),
        ((3600, 4200, 3600), "us", "13' 9 3/8\" from where the first wall began."),
        ((3600, 4200, 3600, 4200), "us", "The walls close."),
        ((3600, 4200, 3600, 4187.3), "us", 'Closing error: 1/2" open, 1 in 1200; the last wall takes it up.'),
    ],
)  # fmt: skip
def test_how_a_walk_closes_is_told_in_words(lengths: tuple[float, ...], system: Any, words: str) -> None:
    assert survey.walk_words(walked([Leg(length) for length in lengths]), system) == words


def test_corners_that_do_not_come_round_are_told() -> None:
    turns = (-90.0, -90.0, -91.0, -90.0)
    walk = walked([Leg(length, turn) for length, turn in zip((3600, 4200, 3600, 4200), turns, strict=True)])
    assert survey.walk_words(walk, "metric").endswith("add up to 361° of turning; once round is 360°.")


def test_an_unfinished_survey_survives_a_reload(empty: Desk) -> None:
    sight = Sight()
    opened = begin(empty, sight)
    do(empty, sight, "survey", opened=opened, sheet=sheet_with("3600", "four met"))
    kept = json.loads(json.dumps(empty.drafts.get(survey.DRAFT).typed))  # type: ignore[union-attr]
    empty.drafts.keep(survey.DRAFT, kept)
    shown = survey.shown(empty, Sight())
    assert [wall["length"] for wall in shown["sheet"]["walls"]] == ["3600", "four met"]
    assert shown["walk"]["faults"][0]["place"] == "walls/1/length"
    assert len(shown["walk"]["points"]) == 2
    do(empty, sight, "leave survey")
    assert survey.shown(empty, sight) == {}
    do(empty, sight, "draw room")
    assert survey.shown(empty, sight)["sheet"] == shown["sheet"]
    do(empty, sight, "clear survey")
    assert survey.shown(empty, sight)["sheet"]["walls"] == ({"length": "", "turn": "right", "angle": ""},)


def test_what_arrives_after_the_room_is_made_opens_no_sheet(empty: Desk) -> None:
    sight = Sight()
    opened = begin(empty, sight)
    typed = sheet_with("3600", "4200", "3600", "4200")
    do(empty, sight, "make room", opened=opened, sheet=typed)
    do(empty, sight, "survey", opened=opened, sheet=typed)
    assert survey.shown(empty, sight) == {}
    later = begin(empty, sight)
    do(empty, sight, "survey", opened=opened, sheet=typed)
    assert survey.shown(empty, sight)["sheet"]["name"] == ""
    assert later != opened


def test_a_room_that_cannot_be_made_is_told_at_its_fields_and_kept(empty: Desk) -> None:
    sight = Sight()
    opened = begin(empty, sight)
    typed = sheet_with("3600", "x", "3600", name="", ceiling="-1")
    with pytest.raises(BadRecord) as caught:
        do(empty, sight, "make room", opened=opened, sheet=typed)
    assert [fault.place for fault in caught.value.faults] == ["walls/1/length", "name", "ceiling"]
    assert survey.shown(empty, sight)["sheet"]["walls"][1]["length"] == "x"
    odd = sheet_with("3600", "4200", "3600", "4200", name="Kit\x07chen")
    with pytest.raises(BadRecord) as odd_name:
        do(empty, sight, "make room", opened=opened, sheet=odd)
    assert [fault.place for fault in odd_name.value.faults] == ["name"]


def test_lengths_in_a_refusal_are_in_the_units_of_the_project(two: Desk) -> None:
    sight = Sight()
    begin(two, sight)
    with pytest.raises(Refused, match="12' 0\" are missing"):
        do(two, sight, "make room", sheet=sheet_with("12'", "12'", "12'"))


@pytest.mark.parametrize("sheet", [None, 5, "x", {"walls": 5}, {"name": ["x"]}])
def test_a_sheet_from_a_stranger_is_refused(empty: Desk, sheet: Any) -> None:
    sight = Sight()
    opened = begin(empty, sight)
    for what in ("survey", "make room"):
        with pytest.raises(Refused, match="no survey that can be read"):
            do(empty, sight, what, opened=opened, sheet=sheet)
    empty.drafts.keep(survey.DRAFT, {"opened": "x", "sheet": sheet})
    assert survey.shown(empty, sight)["walk"]["words"] == "No wall is taped yet."


# Walls taped again


def test_a_wall_is_taped_again(two: Desk) -> None:
    sight = Sight(room="kitchen")
    said = do(two, sight, "tape wall", wall="kitchen-west", typed="12' 6\"", keeps="left")
    assert said == "wall 2 12' 6\", wall 4 12' 6\""
    assert wall_lengths(two.project.space("kitchen"))[3] == pytest.approx(3810)
    said = do(two, sight, "tape wall", wall="kitchen-west", typed="13'", keeps="right")
    assert said.endswith("Hall moved along")
    assert ef.load(two.folder) == two.project
    assert two.undo().endswith("again")


def test_a_length_that_cannot_be_taken_is_kept_at_its_wall(two: Desk) -> None:
    sight = Sight(room="kitchen")
    do(two, sight, "keep wall", wall="kitchen-north", typed="4")
    with pytest.raises(BadRecord) as caught:
        do(two, sight, "tape wall", wall="kitchen-north", typed="48", keeps="left")
    (fault,) = caught.value.faults
    assert fault.place == "walls/kitchen-north/length"
    assert "would" in fault.what
    wall = rooms.shown(two, sight)["present"]["walls"][2]
    assert (wall["typed"], wall["length"]) == ("48", "12' 0\"")
    assert wall["error"] == fault.what
    do(two, sight, "tape wall", wall="kitchen-north", typed="13'", keeps="left")
    assert rooms.shown(two, sight)["present"]["walls"][2]["typed"] is None
    assert do(two, sight, "tape wall", wall="kitchen-north", typed=" ") == ""
    for wall_id in ("attic-north", "kitchen"):
        with pytest.raises(NotFound):
            do(two, sight, "tape wall", wall=wall_id, typed="13'")


def test_a_lining_is_measured_once_it_hangs(empty: Desk) -> None:
    sight = Sight()
    begin(empty, sight)
    do(empty, sight, "make room", sheet=sheet_with("3600", "4200", "3600", "4200", measured_to="framing", lining="12"))
    assert rooms.shown(empty, sight)["present"]["lining"] == {"size": "12 mm", "assumed": True}
    do(empty, sight, "lining taped", typed="25")
    assert rooms.shown(empty, sight)["present"]["lining"] == {"size": "25 mm", "assumed": False}
    assert wall_lengths(empty.project.space("kitchen"))[0] == pytest.approx(3550)
    with pytest.raises(BadRecord) as caught:
        do(empty, sight, "lining taped", typed="thick")
    assert caught.value.faults[0].place == "lining"


# Its place among the others


def test_rooms_are_listed_and_one_is_set_behind_the_wall_of_another(two: Desk) -> None:
    sight = Sight()
    begin(two, sight)
    do(two, sight, "make room", sheet=sheet_with("10'", "8'", "10'", "8'", name="Study", use="study"))
    shown = rooms.shown(two, sight)
    assert [(one["name"], one["use"], one["area"], one["here"]) for one in shown["rooms"]] == [
        ("Kitchen", "kitchen", "144 sq ft", False),
        ("Hall", "hall", "60 sq ft", False),
        ("Study", "study", "80 sq ft", True),
    ]
    assert len(shown["present"]["others"]) == 8
    said = do(two, sight, "join room", wall="study-west", beyond="kitchen-east", offset="1'", thickness='4 1/2"')
    assert said == "Study stands behind Kitchen. Study: 80 sq ft"
    assert rooms.shown(two, sight)["present"]["overlaps"] == []
    do(two, sight, "move room", right="-2'", up="")
    assert rooms.shown(two, sight)["present"]["overlaps"] == ["Kitchen"]
    for message, place in (
        ({"offset": "x", "thickness": ""}, "offset"),
        ({"offset": "", "thickness": "y"}, "thickness"),
    ):
        with pytest.raises(BadRecord) as caught:
            do(two, sight, "join room", wall="study-west", beyond="kitchen-east", **message)
        assert caught.value.faults[0].place == place
    with pytest.raises(Refused, match="less than 12' 0\""):
        do(two, sight, "join room", wall="study-west", beyond="kitchen-east", offset="40'", thickness="")


def test_what_is_typed_about_a_place_survives_a_reload(two: Desk) -> None:
    sight = Sight(room="hall")
    typed = dict.fromkeys(("lining", "wall", "beyond", "thickness", "up"), "") | {"offset": "3'", "right": "2"}
    do(two, sight, "keep place", space="hall", typed=typed)
    assert rooms.shown(two, sight)["present"]["typed"] == typed
    assert rooms.shown(two, Sight(room="kitchen"))["present"]["typed"]["offset"] == ""
    do(two, sight, "move room", right="2", up="")
    assert rooms.shown(two, sight)["present"]["typed"] == typed | {"right": ""}
    do(two, sight, "join room", wall="hall-north", beyond="kitchen-south", offset="0", thickness="")
    assert not any(rooms.shown(two, sight)["present"]["typed"].values())
    for bad in (None, [], {}, typed | {"up": 5}, typed | {"up": "x" * 401}):
        with pytest.raises(Refused):
            do(two, sight, "keep place", space="hall", typed=bad)


def test_a_room_goes_only_when_it_is_empty_or_that_was_asked(two: Desk) -> None:
    sight = Sight(room="kitchen")
    assert rooms.shown(two, sight)["present"]["holds"] == ["1 thing"]
    with pytest.raises(Refused, match="Kitchen is not empty"):
        do(two, sight, "take room out", all=False)
    do(two, sight, "take room out", all=True)
    assert sight.room == "hall"
    assert [space.id for space in two.project.spaces] == ["hall"]
    assert two.project.openings[0].wall == "hall-north"


# Over a scanned plan


def upload(desk: Desk, sight: Sight, data: bytes, opened: str, sheet: dict[str, Any]) -> None:
    pieces = [data[at : at + PIECE_BYTES] for at in range(0, len(data), PIECE_BYTES)]
    for index, piece in enumerate(pieces):
        do(desk, sight, "add plan", called="plan.png", upload="u", index=index, last=index == len(pieces) - 1,
           buffers=[piece], opened=opened, sheet=sheet)  # fmt: skip


def test_a_room_is_drawn_over_a_plan(empty: Desk) -> None:
    sight = Sight()
    opened = begin(empty, sight, scan, "draw over plan")
    upload(empty, sight, picture(1000, 800), opened, {})
    sheet = {**scan.shown(empty, sight)["sheet"], "marks": [[100, 700], [900, 700]], "distance": "8 m"}
    assert scan.shown(empty, sight)["plan"] == {"id": "scanned-plan", "width": 1000, "height": 800}
    shown = handlers()["plan picture"](empty, sight, {"plan": "scanned-plan"})
    assert isinstance(shown, dict)
    assert shown["picture"].startswith("data:image/jpeg;base64,")
    said = do(empty, sight, "scale plan", opened=opened, sheet=sheet)
    assert "3000 mm would be 4 mm out" in said  # 3000 / 800
    assert scan.shown(empty, sight)["scale"] == "Set to scale: a pixel is 10 mm, the whole picture 10000 mm by 8000 mm."
    corners = [[100, 700], [520, 702], [519, 340], [100, 340]]
    do(empty, sight, "plan marks", opened=opened, sheet={**sheet, "corners": corners})
    assert scan.shown(empty, sight)["walls"] == ["4195 mm", "3610 mm", "4195 mm", "3610 mm"]
    with pytest.raises(BadRecord) as caught:
        do(empty, sight, "room over plan", opened=opened, sheet={**sheet, "corners": corners})
    assert caught.value.faults[0].place == "name"
    do(empty, sight, "room over plan", opened=opened, sheet={**sheet, "corners": corners, "name": "Kitchen"})
    assert empty.project.space("kitchen").basis == "assumed"
    assert sight.room == "kitchen"
    again = scan.shown(empty, sight)
    assert (again["sheet"]["corners"], again["sheet"]["name"], len(again["drawn"])) == ([], "", 1)
    do(empty, sight, "all walls taped")
    assert empty.project.space("kitchen").basis == "measured"
    assert ef.load(empty.folder) == empty.project
    do(empty, sight, "leave plan")
    assert scan.shown(empty, sight) == {}


def test_a_plan_that_a_telephone_took_lying_down_is_counted_as_it_is_seen(empty: Desk) -> None:
    sight = Sight()
    opened = begin(empty, sight, scan, "draw over plan")
    upload(empty, sight, camera_jpeg(6), opened, {})
    plan = scan.shown(empty, sight)["plan"]
    assert (plan["width"], plan["height"]) == (32, 48)  # stored as 48 x 32, a quarter turned


def test_what_sets_no_scale_is_told_at_its_field(empty: Desk) -> None:
    sight = Sight()
    opened = begin(empty, sight, scan, "draw over plan")
    upload(empty, sight, picture(1000, 800), opened, {})
    sheet = scan.shown(empty, sight)["sheet"]
    for marks, distance, place in (
        ([[1, 1]], "4 m", "marks"), ([[1, 1], [500, 1]], "far", "distance"), ([[1, 1], [1, 2]], "4 m", "distance"),
        ([[0, 0], [2, 0]], "900 m", "distance"),
    ):  # fmt: skip
        with pytest.raises(BadRecord) as caught:
            do(empty, sight, "scale plan", opened=opened, sheet={**sheet, "marks": marks, "distance": distance})
        assert caught.value.faults[0].place == place


@pytest.mark.parametrize(
    "sheet",
    [
        None, [], {"marks": 5}, {"marks": [[1]]}, {"corners": [["a", 2]]}, {"corners": [[True, 2]]},
        {"corners": [[1e9, 2]]}, {"corners": [[float("nan"), 2]]}, {"corners": [[0, 0]] * 501}, {"name": 5},
        {"level": "yes"}, {"use": "x"},
    ],
)  # fmt: skip
def test_marks_from_a_stranger_are_refused(empty: Desk, sheet: Any) -> None:
    sight = Sight()
    opened = begin(empty, sight, scan, "draw over plan")
    with pytest.raises(Refused, match="no plan that can be read"):
        do(empty, sight, "plan marks", opened=opened, sheet=sheet)
    with pytest.raises(EnfiladeError):
        do(empty, sight, "plan picture", plan="attic")
    empty.drafts.keep(scan.DRAFT, {"opened": "x", "sheet": None})
    assert scan.shown(empty, sight)["plan"] is None


def test_no_word_of_the_surveyor_is_on_the_page() -> None:
    folder = Path(survey.__file__).parents[1] / "js"
    for name in ("survey", "rooms", "scan", "scanned", "walk", "diagonals", "entry"):
        text = (folder / f"{name}.js").read_text("utf-8").lower()
        assert "traverse" not in text
        assert "bowditch" not in text
