"""The list of contents of the editable document."""

from __future__ import annotations

from typing import Any, Final

from enfilade.export.office.paper import Paper
from enfilade.export.office.text import plain, shortened

__all__ = ["contents_before"]

_SIGNS: Final = 160


def contents_before(paper: Paper, mark: Any) -> None:
    """Put the list of contents in front of a paragraph: a field that the program can work out anew, filled now.

    It has no numbers of pages, which only the program that sets the pages could know; each line leads to its part.
    """
    lines = [_line(paper, bookmark, words) for bookmark, words in paper.headed]
    for line in lines:
        mark._p.addprevious(line._p)
    if lines:
        _field_round(lines[0]._p, lines[-1]._p, ' TOC \\o "1-1" \\n \\h \\z \\u ')


def _line(paper: Paper, bookmark: str, words: str) -> Any:
    from docx.oxml import OxmlElement
    from docx.oxml.ns import qn

    line = paper.line(style="toc 1")
    link = OxmlElement("w:hyperlink")
    link.set(qn("w:anchor"), bookmark)
    link.set(qn("w:history"), "1")
    line.add_run(shortened(plain(words), _SIGNS))
    for run in list(line._p.r_lst):
        link.append(run)
    line._p.append(link)
    return line


def _field_round(first: Any, last: Any, code: str) -> None:
    from docx.oxml import parse_xml
    from docx.oxml.ns import nsdecls

    at = 1 if first.pPr is not None else 0
    begin = (
        '<w:r {n}><w:fldChar w:fldCharType="begin"/></w:r>',
        '<w:r {n}><w:instrText xml:space="preserve">{c}</w:instrText></w:r>',
        '<w:r {n}><w:fldChar w:fldCharType="separate"/></w:r>',
    )
    for n, markup in enumerate(begin):
        first.insert(at + n, parse_xml(markup.format(n=nsdecls("w"), c=code)))
    last.append(parse_xml(f'<w:r {nsdecls("w")}><w:fldChar w:fldCharType="end"/></w:r>'))
