"""What things are made of in three dimensions: tables of a top and legs, chairs of a seat and a back."""

from __future__ import annotations

from dataclasses import dataclass

from enfilade.geometry.solid import Prism
from enfilade.project.standing import Stand

__all__ = ["Piece", "pieces"]


@dataclass(frozen=True)
class Piece:
    """One upright body of a thing.

    Attributes:
        prism: Its shape.
        role: What it is of the thing: `body`, `top`, `leg`, `seat`, `back` ...
        blocks: It hides what is behind it; thin legs do not.
    """

    prism: Prism
    role: str = "body"
    blocks: bool = True


def pieces(stand: Stand) -> tuple[Piece, ...]:
    """Return the upright bodies that a thing is made of."""
    thing = stand.thing
    return (Piece(Prism(thing.id, stand.box.corners, thing.bottom_mm, thing.top_mm)),)
