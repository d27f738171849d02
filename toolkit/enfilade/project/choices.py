"""Products, finishes, decisions, and answers to findings."""

from __future__ import annotations

import datetime as dt
from decimal import Decimal
from typing import Annotated, Literal

from pydantic import Field, model_validator
from pydantic_core import PydanticCustomError

from enfilade.project.fields import (
    ALL,
    AUDIENCES,
    CLIENT,
    STUDENT,
    Audience,
    Day,
    FindingId,
    Id,
    LongText,
    Money,
    Number,
    Record,
    Text,
    Whole,
    told,
)
from enfilade.quantities import Unit

__all__ = ["Answer", "Decision", "Finish", "Option", "Product", "Purchase", "Service"]


class Purchase(Record):
    """What a product or finish costs and when it must be on site."""

    allowance: Money | None = told(CLIENT, default=None, description="set aside for the whole quantity")
    quote: Money | None = told(CLIENT, default=None, description="quoted for the whole quantity")
    ordered_price: Money | None = told(CLIENT, default=None, description="ordered at, for the whole quantity")
    quantity: Annotated[Number, Field(gt=0, le=1_000_000)] | None = told(CLIENT, default=None)
    quantity_unit: Text = told(CLIENT, default="", description="pieces, square metres, rolls ...")
    lead_time_days: Annotated[Whole, Field(ge=0, le=3650)] | None = told(CLIENT, default=None)
    needed_on_site: Day | None = told(CLIENT, default=None)

    @property
    def agreed(self) -> Decimal | None:
        """Return what is ordered, else what was quoted."""
        return self.quote if self.ordered_price is None else self.ordered_price

    @property
    def expected(self) -> Decimal | None:
        """Return what is agreed, else what is set aside."""
        return self.allowance if self.agreed is None else self.agreed

    @property
    def order_by(self) -> dt.date | None:
        """Return the last day to order, None when the lead time or the day is unknown."""
        if self.needed_on_site is None or self.lead_time_days is None:
            return None
        return self.needed_on_site - dt.timedelta(days=self.lead_time_days)


class Service(Record):
    """What is done to a product or finish again and again, so that it lasts."""

    id: Id
    what: Text = told(CLIENT, description="what is done")
    every_months: Annotated[Whole, Field(ge=1, le=600)] = told(CLIENT)
    first_on: Day | None = told(CLIENT, default=None, description="absent: so many months after it was on site")
    by: Text = told(CLIENT, default="", description="who does it: the household, a trade")


class Product(Record):
    """Something that is bought ready-made."""

    id: Id
    name: Text = told(ALL)
    maker: Text = told(CLIENT, default="")
    may_be_credited: bool = told(default=False, description="the maker may be named in public")
    purchase: Purchase = told(CLIENT, default=Purchase())
    care: LongText = told(CLIENT, default="")
    services: tuple[Service, ...] = told(CLIENT, default=(), max_length=50)
    warranty_until: Day | None = told(CLIENT, default=None)
    note: LongText = told(default="", description="the studio's own note")


class Finish(Record):
    """A material or colour of a surface."""

    id: Id
    name: Text = told(ALL)
    material: Text = told(ALL, default="")
    colour: Annotated[str, Field(pattern=r"^#[0-9a-f]{6}$")] | None = told(
        ALL, default=None, description="as #rrggbb, for filled drawings"
    )
    maker: Text = told(CLIENT, default="")
    may_be_credited: bool = told(default=False, description="the maker may be named in public")
    purchase: Purchase = told(CLIENT, default=Purchase())
    care: LongText = told(CLIENT, default="")
    services: tuple[Service, ...] = told(CLIENT, default=(), max_length=50)
    warranty_until: Day | None = told(CLIENT, default=None)
    note: LongText = told(default="", description="the studio's own note")


class Option(Record):
    """One way that was weighed."""

    id: Id
    text: LongText = told(ALL)
    why_not: LongText = told(ALL, default="", description="why it was not taken")
    cost: Money | None = told(CLIENT, default=None)
    products: tuple[Id, ...] = told(CLIENT, default=())
    finishes: tuple[Id, ...] = told(ALL, default=())


class Decision(Record):
    """What was chosen, over what, and why."""

    id: Id
    number: Annotated[Whole, Field(ge=1, le=99_999)] = told(ALL)
    title: Text = told(ALL)
    spaces: tuple[Id, ...] = told(ALL, default=(), description="rooms that it is about; none means the whole house")
    needs: tuple[Id, ...] = told(STUDENT, default=(), description="needs of the brief that it answers")
    options: tuple[Option, ...] = told(ALL, default=(), max_length=50)
    choice: Id | None = told(ALL, default=None, description="the option that was taken")
    reason: LongText = told(ALL, default="", description="why")
    things: tuple[Id, ...] = told(ALL, default=(), max_length=500)
    findings: tuple[FindingId, ...] = told(STUDENT, default=(), description="findings that bear on it", max_length=500)
    status: Literal["undecided", "planned", "built", "changed on site"] = told(ALL, default="undecided")
    changed: LongText = told(ALL, default="", description="what was changed on site, and why")
    by: Text = told(CLIENT, default="", description="who decided, or is to decide")
    on: Day | None = told(CLIENT, default=None, description="when it was decided")
    due: Day | None = told(CLIENT, default=None, description="when it must be decided")
    approved_on: Day | None = told(CLIENT, default=None, description="when the client approved it")
    hindsight: LongText = told(("student",), default="", description="what to do differently next time")
    hear: tuple[Audience, ...] = told(default=AUDIENCES, description="who may hear of it")

    @model_validator(mode="after")
    def _choice_is_an_option(self) -> Decision:
        ids = [option.id for option in self.options]
        if len(ids) != len(set(ids)):
            raise PydanticCustomError("options", "two options share an id; expected one id an option", {})
        if self.choice is not None and self.choice not in ids:
            raise PydanticCustomError(
                "choice", "choice {choice} is not an option; expected one of {ids}",
                {"choice": repr(self.choice), "ids": ", ".join(ids) or "its options"},
            )  # fmt: skip
        if self.status in ("planned", "built", "changed on site") and self.options and self.choice is None:
            raise PydanticCustomError(
                "status", "status is {status} but no option is chosen; expected a choice, or `undecided`",
                {"status": self.status},
            )  # fmt: skip
        return self

    @property
    def chosen(self) -> Option | None:
        """Return the option that was taken."""
        return next((option for option in self.options if option.id == self.choice), None)


class Answer(Record):
    """What the studio and the client say to a finding. It holds until the measured figure worsens."""

    id: Id
    finding: FindingId = told(STUDENT)
    kind: Literal["to mend", "accepted", "not relevant here"] = told(STUDENT)
    reason: LongText = told(STUDENT, default="")
    by: Text = told(CLIENT, default="")
    on: Day | None = told(CLIENT, default=None)
    measured: Number | None = told(STUDENT, default=None, description="the figure that was answered")
    unit: Unit | None = told(STUDENT, default=None)

    @model_validator(mode="after")
    def _gives_its_reason(self) -> Answer:
        if self.kind != "to mend" and not (self.reason.strip() and (self.kind != "accepted" or self.by.strip())):
            raise PydanticCustomError(
                "answer", "answer {kind} lacks a reason or a name; expected both for `accepted`",
                {"kind": repr(self.kind)},
            )  # fmt: skip
        if (self.measured is None) != (self.unit is None):
            raise PydanticCustomError("answer", "a measured figure and its unit go together; expected both or none", {})
        return self
