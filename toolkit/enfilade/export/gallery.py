"""The drawings and pictures of a document, as files beside its template."""

from __future__ import annotations

import base64
import binascii
import re
from collections.abc import Mapping
from typing import Any, Final

from enfilade.errors import Refused
from enfilade.export.signs import Shown, in_short
from enfilade.lengths import INCH_MM
from enfilade.walkthrough.pages import Drawing, Picture

__all__ = ["Gallery", "size_mm"]

_ENDINGS: Final = {"image/jpeg": "jpg", "image/png": "png", "image/webp": "webp", "image/gif": "gif"}
_ADDRESS: Final = re.compile(r"data:([a-z]+/[a-z+.-]+);base64,")
_SIZE: Final = re.compile(r'<svg\b[^>]*?\bwidth="([\d.]+)(mm|px)?" height="([\d.]+)(?:mm|px)?"')


class Gallery:
    """Collects what a document shows, each thing once."""

    def __init__(self) -> None:
        self._drawings: dict[str, str] = {}
        self._pictures: dict[bytes, str] = {}

    @property
    def drawings(self) -> tuple[str, ...]:
        """Return the drawings as SVG text."""
        return tuple(self._drawings)

    def svg(self, file: str) -> str:
        """Return the drawing that goes by a name, as SVG text."""
        return next(svg for svg, known in self._drawings.items() if known == file)

    def drawing(self, one: Drawing, *, widest_mm: float, highest_mm: float, largest: float = 1.0) -> dict[str, Any]:
        """Take in a drawing, and return what a template shows it by; it is made smaller to fit, and never cut.

        Args:
            one: The drawing.
            widest_mm, highest_mm: The room that there is for it.
            largest: How much larger than it was drawn it may become.
        """
        width, height = size_mm(one.svg)
        share = min(largest, widest_mm / width, highest_mm / height)
        return {
            "file": self._drawings.setdefault(one.svg, f"d{len(self._drawings)}.svg"),
            "words": one.title,
            "alt": in_short(one.title, 500) or "drawing",
            "width": round(width * share, 3),
            "height": round(height * share, 3),
        }

    def picture(self, one: Picture) -> dict[str, Any]:
        """Take in a photograph, and return what a template shows it by.

        Raises:
            Refused: Its address holds no picture that can be set.
        """
        found = _ADDRESS.match(one.source)
        ending = _ENDINGS.get(found[1]) if found else None
        if found is None or ending is None:
            raise Refused("a photograph is carried in a form that cannot be set", expected=", ".join(_ENDINGS))
        try:
            data = base64.b64decode(one.source[found.end() :], validate=True)
        except binascii.Error as error:
            raise Refused(f"photograph {one.caption!r} is damaged", do="add it anew") from error
        return {
            "file": self.file(data, ending),
            "words": one.caption,
            "alt": in_short(one.alternative, 500) or "photograph",
        }

    def file(self, data: bytes, ending: str) -> str:
        """Take in a picture as it is, and return the name that it goes by."""
        return self._pictures.setdefault(data, f"p{len(self._pictures)}.{ending}")

    def files(self, shown: Shown) -> Mapping[str, bytes]:
        """Return all of it by name, drawings with signs that can be shown."""
        drawings = {name: shown.text(svg).encode("utf-8", "replace") for svg, name in self._drawings.items()}
        return drawings | {name: data for data, name in self._pictures.items()}


def size_mm(svg: str) -> tuple[float, float]:
    """Return the width and height that a drawing has on paper [mm]; CSS pixels count 96 to the inch."""
    found = _SIZE.search(svg)
    if found is None:
        raise Refused("a drawing does not say how large it is", expected="width and height in px or mm")
    unit = 1.0 if found[2] == "mm" else INCH_MM / 96
    return max(float(found[1]) * unit, 1.0), max(float(found[3]) * unit, 1.0)
