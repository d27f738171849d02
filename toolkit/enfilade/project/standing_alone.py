"""A told copy made to stand alone: what refers to records that were left out of it goes too."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, Final

from enfilade.project.project import Project
from enfilade.project.speaking import SpokenLine

__all__ = ["standing_alone"]

_SOMEONE: Final = "someone"
"""Stands for who accepted a finding, where that may not be told: an accepted finding is one that somebody accepted."""


def standing_alone(told: Project) -> Project:
    """Return a copy for an audience as a record that can be read back.

    Args:
        told: What `for_audience` made.
    Raises:
        BadRecord: Its records do not fit together even so.
    """
    decisions = {decision.id for decision in told.decisions}
    photographs = {photograph.id for photograph in told.photographs}

    def line(said: SpokenLine) -> SpokenLine:
        known = {"decisions": _in(said.decisions, decisions), "photographs": _in(said.photographs, photographs)}
        return said.model_copy(update=known)

    def lines(record: Any, *fields: str) -> Any:
        return record.model_copy(update={field: tuple(map(line, getattr(record, field))) for field in fields})

    speaking = told.show.speaking
    parts = tuple(lines(part, "recap", "lead_in") for part in speaking.parts)
    alone = told.model_copy(
        update={
            "answers": tuple(
                one.model_copy(update={"by": _SOMEONE}) if one.kind == "accepted" and not one.by.strip() else one
                for one in told.answers
            ),
            "photographs": tuple(
                one.model_copy(update={"decisions": _in(one.decisions, decisions)}) for one in told.photographs
            ),
            "script": tuple(lines(stop, "lines") for stop in told.script),
            "show": told.show.model_copy(update={"speaking": speaking.model_copy(update={"parts": parts})}),
        }
    )
    return alone.verified()


def _in(ids: Iterable[str], known: set[str]) -> tuple[str, ...]:
    return tuple(id for id in ids if id in known)
