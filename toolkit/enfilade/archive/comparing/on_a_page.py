"""Tables in a notebook: hairlines, plain type, every text escaped."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape
from typing import Final

from enfilade.walkthrough.pages import Table

__all__ = ["page_of"]

_LOOK: Final = """
.enfilade-comparison { color: #111; background: #fff; padding: .5rem 0; line-height: 1.45; font-size: 14px;
  font-family: "Enfilade Text", "Source Sans 3", "Segoe UI", system-ui, sans-serif; }
.enfilade-comparison .wide { overflow-x: auto; margin: 1.75rem 0; }
.enfilade-comparison table { border-collapse: collapse; table-layout: fixed; width: 100%; margin: 0; font-size: inherit;
  border: 0; font-variant-numeric: tabular-nums; }
.enfilade-comparison caption { caption-side: top; text-align: start; font-size: 18px; font-weight: 600;
  color: #0b5563; padding: 0 0 .5rem; }
.enfilade-comparison tr, .enfilade-comparison tbody tr:nth-child(odd) { background: none; border: 0; }
.enfilade-comparison th, .enfilade-comparison td { text-align: start; vertical-align: top; font-weight: 400;
  border: 0; border-bottom: 1px solid #bbb; padding: .375rem 1rem .375rem 0; overflow-wrap: anywhere;
  white-space: pre-line; max-width: none; color: inherit; }
.enfilade-comparison thead th { font-weight: 600; vertical-align: bottom; border-bottom: 1px solid #111; }
.enfilade-comparison tr > :first-child { position: sticky; left: 0; background: #fff; }
.enfilade-comparison td.number, .enfilade-comparison th.number { text-align: end; }
.enfilade-comparison p { margin: .5rem 0 0; color: #555; max-width: 75ch; overflow-wrap: anywhere; }
"""
_NAME_EM: Final = 10.0
_CELL_EM: Final = 6.75
_LONG_EM: Final = 15.0
_WIDEST_EM: Final = 17.0
_FEW: Final = 3
_LONG: Final = 60
"""Where a cell of a table is longer than this, its columns are kept wider, and the table scrolls sooner."""


def page_of(
    columns: Sequence[str], tables: Sequence[Table], notes: Sequence[str], first: tuple[str, Sequence[str]] = ("", ())
) -> str:
    """Return a comparison as a piece of a page."""
    title, changes = first
    parts = [f"<style>{_LOOK}</style>"]
    if changes:
        told = "".join(f'<li dir="auto">{escape(one)}</li>' for one in changes)
        parts.append(f'<p dir="auto">{escape(title)}:</p><ul>{told}</ul>')
    parts += [_table(table, len(columns)) for table in tables]
    parts += [f'<p dir="auto">{escape(note)}</p>' for note in notes]
    return f'<div class="enfilade-comparison">{"".join(parts)}</div>'


def _table(table: Table, count: int) -> str:
    names = len(table.head) - count
    long = any(len(cell) > _LONG for row in table.rows for cell in row[names:])
    least = _NAME_EM * names + (_LONG_EM if long else _CELL_EM) * count
    most = (
        "" if long else f"; max-width: {_WIDEST_EM * (names + count):g}em"
    )  # Figures far apart are hard to hold together.
    name_em = _NAME_EM if count > _FEW else 2 * _NAME_EM
    width = f'<col style="width: {name_em:g}em">' * names if long or count > _FEW else ""
    head = "".join(_cell("th", text, n in table.numeric, ' scope="col"') for n, text in enumerate(table.head))
    rows = []
    for row in table.rows:
        cells = (
            _cell("th" if n < names else "td", text, n in table.numeric, ' scope="row"' if n < names else "")
            for n, text in enumerate(row)
        )
        rows.append(f"<tr>{''.join(cells)}</tr>")
    note = f'<p dir="auto">{escape(table.note)}</p>' if table.note else ""
    # A table that scrolls can be reached and moved by the keys too.
    return (
        f'<div class="wide" tabindex="0" role="region" aria-label="{escape(table.title)}">'
        f'<table style="min-width: {least:g}em{most}"><caption>{escape(table.title)}</caption>'
        f"<colgroup>{width}</colgroup>"
        f"<thead><tr>{head}</tr></thead><tbody>{''.join(rows)}</tbody></table>{note}</div>"
    )


def _cell(tag: str, text: str, number: bool, more: str) -> str:
    kind = ' class="number"' if number else ""
    return f'<{tag}{more}{kind} dir="auto">{escape(text)}</{tag}>'
