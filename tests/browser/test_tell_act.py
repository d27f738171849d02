"""The act `tell` on the real page in real Chromium: from an empty script to documents that were issued.

What is said, the figures and the times stand in the records; the page is asked what a person sees of them.
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest

import enfilade as ef
from browser.pages import OpenPages, open_pages, outside_requests, when_shown
from browser.stories import saved
from browser.test_pages_for_everyone import reach, violations
from building import door, free, house, on_wall, room, thing

pytestmark = pytest.mark.browser

SECONDS_TO_PLAN = 180_000


def three_rooms() -> ef.Project:
    """Return three rooms in a row, with a decision in the middle one; told, they would be walked from west to east."""
    spaces = [
        room(144, 144, id=id, use=use, at=(at, 0))
        for id, use, at in (("hall", "entry", 0), ("kitchen", "kitchen", 148), ("parlour", "living", 296))
    ]
    things = [
        thing("island", "island", 40, 36, free(60, 60)),
        thing("range", "range", 30, 27, on_wall("kitchen-north", 50)),
    ]
    openings = [
        door("front", "hall-west", 40, entry=True),
        door("one", "hall-east", 50, beyond="kitchen-west"),
        door("two", "kitchen-east", 50, beyond="parlour-west"),
    ]
    decision = {
        "id": "size", "number": 1, "title": "Size of the island", "spaces": ["kitchen"], "things": ["island"],
        "options": [{"id": "small", "text": "a small island"}], "choice": "small", "status": "planned",
        "reason": "The aisle stays wide.",
    }  # fmt: skip
    more: dict[str, Any] = {"show": {"speaking": {"first": "hall"}}}
    script = [{"id": f"stop-{id}", "space": id} for id in ("hall", "parlour", "kitchen")]
    things[0]["place"]["x_mm"] += 148 * 25.4
    return house(things, spaces=spaces, openings=openings, decisions=[decision], script=script, **more)


def texts(project: ef.Project) -> list[str]:
    return [line.text for stop in project.script for line in stop.lines]


def lines_of(page: Any, stop: str) -> Any:
    return page.locator(f'[data-stop="{stop}"] .line')


def test_from_an_empty_script_to_documents_that_are_issued(page: Any, home: Path, tmp_path: Path) -> None:
    folder = tmp_path / "ferry-house"
    ef.save(three_rooms(), folder)
    outside = outside_requests(page)
    faults: list[str] = []
    page.on("pageerror", lambda error: faults.append(str(error)))
    page.set_viewport_size({"width": 1440, "height": 1000})
    with open_pages(folder, home=home) as pages:
        when_shown(page, pages.url("tell"))

        # A draft of what is missing, and an edit that stays.
        page.get_by_role("button", name="Draft what is missing").click()
        drafted = saved(folder, lambda project: texts(project) and project, page)
        kitchen = lines_of(page, "stop-kitchen")
        kitchen.first.locator("textarea").wait_for()
        first = kitchen.first.locator("textarea")
        first.click()
        first.fill("Here one cooks, and the island is  long.")
        first.evaluate("(el) => el.setSelectionRange(34, 34)")

        # A figure, found by a part of its name and put in at the caret.
        kitchen.first.get_by_role("button", name=re.compile("^Put in a figure")).click()
        page.get_by_label("Which figure?").fill("width isl")
        kitchen.first.get_by_role("button", name="width of island", exact=True).click()
        words = "Here one cooks, and the island is {width of island} long."
        saved(folder, lambda project: words in texts(project), page)
        kitchen.first.get_by_text("Here one cooks, and the island is 40 in long.").wait_for()

        # The island changes on the page of another act: the line says so.
        when_shown(page, pages.url("measure", "kitchen"))
        page.locator(".plan").get_by_label("On this plan").select_option(label="Island")
        width = page.locator(".part.selected").get_by_label("Width", exact=True).first
        width.fill("44")
        width.press("Enter")
        saved(folder, lambda project: project.thing("island").width_mm == pytest.approx(44 * 25.4), page)
        when_shown(page, pages.url("tell"))
        kitchen.first.get_by_text("Here one cooks, and the island is 44 in long.").wait_for(timeout=20_000)

        # Drafted again, the edit stays.
        page.get_by_role("button", name="Draft what is missing").click()
        page.wait_for_timeout(1500)
        assert words in texts(ef.load(folder))
        assert len(texts(ef.load(folder))) == len(texts(drafted))

        # The proposed order is taken: the parlour, told second, is passed through no more.
        assert "It saves" in page.locator(".part.route").inner_text()
        page.get_by_role("button", name="Take this order").click()
        order = ["hall", "kitchen", "parlour"]
        saved(folder, lambda project: [stop.space for stop in project.script] == order, page)
        page.get_by_role("button", name="Take this order").wait_for(state="detached")

        # Too long: one line is taken out where it is proposed.
        page.get_by_text("Change how it is told").click()
        target = page.get_by_label("How long it should take")
        target.fill("10 s")
        target.press("Enter")
        saved(folder, lambda project: project.show.speaking.target_s == 10, page)
        before = texts(ef.load(folder))
        page.get_by_role("button", name=re.compile("^Take this line out")).first.click()
        saved(folder, lambda project: len(texts(project)) == len(before) - 1, page)

        # Shots, on demand.
        page.get_by_role("button", name="Plan the shots").click()
        page.locator(".storyboard img").first.wait_for(timeout=SECONDS_TO_PLAN)
        assert page.locator(".storyboard > li").count() == len(texts(ef.load(folder)))
        page.locator(".storyboard").get_by_role("button", name=re.compile("^Stand here")).first.click()
        saved(
            folder,
            lambda project: [one for stop in project.script for one in stop.lines if one.shot and one.shot.eye],
            page,
        )
        page.get_by_text("older than it").wait_for()

        # Documents for the client, issued.
        page.get_by_label("Captions, WebVTT and SRT").check()
        page.get_by_label("This is issued").check()
        page.get_by_role("button", name="Write the documents").click()
        page.locator(".written li").first.wait_for(timeout=SECONDS_TO_PLAN)
        page.get_by_text("Last issued: number 1").wait_for()
        assert (folder / "issued" / "client-0001.json").is_file()
        told = folder.with_name("ferry-house-told")
        assert (told / "speaker.html").is_file()
        page.get_by_role("button", name=re.compile("^Show it here: the walkthrough")).click()
        page.frame_locator(".written iframe").get_by_text("44 in").first.wait_for()
        with page.context.expect_page() as opened:
            page.get_by_role("button", name=re.compile("^Open: the speaker")).click()
        opened.value.wait_for_load_state()
        assert "44 in" in opened.value.inner_text("body") or "forty-four inches" in opened.value.inner_text("body")
        opened.value.close()

        # Loaded again, it is all there.
        page.reload()
        kitchen.first.get_by_text("Here one cooks, and the island is 44 in long.").wait_for(timeout=30_000)
        assert kitchen.first.locator("textarea").input_value() == words
        page.locator(".written li").first.wait_for()
        page.get_by_text("Last issued: number 1").wait_for()
    assert (outside, faults) == ([], [])


def test_a_line_is_written_with_the_keyboard_alone(page: Any, demo_copy: Path, home: Path) -> None:
    with open_pages(demo_copy, home=home) as pages:
        when_shown(page, pages.url("tell"))
        bay = lines_of(page, "stop-bay")
        count = bay.count()
        reach(page, bay.nth(0).locator("textarea"))
        page.keyboard.press("Control+End")
        page.keyboard.type(" Mind the step.")
        saved(demo_copy, lambda p: p.script[5].lines[0].text.endswith(" Mind the step.") and p, page)
        reach(page, bay.nth(0).get_by_role("button", name=re.compile("^Add a line after")))
        assert bay.nth(0).locator(".later").evaluate("(el) => getComputedStyle(el).opacity") == "1"
        page.keyboard.press("Enter")
        page.wait_for_function(f"() => document.querySelectorAll('[data-stop=stop-bay] .line').length === {count + 1}")
        page.wait_for_timeout(300)
        # The new line has the focus, and keeps it while it gets its name.
        page.keyboard.type("Sit down ")
        saved(demo_copy, lambda p: p.script[5].lines[1].text == "Sit down " or p.script[5].lines[1].text == "Sit down",
              page)  # fmt: skip
        page.wait_for_timeout(700)
        page.keyboard.type("for a moment.")
        saved(demo_copy, lambda p: p.script[5].lines[1].text == "Sit down for a moment.", page)
        reach(page, bay.nth(1).get_by_role("button", name=re.compile("^Shows, shot, pause")))
        page.keyboard.press("Enter")
        pause = bay.nth(1).get_by_role("textbox", name="Silence after it")
        pause.wait_for()
        reach(page, pause)
        page.keyboard.press("Control+a")
        page.keyboard.type("3")
        page.keyboard.press("Tab")
        saved(demo_copy, lambda p: p.script[5].lines[1].pause_s == 3.0, page)
        reach(page, bay.nth(1).get_by_role("button", name=re.compile("^Take out: Line")))
        page.keyboard.press("Enter")
        saved(demo_copy, lambda p: len(p.script[5].lines) == count, page)
        page.wait_for_timeout(500)
        # The focus goes on to a line beside, not to the top of the page.
        assert page.evaluate("document.activeElement.closest('[data-stop=stop-bay]') !== null")


def test_the_page_can_be_read_by_all(page: Any, demo_pages: OpenPages) -> None:
    when_shown(page, demo_pages.url("tell"))
    page.wait_for_timeout(1000)
    lines_of(page, "stop-kitchen").nth(1).get_by_role("button", name=re.compile("^Shows, shot, pause")).click()
    lines_of(page, "stop-kitchen").nth(0).get_by_role("button", name=re.compile("^Put in a figure")).click()
    page.get_by_label("Which figure?").wait_for()
    page.locator('[data-stop="stop-entry"]').get_by_role("button", name=re.compile("^Page of this room")).click()
    page.evaluate("() => document.querySelectorAll('.enfilade details').forEach((one) => (one.open = true))")
    page.wait_for_timeout(500)
    for width in (1440, 390):
        page.set_viewport_size({"width": width, "height": 900})
        page.wait_for_timeout(300)
        assert violations(page) == []
        assert page.evaluate("document.documentElement.scrollWidth") <= width


def test_what_is_said_at_the_foot_is_of_now_and_can_be_put_away(page: Any, demo_copy: Path, home: Path) -> None:
    with open_pages(demo_copy, home=home) as pages:
        when_shown(page, pages.url("tell"))
        notice, target = page.locator(".enfilade-said .said"), page.get_by_label("How long it should take")
        page.get_by_text("Change how it is told").click()
        target.fill("6 s")
        target.press("Enter")
        notice.get_by_text("too short to tell a house in").wait_for()
        target.fill("7")
        saved(demo_copy, lambda p: p.show.speaking.target_s == 420, page)
        page.wait_for_function("() => !document.querySelector('.enfilade-said .said').textContent.includes('short')")
        target.fill("8")
        target.press("Tab")
        notice.get_by_text("Read as 8 min").wait_for()
        page.get_by_role("button", name="Put away").click()
        assert notice.inner_text() == ""
        assert page.get_by_role("button", name="Put away").count() == 0


def test_links_lead_to_the_parts_and_to_the_lines_that_are_at_fault(page: Any, demo_copy: Path, home: Path) -> None:
    with open_pages(demo_copy, home=home) as pages:
        when_shown(page, pages.url("tell"))
        bay = lines_of(page, "stop-bay").first.locator("textarea")
        bay.fill("The table is {width of tabel} long.")
        saved(demo_copy, lambda p: "tabel" in p.script[5].lines[0].text, page)
        links = page.get_by_role("navigation", name="On this page").get_by_role("link")
        assert links.all_inner_texts() == ["How it is told", "The order", "The script", "Time", "Shots", "Documents"]
        reach(page, links.nth(5))
        page.keyboard.press("Enter")
        assert page.evaluate("document.activeElement.textContent") == "Documents"
        page.get_by_role("heading", name="One line is not as the record has it").wait_for()
        page.get_by_role("button", name=re.compile("The table is {width of tabel} long")).click()
        assert bay.evaluate("(el) => el === document.activeElement")
        page.set_viewport_size({"width": 390, "height": 800})
        assert page.evaluate("document.documentElement.scrollWidth") <= 390
