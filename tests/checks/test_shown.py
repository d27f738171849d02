"""How things are named in the working of findings. Names are invented; nothing here is a published figure."""

from __future__ import annotations

import pytest

from building import door, house, on_wall, room, thing
from enfilade.checks.run import check
from enfilade.checks.shown import Names, names
from enfilade.checks.view import House, View
from enfilade.project.demo import demo


def view(reads: set[str]) -> View:
    things = [
        thing("counter", "c1", 30, 24, on_wall("kitchen-north", 0)),
        thing("counter", "c2", 30, 24, on_wall("kitchen-north", 60), name="river counter"),
    ]
    spaces = [room(144, 144)]
    spaces[0]["walls"][0]["name"] = "garden wall"
    openings = [door("d1", "kitchen-south", 10), door("d2", "kitchen-east", 10, name="back door")]
    project = house(things, spaces=spaces, openings=openings)
    return View(House(project), frozenset(reads), project.spaces[0])


def test_things_openings_and_walls_have_their_names_or_kinds() -> None:
    called = names(view({"counter", "openings"}))
    assert called.of("c1", "c2", "d1", "d2") == ("counter", "river counter", "door", "back door")
    assert called.of("kitchen-south", "kitchen-north") == ("garden wall", "kitchen-north")
    assert called.listed(["c2", "d2"]) == "river counter, back door"
    assert called.listed([]) == ""


def test_what_a_check_does_not_declare_has_no_name() -> None:
    assert names(view({"openings"})).one("c2") == "c2"
    assert names(view({"counter"})).one("d2") == "d2"


def test_what_reads_alike_in_one_sentence_is_told_apart() -> None:
    called = Names({"a": "Island", "b": "island", "c": "range"})
    assert called.of("a", "b", "c") == ("Island (a)", "island (b)", "range")
    assert called.of("a", "c") == ("Island", "range")
    assert called.of("a", "a") == ("Island", "Island")
    assert called.one("unknown") == "unknown"


@pytest.mark.parametrize("yardstick", ["us", "us-access"])
def test_no_sentence_on_the_demo_house_names_an_id_whose_thing_has_a_name(yardstick: str) -> None:
    project = demo()
    rules = {
        "K1", "K1a", "K2", "K2a", "K3", "K3b", "K3c", "K4", "K5", "K6", "K6a", "K6b", "K6c", "K7", "K7a", "K8", "K8a",
        "P3", "A8041", "A8042", "A3041", "A3042", "A4042", "A4044", "D1", "D2", "D3", "D4", "D5", "R4", "R5",
    }  # fmt: skip
    ids = {t.id for t in project.things if t.called != t.id} | {o.id for o in project.openings}
    ids |= {wall.id for space in project.spaces for wall in space.walls if wall.name}
    # Ids of one word read as words; only those with a hyphen cannot be anything else.
    raw = {name for name in ids if "-" in name}
    assert raw
    for finding in check(project, yardstick=yardstick):
        if finding.rule in rules:
            for line in (*finding.working, *finding.also, *(mark.text for mark in finding.marks)):
                assert not raw & set(line.replace(",", " ").replace(":", " ").split()), (finding.id, line)
