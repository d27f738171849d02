"""The pages for who cannot see, cannot point, reads large or on a telephone; and on a bad day."""

from __future__ import annotations

import json
import math
import os
import re
import signal
from pathlib import Path
from typing import Any

import pytest

import enfilade as ef
from browser.pages import OpenPages, open_pages, outside_requests, when_shown
from browser.stories import saved
from enfilade.editing.starting import new_project
from hostile import MARKER, with_hostile_text, without_pictures
from needs import axe_script

pytestmark = pytest.mark.browser

AXE_TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
ACTS = ("measure", "decide", "check", "tell", "keep")


def violations(page: Any, within: str | None = None) -> list[str]:
    """Return what the accessibility checker finds, as lines."""
    page.add_script_tag(path=axe_script())
    found = page.evaluate(
        "([tags, within]) => axe.run(within || document, { runOnly: { type: 'tag', values: tags } })",
        [AXE_TAGS, within],
    )
    return [f"{one['id']}: {json.dumps([node['target'] for node in one['nodes'][:5]])}" for one in found["violations"]]


@pytest.mark.parametrize("act", ACTS)
def test_every_page_can_be_read_by_all(page: Any, demo_pages: OpenPages, act: str) -> None:
    outside = outside_requests(page)
    faults: list[str] = []
    page.on("pageerror", lambda error: faults.append(str(error)))
    when_shown(page, demo_pages.url(act, "kitchen"))
    page.evaluate(
        "() => [...document.querySelectorAll('.enfilade details')].slice(0, 12).forEach((one) => (one.open = true))"
    )
    page.wait_for_timeout(500)
    assert violations(page) == []
    # 720 px are a screen of 1440 at 200 %.
    for width in (1440, 1024, 720, 390):
        page.set_viewport_size({"width": width, "height": 900})
        page.wait_for_timeout(300)
        assert page.evaluate("document.documentElement.scrollWidth") <= width, width
    assert violations(page) == []
    assert (outside, faults) == ([], [])


def test_the_house_without_rooms_and_the_questions_of_a_new_one(page: Any, home: Path, tmp_path: Path) -> None:
    with open_pages(tmp_path / "new", home=home) as pages:
        when_shown(page, pages.url())
        assert violations(page) == []
        page.get_by_label("What is the house called?").fill("Ferry house " + "with a name that goes on " * 6)
        page.get_by_role("button", name="Begin this house").click()
        page.get_by_role("heading", name=re.compile("^Ferry house")).wait_for()
        assert violations(page) == []
        page.set_viewport_size({"width": 390, "height": 900})
        page.wait_for_timeout(300)
        assert page.evaluate("document.documentElement.scrollWidth") <= 390
    assert saved(tmp_path / "new", lambda project: project.name.startswith("Ferry house"), page)


def test_text_of_a_record_stays_text(page: Any, home: Path, tmp_path: Path) -> None:
    # Its pictures are no text.
    ef.save(without_pictures(with_hostile_text(ef.demo())[0]), tmp_path / "hostile")
    asked: list[str] = []
    page.on("dialog", lambda dialog: asked.append(dialog.message))
    with open_pages(tmp_path / "hostile", home=home) as pages:
        for act in ACTS:
            when_shown(page, pages.url(act, "kitchen"))
            page.wait_for_timeout(500)
            assert page.evaluate("typeof window.hacked") == "undefined"
            assert MARKER in page.inner_text(".enfilade")
    assert asked == []


def test_what_is_typed_after_the_program_died_is_there_after_a_reload(page: Any, demo_copy: Path, home: Path) -> None:
    with open_pages(demo_copy, home=home) as pages:
        when_shown(page, pages.url("measure", "kitchen"))
        lines = page.locator(".part.lines textarea")
        lines.fill("Said while it lived.")
        saved(
            demo_copy,
            lambda project: any("while it lived" in line.text for stop in project.script for line in stop.lines),
            page,
        )
        for pid in pages.kernels():
            os.kill(pid, signal.SIGKILL)
        lines.fill("Said when nobody answered.")
        page.get_by_text(re.compile("Load (the|this) page again|has stopped")).first.wait_for(timeout=30_000)
        page.reload()
        page.get_by_role("heading", name="Plan of Kitchen").wait_for(timeout=30_000)
        saved(
            demo_copy,
            lambda project: any("nobody answered" in line.text for stop in project.script for line in stop.lines),
            page,
        )
        page.wait_for_function(
            "() => document.querySelector('.part.lines textarea').value === 'Said when nobody answered.'"
        )


