"""The client book: what stands in it, for whom, and that nothing of a record breaks it."""

from __future__ import annotations

from functools import cache

import pytest

import enfilade as ef
from building import house, on_wall, room, set_in, thing
from enfilade.export import book
from enfilade.export.document import Document
from enfilade.project.fields import Audience
from hostile import MARKER, PAYLOAD, with_hostile_text
from printed import bookmarks, document, read, squeezed, text_of


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


def test_the_same_record_gives_the_same_bytes() -> None:
    small = document(house([], show={"version": "2", "date": "2026-01-31"}))
    assert book.write(small) == book.write(small)


def test_a_house_without_rooms_is_a_book() -> None:
    text = text_of(book.write(document(house(spaces=[])))["walkthrough.pdf"])
    assert "No room is recorded yet." in text
    assert "This is the first issue." in text
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
