"""How many live in the house: as recorded, or estimated from its bedrooms."""

from __future__ import annotations

from dataclasses import dataclass

from enfilade.checks.view import View
from enfilade.standards.yardsticks import Yardstick
from enfilade.trade.household import occupants

__all__ = ["HouseholdSize", "household_size"]


@dataclass(frozen=True)
class HouseholdSize:
    """The people of a household; None when neither they nor the bedrooms are recorded."""

    people: int | None
    working: tuple[str, ...] = ()
    assumed: tuple[str, ...] = ()


def household_size(view: View, rules: Yardstick) -> HouseholdSize:
    """Return the size of a view's household; an estimate from bedrooms says so and is an assumption."""
    household = view.household
    if household.count is not None or not household.bedrooms or not rules.has("Q1", "main bedroom"):
        return HouseholdSize(household.count)
    estimate = occupants(household.bedrooms, by=rules)
    lines = tuple(f"people, estimated from {household.bedrooms} bedrooms: {line}" for line in estimate.working)
    return HouseholdSize(round(estimate.value), lines, ("household.size",))
