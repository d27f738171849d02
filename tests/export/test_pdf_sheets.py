"""Drawing sheets: what is printed measures what its scale says, and every sheet says whose and which it is."""

from __future__ import annotations

import math
from functools import cache

import pytest

import enfilade as ef
from building import door, house, on_wall, room, thing
from enfilade.drawings.svg import SCALES
from enfilade.export import sheets
from enfilade.export.document import Document
from enfilade.project.project import Project
from printed import bookmarks, document, paths, read, squeezed, text_of

POINTS_PER_MM = 72 / 25.4


def kitchen(width: float, depth: float, units: str = "us", ceiling: float = 96) -> Project:
    things = [thing("counter", "run", width / 2, 25, on_wall("kitchen-north", 0))]
    return house(
        things,
        spaces=[room(width, depth, ceiling=ceiling)],
        show={"units": units, "version": "3", "date": "2026-02-01"},
    )


def made(project: Project) -> bytes:
    return sheets.write(document(project))["sheets.pdf"]


@cache
def demo() -> Document:
    return document(ef.demo())


@cache
def demo_sheets() -> bytes:
    return sheets.write(demo())["sheets.pdf"]


def horizontal(page: object, length: float) -> int:
    """Count the level lines of a length on a page [points]; a tenth of a point is 0.035 mm."""
    return sum(math.isclose(math.dist(a, b), length, abs_tol=0.1) and abs(a[1] - b[1]) < 0.05 for a, b in paths(page))


def upright(page: object, length: float) -> int:
    return sum(math.isclose(math.dist(a, b), length, abs_tol=0.1) and abs(a[0] - b[0]) < 0.05 for a, b in paths(page))


@pytest.mark.parametrize(
    ("units", "width_in", "height_in", "scale", "times"),
    [
        # A wall of 10 ft at 1/2 in to the foot is 5 in of 72 points: 360; 8 ft high: 4 in, 288.
        ("us", 120, 96, "1/2 in = 1 ft", 24),
        # 3048 mm at 1:20 are 152.4 mm.
        ("metric", 120, 96, "1:20", 20),
    ],
)
def test_a_wall_is_printed_as_long_as_its_scale_says(
    units: str, width_in: float, height_in: float, scale: str, times: int
) -> None:
    data = made(kitchen(width_in, 100, units, height_in))
    page = next(one for one in list(read(data).pages)[1:] if "elevations" in one.extract_text())
    assert squeezed(scale) in squeezed(page.extract_text())
    assert horizontal(page, width_in * 25.4 / times * POINTS_PER_MM) >= 1
    assert upright(page, height_in * 25.4 / times * POINTS_PER_MM) >= 2
    # It stands at no other scale by chance.
    assert horizontal(page, width_in * 25.4 / (times * 1.25) * POINTS_PER_MM) == 0


def test_a_large_room_takes_the_next_smaller_scale_and_says_so() -> None:
    data = made(kitchen(600, 480))
    page = next(one for one in list(read(data).pages)[1:] if "1 Kitchen: plan" in " ".join(one.extract_text().split()))
    said = next(name for name in SCALES if squeezed(f"{name} = 1 ft") in squeezed(page.extract_text()))
    # A tabloid sheet is 17 in wide: 50 ft fit at 1/4 in to the foot (12 1/2 in) at most.
    assert SCALES[said] >= 48
    # Witness lines and strings of the south wall, 600 in between its faces, are as long.
    assert horizontal(page, 600 * 25.4 / SCALES[said] * POINTS_PER_MM) >= 1


def test_the_scale_bar_is_as_long_as_it_says() -> None:
    sheets_of = list(read(made(kitchen(120, 100))).pages)[1:]
    page = next(one for one in sheets_of if "elevations" in one.extract_text())
    # At 1/2 in to the foot a bar of 2 ft is 1 in long, in four fields of 18 points.
    assert "2 ft" in page.extract_text()
    bars = []

    def visit(operator: bytes, operands: list, matrix: list[float], text: list[float]) -> None:
        if operator == b"re":
            bars.append((float(operands[2]) * matrix[0], abs(float(operands[3]) * matrix[3])))

    page.extract_text(visitor_operand_before=visit)
    lines = [round(math.dist(a, b), 1) for a, b in paths(page)]
    assert sum(abs(wide - 18) < 0.2 for wide, _ in bars) + lines.count(18.0) >= 4


