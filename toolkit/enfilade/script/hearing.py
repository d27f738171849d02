"""Lines that an audience may not be told, since a figure in them is not for it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from enfilade.project.fields import Audience
from enfilade.project.project import Project
from enfilade.project.speaking import SpokenLine
from enfilade.script.figures import Bound, Figures
from enfilade.script.resolve import fields_in

__all__ = ["without_untellable"]


def without_untellable(told: Project, told_figures: Figures, whole_figures: Figures) -> Project:
    """Return what may be told without the lines that hold a figure which this audience may not know.

    Such a field stands for something on the whole record and for nothing on what is told: a price for the public, a
    decision that a student may not hear of. The whole line goes, in stops and in what joins the parts: half of it
    would say that something was left out. A field that stands for nothing on the whole record either is a slip of
    the studio's; its line stays, with the field as it was typed.

    Args:
        told: What the audience may be told; its names are taken out already, in fields as in ids.
        told_figures: The figures of it.
        whole_figures: The figures of the whole record.
    """
    audience = told._told_to
    if audience is None:
        return told
    whole = whole_figures.project

    def kept(lines: Sequence[SpokenLine], before: Sequence[SpokenLine]) -> tuple[SpokenLine, ...]:
        return tuple(_tellable(lines, _heard(before, audience), told_figures, whole_figures))

    script = tuple(
        stop.model_copy(update={"lines": kept(stop.lines, before.lines)})
        for stop, before in zip(told.script, whole.script, strict=True)
    )
    speaking = told.show.speaking
    parts = tuple(
        part.model_copy(update={"recap": kept(part.recap, before.recap), "lead_in": kept(part.lead_in, before.lead_in)})
        for part, before in zip(speaking.parts, whole.show.speaking.parts, strict=True)
    )
    if script == told.script and parts == speaking.parts:
        return told
    show = told.show.model_copy(update={"speaking": speaking.model_copy(update={"parts": parts})})
    return told.model_copy(update={"script": script, "show": show})


def _heard(lines: Sequence[SpokenLine], audience: Audience) -> list[SpokenLine]:
    return [line for line in lines if audience in line.hear]


def _tellable(
    lines: Sequence[SpokenLine], before: Sequence[SpokenLine], told: Figures, whole: Figures
) -> Iterable[SpokenLine]:
    # What is told is what the audience may hear of the whole, in the same order.
    for line, original in zip(lines, before, strict=True):
        if "{" not in line.text or not _held_back(line.text, original.text, told, whole):
            yield line


def _held_back(text: str, original: str, told: Figures, whole: Figures) -> bool:
    """Tell whether any field stands for something on the whole record and for nothing on what is told."""
    fields, originals = fields_in(text), fields_in(original)
    if len(fields) != len(originals):  # a name was replaced by words that hold a brace
        return True
    return any(
        isinstance(whole.bound(typed), Bound) and not isinstance(told.bound(field), Bound)
        for field, typed in zip(fields, originals, strict=True)
    )
