"""The script: what is said at each stop, what it shows, and how it is filmed."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Annotated, Any, Final, Literal

from pydantic import BeforeValidator, Field, model_validator
from pydantic_core import PydanticCustomError

from enfilade.project.fields import (
    ALL,
    AUDIENCES,
    CLIENT,
    STUDENT,
    Audience,
    FindingId,
    Height,
    Id,
    LongText,
    Mm,
    Number,
    Record,
    Text,
    told,
)

__all__ = ["FIELD", "MOST_LEFT_OUT", "Drafted", "Eye", "Filming", "Part", "Shot", "Speaking", "SpokenLine", "Stop"]

ShotSize = Literal["extreme wide", "wide", "medium wide", "medium", "medium close-up", "close-up", "extreme close-up"]
Move = Literal["still", "pan", "tilt", "track", "pedestal", "zoom"]
MOST_LEFT_OUT: Final = 1000
"""So many sentences that were taken out are remembered for one stop (own choice)."""
FIELD: Final = re.compile(r"\{([^{}]*)\}")
"""A field of a line, which is bound to the record; its group is what stands between the braces."""
Picture = Literal["16:9", "3:2", "4:3", "1:1", "9:16"]


class Eye(Record):
    """Where a camera, or a person who looks, stands."""

    x_mm: Mm = told(ALL)
    y_mm: Mm = told(ALL)
    height_mm: Height = told(ALL, description="of the lens or the eye above the floor")


class Shot(Record):
    """How a line is filmed. What is left open is found by calculation."""

    size: ShotSize | None = told(ALL, default=None, description="how much of the subject fills the picture")
    subjects: tuple[Id, ...] = told(
        ALL, default=(), max_length=50, description="things, openings or walls; none: what the line shows, or the room"
    )
    move: Move = told(ALL, default="still")
    focal_mm: Annotated[Number, Field(ge=4, le=1200)] | None = told(ALL, default=None, description="of the lens")
    eye: Eye | None = told(ALL, default=None, description="where the camera stands; absent: it is found")
    note: LongText = told(STUDENT, default="", description="for whoever films")


class Drafted(Record):
    """What the draft put here; while the text is still this, a redraft may put another sentence."""

    about: Text = told(description="what the draft told here, so that a redraft finds the place again")
    text: LongText = told()


class SpokenLine(Record):
    """One thing that is said, what it shows meanwhile, and how that is filmed."""

    id: Id
    text: LongText = told(ALL, description="`{width of island}` and the like are bound to the record")
    things: tuple[Id, ...] = told(ALL, default=(), max_length=200, description="shown while it is said")
    decisions: tuple[Id, ...] = told(ALL, default=(), max_length=200, description="told by it")
    findings: tuple[FindingId, ...] = told(STUDENT, default=(), max_length=200, description="told by it")
    photographs: tuple[Id, ...] = told(CLIENT, default=(), max_length=200, description="shown while it is said")
    shot: Shot | None = told(ALL, default=None)
    pause_s: Annotated[Number, Field(ge=0, le=600)] = told(ALL, default=0.0, description="silence after it")
    hear: tuple[Audience, ...] = told(default=AUDIENCES, description="who may hear it")
    drafted: Drafted | None = told(default=None)

    @property
    def edited(self) -> bool:
        """Tell whether a person wrote it, or changed what was drafted."""
        return self.drafted is None or self.drafted.text != self.text


def _lines(value: Any) -> Any:
    # A text alone is a line that says it: hand-written files stay readable.
    if not isinstance(value, Sequence) or isinstance(value, str | bytes):
        return value
    ids = (item.get("id") if isinstance(item, dict) else getattr(item, "id", None) for item in value)
    taken = {id for id in ids if isinstance(id, str)}  # What is none is refused by the line itself.
    free = (f"line-{n}" for n in range(1, 10**6) if f"line-{n}" not in taken)
    return tuple({"id": next(free), "text": item} if isinstance(item, str) else item for item in value)


Lines = Annotated[tuple[SpokenLine, ...], BeforeValidator(_lines)]


class Stop(Record):
    """What is said in one room."""

    id: Id
    space: Id = told(ALL)
    part: Id | None = told(ALL, default=None, description="of the telling; none: the part of the stop before it")
    lines: Lines = told(ALL, default=(), max_length=1000)
    left_out: tuple[Text, ...] = told(
        default=(),
        max_length=MOST_LEFT_OUT,
        description="what the draft told and a person took out; a redraft leaves it out",
    )

    @model_validator(mode="after")
    def _one_id_a_line(self) -> Stop:
        _once(self.lines)
        return self


class Part(Record):
    """One of several parts in which a house is told, with what joins it to the others."""

    id: Id
    title: Text = told(ALL, default="")
    recap: Lines = told(ALL, default=(), max_length=100, description="said first: what the part before told")
    lead_in: Lines = told(ALL, default=(), max_length=100, description="said last: what the next part tells")

    @model_validator(mode="after")
    def _one_id_a_line(self) -> Part:
        _once((*self.recap, *self.lead_in))
        return self


def _once(lines: Sequence[SpokenLine]) -> None:
    ids = [line.id for line in lines]
    if len(ids) != len(set(ids)):
        twice = next(id for id in ids if ids.count(id) > 1)
        raise PydanticCustomError("lines", "line id {id} stands twice; expected one id a line", {"id": repr(twice)})


class Speaking(Record):
    """How the house is told aloud."""

    # Defaults are own choices: the rate is `own-default` of `trade/speech_rates.toml`; one walks a metre a second, a
    # little slower than on a street, since one looks about.

    rate_wpm: Annotated[Number, Field(ge=60, le=300)] = told(ALL, default=150.0, description="words a minute")
    target_s: Annotated[Number, Field(gt=0, le=36_000)] | None = told(
        ALL, default=None, description="how long the whole should take"
    )
    walk_mm_s: Annotated[Number, Field(ge=200, le=3000)] = told(
        ALL, default=1000.0, description="how fast one walks from room to room, millimetres a second"
    )
    first: Id | None = told(ALL, default=None, description="room in which the telling begins; none: at the way in")
    last: Id | None = told(ALL, default=None, description="room that is saved for last")
    parts: tuple[Part, ...] = told(ALL, default=(), max_length=50)


class Filming(Record):
    """What it is filmed with."""

    # Defaults: a frame of 36 by 24 mm, as on 35 mm film, with usual lenses for it (common practice, no source). The
    # shape of the picture, and the height of the lens a little below a standing eye, are own choices.

    sensor_width_mm: Annotated[Number, Field(ge=1, le=300)] = told(ALL, default=36.0)
    sensor_height_mm: Annotated[Number, Field(ge=1, le=300)] = told(ALL, default=24.0)
    picture: Picture = told(ALL, default="16:9", description="width to height of the picture")
    lenses_mm: tuple[Annotated[Number, Field(ge=4, le=1200)], ...] = told(
        ALL, default=(16.0, 24.0, 35.0, 50.0, 85.0), max_length=50, description="focal lengths at hand"
    )
    camera_height_mm: Height = told(ALL, default=1350.0, description="of the lens above the floor where none is given")
