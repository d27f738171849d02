"""How far off a figure that was typed may be and still be the one that the record holds.

The finer it was said, the closer it has to be: half of its last place. Where that would hide a stale figure it is
less: 15 cm for whole metres and 10 cm for halves and quarters of one, 3 in for whole and half feet, 2 cm for whole
tens of centimetres (`230 cm`, `2 m 30`), 5 mm for tens of millimetres. Feet with inches, and metres with centimetres,
are as fine as their last part. After `about`, `roughly`, `some`, `just`, or before `or so`, it may be half the next
unit off (half a foot, half a metre), and a finer one twice as far; after `nearly` or `almost` so far below alone,
since one does not say that of what is more. `just over` and `just under` leave half a unit on their side; `over`,
`more than`, `at least`, `under`, `up to` leave a whole one, since eight feet ten inches are over eight feet. Own
choice: no standard says how finely a size is told aloud.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from enfilade.lengths import TOLERANCE_MM
from enfilade.script.typed import Typed
from enfilade.script.typed_numbers import Token

__all__ = ["range_of"]

_MOST_MM: Final = {"m": 100.0, "ft": 76.2, "cm": 20.0, "mm": 5.0}
_WHOLE_METRE_MM: Final = 150.0
_COARSE_MM: Final = 51.0
"""From here on what is said is so coarse that `about` leaves half of its unit, and no more."""
_WINDOW: Final = 3
_JUST_OVER: Final = ("just over", "little over", "bit over", "touch over", "slightly over", "slightly more than")
_JUST_UNDER: Final = ("just under", "little under", "bit under", "touch under", "slightly under", "just short of",
                      "not quite", "slightly less than")  # fmt: skip
_UNDER: Final = ("no more than", "not more than", "less than", "under", "at most", "below", "up to")
_OVER: Final = ("no less than", "not less than", "more than", "over", "at least", "above", "upwards of")
_NEARLY: Final = ("nearly", "almost")
_ABOUT: Final = ("about", "around", "roughly", "some", "approximately", "circa", "say", "just")
_ABOUT_AFTER: Final = ("or so", "or thereabouts", "more or less", "give or take", "roughly", "approximately")


def range_of(typed: Typed, tokens: Sequence[Token]) -> tuple[float, float]:
    """Return between which figures the record agrees with one that was typed, in the unit of its value.

    Args:
        typed: The figure.
        tokens: Of the sentence that it stands in.
    """
    slack = TOLERANCE_MM if typed.kind == "length" else 1e-6
    value, (plain, loose) = typed.value, _off(typed)
    before = " ".join(token.word for token in tokens[max(0, typed.first - _WINDOW) : typed.first])
    after = " ".join(token.word for token in tokens[typed.last + 1 : typed.last + 1 + _WINDOW])
    if _ends(before, _JUST_OVER):
        low, high = 0.0, loose
    elif _ends(before, _JUST_UNDER):
        low, high = loose, 0.0
    elif _ends(before, _UNDER):
        low, high = 2 * loose, 0.0
    elif _ends(before, _OVER):
        low, high = 0.0, 2 * loose
    elif _ends(before, _NEARLY):
        low, high = loose, min(plain, loose)
    elif _ends(before, _ABOUT) or after.startswith(_ABOUT_AFTER):
        low, high = loose, loose
    else:
        low, high = plain, plain
    return value - low - slack, value + high + slack


def _ends(words: str, phrases: tuple[str, ...]) -> bool:
    return f" {words}".endswith(tuple(f" {phrase}" for phrase in phrases))


def _off(typed: Typed) -> tuple[float, float]:
    """Return how far off it may be as it stands, and after `about`."""
    half = typed.fine
    if typed.kind != "length":
        return half, 2 * half
    unit = typed.parts[-1].unit
    most = _WHOLE_METRE_MM if unit == "m" and half >= 500.0 else _MOST_MM.get(unit, half)
    return min(half, most), half if half > _COARSE_MM else 2 * half
