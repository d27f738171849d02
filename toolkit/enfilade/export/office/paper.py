"""The editable document, as whoever fills it sees it: headings, paragraphs, lists, pictures, tables."""

from __future__ import annotations

import io
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from typing import Any, Final

from enfilade.export.office.paper_settings import head_and_foot
from enfilade.export.office.paper_tables import filled, layout_element, table_element
from enfilade.export.office.pictures import Shown
from enfilade.export.office.text import paragraphs, plain, shortened
from enfilade.walkthrough.pages import Table

__all__ = ["UNBROKEN", "Paper", "Run"]

UNBROKEN: Final = "\u2011"
"""A hyphen at which no line is broken."""

_EMU_AN_INCH: Final = 914_400
_TWIPS_AN_INCH: Final = 1440

Run = tuple[str, str]
"""A stretch of text and its character style; empty for none."""


class Paper:
    """A document that is being filled.

    Args:
        document: A document of python-docx, dressed and set.
        width_in: Width of its text [in].
        height_in: Height of its text [in].
    """

    def __init__(self, document: Any, width_in: float, height_in: float) -> None:
        self.document = document
        self.width_in, self.height_in = width_in, height_in
        self.headed: list[tuple[str, str]] = []
        """Bookmark and words of each heading of the first level."""
        self.sources: dict[str, int] = {}
        """Sources that findings name, with their numbers in the list at the end."""
        self._ids = {style.name: style.style_id for style in document.styles}
        self._body = document.element.body
        self._pictures = 0
        self._waiting: list[tuple[str, int, bool]] = []

    def heading(self, text: str, level: int, *, new_page: bool = False) -> None:
        """Put a heading when something follows it: a part without content leaves no heading behind."""
        self._waiting = [one for one in self._waiting if one[1] < level]
        self._waiting.append((text, level, new_page))

    def drop_heading(self) -> None:
        """Forget headings under which nothing was put."""
        self._waiting = []

    def line(self, *runs: Run | str, style: str = "Normal") -> Any:
        """Put one paragraph of runs; line breaks in them become spaces. Returns it."""
        self._head()
        return self._line(runs, style)

    def text(self, text: str, style: str = "Normal") -> None:
        """Put a text as the paragraphs it has."""
        for part in paragraphs(text):
            self.line(part, style=style)

    def labelled(self, label: str, text: str, style: str = "Normal") -> None:
        """Put a text with a label before its first paragraph."""
        for n, part in enumerate(paragraphs(text)):
            self.line(*([(f"{label} ", "Label")] if n == 0 else []), part, style=style)

    def bullets(self, texts: Iterable[str]) -> None:
        """Put a list."""
        for text in texts:
            if plain(text).strip():
                self.line(text, style="List Bullet")

    @contextmanager
    def together(self) -> Iterator[None]:
        """Keep the paragraphs that are put meanwhile on one page, where one page holds them."""
        before = len(self._body)
        yield
        for element in list(self._body)[before - 1 : -2]:
            element.get_or_add_pPr().get_or_add_keepNext()

    def picture(self, shown: Shown, caption: str) -> None:
        """Put a picture and its caption under it, kept together on a page."""
        self._head()
        line = self._line((), "Picture")
        line.paragraph_format.keep_with_next = bool(caption)
        self._place(line, shown)
        if caption:
            self._line((caption,), "Caption")

    def side_by_side(self, row: Sequence[tuple[Shown, str, Sequence[Run | str]]], *, with_next: bool = False) -> None:
        """Put pictures beside each other, each over its caption and what its letters stand for.

        They stand in a table that is there for the layout alone: without rules, heads or a style.

        Args:
            row: The pictures; together no wider than the text.
            with_next: Keep them on one page with what is put next.
        """
        self._head()
        widths = [max(1, round(shown.width_in * _TWIPS_AN_INCH)) for shown, *_ in row]
        left = round(self.width_in * _TWIPS_AN_INCH) - sum(widths)
        share = max(0, left // len(row))
        table = layout_element([width + share for width in widths])
        self._append(table)
        for cell, (shown, caption, key) in zip(table.iter(_cell_name()), row, strict=True):
            line = self._line_in(cell, (), "Picture")
            self._place(line, shown)
            lines = [line, self._line_in(cell, (caption,), "Caption")]  # a cell must end with a paragraph
            if key:
                lines.append(self._line_in(cell, key, "Small"))
            for one in lines:
                one.paragraph_format.keep_with_next = with_next or None
        self._line((), "Spacer").paragraph_format.keep_with_next = with_next or None

    def _place(self, line: Any, shown: Shown) -> None:
        from docx.shared import Inches

        placed = line.add_run().add_picture(io.BytesIO(shown.data), Inches(shown.width_in), Inches(shown.height_in))
        self._pictures += 1
        said = placed._inline.docPr
        said.set("id", str(self._pictures))
        said.set("name", f"Picture {self._pictures}")
        said.set("descr", shortened(plain(shown.alternative), 2000))
        placed._inline.graphic.graphicData.pic.nvPicPr.cNvPr.set("name", f"Picture {self._pictures}")

    def table(self, table: Table, level: int = 2) -> None:
        """Put a table under its title, with its note; one without rows is left out."""
        if filled(table).head:
            if table.title:
                self.heading(table.title, level)
            self._head()
            self._append(table_element(table, self.width_in))
            self.line(table.note, style="Small" if table.note else "Spacer")

    def page_break(self) -> None:
        """Begin a new page."""
        from docx.enum.text import WD_BREAK

        self._line((), "Normal").add_run().add_break(WD_BREAK.PAGE)

    def turned(self, *, head: tuple[str, str], foot: str) -> None:
        """Lay the pages from here on their side, for tables of many columns."""
        from docx.enum.section import WD_ORIENT

        self.drop_heading()
        before = self.document.sections[-1]
        section = self.document.add_section()
        section.orientation = WD_ORIENT.LANDSCAPE
        section.page_width, section.page_height = before.page_height, before.page_width
        section.different_first_page_header_footer = False
        section.header.is_linked_to_previous = section.footer.is_linked_to_previous = False
        self.width_in = (section.page_width - section.left_margin - section.right_margin) / _EMU_AN_INCH
        self.height_in = (section.page_height - section.top_margin - section.bottom_margin) / _EMU_AN_INCH
        head_and_foot(section, head=head, foot=foot, width_in=self.width_in)

    def _head(self) -> None:
        waiting, self._waiting = self._waiting, []
        for text, level, new_page in waiting:
            line = self._line((text,), f"Heading {level}")
            if new_page:
                line.paragraph_format.page_break_before = True
                line.paragraph_format.space_before = 0
            if level == 1:
                bookmark = f"part{len(self.headed) + 1}"
                _bookmarked(line._p, bookmark, len(self.headed) + 1)
                self.headed.append((bookmark, text))

    def _line(self, runs: Iterable[Run | str], style: str) -> Any:
        return self._line_in(None, runs, style)

    def _line_in(self, cell: Any, runs: Iterable[Run | str], style: str) -> Any:
        """Put a paragraph at the end of the document, or at the end of a cell."""
        from docx.oxml import OxmlElement
        from docx.oxml.ns import qn
        from docx.text.paragraph import Paragraph

        element = OxmlElement("w:p")
        if style != "Normal":
            element.get_or_add_pPr()._add_pStyle().set(qn("w:val"), self._ids[style])
        if cell is None:
            self._append(element)
        else:
            cell.append(element)
        line = Paragraph(element, self.document._body)
        for run in runs:
            text, character = (run, "") if isinstance(run, str) else run
            for n, piece in enumerate(plain(text).split(UNBROKEN) if character else [plain(text)]):
                one = line.add_run()
                if n:
                    one._r.append(OxmlElement("w:noBreakHyphen"))
                one.add_text(piece)
                if character:
                    one._r.get_or_add_rPr()._add_rStyle().set(qn("w:val"), self._ids[character])
        return line

    def _append(self, element: Any) -> None:
        self._body.insert(len(self._body) - 1, element)  # the last one says how the page is set


def _cell_name() -> str:
    from docx.oxml.ns import qn

    return str(qn("w:tc"))


def _bookmarked(paragraph: Any, name: str, number: int) -> None:
    from docx.oxml import OxmlElement
    from docx.oxml.ns import qn

    start, end = OxmlElement("w:bookmarkStart"), OxmlElement("w:bookmarkEnd")
    for one in (start, end):
        one.set(qn("w:id"), str(number))
    start.set(qn("w:name"), name)
    paragraph.insert(1 if paragraph.pPr is not None else 0, start)
    paragraph.append(end)
