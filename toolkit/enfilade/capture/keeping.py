"""Brings a house and its file together: saves it, takes in what another window saved, asks about what both changed."""

from __future__ import annotations

import datetime as dt
import os
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, Final, Literal

from enfilade.capture.questions import Question, about_clashes, about_unreadable
from enfilade.capture.side_files import SideFiles, put_aside
from enfilade.capture.troubles import Trouble, folder_gone, kept_where, trouble_of, unreadable
from enfilade.capture.windows import Window
from enfilade.editing.merging.apart import NewNames, new_names, renamed
from enfilade.editing.merging.merging import merged
from enfilade.editing.merging.three_ways import Answers, Place
from enfilade.errors import BadRecord, Conflict, EnfiladeError, NotFound, Refused
from enfilade.files import fingerprint, read_bytes
from enfilade.listing import listed
from enfilade.project.project import Project
from enfilade.project.reading import project_from
from enfilade.project.store import FILE, keep_state, project_bytes, save_bytes
from enfilade.project.writing import project_text

__all__ = ["Keeper", "Kept", "Saved"]

_TRIES: Final = 8
"""So often another window may save between our look and our own saving."""
_NAMED: Final = 6
_NOTHING: Final = "-"
"""The fingerprint of no file."""


@dataclass(frozen=True)
class Saved:
    """How the work is kept.

    Attributes:
        words: `Saved 10:42`, or why not.
        trouble: It is not saved in the project's own file.
        do: What a person can do about it, and where the work is meanwhile.
    """

    words: str
    trouble: bool = False
    do: str = ""


@dataclass(frozen=True)
class Kept:
    """The house after it was brought together with its file.

    Attributes:
        project: The house as it is now.
        names: New names that records of this window were given, because another window's had the same.
        otherwise: The house as it would be, had all that was asked been answered for this window; None where no answer
            took the other side.
    """

    project: Project
    names: tuple[NewNames, ...] = ()
    otherwise: Project | None = None


class _Asked(Exception):  # noqa: N818 - it never leaves this module
    """A question has been put; until it is answered the file stays as it is."""


