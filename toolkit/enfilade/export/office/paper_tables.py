"""Tables of the editable document: as wide as the text, heads that come again on each page."""

from __future__ import annotations

from typing import Any, Final
from xml.sax.saxutils import escape

from enfilade.drawings.writing import text_width
from enfilade.export.office.paper_styles import TABLE_STYLE
from enfilade.export.office.text import plain
from enfilade.walkthrough.pages import Table

__all__ = ["column_shares", "compact_register", "filled", "layout_element", "money_in_heads", "table_element"]

_TWIPS: Final = 1440
_SIZE: Final = 8.0
_GAP_PT: Final = 9.5
_NARROWEST_PT: Final = 30.0
_MOST_WANTED_PT: Final = 280.0
_ROW_KEPT_SIGNS: Final = 1200
"""A row with more than this may run over the end of a page."""


def filled(table: Table) -> Table:
    """Return a table without the columns in which nothing stands."""
    kept = [n for n in range(len(table.head)) if any(n < len(row) and row[n].strip() for row in table.rows)]
    return Table(
        table.title,
        tuple(table.head[n] for n in kept),
        tuple(tuple(row[n] if n < len(row) else "" for n in kept) for row in table.rows),
        tuple(kept.index(n) for n in table.numeric if n in kept),
        table.note,
    )


def money_in_heads(table: Table) -> Table:
    """Return a table with a currency that all amounts of a column bear in the head of that column instead.

    >>> money_in_heads(Table("", ("What", "Quoted"), (("tap", "USD\u00a0420"), ("sink", "")), numeric=(1,))).rows
    (('tap', '420'), ('sink', ''))
    """
    heads, rows = list(table.head), [list(row) for row in table.rows]
    for n in table.numeric:
        marks = {row[n].partition("\u00a0")[0] for row in rows if n < len(row) and row[n]}
        if len(marks) == 1 and all("\u00a0" in row[n] for row in rows if n < len(row) and row[n]):
            heads[n] = f"{heads[n]} ({marks.pop()})"
            for row in rows:
                row[n] = row[n].partition("\u00a0")[2]
    return Table(table.title, tuple(heads), tuple(tuple(row) for row in rows), table.numeric, table.note)


_BORNE: Final = ("Material", "Maker", "Finish")
_KEPT: Final = ("Care", "Service")


def compact_register(table: Table) -> Table:
    """Return a register of few columns: material, maker and finish follow the name, service follows care.

    >>> rows = (("tap", "maker A", "Kitchen: tap.", "Wipe it.", "Look at it, every year"),)
    >>> found = compact_register(Table("", ("What", "Maker", "Where", "Care", "Service"), rows))
    >>> found.head, found.rows[0]
    (('What', 'Where', 'Care and service'), ('tap; maker A', 'Kitchen: tap.', 'Wipe it. Look at it, every year.'))
    """
    at = {name: n for n, name in enumerate(table.head)}
    kept = [n for n, name in enumerate(table.head) if name not in (*_BORNE, *_KEPT)]
    if "What" not in at or not any(name in at for name in (*_BORNE, *_KEPT)):
        return table

    def cells(row: tuple[str, ...]) -> tuple[str, ...]:
        borne = "; ".join(part for part in (row[at["What"]], *(row[at[n]] for n in _BORNE if n in at)) if part)
        care = " ".join(f"{row[at[n]].rstrip('.')}." for n in _KEPT if n in at and row[at[n]])
        return (*(borne if n == at["What"] else row[n] for n in kept), care)

    head = (*(table.head[n] for n in kept), "Care and service")
    return Table(table.title, head, tuple(map(cells, table.rows)), (), table.note)


