"""The plan of a room in small, as it stood in the version that was found."""

from __future__ import annotations

import itertools
import re
from collections import OrderedDict
from dataclasses import replace
from typing import TYPE_CHECKING, Final
from weakref import WeakKeyDictionary

from enfilade.archive.finding.answers import Hit
from enfilade.archive.finding.rooms import project_of
from enfilade.drawings.items import Circle, Dimension, Item, Label, Line, Numbered, Polygon
from enfilade.drawings.scene import plan_scene
from enfilade.drawings.svg import svg_and_names
from enfilade.errors import NotFound
from enfilade.project.project import Project

if TYPE_CHECKING:
    from enfilade.archive.store import Store

__all__ = ["TONE", "plan_of"]

TONE: Final = "#bcd9d8"
"""What was found is drawn heavier, and toned in a tint of the accent: told by weight first."""
_LEFT_OUT: Final = frozenset({"symbol", "service", "upper", "under", "ceiling", "clear-width", "dimension", "label"})
"""What would only darken a drawing of this size."""
_WIDTH_PX: Final = 220.0
_MOST: Final = 400
_DRAWN: WeakKeyDictionary[Store, OrderedDict[tuple[str, int, str, tuple[str, ...]], str]] = WeakKeyDictionary()
_COUNT = itertools.count(1)
"""A page holds many plans, of which each needs ids of its own."""


def plan_of(store: Store, hit: Hit) -> str:
    """Return the plan of a hit's room as SVG text, without figures and names; of the house, where it is about no room.

    What the hit is about is drawn heavier: the thing, or what a finding is about.

    Raises:
        NotFound: The version is not there any more, or has no such room.
        BadRecord: What the archive holds of it is damaged.
    """
    drawn = _DRAWN.setdefault(store, OrderedDict())
    project = project_of(store, hit.project, hit.version)
    stressed = _stressed(project, hit)
    key = hit.project, hit.version, hit.space, stressed
    if key not in drawn:
        drawn[key] = _drawn(project, hit.space, stressed)
        while len(drawn) > _MOST:
            drawn.popitem(last=False)
    drawn.move_to_end(key)
    return _own_ids(drawn[key])


def _stressed(project: Project, hit: Hit) -> tuple[str, ...]:
    """Return the ids of the things that a hit is about."""
    if hit.kind in ("decision", "reason", "option", "lesson"):
        things = next((one.things for one in project.decisions if one.id == hit.id), ())
    elif hit.kind in ("product", "finish"):
        things = tuple(thing.id for thing in project.things if hit.id in (thing.product, thing.finish))
    elif hit.kind == "finding":
        things = tuple(hit.id.split(":", 2)[-1].split("+"))
    elif hit.kind == "answer":
        finding = next((one.finding for one in project.answers if one.id == hit.id), "")
        things = tuple(finding.split(":", 2)[-1].split("+"))
    else:
        things = (hit.id,)
    return tuple(id for id in things if id in project.things_by_id)


def _drawn(project: Project, space: str, stressed: tuple[str, ...]) -> str:
    if not project.spaces:
        raise NotFound(f"{project.id} has no rooms to draw")
    scene = plan_scene(project, space or None, marks=False)
    items = tuple(_in_small(item, stressed) for item in scene.items if _shows_in_small(item, stressed))
    svg, _ = svg_and_names(replace(scene, items=items, key=(), notes=()), _WIDTH_PX)
    return svg


def _shows_in_small(item: Item, stressed: tuple[str, ...]) -> bool:
    if isinstance(item, Dimension | Label | Numbered):
        return False
    return item.role not in _LEFT_OUT or (item.subject in stressed and item.role != "symbol")


def _in_small(item: Item, stressed: tuple[str, ...]) -> Item:
    if item.subject not in stressed or not isinstance(item, Polygon | Line | Circle):
        return item
    item = replace(item, weight="cut")
    return replace(item, finish=TONE) if isinstance(item, Polygon) and item.role != "symbol" else item


def _own_ids(svg: str) -> str:
    number = next(_COUNT)
    return re.sub(r'(?<=id=")(plan-[\w-]+)(?=-(?:title|desc)")', rf"\1-{number}", svg)
