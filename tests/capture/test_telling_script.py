"""The script on the page of the act `tell`: its lines written, moved, taken out and drafted, and what is found."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

import enfilade as ef
from building import door, free, house, on_wall, thing
from capture_pages import ask, page_on
from enfilade.capture.desk import Desk
from enfilade.capture.opening import SECTIONS
from enfilade.capture.page import Page
from enfilade.capture.said_lines import BEGUN
from enfilade.editing.starting import new_project
from hostile import with_hostile_text, without_pictures

PATH = ["script", "stop-kitchen", "lines", "line-2", "text"]


@pytest.fixture
def page(tmp_path: Path) -> Page:
    """The demo house, as it is told."""
    return page_on(ef.demo(), tmp_path)


@pytest.fixture
def bare(tmp_path: Path) -> Page:
    """A kitchen in which nothing is said yet."""
    project = house(
        [
            thing("island", "island", 40, 36, free(60, 60)),
            thing("range", "range", 30, 27, on_wall("kitchen-north", 20)),
        ],
        openings=[door("d", "kitchen-west", 10)],
        decisions=[
            {"id": "size", "number": 1, "title": "Size of the island", "spaces": ["kitchen"], "things": ["island"],
             "options": [{"id": "small", "text": "a small island"}], "choice": "small", "status": "planned",
             "reason": "The aisle stays wide."},
        ],
    )  # fmt: skip
    return page_on(project, tmp_path)


def state(page: Page) -> dict[str, Any]:
    told: dict[str, Any] = page.script  # type: ignore[attr-defined]
    return told


def lines_of(page: Page) -> list[dict[str, Any]]:
    parts = state(page)["parts"]
    lists = [one for part in parts for one in (part.get("recap"), *part["stops"], part.get("lead_in")) if one]
    return [line for one in (*lists, *state(page)["untold"]) for line in one["lines"]]


def line(page: Page, path: list[str]) -> dict[str, Any]:
    return next(one for one in lines_of(page) if one["path"] == path)


def saved(page: Page) -> ef.Project:
    assert page.desk is not None
    return ef.load(page.desk.folder)


def test_a_line_reads_for_the_eye_and_sounds_for_the_ear_in_its_own_time(page: Page) -> None:
    ask(page, "say line", path=PATH, typed="The island is {width of island, in words} long, and nobody minds.")
    told = line(page, PATH)
    assert told["reads"] == "The island is eight feet nine inches long, and nobody minds."
    assert told["sounds"] == told["reads"]
    # Eleven words at 150 a minute: 60 x 11 / 150 = 4.4 s (that a rate of words a minute is words by minutes).
    assert len(told["sounds"].split()) == 11
    assert told["time"] == "4 s"
    assert told["whose"] == "written by hand"
    assert next(one for stop in saved(page).script for one in stop.lines if stop.id == "stop-kitchen" and
                one.id == "line-2").text.startswith("The island is {width")  # fmt: skip


def test_typing_in_one_line_is_one_step_and_comes_back(page: Page) -> None:
    assert page.desk is not None
    before = page.desk.project
    for typed in ("H", "He", "Here we", "Here we cook."):
        ask(page, "say line", path=PATH, typed=typed)
    ask(page, "undo")
    assert page.desk.project == before


def test_what_cannot_be_taken_is_kept_with_its_reason(page: Page) -> None:
    before = line(page, PATH)["shown"]
    assert not page.do({"do": "say line", "path": PATH, "typed": "  "})["ok"]
    told = line(page, PATH)
    assert (told["typed"], told["shown"]) == ("  ", before)
    assert "take it out" in told["error"]
    assert not page.do({"do": "say line", "path": PATH, "typed": "Bell\x07"})["ok"]
    assert "U+0007" in line(page, PATH)["error"]
    ask(page, "say line", path=PATH, typed="Bell.")
    assert "typed" not in line(page, PATH)


def test_a_field_that_stands_for_nothing_is_said_under_its_line(page: Page) -> None:
    ask(page, "say line", path=PATH, typed="It is {width of iland} and 3 ft high.")
    words = [note["words"] for note in line(page, PATH)["notes"]]
    assert any("{width of iland}" in one and "island" in one.replace("iland", "", 2) for one in words), words
    assert not any("K6" in one or "T1" in one for one in words)
    ask(page, "say line", path=PATH, typed="The island is 5 ft wide.")
    (note,) = line(page, PATH)["notes"]
    assert note["wrong"]
    assert "does not agree with the record" in note["words"]
    ask(page, "say line", path=PATH, typed="The island is {width of island} wide.")
    assert line(page, PATH)["notes"] == []


def test_what_is_told_in_the_wrong_room_and_without_a_reason_is_said_there(page: Page) -> None:
    ask(page, "set", path=["script", "stop-study", "lines", "line-1", "things"], typed=["washroom-toilet"])
    told = line(page, ["script", "stop-study", "lines", "line-1", "text"])
    assert any(note["words"].startswith("Not in this room: ") and "Washroom" in note["words"] for note in told["notes"])
    ask(page, "set", path=["decisions", "island-size", "reason"], typed="")
    tells = [one for one in lines_of(page) if any("without a reason" in note["words"] for note in one["notes"])]
    assert tells
    assert page.desk is not None
    told_by = {(stop.id, one.id) for stop in page.desk.project.script for one in stop.lines
               if "island-size" in one.decisions}  # fmt: skip
    assert {(one["path"][1], one["path"][3]) for one in tells} <= told_by


def test_a_line_is_begun_written_with_its_first_words_and_keeps_its_place(page: Page) -> None:
    where = ["script", "stop-kitchen", "lines"]
    path = ask(page, "begin line", path=where, after="line-1")["path"]
    begun = next(one for one in lines_of(page) if one.get("begun"))
    assert begun["path"] == path == [BEGUN, *where, "line-1"]
    assert saved(page) == ef.demo()
    ask(page, "say line", path=path, typed="A")
    ask(page, "say line", path=path, typed="A new line.")  # the page did not know its name yet
    told = [one["shown"] for one in lines_of(page) if one["path"][:2] == ["script", "stop-kitchen"]]
    assert told[1] == "A new line."
    # It is the same element on the page, so that who types is not disturbed.
    assert next(one for one in lines_of(page) if one["shown"] == "A new line.")["key"] == begun["key"]
    assert saved(page).script[3].lines[1].text == "A new line."
    ask(page, "undo")
    assert len(saved(page).script[3].lines) == len(ef.demo().script[3].lines)


def test_a_line_that_was_begun_is_there_after_a_reload_and_can_be_left(page: Page, tmp_path: Path) -> None:
    path = ask(page, "begin line", path=["show", "speaking", "parts", "river-rooms", "recap"], after="")["path"]
    assert page.desk is not None
    page.desk.close()
    again = Page(Desk.open(tmp_path / "house"), sections=SECTIONS["tell"], act="tell")
    assert [one["path"] for one in lines_of(again) if one.get("begun")] == [path]
    ask(again, "leave line", path=path)
    assert not [one for one in lines_of(again) if one.get("begun")]


def test_a_recap_is_written_and_moved_in_its_part(page: Page) -> None:
    where = ["show", "speaking", "parts", "work-and-rest", "lead_in"]
    ask(page, "say line", path=ask(page, "begin line", path=where, after="")["path"], typed="First.")
    one = saved(page).show.speaking.parts[1].lead_in[0]
    ask(page, "say line", path=ask(page, "begin line", path=where, after=one.id)["path"], typed="Second.")
    assert ask(page, "move line", path=[*where, one.id], by=1)["say"] == "Line 2 of 2"
    assert [line.text for line in saved(page).show.speaking.parts[1].lead_in] == ["Second.", "First."]
    assert not page.do({"do": "line to stop", "path": [*where, one.id], "stop": "stop-bay"})["ok"]


def test_a_line_goes_up_down_out_and_to_another_room(page: Page) -> None:
    first = ["script", "stop-kitchen", "lines", "line-1"]
    assert ask(page, "move line", path=first, by=-1)["say"] == "It stands there already"
    assert ask(page, "move line", path=first, by=1)["say"] == "Line 2 of 9"
    assert saved(page).script[3].lines[1].id == "line-1"
    text = saved(page).script[3].lines[1].text
    ask(page, "line to stop", path=first, stop="stop-bay")
    assert saved(page).script[5].lines[-1].text == text
    ask(page, "take line out", path=["script", "stop-bay", "lines", saved(page).script[5].lines[-1].id])
    assert text not in [one.text for stop in saved(page).script for one in stop.lines]


def test_what_it_shows_its_shot_and_its_pause_are_a_form_that_is_opened(page: Page) -> None:
    path = PATH[:-1]
    assert "groups" not in line(page, PATH)
    ask(page, "open line", path=path, open=True)
    told = line(page, PATH)
    names = [field["name"] for group in told["groups"] for field in group["fields"]]
    assert names == ["things", "photographs", "decisions", "findings", "hear", "pause_s", "shot"]
    hear = next(f for group in told["groups"] for f in group["fields"] if f["name"] == "hear")
    assert [one["label"] for one in hear["options"]] == ["the client", "the public", "students", "the studio"]
    assert any(one["value"] == "island" for one in state(page)["lists"]["things from kitchen"])
    short = next(one.id for one in ef.check(saved(page)) if one.verdict == "falls short")
    assert any(one["value"] == short for one in state(page)["lists"]["findings"])
    ask(page, "set", path=[*path, "pause_s"], typed="1 min 5 s")
    ask(page, "set", path=[*path, "shot", "size"], typed="close-up")
    ask(page, "set", path=[*path, "findings"], typed=[short])
    ask(page, "set", path=[*path, "hear"], typed=["client", "studio"])
    now = line(page, PATH)
    assert now["pause"] == "then 1 min 5 s of silence"
    assert "close-up shot" in now["about"]
    assert "heard by the client and the studio" in now["about"]
    assert [stop["value"] for stop in now["stops"]][:2] == ["stop-entry", "stop-washroom"]
    ask(page, "open line", path=path, open=False)
    assert "groups" not in line(page, PATH)


def test_figures_of_the_room_are_offered_with_what_they_say_now(page: Page) -> None:
    offered = ask(page, "figures", path=PATH[:-1])["figures"]
    by_field = {one["field"]: one for one in offered}
    assert by_field["{width of island}"]["shown"] == "8 ft 9 in"
    assert by_field["{width of island}"]["kind"] == "length"
    # What the line shows comes first, and every field stands for something.
    assert offered[0]["first"]
    ask(page, "say line", path=PATH, typed=" ".join(one["field"] for one in offered[:40]))
    assert not [
        note for note in line(page, PATH)["notes"] if "stands for" in note["words"] or "no record" in note["words"]
    ]
    recap = next(one for one in lines_of(page) if "recap" in one["path"])
    assert ask(page, "figures", path=recap["at"])["figures"]


def test_an_empty_house_is_drafted_in_one_step_and_edits_stay(bare: Page) -> None:
    assert [one["name"] for one in state(bare)["untold"]] == ["Kitchen"]
    assert state(bare)["words"].startswith("Nothing is written yet")
    said = ask(bare, "draft")["say"]
    drafted = lines_of(bare)
    assert said.startswith(f"{len(drafted)} lines added")
    assert {one["whose"] for one in drafted} == {"as drafted"}
    about = next(one for one in drafted if "aisle stays wide" in one["shown"])
    ask(bare, "say line", path=about["path"], typed="We chose the small one.")
    assert line(bare, about["path"])["whose"] == "drafted, then changed by hand"
    out = next(one for one in lines_of(bare) if one["path"] != about["path"])
    ask(bare, "take line out", path=out["at"])
    assert bare.desk is not None
    before = bare.desk.project
    assert ask(bare, "draft")["say"].startswith("Nothing is missing")
    assert bare.desk.project == before
    ask(bare, "set", path=["decisions", "size", "title"], typed="How big the island is")
    ask(bare, "draft")
    assert line(bare, about["path"])["shown"] == "We chose the small one."
    assert out["shown"] not in [one["shown"] for one in lines_of(bare)]


def test_one_undo_takes_the_draft_back(bare: Page) -> None:
    ask(bare, "draft")
    assert saved(bare).script
    assert ask(bare, "undo")["say"]
    assert saved(bare).script == ()


def test_a_room_without_a_stop_gets_one_with_its_first_line(bare: Page) -> None:
    path = ask(bare, "begin line", path=["spaces", "kitchen"], after="")["path"]
    ask(bare, "say line", path=path, typed="Here one cooks.")
    (stop,) = saved(bare).script
    assert (stop.space, stop.lines[0].text) == ("kitchen", "Here one cooks.")
    assert lines_of(bare)[0]["key"] == "/".join(path)


def test_the_page_of_a_room_opens_and_a_perspective_is_added_where_a_person_would_stand(page: Page) -> None:
    ask(page, "open room", space="bay", open=True)
    bay = next(stop for part in state(page)["parts"] for stop in part["stops"] if stop["space"] == "bay")
    assert [field["name"] for field in bay["fields"]] == ["story", "views"]
    pictures = ask(page, "add view", space="bay")["pictures"]
    assert len(saved(page).space("bay").views) == len(pictures) == 1
    assert pictures[0]["svg"].startswith("<svg")
    (view,) = saved(page).space("bay").views
    ask(page, "set", path=["spaces", "bay", "views", view.id, "title"], typed="From the door")
    assert ask(page, "perspectives", space="bay")["pictures"][0]["words"].startswith("From the door")


@pytest.mark.parametrize(
    "message",
    [
        {"do": "say line", "path": PATH, "typed": {"a": 1}},
        {"do": "say line", "path": [BEGUN, "script", "nowhere", "lines", ""], "typed": "x"},
        {"do": "say line", "path": [BEGUN, "spaces"], "typed": "x"},
        {"do": "say line", "path": [BEGUN, "show", "speaking"], "typed": "x"},
        {"do": "say line", "path": "script", "typed": "x"},
        {"do": "begin line", "path": ["things", "island"], "after": ""},
        {"do": "begin line", "path": ["spaces", "nowhere"], "after": ""},
        {"do": "begin line", "path": ["script", "stop-bay", "lines"], "after": 3},
        {"do": "leave line", "path": PATH},
        {"do": "move line", "path": PATH, "by": 1},
        {"do": "move line", "path": PATH[:-1], "by": "far"},
        {"do": "take line out", "path": ["script", "stop-bay", "lines", "line-99"]},
        {"do": "line to stop", "path": PATH[:-1], "stop": "nowhere"},
        {"do": "open line", "path": [1, 2], "open": True},
        {"do": "open room", "space": "nowhere"},
        {"do": "figures", "path": [BEGUN, "spaces", "nowhere", ""]},
        {"do": "perspectives", "space": ""},
    ],
    ids=lambda one: f"{one['do']} {one.get('path', one.get('space'))}"[:60],
)
def test_what_the_page_never_sends_changes_nothing(page: Page, message: dict[str, Any]) -> None:
    answer = page.do(message)
    assert not answer["ok"]
    assert "could not be done" not in answer["say"], answer["say"]
    assert saved(page) == ef.demo()
    assert "trouble" not in state(page)


def test_hostile_text_and_a_house_without_rooms_are_shown(tmp_path: Path) -> None:
    hostile = page_on(without_pictures(with_hostile_text(ef.demo())[0]), tmp_path / "hostile")
    empty = page_on(new_project("Ferry house", "us"), tmp_path / "empty")
    for page in (hostile, empty):
        for name in SECTIONS["tell"]:
            shown = getattr(page, name)
            assert json.dumps(shown, allow_nan=False)
            assert "trouble" not in shown, name
    assert "nothing" in state(empty)


def test_a_very_long_line_is_taken(page: Page) -> None:
    ask(page, "say line", path=PATH, typed="wide " * 1500)
    assert line(page, PATH)["time"] == "10 min"  # 1500 words at 150 a minute