def column_shares(table: Table, width_pt: float) -> list[float]:
    """Return the widths of the columns [pt], which add up to the width of the page's text.

    Each gets what its longest word takes, then what its longest text still wants, as far as there is room.
    """
    least, wanted = [], []
    for n, name in enumerate(table.head):
        texts = [plain(name), *(plain(row[n])[:400] for row in table.rows)]
        words = [word for text in texts for word in text.split(" ")]
        least.append(max(_NARROWEST_PT, min(max(text_width(w, _SIZE, True) for w in words) + _GAP_PT, width_pt / 3)))
        longest = max(text_width(text, _SIZE) for text in texts)
        wanted.append(max(least[-1], min(longest + _GAP_PT, _MOST_WANTED_PT)))
    if sum(wanted) <= width_pt:
        # What is left goes to the columns of text, so that numbers stay near their names.
        spare = width_pt - sum(wanted)
        grows = [n for n in range(len(wanted)) if n not in table.numeric] or list(range(len(wanted)))
        share = sum(wanted[n] for n in grows)
        return [w + (spare * w / share if n in grows else 0.0) for n, w in enumerate(wanted)]
    if sum(least) > width_pt:
        return [width_pt * one / sum(least) for one in least]
    # A column that wants a little gets it; those that want much share what is left.
    widths, left, open_ = list(least), width_pt - sum(least), set(range(len(least)))
    while open_ and left > 0.01:
        wishes = {n: (wanted[n] - widths[n]) ** 0.8 for n in open_}
        total = sum(wishes.values())
        if total <= 0:
            break
        given = {n: min(left * wishes[n] / total, wanted[n] - widths[n]) for n in open_}
        for n, more in given.items():
            widths[n] += more
        left -= sum(given.values())
        open_ = {n for n in open_ if wanted[n] - widths[n] > 0.01}
    return widths


def table_element(table: Table, width_in: float) -> Any:
    """Return a table as an element of a word-processor document."""
    from docx.oxml import parse_xml
    from docx.oxml.ns import nsdecls

    table = filled(table)
    total = round(width_in * _TWIPS)
    shares = [round(share * 20) for share in column_shares(table, width_in * 72)]
    shares[-1] += total - sum(shares)
    grid = "".join(f'<w:gridCol w:w="{share}"/>' for share in shares)
    rows = [_row(table, table.head, shares, head=True)]
    rows += [_row(table, row, shares, head=False) for row in table.rows]
    return parse_xml(
        f'<w:tbl {nsdecls("w")}><w:tblPr><w:tblStyle w:val="{TABLE_STYLE}"/><w:tblW w:w="{total}" w:type="dxa"/>'
        '<w:tblLayout w:type="fixed"/><w:tblLook w:val="0020" w:firstRow="1" w:lastRow="0" w:firstColumn="0" '
        f'w:lastColumn="0" w:noHBand="1" w:noVBand="1"/></w:tblPr><w:tblGrid>{grid}</w:tblGrid>{"".join(rows)}</w:tbl>'
    )


def layout_element(widths: list[int]) -> Any:
    """Return a table of one row of empty cells, that only sets what stands in them beside each other [twips]."""
    from docx.oxml import parse_xml
    from docx.oxml.ns import nsdecls

    grid = "".join(f'<w:gridCol w:w="{width}"/>' for width in widths)
    cells = "".join(f'<w:tc><w:tcPr><w:tcW w:w="{width}" w:type="dxa"/></w:tcPr></w:tc>' for width in widths)
    return parse_xml(
        f'<w:tbl {nsdecls("w")}><w:tblPr><w:tblW w:w="{sum(widths)}" w:type="dxa"/><w:tblLayout w:type="fixed"/>'
        '<w:tblCellMar><w:left w:w="0" w:type="dxa"/><w:right w:w="0" w:type="dxa"/></w:tblCellMar>'
        '<w:tblLook w:val="0000" w:firstRow="0" w:lastRow="0" w:firstColumn="0" w:lastColumn="0" w:noHBand="1" '
        f'w:noVBand="1"/></w:tblPr><w:tblGrid>{grid}</w:tblGrid><w:tr><w:trPr><w:cantSplit/></w:trPr>{cells}</w:tr>'
        "</w:tbl>"
    )


def _row(table: Table, row: tuple[str, ...], shares: list[int], *, head: bool) -> str:
    kept = "<w:cantSplit/>" if sum(map(len, row)) < _ROW_KEPT_SIGNS else ""
    bold = "<w:rPr><w:b/></w:rPr>" if head else ""
    kept_on = "<w:keepNext/>" if head else ""
    cells = "".join(
        f'<w:tc><w:tcPr><w:tcW w:w="{share}" w:type="dxa"/></w:tcPr>'
        f'<w:p><w:pPr><w:pStyle w:val="{"TableNumber" if n in table.numeric else "TableText"}"/>{kept_on}</w:pPr>'
        f'<w:r>{bold}<w:t xml:space="preserve">{escape(plain(text))}</w:t></w:r></w:p></w:tc>'
        for n, (text, share) in enumerate(zip(row, shares, strict=True))
    )
    return f"<w:tr><w:trPr>{kept}{'<w:tblHeader/>' if head else ''}</w:trPr>{cells}</w:tr>"
