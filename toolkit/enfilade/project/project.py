"""The whole declared house, and what must hold between its records."""

from __future__ import annotations

from collections import Counter as Tally
from collections.abc import Iterable, Iterator, Mapping
from functools import cached_property
from pathlib import Path
from typing import Any, Final, Literal

from pydantic import PrivateAttr, ValidationError

from enfilade.errors import BadRecord, Fault, NotFound
from enfilade.project.choices import Answer, Decision, Finish, Product
from enfilade.project.faults import faults_of
from enfilade.project.fields import ALL, Audience, Id, Record, Text, told
from enfilade.project.people import Brief, Client, Household, Show
from enfilade.project.showing import Photograph
from enfilade.project.spaces import Opening, Space, Wall
from enfilade.project.speaking import Stop
from enfilade.project.things import AnyThing, Thing

__all__ = ["FORMAT", "Project"]

FORMAT: Final = 1


class Project(Record):
    """A house on its way from measured to finished rooms. Flat lists, keyed by id."""

    format: Literal[1] = told(ALL, default=FORMAT)
    id: Id
    name: Text = told(ALL)
    client: Client = told(("client",), default=Client())
    household: Household = told(ALL, default=Household())
    brief: Brief = told(ALL, default=Brief())
    show: Show = told(ALL, default=Show())
    yardstick: Text = told(ALL, default="us")
    spaces: tuple[Space, ...] = told(ALL, default=(), max_length=5000)
    openings: tuple[Opening, ...] = told(ALL, default=(), max_length=20_000)
    things: tuple[AnyThing, ...] = told(ALL, default=(), max_length=200_000)
    products: tuple[Product, ...] = told(ALL, default=(), max_length=50_000)
    finishes: tuple[Finish, ...] = told(ALL, default=(), max_length=50_000)
    decisions: tuple[Decision, ...] = told(ALL, default=(), max_length=50_000)
    answers: tuple[Answer, ...] = told(ALL, default=(), max_length=50_000)
    photographs: tuple[Photograph, ...] = told(ALL, default=(), max_length=50_000)
    script: tuple[Stop, ...] = told(ALL, default=(), max_length=5000)

    _loaded: tuple[str, str] | None = PrivateAttr(default=None)
    """Folder and fingerprint that it was loaded from; how `save` knows that the disk has moved on."""

    _told_to: Audience | None = PrivateAttr(default=None)
    """The audience for whom facts were left out of this copy; such a copy is never saved."""

    _photos_from: Path | None = PrivateAttr(default=None)
    """Folder that its photographs come from, when that is not the one it was loaded from (the shipped demo house)."""

    def __eq__(self, other: object) -> bool:
        # Where it was loaded from is no part of what it says.
        return isinstance(other, Project) and all(
            getattr(self, name) == getattr(other, name) for name in Project.model_fields
        )

    __hash__ = None  # type: ignore[assignment]

    @property
    def folder(self) -> Path | None:
        """Return the folder in whose `photos` its photographs lie, None when it has none yet."""
        return self._photos_from or (Path(self._loaded[0]) if self._loaded else None)

    def space(self, id: str) -> Space:
        """Return a space by id, or raise NotFound."""
        found: Space = _one(self.spaces, id, "space")
        return found

    def thing(self, id: str) -> Thing:
        """Return a thing by id, or raise NotFound."""
        found = self.things_by_id.get(id)
        if found is None:
            raise NotFound(f"thing {id!r} is not in the project")
        return found

    @cached_property
    def things_by_id(self) -> dict[str, Thing]:
        """Every thing by its id."""
        return {thing.id: thing for thing in self.things}

    @cached_property
    def walls_by_id(self) -> dict[str, tuple[Space, int, Wall]]:
        """Every wall by its id, with its space and its place in the outline."""
        return {wall.id: (space, i, wall) for space in self.spaces for i, wall in enumerate(space.walls)}

    def with_records(self, **lists: Iterable[Any]) -> Project:
        """Return a changed copy in which whole lists are replaced, checked again.

        Args:
            lists: By the name of the list, its records, or plain data for them. Records and lists
                that are handed over unchanged stay the same objects.
        Raises:
            BadRecord: A record of the copy cannot exist, or the project has no such list.
        """
        new = {name: tuple(records) for name, records in lists.items()}
        try:
            checked = Project.model_validate({"id": self.id, "name": self.name, **new})
        except ValidationError as error:
            raise BadRecord("project", faults_of(error, new, Project)) from error
        return self.model_copy(update={name: getattr(checked, name) for name in new}).verified()

    def model_copy(self, *, update: Mapping[str, Any] | None = None, deep: bool = False) -> Project:
        """Return a copy, as pydantic does; what was worked out from the old lists is left behind."""
        changed = super().model_copy(update=update, deep=deep)
        for name in ("things_by_id", "walls_by_id"):
            changed.__dict__.pop(name, None)
        return changed

    def verified(self, file: str = "project") -> Project:
        """Return the project when its records fit together.

        Raises:
            BadRecord: Every clash between records, each with its place.
        """
        from enfilade.project.joints import faults_between

        faults: list[Fault] = list(faults_between(self))
        if faults:
            raise BadRecord(file, faults[:100])
        return self


def _one(records: Iterable[Any], id: str, what: str) -> Any:
    names = []
    for record in records:
        if record.id == id:
            return record
        names.append(record.id)
    raise NotFound(f"{what} {id!r} is not in the project", expected=", ".join(names[:12]) or f"a {what}")


def repeated(ids: Iterable[str]) -> Iterator[str]:
    """Yield each id that stands more than once."""
    return (name for name, count in Tally(ids).items() if count > 1)
