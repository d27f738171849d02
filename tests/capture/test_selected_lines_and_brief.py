"""The form of what is selected, the lines to speak, and the forms of the house as a whole."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

import enfilade as ef
from building import door, free, house, on_wall, set_in, thing
from enfilade.capture.desk import Desk
from enfilade.capture.parts import brief, fields, lines, selected
from enfilade.capture.sight import Sight
from enfilade.errors import BadRecord, Refused
from enfilade.project.people import Brief, Client, Household, Show
from enfilade.standards.yardsticks import yardstick


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    project = house(
        [
            thing("counter", "top", 60, 25, on_wall("kitchen-north", 10), name="long bench"),
            thing("sink", "sink", 30, 20, set_in("top", 3)),
            thing("island", "island", 40, 36, free(60, 60)),
        ],
        openings=[door("d", "kitchen-west", 10)],
        household={"people": [{"id": "ann", "name": "Ann"}]},
    )
    ef.save(project, tmp_path / "house")
    return Desk.open(tmp_path / "house")


@pytest.fixture
def sight() -> Sight:
    return Sight(room="kitchen")


def set_typed(desk: Desk, sight: Sight, path: list[str], typed: Any) -> dict[str, Any]:
    answer: dict[str, Any] = fields.HANDLERS["set"](desk, sight, {"path": path, "typed": typed})
    return answer


@pytest.mark.parametrize(
    ("path", "title", "first"),
    [
        (("things", "top"), "Long bench", ["name", "place", "width_mm", "depth_mm", "bottom_mm", "top_mm", "state",
                                            "basis"]),
        (("openings", "d"), "Door", ["name", "kind", "wall", "from_end", "offset_mm", "width_mm", "depth_mm",
                                     "height_mm", "sill_mm", "state", "basis"]),
        (("walls", "kitchen-north"), "Side 3 of Kitchen", ["name", "open", "state"]),
        (("spaces", "kitchen"), "Kitchen", ["name", "use", "ceiling_mm", "basis"]),
    ],
)  # fmt: skip
def test_the_few_fields_that_matter_come_first(
    desk: Desk, sight: Sight, path: tuple[str, str], title: str, first: list[str]
) -> None:
    sight.selected = path
    state = selected.shown(desk, sight)
    assert state["title"] == title
    assert [field["name"] for field in state["first"]] == first
    assert state["rest"]
    assert state["remove"] == (path[0] in ("things", "openings"))
    json.dumps(state)


def test_nothing_selected_says_what_to_do(desk: Desk, sight: Sight) -> None:
    assert "Select a thing" in selected.shown(desk, sight)["nothing"]
    for name in ("remove selected", "copy selected"):
        with pytest.raises(Refused):
            selected.HANDLERS[name](desk, sight, {})


def test_what_is_taken_out_takes_along_what_is_set_in_it_and_comes_back(desk: Desk, sight: Sight) -> None:
    sight.selected = ("things", "top")
    said = selected.HANDLERS["remove selected"](desk, sight, {})
    assert said == "Long bench taken out, with sink"
    assert list(desk.project.things_by_id) == ["island"]
    assert sight.selected is None
    assert desk.undo() == "took out long bench"
    assert len(desk.project.things) == 3


def test_a_copy_stands_beside_and_is_selected(desk: Desk, sight: Sight) -> None:
    sight.selected = ("things", "island")
    selected.HANDLERS["copy selected"](desk, sight, {})
    assert sight.selected is not None
    assert desk.project.thing(sight.selected[1]).kind == "island"
    assert sight.selected[1] != "island"


def test_a_mistake_in_what_is_folded_away_opens_it(desk: Desk, sight: Sight) -> None:
    sight.selected = ("things", "top")
    assert selected.shown(desk, sight)["open"] is False
    with pytest.raises(BadRecord):
        set_typed(desk, sight, ["things", "top", "thickness_mm"], "thick")
    assert selected.shown(desk, sight)["open"] is True


def test_lines_are_kept_while_they_are_typed_a_paragraph_a_line(desk: Desk, sight: Sight) -> None:
    assert lines.shown(desk, sight)["text"] == ""
    set_typed(desk, sight, ["lines", "kitchen"], "Stand he")
    set_typed(desk, sight, ["lines", "kitchen"], "Stand here.\n\nLook at the river.\n")
    (stop,) = desk.project.script
    assert (stop.space, [line.text for line in stop.lines]) == ("kitchen", ["Stand here.", "Look at the river."])
    state = lines.shown(desk, sight)
    assert (state["text"], state["words"]) == ("Stand here.\nLook at the river.", "6 words")
    assert ef.load(desk.folder).script[0].lines == stop.lines
    assert desk.undo() == "wrote the lines of Kitchen"
    assert desk.project.script == ()


def test_lines_that_cannot_be_taken_are_kept_beside(desk: Desk, sight: Sight) -> None:
    with pytest.raises(BadRecord):
        set_typed(desk, sight, ["lines", "kitchen"], "Bell\x07")
    state = lines.shown(desk, sight)
    assert state["typed"] == "Bell\x07"
    assert "U+0007" in state["error"]
    set_typed(desk, sight, ["lines", "kitchen"], "Bell")
    assert "typed" not in lines.shown(desk, sight)


def test_no_room_has_no_lines(desk: Desk) -> None:
    assert "nothing" in lines.shown(desk, Sight(room=None))


def test_the_house_as_a_whole_is_all_there(desk: Desk, sight: Sight) -> None:
    state = brief.shown(desk, sight)
    told = {section["title"]: {field["name"]: field for field in section["fields"]} for section in state["sections"]}
    assert told["What was asked for"].keys() == Brief.model_fields.keys()
    assert told["Who lives here"].keys() == Household.model_fields.keys()
    assert told["For whom"].keys() == Client.model_fields.keys()
    assert told["How it is shown"].keys() == {"name", "yardstick", *Show.model_fields} - {"speaking", "filming"}
    held = told["How it is shown"]["yardstick"]
    assert {"value": "us", "label": yardstick("us").title} in held["options"]
    set_typed(desk, sight, ["yardstick"], "us-access")
    set_typed(desk, sight, ["show", "units"], "metric")
    assert (desk.project.yardstick, desk.project.show.units) == ("us-access", "metric")
    with pytest.raises(BadRecord, match="not a yardstick"):
        set_typed(desk, sight, ["yardstick"], "mine")
    # Lengths read in the new units at once.
    sight.selected = ("things", "island")
    width = next(field for field in selected.shown(desk, sight)["first"] if field["name"] == "width_mm")
    assert width["shown"] == "1016 mm"  # 40 in
