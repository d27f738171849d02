"""Photographs and the lines to speak."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from enfilade.project.fields import CLIENT, STUDENT, Day, Id, LongText, Record, Text, told

__all__ = ["Photograph", "Stop"]


class Photograph(Record):
    """A picture in the project's `photos` folder, named by its content."""

    id: Id
    file: Annotated[str, Field(pattern=r"^[0-9a-f]{64}\.(png|jpg|webp)$")] = told(
        CLIENT, description="SHA-256 of its bytes, with its ending"
    )
    caption: Text = told(CLIENT, default="")
    alternative: Text = told(CLIENT, default="", description="what it shows, for who cannot see it")
    space: Id | None = told(CLIENT, default=None)
    things: tuple[Id, ...] = told(CLIENT, default=(), max_length=200)
    decisions: tuple[Id, ...] = told(CLIENT, default=(), max_length=200)
    taken_on: Day | None = told(default=None)


class Stop(Record):
    """What is said in one room."""

    id: Id
    space: Id = told(STUDENT)
    lines: tuple[LongText, ...] = told(STUDENT, default=(), max_length=1000)
