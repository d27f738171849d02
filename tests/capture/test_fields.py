"""What is typed on a page: taken at once, or kept with the reason until it can be."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

import enfilade as ef
from building import door, free, house, on_wall, set_in, thing
from enfilade.capture.desk import Desk
from enfilade.capture.parts import fields, handlers
from enfilade.capture.sight import Sight
from enfilade.editing.forms.forms import Forms
from enfilade.editing.forms.offers import Offers
from enfilade.errors import BadRecord, EnfiladeError, NotFound, Refused
from enfilade.lengths import inches

ISLAND = ["things", "island"]


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    project = house(
        [
            thing("counter", "top", 60, 25, on_wall("kitchen-north", 10), finish="oak"),
            thing("sink", "sink", 30, 20, set_in("top", 3)),
            thing("island", "island", 60, 36, free(72, 60)),
        ],
        openings=[door("d", "kitchen-west", 10)],
        finishes=[{"id": "oak", "name": "Oak"}, {"id": "elm", "name": "Elm"}],
        decisions=[{"id": "size", "number": 1, "title": "Size", "spaces": ["kitchen"],
                    "options": [{"id": "wide", "text": "Wide"}, {"id": "small", "text": "Small"}]}],
    )  # fmt: skip
    ef.save(project, tmp_path / "house")
    return Desk.open(tmp_path / "house")


@pytest.fixture
def sight() -> Sight:
    return Sight(room="kitchen")


def do(desk: Desk, name: str, **message: Any) -> dict[str, Any]:
    said = fields.HANDLERS[name](desk, Sight(room="kitchen"), {"do": name, **message})
    return said if isinstance(said, dict) else {"say": said}


def field(desk: Desk, *path: str) -> dict[str, Any]:
    return Forms(desk.project, Offers(desk.project), desk.drafts).field(path)


def test_what_is_typed_is_taken_saved_and_read_back(desk: Desk) -> None:
    answer = do(desk, "set", path=[*ISLAND, "width_mm"], typed="5 ft 4 1/2 in")
    assert answer["shown"] == '64 1/2"'
    assert desk.project.thing("island").width_mm == inches(64.5)
    assert ef.load(desk.folder).thing("island").width_mm == inches(64.5)
    assert desk.undo_words == "changed width of island"


def test_typing_on_in_one_field_is_one_step_back(desk: Desk) -> None:
    for typed in ("5", "50", "50.5"):
        do(desk, "set", path=[*ISLAND, "width_mm"], typed=typed)
    do(desk, "set", path=[*ISLAND, "depth_mm"], typed="30")
    desk.undo()
    assert desk.project.thing("island").width_mm == inches(50.5)
    desk.undo()
    assert desk.project.thing("island").width_mm == inches(60)


def test_what_cannot_be_taken_is_kept_with_the_reason_and_survives(desk: Desk) -> None:
    path = [*ISLAND, "width_mm"]
    with pytest.raises(BadRecord) as refusal:
        do(desk, "set", path=path, typed="9 feat")
    assert [fault.place for fault in refusal.value.faults] == ["/".join(path)]
    assert desk.project.thing("island").width_mm == inches(60)
    desk.close()
    again = Desk.open(desk.folder)
    told = field(again, *path)
    assert told["typed"] == "9 feat"
    assert "is not a length" in told["error"]
    assert told["shown"] == '60"'
    # Once it is taken it is forgotten.
    do(again, "set", path=path, typed="9 ft")
    assert "typed" not in field(again, *path)
    assert again.project.thing("island").width_mm == inches(108)


def test_typed_back_or_dropped_a_mistake_is_gone(desk: Desk) -> None:
    path = [*ISLAND, "width_mm"]
    for end in ({"do": "set", "typed": '60"'}, {"do": "forget typed", "label": "Width"}):
        with pytest.raises(BadRecord):
            do(desk, "set", path=path, typed="x")
        do(desk, end.pop("do"), path=path, **end)
        assert "typed" not in field(desk, *path)
        assert desk.undo_words == ""


def test_a_record_begins_when_its_last_part_is_typed(desk: Desk) -> None:
    knees = ["things", "sink", "knee_space"]
    first = do(desk, "set", path=[*knees, "width_mm"], typed="30")
    assert first["say"] == "Knee space begins once it has its height and depth too"
    assert desk.project.thing("sink").knee_space is None  # type: ignore[attr-defined]
    assert [one.get("typed") for one in field(desk, *knees)["fields"]] == ["30", None, None]
    assert do(desk, "set", path=[*knees, "height_mm"], typed="27")["say"].endswith("its depth too")
    with pytest.raises(BadRecord, match="not a length"):
        do(desk, "set", path=[*knees, "depth_mm"], typed="deep")
    do(desk, "set", path=[*knees, "depth_mm"], typed="19")
    made = desk.project.thing("sink").knee_space  # type: ignore[attr-defined]
    assert (made.width_mm, made.height_mm, made.depth_mm) == (inches(30), inches(27), inches(19))
    assert all("typed" not in one for one in field(desk, *knees)["fields"])
    do(desk, "set", path=knees, typed="none")
    assert desk.project.thing("sink").knee_space == "none"  # type: ignore[attr-defined]


def test_a_part_that_is_emptied_again_is_forgotten(desk: Desk) -> None:
    path = ["things", "sink", "knee_space", "width_mm"]
    do(desk, "set", path=path, typed="30")
    do(desk, "set", path=path, typed="")
    assert "typed" not in field(desk, "things", "sink", "knee_space")["fields"][0]
    do(desk, "set", path=["openings", "d", "glazing", "safety_glass"], typed="yes")  # it must have nothing
    assert desk.project.openings[0].glazing.safety_glass is True  # type: ignore[union-attr]


def test_a_choice_says_what_it_brings_along(desk: Desk) -> None:
    answer = do(desk, "set", path=["decisions", "size", "choice"], typed="wide")
    assert answer["say"] == "Status is now planned"
    assert do(desk, "set", path=["decisions", "size", "choice"], typed="")["say"] == "Status is now undecided"


def test_a_row_is_added_of_what_was_typed_for_it(desk: Desk) -> None:
    options = ["decisions", "size", "options"]
    with pytest.raises(BadRecord, match="In words is missing"):
        do(desk, "add row", path=options)
    do(desk, "set", path=[*options, "new", "text"], typed="None at all")
    (asked,) = field(desk, *options)["add"]
    assert asked["typed"] == "None at all"
    answer = do(desk, "add row", path=options)
    assert answer["path"] == [*options, answer["key"]]
    assert desk.project.decisions[0].options[2].text == "None at all"
    assert "typed" not in field(desk, *options)["add"][0]
    assert answer["say"] == "Option “None at all” added"


def test_a_row_that_is_named_is_asked_about_first(desk: Desk) -> None:
    answer = do(desk, "remove row", path=["finishes", "oak"])
    assert answer["ask"] == "Finish “Oak” is named by counter."
    assert len(desk.project.finishes) == 2
    answer = do(desk, "remove row", path=["things", "top"])
    assert answer["ask"] == "Sink would go with it."
    do(desk, "remove row", path=["finishes", "oak"], along=True)
    assert [one.id for one in desk.project.finishes] == ["elm"]
    assert desk.project.thing("top").finish is None
    assert do(desk, "remove row", path=["finishes", "elm"])["say"] == "Finish “Elm” removed"
    desk.undo()
    assert [one.id for one in desk.project.finishes] == ["elm"]


def test_rows_change_places(desk: Desk) -> None:
    path = ["decisions", "size", "options", "wide"]
    assert do(desk, "move row", path=path, by=1)["say"] == "Now 2 of 2"
    assert [one.id for one in desk.project.decisions[0].options] == ["small", "wide"]
    assert do(desk, "move row", path=path, by=1)["say"] == "It stands there already"


def test_a_mistake_does_not_move_to_another_row(desk: Desk) -> None:
    opens = [*ISLAND, "opens"]
    for kind in ("drawer", "hinged"):
        do(desk, "set", path=[*opens, "new", "kind"], typed=kind)
        do(desk, "add row", path=opens)
    with pytest.raises(BadRecord):
        do(desk, "set", path=[*opens, "0", "width_mm"], typed="x")
    do(desk, "move row", path=[*opens, "0"], by=1)
    told = json.dumps(field(desk, *opens))
    assert '"x"' not in told
    assert [leaf.kind for leaf in desk.project.thing("island").leaves] == ["hinged", "drawer"]


@pytest.mark.parametrize(
    ("name", "message"),
    [
        ("set", {"typed": "1"}),
        ("set", {"path": "things", "typed": "1"}),
        ("set", {"path": [], "typed": "1"}),
        ("set", {"path": ["things", 3], "typed": "1"}),
        ("set", {"path": ["x"] * 20, "typed": "1"}),
        ("set", {"path": ["things", "island", "id"], "typed": "1"}),
        ("set", {"path": ["things"], "typed": "1"}),
        ("set", {"path": ["things", "island", "place"], "typed": {"how": "wall"}}),
        ("set", {"path": ["things", "island", "name"], "typed": {"a": 1}}),
        ("set", {"path": ["things", "island", "name"], "typed": "x" * 5_000_000}),
        ("set", {"path": ["lines", "nowhere"], "typed": "x"}),
        ("set", {"path": ["lines", "kitchen"], "typed": 3}),
        ("add row", {"path": ["decisions"], "values": []}),
        ("add row", {"path": ["things", "island", "name"]}),
        ("remove row", {"path": ["things"]}),
        ("remove row", {"path": ["things", "gone"]}),
        ("move row", {"path": ["finishes", "oak"], "by": "up"}),
        ("move row", {"path": ["finishes", "oak"], "by": float("nan")}),
        ("forget typed", {"path": ["things"]}),
    ],
)
def test_whatever_a_page_sends_the_house_stands(desk: Desk, name: str, message: dict[str, Any]) -> None:
    before = desk.project
    with pytest.raises(EnfiladeError):
        do(desk, name, **message)
    assert desk.project is before


def test_every_message_of_this_part_is_heard(desk: Desk, sight: Sight) -> None:
    assert set(fields.HANDLERS) <= set(handlers())
    assert fields.shown(desk, sight) == {}
    assert issubclass(NotFound, EnfiladeError)
    assert issubclass(Refused, EnfiladeError)
