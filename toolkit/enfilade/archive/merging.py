"""A folder brought together with what somebody else kept meanwhile, and kept on top of it."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from enfilade.archive.adding import Kept, ended_early
from enfilade.archive.gathering import Gathered, gathered_files
from enfilade.archive.keeping import keep, memory_of, remember, remembered_base
from enfilade.archive.merging_files import FileClash, Taken, bring, files_met, photographs_of
from enfilade.archive.store import FILE, Store
from enfilade.archive.versions import Version
from enfilade.editing.merging.answered import answered
from enfilade.editing.merging.apart import NewNames, new_names, renamed
from enfilade.editing.merging.changes import changes
from enfilade.editing.merging.merging import Merged as Met
from enfilade.editing.merging.sides import sides_of
from enfilade.editing.merging.three_ways import Place, Side
from enfilade.errors import Conflict, Refused
from enfilade.listing import joined
from enfilade.project.project import Project
from enfilade.project.readable import readable
from enfilade.project.store import save
from enfilade.times import day_here

__all__ = ["ALL_OF_BOTH", "Merged", "Take", "keep_merged", "place_words", "take_of"]

Take = Mapping[str, Side] | Side | None
"""Which side wins where both changed the same: for all, or by place, `things/island/width_mm`."""
ALL_OF_BOTH: Final = "All of both does not fit together"
_EVERYTHING: Final = "everything"
"""The place of a clash of both sides as a whole."""
_TRIES: Final = 8
"""So often another may keep a version between our merging and our keeping."""
_MOST_LINES: Final = 40
_LONGEST: Final = 1500


@dataclass(frozen=True)
class Merged:
    """What became of keeping a project together with what others kept.

    Attributes:
        kept: The version in which both stand.
        told: What came from the others' versions, in sentences; empty where nobody kept another one.
    """

    kept: Kept
    told: tuple[str, ...]


def keep_merged(
    store: Store,
    folder: str | Path,
    *,
    take: Take = None,
    why: str = "",
    who: str = "",
    onto: int | None = None,
    progress: Callable[[str], None] = lambda _: None,
) -> Merged:
    """Keep a project on top of what others kept since, by record and field; see `keeping.keep`.

    The project in the folder becomes both; the state before stays among its earlier states.

    Args:
        store: The archive.
        folder: The project's folder, or its `project.json`.
        take: Which side wins where both changed the same: the folder's own or theirs.
        why, who: As for `keep`.
        onto: The version that the folder was made from; none: the one that it was kept as last.
        progress: Hears what is being done.
    Raises:
        Conflict: Both changed the same, and `take` does not say which to take; nothing was written.
        Refused: `take` names a place that is not asked; nothing was written.
        NotFound, BadRecord, Refused: As for `keep`.
    """
    told: list[str] = []
    for turn in range(_TRIES):
        progress("reading the project")
        memory = memory_of(folder)
        found = gathered_files(folder)
        base = onto if onto is not None else remembered_base(store, found, memory)
        theirs = store.newest(found.project.id)
        if theirs is not None and theirs.number != base:
            progress(f"bringing it together with version {theirs.number}")
            told += _Meeting(store, found, _base(found, base, theirs), theirs).settle(take, again=turn > 0)
            base = theirs.number
        elif turn == 0 and take and isinstance(take, Mapping):
            raise Refused(
                f"nobody kept another version of {found.project.id} meanwhile, so there is nothing to choose",
                do="keep it without --take; nothing was written",
            )
        try:
            return Merged(keep(store, folder, why=why, who=who, onto=base, progress=progress), tuple(told))
        except Conflict:
            if turn == _TRIES - 1:
                raise
            onto = base  # The folder may not have been able to remember it.
    raise AssertionError  # pragma: no cover - the last turn returns or raises


class _Meeting:
    """A folder and the newest version of its project, both made from one version."""

    def __init__(self, store: Store, found: Gathered, base: int, theirs: Version) -> None:
        self._store, self._found, self._version = store, found, theirs
        id = found.project.id
        self._base, self._theirs = store.project(id, base), store.project(id, theirs.number)
        self._files_base, self._files_theirs = (store.file_digests(id, number) for number in (base, theirs.number))

    def settle(self, take: Take, *, again: bool = False) -> tuple[str, ...]:
        """Write both into the folder and return what came from the other side, in sentences.

        Raises:
            Conflict: Both changed the same, and nothing says which to take; nothing was written.
            Refused: A side was chosen of a place that is not asked; nothing was written.
        """
        names = new_names(self._base, self._found.project, self._theirs)
        mine = renamed(self._found.project, names) if names else self._found.project
        met, _ = answered(self._base, mine, self._theirs, lambda clash: _side(take, place_words(clash.place)))
        taken, file_clashes = files_met(
            self._files_base, self._found.digests, self._files_theirs, lambda path: _side(take, path)
        )
        if met.clashes or file_clashes:
            raise self._clash(mine, met, file_clashes)
        if not again:  # What was chosen against an earlier version is settled.
            self._refuse_idle(take, mine)
        self._write(met.project, taken)
        told = [*_names_told(names), *changes(mine, met.project), *map(_taken_told, taken)]
        return tuple(readable(one, _LONGEST) for one in told)

    def _refuse_idle(self, take: Take, mine: Project) -> None:
        """Refuse a side that was chosen of a place which is not asked: it would be kept as if it had been heard.

        What comes up only once something else is chosen is asked too.
        """
        if not isinstance(take, Mapping):
            return
        _, asked = answered(self._base, mine, self._theirs, lambda clash: _side(take, place_words(clash.place)))
        _, files = files_met(self._files_base, self._found.digests, self._files_theirs, lambda path: None)
        places = [*(place_words(clash.place) for clash in asked), *(one.path for one in files)]
        idle = [place for place in take if place not in places]
        if idle:
            raise Refused(
                f"both did not change {readable(idle[0], _LONGEST)} differently, so there is nothing to choose of it",
                expected=joined([readable(one, _LONGEST) for one in places], _MOST_LINES, last="or") if places
                else "no --take: both can be brought together without",
                do="nothing was written",
            )  # fmt: skip

    def _write(self, project: Project, taken: list[Taken]) -> None:
        home = self._found.home
        id, number = self._found.project.id, self._version.number
        photographs = photographs_of(project, home)
        bring(home, [*photographs, *taken], self._files_base, lambda path: self._store.file(id, path, number))
        project._loaded = self._found.project._loaded
        save(project, home)
        # Only now: a folder that remembers their version without holding it would be kept over it.
        remember(self._store, home, self._version, self._store.file(id, FILE, number))

    def _clash(self, mine: Project, met: Met, files: list[FileClash]) -> Conflict:
        lines = []
        for clash, sides in zip(met.clashes, sides_of(self._base, mine, self._theirs, met.clashes), strict=True):
            about = sides.about or ALL_OF_BOTH
            why = f" ({sides.why})" if sides.why else ""
            lines.append((place_words(clash.place), f"{about}: here {sides.mine}; there {sides.theirs}{why}"))
        lines += [(one.path, f"{one.about}: here {one.mine}; there {one.theirs}") for one in files]
        shown = [f"  {readable(words, _LONGEST)} [{readable(key, _LONGEST)}]" for key, words in lines[:_MOST_LINES]]
        if len(lines) > _MOST_LINES:
            shown.append(f"  and {len(lines) - _MOST_LINES} more")
        by = f", kept on {day_here(self._version.on)} by {readable(self._version.who) or 'somebody'}"
        many = "one thing was" if len(lines) == 1 else f"{len(lines)} things were"
        head = (
            f"{many} changed both here and in version {self._version.number}{by}, each differently; choose which to "
            "keep: `--take mine` or `--take theirs` for all, or one by one by what stands in brackets, "
            f"`--take {readable(lines[0][0], _LONGEST)}=theirs`; nothing was written"
        )
        return Conflict("\n".join([head, *shown]))


def _base(found: Gathered, base: int | None, theirs: Version) -> int:
    if base is None:
        raise Conflict(
            f"{found.home}: nothing says which version of {found.project.id} it was made from",
            expected=f"one of 1 to {theirs.number}",
            do="say it with `--onto NUMBER`; nothing was written",
        )
    if base > theirs.number:
        raise ended_early(found.project.id, base, theirs.number)
    return base


def take_of(words: Sequence[str]) -> Take:
    """Return which side to take, as it is typed: `mine`, `theirs`, or `things/island/width_mm=theirs` for one place.

    Raises:
        Refused: It says neither, or both for all and for one place.
    """
    sides: dict[str, Side] = {}
    for word in words:
        place, parted, side = word.rpartition("=")
        if side not in ("mine", "theirs") or (parted and not place) or (not parted and len(words) > 1):
            raise Refused(
                f"{readable(word)!r} does not say which side to take",
                expected="mine or theirs, once, or PLACE=mine and PLACE=theirs for each place",
            )
        sides[place] = "mine" if side == "mine" else "theirs"
    return sides.get("", sides) if sides else None


def _side(take: Take, place: str) -> Side | None:
    side = take if isinstance(take, str) or take is None else take.get(place)
    if side not in (None, "mine", "theirs"):
        raise Refused(f"{side!r} is no side", expected="mine or theirs")
    return side


def place_words(place: Place) -> str:
    """Return the place of a clash as `Take` names it."""
    return "/".join(place) or _EVERYTHING


def _names_told(names: NewNames) -> list[str]:
    called = {"decisions": "decision", "needs": "need"}
    return [
        f"Your new {called[name]} `{id}` is number {number} now, since theirs has its number."
        for (name, id), number in names.numbers.items()
    ]


def _taken_told(taken: Taken) -> str:
    return f"The file {taken.path} is theirs." if taken.there else f"The file {taken.path} was taken away there."
