"""Takes the README's pictures from the demo house: `python tests/browser/pictures.py`."""

from __future__ import annotations

import re
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

import enfilade as ef
from browser.pages import open_pages, when_shown
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
        page.locator("#room-kitchen .views figure").first.screenshot(path=TARGET / "perspective.png")
        page.locator("#room-kitchen .elevations figure").first.screenshot(path=TARGET / "elevation.png")
        # Details are folded until somebody asks for them.
        page.evaluate("() => document.querySelectorAll('details').forEach((one) => (one.open = true))")
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
        _room_page(browser, Path(folder))
        _printed(project, Path(folder))
        _found(browser, Path(folder))
        browser.close()


def _room_page(browser: Any, folder: Path) -> None:
    """Take the kitchen's page while the island is dragged, a run that is being typed, and the budget."""
    ef.save(ef.demo(), folder / "house")
    with open_pages(folder / "house", home=folder / "home") as pages:
        page = browser.new_page(viewport={"width": 1360, "height": 1000})
        when_shown(page, pages.url("measure", "kitchen"))
        page.locator(".plan").get_by_label("On this plan").select_option(label="Island")
        page.wait_for_selector(".over .chosen")
        page.wait_for_timeout(1500)
        page.locator(".part.plan").scroll_into_view_if_needed()
        page.evaluate("document.querySelector('.part.plan').scrollIntoView()")
        box = page.locator(".over .chosen").bounding_box()
        x, y = box["x"] + box["width"] * 0.3, box["y"] + box["height"] / 2
        page.mouse.move(x, y)
        page.mouse.down()
        for step in range(1, 9):
            page.mouse.move(x - 2 * step, y + step)
            page.wait_for_timeout(60)
        page.wait_for_timeout(800)
        page.screenshot(path=TARGET / "page.png")
        page.keyboard.press("Escape")
        page.mouse.up()
        part = page.locator(".part.laying")
        part.get_by_label("Along").select_option(label="land wall")
        part.get_by_label("Widths, in order").fill("30, 24 dishwasher, 18 drawers")
        page.wait_for_timeout(1500)
        part.screenshot(path=TARGET / "run.png")
        when_shown(page, pages.url("decide", "kitchen"))
        page.wait_for_timeout(1000)
        page.locator(".part.budget table").first.screenshot(path=TARGET / "budget.png")
        when_shown(page, pages.url("tell", "kitchen"))
        page.wait_for_timeout(2000)
        page.set_viewport_size({"width": 1180, "height": 900})
        page.locator(".part.script").get_by_role("heading", name=re.compile("Kitchen")).first.evaluate(
            "(one) => one.scrollIntoView()"
        )
        page.wait_for_timeout(500)
        page.screenshot(path=TARGET / "script.png")
        page.close()


def _found(browser: Any, folder: Path) -> None:
    """Take what the archive answers to a few words, one of them misspelt."""
    archive = folder / "archive.sqlite"
    with ef.Archive(str(archive)) as store:
        store.keep(folder / "house", why="before the tender")
    with open_pages(folder / "house", home=folder / "home", environment={"ENFILADE_ARCHIVE": str(archive)}) as pages:
        page = browser.new_page(viewport={"width": 1180, "height": 1000})
        when_shown(page, pages.url("keep"))
        words = page.get_by_label(re.compile("^What is looked for"))
        words.fill("soapston counter")
        words.press("Enter")
        page.locator(".found .hits img").first.wait_for(timeout=30_000)
        page.wait_for_timeout(3000)
        page.get_by_role("button", name="Put away").click()
        page.wait_for_timeout(300)
        page.screenshot(path=TARGET / "found.png", full_page=True, clip=_box(page, ".part.found", ".part.found"))
        page.close()


def _printed(project: ef.Project, folder: Path) -> None:
    """Take a sheet of the storyboard, and two pages of the book for the client, by poppler."""
    ef.tell(project, ["shots", "pdf"], out=folder / "printed")
    for name, first, last, target in (("storyboard", 8, 8, "storyboard"), ("walkthrough", 11, 12, "book")):
        pages = folder / target
        command = ["pdftoppm", "-r", "80", "-png", "-f", str(first), "-l", str(last)]
        subprocess.run([*command, str(folder / "printed" / f"{name}.pdf"), str(pages)], check=True)
        _beside(sorted(folder.glob(f"{target}-*.png")), TARGET / f"{target}.png")


def _beside(pictures: list[Path], target: Path) -> None:
    from PIL import Image

    pages = [Image.open(path) for path in pictures]
    gap = 12
    sheet = Image.new("RGB", (sum(one.width + gap for one in pages) + gap, pages[0].height + 2 * gap), "#bbbbbb")
    left = gap
    for one in pages:
        sheet.paste(one, (left, gap))
        left += one.width + gap
    sheet.quantize(64).save(target, optimize=True)


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
