"""How well a colour stands out from another.

Source: Web Content Accessibility Guidelines 2.2 (W3C), the definitions of relative luminance and contrast ratio,
and success criterion 1.4.3 Contrast (Minimum).
"""

from __future__ import annotations

import re
from typing import Final

from enfilade.errors import Refused

__all__ = ["TEXT_LEAST", "contrast", "luminance"]

TEXT_LEAST: Final = 4.5
"""Least contrast of text [-]: 1.4.3, level AA."""

_COLOUR: Final = re.compile(r"#[0-9a-fA-F]{6}")
_WEIGHTS: Final = (0.2126, 0.7152, 0.0722)


def luminance(colour: str) -> float:
    """Return the relative luminance of a colour in sRGB: 0 for black, 1 for white [-].

    Args:
        colour: As `#rrggbb`.
    Raises:
        Refused: It is no such colour.

    >>> luminance("#ffffff")
    1.0
    """
    if not isinstance(colour, str) or not _COLOUR.fullmatch(colour):
        raise Refused(f"{str(colour)[:40]!r} is not a colour", expected="#rrggbb, such as #0b5563")
    channels = (int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5))
    return sum(weight * _linear(channel) for weight, channel in zip(_WEIGHTS, channels, strict=True))


def contrast(colour: str, ground: str = "#ffffff") -> float:
    """Return the contrast of two colours, whichever is lighter: 1 for the same, 21 for black on white [-].

    Args:
        colour, ground: As `#rrggbb`.
    Raises:
        Refused: One is no such colour.

    >>> round(contrast("#777777"), 3)
    4.478
    """
    lighter, darker = sorted((luminance(colour), luminance(ground)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def _linear(channel: float) -> float:
    return channel / 12.92 if channel <= 0.04045 else ((channel + 0.055) / 1.055) ** 2.4
