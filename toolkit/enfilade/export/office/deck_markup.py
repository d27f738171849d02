"""Slides as markup: written in one piece, since a deck of hundreds of slides takes long to put together bit by bit."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Final
from xml.sax.saxutils import escape

from enfilade.export.office.deck_text import Block

__all__ = ["feet_markup", "is_foot", "parsed", "text_markup", "title_markup"]

_GREY: Final = '<a:solidFill><a:srgbClr val="5A5A5A"/></a:solidFill>'
_TONES: Final = {"ink": "", "accent": '<a:solidFill><a:schemeClr val="accent1"/></a:solidFill>', "grey": _GREY}
_SMALL: Final = f'<a:rPr sz="1000">{_GREY}<a:latin typeface="+mn-lt"/></a:rPr>'
_FEET: Final = ("ftr", "sldNum")


def parsed(shapes: Sequence[str]) -> list[Any]:
    """Return shapes as elements."""
    from pptx.oxml import parse_xml
    from pptx.oxml.ns import nsdecls

    return list(parse_xml(f"<p:spTree {nsdecls('p', 'a', 'r')}>{''.join(shapes)}</p:spTree>"))


def is_foot(shape: Any) -> bool:
    """Tell whether an element is the footer or the number of a slide."""
    from pptx.oxml.ns import qn

    return any(one.get("type") in _FEET for one in shape.iter(qn("p:ph")))


def title_markup(kind: str, text: str, size: float) -> str:
    """Return the title of a slide in its placeholder."""
    line = f'<a:p>{_spaced(size * 1.1, 0.0)}<a:r><a:rPr sz="{_hundredths(size)}"/><a:t>{escape(text)}</a:t></a:r></a:p>'
    return _shape(2, "Title", f'type="{kind}"', line)


def text_markup(number: int, kind: str, index: int, blocks: Sequence[Block]) -> str:
    """Return paragraphs in a placeholder; each with an exact pitch, so that they stand as they were measured."""
    lines = "".join(_paragraph(block, first=n == 0) for n, block in enumerate(blocks))
    return _shape(number, f"Text {index}", f'type="{kind}" idx="{index}"', lines)


def feet_markup(footer: str) -> list[str]:
    """Return what stands at the foot of a slide: words, and its number."""
    words = f'<a:p><a:pPr algn="l"/><a:r>{_SMALL}<a:t>{escape(footer)}</a:t></a:r></a:p>'
    number = (
        '<a:p><a:pPr algn="r"/><a:fld id="{B6F15528-21DE-4FAA-801E-634DDDAF4B2B}" type="slidenum">'
        f"{_SMALL}<a:t>\u2039#\u203a</a:t></a:fld></a:p>"
    )
    return [
        _shape(90, "Footer", 'type="ftr" sz="quarter" idx="11"', words),
        _shape(91, "Slide number", 'type="sldNum" sz="quarter" idx="12"', number),
    ]


def _shape(number: int, name: str, holder: str, lines: str) -> str:
    return (
        f'<p:sp><p:nvSpPr><p:cNvPr id="{number}" name="{name}"/><p:cNvSpPr><a:spLocks noGrp="1"/></p:cNvSpPr>'
        f"<p:nvPr><p:ph {holder}/></p:nvPr></p:nvSpPr><p:spPr/>"
        f"<p:txBody><a:bodyPr/><a:lstStyle/>{lines}</p:txBody></p:sp>"
    )


def _paragraph(block: Block, *, first: bool) -> str:
    bold = ' b="1"' if block.bold else ""
    level = ' lvl="1"' if block.bullet else ""
    return (
        f"<a:p>{_spaced(block.pitch, 0.0 if first else block.before, level)}"
        f'<a:r><a:rPr sz="{_hundredths(block.size)}"{bold}>{_TONES[block.tone]}</a:rPr>'
        f"<a:t>{escape(block.text)}</a:t></a:r></a:p>"
    )


def _spaced(pitch: float, before: float, level: str = "") -> str:
    return (
        f'<a:pPr{level}><a:lnSpc><a:spcPts val="{_hundredths(pitch)}"/></a:lnSpc>'
        f'<a:spcBef><a:spcPts val="{_hundredths(before)}"/></a:spcBef>'
        '<a:spcAft><a:spcPts val="0"/></a:spcAft></a:pPr>'
    )


def _hundredths(points: float) -> int:
    return round(points * 100)