class Keeper:
    """Keeps one window's house in its file.

    Attributes:
        base: The saved house that the work of this window began with.
        saved: How the work is kept now.
        question: What must be chosen first; None when nothing.
    """

    def __init__(self, project: Project, folder: Path, window: Window) -> None:
        self.base = project
        self.saved = Saved("")
        self.question: Question | None = None
        self.side = SideFiles(folder, window)
        self._folder = folder
        self._home = str(folder.resolve())
        self._known = project._loaded[1] if project._loaded else _NOTHING
        self._answers: dict[Place, tuple[Literal["mine", "theirs"], Any]] = {}
        self._stamp: tuple[int, ...] | None = None
        self._read: tuple[str, Project] | None = None
        self._kept = Kept(project)
        self._news: tuple[str, ...] = ()

    def keep(self, mine: Project, data: bytes | None = None) -> Kept:
        """Bring the house together with its file, as far as can be now; never raises for what stands on a disk.

        Args:
            mine: The house as it is in this window.
            data: Its bytes, where they are at hand.
        """
        self._kept = Kept(mine)
        self._news = ()
        try:
            self._brought(data)
        except _Asked:
            assert self.question is not None
            self._aside(mine, data, self.question.words, "")
        except Trouble as error:
            self._aside(mine, data, error.words, error.do)
        except EnfiladeError as error:
            told = trouble_of(error, self._folder)
            self._aside(mine, data, told.words, told.do)
        return self._kept

    def _brought(self, data: bytes | None) -> None:
        for _ in range(_TRIES):
            project = self._kept.project
            project._loaded = (self._home, self._known)
            theirs = self._other()
            if theirs is not None:
                self._meet(theirs)
                data = data if self._kept.project is project else None
                project = self._kept.project
            if project == theirs or (project is self.base and self._stamp is not None):
                self._settled(project, wrote=False)
                return
            data = data or project_bytes(project)
            try:
                self._save(project, data)
            except Conflict as error:
                self._stamp = None
                if self._other() is None:
                    raise trouble_of(error, self._folder) from error
            else:
                return
        raise Trouble("Not saved yet: another window saves again and again.", "It is tried again by itself.")

    def changed(self) -> bool:
        """Tell whether there is something to bring together: another file, or work that is not saved yet."""
        if self._stamp is None or self._stamp_now() != self._stamp:
            return True
        # What waits for an answer, and is kept aside, changes only with one of the two houses.
        waits = self.question is not None and self.side.where is not None
        return self.saved.trouble and not waits

    def begin_with(self, base: Project) -> None:
        """Take another house for what the work began with: work of a window that was closed goes on here."""
        self.base, self._known, self._stamp = base, _NOTHING, None
        self._answers.clear()

    def answer(self, mine: Project, side: Literal["mine", "theirs"], key: str) -> Kept:
        """Choose a side for one line of the question, or for all of it, and go on.

        Args:
            mine: The house as it is in this window.
            side: Which to keep.
            key: Of the line, or of the whole question.
        Raises:
            Refused: Nothing is asked, or something else by now; or the file holds nothing that could be taken.
        """
        asked = self.question
        if asked is None:
            raise Refused("there is nothing to choose any more")
        lines = asked.lines if key == asked.key else tuple(line for line in asked.lines if line.key == key)
        if asked.kind == "unreadable" and key == asked.key:
            self._replace_unreadable(side)
        elif not lines:
            raise Refused("what is asked has changed meanwhile", do="look at both values again and choose")
        if side == "theirs":
            self._remember(mine)
        self._answers |= {line.clash.place: (side, line.clash.theirs) for line in lines}
        return self.keep(mine)

    def _meet(self, theirs: Project) -> None:
        """Take in what another window saved."""
        new = new_names(self.base, self._kept.project, theirs)
        if new:
            project = renamed(self._kept.project, new)
            self._kept = replace(self._kept, project=project, names=(*self._kept.names, new))
        mine = self._kept.project
        met = merged(self.base, mine, theirs, self._answers)
        if met.clashes:
            question = about_clashes(self.base, mine, theirs, met.clashes)
            if self.question is None or self.question.key != question.key:
                self.question = question
            raise _Asked
        otherwise = self._kept.otherwise
        if any(side == "theirs" for side, _ in self._answers.values()):
            flipped: Answers = {at: ("mine", value) for at, (_, value) in self._answers.items()}
            for_mine = merged(self.base, mine, theirs, flipped)
            otherwise = None if for_mine.clashes else for_mine.project
        assert self._read is not None
        self.base, self._known = theirs, self._read[0]
        self._news = (*self._news, *met.taken)
        self._kept = replace(self._kept, project=met.project, otherwise=otherwise)

    def _other(self) -> Project | None:
        """Return the house that stands on the disk, when it is not the one that was known.

        Raises:
            Trouble: The folder is gone, or the file cannot be read.
            _Asked: It holds no project.
        """
        if not os.path.isdir(self._folder):
            raise folder_gone(self._folder)
        stamp = self._stamp_now()
        if stamp is None:
            self._stamp = None
            return None
        if stamp != self._stamp or self._read is None:
            self._read_now(stamp)
        assert self._read is not None
        found, project = self._read
        return None if found == self._known else project

    def _read_now(self, stamp: tuple[int, ...]) -> None:
        path = self._folder / FILE
        try:
            data = read_bytes(path)
            found = fingerprint(data)
            if found == self._known:
                self._read = (found, self.base)
            elif self._read is None or self._read[0] != found:
                self._read = (found, project_from(data, FILE))
        except NotFound:
            self._stamp = None
            return
        except (BadRecord, Refused) as error:
            self._stamp = None
            trouble = unreadable(error, self._folder)
            if isinstance(error, BadRecord):
                self.question = about_unreadable(trouble.words, fingerprint(data))
            raise trouble from error
        self._stamp = stamp

    def _save(self, mine: Project, data: bytes) -> None:
        mine._loaded = (self._home, self._known)
        save_bytes(mine, data, self._folder)
        self._known, self._stamp = fingerprint(data), None
        self._read = (self._known, mine)
        self._settled(mine)

    def _settled(self, project: Project, *, wrote: bool = True) -> None:
        again = self.saved.trouble
        project._loaded = (self._home, self._known)
        self.base, self.question = project, None
        self._answers.clear()
        self.side.drop()
        if not (wrote or again or self._news):
            return
        words = f"Saved{' again' if again else ''} {dt.datetime.now():%H:%M}"
        if self._news:
            words += f". Another window changed: {listed(self._news, _NAMED)}; yours and theirs are both kept"
        self.saved = Saved(words)

    def _aside(self, mine: Project, data: bytes | None, words: str, do: str) -> None:
        base = project_text(self.base).encode()
        if self._kept.project is not mine:
            mine, data = self._kept.project, None
        place = self.side.put(base, data or project_text(mine).encode())
        where = kept_where(place, self._folder)
        self.saved = Saved(words, trouble=True, do=f"{do} {where}".strip())

    def _replace_unreadable(self, side: str) -> None:
        if side != "mine":
            raise Refused("the file holds nothing that could be taken", do="mend it, or put your house in its place")
        data = read_bytes(self._folder / FILE)
        if put_aside(self._folder, data) is None:
            raise Refused("the file as it is now could not be put aside", do="make room, then choose again")
        self._known, self._read, self._stamp = fingerprint(data), (fingerprint(data), self.base), self._stamp_now()
        self.question = None

    def _remember(self, mine: Project) -> None:
        """Keep this window's version among the earlier states, before some of it is given up."""
        try:
            keep_state(self._folder, project_text(mine).encode())
        except EnfiladeError as error:
            raise Refused(
                f"your version could not be kept before the other is taken ({error.what})", do="try again in a moment"
            ) from error

    def _stamp_now(self) -> tuple[int, ...] | None:
        try:
            about = os.lstat(self._folder / FILE)
        except OSError:
            return None
        return about.st_ino, about.st_size, about.st_mtime_ns
