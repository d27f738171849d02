"""What every form of the walkthrough is written from."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from functools import cached_property

from enfilade.export.look import Look
from enfilade.export.raster import Rasters
from enfilade.walkthrough.film import Film, film
from enfilade.walkthrough.pages import Walkthrough
from enfilade.walkthrough.telling import Telling

__all__ = ["Document"]

Progress = Callable[[str], None]


@dataclass(frozen=True)
class Document:
    """One telling of a house, for one audience.

    Attributes:
        telling: The record as far as this audience may be told, with its findings.
        pages: The same, in words and drawings.
        look: The studio's look.
        progress: Called with a few words before what takes a while.
    """

    telling: Telling
    pages: Walkthrough
    look: Look
    progress: Progress = field(default=lambda words: None, repr=False)

    @cached_property
    def film(self) -> Film:
        """Return the planned shots; they are worked out when the first form asks for them."""
        self.progress("planning the shots")
        return film(self.telling, self.progress)

    @cached_property
    def rasters(self) -> Rasters:
        """Return the drawings as pictures of points, so that every form shows the same ones."""
        return Rasters(self.look)
