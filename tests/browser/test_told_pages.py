"""Slides, the speaker's page and the prompting page of the demo house in real Chromium."""

from __future__ import annotations

import json
import subprocess
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

import enfilade as ef
from building import house, room
from enfilade.export import prompt, slides, speaker
from enfilade.export.tell import told
from hostile import MARKER, with_hostile_text
from needs import axe_script, java_and_checker

pytestmark = pytest.mark.browser

AXE_TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
PAGES = ("slides.html", "speaker.html", "prompt.html")


def written(project: Any, folder: Path, audience: Any = "client") -> Path:
    document = told(project, audience)
    for module in (slides, speaker, prompt):
        for name, data in module.write(document).items():
            (folder / name).write_bytes(data)
    return folder


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The three pages of the demo house for its client."""
    return written(ef.demo(), tmp_path_factory.mktemp("told"))


@pytest.fixture(scope="module")
def long_folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The three pages of a house with long names and texts."""
    name, word = "a very long name that goes on " * 13, "x" * 190
    decisions = [
        {"id": f"d{n}", "number": n, "title": (name, word)[n % 2][:380], "spaces": ["kitchen"], "reason": name * n}
        for n in range(1, 9)
    ]
    script = [{"id": "s", "space": "kitchen", "lines": [name, word, "word " * 900]}]
    space = room(144, 144) | {"name": name[:190], "story": name * 3}
    return written(house([], spaces=[space], decisions=decisions, script=script), tmp_path_factory.mktemp("long"))


@pytest.fixture
def opened(chromium: Any) -> Iterator[Any]:
    """Opens a page and gathers what it asks for and what goes wrong."""
    contexts = []

    def open_(path: Path, width: int = 1280, height: int = 800, **options: Any) -> Any:
        context = chromium.new_context(viewport={"width": width, "height": height}, **options)
        contexts.append(context)
        page = context.new_page()
        page.asked, page.faults = [], []
        page.on("request", lambda request: page.asked.append(request.url))
        page.on("console", lambda message: page.faults.append(message.text) if message.type == "error" else None)
        page.on("pageerror", lambda error: page.faults.append(str(error)))
        page.goto(path.as_uri())
        return page

    yield open_
    for context in contexts:
        context.close()


@pytest.mark.parametrize("name", PAGES)
@pytest.mark.parametrize("width", [1440, 1024, 390])
def test_pages_ask_nothing_of_the_network_and_do_not_scroll_sideways(
    opened: Any, folder: Path, long_folder: Path, name: str, width: int
) -> None:
    for place in (folder, long_folder):
        page = opened(place / name, width)
        assert [url for url in page.asked if not url.startswith("data:")] == [(place / name).as_uri()]
        assert page.faults == []
        assert page.evaluate("document.documentElement.scrollWidth") <= width
        assert page.evaluate("document.fonts.check('16px \"Enfilade Text\"')")


@pytest.mark.parametrize("name", PAGES)
@pytest.mark.parametrize("width", [1280, 390])
def test_pages_have_no_fault_for_assistive_technology(opened: Any, folder: Path, name: str, width: int) -> None:
    page = opened(folder / name, width, bypass_csp=True)
    page.add_script_tag(path=axe_script())
    result = page.evaluate("tags => axe.run(document, {runOnly: tags})", AXE_TAGS)
    assert [(fault["id"], fault["nodes"][0]["html"][:200]) for fault in result["violations"]] == []


def test_pages_are_valid_html(folder: Path) -> None:
    java, checker = java_and_checker()
    done = subprocess.run(
        [java, "-Xss8m", "-jar", checker, "--format", "json", "--stdout", *(str(folder / name) for name in PAGES)],
        capture_output=True, text=True, check=False, timeout=300,
    )  # fmt: skip
    messages = json.loads(done.stdout)["messages"]
    assert [(m["message"], m.get("extract", "")[:120]) for m in messages if m["type"] == "error"] == []


@pytest.mark.parametrize("name", PAGES)
def test_hostile_text_stays_text(opened: Any, tmp_path: Path, name: str) -> None:
    project, _ = with_hostile_text(ef.demo())
    page = opened(written(project, tmp_path, "studio") / name)
    page.wait_for_timeout(200)
    assert page.evaluate("window.hacked") is None
    assert page.evaluate("document.querySelectorAll('script').length") == 1
    assert page.evaluate("document.querySelectorAll('img[src=x], svg[onload]').length") == 0
    assert page.evaluate(f"document.body.textContent.includes('{MARKER}')")


@pytest.mark.parametrize("name", PAGES)
def test_a_script_that_is_not_the_pages_own_does_not_run(opened: Any, folder: Path, name: str) -> None:
    page = opened(folder / name)
    page.evaluate("document.body.insertAdjacentHTML('beforeend', '<img src=\"data:,\" onerror=\"window.hacked = 1\">')")
    page.wait_for_timeout(200)
    assert page.evaluate("window.hacked") is None


# Slides


