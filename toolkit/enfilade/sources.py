"""What a source is: document, body, edition, section, and how well we know it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

__all__ = ["Known", "Source"]

Known = Literal[
    "seen",
    "seen second-hand",
    "seen in part",
    "recalled",
    "derived",
    "common practice",
    "own choice",
]


@dataclass(frozen=True, slots=True)
class Source:
    """Where a value comes from.

    Attributes:
        document: Title, as a person would ask for it.
        body: Who issues it; empty for a fact of the trade.
        edition: Printing or year; empty when not found.
        section: Clause, guideline or table number.
        known: How the value was read.
        label: The short name people read, such as `Kitchen guideline 6`.
    """

    document: str
    body: str
    edition: str
    section: str
    known: Known
    label: str = ""

    def __str__(self) -> str:
        parts = [self.document, self.body, self.edition, self.section]
        return ", ".join(part for part in parts if part) + f" ({self.known})"
