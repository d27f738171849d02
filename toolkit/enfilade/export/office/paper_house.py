"""What the editable document tells before the rooms and after them."""

from __future__ import annotations

from enfilade.export.document import Document
from enfilade.export.issue import UNDECIDED, changed_heading, unchanged
from enfilade.export.office.naming import designer_of, for_whom, issue_of, studio_of
from enfilade.export.office.paper import Paper
from enfilade.export.office.paper_rooms import decision, findings
from enfilade.export.office.paper_tables import compact_register, filled, money_in_heads
from enfilade.export.office.pictures import HOUSE_PX, Shown, drawing_shown
from enfilade.export.office.text import plain, shortened
from enfilade.listing import capital
from enfilade.walkthrough.pages import Drawing, Table, Walkthrough

__all__ = ["after_the_rooms", "before_the_rooms", "cover"]

_TITLE_SIGNS = 300
_LOGO_IN = (2.2, 0.8)
_FEW = 3
_MOST_UPRIGHT = 6
"""A table of more columns is set on a page that lies on its side."""


def cover(paper: Paper, document: Document) -> None:
    """Put the first page: whose work it is, what it is called, which issue it is, for whom, and what was asked for."""
    pages = document.pages
    _logo(paper, document)
    for line in (studio_of(document), designer_of(document)):
        if line:
            paper.line(shortened(line, _TITLE_SIGNS), style="Studio" if line == studio_of(document) else "Small")
    for line in document.look.letterhead:
        paper.line(line, style="Small")
    paper.line(shortened(plain(pages.title), _TITLE_SIGNS), style="Title")
    paper.line(issue_of(document), style="Subtitle")
    paper.line(shortened(for_whom(document), 2 * _TITLE_SIGNS), style="Subtitle")
    if pages.brief or pages.household:
        paper.line("", style="Normal")
    paper.text(pages.brief, style="Lead")
    for line in pages.household:
        paper.text(line)


def _logo(paper: Paper, document: Document) -> None:
    look = document.look
    if not look.logo:
        return
    if look.logo_kind == "svg":
        drawing = Drawing(studio_of(document) or "Mark of the studio", look.logo.decode("utf-8", "replace"))
        try:
            shown = drawing_shown(document, drawing, width_in=_LOGO_IN[0], height_in=_LOGO_IN[1], dpi=300)
        except ValueError:
            return
        paper.picture(Shown(shown.data, shown.width_in, shown.height_in, drawing.title), "")
    else:
        placed = _png(look.logo, studio_of(document) or "Mark of the studio")
        if placed is not None:
            paper.picture(placed, "")


def _png(data: bytes, words: str) -> Shown | None:
    import io

    from PIL import Image

    try:
        with Image.open(io.BytesIO(data)) as image:
            wide, high = image.size
    except OSError:
        return None
    scale = min(_LOGO_IN[0] / wide, _LOGO_IN[1] / high, 1 / 150)
    return Shown(data, wide * scale, high * scale, words)


def before_the_rooms(paper: Paper, document: Document) -> None:
    """Put what changed, what is undecided, and the house with its rooms in their order."""
    pages = document.pages
    paper.heading(changed_heading(pages), 1)
    if pages.changes.sentences:
        paper.bullets(pages.changes.sentences)
    else:
        paper.line(unchanged(pages.changes.since))
    if pages.undecided:
        paper.heading(UNDECIDED, 1)
        rows = tuple((str(one.number), one.title, one.room, one.by, one.due) for one in pages.undecided)
        paper.table(Table("", ("No.", "What", "Room", "By whom", "By when"), rows))
    paper.heading("The house, in the order of the rooms", 1)
    if pages.plan:
        shown = drawing_shown(document, pages.plan, width_in=paper.width_in, height_in=5.2, width_px=HOUSE_PX)
        paper.picture(shown, pages.plan.title)
    if pages.rooms:
        paper.table(_rooms(pages))
    else:
        paper.line("No room is recorded yet.")
    paper.line(_tally(pages))


def _rooms(pages: Walkthrough) -> Table:
    rows = tuple(
        (
            str(room.number),
            room.name,
            room.size,
            str(len(room.decisions)),
            str(sum(part.status == "Undecided" for part in room.decisions)),
            str(len(room.short)),
        )
        for room in pages.rooms
    )
    return Table("", ("No.", "Room", "Size", "Decisions", "Undecided", "Falls short"), rows, numeric=(3, 4, 5))


def _tally(pages: Walkthrough) -> str:
    counts = ", ".join(f"{words.lower()}: {count}" for words, count in pages.tally)
    rules = f", with the studio's house rules ({pages.house_rules})" if pages.house_rules else ""
    return " ".join(
        part
        for part in (
            f"{capital(counts)}." if counts else "",
            f"Held against {pages.yardstick}{rules}.",
            "This says what was measured and what each source asks. Local codes and licensed practice decide.",
        )
        if part
    )


