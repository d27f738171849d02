"""Office files as they leave the studio: nothing of the machine in them, and the same bytes from the same record."""

from __future__ import annotations

import datetime as dt
import io
import posixpath
import zipfile
from collections.abc import Mapping
from typing import Any, Final
from xml.sax.saxutils import escape

from enfilade.export.office.text import plain

__all__ = ["About", "packed"]

_OLDEST: Final = (1980, 1, 1, 0, 0, 0)
"""The first moment that an archive can name; it tells nothing about when a file was made."""
_UNWANTED: Final = ("docProps/thumbnail", "customXml/", "word/stylesWithEffects", "ppt/printerSettings/")
"""Parts that the libraries' own templates bring along."""
_PROPERTIES: Final = (
    'xmlns:cp="http://schemas.openxmlformats.org/package/2006/metadata/core-properties" '
    'xmlns:dc="http://purl.org/dc/elements/1.1/" xmlns:dcterms="http://purl.org/dc/terms/" '
    'xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance"'
)
_HEAD: Final = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n'
_PICTURES: Final = (".png", ".jpg", ".jpeg")

About = Mapping[str, str]
"""What a file says of itself: `title`, `creator`, `language`, and `date` as ISO 8601 or empty."""


def packed(data: bytes, about: About) -> bytes:
    """Return an office file packed anew.

    Args:
        data: As a library has saved it.
        about: What it says of itself; it says nothing else.
    """
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        parts = {name: archive.read(name) for name in archive.namelist() if not name.startswith(_UNWANTED)}
    _drop_mentions(parts)
    parts["docProps/core.xml"] = _core(about).encode()
    if "docProps/app.xml" in parts:
        parts["docProps/app.xml"] = (
            f'{_HEAD}<Properties xmlns="http://schemas.openxmlformats.org/officeDocument/2006/extended-properties"/>'
        ).encode()
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, part in parts.items():
            entry = zipfile.ZipInfo(name, _OLDEST)
            entry.create_system = 0  # the same from every system
            # A picture is packed already.
            entry.compress_type = zipfile.ZIP_STORED if name.lower().endswith(_PICTURES) else zipfile.ZIP_DEFLATED
            archive.writestr(entry, part)
    return stream.getvalue()


def _core(about: About) -> str:
    said = [(name, plain(about.get(name, ""))) for name in ("title", "creator", "language")]
    fields = [f"<dc:{name}>{escape(text)}</dc:{name}>" for name, text in said if text]
    if about.get("date"):
        moment = f"{dt.date.fromisoformat(about['date']).isoformat()}T00:00:00Z"
        fields += [f'<dcterms:{n} xsi:type="dcterms:W3CDTF">{moment}</dcterms:{n}>' for n in ("created", "modified")]
    return f"{_HEAD}<cp:coreProperties {_PROPERTIES}>{''.join(fields)}</cp:coreProperties>"


def _drop_mentions(parts: dict[str, bytes]) -> None:
    """Take out of the lists of parts what is not there any more."""
    for name in [name for name in parts if name.endswith(".rels") or name == "[Content_Types].xml"]:
        root = _parsed(parts[name])
        folder = posixpath.dirname(posixpath.dirname(name))
        gone = [one for one in root if _leads_to_nothing(one, folder)]
        for one in gone:
            root.remove(one)
        if gone:
            parts[name] = _written(root)


def _leads_to_nothing(one: Any, folder: str) -> bool:
    if one.get("TargetMode") == "External":
        return False
    target = one.get("Target") or one.get("PartName")
    if target is None:
        return False
    path = target.lstrip("/") if target.startswith("/") else posixpath.normpath(posixpath.join(folder, target))
    return path.startswith(_UNWANTED)


def _parsed(data: bytes) -> Any:
    from lxml import etree

    return etree.fromstring(data, etree.XMLParser(resolve_entities=False, no_network=True))


def _written(root: Any) -> bytes:
    from lxml import etree

    return bytes(etree.tostring(root, xml_declaration=True, encoding="UTF-8", standalone=True))
