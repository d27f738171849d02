"""What changed since the last issue: sentences in people's words, room by room, and only what the audience may know."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

import enfilade as ef
from building import free, house, on_wall, room, thing, window
from enfilade.checks.run import project_yardstick
from enfilade.project.audience import for_audience
from enfilade.project.fields import AUDIENCES, Audience
from enfilade.project.issues import FOLDER, issued_to, keep_issue
from enfilade.project.project import Project
from enfilade.project.store import load, save
from enfilade.project.writing import project_text
from enfilade.walkthrough.changes import MOST, changes, issue_words
from enfilade.walkthrough.compose import telling_of
from enfilade.walkthrough.pages import Changes
from hostile import MARKER, with_hostile_text

Edit = Callable[[dict[str, Any]], Any]
SINCE = "version 4, issued on 16 March 2026"


def told(project: Project, audience: Audience) -> Changes:
    return changes(telling_of(project, [], project_yardstick(project), audience=audience))


def plain_house() -> dict[str, Any]:
    project = house(
        [
            thing("island", "island", 84, 36, free(100, 72), name="island"),
            thing("refrigerator", "fridge", 36, 30, on_wall("kitchen-north", 0), product="cold"),
            *(thing("table", f"table-{n}", 20, 20, free(20 + 20 * n, 20), name="small table") for n in (1, 2, 3)),
        ],
        spaces=[room(200, 144), room(96, 96, id="hall", use="hall", at=(300, 0))],
        openings=[window("look-out", "kitchen-west", 50, name="river window")],
        show={"version": "4", "date": "2026-03-16", "currency": "USD"},
        products=[{"id": "cold", "name": "tall refrigerator", "maker": "maker A", "purchase": {"quote": "2400"}}],
        finishes=[{"id": "oak", "name": "oiled oak"}],
        decisions=[
            {"id": "top", "number": 1, "title": "What the top is made of", "spaces": ["kitchen"],
             "options": [{"id": "stone", "text": "Slate, honed."}, {"id": "wood", "text": "Old larch."}]},
            {"id": "floor", "number": 2, "title": "The floor", "status": "planned", "choice": "boards",
             "options": [{"id": "boards", "text": "Larch boards."}, {"id": "tile", "text": "Cream tile."}]},
        ],
    )  # fmt: skip
    return json.loads(project_text(project))


@pytest.fixture
def home(tmp_path: Path) -> Path:
    save(Project.model_validate(plain_house()), tmp_path)
    project = load(tmp_path)
    for audience in AUDIENCES:
        keep_issue(for_audience(project, audience), audience, ["html"])
    return tmp_path


def after(home: Path, *edits: Edit) -> Project:
    plain = plain_house()
    for edit in edits:
        edit(plain)
    project = Project.model_validate(plain).verified()
    project._loaded = load(home)._loaded
    return project


def record(plain: dict[str, Any], list: str, id: str) -> dict[str, Any]:
    return next(one for one in plain[list] if one["id"] == id)


def setting(list: str, id: str, **fields: Any) -> Edit:
    return lambda plain: record(plain, list, id).update(fields)


def dropping(list: str, id: str) -> Edit:
    return lambda plain: plain[list].remove(record(plain, list, id))


def adding(list: str, **fields: Any) -> Edit:
    return lambda plain: plain.setdefault(list, []).append(fields)


def opened_again(plain: dict[str, Any]) -> None:
    record(plain, "decisions", "floor").update(status="undecided")
    record(plain, "decisions", "floor").pop("choice")


CASES: list[tuple[Edit, str]] = [
    (setting("decisions", "top", status="planned", choice="stone"),
     "Kitchen: decision 1, “What the top is made of”, is taken: “Slate, honed”."),
    (setting("decisions", "floor", choice="tile"),
     "The whole house: decision 2, “The floor”, is now “Cream tile”; it was “Larch boards”."),
    (setting("decisions", "floor", status="built"), "The whole house: decision 2, “The floor”, is built."),
    (setting("decisions", "floor", status="changed on site", changed="Laid on the slant."),
     "The whole house: decision 2, “The floor”, was changed on site: Laid on the slant."),
    (opened_again, "The whole house: decision 2, “The floor”, is open again; it was “Larch boards”."),
    (adding("decisions", id="new", number=3, title="The tap"),
     "The whole house: decision 3, “The tap”, is new and still to be taken."),
    (dropping("decisions", "top"), "Kitchen: decision 1, “What the top is made of”, was taken out."),
    (setting("decisions", "floor", reason="It was there."),
     "The whole house: decision 2, “The floor”, reads otherwise: reason “It was there.”, was empty."),
    # 84 in is 2133.6 mm; 90 in is 2286 mm. 3 in east and 4 in north are 5 in.
    (setting("things", "island", width_mm=2286.0), 'Kitchen: island: width 90", was 84".'),
    (setting("things", "island", place=free(103, 76)), 'Kitchen: island: moved by 5".'),
    (setting("things", "island", place=free(100, 72, 90)), "Kitchen: island: turned by 90°."),
    (setting("things", "fridge", place=on_wall("kitchen-north", 24)), "Kitchen: refrigerator: moved by 2' 0\"."),
    (setting("things", "fridge", state="removed"), "Kitchen: refrigerator is to go."),
    (setting("things", "island", space="hall", place=free(340, 50)), "Hall: island: moved from Kitchen to Hall."),
    (dropping("things", "island"), "Kitchen: island was taken out."),
    (adding("things", **thing("table", "desk", 40, 24, free(340, 50), space="hall", name="desk")),
     "Hall: desk was added."),
    (setting("spaces", "hall", **{k: v for k, v in room(102, 96, id="hall", use="hall", at=(300, 0)).items()
                                  if k == "outline"}),
     "Hall: measured again: 8' 6\" by 8' 0\", was 8' 0\" by 8' 0\"."),
    (setting("spaces", "hall", ceiling_mm=2540.0), "Hall: ceiling 8' 4\", was 8' 0\"."),
    (setting("spaces", "hall", points=[{"id": "p", "what": "The door sticks."}]),
     "Hall: left to put right: The door sticks."),
    (adding("spaces", **room(60, 60, id="den", use="study", at=(500, 0))), "Den: the room is new."),
    (setting("openings", "look-out", width_mm=1016.0), 'Kitchen: river window: width 40", was 36".'),
    (dropping("openings", "look-out"), "Kitchen: river window was taken out."),
    (setting("finishes", "oak", name="waxed oak"), "The whole house: waxed oak: name “waxed oak”, was “oiled oak”."),
]  # fmt: skip


@pytest.mark.parametrize(("edit", "sentence"), CASES, ids=lambda value: value if isinstance(value, str) else "")
@pytest.mark.parametrize("audience", ["client", "public"])
def test_one_change_is_told_in_a_sentence(home: Path, edit: Edit, sentence: str, audience: Audience) -> None:
    found = told(after(home, edit), audience)
    assert found.since == SINCE
    if audience == "public" and "put right" in sentence:
        assert found.sentences == ("Nothing that is told here has changed.",)
    else:
        assert found.sentences == (sentence,)


def test_sizes_are_told_in_the_units_of_the_project(home: Path) -> None:
    def metric(plain: dict[str, Any]) -> None:
        plain["show"]["units"] = "metric"

    found = told(after(home, metric, setting("things", "island", width_mm=2286.0)), "client")
    assert "Kitchen: island: width 2286 mm, was 2134 mm." in found.sentences


def test_a_point_is_put_right(home: Path) -> None:
    point = {"id": "p", "what": "The door sticks."}
    project = after(home, setting("spaces", "hall", points=[point]))
    keep_issue(for_audience(project, "client"), "client", ["html"])
    closed = after(home, setting("spaces", "hall", points=[point | {"closed_on": "2026-04-02"}]))
    assert told(closed, "client").sentences == ("Hall: put right: The door sticks.",)
    keep_issue(for_audience(closed, "client"), "client", ["html"])
    assert told(project, "client").sentences == ("Hall: to be put right again: The door sticks.",)


def test_prices_and_makers_are_told_to_whom_may_know_them(home: Path) -> None:
    def dearer(plain: dict[str, Any]) -> None:
        record(plain, "products", "cold").update(maker="maker Z", purchase={"quote": "2650"})

    project = after(home, dearer)
    (sentence,) = told(project, "client").sentences
    assert sentence == (
        "Kitchen: tall refrigerator: maker “maker Z”, was “maker A”; quote USD\u00a02,650, was USD\u00a02,400."
    )
    for audience in ("public", "student"):
        assert told(project, audience).sentences == ("Nothing that is told here has changed.",)


def test_the_most_important_room_comes_first_and_each_room_stands_together(home: Path) -> None:
    project = after(
        home,
        setting("things", "island", width_mm=2286.0),
        setting("decisions", "top", status="planned", choice="stone"),
        setting("spaces", "hall", ceiling_mm=2540.0),
        setting("openings", "look-out", width_mm=1016.0),
    )
    assert [sentence.split(":")[0] for sentence in told(project, "client").sentences] == ["Kitchen"] * 3 + ["Hall"]
    assert [sentence.split(":")[1] for sentence in told(project, "client").sentences][:3] == [
        " decision 1, “What the top is made of”, is taken", " river window", " island",
    ]  # fmt: skip


def test_like_sentences_are_told_once(home: Path) -> None:
    wider = [setting("things", f"table-{n}", width_mm=609.6) for n in (1, 2, 3)]
    assert told(after(home, *wider), "client").sentences == ('Kitchen: small table: width 24", was 20" (3 of them).',)


def test_many_changes_are_counted(home: Path) -> None:
    many = [
        adding("things", **thing("table", f"new-{n}", 9, 9, free(9 + n, 9), name=f"table {n}")) for n in range(MOST + 5)
    ]
    found = told(after(home, *many), "client").sentences
    assert len(found) == MOST + 1
    assert found[-1] == "And 5 more changes."


def test_what_is_said_aloud_and_the_version_are_no_changes(home: Path) -> None:
    def later(plain: dict[str, Any]) -> None:
        plain["show"] |= {"version": "5", "date": "2026-05-01", "speaking": {"rate_wpm": 140}}
        plain["script"] = [{"id": "s", "space": "hall", "lines": ["Come in."]}]

    assert told(after(home, later), "client") == Changes(SINCE, ("Nothing that is told here has changed.",), ("",))


def test_an_audience_that_was_never_told_hears_of_no_changes(home: Path) -> None:
    for path in (home / FOLDER).glob("public-*"):
        path.unlink()
    assert told(after(home), "public") == Changes("", ())
    assert told(ef.demo(), "client") == Changes("", ())


def test_a_file_that_cannot_be_read_is_told_and_the_one_before_compared(home: Path) -> None:
    (home / FOLDER / "client-0002.json").write_bytes(b"{")
    found = told(after(home, setting("things", "island", width_mm=2286.0)), "client")
    assert found.since == SINCE
    assert found.sentences[0].startswith("The issue client-0002.json cannot be read and was passed over")
    assert found.sentences[1:] == ('Kitchen: island: width 90", was 84".',)


def test_a_kept_record_that_does_not_fit_together_breaks_nothing(home: Path) -> None:
    path = home / FOLDER / "client-0001.json"
    plain = json.loads(path.read_text("utf-8"))
    plain["told"]["spaces"] = []
    plain["told"]["products"] = [{"id": "cold", "name": "x" * 500}]
    path.write_text(json.dumps(plain), "utf-8")
    found = told(after(home, setting("things", "fridge", place=on_wall("kitchen-north", 24))), "client").sentences
    assert "Kitchen: the room is new." in found
    assert any("where it stands was changed" in sentence for sentence in found)


@pytest.mark.parametrize("audience", AUDIENCES)
def test_odd_text_breaks_no_sentence(tmp_path: Path, audience: Audience) -> None:
    save(ef.demo(), tmp_path)
    project = load(tmp_path)
    keep_issue(for_audience(project, audience), audience, ["html"])
    odd, _ = with_hostile_text(project)
    odd._loaded = project._loaded
    found = told(odd, audience).sentences
    if audience in ("client", "studio"):
        assert len(found) == MOST + 1
        assert MARKER in " ".join(found)
    else:  # it is the client's name there, and replaced, so that more sentences are alike
        assert 10 < len(found) <= MOST + 1
        assert MARKER not in " ".join(found)
    assert all(len(sentence) < 3000 for sentence in found)
    keep_issue(for_audience(odd, audience), audience, ["html"])
    assert told(project, audience).sentences


def test_an_issue_without_a_date_is_named_by_its_version(tmp_path: Path) -> None:
    project = Project(id="small", name="Small")
    save(project, tmp_path)
    keep_issue(project, "studio", [])
    last = issued_to(project, "studio").last
    assert last is not None
    assert issue_words(last) == "version 1"
