"""The part `found`: what is looked for in all that was kept, narrowed, with plans, and links for the open house."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

import enfilade as ef
from enfilade.archive.archive import Archive
from enfilade.capture.page import Page
from keeping_pages import asked, keep_page, looked


@pytest.fixture
def page(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Page]:
    for one in keep_page(ef.demo(), tmp_path, monkeypatch):
        asked(one, "keep version", who="", why="")
        other = ef.demo().model_copy(update={"id": "ferry-house", "name": "Ferry <i>house</i>"})
        ef.save(other, tmp_path / "ferry-house")
        with Archive() as archive:
            archive.keep(tmp_path / "ferry-house", why="")
        looked(one)
        yield one


def found(page: Page) -> dict[str, Any]:
    state: dict[str, Any] = page.found["found"]
    assert json.loads(json.dumps(state)) == state  # plain JSON
    return state


def test_a_word_with_a_typing_error_is_found_in_both_houses(page: Page) -> None:
    said = asked(page, "find", words="ilsand")["say"]
    state = found(page)
    assert said == state["count"]  # what was corrected stands above the answers, and is not said twice
    assert any("ilsand" in line and "island" in line for line in state["read_as"])
    assert {one["name"] for one in state["hits"]} == {"The Long Shed", "Ferry <i>house</i>"}
    # Only the open house has pages to go to.
    assert {one["name"] for one in state["hits"] if one["space"]} == {"The Long Shed"}
    assert all(one["version"].startswith("version 1 of ") for one in state["hits"])
    assert len({one["key"] for one in state["hits"]}) == len(state["hits"])


@pytest.mark.parametrize("facet", ["kind", "use", "project", "state"])
def test_it_is_narrowed_and_widened_again(page: Page, facet: str) -> None:
    asked(page, "find", words="larch")
    whole = found(page)
    options = next(one for one in whole["facets"] if one["name"] == facet)["first"]
    assert options[0]["label"]
    asked(page, "narrow found", facet=facet, value=options[-1]["value"])
    state = found(page)
    assert state["narrowed"]
    count = int(options[-1]["count"].replace(",", ""))
    assert state["count"].startswith(f"{count:,} found")
    if facet == "project":
        assert {one["name"] for one in state["hits"]} == {options[-1]["label"]}
    asked(page, "widen found")
    assert found(page)["count"] == whole["count"]


def test_nothing_is_offered_to_narrow_by_where_there_is_one_value(page: Page) -> None:
    asked(page, "find", words="island")
    asked(page, "narrow found", facet="kind", value="product")
    shown = {one["name"]: [each["value"] for each in (*one["first"], *one["more"])] for one in found(page)["facets"]}
    # A product has no state; by its kind it was narrowed, which can be taken back.
    assert "state" not in shown
    assert shown["kind"] == ["product"]
    asked(page, "find", words="stool")
    asked(page, "narrow found", facet="project", value="ferry-house")
    asked(page, "narrow found", facet="kind", value="product")
    assert {one["name"] for one in found(page)["facets"]} == {"kind", "project"}  # they are all in one kitchen


def test_a_verdict_reads_as_the_checks_tell_it(page: Page) -> None:
    asked(page, "find", words="island")
    states = next(one for one in found(page)["facets"] if one["name"] == "state")
    assert "holds" in {one["label"] for one in (*states["first"], *states["more"])}
    asked(page, "narrow found", facet="state", value="met")
    assert {one["state"] for one in found(page)["hits"]} == {"holds"}


def test_more_is_shown_when_it_is_asked_for(page: Page) -> None:
    asked(page, "find", words="island")
    first = found(page)
    assert len(first["hits"]) == 20
    assert first["more"]
    asked(page, "more found")
    assert len(found(page)["hits"]) > 20
    assert [one["key"] for one in found(page)["hits"]][:5] == [one["key"] for one in first["hits"]][:5]


def test_plans_come_a_few_at_a_time(page: Page) -> None:
    asked(page, "find", words="island")
    keys = [one["key"] for one in found(page)["hits"] if one["planned"]][:4]
    plans = asked(page, "plans of found", keys=[*keys, "nobody"])["plans"]
    assert set(plans) == {*keys, "nobody"}
    assert all("<svg" in plans[key] for key in keys)
    assert plans["nobody"] == ""
    assert not page.do({"do": "plans of found", "keys": "all"})["ok"]


@pytest.mark.parametrize("words", ["", "   ", None, 3, "x" * 3000])
def test_what_cannot_be_looked_for_is_refused(page: Page, words: Any) -> None:
    assert not page.do({"do": "find", "words": words})["ok"]
    assert page.found["found"] is None


@pytest.mark.parametrize(
    "words", ['"', "a AND (", "'; DROP TABLE notes; --", "窓 🪟", "\u202e\u0000", "NEAR(", "*", "-", "%_%", "zzzzzzqqq"]
)
def test_odd_words_are_answered(page: Page, words: str) -> None:
    answer = page.do({"do": "find", "words": words})
    assert answer["ok"] or answer["say"]
    assert "could not be done" not in answer["say"]


def test_narrowing_what_is_not_looked_for_is_refused(page: Page) -> None:
    for message in ({"do": "narrow found", "facet": "kind", "value": "need"}, {"do": "more found"}):
        assert not page.do(message)["ok"]
    asked(page, "find", words="island")
    assert not page.do({"do": "narrow found", "facet": "words", "value": "x"})["ok"]
    asked(page, "clear found")
    assert page.found["found"] is None