def test_slides_turn_by_keys_clicks_and_the_address(opened: Any, folder: Path) -> None:
    page = opened(folder / "slides.html")
    here = "document.querySelector('.slide.here').id"
    last = page.evaluate("document.querySelectorAll('.slide').length")
    steps = (
        ("ArrowRight", 2),
        ("PageDown", 3),
        ("ArrowLeft", 2),
        ("PageUp", 1),
        ("End", last),
        ("ArrowRight", last),
        ("Home", 1),
    )
    for key, wanted in steps:
        page.keyboard.press(key)
        assert page.evaluate(here) == f"slide-{wanted}"
        assert page.evaluate("location.hash") == f"#slide-{wanted}"
    assert page.inner_text("#said") == f"slide 1 of {last}"
    page.mouse.click(900, 300)
    assert page.evaluate(here) == "slide-2"
    page.mouse.click(100, 300)
    assert page.evaluate(here) == "slide-1"
    page.evaluate("location.hash = '#slide-5'")
    page.wait_for_function(f"{here} === 'slide-5'")
    assert page.evaluate("[...document.querySelectorAll('.slide')].filter(one => one.offsetHeight > 0).length") == 1


def test_slides_open_where_the_address_says(opened: Any, folder: Path) -> None:
    page = opened(folder / "slides.html")
    page.goto((folder / "slides.html").as_uri() + "#slide-4")
    page.reload()
    assert page.evaluate("document.querySelector('.slide.here').id") == "slide-4"


def test_escape_shows_all_slides_and_a_click_opens_one(opened: Any, folder: Path) -> None:
    page = opened(folder / "slides.html")
    page.keyboard.press("Escape")
    shown = "[...document.querySelectorAll('.slide')].filter(one => one.offsetHeight > 0).length"
    assert page.evaluate(shown) > 20
    assert page.evaluate("document.documentElement.scrollWidth") <= 1280
    page.click("#slide-6")
    assert page.evaluate(shown) == 1
    assert page.evaluate("location.hash") == "#slide-6"


def test_notes_are_hidden_until_a_key_shows_them(opened: Any, folder: Path) -> None:
    page = opened(folder / "slides.html")
    number = page.evaluate("[...document.querySelectorAll('.slide')].findIndex(one => one.querySelector('.notes')) + 1")
    page.evaluate(f"location.hash = '#slide-{number}'")
    page.wait_for_function(f"document.querySelector('.slide.here').id === 'slide-{number}'")
    assert not page.is_visible(".slide.here .notes p")
    page.keyboard.press("n")
    assert page.is_visible(".slide.here .notes p")


def overflowing(page: Any) -> list[Any]:
    found = []
    for _ in range(page.evaluate("document.querySelectorAll('.slide').length")):
        over = page.evaluate(
            """() => {
              const stage = document.querySelector('.slide.here .stage');
              const body = stage.querySelector('.body').getBoundingClientRect();
              const words = stage.querySelector('.words');
              const ends = words ? [...words.children].map((one) => one.getBoundingClientRect().bottom) : [];
              const high = stage.scrollHeight - stage.clientHeight;
              return Math.max(high, stage.scrollWidth - stage.clientWidth, ...ends.map((end) => end - body.bottom));
            }"""
        )
        if over > 1.5:
            found.append((page.evaluate("location.hash"), over))
        page.keyboard.press("ArrowRight")
    return found


def test_no_slide_overflows(opened: Any, folder: Path, long_folder: Path, tmp_path: Path) -> None:
    project, _ = with_hostile_text(ef.demo())
    for place in (folder, long_folder, written(project, tmp_path, "studio")):
        assert overflowing(opened(place / "slides.html", 1280, 768)) == []


def test_slides_without_script_are_a_document_that_scrolls(opened: Any, folder: Path) -> None:
    page = opened(folder / "slides.html", java_script_enabled=False)
    heights = [box.bounding_box()["height"] for box in page.query_selector_all(".slide")]
    assert min(heights) > 60
    assert not page.is_visible(".bar")


def test_large_text_turns_slides_into_a_page(opened: Any, folder: Path) -> None:
    # 1440 CSS px at 200 % leaves 720: WCAG 2.2, 1.4.4 and 1.4.10.
    page = opened(folder / "slides.html", 720, 450)
    assert page.evaluate("getComputedStyle(document.querySelector('.slide p.text')).fontSize") == "17px"
    assert page.evaluate("[...document.querySelectorAll('.slide')].filter(one => one.offsetHeight > 0).length") > 20
    assert page.evaluate("document.documentElement.scrollWidth") <= 720


@pytest.mark.parametrize("script", [True, False])
def test_slides_print_one_to_a_page(opened: Any, folder: Path, script: bool) -> None:
    page = opened(folder / "slides.html", java_script_enabled=script)
    data = page.pdf(prefer_css_page_size=True, print_background=False)
    count = len(page.query_selector_all(".slide"))
    assert data.count(b"/Type /Page\n") + data.count(b"/Type /Page ") == count


# The speaker's page


