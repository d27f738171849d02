"""The act `keep` on the real page in real Chromium: versions, what was found, lessons, houses side by side."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

import enfilade as ef
from browser.pages import OpenPages, open_pages, outside_requests, when_shown
from browser.stories import saved
from browser.test_pages_for_everyone import reach, violations
from enfilade.archive.archive import Archive
from hostile import MARKER, with_hostile_text, without_pictures

pytestmark = pytest.mark.browser

LESSON = "Next time leave more room behind the island."


@pytest.fixture
def archive(home: Path) -> str:
    """Where the pages of this home keep: an archive that holds another house, whose island taught something."""
    place = home / "data" / "enfilade" / "archive.sqlite"
    house = ef.demo()
    decisions = [
        one.model_copy(update={"hindsight": LESSON}) if one == next(d for d in house.decisions if "island" in d.things)
        else one
        for one in house.decisions
    ]  # fmt: skip
    other = house.with_records(decisions=decisions).model_copy(update={"id": "ferry-house", "name": "Ferry house"})
    ef.save(other, home / "ferry-house")
    with Archive(str(place)) as store:
        store.keep(home / "ferry-house", who="J. Corbel", why="a year later")
    return str(place)


@pytest.fixture
def pages(demo_copy: Path, home: Path, archive: str) -> Iterator[OpenPages]:
    with open_pages(demo_copy, home=home, environment={"ENFILADE_ARCHIVE": archive}) as opened:
        yield opened


def shown_keep(page: Any, pages: OpenPages) -> None:
    when_shown(page, pages.url("keep"))
    page.get_by_text(re.compile("This house is not in the archive yet|The record stands")).wait_for(timeout=30_000)


def keep(page: Any, why: str, version: int) -> None:
    page.get_by_label("Why it is kept").fill(why)
    page.get_by_role("button", name="Keep this state").click()
    page.locator(".archive .versions").get_by_role("row", name=re.compile(f"^{version} ")).wait_for(timeout=30_000)


def fits(page: Any) -> None:
    """Hold the page against the accessibility checker and against every width."""
    assert violations(page) == []
    for width in (1440, 1024, 390):
        page.set_viewport_size({"width": width, "height": 900})
        page.wait_for_timeout(300)
        assert page.evaluate("document.documentElement.scrollWidth") <= width, width
    assert violations(page) == []
    page.set_viewport_size({"width": 1280, "height": 900})


def test_kept_changed_kept_again_found_compared_learnt_and_brought_back(
    page: Any, pages: OpenPages, demo_copy: Path
) -> None:
    outside = outside_requests(page)
    faults: list[str] = []
    page.on("pageerror", lambda error: faults.append(str(error)))
    shown_keep(page, pages)
    width = ef.load(demo_copy).thing("island").width_mm

    # Kept with a reason, changed on the page of another act, kept again: what changed is told.
    keep(page, "as measured", 1)
    assert "as measured" in page.locator(".archive .versions").inner_text()
    when_shown(page, pages.url("measure", "kitchen"))
    page.locator(".plan").get_by_label("On this plan").select_option(label="Island")
    field = page.locator(".part.selected").get_by_label("Width", exact=True).first
    field.fill("9' 3\"")  # 111 in, 2819.4 mm
    field.press("Enter")
    saved(demo_copy, lambda project: project.thing("island").width_mm == pytest.approx(2819.4), page)
    when_shown(page, pages.url("keep"))
    page.get_by_text("The record is not as it is kept in version 1").wait_for(timeout=30_000)
    keep(page, "before the tender", 2)
    told = page.locator(".archive .versions").get_by_role("row", name=re.compile("^2 "))
    assert '111"' in told.inner_text()

    # Found with a typing error; nothing is looked for before Enter.
    words = page.get_by_label(re.compile("^What is looked for"))
    words.press_sequentially("ilsand")
    page.wait_for_timeout(600)
    assert page.locator(".found .answer").count() == 0
    words.press("Enter")
    answer = page.locator(".found .answer")
    answer.wait_for(timeout=30_000)
    assert "island" in " ".join(answer.locator("p.small").all_inner_texts()[:2])
    page.locator(".found .hits img").first.wait_for(timeout=30_000)
    answer.get_by_role("button", name=re.compile("^House: Ferry house")).click()
    page.get_by_role("button", name="Show all of them again").wait_for(timeout=20_000)
    names = page.locator(".found .hits strong")
    assert set(names.all_inner_texts()) == {"Ferry house"}
    page.get_by_role("button", name="Show all of them again").click()
    link = page.locator(".found .hits a").first
    link.wait_for(timeout=20_000)
    assert "/measure?" in link.get_attribute("href")
    assert "room=" in link.get_attribute("href")

    # Two versions side by side.
    page.locator(".comparison").get_by_label(re.compile("^Version 1,")).check()
    page.locator(".comparison").get_by_role("button", name="Compare", exact=True).click()
    page.get_by_label("How they compare").wait_for(timeout=30_000)
    assert page.locator(".compared table").count() > 0

    # A lesson, dismissed with a reason.
    lesson = page.locator(".lesson", has_text=LESSON)
    lesson.first.wait_for(timeout=30_000)
    lesson.get_by_role("button", name=re.compile("^Dismiss:")).click()
    lesson.get_by_role("button", name="Dismiss it").click()
    lesson.locator(".error").wait_for(timeout=10_000)
    lesson.get_by_label("Why it does not hold here").fill("Nobody walks there.")
    fits(page)
    lesson.get_by_role("button", name="Dismiss it").click()
    page.get_by_text("Answered (1)").wait_for(timeout=30_000)
    page.get_by_text("Answered (1)").click()
    page.get_by_text(re.compile("Dismissed, .*Nobody walks there")).wait_for()

    # And back to what was measured; undo would take it back.
    page.get_by_role("button", name=re.compile("^Bring it back: version 1")).click()
    saved(demo_copy, lambda project: project.thing("island").width_mm == width, page)
    page.get_by_role("button", name=re.compile("^Undo: brought back version 1")).wait_for()
    assert (outside, faults) == ([], [])


def test_keep_and_find_with_the_keyboard_alone(page: Any, pages: OpenPages) -> None:
    shown_keep(page, pages)
    reach(page, page.get_by_label("Why it is kept"))
    page.keyboard.type("with the keyboard")
    page.keyboard.press("Enter")
    page.locator(".archive .versions").get_by_text("with the keyboard").wait_for(timeout=30_000)
    reach(page, page.get_by_label(re.compile("^What is looked for")))
    page.keyboard.type("island")
    page.keyboard.press("Enter")
    page.locator(".found .hits > li").first.wait_for(timeout=30_000)
    page.wait_for_timeout(500)
    # The focus stays where one types, to go on.
    assert page.evaluate("document.activeElement.type") == "search"
    reach(page, page.locator(".found .facets .act").first)
    page.keyboard.press("Enter")
    page.locator(".found .facets .act[aria-pressed=true]").first.wait_for(timeout=20_000)


def test_the_act_decide_leads_to_the_lessons(page: Any, pages: OpenPages) -> None:
    when_shown(page, pages.url("decide"))
    page.get_by_text(re.compile("from (another house|other houses) bears? on this one")).wait_for(timeout=30_000)
    page.locator(".part.lessons a").click()
    page.get_by_role("heading", name="Lessons").wait_for(timeout=30_000)


def test_an_address_that_cannot_be_used_is_told_at_its_field(page: Any, pages: OpenPages) -> None:
    shown_keep(page, pages)
    page.get_by_text("Use another archive on this page").click()
    field = page.get_by_label(re.compile("^Path of its file"))
    field.fill("mysql://studio/archive")
    field.press("Enter")
    page.locator(".where .error").wait_for(timeout=20_000)
    assert "cannot be at" in page.locator(".where .error").inner_text()
    assert violations(page) == []


def test_text_of_another_house_stays_text(page: Any, demo_copy: Path, home: Path, archive: str) -> None:
    other = without_pictures(with_hostile_text(ef.demo())[0]).model_copy(update={"id": "hostile"})
    ef.save(other, home / "hostile")
    with Archive(archive) as store:
        store.keep(home / "hostile", who=MARKER, why=MARKER)
    asked: list[str] = []
    page.on("dialog", lambda dialog: asked.append(dialog.message))
    with open_pages(demo_copy, home=home, environment={"ENFILADE_ARCHIVE": archive}) as opened:
        shown_keep(page, opened)
        page.get_by_label(re.compile("^What is looked for")).fill("zzhostile")
        page.get_by_label(re.compile("^What is looked for")).press("Enter")
        page.locator(".found .hits > li").first.wait_for(timeout=30_000)
        page.wait_for_timeout(2000)
        assert MARKER in page.inner_text(".found")
        assert page.evaluate("typeof window.hacked") == "undefined"
        for width in (1280, 390):
            page.set_viewport_size({"width": width, "height": 900})
            page.wait_for_timeout(300)
            assert page.evaluate("document.documentElement.scrollWidth") <= width
    assert asked == []
