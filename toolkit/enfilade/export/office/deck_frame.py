"""The master and the layouts of the editable deck: white, wide margins, one accent, titles in real titles."""

from __future__ import annotations

from typing import Any, Final
from xml.sax.saxutils import quoteattr

from enfilade.export.office.text import plain

__all__ = ["FRAMES", "HIGH_IN", "LAYOUTS", "WIDE_IN", "framed"]

WIDE_IN, HIGH_IN = 13.333, 7.5
_EMU: Final = 914_400
_LEFT, _FULL = 0.75, WIDE_IN - 1.5

FRAMES: Final[dict[str, tuple[float, float, float, float]]] = {
    # left, top, width, height [in]
    "title": (_LEFT, 0.5, _FULL, 0.95),
    "cover title": (_LEFT, 2.0, 9.2, 1.9),
    "cover text": (_LEFT, 4.05, 9.2, 2.4),
    "text": (_LEFT, 1.75, _FULL, 4.95),
    "left": (_LEFT, 1.75, 5.55, 4.95),
    "right": (_LEFT + 6.25, 1.75, _FULL - 6.25, 4.95),
    "beside": (_LEFT, 1.75, 3.35, 4.95),
    "picture": (_LEFT + 3.75, 1.6, _FULL - 3.75, 5.15),
    "whole picture": (_LEFT, 1.6, _FULL, 4.75),
    "caption": (_LEFT, 6.4, _FULL, 0.4),
    "footer": (_LEFT, 6.98, 9.0, 0.3),
    "number": (WIDE_IN - 0.75 - 1.5, 6.98, 1.5, 0.3),
}
LAYOUTS: Final[dict[str, tuple[int, tuple[tuple[str, int, str], ...]]]] = {
    # name: its place, and kind, index and frame of each of its placeholders
    "Cover": (0, (("ctrTitle", 0, "cover title"), ("subTitle", 1, "cover text"))),
    "Text": (1, (("title", 0, "title"), ("body", 1, "text"))),
    "Two texts": (2, (("title", 0, "title"), ("body", 1, "left"), ("body", 2, "right"))),
    "Picture and text": (3, (("title", 0, "title"), ("body", 1, "beside"))),
    "Picture": (4, (("title", 0, "title"), ("body", 1, "caption"))),
}
_NAMESPACES: Final = (
    'xmlns:a="http://schemas.openxmlformats.org/drawingml/2006/main" '
    'xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships" '
    'xmlns:p="http://schemas.openxmlformats.org/presentationml/2006/main"'
)
_WORDS: Final = {"ctrTitle": "Title", "title": "Title", "subTitle": "Subtitle", "body": "Text"}
_GREY: Final = "5A5A5A"


def framed(deck: Any, *, family: str, ink: str, accent: str, language: str) -> None:
    """Give a deck of python-pptx its size, theme, master and layouts; what its template had is taken out.

    Args:
        deck: A deck made from the library's template.
        family: Name of the type family.
        ink: Colour of text, `#rrggbb`.
        accent: Colour of what stands out.
        language: Language and region, `en-GB`.
    """
    deck.slide_width, deck.slide_height = round(WIDE_IN * _EMU), round(HIGH_IN * _EMU)
    master = deck.slide_master
    for layout in list(master.slide_layouts)[len(LAYOUTS) :]:
        master.slide_layouts.remove(layout)
    _themed(master, family, ink, accent)
    _refilled(master._element, _master_shapes(language))
    _replaced(master._element, "p:txStyles", _text_styles(language))
    _without(master._element, ("p:timing", "p:transition"))
    for name, (place, holders) in LAYOUTS.items():
        layout = master.slide_layouts[place]
        element = layout._element
        _refilled(element, "".join(_holder(n + 2, *one, language) for n, one in enumerate(holders)) + _feet(language))
        element.find(_tag("p:cSld")).set("name", name)
        _without(element, ("p:timing", "p:transition"))
        for gone in ("type", "preserve"):
            if gone in element.attrib:
                del element.attrib[gone]
        element.set("preserve", "1")


