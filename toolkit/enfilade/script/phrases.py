"""Fields that are of the household and of no one record: `{people in the household}`."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from enfilade.project.project import Project
from enfilade.script.value import Value

__all__ = ["PHRASES"]


def _people(number: int | None) -> Value | None:
    return None if number is None else Value("count", float(number), "person", "people")


PHRASES: Final[dict[str, tuple[Callable[[Project], Value | None], str]]] = {
    "people in household": (lambda project: _people(project.household.count), "how many live here"),
    "people at largest gathering": (
        lambda project: _people(project.household.largest_gathering), "at the largest meal that comes back regularly",
    ),
    "people who cook together": (
        lambda project: _people(project.household.cooks_together), "how many cook at the same time",
    ),
    "bedrooms in household": (
        lambda project: None if project.household.bedrooms is None
        else Value("count", float(project.household.bedrooms), "bedroom", "bedrooms"), "how many bedrooms there are",
    ),
}  # fmt: skip
"""Fields that are of the household, by their words without articles, with what they say."""
