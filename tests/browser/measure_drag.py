"""Drag the island of the demo house in real Chromium and print how long it takes: run by hand, asserts nothing.

Prints the redraw of the plan with its clear widths (in the page alone), the way from a movement of the hand to its
findings on the screen, and the kernel's share of it.
"""

from __future__ import annotations

import shutil
import sys
import tempfile
from pathlib import Path

from playwright.sync_api import sync_playwright

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

import enfilade as ef
from browser.pages import open_pages, when_shown
from needs import BROWSER_FLAGS

WATCH = """() => {
  window.seen = { redraw: [], shown: [], kernel: [] };
  const sent = {};
  const sheet = document.querySelector(".plan .sheet");
  new MutationObserver((changes) => {
    for (const { attributeName } of changes) {
      const { seq, judged, redrawMs, tookMs } = sheet.dataset;
      if (attributeName === "data-seq") { sent[seq] = performance.now(); window.seen.redraw.push(Number(redrawMs)); }
      if (attributeName === "data-judged" && sent[judged]) {
        requestAnimationFrame(() => window.seen.shown.push(performance.now() - sent[judged]));
        window.seen.kernel.push(Number(tookMs));
      }
    }
  }).observe(sheet, { attributes: true });
}"""


def line(name: str, values: list[float]) -> str:
    values = sorted(values)
    at = {share: values[min(len(values) - 1, len(values) * share // 100)] for share in (50, 95)}
    of_all = f"median {at[50]:.1f} ms, 95 of 100 within {at[95]:.1f} ms, most {values[-1]:.1f} ms"
    return f"{name}: {len(values)} times, {of_all}"


def main() -> None:
    folder = Path(tempfile.mkdtemp())
    ef.save(ef.demo(), folder / "house")
    with sync_playwright() as playwright, open_pages(folder / "house", home=folder / "home") as pages:
        browser = playwright.chromium.launch(executable_path=shutil.which("chromium"), args=BROWSER_FLAGS)
        page = browser.new_page(viewport={"width": 1440, "height": 1000})
        when_shown(page, pages.url("measure", "kitchen"))
        page.locator(".plan").get_by_label("On this plan").select_option(label="Island")
        page.wait_for_selector(".over .chosen")
        page.wait_for_timeout(1500)
        page.evaluate(WATCH)
        page.locator(".over .chosen").scroll_into_view_if_needed()
        box = page.locator(".over .chosen").bounding_box()
        assert box is not None
        x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
        page.mouse.move(x, y)
        page.mouse.down()
        for step in range(150):
            page.mouse.move(x + 40 * ((step % 40) - 20) / 20, y + 30 * ((step % 30) - 15) / 15)
            page.wait_for_timeout(60)
        page.wait_for_timeout(500)
        seen = page.evaluate("window.seen")
        page.mouse.up()
        browser.close()
    print(line("plan and clear widths drawn again, in the page", seen["redraw"]))
    print(line("kernel work", seen["kernel"]))
    print(line("from the hand to findings on the screen", seen["shown"]))


if __name__ == "__main__":
    main()
