"""What all records share: frozen, no unknown keys, ids, lengths, money, and who may be told a field."""

from __future__ import annotations

from decimal import Decimal
from typing import Annotated, Any, ClassVar, Final, Literal

from pydantic import AfterValidator, BaseModel, BeforeValidator, ConfigDict, Field, PlainSerializer, StringConstraints
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
    "Fact",
    "Height",
    "Id",
    "LongText",
    "Mm",
    "Money",
    "Point",
    "PositiveMm",
    "Record",
    "State",
    "Text",
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
        frozen=True, extra="forbid", allow_inf_nan=False, validate_default=False, use_attribute_docstrings=True
    )


def told(audiences: tuple[Audience, ...] = (), *, description: str = "", **more: Any) -> Any:
    """Return a pydantic field that declares its audiences (default: the studio only).

    Args:
        audiences: Who may be told it beside the studio.
        description: What it is, as the form and the schema say it.
        more: Passed on to pydantic's `Field`.
    """
    return Field(description=description or None, json_schema_extra={"audiences": [*audiences, "studio"]}, **more)


def _length(value: Any) -> Any:
    if isinstance(value, bool) or not isinstance(value, str | int | float):
        return value
    try:
        return parse_length(value, bare="mm")
    except EnfiladeError as error:
        raise PydanticCustomError(
            "length", "{what}; expected {expected}", {"what": error.what, "expected": error.expected}
        ) from error


def _plain(value: str) -> str:
    # NUL and lone surrogates exist in no text that a person typed, and no document can carry them.
    if "\x00" in value or any("\ud800" <= sign <= "\udfff" for sign in value):
        raise PydanticCustomError("text", "text holds a NUL or half a surrogate pair; expected plain text")
    return value


Mm = Annotated[float, BeforeValidator(_length)]
"""A length or coordinate [mm]; typed forms such as `10' 11 1/4"` are read too."""
PositiveMm = Annotated[Mm, Field(gt=0)]
Height = Annotated[Mm, Field(ge=0)]
"""A height above the finished floor [mm]."""
Point = tuple[Mm, Mm]

Id = Annotated[str, StringConstraints(pattern=r"^[a-z0-9][a-z0-9-]{0,63}$")]
Text = Annotated[str, StringConstraints(max_length=400), AfterValidator(_plain)]
LongText = Annotated[str, StringConstraints(max_length=200_000), AfterValidator(_plain)]
Money = Annotated[
    Decimal,
    Field(ge=0, max_digits=14, decimal_places=2),
    PlainSerializer(lambda value: str(value), return_type=str, when_used="json"),
]
"""An amount in the currency that the project shows, written as text so that cents are never rounded."""

Fact = Literal["none"]
"""An optional fact is unknown when absent, and `none` when it is known that there is nothing."""
