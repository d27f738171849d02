"""Two people kept the same house, each without the other's work: what changed there, and what must be chosen."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any, Final

from enfilade.capture.desk import Desk
from enfilade.capture.questions import key_of, lines_about
from enfilade.editing.merging.answered import answered
from enfilade.editing.merging.apart import new_names, renamed
from enfilade.editing.merging.three_ways import Side
from enfilade.errors import NotFound, Refused
from enfilade.files import fingerprint
from enfilade.times import when_words

if TYPE_CHECKING:
    from enfilade.archive.gathering import Gathered
    from enfilade.archive.store import Store
    from enfilade.archive.versions import Version

__all__ = ["Apart", "asked_again", "choose", "found_apart", "sides_taken"]

_NAMED: Final = 30


@dataclass(frozen=True)
class _Line:
    """What both changed: its place as merging names it, and both values; the key names all three."""

    key: str
    place: str
    about: str
    mine: str
    theirs: str
    why: str = ""


@dataclass(frozen=True)
class Apart:
    """A house that was kept elsewhere since it was kept here.

    Attributes:
        base: The version that this one was made from; None where nothing says so, or the archive does not hold it.
        lost: The version that this one was made from, where the archive ends before it.
        newest: The one that was kept meanwhile.
        who, why: Who keeps this one, and for what reason.
        told: What changed there since, in sentences.
        lines: What both changed, each differently.
        chosen: A side by the key of a line.
    """

    base: int | None
    newest: int
    who: str
    why: str
    lost: int | None = None
    told: tuple[str, ...] = ()
    lines: tuple[_Line, ...] = ()
    chosen: dict[str, Side] = field(default_factory=dict)

    @property
    def left(self) -> tuple[_Line, ...]:
        """Return what nobody has chosen yet."""
        return tuple(one for one in self.lines if one.key not in self.chosen)

    def plain(self, versions: Sequence[Version]) -> dict[str, Any]:
        """Return it as plain data."""
        newest = next((one for one in versions if one.number == self.newest), None)
        return {
            "base": self.base,
            "lost": self.lost,
            "bases": [{"number": one.number, "when": when_words(one.on), "why": one.why} for one in versions],
            "newest": self.newest,
            "when": when_words(newest.on) if newest else "",
            "who": newest.who if newest else "",
            "why": newest.why if newest else "",
            "changed": list(self.told[:_NAMED]),
            "more": max(0, len(self.told) - _NAMED),
            "lines": [
                {"key": one.key, "about": one.about, "mine": one.mine, "theirs": one.theirs, "why": one.why}
                for one in self.left
            ],
            "settled": [
                {
                    "key": one.key,
                    "about": one.about,
                    "side": self.chosen[one.key],
                    "value": one.mine if self.chosen[one.key] == "mine" else one.theirs,
                }
                for one in self.lines
                if one.key in self.chosen
            ],
        }


def found_apart(desk: Desk, store: Store, *, who: str, why: str, chosen: Mapping[str, Side]) -> Apart | None:
    """Return how the house of this page and its newest version went apart; None: they did not, or there is none.

    What was chosen before stays where both values are still those that were asked of.
    """
    from enfilade.archive.gathering import gathered_files
    from enfilade.archive.keeping import memory_of, remembered_base

    memory = memory_of(desk.folder)
    base = remembered_base(store, gathered_files(desk.folder), memory)
    newest = store.newest(desk.project.id)
    if newest is None or base == newest.number:
        return None
    return asked_again(desk, store, Apart(base, newest.number, who, why, chosen=dict(chosen)))


def asked_again(desk: Desk, store: Store, apart: Apart) -> Apart:
    """Return how they stand apart now: what was chosen stays where both values are still those that were asked of."""
    from enfilade.archive.changing import changed
    from enfilade.archive.gathering import gathered_files

    newest = store.version(desk.project.id).number
    if apart.base is not None and apart.base > newest:  # The archive was put back from an earlier copy.
        apart = replace(apart, base=None, lost=apart.base)
    if apart.base is None:
        return replace(apart, newest=newest)
    told = tuple(changed(store, desk.project.id, apart.base, newest))
    apart = replace(apart, newest=newest, told=told)
    found = gathered_files(desk.folder)
    lines = [*_records(store, found, apart), *_files(store, found, apart)]
    return replace(apart, lines=tuple(lines))


def _records(store: Store, found: Gathered, apart: Apart) -> Iterator[_Line]:
    """Yield what both changed in the record, also what comes up only once something else is chosen."""
    from enfilade.archive.merging import ALL_OF_BOTH, place_words

    id = found.project.id
    before, theirs = (store.project(id, number) for number in (apart.base, apart.newest))
    names = new_names(before, found.project, theirs)
    mine = renamed(found.project, names) if names else found.project
    _, asked = answered(before, mine, theirs, lambda clash: apart.chosen.get(key_of(clash)))
    for one in lines_about(before, mine, theirs, asked):
        about = one.about if one.clash.place else ALL_OF_BOTH
        yield _Line(one.key, place_words(one.clash.place), about, one.mine, one.theirs, one.why)


def _files(store: Store, found: Gathered, apart: Apart) -> Iterator[_Line]:
    """Yield the files beside the record that both changed."""
    from enfilade.archive.merging_files import files_met

    id, mine = found.project.id, found.digests
    base, theirs = (store.file_digests(id, number) for number in (apart.base, apart.newest))
    _, clashes = files_met(base, mine, theirs, lambda path: None)
    for one in clashes:
        values = b"".join((one.path.encode(), mine.get(one.path, b"-"), theirs.get(one.path, b"-")))
        yield _Line(_key(values), one.path, one.about, one.mine, one.theirs)


def _key(data: bytes) -> str:
    return fingerprint(data)[:16]


def choose(apart: Apart, key: str, side: str) -> Apart:
    """Choose a side of one line, or of all where no key is given; with no side, a line is to be chosen again.

    Raises:
        NotFound: It is not asked any more.
        Refused: There is no such side.
    """
    if not side and key in apart.chosen:
        return replace(apart, chosen={name: kept for name, kept in apart.chosen.items() if name != key})
    if side not in ("mine", "theirs"):
        raise Refused("the page sent no side", do="load the page again")
    chosen = [one for one in apart.left if key in ("", one.key)]
    if not chosen:
        raise NotFound("this is not asked any more", do="load the page again")
    kept: Side = "mine" if side == "mine" else "theirs"
    return replace(apart, chosen={**apart.chosen, **{one.key: kept for one in chosen}})


def sides_taken(apart: Apart) -> dict[str, Side]:
    """Return which side was chosen, by place."""
    return {one.place: apart.chosen[one.key] for one in apart.lines if one.key in apart.chosen}
