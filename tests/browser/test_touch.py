"""The plan under a finger: a tap chooses, what is chosen can be dragged, anywhere else the page scrolls."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

import enfilade as ef
from browser.pages import open_pages, when_shown
from browser.stories import saved

pytestmark = pytest.mark.browser


def test_a_finger_chooses_drags_and_scrolls(chromium: Any, demo_copy: Path, home: Path) -> None:
    context = chromium.new_context(viewport={"width": 820, "height": 1100}, has_touch=True, is_mobile=True)
    page = context.new_page()
    touch = context.new_cdp_session(page)

    def finger(kind: str, x: float = 0, y: float = 0) -> None:
        points = [] if kind == "touchEnd" else [{"x": x, "y": y}]
        touch.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})
        page.wait_for_timeout(40)

    def swipe(x: float, y: float, dx: float, dy: float) -> None:
        finger("touchStart", x, y)
        for step in range(1, 11):
            finger("touchMove", x + dx * step / 10, y + dy * step / 10)
        finger("touchEnd")

    with open_pages(demo_copy, home=home) as pages:
        when_shown(page, pages.url("measure", "kitchen"))
        page.wait_for_selector('.plan .sheet g[data-subject="island"]')
        page.wait_for_timeout(1500)
        page.evaluate("document.querySelector('.part.plan').scrollIntoView()")
        box = page.locator('.plan .sheet g[data-subject="island"]').first.bounding_box()
        # A place on the island where nothing smaller lies.
        x, y = box["x"] + box["width"] * 0.9, box["y"] + 6
        before = ef.load(demo_copy).thing("island").place

        # Before it is chosen, a finger that moves there scrolls the page.
        top = page.evaluate("scrollY")
        swipe(x, y, 0, -120)
        page.wait_for_timeout(600)
        assert page.evaluate("scrollY") > top + 60
        assert ef.load(demo_copy).thing("island").place == before

        page.evaluate("document.querySelector('.part.plan').scrollIntoView()")
        page.wait_for_timeout(300)
        for _ in range(4):  # a second tap on one place takes what lies under
            if page.locator(".underhand strong", has_text="Island").count():
                break
            finger("touchStart", x, y)
            finger("touchEnd")
            page.wait_for_timeout(700)
        assert page.locator(".underhand strong", has_text="Island").count()

        # Where the plan is seen: words above it may come and go meanwhile, and the browser makes up for their height.
        plan_top = "document.querySelector('.plan .sheet').getBoundingClientRect().top"
        top = page.evaluate(plan_top)
        swipe(x, y, 25, 12)
        moved = saved(demo_copy, lambda p: p.thing("island").place != before and p.thing("island").place, page)
        assert moved.x_mm > before.x_mm
        assert moved.y_mm < before.y_mm
        assert page.evaluate(plan_top) == pytest.approx(top, abs=1)
    context.close()