def _tag(name: str) -> str:
    from pptx.oxml.ns import qn

    return str(qn(name))


def _refilled(element: Any, shapes: str) -> None:
    from pptx.oxml import parse_xml

    tree = element.find(_tag("p:cSld")).find(_tag("p:spTree"))
    for one in list(tree)[2:]:
        tree.remove(one)
    for one in list(parse_xml(f"<p:spTree {_NAMESPACES}>{shapes}</p:spTree>")):
        tree.append(one)


def _replaced(element: Any, name: str, markup: str) -> None:
    from pptx.oxml import parse_xml

    old = element.find(_tag(name))
    new = parse_xml(markup)
    if old is None:
        element.append(new)
    else:
        element.replace(old, new)


def _without(element: Any, names: tuple[str, ...]) -> None:
    for name in names:
        for one in element.findall(_tag(name)):
            element.remove(one)


def _at(frame: str) -> str:
    x, y, wide, high = (round(side * _EMU) for side in FRAMES[frame])
    return f'<a:xfrm><a:off x="{x}" y="{y}"/><a:ext cx="{wide}" cy="{high}"/></a:xfrm>'


def _holder(number: int, kind: str, index: int, frame: str, language: str) -> str:
    at = f' idx="{index}"' if index else ""
    anchor = "b" if kind in ("title", "ctrTitle") else "t"
    name = f"{_WORDS[kind]} {number - 1}"
    return (
        f'<p:sp><p:nvSpPr><p:cNvPr id="{number}" name="{name}"/><p:cNvSpPr><a:spLocks noGrp="1"/></p:cNvSpPr>'
        f'<p:nvPr><p:ph type="{kind}"{at}/></p:nvPr></p:nvSpPr>'
        f'<p:spPr>{_at(frame)}<a:prstGeom prst="rect"><a:avLst/></a:prstGeom></p:spPr>'
        f'<p:txBody><a:bodyPr vert="horz" wrap="square" lIns="0" tIns="0" rIns="0" bIns="0" anchor="{anchor}">'
        f"<a:normAutofit/></a:bodyPr><a:lstStyle/>"
        f'<a:p><a:r><a:rPr lang="{language}"/><a:t>{_WORDS[kind]}</a:t></a:r></a:p></p:txBody></p:sp>'
    )


def _feet(language: str) -> str:
    return _foot(20, "ftr", 11, "footer", "l", "", language) + _foot(21, "sldNum", 12, "number", "r", _FIELD, language)


_FIELD: Final = '<a:fld id="{B6F15528-21DE-4FAA-801E-634DDDAF4B2B}" type="slidenum"><a:rPr/><a:t>1</a:t></a:fld>'


def _foot(number: int, kind: str, index: int, frame: str, align: str, content: str, language: str) -> str:
    name = "Footer" if kind == "ftr" else "Slide number"
    grey = f'<a:solidFill><a:srgbClr val="{_GREY}"/></a:solidFill><a:latin typeface="+mn-lt"/>'
    return (
        f'<p:sp><p:nvSpPr><p:cNvPr id="{number}" name="{name}"/>'
        '<p:cNvSpPr><a:spLocks noGrp="1"/></p:cNvSpPr>'
        f'<p:nvPr><p:ph type="{kind}" sz="quarter" idx="{index}"/></p:nvPr></p:nvSpPr>'
        f'<p:spPr>{_at(frame)}<a:prstGeom prst="rect"><a:avLst/></a:prstGeom></p:spPr>'
        '<p:txBody><a:bodyPr lIns="0" tIns="0" rIns="0" bIns="0" anchor="ctr"/><a:lstStyle>'
        f'<a:lvl1pPr algn="{align}"><a:defRPr sz="1000">{grey}</a:defRPr></a:lvl1pPr></a:lstStyle>'
        f'<a:p>{content}<a:endParaRPr lang="{language}"/></a:p></p:txBody></p:sp>'
    )


