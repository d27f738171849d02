"""What a file that is no picture we show seems to be, by its first bytes, so that a refusal can name it."""

from __future__ import annotations

from typing import Final

__all__ = ["seeming"]

_BEGINNINGS: Final = (
    (b"GIF8", "a GIF picture"),
    (b"BM", "a BMP picture"),
    (b"II*\0", "a TIFF or raw picture"),
    (b"MM\0*", "a TIFF or raw picture"),
    (b"%PDF", "a PDF document"),
    (b"PK\x03\x04", "an archive or an office document"),
    (b"<", "a text with marks, such as SVG or HTML"),
)
_BRANDS: Final = {b"heic": "HEIC", b"heix": "HEIC", b"mif1": "HEIC", b"msf1": "HEIC", b"avif": "AVIF"}
"""Major brands of the ISO base media file format (ISO/IEC 14496-12, 4.3; ISO/IEC 23008-12) (recalled)."""


def seeming(data: bytes) -> str:
    """Return what a file seems to be, such as `a PDF document`; empty where its beginning says nothing."""
    if data[4:8] == b"ftyp":
        brand = _BRANDS.get(data[8:12])
        return f"a {brand} picture" if brand == "HEIC" else f"an {brand} picture" if brand else "a film"
    return next((words for beginning, words in _BEGINNINGS if data.startswith(beginning)), "")
