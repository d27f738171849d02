"""The brief, the household, the client, and how the project is shown."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from enfilade.lengths import System
from enfilade.project.fields import ALL, CLIENT, STUDENT, Day, Id, LongText, PositiveMm, Record, Text, Whole, told
from enfilade.project.speaking import Filming, Speaking

__all__ = ["Brief", "Client", "Gathering", "Household", "Need", "Person", "Show", "Studio", "Trade"]


class Need(Record):
    """One numbered need of the brief."""

    id: Id
    number: Annotated[Whole, Field(ge=1, le=9999)] = told(ALL, description="the number it goes by in the brief")
    text: LongText = told(STUDENT, description="what is needed, in the client's words or close to them")
    spaces: tuple[Id, ...] = told(ALL, default=(), description="rooms that it is about; none means the whole house")


class Brief(Record):
    """What was asked for."""

    text: LongText = told(STUDENT, default="", description="the brief in a paragraph")
    needs: tuple[Need, ...] = told(ALL, default=())


class Person(Record):
    """Someone who lives in the house."""

    id: Id
    name: Text = told(CLIENT, default="")
    cooks: bool = told(STUDENT, default=False, description="cooks regularly")
    shoulder_height_mm: PositiveMm | None = told(STUDENT, default=None, description="floor to shoulder, standing")
    uses_wheelchair: bool = told(STUDENT, default=False)


class Gathering(Record):
    """A meal that comes back regularly."""

    people: Annotated[Whole, Field(ge=1, le=1000)] = told(STUDENT, description="how many sit down, household included")
    what: Text = told(STUDENT, default="", description="what it is and how often")


class Household(Record):
    """Who lives in the house, who cooks together, and how it entertains."""

    people: tuple[Person, ...] = told(STUDENT, default=())
    size: Annotated[Whole, Field(ge=1, le=100)] | None = told(
        STUDENT, default=None, description="how many live here, when the people are not listed"
    )
    bedrooms: Annotated[Whole, Field(ge=0, le=100)] | None = told(STUDENT, default=None)
    cooks_together: Annotated[Whole, Field(ge=1, le=20)] | None = told(
        STUDENT, default=None, description="how many cook at the same time"
    )
    gatherings: tuple[Gathering, ...] = told(STUDENT, default=(), description="meals that come back regularly")
    entertains: LongText = told(STUDENT, default="", description="how the house entertains")

    @property
    def count(self) -> int | None:
        """Return how many live here, None when unknown."""
        return self.size or len(self.people) or None

    @property
    def largest_gathering(self) -> int | None:
        """Return the people at the largest regular gathering, None when none is recorded."""
        return max((gathering.people for gathering in self.gatherings), default=None)


class Client(Record):
    """Who the house is for. Nothing of it is told to the public or to students."""

    names: tuple[Text, ...] = told(CLIENT, default=())
    address: Text = told(CLIENT, default="")
    contact: Text = told(default="")
    notes: LongText = told(default="", description="the studio's own notes")


class Studio(Record):
    """Whose work the project is, as a title block names it."""

    name: Text = told(ALL, default="")
    designer: Text = told(STUDENT, default="")


class Trade(Record):
    """A person or firm that built a part of it."""

    id: Id
    trade: Text = told(ALL, default="", description="joiner, plumber, stone mason ...")
    name: Text = told(CLIENT, default="")
    did: LongText = told(CLIENT, default="", description="what they built")
    may_be_credited: bool = told(default=False, description="may be named in public")


class Show(Record):
    """How the project is shown: units, currency, studio, version and date."""

    units: System = told(ALL, default="us", description="`us` for feet and inches, `metric` for millimetres")
    currency: Annotated[Text, Field(max_length=8)] = told(CLIENT, default="")
    version: Text = told(ALL, default="1", description="version that the drawings and documents bear")
    date: Day | None = told(ALL, default=None, description="date that the drawings and documents bear")
    stage: Literal["as found", "proposed", "as built"] = told(ALL, default="proposed")
    studio: Studio = told(ALL, default=Studio())
    trades: tuple[Trade, ...] = told(ALL, default=(), max_length=500, description="who built it")
    speaking: Speaking = told(ALL, default=Speaking())
    filming: Filming = told(ALL, default=Filming())