def _master_shapes(language: str) -> str:
    return _holder(2, "title", 0, "title", language) + _holder(3, "body", 1, "text", language) + _feet(language)


def _text_styles(language: str) -> str:
    def level(n: int, size: int, indent: int, bullet: str, bold: str = "") -> str:
        return (
            f'<a:lvl{n}pPr marL="{indent}" indent="{-177800 if bullet else 0}" algn="l">'
            f'<a:lnSpc><a:spcPct val="100000"/></a:lnSpc><a:spcBef><a:spcPts val="600"/></a:spcBef>'
            + (f'<a:buFont typeface="Arial"/><a:buChar char="{bullet}"/>' if bullet else "<a:buNone/>")
            + f'<a:defRPr sz="{size}"{bold} kern="1200"><a:solidFill><a:schemeClr val="tx1"/></a:solidFill>'
            '<a:latin typeface="+mn-lt"/><a:ea typeface="+mn-ea"/><a:cs typeface="+mn-cs"/></a:defRPr>'
            f"</a:lvl{n}pPr>"
        )

    title = level(1, 2800, 0, "", ' b="1"').replace("+mn-", "+mj-").replace('val="600"', 'val="0"')
    body = level(1, 1800, 0, "") + "".join(level(n, 1600, 177800 * (n - 1), "\u2022") for n in range(2, 6))
    other = level(1, 1800, 0, "")
    return (
        f"<p:txStyles {_NAMESPACES}><p:titleStyle>{title}</p:titleStyle>"
        f"<p:bodyStyle>{body}</p:bodyStyle><p:otherStyle>{other}</p:otherStyle></p:txStyles>"
    )


def _themed(master: Any, family: str, ink: str, accent: str) -> None:
    """Put the studio's fonts and colours into the theme, so that what is added by hand has them too."""
    from lxml import etree
    from pptx.opc.constants import RELATIONSHIP_TYPE

    part = master.part.part_related_by(RELATIONSHIP_TYPE.THEME)
    root = etree.fromstring(part.blob)
    root.set("name", "Studio")
    spaces = {"a": "http://schemas.openxmlformats.org/drawingml/2006/main"}
    colours = {"dk1": ink, "lt1": "#ffffff", "dk2": accent, "lt2": "#f2f1ee", "accent1": accent, "accent2": "#5a5a5a",
               "accent3": "#8a8a8a", "accent4": "#b9b9b9", "accent5": "#3c3c3c", "accent6": ink,
               "hlink": accent, "folHlink": "#5a5a5a"}  # fmt: skip
    for name, colour in colours.items():
        (slot,) = root.findall(f".//a:clrScheme/a:{name}", spaces)
        for old in list(slot):
            slot.remove(old)
        etree.SubElement(slot, f"{{{spaces['a']}}}srgbClr").set("val", colour.lstrip("#").upper())
    for font in ("majorFont", "minorFont"):
        (holder,) = root.findall(f".//a:fontScheme/a:{font}", spaces)
        for old in list(holder):
            holder.remove(old)
        # Sans of the humanist kind: what a program goes by when the face itself is not there.
        holder.append(
            etree.fromstring(
                f'<a:latin xmlns:a="{spaces["a"]}" typeface={quoteattr(plain(family))} panose="020B0503030403020204" '
                'pitchFamily="34" charset="0"/>'
            )
        )
        for script in ("ea", "cs"):
            etree.SubElement(holder, f"{{{spaces['a']}}}{script}").set("typeface", "")
    for name in ("clrScheme", "fontScheme"):
        root.find(f".//a:{name}", spaces).set("name", "Studio")
    part._blob = etree.tostring(root, xml_declaration=True, encoding="UTF-8", standalone=True)