def test_the_clock_says_where_one_should_be(opened: Any, folder: Path) -> None:
    page = opened(folder / "speaker.html")
    page.clock.install()
    page.reload()
    steps = page.evaluate(
        """[...document.querySelectorAll('li[data-part="0"]')]
        .map((one) => [Number(one.dataset.start), one.closest('.stop')?.dataset.name])"""
    )
    start, name = next(one for one in steps if one[0] > 20 and one[1])
    page.click("#run")
    page.clock.run_for(int(start * 1000) + 600)
    assert page.inner_text("#time") == f"{int(start) // 60}:{int(start + 0.6) % 60:02}"
    assert page.inner_text("#where").endswith(name)
    assert page.evaluate("Number(document.querySelector('.now').dataset.start)") == start
    page.click("#run")
    page.clock.run_for(5000)
    assert page.evaluate("Number(document.querySelector('.now').dataset.start)") == start


# The prompting page

AT_MARK = """() => {
  const mark = document.querySelector('.mark').getBoundingClientRect().top;
  const steps = [...document.querySelectorAll('.step')].filter((one) => Number(one.dataset.seconds) > 0);
  let start = 0;
  for (const one of steps) {
    const seconds = Number(one.dataset.seconds);
    const box = one.getBoundingClientRect();
    if (box.top <= mark + 1 && mark < box.bottom + 0.5) return start + ((mark - box.top) / box.height) * seconds;
    start += seconds;
  }
  return null;
}"""


def prompted(opened: Any, folder: Path, **options: Any) -> Any:
    page = opened(folder / "prompt.html", **options)
    page.clock.install()
    page.reload()
    page.clock.run_for(100)
    return page


def test_the_line_of_each_moment_stands_at_the_reading_line(opened: Any, folder: Path) -> None:
    page = prompted(opened, folder)
    page.keyboard.press(" ")
    gone = 0
    for seconds in (5, 10, 20, 40):
        page.clock.run_for(seconds * 1000)
        gone += seconds
        # A step of 16 ms and a pixel of scrolling are less than a third of a second.
        assert page.evaluate(AT_MARK) == pytest.approx(gone, abs=0.35)
    page.keyboard.press(" ")
    page.clock.run_for(5000)
    assert page.evaluate(AT_MARK) == pytest.approx(gone, abs=0.35)


def test_it_runs_faster_and_slower_than_the_recorded_rate(opened: Any, folder: Path) -> None:
    page = prompted(opened, folder)
    for _ in range(6):
        page.keyboard.press("ArrowRight")
    assert page.inner_text("#rate") == "180 words a minute"
    page.keyboard.press(" ")
    page.clock.run_for(20_000)
    # 20 s at 180 words a minute tell what 24 s do at 150.
    assert page.evaluate(AT_MARK) == pytest.approx(24, abs=0.35)


def test_text_size_keeps_the_line_that_is_read(opened: Any, folder: Path) -> None:
    page = prompted(opened, folder)
    page.keyboard.press(" ")
    page.clock.run_for(15_000)
    page.keyboard.press(" ")
    before = page.evaluate(AT_MARK)
    page.click("#larger")
    page.click("#larger")
    assert page.evaluate(AT_MARK) == pytest.approx(before, abs=0.35)


def test_who_scrolls_by_hand_goes_on_from_there(opened: Any, folder: Path) -> None:
    page = prompted(opened, folder)
    page.mouse.wheel(0, 1500)
    page.wait_for_function("scrollY > 1400")
    page.clock.run_for(200)
    at = page.evaluate(AT_MARK)
    page.keyboard.press(" ")
    page.clock.run_for(4000)
    assert page.evaluate(AT_MARK) == pytest.approx(at + 4, abs=0.5)


def test_a_part_that_is_not_chosen_is_not_read(opened: Any, folder: Path) -> None:
    page = prompted(opened, folder)
    whole = page.inner_text("#time")
    page.click(".chosen summary")
    page.uncheck("[data-shows=part-1]")
    assert page.inner_text("#time") != whole
    assert not page.is_visible("#part-1")


def test_it_is_mirrored_for_a_glass_and_light_on_dark(opened: Any, folder: Path) -> None:
    page = prompted(opened, folder)
    page.click("#mirror")
    assert page.evaluate("getComputedStyle(document.querySelector('main')).transform") == "matrix(-1, 0, 0, 1, 0, 0)"
    page.click("#dark")
    assert page.evaluate("getComputedStyle(document.body).backgroundColor") == "rgb(0, 0, 0)"
    page.click("#line")
    assert not page.is_visible(".mark")


def test_reduced_motion_steps_line_by_line(opened: Any, folder: Path) -> None:
    page = prompted(opened, folder, reduced_motion="reduce")
    page.keyboard.press(" ")
    places = set()
    for _ in range(40):
        page.clock.run_for(250)
        places.add(page.evaluate("Math.round(scrollY)"))
    # 10 s at 150 words a minute are 25 words: a handful of lines, no movement between them.
    assert 2 <= len(places) <= 10
