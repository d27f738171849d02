"""What a finding about a cooking surface says of its fuel."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final, TypedDict

from enfilade.project.appliances import Cooktop, Range
from enfilade.project.standing import Stand

__all__ = ["FuelTold", "fuel_told"]

_UNKNOWN: Final = "What it heats with is not recorded; gas asks more."


class FuelTold(TypedDict):
    """Arguments of `Row.finding` and `Row.not_assessed`: cautions and sentences beside the row's own."""

    cautions: tuple[str, ...]
    also: tuple[str, ...]


def fuel_told(surfaces: Sequence[Stand], also: Sequence[str] = ()) -> FuelTold:
    """Return the caution where one of some cooking surfaces burns gas, and a sentence where a fuel is not recorded.

    Args:
        surfaces: Cooktops and ranges.
        also: Sentences that are said anyhow.
    """
    fuels = [stand.thing.fuel for stand in surfaces if isinstance(stand.thing, Cooktop | Range)]
    unknown = (_UNKNOWN,) if None in fuels else ()
    return FuelTold(cautions=("gas",) if "gas" in fuels else (), also=(*also, *unknown))