def after_the_rooms(paper: Paper, document: Document) -> None:
    """Put what concerns the whole house: needs, registers, services, open points, assumed values, lessons, sources."""
    pages, handover = document.pages, document.pages.handover
    paper.heading("The whole house", 1)
    needs = tuple((number, text, decided) for number, text, decided in pages.needs)
    paper.table(Table("Needs of the brief, and what answers them", ("No.", "Need", "Answered by decision"), needs))
    if pages.decisions:
        paper.heading("What was decided for the whole house", 2)
        for part in pages.decisions:
            decision(paper, part)
    findings(paper, "Findings on the house as a whole", pages.house)
    lists = [filled(table) for table in (handover.services, handover.points)]
    for table in lists:
        if len(table.head) <= _MOST_UPRIGHT:
            paper.table(table)
    paper.table(Table("Assumed values, to verify on site", ("What", "Room", "Value", "Assumed"), pages.to_verify))
    paper.table(Table("What to do differently next time", ("No.", "Decision", "Next time"), handover.lessons))
    paper.table(Table("Who built it and who made it", ("What", "Who"), handover.credits))
    paper.heading("Schedules of the rooms", 1)
    for table in _of_rooms(pages):
        paper.table(table)
    paper.drop_heading()
    _sources(paper, pages)
    wide = [_titled(compact_register(table), "Register") for table in handover.register]
    # What is said of care stands in the register, where there is one.
    bought = [table for table in pages.schedules if table.title != "Care" or not wide]
    wide = [table for table in [*wide, *(_titled(money_in_heads(table), "Schedule") for table in bought)] if table.rows]
    wide = [table for table in lists if len(table.head) > _MOST_UPRIGHT] + wide
    if wide:
        paper.turned(head=(pages.title, studio_of(document)), foot=issue_of(document))
        paper.heading("Schedules of the whole house", 1)
        for table in wide:
            paper.table(table)
        paper.drop_heading()


def _of_rooms(pages: Walkthrough) -> list[Table]:
    """Return the schedules of all rooms, each kind as one table in the order of the rooms.

    What a finish is made of stands in the register of finishes, where there is one.
    """
    told = "Material" if any(table.title == "Finishes" for table in pages.handover.register) else ""
    found: dict[tuple[str, tuple[str, ...]], list[tuple[str, ...]]] = {}
    tables: dict[tuple[str, tuple[str, ...]], Table] = {}
    for room in pages.rooms:
        for table in (_by_value(_without(table, told)) for table in room.schedules):
            key = (table.title, table.head)
            found.setdefault(key, []).extend((room.name, *row) for row in table.rows)
            tables.setdefault(key, table)
    return [
        Table(table.title, ("Room", *table.head), tuple(found[key]), tuple(n + 1 for n in table.numeric), table.note)
        for key, table in tables.items()
        if found[key]
    ]


def _without(table: Table, name: str) -> Table:
    """Return a table without one of its columns."""
    kept = [n for n, head in enumerate(table.head) if head != name]
    rows = tuple(tuple(row[n] for n in kept) for row in table.rows)
    numeric = tuple(kept.index(n) for n in table.numeric if n in kept)
    return Table(table.title, tuple(table.head[n] for n in kept), rows, numeric, table.note)


def _by_value(table: Table) -> Table:
    """Return a table of few columns with one row for what is alike in all but the first of them: walls of one finish.

    >>> _by_value(Table("", ("Where", "Finish"), (("Floor", "oak"), ("Land", "white"), ("East", "white")))).rows
    (('Floor', 'oak'), ('Land; East', 'white'))
    """
    if len(table.head) > _FEW:
        return table
    alike: dict[tuple[str, ...], list[str]] = {}
    for first, *rest in table.rows:
        alike.setdefault(tuple(rest), []).append(first)
    rows = tuple(("; ".join(firsts), *rest) for rest, firsts in alike.items())
    return Table(table.title, table.head, rows, table.numeric, table.note)


def _sources(paper: Paper, pages: Walkthrough) -> None:
    """Put the sources that findings name by their numbers, then all that the house was held against."""
    paper.heading("Sources", 1)
    for source, number in paper.sources.items():
        paper.line((f"{number} ", "Label"), source, style="Source")
    if pages.sources:
        paper.line(f"Held against: {'; '.join(pages.sources)}.", style="Source")
    paper.drop_heading()


def _titled(table: Table, what: str) -> Table:
    title = f"{what} of {table.title[:1].lower()}{table.title[1:]}"
    return Table(title, table.head, table.rows, table.numeric, table.note)
