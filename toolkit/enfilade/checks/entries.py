"""Ways into the kitchen and doors between other rooms: how wide they open."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final

from enfilade.checks.registry import check
from enfilade.checks.shown import both
from enfilade.checks.view import View
from enfilade.findings import Finding, Mark
from enfilade.geometry.outlines import walls
from enfilade.lengths import TOLERANCE_MM
from enfilade.project.doorways import LEAF_LOSS_MM, Doorway
from enfilade.project.spaces import Space
from enfilade.quantities import Quantity
from enfilade.standards.row import Row
from enfilade.standards.yardsticks import Yardstick

__all__ = ["passage_depth", "passages"]


def passages(view: View) -> list[Doorway]:
    """Return the recorded openings of a space that people walk through."""
    return [door for door in view.doorways() if door.passage and door.opening is not None]


_HALF: Final = 0.5
"""What a sliding door leaves open at least: one of two leaves slides before the other (our own choice)."""


def _assumed(door: Doorway) -> tuple[str, ...]:
    opening = door.opening
    if opening is None:
        return ()
    unsaid = opening.clear_width_mm is None and opening.kind != "cased opening" and opening.swing != "none"
    found = (f"{door.id}.clear_width_mm",) if unsaid else ()
    return (*found, f"{door.id}.width_mm") if opening.basis == "assumed" else found


def _working(door: Doorway) -> str:
    opening = door.opening
    if opening is None:
        return ""
    clear = door.clear_width_mm
    if opening.clear_width_mm is not None:
        return f"recorded clear width: {both(clear)}"
    if clear < opening.width_mm:
        lost = f"less {both(LEAF_LOSS_MM)} for the open leaf and the stop"
        return f"leaf of {both(opening.width_mm)} {lost}: {both(clear)}"
    return f"recorded width of the opening: {both(clear)}"


def _width(row: Row, door: Doorway, view: View, part: str = "", more: Iterable[str] = ()) -> Finding:
    segment, clear, said = door.segment, door.clear_width_mm, _working(door)
    if door.opening is not None and door.opening.kind == "sliding door" and door.opening.clear_width_mm is None:
        half = clear * _HALF
        surely, perhaps = (row.requirement.met_by(Quantity(width, "mm")) for width in (half, clear))
        said = f"recorded width of the opening: {both(clear)}; a leaf may keep half of it, {both(half)}, closed"
        if surely != perhaps:
            return row.not_assessed(
                space=view.space.id,
                subjects=(door.id,),
                part=part,
                because="missing fact",
                needs=(f"{door.id}.clear_width_mm",),
                working=(said, *more),
            )
        clear = half if surely else clear
    return row.finding(
        space=view.space.id,
        subjects=(door.id,),
        part=part,
        measured=Quantity(clear, "mm"),
        working=(said, *more),
        assumed=_assumed(door),
        marks=(Mark("measure", (segment.a, segment.b), both(clear)),),
    )


@check(reads={"openings"}, uses={"kitchen"})
def ways_in(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Compare the clear width of each way into the kitchen, and its depth where it counts as deep.

    Doors, sliding and pocket doors and cased openings are judged; an open side is as wide as it is, and nobody
    enters through a closet. Of a sliding door without a recorded clear width half is sure to be free, and all of
    it at most.
    """
    uses = {space.id: space.use for space in view.spaces}
    closets = [door for door in passages(view) if uses.get(door.beyond or "") == "closet"]
    doors = [door for door in passages(view) if door not in closets]
    general = [rules.row(rule) for rule in ("K1", "K1a") if rules.has(rule)]
    if not doors:
        open_sides = any(door.opening is None for door in view.doorways())
        deep = [rules.row("K1a", "deep passage")] if rules.has("K1a", "deep passage") else []
        for row in (*general, *deep):
            yield row.not_assessed(
                space=view.space.id,
                subjects=(view.space.id,),
                because="does not apply" if open_sides else "missing fact",
                needs=() if open_sides else ("openings",),
                working=("The kitchen is entered through an open side." if open_sides else "No way in is recorded.",),
            )
    for door in doors:
        for row in general:
            yield _width(row, door, view)
        if rules.has("K1a", "deep passage"):
            yield _deep(rules, "K1a", door, view)
    for door in closets:
        line = "It leads into a closet: nobody enters the kitchen through it."
        for row in general:
            yield row.not_assessed(space=view.space.id, subjects=(door.id,), because="does not apply", working=(line,))


@check(reads={"openings"})
def doors_elsewhere(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Compare the clear width of doors between rooms of which none is a kitchen; those have their own guideline."""
    if not rules.has("A4042"):
        return
    uses = {space.id: space.use for space in view.spaces}
    for door in passages(view):
        if "kitchen" not in (view.space.use, uses.get(door.beyond or "")):
            yield _width(rules.row("A4042"), door, view)
            if rules.has("A4042", "deep passage"):
                yield _deep(rules, "A4042", door, view)


def _deep(rules: Yardstick, rule: str, door: Doorway, view: View) -> Finding:
    row = rules.row(rule, "deep passage")
    limit = rules.row(rule, "passage depth").value_mm if rules.has(rule, "passage depth") else 0.0
    depth = passage_depth(door, view.spaces)
    if depth is None:
        return row.not_assessed(
            space=view.space.id, subjects=(door.id,), because="missing fact", needs=(f"{door.id}.depth_mm",)
        )
    line = f"depth of the passage: {both(depth)}; deep when more than {both(limit)}"
    if depth <= limit + TOLERANCE_MM:
        return row.not_assessed(space=view.space.id, subjects=(door.id,), because="does not apply", working=(line,))
    return _width(row, door, view, more=(line,))


def passage_depth(door: Doorway, spaces: Iterable[Space]) -> float | None:
    """Return the depth of a passage [mm]: as recorded, or between two rooms' walls; None when unknown."""
    opening = door.opening
    if opening is None:
        return None
    if opening.depth_mm is not None:
        return opening.depth_mm
    other = opening.beyond if door.wall == opening.wall else opening.wall
    for space in spaces:
        if space.id == door.beyond:
            for wall, line in zip(space.walls, walls(space.outline), strict=True):
                if wall.id == other:
                    return abs(line.place(door.segment.midpoint)[1])
    return None
