"""What tests of the office documents share: a house told once, and looks into the packages."""

from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Iterable
from functools import cache
from typing import Any

from lxml import etree

import enfilade as ef
from enfilade.export import docx, pptx, workbook
from enfilade.export.document import Document
from enfilade.export.tell import told
from enfilade.project.fields import Audience
from enfilade.project.project import Project

__all__ = ["demo_told", "files_of", "private_parts", "texts_in", "written"]

WRITERS = {"docx": docx, "pptx": pptx, "xlsx": workbook}


@cache
def demo_told(audience: Audience = "client") -> Document:
    """The demo house, told once for all tests of a run."""
    return told(ef.demo(), audience)


def written(kind: str, project: Project | Document, audience: Audience = "client") -> bytes:
    """Return the one file of a form."""
    document = project if isinstance(project, Document) else told(project, audience)
    ((_, data),) = WRITERS[kind].write(document).items()
    return data


def files_of(data: bytes) -> dict[str, bytes]:
    """Return the parts of a package; each is whole, and XML where it says so."""
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        assert archive.testzip() is None
        # The first moment that a ZIP entry can name (APPNOTE 4.4.6): no clock of any machine.
        assert {entry.date_time for entry in archive.infolist()} == {(1980, 1, 1, 0, 0, 0)}
        parts = {name: archive.read(name) for name in archive.namelist()}
    for name, part in parts.items():
        if name.endswith((".xml", ".rels")):
            etree.fromstring(part)
    return parts


def texts_in(part: bytes) -> str:
    """Return the text of an XML part."""
    return "".join(etree.fromstring(part).itertext())


def private_parts(parts: dict[str, bytes], studio: str) -> list[str]:
    """Return what of a package would tell more than the document does."""
    odd = [name for name in parts if re.search(r"thumbnail|printerSettings|customXml|comments|people|vba", name, re.I)]
    core: Any = etree.fromstring(parts["docProps/core.xml"])
    said = {etree.QName(one).localname: one.text for one in core}
    odd += [name for name in said if name not in ("title", "creator", "language", "created", "modified")]
    odd += [] if said.get("creator") == (studio or None) else [f"creator {said.get('creator')}"]
    if "docProps/app.xml" in parts:
        odd += list(etree.fromstring(parts["docProps/app.xml"]).itertext())
    return odd


def relations_outside(parts: dict[str, bytes]) -> Iterable[str]:
    """Yield what a package would load from elsewhere."""
    for name, part in parts.items():
        if name.endswith(".rels"):
            for one in etree.fromstring(part):
                if one.get("TargetMode") == "External":
                    yield str(one.get("Target"))
