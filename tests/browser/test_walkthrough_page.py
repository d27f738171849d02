"""The demo house's walkthrough in real Chromium: no network, no fault for who cannot see, readable on a phone."""

from __future__ import annotations

import json
import shutil
import subprocess
from pathlib import Path
from typing import Any

import pytest

import enfilade as ef
from hostile import MARKER, with_hostile_text
from needs import axe_script, java_and_checker, need

pytestmark = pytest.mark.browser

AXE_TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]


@pytest.fixture(scope="module")
def page_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo house told to its client."""
    return ef.tell(ef.demo(), out=tmp_path_factory.mktemp("told"))[0]


@pytest.mark.parametrize("width", [1440, 1024, 390])
def test_page_asks_nothing_of_the_network_and_does_not_scroll_sideways(
    chromium: Any, page_file: Path, width: int
) -> None:
    page = chromium.new_page(viewport={"width": width, "height": 900})
    asked: list[str] = []
    faults: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.on("console", lambda message: faults.append(message.text) if message.type == "error" else None)
    page.on("pageerror", lambda error: faults.append(str(error)))
    page.goto(page_file.as_uri())
    page.wait_for_load_state("networkidle")
    assert [url for url in asked if not url.startswith(("data:", "file:"))] == []
    assert [url for url in asked if url.startswith("file:")] == [page_file.as_uri()]
    assert faults == []
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    assert page.evaluate("document.fonts.check('16px \"Enfilade Text\"')")
    page.close()


@pytest.mark.parametrize("width", [1280, 390])
def test_page_has_no_fault_for_assistive_technology(chromium: Any, page_file: Path, width: int) -> None:
    script = axe_script()
    page = chromium.new_page(viewport={"width": width, "height": 900}, bypass_csp=True)
    page.goto(page_file.as_uri())
    page.evaluate("for (const one of document.querySelectorAll('details')) one.open = true")
    page.add_script_tag(path=script)
    result = page.evaluate("tags => axe.run(document, {runOnly: tags})", AXE_TAGS)
    assert [(fault["id"], len(fault["nodes"]), fault["nodes"][0]["html"][:200]) for fault in result["violations"]] == []
    page.close()


def test_page_is_valid_html(page_file: Path) -> None:
    java, checker = java_and_checker()
    done = subprocess.run(
        [java, "-Xss8m", "-jar", checker, "--format", "json", "--stdout", str(page_file)],
        capture_output=True, text=True, check=False, timeout=300,
    )  # fmt: skip
    messages = json.loads(done.stdout)["messages"]
    assert [(m["message"], m.get("extract", "")[:120]) for m in messages if m["type"] == "error"] == []


def test_hostile_text_stays_text(chromium: Any, tmp_path: Path) -> None:
    project, fields = with_hostile_text(ef.demo())
    assert fields > 500
    path = ef.tell(project, audience="studio", out=tmp_path)[0]
    page = chromium.new_page(viewport={"width": 1280, "height": 900})
    dialogs: list[str] = []
    page.on("dialog", lambda dialog: (dialogs.append(dialog.message), dialog.dismiss()))
    page.goto(path.as_uri())
    page.wait_for_timeout(500)
    assert page.evaluate("window.hacked") is None
    assert dialogs == []
    assert page.evaluate("document.querySelectorAll('img[src=x], svg[onload]').length") == 0
    assert page.evaluate("document.querySelectorAll('script').length") == 1
    assert MARKER not in page.evaluate("document.querySelector('script').textContent")
    assert page.evaluate(f"document.body.textContent.split('{MARKER}').length") > 200
    assert "49" not in page.title()
    page.close()


def test_hostile_text_stays_text_in_the_interactive_plan(chromium: Any, tmp_path: Path) -> None:
    from enfilade.drawings.plotly_plan import plan_figure

    project, _ = with_hostile_text(ef.demo())
    figure = plan_figure(project, "kitchen", ef.check(project, "kitchen"))
    path = tmp_path / "plan.html"
    figure.write_html(path, include_plotlyjs=True)
    page = chromium.new_page(viewport={"width": 1280, "height": 900})
    page.goto(path.as_uri())
    page.wait_for_selector(".plotly .main-svg")
    assert page.evaluate("window.hacked") is None
    assert (
        page.evaluate("document.querySelectorAll('.main-svg img, .main-svg script, .main-svg a, .hoverlayer a').length")
        == 0
    )
    page.close()


def test_page_prints_one_room_after_the_other(chromium: Any, page_file: Path, tmp_path: Path) -> None:
    page = chromium.new_page()
    page.goto(page_file.as_uri())
    data = page.pdf(path=tmp_path / "page.pdf", format="Letter", print_background=False)
    page.close()
    # Nine rooms, each on a page of its own, after the cover and before the annexes.
    assert data.count(b"/Type /Page\n") + data.count(b"/Type /Page ") >= 11


def test_what_is_folded_is_printed_with_and_without_script(chromium: Any, page_file: Path, tmp_path: Path) -> None:
    for script in (True, False):
        context = chromium.new_context(java_script_enabled=script)
        page = context.new_page()
        page.goto(page_file.as_uri())
        page.pdf(path=tmp_path / f"{script}.pdf", format="Letter")
        context.close()
    texts = [printed(tmp_path / f"{script}.pdf") for script in (True, False)]
    for text in texts:
        assert text.count("What holds") >= 9
        assert "clear between" in text
        assert "Schedules, counts and remarks" in text
        assert "Cabinets" in text


def printed(path: Path) -> str:
    tool = need(shutil.which("pdftotext"), "pdftotext of poppler")
    done = subprocess.run([tool, str(path), "-"], capture_output=True, text=True, check=True)
    return " ".join(done.stdout.split())


def test_a_link_to_a_finding_unfolds_it(chromium: Any, page_file: Path) -> None:
    page = chromium.new_page(viewport={"width": 1280, "height": 900})
    page.goto(page_file.as_uri())
    link = page.query_selector("#room-kitchen .worth a")
    target = link.get_attribute("href")
    assert not page.is_visible(target)
    link.click()
    assert page.is_visible(target)
    page.close()


def test_everything_unfolds_at_once_and_folds_again(chromium: Any, page_file: Path) -> None:
    page = chromium.new_page(viewport={"width": 1280, "height": 900})
    page.goto(page_file.as_uri())
    still = "[...document.querySelectorAll('details')].filter(one => !one.open).length"
    before = page.evaluate(still)
    assert before > 30
    page.click("#unfold")
    assert page.evaluate(still) == 0
    page.click("#unfold")
    assert page.evaluate(still) >= before
    page.close()


def test_a_room_is_read_in_a_few_screens(chromium: Any, page_file: Path) -> None:
    page = chromium.new_page(viewport={"width": 1440, "height": 900})
    page.goto(page_file.as_uri())
    heights = [section.bounding_box()["height"] for section in page.query_selector_all("section.room:not(.annex)")]
    # Before, the demo kitchen was 30 screens long and most rooms 6.
    assert max(heights) < 11 * 900
    assert sorted(heights)[len(heights) // 2] < 5.5 * 900
    page.close()
