"""`enfilade open` in real Chromium: who may come in, what a page asks of other machines, and how it ends."""

from __future__ import annotations

import json
import os
import re
import signal
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

import enfilade as ef
from browser.pages import SHOWN_MS, OpenPages, open_pages, outside_requests, when_shown
from needs import axe_script

pytestmark = pytest.mark.browser

ACTS = ["measure", "decide", "check", "tell", "keep"]
AXE_TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]


def until(true: Callable[[], bool], seconds: float = 20) -> bool:
    """Wait until something is true; say whether it became so."""
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        if true():
            return True
        time.sleep(0.1)
    return False


def faults(page: Any) -> list[tuple[str, int, str]]:
    """Return what the accessibility checker finds."""
    page.add_script_tag(path=axe_script())
    result = page.evaluate("tags => axe.run(document, {runOnly: tags})", AXE_TAGS)
    return [(fault["id"], len(fault["nodes"]), fault["nodes"][0]["html"][:200]) for fault in result["violations"]]


@pytest.mark.parametrize("act", ACTS)
def test_each_act_is_a_page_without_code_that_asks_nothing_of_another_machine(
    act: str, demo_pages: OpenPages, page: Any
) -> None:
    outside, wrong = outside_requests(page), []
    page.on("pageerror", lambda error: wrong.append(str(error)))
    page.on("console", lambda message: wrong.append(message.text) if message.type == "error" else None)
    when_shown(page, demo_pages.url(act))
    page.wait_for_timeout(500)
    assert outside == []
    assert wrong == []
    assert page.title().startswith(act.capitalize())
    assert page.locator("html").get_attribute("lang") == "en"
    assert page.locator("main").count() == 1
    assert page.locator("nav [aria-current]").inner_text() == act.capitalize()
    shown = page.locator("body").inner_text()
    assert "open_page" not in shown
    assert "Opening the page" not in shown
    assert page.evaluate("document.fonts.check('16px \"Enfilade Text\"')")


def test_words_are_there_before_the_house_is(demo_pages: OpenPages, page: Any) -> None:
    page.goto(demo_pages.url(), wait_until="commit")
    page.get_by_text("Opening the page").wait_for(timeout=5000)
    assert page.locator("nav a").count() == 5


def test_links_between_acts_keep_the_room_and_the_token(demo_pages: OpenPages, page: Any) -> None:
    when_shown(page, demo_pages.url("measure", "kitchen"))
    page.evaluate("document.dispatchEvent(new CustomEvent('enfilade-room', { detail: 'study' }))")
    page.context.clear_cookies()
    page.locator("nav a", has_text="Check").click()
    page.locator(".enfilade :is(h1, h2)").first.wait_for(timeout=SHOWN_MS)
    assert page.url == demo_pages.url("check", "study")
    assert page.locator("nav [aria-current]").inner_text() == "Check"


def test_a_page_without_the_token_is_refused_in_words(demo_pages: OpenPages, page: Any) -> None:
    answer = page.goto(f"{demo_pages.root}/measure")
    assert answer.status == 403
    assert page.get_by_role("heading").inner_text() == "Not opened"
    assert "enfilade open" in page.locator("main").inner_text()
    assert faults(page) == []


def test_the_start_page_and_its_frame_have_no_fault_for_assistive_technology(home: Path, page: Any) -> None:
    with open_pages(None, home=home) as pages:
        when_shown(page, pages.url())
        assert faults(page) == []
        page.set_viewport_size({"width": 390, "height": 800})
        assert page.evaluate("document.documentElement.scrollWidth") <= 390
        page.locator("body").press("Tab")
        assert page.evaluate("document.activeElement.textContent") == "To the page"
        page.keyboard.press("Enter")
        assert page.evaluate("document.activeElement.id") == "sheet"


def test_from_nothing_to_a_house_by_three_questions(home: Path, page: Any) -> None:
    with open_pages(None, home=home) as pages:
        when_shown(page, pages.url())
        page.get_by_role("button", name="Begin this house").click()
        page.get_by_text("the house has no name yet; expected").wait_for()
        assert page.evaluate("document.activeElement.getAttribute('aria-invalid')") == "true"
        page.get_by_label("What is the house called?").fill("Long house: by the water")
        page.get_by_text("Documents/Long house by the water").wait_for()
        page.reload()
        page.get_by_label("What is the house called?").wait_for(timeout=SHOWN_MS)
        assert page.get_by_label("What is the house called?").input_value() == "Long house: by the water"
        page.get_by_label("Millimetres").check()
        page.get_by_role("button", name="Begin this house").click()
        page.get_by_label("What is the house called?").wait_for(state="detached")
        made = home / "Documents" / "Long house by the water"
        project = ef.load(made)
        assert (project.name, project.show.units, project.yardstick) == ("Long house: by the water", "metric", "us")
        # The other acts of the same `enfilade open` know the house now, and so does the next one.
        when_shown(page, pages.url("check"))
        assert page.title() == "Check – Long house: by the water"
        assert page.get_by_label("What is the house called?").count() == 0
    with open_pages(None, home=home) as pages:
        when_shown(page, pages.url())
        page.get_by_role("button", name="Open Long house: by the water").click()
        page.get_by_label("What is the house called?").wait_for(state="detached")
    assert ef.load(made) == project


