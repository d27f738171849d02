"""How drawings look: ink in three weights, few text sizes, colours that a colour-blind reader tells apart."""

from __future__ import annotations

from typing import Final

from enfilade.drawings.items import Weight
from enfilade.findings import Verdict

__all__ = ["DASHES", "FONT", "INK", "PAPER", "STROKES", "TEXT", "VERDICT_COLOURS", "VERDICT_SIGNS"]

INK: Final = "#111111"
GREY: Final = "#5a5a5a"
POCHE: Final = "#3c3c3c"
PAPER: Final = "#ffffff"

# The shipped face, by the name that its files bear, then the one that it was cut from. Stand-ins are no wider than
# `writing` measures: where our face is missing, words still stay apart.
FONT: Final = (
    "'Enfilade Text', 'Source Sans 3', 'Source Sans Pro', Helvetica, Arial, 'Liberation Sans', "
    "'DejaVu Sans Condensed', sans-serif"
)
TABULAR: Final = "font-variant-numeric: tabular-nums"

# Sheet units are CSS pixels, 96 to the inch, so that a drawing at scale prints at scale.
STROKES: Final[dict[Weight, float]] = {"cut": 2.2, "edge": 1.0, "dimension": 0.5, "hidden": 0.7}
DASHES: Final[dict[str, str]] = {"upper": "7 3", "under": "2 2.5", "removed": "1 3", "": "4 2.5"}
TEXT: Final = {"title": 17.0, "room": 13.0, "thing": 10.5, "note": 10.0, "sign": 9.0, "dimension": 10.0, "key": 11.0}

# The colour-blind-safe set of M. Okabe and K. Ito, "Color Universal Design" (2002, revised 2008): vermilion,
# bluish green, and reddish purple. Its blue is left out: the pages keep a deep blue-green for what can be handled.
VERDICT_COLOURS: Final[dict[Verdict, str]] = {
    "falls short": "#d55e00",
    "met": "#009e73",
    "not assessed": "#cc79a7",
}
# A verdict is told by the form of its mark too, and by its word in the key.
VERDICT_SIGNS: Final[dict[Verdict, str]] = {"falls short": "diamond", "met": "circle", "not assessed": "square"}
