"""Takes the README's pictures from the demo house: `python tests/browser/pictures.py`."""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

import enfilade as ef
from needs import BROWSER_FLAGS, browser_path

WIDTH = 1180
COVER = (".cover", ".order figure")
KITCHEN = ("#room-kitchen > h2", "#room-kitchen figure.plan")
TARGET = Path(__file__).resolve().parents[2] / "assets" / "readme"


def main() -> None:
    """Write every picture."""
    from playwright.sync_api import sync_playwright

    TARGET.mkdir(exist_ok=True)
    project = ef.demo()
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        path = ef.tell(project, out=folder)[0]
        browser = playwright.chromium.launch(executable_path=browser_path(), args=BROWSER_FLAGS)
        page = browser.new_page(viewport={"width": WIDTH, "height": 900})
        page.goto(path.as_uri())
        page.screenshot(path=TARGET / "cover.png", full_page=True, clip=_box(page, *COVER))
        page.screenshot(
            path=TARGET / "kitchen.png",
            full_page=True,
            clip=_box(page, *KITCHEN),
        )
        page.locator("#room-kitchen .elevations figure").first.screenshot(path=TARGET / "elevation.png")
        page.screenshot(
            path=TARGET / "findings.png",
            full_page=True,
            clip=_box(page, "#room-kitchen .findings", "#room-kitchen .findings > li:nth-child(4)"),
        )
        from enfilade.drawings.plotly_plan import plan_figure

        chart = Path(folder) / "plan.html"
        plan_figure(project, "kitchen", ef.check(project, "kitchen")).write_html(chart, include_plotlyjs=True)
        page.goto(chart.as_uri())
        page.wait_for_selector(".plotly .main-svg")
        page.screenshot(path=TARGET / "notebook.png")
        browser.close()


def _box(page: Any, first: str, last: str) -> dict[str, float]:
    """Return the full width of the page from the top of one element to the bottom of another."""
    measure = """([first, last]) => {
        const top = document.querySelector(first).getBoundingClientRect().top + scrollY;
        const bottom = document.querySelector(last).getBoundingClientRect().bottom + scrollY;
        return [top, bottom];
    }"""
    top, bottom = page.evaluate(measure, [first, last])
    return {"x": 0, "y": top - 20, "width": WIDTH, "height": min(bottom - top + 40, 1500)}


if __name__ == "__main__":
    main()