def test_two_windows_see_each_other_and_neither_writes_over_the_other(
    chromium: Any, demo_copy: Path, home: Path
) -> None:
    with open_pages(demo_copy, home=home) as pages:
        one, other = (chromium.new_page(viewport={"width": 1280, "height": 900}) for _ in range(2))
        for window in (one, other):
            when_shown(window, pages.url("measure", "kitchen"))
        for window in (one, other):
            window.get_by_text(re.compile("open in another window")).first.wait_for(timeout=20_000)
        one.locator(".part.lines textarea").fill("From the first window.")
        saved(demo_copy, lambda p: any("first window" in line.text for s in p.script for line in s.lines), one)
        # The other window shows it by itself.
        other.wait_for_function(
            "() => document.querySelector('.part.lines textarea').value === 'From the first window.'", timeout=20_000
        )
        decisions = other.locator(".part.decisions")
        decisions.get_by_label("New decision").fill("From the second window")
        decisions.get_by_role("button", name="Write it down").click()
        both = saved(demo_copy, lambda p: [d for d in p.decisions if d.title == "From the second window"] and p, other)
        assert any("first window" in line.text for stop in both.script for line in stop.lines)
        one.close()
        other.close()


def reach(page: Any, locator: Any) -> None:
    """Go to a control with the Tab key alone."""
    for _ in range(400):
        if locator.count() and locator.first.evaluate("(el) => el === el.getRootNode().activeElement"):
            return
        page.keyboard.press("Tab")
    raise AssertionError(f"the Tab key does not reach {locator}")


def choose(page: Any, locator: Any, words: str) -> None:
    """Choose an option with the keyboard, as a select takes it."""
    reach(page, locator)
    page.keyboard.type(words)
    page.keyboard.press("Tab")


def press(page: Any, name: str | re.Pattern[str]) -> None:
    """Press a button with the keyboard."""
    reach(page, page.get_by_role("button", name=name))
    page.keyboard.press("Enter")


def test_a_room_is_captured_with_the_keyboard_alone(page: Any, home: Path, tmp_path: Path) -> None:
    house = tmp_path / "ferry-house"
    ef.save(new_project("Ferry house", "us"), house)
    with open_pages(house, home=home) as pages:
        when_shown(page, pages.url())
        press(page, "Draw a room by its walls")
        reach(page, page.get_by_label("Name of the room"))
        page.keyboard.type("Kitchen")
        choose(page, page.get_by_label("Used as"), "kitchen")
        reach(page, page.get_by_label("Length of wall 1"))
        for length in ("12'", "14 ft", "144", "14'"):
            page.keyboard.type(length)
            page.keyboard.press("Enter")
            page.wait_for_timeout(400)
        press(page, "Make this room")
        room = saved(house, lambda p: p.spaces, page)[0]
        assert sorted({round(v) for point in room.outline for v in point}) == [0, 3658, 4267]

        choose(page, page.locator(".part.adding").get_by_label("What", exact=True), "Island")
        page.wait_for_timeout(300)
        press(page, re.compile("^Add an island"))
        island = saved(house, lambda p: p.things, page)[0]
        reach(page, page.locator(".plan .sheet"))
        for _ in range(3):
            page.keyboard.press("ArrowLeft")
        page.keyboard.press("Shift+ArrowUp")
        page.wait_for_timeout(1200)
        moved = saved(house, lambda p: p.thing(island.id).place != island.place and p.thing(island.id), page)
        # An arrow goes on to the next whole inch, with Shift to the next sixteenth.
        assert moved.place.x_mm == pytest.approx(next_step(island.place.x_mm, -1, 25.4) - 2 * 25.4, abs=0.01)
        assert moved.place.y_mm == pytest.approx(next_step(island.place.y_mm, 1, 25.4 / 16), abs=0.01)
        page.keyboard.press("r")
        turned = saved(house, lambda p: p.thing(island.id).place.turn_deg == 90 and p.thing(island.id).place, page)
        reach(page, page.get_by_label(re.compile("clear to the west wall")))
        page.keyboard.press("Control+a")
        page.keyboard.type("3' 6")
        page.keyboard.press("Enter")
        exact = saved(house, lambda p: p.thing(island.id).place != turned and p.thing(island.id).place, page)
        # Turned, its depth lies across the room, whose west wall stands at 0.
        assert exact.x_mm - island.depth_mm / 2 == pytest.approx(42 * 25.4, abs=0.8)
        assert exact.y_mm == turned.y_mm
        page.locator(".plan .sheet").focus()  # in a text field the key takes back what was typed
        page.keyboard.press("Control+z")
        saved(house, lambda p: p.thing(island.id).place == turned, page)

        choose(page, page.locator(".part.laying").get_by_label("Along"), "north")
        reach(page, page.locator(".part.laying").get_by_label("Widths, in order"))
        page.keyboard.type("36, 24 dishwasher, 36 sink, 30 range")
        page.wait_for_timeout(1000)
        press(page, "Lay the run")
        saved(house, lambda p: len(p.things) > 4, page)

        press(page, re.compile("^Answer: "))
        reach(page, page.locator(".answering input[type=radio]:checked"))
        page.keyboard.press("ArrowDown")
        page.keyboard.press("ArrowDown")
        reach(page, page.locator(".answering textarea"))
        page.keyboard.type("Another trade looks after this.")
        press(page, "Give this answer")
        assert saved(house, lambda p: p.answers, page)[0].kind == "not relevant here"

        reach(page, page.get_by_label("New decision"))
        page.keyboard.type("Where the bins stand")
        press(page, "Write it down")
        saved(house, lambda p: p.decisions, page)
        reach(page, page.locator(".part.lines textarea"))
        page.keyboard.type("Here one cooks.")
        assert saved(house, lambda p: p.script, page)[0].space == room.id


