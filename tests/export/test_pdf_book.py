"""The client book: what stands in it, for whom, and that nothing of a record breaks it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import cache

import pypdf
import pytest

import enfilade as ef
from building import house, on_wall, room, set_in, thing
from enfilade.export import book
from enfilade.export.document import Document
from enfilade.export.scaled import trimmed
from enfilade.project.fields import Audience
from enfilade.walkthrough.pages import DecisionPart, Walkthrough
from hostile import MARKER, PAYLOAD, with_hostile_text
from printed import bookmarks, document, paths, read, squeezed, text_of


@cache
def demo(audience: Audience = "client") -> Document:
    return document(ef.demo(), audience)


@cache
def demo_book(audience: Audience = "client") -> bytes:
    return book.write(demo(audience))["walkthrough.pdf"]


def told(**more: object) -> str:
    return squeezed(text_of(book.write(document(house([], **more)))["walkthrough.pdf"]))


def test_it_opens_with_whose_it_is_and_which_issue() -> None:
    pages, first = demo().pages, squeezed(read(demo_book()).pages[0].extract_text())
    for words in (
        pages.title,
        pages.studio,
        pages.designer,
        f"For {pages.client}",
        f"version {pages.version}",
        pages.date,
    ):
        assert squeezed(words) in first


def test_then_it_tells_what_changed_and_what_is_undecided_by_whom_and_by_when() -> None:
    second = squeezed(read(demo_book()).pages[1].extract_text())
    assert "Whatchanged" in second
    assert demo().pages.undecided
    for one in demo().pages.undecided:
        assert squeezed(one.title) in second
        assert squeezed(one.by) in second.replace("-", "")
        assert one.due in read(demo_book()).pages[1].extract_text()


def test_every_page_after_the_cover_says_what_it_is_of_and_which_of_how_many() -> None:
    reader = read(demo_book())
    count = len(reader.pages)
    for number, page in enumerate(reader.pages, 1):
        words = squeezed(page.extract_text())
        assert words.endswith(f"{number}of{count}") == (number > 1)
        assert f"version{demo().pages.version}" in words


def test_each_room_has_its_story_its_lines_and_what_falls_short_with_source_and_caution() -> None:
    text = squeezed(text_of(demo_book()))
    for page in demo().pages.rooms:
        for words in (page.name, page.story, *page.lines, *page.cautions):
            assert squeezed(words) in text
        for part in page.short:
            for words in (part.sentence, part.source, part.caution, part.answer):
                assert squeezed(words) in text


def chapters(reader: pypdf.PdfReader) -> dict[str, list[pypdf.PageObject]]:
    """Return the pages of each chapter, by its name."""
    marks = [one for one in reader.outline if not isinstance(one, list)]
    starts = [reader.get_destination_page_number(one) for one in marks] + [len(reader.pages)]
    return {str(one.title): reader.pages[starts[n] : starts[n + 1]] for n, one in enumerate(marks)}


def everything_told(pages: Walkthrough) -> Iterator[str]:
    """Yield all that a client is told in words, from the pages before they are set."""

    def of(one: DecisionPart) -> Iterator[str]:
        yield from (one.title, one.status, one.who, one.reason, one.changed, one.hindsight, *one.needs)
        for option in one.options:
            yield from (option.text, option.why_not, option.cost)

    yield from (pages.brief, *pages.household, *pages.sources, *pages.changes.sentences)
    for decision in pages.decisions:
        yield from of(decision)
    for page in pages.rooms:
        yield from (page.name, page.size, page.story, *page.lines, *page.cautions)
        yield from (view.title for view in page.views)
        yield from (picture.caption for picture in page.pictures)
        for decision in page.decisions:
            yield from of(decision)
        for part in page.short:
            yield from (part.sentence, part.verdict, part.level, part.about, part.answer, part.caution, part.source)
            yield from (*part.also, *part.assumed)
        for part in page.open:
            yield from (part.sentence, part.caution)
        for remark in page.remarks:
            yield from remark
    for part in pages.house:
        yield from (part.sentence, part.caution, part.source)
    handed = pages.handover
    for table in (*handed.register, handed.services, handed.points, *pages.schedules):
        if table.title == "Care" and handed.register:
            continue  # The registers hold it.
        yield from (cell for row in table.rows for cell in row)
        yield table.note if table.rows else ""
    for row in (*pages.needs, *pages.to_verify, *handed.lessons, *handed.credits):
        yield from row


def test_nothing_that_a_client_is_told_is_left_out() -> None:
    # Words at the end of a line are broken with a hyphen, so that hyphens do not count.
    text = squeezed(text_of(demo_book())).replace("-", "").replace("\u00ad", "")
    told = {words for words in everything_told(demo().pages) if words}
    assert len(told) > 500
    assert [words for words in told if squeezed(words).replace("-", "") not in text] == []


def test_each_caution_is_told_once_in_a_room() -> None:
    reader = read(demo_book())
    kitchen = squeezed(" ".join(one.extract_text() for one in chapters(reader)["4 Kitchen"]))
    (page,) = (one for one in demo().pages.rooms if one.name == "Kitchen")
    assert len(page.cautions) > 3
    assert {line: kitchen.count(squeezed(line)) for line in page.cautions} == dict.fromkeys(page.cautions, 1)


def test_a_decision_is_told_in_full_once_and_named_in_the_other_rooms() -> None:
    shared = [one for one in ef.demo().decisions if len(one.spaces) > 1 and one.reason]
    text = squeezed(text_of(demo_book()))
    assert shared
    for one in shared:
        assert text.count(squeezed(one.reason)) == 1
        assert f"{squeezed(one.title)}toldunder" in text


def test_students_and_the_studio_get_the_working_too() -> None:
    working = next(part.working[0] for page in demo().pages.rooms for part in page.held if len(part.working[0]) > 20)
    assert squeezed(working) not in squeezed(text_of(demo_book()))
    assert squeezed(working) in squeezed(text_of(demo_book("student")))


def test_bookmarks_lead_to_every_room_in_walking_order() -> None:
    marks = bookmarks(read(demo_book()))
    rooms = [f"{page.number} {page.name}" for page in demo().pages.rooms]
    assert [mark for mark in marks if mark in rooms] == rooms


def test_the_sheet_is_the_one_that_the_units_go_with() -> None:
    # ANSI/ASME Y14.1: letter, 8 1/2 x 11 in of 72 points; ISO 216: A4, 210 x 297 mm.
    def size(units: str) -> tuple[float, float]:
        page = read(book.write(document(house([], show={"units": units})))["walkthrough.pdf"]).pages[0]
        return float(page.mediabox.width), float(page.mediabox.height)

    assert size("us") == pytest.approx((612, 792), abs=0.1)
    assert size("metric") == pytest.approx((210 / 25.4 * 72, 297 / 25.4 * 72), abs=0.1)


def test_changing_one_size_changes_the_book() -> None:
    def with_counter(width: float) -> str:
        things = [
            thing("counter", "run", width, 25, on_wall("kitchen-north", 0)),
            thing("sink", "s", 30, 20, set_in("run", 30)),
        ]
        return squeezed(text_of(book.write(document(house(things), "studio"))["walkthrough.pdf"]))

    # Landing right of the sink: 120 - 60 = 60 in, then 110 - 60 = 50 in (guideline 11).
    assert '60"(1524mm)' in with_counter(120)
    assert '60"(1524mm)' not in with_counter(110)
    assert '50"(1270mm)' in with_counter(110)


def placed(page: pypdf.PageObject) -> list[tuple[str, float, float]]:
    """Return the words of a page with where they stand [points], without the lines at its head and foot."""
    found: list[tuple[str, float, float]] = []
    page.extract_text(visitor_text=lambda text, cm, tm, font, size: found.append(
        (text.strip(), cm[0] * tm[4] + cm[4], cm[3] * tm[5] + cm[5])))  # fmt: skip
    high = float(page.mediabox.height)
    return [(text, x, y) for text, x, y in found if text and 50 < y < high - 50]


def test_rooms_take_few_pages_and_few_pages_are_nearly_empty() -> None:
    reader = read(demo_book())
    assert len(reader.pages) <= 34
    taken = {name: len(pages) for name, pages in chapters(reader).items()}
    for page in demo().pages.rooms:
        assert taken[f"{page.number} {page.name}"] <= (6 if page.name == "Kitchen" else 3)
    # The lowest words of a page stand in its upper third: it is nearly empty.
    empty = [n for n, page in enumerate(reader.pages, 1) if min(y for _, _, y in placed(page)) > 2 / 3 * 792 and n > 1]
    assert len(empty) <= 1


SECTIONS = ("What was decided", "What falls short", "Cautions", "Remarks", "What holds", "Plan", "Elevations")


@pytest.mark.parametrize("which", ["demo", "many decisions"])
def test_no_heading_stands_alone_at_the_foot_of_a_column(which: str) -> None:
    data = demo_book()
    if which != "demo":
        many = [
            {"id": f"d{n}", "number": n, "title": f"Title {n}", "spaces": ["kitchen"], "reason": "Because. " * (n % 40)}
            for n in range(1, 301)
        ]
        data = book.write(document(house([], decisions=many)))["walkthrough.pdf"]
    told = chapters(read(data))
    count = 0
    for page in (page for name, pages in told.items() if name[0].isdigit() for page in pages):
        words = placed(page)
        middle = float(page.mediabox.width) / 2
        for text, x, y in words:
            if text in SECTIONS or text.startswith("Title "):
                count += 1
                assert any(b < y - 2 and (a > middle - 20) >= (x > middle - 20) for _, a, b in words), text
    assert count > 20


def test_a_wall_in_the_book_is_as_long_as_its_scale_says() -> None:
    # 10 ft at 1/4 in to the foot are 2 1/2 in of 72 points, at 3/16 in 1 7/8 in: the plan and the elevation.
    counter = thing("counter", "run", 60, 25, on_wall("kitchen-north", 0))
    data = book.write(document(house([counter], spaces=[room(120, 100)])))
    reader = read(data["walkthrough.pdf"])
    lines = [abs(a[0] - b[0]) for page in reader.pages for a, b in paths(page) if abs(a[1] - b[1]) < 0.05]
    for words, length in (("Scale 1/4 in = 1 ft.", 180), ("Scale 3/16 in = 1 ft.", 135)):
        assert words in text_of(data["walkthrough.pdf"])
        assert any(abs(one - length) < 0.1 for one in lines)


def test_a_trimmed_drawing_is_as_large_as_before_and_loses_only_its_margin() -> None:
    # The view box of SVG 1.1, 7.7: the same length of it takes the same length on paper.
    svg = '<svg xmlns="http://www.w3.org/2000/svg" width="50.8mm" height="25.4mm" viewBox="0 0 192 96" role="img"/>'
    shown = trimmed(svg)
    wide = float(shown.split('width="')[1].split("mm")[0])
    box = [float(one) for one in shown.split('viewBox="')[1].split('"')[0].split()]
    assert wide / box[2] == pytest.approx(50.8 / 192, rel=1e-3)
    assert box[0] == box[1] == pytest.approx((192 - box[2]) / 2, abs=0.02)
    assert trimmed("<svg></svg>") == "<svg></svg>"


def test_long_names_stay_on_the_sheet() -> None:
    name = ("a name of many words " * 20)[:400]
    long = house(
        [{**thing("counter", "run", 60, 25, on_wall("kitchen-north", 0)), "name": name}],
        name=name,
        spaces=[{**room(120, 160), "name": name, "story": name}],
        decisions=[{"id": "d", "number": 1, "title": name, "spaces": ["kitchen"], "reason": name}],
    )
    reader = read(book.write(document(long))["walkthrough.pdf"])
    for page in reader.pages:
        for text, x, y in placed(page):
            assert 50 <= x <= float(page.mediabox.width) - 50, text
            assert y >= 50
    assert squeezed(name) in squeezed(" ".join(page.extract_text() for page in reader.pages))


def test_the_demo_is_a_book_on_metric_paper_too() -> None:
    demo_house = ef.demo()
    metric = demo_house.model_copy(update={"show": demo_house.show.model_copy(update={"units": "metric"})})
    reader = read(book.write(document(metric))["walkthrough.pdf"])
    assert len(reader.pages) <= 34
    assert "Scale 1:100." in squeezed_spaces(reader)


def squeezed_spaces(reader: pypdf.PdfReader) -> str:
    return " ".join(" ".join(page.extract_text() for page in reader.pages).split())


def test_a_room_without_a_perspective_opens_with_its_plan() -> None:
    reader = read(demo_without_views())
    opened = [page.extract_text() for page in reader.pages if "1 Entry" in page.extract_text()][-1]
    assert "Plan" in opened
    assert squeezed(demo().pages.rooms[0].story) in squeezed(opened)


def demo_without_views() -> bytes:
    base = demo()
    rooms = tuple(replace(page, views=()) for page in base.pages.rooms)
    return book.write(replace(base, pages=replace(base.pages, rooms=rooms)))["walkthrough.pdf"]


def test_the_same_record_gives_the_same_bytes() -> None:
    small = document(house([], show={"version": "2", "date": "2026-01-31"}))
    assert book.write(small) == book.write(small)


def test_a_house_without_rooms_is_a_book() -> None:
    text = text_of(book.write(document(house(spaces=[])))["walkthrough.pdf"])
    assert "No room is recorded yet." in text
    assert "Not issued before." in text
    assert "Nothing is recorded as undecided." in text


def test_three_hundred_decisions_are_told() -> None:
    many = [{"id": f"d{n}", "number": n, "title": f"Decision number {n}", "spaces": ["kitchen"]} for n in range(1, 301)]
    text = told(decisions=many)
    assert all(f"Decisionnumber{n}" in text for n in (1, 150, 300))


def test_a_reason_without_end_runs_over_the_pages() -> None:
    long = [{"id": "d", "number": 1, "title": "T", "spaces": ["kitchen"], "reason": "z" * 100_000}]
    assert told(decisions=long).count("z") >= 100_000


SECRETS = {
    "client note": ({"client": {"notes": "qqnote"}}, set()),
    "client name": ({"client": {"names": ["Qqname Invented"]}}, {"client"}),
    "need": ({"brief": {"needs": [{"id": "n", "number": 1, "text": "qqneed"}]}}, {"client", "student", "studio"}),
    "price": ({"products": [{"id": "p", "name": "Lamp", "purchase": {"quote": "987654.32"}}]}, {"client", "studio"}),
    "hindsight": (
        {"decisions": [{"id": "d", "number": 1, "title": "T", "spaces": ["kitchen"], "hindsight": "qqhindsight"}]},
        {"student", "studio"},
    ),
    "studio's ears only": (
        {"decisions": [{"id": "d", "number": 1, "title": "qqtitle", "spaces": ["kitchen"], "hear": ["studio"]}]},
        {"studio"},
    ),
}  # fmt: skip


@pytest.mark.parametrize("audience", ["client", "public", "student", "studio"])
@pytest.mark.parametrize("secret", SECRETS)
def test_each_audience_is_told_what_is_meant_for_it_and_no_more(secret: str, audience: Audience) -> None:
    plain, told_to = SECRETS[secret]
    data = book.write(document(house([], **plain), audience))["walkthrough.pdf"]
    reader = read(data)
    everything = squeezed(text_of(data) + str(reader.metadata) + " ".join(bookmarks(reader))).casefold()
    assert ("qq" in everything or "987,654.32" in everything) == (audience in told_to)


def test_hostile_text_in_every_field_is_shown_as_text() -> None:
    small = house(
        [thing("counter", "run", 120, 25, on_wall("kitchen-north", 0))],
        brief={"text": "b", "needs": [{"id": "n", "number": 1, "text": "n"}]},
        decisions=[{"id": "d", "number": 1, "title": "t", "spaces": ["kitchen"], "reason": "r", "needs": ["n"]}],
    )
    poisoned, count = with_hostile_text(small)
    assert count > 8
    text = squeezed(text_of(book.write(document(poisoned, "studio"))["walkthrough.pdf"]))
    assert squeezed(PAYLOAD).replace("\u202e", "\ufffd") in text
    assert text.count(MARKER) > 8
    assert "right-to-leftoverride(U+202E)" in text


def test_a_hundred_rooms_are_a_book() -> None:
    spaces = [room(100, 100, id=f"r{n}", use="bedroom", at=(110 * (n % 10), 110 * (n // 10))) for n in range(100)]
    marks = bookmarks(read(book.write(document(house(spaces=spaces)))["walkthrough.pdf"]))
    assert sum(mark.split(" ", 1)[-1].startswith("R") for mark in marks) == 100
