"""The part `lessons`: what another house taught comes back, is answered, and becomes a house rule."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

import enfilade as ef
from enfilade.archive.archive import Archive
from enfilade.capture.page import Page
from hostile import MARKER
from keeping_pages import asked, keep_page, looked

LESSON = f"Next time leave more room behind the island. {MARKER}"


def taught(folder: Path, text: str = LESSON) -> ef.Project:
    """Return the house that another one taught: a decision on its island with hindsight, and what was found there."""
    house = ef.demo().model_copy(update={"id": "ferry-house", "name": "Ferry house"})
    short = next(one for one in ef.check(house, "kitchen") if one.rule == "K6" and "island" in one.id)
    decisions = list(house.decisions)
    at = next(n for n, one in enumerate(decisions) if "island" in one.things)
    decisions[at] = decisions[at].model_copy(update={"hindsight": text, "findings": (short.id,)})
    house = house.with_records(decisions=decisions)
    ef.save(house, folder / "ferry-house")
    with Archive() as archive:
        archive.keep(folder / "ferry-house", who="J. Corbel", why="a year later")
    return house


@pytest.fixture
def page(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Page]:
    for one in keep_page(ef.demo(), tmp_path, monkeypatch):
        taught(tmp_path)
        yield one


def lessons_of(page: Page) -> dict[str, Any]:
    state: dict[str, Any] = page.lessons
    assert json.loads(json.dumps(state)) == state  # plain JSON
    return state


def sought(page: Page) -> dict[str, Any]:
    looked(page)
    asked(page, "look for lessons")
    return lessons_of(page)


def ours(state: dict[str, Any], where: str = "waiting") -> dict[str, Any]:
    (found,) = [one for one in state[where] if one["text"] == LESSON]
    return dict(found)


def test_a_lesson_comes_back_with_where_it_was_learnt_and_what_reminded(page: Page) -> None:
    state = sought(page)
    one = ours(state)
    assert one["where"].startswith("Ferry house: decision ")
    assert "kept in version 1 of" in one["where"]
    assert one["reasons"]
    assert one["answered"] == ""
    assert not state["kept"]


def test_a_house_that_was_not_kept_cannot_answer_yet(page: Page) -> None:
    one = ours(sought(page))
    answer = page.do({"do": "answer lesson", "id": one["id"], "kind": "accepted", "reason": ""})
    assert not answer["ok"]
    assert "not in the archive yet" in answer["say"]


@pytest.mark.parametrize(
    ("kind", "reason", "said"),
    [
        ("accepted", "", "Accepted, by W. Overmantle"),
        ("dismissed", "Nobody sits there.", "Dismissed, by W. Overmantle"),
    ],
)
def test_an_answer_is_kept_and_shown(page: Page, kind: str, reason: str, said: str) -> None:
    asked(page, "keep version", who="W. Overmantle", why="")
    one = ours(sought(page))
    asked(page, "answer lesson", id=one["id"], kind=kind, reason=reason)
    state = lessons_of(page)
    assert LESSON not in [each["text"] for each in state["waiting"]]
    answered = ours(state, "answered")["answered"]
    assert answered.startswith(said)
    assert reason in answered
    # It is there for whoever opens the page next.
    page.sight.kept.clear()
    assert ours(sought(page), "answered")["answered"] == answered


def test_a_lesson_is_not_dismissed_without_a_reason(page: Page) -> None:
    asked(page, "keep version", who="", why="")
    one = ours(sought(page))
    answer = page.do({"do": "answer lesson", "id": one["id"], "kind": "dismissed", "reason": "  "})
    assert not answer["ok"]
    assert [error["place"] for error in answer["errors"]] == ["reason"]
    assert ours(lessons_of(page))


def test_a_lesson_becomes_a_house_rule_that_is_judged_by_at_once(page: Page) -> None:
    assert page.desk is not None
    asked(page, "keep version", who="", why="")
    one = ours(sought(page))
    (offer,) = [each for each in one["offers"] if each["row"] == "K6/two cooks"]
    # 48 in for two cooks: kitchen planning guideline 6.
    assert "48 in" in offer["published"]
    for typed, words in (("", "no value"), ("40", "stricter"), ("wide", "")):
        answer = page.do({"do": "make rule", "id": one["id"], "row": offer["row"], "value": typed})
        assert not answer["ok"]
        assert [error["place"] for error in answer["errors"]] == ["value"]
        assert words in answer["errors"][0]["what"].lower() + answer["errors"][0]["expected"].lower()
    assert not (page.desk.folder / "studio.toml").exists()
    before = {each.id: each for each in page.desk.findings("kitchen")}
    asked(page, "make rule", id=one["id"], row=offer["row"], value="60")
    assert '"K6/two cooks" = 60' in (page.desk.folder / "studio.toml").read_text("utf-8")
    after = [each for each in page.desk.findings("kitchen") if each.rule == "K6" and each.verdict == "falls short"]
    assert len(after) > len([each for each in before.values() if each.rule == "K6" and each.verdict == "falls short"])
    assert ours(lessons_of(page), "answered")["answered"].startswith("Made a house rule")


@pytest.mark.parametrize(
    "message",
    [
        {"do": "answer lesson", "id": "nobody/knows/things/it", "kind": "accepted", "reason": ""},
        {"do": "answer lesson", "id": 3, "kind": "accepted", "reason": ""},
        {"do": "make rule", "id": "x", "row": "K6/two cooks", "value": "60"},
        {"do": "make rule", "id": "x", "row": "", "value": "60"},
    ],
)
def test_odd_messages_are_refused(page: Page, message: dict[str, Any]) -> None:
    sought(page)
    assert not page.do(message)["ok"]


def test_the_act_decide_says_how_many_wait(page: Page) -> None:
    decide = Page(page.desk, sections=["head", "lessons"], act="decide")
    assert decide.lessons["short"]
    asked(decide, "look at archive")
    asked(decide, "look for lessons")
    assert decide.lessons["count"] == len(sought(page)["waiting"]) > 0
    assert decide.lessons["waiting"] == []


def test_without_an_archive_there_is_nothing_to_learn(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for page in keep_page(ef.demo(), tmp_path, monkeypatch):
        state = sought(page)
        assert (state["asked"], state["waiting"], state["answered"]) == (True, [], [])
        assert not (tmp_path / "data" / "archive.sqlite").exists()