def next_step(value_mm: float, way: int, step_mm: float) -> float:
    steps = round(value_mm / step_mm, 6)
    return (math.floor(steps) + 1 if way > 0 else math.ceil(steps) - 1) * step_mm


def test_a_half_typed_run_is_there_after_a_reload_and_is_typed_on(page: Any, demo_copy: Path, home: Path) -> None:
    with open_pages(demo_copy, home=home) as pages:
        when_shown(page, pages.url("measure", "study"))
        page.locator(".part.laying").get_by_label("Widths, in order").fill("36, 24 dish, 33x")
        page.wait_for_timeout(1200)
        page.reload()
        widths = page.locator(".part.laying").get_by_label("Widths, in order")
        widths.wait_for(timeout=30_000)
        page.wait_for_function(
            "() => document.querySelector('.part.laying textarea')?.value === '36, 24 dish, 33x'", timeout=20_000
        )
        widths.press("End")
        page.keyboard.type(" 12")
        page.wait_for_timeout(1000)
        assert widths.input_value() == "36, 24 dish, 33x 12"


def test_an_arrow_key_leaves_the_other_way_alone_and_no_width_is_stale(page: Any, demo_copy: Path, home: Path) -> None:
    with open_pages(demo_copy, home=home) as pages:
        when_shown(page, pages.url("measure", "kitchen"))
        page.locator(".plan").get_by_label("On this plan").select_option(label="Island")
        left = page.get_by_label("To its left, clear to the range")
        left.fill("42 1/4")
        left.press("Enter")
        typed = saved(demo_copy, lambda p: p.thing("island").place.x_mm != 11506.2 and p.thing("island").place, page)
        front = page.get_by_label(re.compile("^In front, clear to"))
        front.fill("47")
        front.press("Tab")  # the next box has the focus while its figure changes
        saved(demo_copy, lambda p: p.thing("island").place.y_mm != typed.y_mm, page)
        page.wait_for_timeout(1500)
        behind = page.get_by_label(re.compile("^Behind, clear to"))
        assert behind.evaluate("(el) => el === document.activeElement")
        shown = page.evaluate("() => document.querySelector('.clear[data-side=back] text').textContent")
        assert behind.input_value() == shown
        before = ef.load(demo_copy).thing("island").place
        page.locator(".plan .sheet").focus()
        page.keyboard.press("ArrowUp")
        after = saved(demo_copy, lambda p: p.thing("island").place != before and p.thing("island").place, page)
        assert after.x_mm == before.x_mm
        assert after.y_mm == pytest.approx(next_step(before.y_mm, 1, 25.4), abs=0.01)


def test_no_key_is_a_command_of_jupyterlab(page: Any, demo_copy: Path, home: Path) -> None:
    with open_pages(demo_copy, home=home, lab=True) as pages:
        when_shown(page, pages.url("measure"), lab=True)
        cells = page.locator(".jp-Notebook .jp-Cell").count()
        for held in (
            page.locator(".part.adding select").first,
            page.locator(".plan .sheet"),
            page.locator(".act").first,
        ):
            held.focus()
            for key in "ddxab":
                page.keyboard.press(key)
        page.wait_for_timeout(500)
        assert page.locator(".jp-Notebook .jp-Cell").count() == cells
        assert page.locator(".plan .sheet svg").count() == 1
