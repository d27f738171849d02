"""A studio's logo, as it may stand in documents: drawn shapes alone, or a PNG without text about itself."""

from __future__ import annotations

import re
from typing import Final
from xml.etree import ElementTree
from xml.parsers import expat

from enfilade.errors import Refused
from enfilade.export.logo_styles import Styles, styles_of
from enfilade.project.photos import picture_form
from enfilade.project.stripping import stripped, tried

__all__ = ["logo_of"]

_SVG: Final = "http://www.w3.org/2000/svg"
_EXPECTED: Final = "an SVG of drawn shapes, or a PNG"
_SHAPES: Final = frozenset({"path", "rect", "circle", "ellipse", "line", "polyline", "polygon", "text"})
_ROUND_THEM: Final = frozenset({"svg", "g", "defs", "title", "desc", "tspan", "stop", "clipPath"})
_ALLOWED: Final = _SHAPES | _ROUND_THEM | {"linearGradient", "radialGradient"}
"""No `use`, `pattern` or `mask`: with them, nested, a small file becomes a picture that is never finished."""
_DROPPED: Final = frozenset({"metadata", "style"})
"""What draws nothing itself; it goes, with all of other vocabularies. Styles stand on the shapes by then."""
_NUMBER: Final = r"[0-9]*\.?[0-9]+(?:[eE][+-]?[0-9]+)?"
_LENGTH: Final = re.compile(rf"\s*({_NUMBER})\s*(?:px|mm|cm|in|pt|pc)?\s*")
_VIEW_BOX: Final = re.compile(rf"\s*-?{_NUMBER}[\s,]+-?{_NUMBER}[\s,]+{_NUMBER}[\s,]+{_NUMBER}\s*")
_OWN_ADDRESS: Final = re.compile(r"url\(\s*['\"]?#([\w.-]+)['\"]?\s*\)", re.IGNORECASE)
_LEADS_OUT: Final = re.compile(r"url\s*\(|image-set|@import|expression\s*\(|javascript:|data:|\\|/\*", re.IGNORECASE)
_LEAST, _LARGEST = 0.01, 1_000_000.0
_LARGEST_BYTES: Final = 4_000_000
_DEEPEST: Final = 60
_MOST: Final = 20_000


def logo_of(data: bytes) -> tuple[bytes, str]:
    """Return a logo as it may stand in documents, and its kind: `svg` or `png`.

    Args:
        data: The whole file.
    Raises:
        Refused: It is neither, cannot be drawn, or holds a script, a picture, or an address.
    """
    if data[:8] == b"\x89PNG\r\n\x1a\n":
        picture_form(data, "the logo")
        clean = stripped(data)
        tried(clean)
        return clean, "png"
    if b"<svg" not in data[:100_000] and b":svg" not in data[:100_000]:
        raise Refused("the logo is no picture that can be set", expected=_EXPECTED)
    return _clean_svg(data), "svg"


def _clean_svg(data: bytes) -> bytes:
    root = _parsed(data)
    if root.tag != f"{{{_SVG}}}svg":
        raise Refused("the logo is no SVG", expected=_EXPECTED)
    sheets = ["".join(element.itertext()) for element in root.iter(f"{{{_SVG}}}style")]
    clean = _cleaned(root, styles_of(sheets))
    if not any(_local(element.tag) in _SHAPES for element in clean.iter()):
        raise Refused("the logo draws nothing", expected=_EXPECTED)
    _give_size(clean)
    drawn = ElementTree.tostring(clean, encoding="utf-8")
    if len(drawn) > _LARGEST_BYTES:
        raise Refused(f"the logo has {len(drawn)} bytes", expected=f"at most {_LARGEST_BYTES}")
    return drawn


def _give_size(root: ElementTree.Element) -> None:
    box = _VIEW_BOX.fullmatch(root.get("viewBox", ""))
    if box is None:
        sizes = [_LENGTH.fullmatch(root.get(name, "")) for name in ("width", "height")]
        if None in sizes:
            raise Refused("the logo has no size", expected="an SVG with a viewBox, or with width and height")
        root.set("viewBox", "0 0 " + " ".join(size[1] for size in sizes if size is not None))
    sides = [float(side) for side in re.split(r"[\s,]+", root.get("viewBox", "").strip())[2:]]
    if not all(_LEAST <= side <= _LARGEST for side in sides):
        raise Refused("the logo is too small or too large to be set", expected=f"sides of {_LEAST:g} to {_LARGEST:g}")


