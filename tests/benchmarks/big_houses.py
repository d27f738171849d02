"""Houses ten and a hundred times as large as the demo house: copies of it side by side, each with ids of its own."""

from __future__ import annotations

import json
from collections.abc import Iterator
from functools import cache
from typing import Any

from enfilade.project.demo import demo
from enfilade.project.project import Project
from enfilade.project.writing import project_text

__all__ = ["big_house"]

_SPACING_MM = 40_000.0
_KEYS_OF_IDS = (
    "id wall beyond host space spaces product products finish finishes floor_finish ceiling_finish controls opening at "
    "needs things decisions choice subjects"
)
_IDS = frozenset(_KEYS_OF_IDS.split())


@cache
def big_house(copies: int) -> Project:
    """Return so many demo houses as one project, in rows of ten; without photographs and answers."""
    plain = json.loads(project_text(demo()))
    for name in ("photographs", "answers"):
        plain.pop(name, None)
    for line in (line for stop in plain["script"] for line in stop["lines"]):
        line.pop("photographs", None)
    # One room of many is not the last of all.
    plain["show"].get("speaking", {}).pop("last", None)
    lists = [name for name, value in plain.items() if isinstance(value, list)]
    whole = {**plain, **{name: [] for name in lists}, "brief": {"needs": []}}
    for number in range(copies):
        one = _copy(plain, number)
        for name in lists:
            whole[name] += one[name]
        whole["brief"]["needs"] += one["brief"].get("needs", [])
    return Project.model_validate(whole).verified()


def _copy(plain: dict[str, Any], number: int) -> dict[str, Any]:
    by = (number % 10 * _SPACING_MM, number // 10 * _SPACING_MM)
    inside = {name: value for name, value in plain.items() if name not in ("id", "household")}
    ids = set(_ids_in(inside))
    copied: dict[str, Any] = _renamed(inside, ids, f"h{number}-", by)
    for name in ("decisions", "needs"):
        records = copied["brief"].get("needs", []) if name == "needs" else copied.get(name, [])
        for record in records:
            record["number"] += number * 60
            record.pop("findings", None)
    return copied


def _ids_in(value: Any) -> Iterator[str]:
    if isinstance(value, dict):
        if isinstance(value.get("id"), str):
            yield value["id"]
        value = list(value.values())
    if isinstance(value, list):
        for inner in value:
            yield from _ids_in(inner)


def _renamed(value: Any, ids: set[str], prefix: str, by: tuple[float, float], key: str = "") -> Any:
    if isinstance(value, dict):
        new = {name: _renamed(inner, ids, prefix, by, name) for name, inner in value.items()}
        if value.get("how") == "free":
            new["x_mm"], new["y_mm"] = value["x_mm"] + by[0], value["y_mm"] + by[1]
        return new
    if key == "outline":
        return [[x + by[0], y + by[1]] for x, y in value]
    if isinstance(value, list):
        return [_renamed(inner, ids, prefix, by, key) for inner in value]
    return prefix + value if key in _IDS and isinstance(value, str) and value in ids else value
