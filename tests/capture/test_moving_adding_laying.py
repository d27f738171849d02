"""What is done on the page to things and openings: each message changes the house, says what it did, can be undone."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from building import door, free, house, on_wall, room, set_in, thing, window
from enfilade.capture.desk import Desk
from enfilade.capture.parts import adding, handlers, laying, moving
from enfilade.capture.sight import Sight
from enfilade.editing.things.default_sizes import OPENING_KINDS
from enfilade.errors import BadRecord, EnfiladeError, NotFound, Refused
from enfilade.lengths import inches, to_inches
from enfilade.project.placing import AgainstWall
from enfilade.project.store import save
from enfilade.project.things import KINDS


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    """A kitchen of 15 x 12 ft with a run, an island, a door and a window, and a hall beyond."""
    rooms = [room(180, 144), room(100, 144, id="hall", at=(185, 0))]
    rooms[0]["walls"] = [
        {"id": f"kitchen-{name}", "name": f"{name} wall"} for name in ("south", "east", "north", "west")
    ]
    things = [
        thing("base cabinet", "base", 60, 24, on_wall("kitchen-north", 30)),
        thing("counter", "top", 60, 25, on_wall("kitchen-north", 30), bottom=34.5, top=36),
        thing("sink", "sink", 24, 18, set_in("top", 10, 3)),
        thing("island", "island", 60, 36, free(90, 60, 180)),
    ]
    openings = [door("way", "kitchen-east", 20, 36, beyond="hall-west"), window("view", "kitchen-north", 60, 30)]
    folder = tmp_path / "project"
    save(house(things, spaces=rooms, openings=openings), folder)
    return Desk.open(folder)


@pytest.fixture
def sight() -> Sight:
    return Sight(room="kitchen")


def ask(desk: Desk, sight: Sight, do: str, **message: Any) -> str:
    """Send a message, and return what is said."""
    said = handlers()[do](desk, sight, {"do": do, "number": 1, "buffers": [], **message})
    return said if isinstance(said, str) else str(said["say"])


def refusal(desk: Desk, sight: Sight, do: str, **message: Any) -> dict[str, str]:
    """Send a message that is refused at a field, and return what is told there."""
    before = desk.project
    with pytest.raises(BadRecord) as refused:
        ask(desk, sight, do, **message)
    assert desk.project is before
    return {fault.place: f"{fault.what}; {fault.expected}" for fault in refused.value.faults}


def test_moving_says_the_new_clear_widths(desk: Desk, sight: Sight) -> None:
    said = ask(desk, sight, "move", list="things", id="island", x=inches(90), y=inches(61), turn=180, wall=None)
    assert said.startswith("Island moved. Stands free, turned 180 degrees. Clear: ")
    assert '40" to the counter in front' in said
    assert desk.undo_words == "moved the island"
    assert desk.undo() == "moved the island"
    assert desk.project.thing("island").place.y_mm == inches(60)  # type: ignore[union-attr]


def test_moving_to_a_wall_and_where_it_stands_already(desk: Desk, sight: Sight) -> None:
    said = ask(desk, sight, "move", id="island", x=inches(15), y=inches(60), turn=0, wall="kitchen-west")
    assert "Island moved. Against the west wall, 2' 6\" from its left end." in said
    steps = desk.undo_words
    again = ask(desk, sight, "move", id="island", x=inches(18), y=inches(60), turn=0, wall="kitchen-west")
    assert again.startswith("Island stays where it is.")
    assert desk.undo_words == steps


def test_an_opening_moves_along_its_wall(desk: Desk, sight: Sight) -> None:
    said = ask(desk, sight, "move", list="openings", id="way", x=inches(180), y=inches(60), turn=0, wall="kitchen-east")
    assert said.startswith("Door moved. In the east wall, 5' 6\" from its left end.")


def test_nudges_in_a_row_are_undone_at_once(desk: Desk, sight: Sight) -> None:
    for _ in range(3):
        ask(desk, sight, "nudge", id="island", dx=0.0, dy=-inches(1))
    assert to_inches(desk.project.thing("island").place.y_mm) == pytest.approx(57)  # type: ignore[union-attr]
    assert desk.undo() == "moved the island"
    assert to_inches(desk.project.thing("island").place.y_mm) == pytest.approx(60)  # type: ignore[union-attr]


def test_turning(desk: Desk, sight: Sight) -> None:
    assert ask(desk, sight, "turn", list="things", id="island", deg=90).startswith(
        "Island turned. Stands free, turned 270"
    )
    with pytest.raises(Refused, match="swing"):
        ask(desk, sight, "turn", list="openings", id="way", deg=90)
    with pytest.raises(Refused, match="quarter"):
        ask(desk, sight, "turn", id="sink", deg=30)


def test_typing_exact_distances(desk: Desk, sight: Sight) -> None:
    assert "from its right end" in ask(desk, sight, "offset", id="top", end="right", typed="3' 4\"")
    place = desk.project.thing("top").place
    assert place == AgainstWall(wall="kitchen-north", from_end="right", offset_mm=inches(40))
    said = ask(desk, sight, "clear", id="island", side="front", typed="42")
    assert '42" to the counter in front' in said
    assert said.endswith("Measured from the counter.")
    assert "from its left end" in ask(desk, sight, "offset", id="way", end="left", typed="12")
    ask(desk, sight, "offset", id="way", end="right")
    assert desk.project.openings[0].from_end == "right"


def test_distances_that_cannot_be_are_told_at_their_field(desk: Desk, sight: Sight) -> None:
    assert "past an end" in refusal(desk, sight, "offset", id="top", end="left", typed="200")["offset"]
    assert "not a length" in refusal(desk, sight, "offset", id="top", end="left", typed="banana")["offset"]
    assert "stands free" in refusal(desk, sight, "offset", id="island", end="left", typed="1")["offset"]
    assert "clear width" in refusal(desk, sight, "clear", id="island", side="front", typed="-1")["clear"]


def test_taking_out_and_copying(desk: Desk, sight: Sight) -> None:
    assert ask(desk, sight, "copy", id="island").startswith("Island copied. Stands free")
    assert sight.selected == ("things", "island-2")
    assert ask(desk, sight, "remove", list="things", id="top").startswith("Counter taken out, with sink")
    assert "sink" not in desk.project.things_by_id
    assert desk.undo() == "took out the counter"
    assert "sink" in desk.project.things_by_id
    assert ask(desk, sight, "remove", list="openings", id="view") == "Window taken out"
    with pytest.raises(Refused, match="not copied"):
        ask(desk, sight, "copy", list="openings", id="way")


def test_the_page_shows_nothing_of_moving_itself(desk: Desk, sight: Sight) -> None:
    assert moving.shown(desk, sight) == {}


def test_adding_offers_every_kind_and_where_it_can_go(desk: Desk, sight: Sight) -> None:
    state = adding.shown(desk, sight)
    offered = [one["value"].split("/")[:2] for group in state["groups"] for one in group["kinds"]]
    assert {kind for records, kind in offered if records == "things"} == set(KINDS)
    assert {kind for records, kind in offered if records == "openings"} == set(OPENING_KINDS)
    assert state["walls"][0] == ["wall/kitchen-south", "the south wall"]
    assert state["hosts"] == [["in/top", "counter", "counter"], ["in/island", "island", "island"]]
    by_value = {one["value"]: one for group in state["groups"] for one in group["kinds"]}
    assert by_value["things/island/"]["width"] == '72"'
    assert by_value["things/island/"]["seats"]
    assert by_value["things/sink/"]["hosts"] == ["counter", "island", "peninsula"]
    assert adding.shown(desk, Sight())["nothing"]


@pytest.mark.parametrize("kind", sorted(set(KINDS) - {"appliance garage"}))
def test_every_offered_kind_can_be_added_and_is_then_selected(desk: Desk, sight: Sight, kind: str) -> None:
    said = ask(desk, sight, "add thing", kind=kind, what="", where="", width="", seats="")
    assert sight.selected is not None
    assert sight.selected[0] == "things"
    assert desk.project.thing(sight.selected[1]).kind == kind
    assert said.endswith("Its sizes are assumed.")
    assert desk.undo_words.endswith(kind)


def test_adding_where_and_how_wide_it_is_wanted(desk: Desk, sight: Sight) -> None:
    said = ask(desk, sight, "add thing", kind="refrigerator", where="wall/kitchen-west", width="33", seats="")
    assert said.startswith("Refrigerator added. Against the west wall")
    assert said.endswith("Its other sizes are assumed.")
    assert desk.project.thing("refrigerator").width_mm == inches(33)
    ask(desk, sight, "add thing", kind="cooktop", where="in/island", width="")
    assert desk.project.thing("cooktop").place.host == "island"  # type: ignore[union-attr]
    ask(desk, sight, "add thing", kind="table", where="", seats="6")
    assert sum(row.count for row in desk.project.thing("table").seating) == 6  # type: ignore[attr-defined]
    ask(desk, sight, "add thing", kind="seat", what="stool", where="")
    assert desk.project.thing("stool").what == "stool"  # type: ignore[attr-defined]
    ask(desk, sight, "add thing", kind="range", where="floor")
    assert desk.project.thing("range").place.how == "free"


def test_what_is_selected_carries_what_is_added(desk: Desk, sight: Sight) -> None:
    sight.selected = ("things", "island")
    ask(desk, sight, "add thing", kind="cooktop", where="")
    assert desk.project.thing("cooktop").place.host == "island"  # type: ignore[union-attr]
    ask(desk, sight, "add thing", kind="hood", where="")  # the cooktop is selected now
    assert desk.project.thing("hood").place.how == "free"
    sight.selected = ("things", "base")
    ask(desk, sight, "add thing", kind="table", where="")
    assert desk.project.thing("table").place.how == "free"


def test_adding_an_opening(desk: Desk, sight: Sight) -> None:
    said = ask(desk, sight, "add opening", kind="door", where="wall/kitchen-east", width="30", offset="80")
    assert said.startswith("Door added. In the east wall, 6' 8\" from its left end.")
    new = desk.project.openings[-1]
    assert (new.width_mm, new.beyond) == (inches(30), "hall-west")
    assert sight.selected == ("openings", new.id)


@pytest.mark.parametrize(
    ("do", "message", "place", "words"),
    [
        ("add thing", {"kind": ""}, "what", "nothing is chosen"),
        ("add thing", {"kind": "table", "width": "banana"}, "width", "not a length"),
        ("add thing", {"kind": "table", "width": "-2"}, "width", "below 0"),
        ("add thing", {"kind": "table", "width": "0"}, "where", "cannot be"),
        ("add thing", {"kind": "table", "seats": "many"}, "seats", "no number of people"),
        ("add thing", {"kind": "table", "seats": "40"}, "seats", "40"),
        ("add thing", {"kind": "table", "where": "wall/gone"}, "where", "not there any more"),
        ("add thing", {"kind": "table", "where": "up/there"}, "where", "not there any more"),
        ("add thing", {"kind": "dragon"}, "where", "dragon"),
        ("add opening", {"kind": "door", "where": ""}, "where", "no wall is chosen"),
        ("add opening", {"kind": "door", "where": "wall/kitchen-east", "width": "200"}, "width", "does not fit"),
        ("add opening", {"kind": "door", "where": "wall/kitchen-east", "offset": "200"}, "offset", "past an end"),
    ],
)
def test_what_cannot_be_added_is_told_at_its_field(
    desk: Desk, sight: Sight, do: str, message: dict[str, Any], place: str, words: str
) -> None:
    assert words in refusal(desk, sight, do, **message)[place]


def test_what_was_chosen_and_not_added_is_there_after_a_reload(desk: Desk, sight: Sight) -> None:
    sheet = {"what": "things/island/", "where": "", "width": "8", "seats": "", "offset": ""}
    ask(desk, sight, "adding", sheet=sheet)
    assert adding.shown(desk, sight)["sheet"] == sheet
    ask(desk, sight, "add thing", kind="island", where="", width="84")
    assert adding.shown(desk, sight)["sheet"] == sheet | {"width": ""}


SHEET = {"wall": "kitchen-west", "from_end": "left", "row": "lower", "stretch": "", "text": "", "replace": False}


def test_a_run_is_read_while_it_is_typed(desk: Desk, sight: Sight) -> None:
    state = laying.shown(desk, sight)
    assert state["walls"][3] == ["kitchen-west", "west wall"]
    assert state["sheet"]["wall"] == "kitchen-south"  # the longest, the first of two
    said = handlers()["read run"](
        desk, sight, {"room": "kitchen", "sheet": SHEET | {"text": "36, 24 dishwasher, 30 rang"}}
    )
    assert isinstance(said, dict)
    reading = said["reading"]
    assert [(row["no"], row["what"], row["width"]) for row in reading["rows"]] == [
        (1, "base cabinet", '36"'), (2, "dishwasher", '24"'),
    ]  # fmt: skip
    (fault,) = reading["faults"]
    assert fault["no"] == 3
    assert "“rang” is not known here; expected range" in fault["words"]
    # In the north the run under the window ends 30 in short of the west wall: all 144 in are free.
    assert reading["words"] == 'Of 144", from corner to corner, 84" is left over so far.'
    assert not reading["ready"]
    assert laying.shown(desk, sight)["reading"] == reading
    assert laying.shown(desk, sight)["sheet"]["text"] == "36, 24 dishwasher, 30 rang"


def test_a_run_is_laid_as_it_was_read(desk: Desk, sight: Sight) -> None:
    sheet = SHEET | {"text": "36, 24 dishwasher, 36 sink, 30 range, 15, 3 filler"}
    reading = handlers()["read run"](desk, sight, {"room": "kitchen", "sheet": sheet})["reading"]  # type: ignore[index]
    assert reading["ready"]
    assert reading["words"].endswith("nothing is left over.")
    said = ask(desk, sight, "lay run", room="kitchen", sheet=sheet)
    assert said == "Laid 6 along the west wall, nothing is left over. Their depths and heights are assumed."
    assert desk.undo_words == "laid a run along the west wall"
    assert sight.selected == ("things", "base-cabinet")
    assert laying.shown(desk, sight)["sheet"]["text"] == ""
    before = len(desk.project.things)
    desk.undo()
    assert len(desk.project.things) < before


def test_what_is_in_the_way_can_be_taken_out_on_request(desk: Desk, sight: Sight) -> None:
    sheet = SHEET | {"wall": "kitchen-north", "text": "36, 36"}
    state = handlers()["read run"](desk, sight, {"room": "kitchen", "sheet": sheet})["reading"]  # type: ignore[index]
    assert state["there"] == ["base cabinet", "counter"]
    assert not state["ready"]
    assert "stand where the run goes" in refusal(desk, sight, "lay run", room="kitchen", sheet=sheet)["text"]
    said = ask(desk, sight, "lay run", room="kitchen", sheet=sheet | {"replace": True})
    assert "taken out: base cabinet, counter, sink" in said


def test_a_stretch_can_be_chosen(desk: Desk, sight: Sight) -> None:
    sheet = SHEET | {"wall": "kitchen-east", "text": "18"}
    reading = handlers()["read run"](desk, sight, {"room": "kitchen", "sheet": sheet})["reading"]  # type: ignore[index]
    assert [words for _, words in reading["stretches"]] == [
        "1' 8\", from the corner to the door", "7' 4\", from the door to the corner",
    ]  # fmt: skip
    second = reading["stretches"][1][0]
    ask(desk, sight, "lay run", room="kitchen", sheet=sheet | {"stretch": second})
    assert to_inches(desk.project.thing("base-cabinet").place.offset_mm) == 56  # type: ignore[union-attr]


@pytest.mark.parametrize(
    ("sheet", "words"),
    [
        ({"text": ""}, "no width is typed"),
        ({"text": "36 stove"}, "several things"),
        ({"text": "90, 90"}, "too long"),
        ({"text": "36", "stretch": "0/900000"}, "does not lie on the west wall"),
        ({"text": "36", "stretch": "nan/nan"}, "does not lie on the west wall"),
    ],
)
def test_a_run_that_cannot_be_laid_is_told_at_its_text(
    desk: Desk, sight: Sight, sheet: dict[str, Any], words: str
) -> None:
    assert words in refusal(desk, sight, "lay run", room="kitchen", sheet=SHEET | sheet)["text"]


def test_a_room_without_walls_or_without_a_room_has_no_run(desk: Desk) -> None:
    assert laying.shown(desk, Sight())["nothing"]


odd = st.recursive(
    st.none() | st.booleans() | st.floats() | st.integers() | st.text(max_size=20),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=8), inner, max_size=3),
    max_leaves=6,
)
names = st.sampled_from(
    ["id", "list", "x", "y", "turn", "wall", "dx", "dy", "step", "deg", "end", "side", "typed", "kind", "what", "where",
     "width", "seats", "offset", "room", "sheet"]
)  # fmt: skip
likely = st.sampled_from(
    ["island", "sink", "way", "things", "openings", "left", "front", "fine", "kitchen", "kitchen-north", "table",
     "door",
     "wall/kitchen-west", "36, 24 sink", 90, 12.5, SHEET, SHEET | {"text": "36, 24 sink"}]
)  # fmt: skip
OURS = sorted({*moving.HANDLERS, *adding.HANDLERS, *laying.HANDLERS})


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.sampled_from(OURS), st.dictionaries(names, likely | odd, max_size=9))
def test_any_message_is_done_or_refused_in_words(desk: Desk, sight: Sight, do: str, message: dict[str, Any]) -> None:
    try:
        said = ask(desk, sight, do, **message)
    except EnfiladeError as error:
        said = str(error)
    desk.project.verified()
    assert said or do in ("adding", "read run")


def test_what_is_gone_meanwhile_is_refused(desk: Desk, sight: Sight) -> None:
    for do, more in (("move", {"x": 0, "y": 0, "turn": 0}), ("remove", {}), ("copy", {}), ("turn", {"deg": 90})):
        with pytest.raises(NotFound, match="not in the project any more"):
            ask(desk, sight, do, id="gone", **more)
    with pytest.raises(Refused):
        ask(desk, sight, "move", id="island", x="1", y=0, turn=0)
    with pytest.raises(Refused, match="wall"):
        ask(desk, sight, "move", id="island", x=1, y=0, turn=0, wall="gone")
    with pytest.raises(Refused, match="room"):
        ask(desk, sight, "lay run", room="gone", sheet=SHEET)