def test_the_demo_house_is_copied_before_it_is_shown(home: Path, page: Any) -> None:
    with open_pages(None, home=home) as pages:
        when_shown(page, pages.url())
        page.get_by_role("button", name="Try the demo house").click()
        page.get_by_label("What is the house called?").wait_for(state="detached")
    assert ef.load(home / "Documents" / "Demo house") == ef.demo()


def test_a_killed_kernel_is_told_in_words_and_loading_again_helps(demo_copy: Path, home: Path, page: Any) -> None:
    with open_pages(demo_copy, home=home) as pages:
        when_shown(page, pages.url("measure", "kitchen"))
        (kernel,) = pages.kernels()
        os.kill(kernel, signal.SIGKILL)
        page.get_by_role("alert").get_by_text("Everything up to your last change is saved").wait_for(timeout=5000)
        assert page.locator("#cells").evaluate("cells => cells.inert")
        assert faults(page) == []
        page.get_by_role("button", name="Load the page again").click()
        page.locator("#starting").wait_for()
        page.locator(".enfilade :is(h1, h2)").first.wait_for(timeout=SHOWN_MS)
        assert page.locator("#word").is_hidden()
        assert until(lambda: kernel not in pages.kernels() and len(pages.kernels()) == 1)


def test_what_was_typed_last_is_kept_when_the_page_is_left_at_once(demo_copy: Path, home: Path, page: Any) -> None:
    with open_pages(demo_copy, home=home) as pages:
        for number, leave in enumerate((lambda: page.goto("about:blank"), page.reload), start=1):
            when_shown(page, pages.url("measure", "kitchen"))
            lines = page.get_by_label("Lines to speak in Kitchen")
            lines.fill(f"Typed {number} and left at once.")
            leave()
            assert until(
                lambda said=f"Typed {number} and left": said in (demo_copy / "project.json").read_text("utf-8")
            )


def test_the_walkthrough_is_written_and_opened_from_its_page(demo_copy: Path, home: Path, page: Any) -> None:
    with open_pages(demo_copy, home=home) as pages:
        when_shown(page, pages.url("tell"))
        page.get_by_label("Who is it for?").select_option("student")
        page.get_by_role("button", name="Write the documents").click()
        opening = page.get_by_role("button", name=re.compile("^Open: the walkthrough"))
        opening.wait_for(timeout=SHOWN_MS)
        told = demo_copy.with_name("demo-told") / "student" / "walkthrough.html"
        assert told.is_file()
        with page.expect_popup() as popup:
            opening.click()
        popup.value.get_by_text("For students").first.wait_for()
        assert popup.value.evaluate("window.opener") is None


def test_a_page_that_was_left_ends_its_kernel_and_ctrl_c_ends_all_quietly(
    demo_copy: Path, home: Path, page: Any
) -> None:
    with open_pages(demo_copy, home=home) as pages:
        when_shown(page, pages.url())
        first = pages.kernels()
        assert len(first) == 1
        page.goto("about:blank")
        assert until(lambda: pages.kernels() == [])
        when_shown(page, pages.url("check"))
        (kernel,) = pages.kernels()
        assert pages.stop() == 0
        page.get_by_role("alert").get_by_text("no longer running").wait_for(timeout=10_000)
        assert until(lambda: not Path(f"/proc/{kernel}").exists())
        assert all(line.startswith("  ") for line in pages.said), pages.said


def test_a_house_that_was_broken_meanwhile_is_told_in_words(demo_copy: Path, home: Path, page: Any) -> None:
    with open_pages(demo_copy, home=home) as pages:
        path = demo_copy / "project.json"
        plain = json.loads(path.read_text("utf-8"))
        plain["spaces"][0]["ceiling_mm"] = "<b>high</b>"
        path.write_text(json.dumps(plain), "utf-8")
        when_shown(page, pages.url())
        assert "project.json: spaces" in page.locator(".trouble").inner_text()
        assert "<b>high</b>" in page.locator(".trouble").inner_text()
        assert faults(page) == []


def test_two_people_each_open_their_own(demo_copy: Path, home: Path, page: Any, tmp_path: Path) -> None:
    ef.save(ef.demo().model_copy(update={"name": "Another house"}), tmp_path / "houses" / "other")
    with open_pages(demo_copy, home=home) as one, open_pages(tmp_path / "houses" / "other", home=home) as other:
        assert one.root != other.root
        assert one.token != other.token
        when_shown(page, one.url())
        assert page.title() == f"Measure – {ef.demo().name}"
        when_shown(page, other.url())
        assert page.title() == "Measure – Another house"
        page.context.clear_cookies()
        assert page.goto(f"{one.root}/measure?token={other.token}").status == 403


def test_the_notebooks_open_in_jupyterlab_as_copies(demo_lab: OpenPages, page: Any) -> None:
    outside = outside_requests(page)
    when_shown(page, demo_lab.url(), lab=True)
    page.wait_for_timeout(500)
    assert outside == []
    assert page.locator(".jp-OutputArea .enfilade").count() == 1
