"""The page as a whole, without a browser: what it answers, and that one part that fails takes nothing along."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

import enfilade as ef
from benchmarks.test_page import CASES, page_of_the_kitchen
from enfilade.capture.desk import Desk
from enfilade.capture.opening import SECTIONS
from enfilade.capture.page import Page
from enfilade.capture.parts import findings, parts


@pytest.fixture
def page(tmp_path: Path) -> Page:
    return page_of_the_kitchen(tmp_path)


@pytest.mark.parametrize("name", CASES)
def test_what_is_timed_does_what_it_says(tmp_path: Path, name: str) -> None:
    assert CASES[name](page_of_the_kitchen(tmp_path))()


def test_every_part_of_every_act_is_plain_json(page: Page) -> None:
    for act, sections in SECTIONS.items():
        shown = Page(page.desk, sections=sections, room="kitchen", act=act)
        for name in sections:
            state = getattr(shown, name)
            assert json.dumps(state, allow_nan=False)
            assert "trouble" not in state, (act, name)


def test_a_message_that_is_not_known_is_refused_in_words(page: Page) -> None:
    answer = page.do({"do": "fly"})
    assert not answer["ok"]
    assert "not known" in answer["say"]


def test_a_part_that_fails_takes_nothing_along(page: Page, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(desk: object, sight: object) -> dict[str, object]:
        raise ZeroDivisionError

    monkeypatch.setattr(findings, "shown", broken)
    page.refresh()
    assert "nothing is lost" in page.findings["trouble"]  # type: ignore[attr-defined]
    assert page.plan["room"] == "Kitchen"  # type: ignore[attr-defined]


def test_a_fault_is_answered_at_its_field(page: Page) -> None:
    answer = page.do({"do": "set", "path": ["things", "island", "width_mm"], "typed": "broad"})
    assert not answer["ok"]
    assert answer["errors"][0]["place"] == "things/island/width_mm"
    assert page.desk.project == ef.load(page.desk.folder)  # type: ignore[union-attr]


def test_an_answer_keeps_the_figure_that_was_answered(page: Page) -> None:
    worth = page.findings["worth"][0]  # type: ignore[attr-defined]
    refused = page.do({"do": "answer", "finding": worth["id"], "kind": "accepted", "reason": "", "by": ""})
    assert not refused["ok"]
    given = page.do({"do": "answer", "finding": worth["id"], "kind": "accepted", "reason": "Old.", "by": "A. N."})
    assert given["ok"], given
    project = ef.load(page.desk.folder)  # type: ignore[union-attr]
    answer = next(one for one in project.answers if one.finding == worth["id"])
    finding = next(one for one in ef.check(project, "kitchen") if one.id == worth["id"])
    assert finding.measured is not None
    assert (answer.measured, answer.unit) == (finding.measured.value, finding.measured.unit)
    assert page.do({"do": "take answer back", "finding": worth["id"]})["ok"]
    assert all(one.finding != worth["id"] for one in ef.load(page.desk.folder).answers)  # type: ignore[union-attr]


def test_a_half_typed_answer_is_there_when_the_page_is_loaded_again(page: Page) -> None:
    worth = page.findings["worth"][0]  # type: ignore[attr-defined]
    page.do({"do": "keep answer", "finding": worth["id"], "kind": "accepted", "reason": "Because", "by": ""})
    page.desk.close()  # type: ignore[union-attr]
    again = Page(Desk.open(page.desk.folder), sections=("findings",), room="kitchen")  # type: ignore[union-attr]
    kept = next(one for one in again.findings["worth"] if one["id"] == worth["id"])["draft"]  # type: ignore[attr-defined]
    assert kept["reason"] == "Because"


def test_all_parts_have_a_name_and_a_view() -> None:
    from enfilade.capture.es_modules import JS

    listed = (JS / "views.js").read_text(encoding="utf-8")
    for name in parts():
        if name != "moving":  # it shows nothing of its own
            assert f"{name}: {name}View," in listed
