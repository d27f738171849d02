"""Page, head and foot, fonts and settings of the editable document."""

from __future__ import annotations

import hashlib
import re
from typing import Any, Final

from enfilade.export.office.text import plain, shortened
from enfilade.resources import shipped

__all__ = ["field_in", "fonts_inside", "head_and_foot", "page_set", "settled"]

_LETTER_IN: Final = (8.5, 11.0)
_A4_IN: Final = (210 / 25.4, 297 / 25.4)
_HEAD_SIGNS: Final = 50
_SIDE_IN, _TOP_IN, _FOOT_IN = 0.9, 0.8, 0.75
_SHIPPED: Final = (("Regular", "regular"), ("Bold", "semibold"), ("Italic", "italic"))
_FALLBACKS: Final = "Source Sans 3,Source Sans Pro,Calibri,Arial"


def page_set(paper: Any, *, metric: bool) -> tuple[float, float]:
    """Set the size and margins of the page; return the width and height of its text [in]."""
    from docx.shared import Inches

    wide, high = _A4_IN if metric else _LETTER_IN
    section = paper.sections[0]
    section.page_width, section.page_height = Inches(wide), Inches(high)
    section.left_margin = section.right_margin = Inches(_SIDE_IN)
    section.top_margin, section.bottom_margin = Inches(_TOP_IN), Inches(_FOOT_IN)
    section.header_distance = section.footer_distance = Inches(0.45)
    section.different_first_page_header_footer = True
    return wide - 2 * _SIDE_IN, high - _TOP_IN - _FOOT_IN


def head_and_foot(section: Any, *, head: tuple[str, str], foot: str, width_in: float) -> None:
    """Write title and studio over each page of a section, and version, date and page number under it."""
    title, studio = (shortened(plain(part), _HEAD_SIGNS) for part in head)
    _sides(section.header.paragraphs[0], title, studio, width_in)
    line = section.footer.paragraphs[0]
    _sides(line, shortened(plain(foot), 2 * _HEAD_SIGNS), "", width_in)
    for text, field in (("Page ", "PAGE"), (" of ", "NUMPAGES")):
        line.add_run(text)
        field_in(line, field, "1")


def _sides(line: Any, left: str, right: str, width_in: float) -> None:
    from docx.enum.text import WD_TAB_ALIGNMENT
    from docx.shared import Inches

    line.paragraph_format.tab_stops.add_tab_stop(Inches(width_in), WD_TAB_ALIGNMENT.RIGHT)
    line.add_run(plain(left))
    line.add_run("\t")
    line.add_run(plain(right))


def field_in(line: Any, code: str, shown: str) -> None:
    """Add a field to a paragraph: its code, and what stands there until it is worked out."""
    from docx.oxml import OxmlElement
    from docx.oxml.ns import qn

    for kind in ("begin", "code", "separate", "shown", "end"):
        run = line.add_run(shown if kind == "shown" else "")
        if kind == "code":
            text = OxmlElement("w:instrText")
            text.set(qn("xml:space"), "preserve")
            text.text = f" {code} "
            run._r.append(text)
        elif kind != "shown":
            mark = OxmlElement("w:fldChar")
            mark.set(qn("w:fldCharType"), kind)
            run._r.append(mark)


def settled(paper: Any) -> None:
    """Take what the template remembers of other documents out of the settings."""
    from docx.oxml.ns import qn

    root = paper.settings.element
    for name in ("w:rsids", "w:savePreviewPicture", "w:proofState", "w:themeFontLang", "w:shapeDefaults", "w:zoom"):
        for one in root.findall(qn(name)):
            root.remove(one)
    for one in list(root):
        if not isinstance(one.tag, str) or "microsoft.com/office/word/2010" in one.tag:
            root.remove(one)
    for one in root.iter(qn("w:compatSetting")):
        if one.get(qn("w:name")) == "compatibilityMode":
            one.set(qn("w:val"), "15")
    for one in root.iter(qn("w:useFELayout")):
        one.getparent().remove(one)
    for section in paper.sections:
        for name in list(section._sectPr.attrib):
            if "rsid" in name:
                del section._sectPr.attrib[name]


def fonts_inside(paper: Any, *, family: str, own: bool) -> None:
    """Name the type family, with what may stand in for it, and carry the shipped face inside the document.

    Args:
        paper: A document of python-docx.
        family: Name of the type family.
        own: It is the studio's own: named but not carried, since its licence may not allow it.
    """
    from docx.opc.constants import RELATIONSHIP_TYPE
    from docx.opc.packuri import PackURI
    from docx.opc.part import Part
    from docx.oxml import OxmlElement
    from docx.oxml.ns import qn

    table = paper.part.part_related_by(RELATIONSHIP_TYPE.FONT_TABLE)
    embedded = []
    if not own:
        for place, file in _SHIPPED:
            data = shipped("assets", "fonts", f"enfilade-text-{file}.ttf").read_bytes()
            key = hashlib.sha256(data).hexdigest()[:32].upper()
            name = PackURI(f"/word/fonts/{file}.odttf")
            content = "application/vnd.openxmlformats-officedocument.obfuscatedFont"
            part = Part(name, content, _obfuscated(data, key), paper.part.package)
            relation = table.relate_to(part, RELATIONSHIP_TYPE.FONT)
            dashed = "-".join((key[:8], key[8:12], key[12:16], key[16:20], key[20:]))
            embedded.append(f'<w:embed{place} r:id="{relation}" w:fontKey="{{{dashed}}}"/>')
        if paper.settings.element.find(qn("w:embedTrueTypeFonts")) is None:
            mark = OxmlElement("w:embedTrueTypeFonts")
            paper.settings.element.insert(0, mark)
    table._blob = _font_table(family, embedded).encode()


def _font_table(family: str, embedded: list[str]) -> str:
    from xml.sax.saxutils import quoteattr

    return (
        '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n'
        '<w:fonts xmlns:w="http://schemas.openxmlformats.org/wordprocessingml/2006/main" '
        'xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships">'
        f'<w:font w:name={quoteattr(plain(family))}><w:altName w:val="{_FALLBACKS}"/>'
        '<w:panose1 w:val="020B0503030403020204"/><w:charset w:val="00"/><w:family w:val="swiss"/>'
        f'<w:pitch w:val="variable"/>{"".join(embedded)}</w:font></w:fonts>'
    )


def _obfuscated(data: bytes, key: str) -> bytes:
    """Return a font as ECMA-376 part 4, section 2.8.1 has it carried: 32 bytes exclusive-or the key, read backwards.

    >>> _obfuscated(bytes(33), "0" * 31 + "1")[:17].hex()
    '0100000000000000000000000000000001'
    """
    turned = bytes.fromhex(re.sub("[^0-9A-F]", "", key))[::-1]
    return bytes(byte ^ turned[i % 16] for i, byte in enumerate(data[:32])) + data[32:]
