"""Photographs, and scanned plans that lie under the house."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from enfilade.project.fields import CLIENT, Day, Id, Mm, Number, Record, Text, told

__all__ = ["Photograph", "Scan"]


class Scan(Record):
    """How a scanned plan lies under the house; the studio's own, and shown to nobody else."""

    mm_per_px: Annotated[Number, Field(gt=0, le=10_000)] | None = told(
        default=None, description="side of a pixel in the house; absent: not set to scale yet"
    )
    x_mm: Mm = told(default=0.0, description="where its lower left corner lies")
    y_mm: Mm = told(default=0.0, description="where its lower left corner lies")
    turn_deg: Annotated[Number, Field(ge=-360, le=360)] = told(
        default=0.0, description="its turn about that corner, counter-clockwise"
    )


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
    scan: Scan | None = told(default=None, description="how it lies under the house, when it is a scanned plan")
