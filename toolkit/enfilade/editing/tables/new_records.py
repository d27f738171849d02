"""What a new record of a schedule needs beside what a person says of it."""

from __future__ import annotations

from typing import Any, Final

from enfilade.editing.forms.field_shape import field_shapes, tag_word
from enfilade.editing.things.default_sizes import default_opening, default_size
from enfilade.geometry.outlines import polygon_of
from enfilade.project.fields import Record
from enfilade.project.project import Project
from enfilade.project.spaces import Opening
from enfilade.project.thing import Thing

__all__ = ["filled_in"]

_SIZES: Final = ("width_mm", "depth_mm", "bottom_mm", "top_mm")

Values = dict[tuple[str, ...], Any]


def filled_in(
    project: Project, kind: type[Record], values: Values, height_mm: float | None = None
) -> frozenset[tuple[str, ...]]:
    """Add to `values` what can be assumed of a new record, and return the fields that are still missing.

    A thing gets the generic sizes of its kind and stands in the middle of its room until it is moved on the plan;
    an opening gets the generic sizes of its kind. What has them is marked as assumed.

    Args:
        project: The house.
        kind: Class of the record.
        values: What is said of it, by the names that lead to each field; more is added.
        height_mm: From the bottom of a thing to its top, where that is said in place of its top.
    """
    if issubclass(kind, Thing):
        _fill_in_thing(project, kind, values, height_mm)
    elif issubclass(kind, Opening) and ("kind",) in values:
        size = default_opening(values[("kind",)], project.show.units)
        if _assume(values, width_mm=size.width_mm, height_mm=size.height_mm, sill_mm=size.sill_mm):
            values.setdefault(("basis",), "assumed")  # an opening has one basis for all its sizes
    named = frozenset(path[0] for path in values)
    must = (name for name, shape in field_shapes(kind).items() if shape.required and shape.kind != "tag")
    return frozenset((name,) for name in must if name not in (*named, "id"))


def _fill_in_thing(project: Project, kind: type[Thing], values: Values, height_mm: float | None) -> None:
    what = values.get(("what",), "")
    size = default_size(tag_word(kind)[1], project.show.units, what=what if isinstance(what, str) else "")
    bottom = values.get(("bottom_mm",), size.bottom_mm)
    if height_mm is not None:
        values.setdefault(("top_mm",), bottom + height_mm)
    assumed = _assume(values, width_mm=size.width_mm, depth_mm=size.depth_mm, bottom_mm=size.bottom_mm,
                      top_mm=bottom + size.top_mm - size.bottom_mm)  # fmt: skip
    if len(assumed) == len(_SIZES):
        values.setdefault(("basis",), "assumed")
    elif assumed:
        values[("bases",)] = dict.fromkeys(assumed, "assumed")
    room = next((one for one in project.spaces if one.id == values.get(("space",))), None)
    if room is not None:
        middle = polygon_of(room.outline).representative_point()
        values[("place",)] = {"how": "free", "x_mm": round(middle.x, 3), "y_mm": round(middle.y, 3)}


def _assume(values: Values, **sizes: float) -> list[str]:
    """Add the sizes that nothing is said of, and return their names."""
    assumed = [name for name in sizes if (name,) not in values]
    for name in assumed:
        values[(name,)] = sizes[name]
    return assumed
