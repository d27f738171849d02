"""How a bound figure may be asked for: the words that stand after a comma in a field."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from enfilade.script.value import KIND_WORDS, Kind, Value

__all__ = ["FORMS", "Form", "Forms", "forms_misfit", "named_forms"]


@dataclass(frozen=True, slots=True)
class Form:
    """One way of writing a figure.

    Attributes:
        words: What stands after the comma.
        fits: Kinds of figures that it fits; empty: all.
        says: What it does.
        also: Other spellings.
    """

    words: str
    fits: tuple[Kind, ...]
    says: str
    also: tuple[str, ...] = ()


_FIGURES: Final[tuple[Kind, ...]] = tuple(kind for kind in KIND_WORDS if kind != "words")

FORMS: Final[tuple[Form, ...]] = (
    Form("in metres", ("length",), "one decimal from two metres on, else two", ("in meters",)),
    Form("in centimetres", ("length",), "whole centimetres", ("in centimeters",)),
    Form("in millimetres", ("length",), "whole millimetres", ("in millimeters",)),
    Form("in feet and inches", ("length",), "to the inch"),
    Form("in feet", ("length",), "to the half foot"),
    Form("in inches", ("length",), "to the half inch; small sizes to the quarter or eighth"),
    Form("in square metres", ("area",), "one decimal", ("in square meters",)),
    Form("in square feet", ("area",), "whole square feet"),
    Form("in litres", ("volume",), "whole litres", ("in liters",)),
    Form("in cubic feet", ("volume",), "one decimal"),
    Form("in words", (), "the eye reads words too, as they are said"),
    Form("in figures", (), "the eye reads figures, as it does when nothing is said"),
    Form("rounded", ("length", "area", "volume", "flow", "count", "share", "money"), "coarser, as one says it freely"),
    Form("exact", ("length", "area", "money", "share"), "as a working drawing has it: to 1/16 in, or the millimetre"),
    Form("without its unit", _FIGURES, "the number alone", ("number alone",)),
    Form("with the word", ("count",), "with what is counted: 1 stool, 4 stools"),
    Form("with a capital", (), "begins with a capital letter"),
    Form("without the year", ("day",), "day and month"),
    Form("month and year", ("day",), "without the day of the month"),
    Form("year alone", ("day",), "the year"),
)
"""Every form, in the order in which the page lists them."""

Forms = frozenset[str]

_BY_WORDS: Final = {spelled: form.words for form in FORMS for spelled in (form.words, *form.also)}
_KINDS: Final = {form.words: form.fits for form in FORMS}
_UNITS: Final = tuple(form.words for form in FORMS if form.words.startswith("in ") and form.fits)
_OPPOSED: Final = (
    _UNITS, ("rounded", "exact"), ("in words", "in figures"), ("without the year", "month and year", "year alone"),
)  # fmt: skip


def named_forms(text: str) -> tuple[str, Forms]:
    """Take the forms off the end of a field, and return what is left of it with them.

    >>> named_forms("width of island, in metres")
    ('width of island', frozenset({'in metres'}))
    """
    found: set[str] = set()
    while True:
        head, comma, tail = text.rpartition(",")
        form = _BY_WORDS.get(" ".join(tail.split()).casefold()) if comma else None
        if form is None:
            return text.strip(), frozenset(found)
        found.add(form)
        text = head


def forms_misfit(value: Value, forms: Forms) -> str:
    """Say which form does not fit a figure, or which two do not go together; empty when all do."""
    for form in sorted(forms):
        if _KINDS[form] and value.kind not in _KINDS[form]:
            return f"`{form}` does not fit {KIND_WORDS[value.kind]}"
    for group in _OPPOSED:
        both = [form for form in group if form in forms]
        if len(both) > 1:
            return f"`{both[0]}` and `{both[1]}` do not go together"
    return ""
