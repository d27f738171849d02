"""The styles of the editable document: few sizes, black on white, hairlines, one accent."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Final

__all__ = ["TABLE_STYLE", "dressed"]

TABLE_STYLE: Final = "Schedule"

_GREY: Final = "5A5A5A"
_HAIR: Final = "B9B9B9"


@dataclass(frozen=True)
class _Style:
    """One paragraph style; sizes in points."""

    size: float
    bold: bool = False
    colour: str = ""
    before: float = 0.0
    after: float = 0.0
    line: float = 1.15
    with_next: bool = False
    based_on: str = "Normal"
    right: bool = False
    indent: float = 0.0
    next: str = ""
    italic: bool = False
    outline: int | None = None


_STYLES: Final[dict[str, _Style]] = {
    "Normal": _Style(10.0, after=5.0, line=1.15, based_on=""),
    "Title": _Style(34.0, bold=True, before=120.0, after=6.0, line=1.0, next="Subtitle"),
    "Subtitle": _Style(13.0, colour="accent", after=2.0, next="Normal"),
    "Heading 1": _Style(20.0, bold=True, before=22.0, after=5.0, line=1.05, with_next=True, next="Normal"),
    "Heading 2": _Style(12.5, bold=True, colour="accent", before=13.0, after=3.0, with_next=True, next="Normal"),
    "Heading 3": _Style(10.5, bold=True, before=9.0, after=1.0, with_next=True, next="Normal"),
    "Caption": _Style(8.5, colour=_GREY, before=2.0, after=7.0),
    "Lead": _Style(12.0, after=6.0, line=1.2),
    "Spacer": _Style(1.0, after=4.0, line=1.0),
    "Small": _Style(8.5, colour=_GREY, after=2.0, line=1.1),
    "Studio": _Style(12.0, bold=True, after=2.0),
    "Picture": _Style(10.0, before=4.0, line=1.0, with_next=True),
    "Spoken": _Style(10.0, after=4.0, line=1.2, indent=18.0),
    "List Bullet": _Style(10.0, after=3.0, line=1.15, indent=14.0),
    "Caution": _Style(9.0, after=3.0, line=1.15),
    "Under": _Style(8.5, after=4.0, line=1.1, indent=14.0, colour=_GREY),
    "Source": _Style(8.0, after=1.5, line=1.05, colour=_GREY),
    "Table Text": _Style(8.0, line=1.05),
    "Table Number": _Style(8.0, line=1.05, right=True, based_on="Table Text"),
    "Header": _Style(8.5, colour=_GREY),
    "Footer": _Style(8.5, colour=_GREY),
    "TOC Heading": _Style(20.0, bold=True, after=6.0, with_next=True, next="Normal"),
    "toc 1": _Style(10.0, after=3.0),
}

_ALSO_KEPT: Final = (TABLE_STYLE, "Normal Table", "Table Normal", "No List", "Default Paragraph Font", "Label")


def dressed(paper: Any, *, family: str, ink: str, accent: str, language: str) -> None:
    """Give a document its styles; those that nothing here uses are taken out, so that the list of styles is short.

    Args:
        paper: A document of python-docx.
        family: Name of the type family.
        ink: Colour of text, `#rrggbb`.
        accent: Colour of what stands out.
        language: Language and region, `en-GB`.
    """
    colours = {"": ink.lstrip("#").upper(), "accent": accent.lstrip("#").upper()}
    for name in _STYLES:
        _styled(paper, name, family, colours)
    _label_style(paper)
    _table_style(paper, colours)
    _pruned(paper)
    _defaults(paper, family, language)


def _styled(paper: Any, name: str, family: str, colours: dict[str, str]) -> None:
    from docx.enum.style import WD_STYLE_TYPE
    from docx.enum.text import WD_ALIGN_PARAGRAPH
    from docx.shared import Pt, RGBColor

    asked = _STYLES[name]
    known = {style.name: style for style in paper.styles}
    style = known.get(name) or paper.styles.add_style(name, WD_STYLE_TYPE.PARAGRAPH)
    # A list keeps how it is numbered; everything else the template said of it goes.
    numbered = style.element.pPr.numPr if style.element.pPr is not None else None
    for old in (style.element.rPr, style.element.pPr):
        if old is not None:
            style.element.remove(old)
    if numbered is not None:
        style.element.get_or_add_pPr().append(numbered)
    style.base_style = known.get(asked.based_on)
    if asked.next:
        style.next_paragraph_style = paper.styles[asked.next]
    style.hidden, style.quick_style, style.unhide_when_used = False, True, False
    font, form = style.font, style.paragraph_format
    _in_family(style, family)
    font.size, font.bold, font.italic = Pt(asked.size), asked.bold, asked.italic
    font.color.rgb = RGBColor.from_string(colours.get(asked.colour, asked.colour))
    form.space_before, form.space_after, form.line_spacing = Pt(asked.before), Pt(asked.after), asked.line
    form.keep_with_next, form.widow_control = asked.with_next, True
    if asked.right:
        form.alignment = WD_ALIGN_PARAGRAPH.RIGHT
    if asked.indent:
        form.left_indent = Pt(asked.indent)
        if numbered is not None:
            form.first_line_indent = Pt(-14.0)
    if name.startswith("Heading "):
        _outline(style, int(name[-1]) - 1)
    if name == "Heading 1":
        _ruled(style, colours[""])


def _in_family(style: Any, family: str) -> None:
    from docx.oxml.ns import qn

    style.font.name = family
    fonts = style.element.rPr.rFonts
    for where in ("w:cs", "w:eastAsia"):
        fonts.set(qn(where), family)


def _outline(style: Any, level: int) -> None:
    from docx.oxml import OxmlElement
    from docx.oxml.ns import qn

    mark = OxmlElement("w:outlineLvl")
    mark.set(qn("w:val"), str(level))
    style.element.get_or_add_pPr().append(mark)


def _ruled(style: Any, colour: str) -> None:
    """Put a hairline over a part, which begins where the one before it ends."""
    from docx.oxml import parse_xml
    from docx.oxml.ns import nsdecls

    rule = f'<w:pBdr {nsdecls("w")}><w:top w:val="single" w:sz="4" w:space="8" w:color="{colour}"/></w:pBdr>'
    style.element.get_or_add_pPr().insert_element_before(
        parse_xml(rule), "w:shd", "w:tabs", "w:suppressAutoHyphens", "w:spacing", "w:ind", "w:jc", "w:outlineLvl"
    )


def _label_style(paper: Any) -> None:
    """Add the character style of the words that say what follows them."""
    from docx.enum.style import WD_STYLE_TYPE

    style = paper.styles.add_style("Label", WD_STYLE_TYPE.CHARACTER)
    style.font.bold = True
    style.quick_style = True


def _table_style(paper: Any, colours: dict[str, str]) -> None:
    from docx.oxml import parse_xml
    from docx.oxml.ns import nsdecls

    ink = colours[""]
    paper.styles.element.append(
        parse_xml(
            f'<w:style {nsdecls("w")} w:type="table" w:customStyle="1" w:styleId="{TABLE_STYLE}">'
            f'<w:name w:val="{TABLE_STYLE}"/><w:basedOn w:val="TableNormal"/><w:uiPriority w:val="59"/><w:qFormat/>'
            '<w:pPr><w:spacing w:before="0" w:after="0"/></w:pPr>'
            "<w:tblPr><w:tblBorders>"
            f'<w:top w:val="single" w:sz="6" w:space="0" w:color="{ink}"/>'
            f'<w:bottom w:val="single" w:sz="4" w:space="0" w:color="{_HAIR}"/>'
            f'<w:insideH w:val="single" w:sz="2" w:space="0" w:color="{_HAIR}"/>'
            "</w:tblBorders><w:tblCellMar>"
            '<w:top w:w="18" w:type="dxa"/><w:left w:w="0" w:type="dxa"/>'
            '<w:bottom w:w="18" w:type="dxa"/><w:right w:w="160" w:type="dxa"/>'
            "</w:tblCellMar></w:tblPr>"
            '<w:tblStylePr w:type="firstRow"><w:rPr><w:b/></w:rPr><w:tcPr><w:tcBorders>'
            f'<w:bottom w:val="single" w:sz="4" w:space="0" w:color="{ink}"/>'
            "</w:tcBorders></w:tcPr></w:tblStylePr></w:style>"
        )
    )


def _pruned(paper: Any) -> None:
    from docx.oxml.ns import qn

    root = paper.styles.element
    kept = {name.casefold() for name in (*_STYLES, *_ALSO_KEPT)}
    for style in list(root.iterchildren(qn("w:style"))):
        name = style.find(qn("w:name")).get(qn("w:val"))
        if name.casefold() not in kept:
            root.remove(style)
    for style in root.iterchildren(qn("w:style")):
        link = style.find(qn("w:link"))  # to a character style that is gone
        if link is not None:
            style.remove(link)


def _defaults(paper: Any, family: str, language: str) -> None:
    from docx.oxml import parse_xml
    from docx.oxml.ns import nsdecls, qn

    root = paper.styles.element
    old = root.find(qn("w:docDefaults"))
    new = parse_xml(
        f"<w:docDefaults {nsdecls('w')}><w:rPrDefault><w:rPr>"
        '<w:rFonts/><w:sz w:val="21"/><w:szCs w:val="21"/>'
        f'<w:lang w:val="{language}" w:eastAsia="{language}" w:bidi="ar-SA"/>'
        "</w:rPr></w:rPrDefault><w:pPrDefault/></w:docDefaults>"
    )
    fonts = new.find(".//" + qn("w:rFonts"))
    for where in ("w:ascii", "w:hAnsi", "w:cs", "w:eastAsia"):
        fonts.set(qn(where), family)
    root.replace(old, new)
