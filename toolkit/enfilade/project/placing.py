"""Where a thing stands: freely, against a wall, or set in another thing."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import Field, SerializerFunctionWrapHandler, model_serializer

from enfilade.project.fields import ALL, Id, Mm, Number, Record, told

__all__ = ["AgainstWall", "Free", "Place", "SetIn"]

Turn = Annotated[Number, Field(ge=-360, le=360)]


class _Placed(Record):
    how: str

    @model_serializer(mode="wrap")
    def _says_how(self, write: SerializerFunctionWrapHandler) -> dict[str, Any]:
        # Defaults are left out of saved files; the word that tells the places apart must stay.
        return {"how": self.how, **write(self)}


class Free(_Placed):
    """Anywhere on the floor: the centre of its plan, and its turn counter-clockwise.

    At turn 0 the front faces down the plan (towards smaller y).
    """

    how: Literal["free"] = told(ALL, default="free")
    x_mm: Mm = told(ALL)
    y_mm: Mm = told(ALL)
    turn_deg: Turn = told(ALL, default=0.0)


class AgainstWall(_Placed):
    """Back to a named wall, at an offset from one end as seen from inside; it moves with the wall."""

    how: Literal["wall"] = told(ALL, default="wall")
    wall: Id = told(ALL)
    from_end: Literal["left", "right"] = told(ALL, default="left")
    offset_mm: Mm = told(ALL, description="from that end of the wall to the near edge of the thing")
    gap_mm: Mm = told(ALL, default=0.0, description="from the wall to the back of the thing")


class SetIn(_Placed):
    """In or on another thing, such as a sink in a counter: it moves with its host."""

    how: Literal["set in"] = told(ALL, default="set in")
    host: Id = told(ALL)
    offset_mm: Mm = told(ALL, description="from the left end of the host's side, seen facing it, to the near edge")
    setback_mm: Mm = told(ALL, default=0.0, description="from the edge of the host's side to the near edge")
    side: Literal["front", "back", "left", "right"] = told(
        ALL, default="front", description="side of the host that it is used from"
    )


Place = Annotated[Free | AgainstWall | SetIn, Field(discriminator="how")]
