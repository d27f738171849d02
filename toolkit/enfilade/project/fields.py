"""What all records share: frozen, no unknown keys, ids, lengths, money, and who may be told a field."""

from __future__ import annotations

import datetime as dt
import re
from dataclasses import dataclass
from decimal import Decimal
from typing import Annotated, Any, ClassVar, Final, Literal

from pydantic import (
    AfterValidator,
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    PlainSerializer,
    Strict,
    StringConstraints,
    WithJsonSchema,
)
from pydantic_core import PydanticCustomError

from enfilade.errors import EnfiladeError
from enfilade.lengths import parse_length

__all__ = [
    "ALL",
    "AUDIENCES",
    "CLIENT",
    "STUDENT",
    "Audience",
    "Basis",
    "Day",
    "Fact",
    "FindingId",
    "Height",
    "Holds",
    "Id",
    "LongText",
    "Mm",
    "Money",
    "Number",
    "Point",
    "PositiveMm",
    "Record",
    "State",
    "Text",
    "Whole",
    "told",
]

Audience = Literal["client", "public", "student", "studio"]
AUDIENCES: Final[tuple[Audience, ...]] = ("client", "public", "student", "studio")

# Who may be told a field, beside the studio, which may be told everything.
ALL: Final[tuple[Audience, ...]] = ("client", "public", "student")
CLIENT: Final[tuple[Audience, ...]] = ("client",)
STUDENT: Final[tuple[Audience, ...]] = ("client", "student")

State = Literal["kept", "removed", "new"]
Basis = Literal["measured", "data sheet", "assumed"]


class Record(BaseModel):
    """A piece of the declared house: plain frozen data that refuses keys it does not know."""

    model_config: ClassVar[ConfigDict] = ConfigDict(
        frozen=True, extra="forbid", allow_inf_nan=False, validate_default=False
    )


def told(audiences: tuple[Audience, ...] = (), *, description: str = "", **more: Any) -> Any:
    """Return a pydantic field that declares its audiences (default: the studio only).

    Args:
        audiences: Who may be told it beside the studio.
        description: What it is, as the form and the schema say it.
        more: Passed on to pydantic's `Field`.
    """
    return Field(description=description or None, json_schema_extra={"audiences": [*audiences, "studio"]}, **more)


@dataclass(frozen=True, slots=True)
class Holds:
    """What stands in a text field: sentences (`text`), or ids. Names are taken out of both, each in its way."""

    what: Literal["text", "id"]


def _length(value: Any) -> Any:
    if not isinstance(value, str | int | float):
        return value
    try:
        return parse_length(value, bare="mm")
    except EnfiladeError as error:
        raise PydanticCustomError(
            "length", "{what}; expected {expected}", {"what": error.what, "expected": error.expected}
        ) from error


# Control signs (but tab and line ends), half surrogate pairs and the two non-characters: no person types
# them, and no document in XML can carry them (Extensible Markup Language 1.0, W3C, fifth edition, 2.2 Char).
_ODD_SIGN: Final = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\ud800-\udfff\ufffe\uffff]")


def _plain(value: str) -> str:
    if odd := _ODD_SIGN.search(value):
        raise PydanticCustomError(
            "text",
            "text holds the sign U+{code} at place {place}; expected signs that a document can carry",
            {"code": f"{ord(odd.group()):04X}", "place": odd.start() + 1},
        )
    return value


def _day(value: Any) -> Any:
    # A bare number would be read as seconds since 1970.
    if isinstance(value, dt.date) or (isinstance(value, str) and re.fullmatch(r"\d{4}-\d{2}-\d{2}", value)):
        return value
    raise PydanticCustomError("day", "is not a day; expected a date such as 2025-03-31")


Whole = Annotated[int, Strict()]
"""A whole number, and not a text or `true` that could be read as one."""
Number = Annotated[float, Strict()]
"""A number, and not a text or `true` that could be read as one."""
Day = Annotated[dt.date, BeforeValidator(_day)]
"""A calendar day, written as 2025-03-31."""


Mm = Annotated[
    float,
    BeforeValidator(_length),
    WithJsonSchema({"anyOf": [{"type": "number"}, {"type": "string", "examples": ["3.35 m", "131.25 in"]}]}),
]
"""A length or coordinate [mm]; typed forms such as `10' 11 1/4"` are read too."""
PositiveMm = Annotated[Mm, Field(ge=0.01)]
"""A size [mm]; nothing that is built is thinner than a hundredth of a millimetre."""
Height = Annotated[Mm, Field(ge=0)]
"""A height above the finished floor [mm]."""
Point = tuple[Mm, Mm]

Id = Annotated[str, StringConstraints(pattern=r"^[a-z0-9][a-z0-9-]{0,63}$"), Holds("id")]
FindingId = Annotated[str, StringConstraints(min_length=1, max_length=2000), AfterValidator(_plain), Holds("id")]
Text = Annotated[str, StringConstraints(max_length=400), AfterValidator(_plain), Holds("text")]
LongText = Annotated[str, StringConstraints(max_length=200_000), AfterValidator(_plain), Holds("text")]
Money = Annotated[
    Decimal,
    Field(ge=0, max_digits=14, decimal_places=2),
    PlainSerializer(lambda value: str(value), return_type=str, when_used="json"),
]
"""An amount in the currency that the project shows, written as text so that cents are never rounded."""

Fact = Literal["none"]
"""An optional fact is unknown when absent, and `none` when it is known that there is nothing."""