def _parsed(data: bytes) -> ElementTree.Element:
    """Return the root of an SVG file. Entities, with which a small file grows without end, are refused."""
    builder = ElementTree.TreeBuilder()
    parser = expat.ParserCreate(namespace_separator="}")
    depth = count = 0

    def name(tag: str) -> str:
        return "{" + tag if "}" in tag else tag

    def start(tag: str, attributes: dict[str, str]) -> None:
        nonlocal depth, count
        depth, count = depth + 1, count + 1
        if depth > _DEEPEST or count > _MOST:
            raise Refused(
                f"the logo has over {_MOST} parts, or nests over {_DEEPEST} deep", expected="a simple drawing"
            )
        builder.start(name(tag), {name(key): value for key, value in attributes.items()})

    def end(tag: str) -> None:
        nonlocal depth
        depth -= 1
        builder.end(name(tag))

    def entity(*_: object) -> None:
        raise Refused("the logo declares entities", expected="an SVG without them")

    parser.StartElementHandler, parser.EndElementHandler = start, end
    parser.CharacterDataHandler = builder.data
    parser.EntityDeclHandler = entity
    try:
        parser.Parse(data, True)
        return builder.close()
    except (expat.ExpatError, AssertionError, LookupError, ValueError) as error:
        if isinstance(error, Refused):
            raise
        raise Refused(f"the logo is no readable SVG ({error})", expected=_EXPECTED) from error


def _local(tag: str) -> str:
    return tag.rpartition("}")[2]


def _cleaned(element: ElementTree.Element, styles: Styles, clipping: bool = False) -> ElementTree.Element:
    clean = ElementTree.Element(_local(element.tag))
    if clean.tag == "svg":
        clean.set("xmlns", _SVG)
    about = dict(element.attrib)
    classes = about.pop("class", "").split()
    if style := styles.of(clean.tag, about.get("id", ""), classes, about.pop("style", "")):
        about["style"] = style
    for key, value in about.items():
        _take(clean, key, value)
    if clipping and any("url(" in value.lower() for value in clean.attrib.values()):
        raise Refused("the logo clips what clips", expected="a simple drawing")
    clean.text = element.text
    for child in element:
        ours = child.tag.startswith(f"{{{_SVG}}}")
        if not ours or _local(child.tag) in _DROPPED:
            continue
        if _local(child.tag) not in _ALLOWED:
            what = f"the logo holds a <{_local(child.tag)[:40]}>"
            raise Refused(what, expected="drawn shapes alone", do="export it with outlines")
        kept = _cleaned(child, styles, clipping or clean.tag == "clipPath")
        kept.tail = child.tail
        clean.append(kept)
    return clean


def _take(clean: ElementTree.Element, key: str, value: str) -> None:
    """Keep an attribute; refuse one that runs something or leads elsewhere."""
    name = _local(key)
    if name.lower().startswith("on"):
        raise Refused(f"the logo runs a script ({name[:40]})", expected="drawn shapes alone")
    if name == "href":
        if not re.fullmatch(r"#[\w.-]+", value.strip()):
            raise Refused(f"the logo leads to {value[:60]!r}", expected="an SVG that needs nothing from elsewhere")
        clean.set("href", f"#{_own(value.strip()[1:])}")
        return
    if "}" in key:
        return  # Another program's remark.
    if _LEADS_OUT.search(_OWN_ADDRESS.sub("", value)):
        raise Refused(f"the logo leads elsewhere ({name[:40]})", expected="an SVG that needs nothing from elsewhere")
    if name == "id":
        value = _own(value)
    clean.set(name, _OWN_ADDRESS.sub(lambda found: f"url(#{_own(found[1])})", value))


def _own(id: str) -> str:
    # A page that takes the logo in has ids of its own.
    return id if id.startswith("logo-") else f"logo-{id}"
