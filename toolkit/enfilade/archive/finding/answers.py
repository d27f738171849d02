"""What was found."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import TYPE_CHECKING, Any

from enfilade.checks.sentences import VERDICTS

if TYPE_CHECKING:
    from enfilade.archive.store import Store

__all__ = ["Answers", "Hit", "state_of", "state_words"]


def state_words(state: str) -> str:
    """Return how people read a state: a verdict as the checks tell it, `holds` and not `met`."""
    return VERDICTS.get(state, state).lower()


def state_of(typed: str) -> str:
    """Return the state that is meant by its words; the old word `met` is one too."""
    known = {words.lower(): verdict for verdict, words in VERDICTS.items()}
    return known.get(typed.strip().lower(), typed)


@dataclass(frozen=True)
class Hit:
    """One thing that was found.

    Attributes:
        project, name: Id and name of its project.
        version: The newest version in which it stands.
        space: Id of its room; empty for the whole house. `room` is its name.
        kind: need, decision, reason, option, product, finish, finding, answer, lesson; of what was found by number, the
            kind of thing, or `room`.
        id: Of the record, or of the finding.
        text: What is written there, as it was written; of what was found by number, its figures.
        score: How well it fits, above 0; it grows with fit.
        state: Verdict, status or kind of answer; or empty.
        rule: Of a finding or an answer; or empty.
        until: The last version in which it stands; None: it stands in the newest.
    """

    project: str
    name: str
    version: int
    space: str
    kind: str
    id: str
    text: str
    score: float
    state: str = ""
    rule: str = ""
    until: int | None = None
    _store: Store | None = field(default=None, repr=False, compare=False)

    @property
    def room(self) -> str:
        """Return the room's name; empty for the whole house. The record is read when it is asked for."""
        if self._store is None or not self.space:
            return self.space
        from enfilade.archive.finding.rooms import rooms_of

        return rooms_of(self._store, self.project, self.version).get(self.space, self.space)

    def as_json(self) -> dict[str, Any]:
        """Return plain data: project, version, space, kind, id, text and score."""
        names = ("project", "version", "space", "kind", "id", "text", "score")
        return {name: getattr(self, name) for name in names}


@dataclass(frozen=True)
class Answers:
    """What was found, the best first.

    Attributes:
        hits: At most as many as were asked for.
        total: How many there are.
        about: `total` is an estimate: too many were found to look at each; the newest were ranked.
        read_as: Sentences on words that were corrected, left out, or not looked for.
        understood: How figures were read; empty where there were none.
        facets: By `kind`, `use`, `project` and `state`, each value with how many were found, the most first; counted
            among those that were looked at. What is about rooms of several uses counts for each of them.
    """

    hits: tuple[Hit, ...]
    total: int
    about: bool = False
    read_as: tuple[str, ...] = ()
    understood: str = ""
    facets: Mapping[str, tuple[tuple[str, int], ...]] = field(default_factory=lambda: MappingProxyType({}))
    asked: str = ""
    _store: Store | None = field(default=None, repr=False, compare=False)

    def _repr_html_(self) -> str:
        from enfilade.archive.finding.page import answers_html

        return answers_html(self)

    def page(self) -> str:
        """Return a page for a browser: each answer with the plan of its room in small; it loads nothing."""
        from enfilade.archive.finding.page import answers_page

        return answers_page(self)

    def as_text(self, width: int = 100) -> str:
        """Return the answers for a terminal of so many letters."""
        from enfilade.archive.finding.told import as_text

        return as_text(self, width)