def test_every_sheet_bears_its_title_block() -> None:
    reader, pages = read(demo_sheets()), demo().pages
    count = len(reader.pages)
    for number, page in enumerate(reader.pages, 1):
        words = squeezed(page.extract_text())
        assert number == 1 or "=1ft" in words
        for each in (
            pages.studio,
            pages.title,
            f"version {pages.version}",
            pages.date,
            pages.designer,
            pages.stage.capitalize(),
        ):
            assert squeezed(each) in words
        assert f"{number}of{count}" in words


def test_every_room_has_its_sheets_in_walking_order() -> None:
    first, *marks = bookmarks(read(demo_sheets()))
    assert first == "Sheets, revisions and what is undecided"
    assert marks[0] == "The house: plan"
    assert 1 + len(marks) == len(read(demo_sheets()).pages)
    rooms = [f"{page.number} {page.name}" for page in demo().pages.rooms]
    assert list(dict.fromkeys(mark.partition(":")[0] for mark in marks[1:])) == rooms
    for mark_of in rooms:
        assert any("elevations" in mark for mark in marks if mark.startswith(mark_of))


def test_the_first_sheet_lists_all_others_and_what_is_undecided() -> None:
    reader = read(demo_sheets())
    first = squeezed(reader.pages[0].extract_text())
    for number, mark in enumerate(bookmarks(reader)[1:], 2):
        assert squeezed(f"{number} {mark}") in first
    undecided = [one for one in ef.demo().decisions if one.status == "undecided"]
    assert undecided
    for one in undecided:
        assert squeezed(one.title) in first
        assert squeezed(one.by) in first
        assert str(one.due) in first
    assert squeezed("Not issued before.") in first


def test_a_long_list_of_sheets_runs_on_over_several() -> None:
    rooms = [room(60, 60, id=f"r{n}", at=(70 * n, 0)) for n in range(100)]
    reader = read(made(house(spaces=rooms)))
    marks = bookmarks(reader)
    lists = [mark for mark in marks if mark.startswith(("Sheets, ", "List of sheets"))]
    assert len(lists) > 1
    listed = squeezed(" ".join(page.extract_text() for page in list(reader.pages)[: len(lists)]))
    assert all(squeezed(mark) in listed for mark in marks)


def test_the_sheet_is_tabloid_or_a3_lying() -> None:
    # ANSI/ASME Y14.1 size B, 11 x 17 in; ISO 216 A3, 297 x 420 mm.
    for units, size in (("us", (1224, 792)), ("metric", (420 * POINTS_PER_MM, 297 * POINTS_PER_MM))):
        for page in read(made(kitchen(120, 100, units))).pages:
            assert (float(page.mediabox.width), float(page.mediabox.height)) == pytest.approx(size, abs=0.1)


def test_nothing_is_drawn_off_the_sheet() -> None:
    for page in read(demo_sheets()).pages:
        for a, b in paths(page):
            for x, y in (a, b):
                assert -1 <= x <= float(page.mediabox.width) + 1
                assert -1 <= y <= float(page.mediabox.height) + 1


def test_a_house_without_rooms_is_one_sheet_that_says_so() -> None:
    data = made(house(spaces=[]))
    assert len(read(data).pages) == 1
    assert "No room is recorded yet" in text_of(data)


def test_a_wall_longer_than_any_scale_takes_is_drawn_to_fit_and_says_not_to_measure() -> None:
    # 400 m at 1/16 in to the foot (1:192) are more than 2 m.
    text = text_of(made(kitchen(400_000 / 25.4, 100)))
    assert "drawn to fit: do not measure" in text


def test_long_names_are_cut_in_the_title_block() -> None:
    # 400 signs are the most that a name may have.
    walls = [{"id": f"w{n}", "name": "w" * 400} for n in range(4)]
    spaces = [room(100, 100) | {"name": "n" * 400, "walls": walls}]
    things = [thing("counter", "run", 50, 25, on_wall("w0", 0))]
    text = squeezed(text_of(made(house(things, spaces=spaces, openings=[door("d", "w1", 10)], name="h" * 400))))
    assert "n" * 50 in text
    assert "n" * 100 not in text
    assert "\u2026" in text
