"""One project on the desk: what is changed, undone, saved at once, and watched on the disk. No widget."""

from __future__ import annotations

import contextlib
import os
import sys
import traceback
import weakref
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Final, Literal

from enfilade.capture.drafts import Draft, Drafts
from enfilade.capture.keeping import Keeper, Kept, Saved
from enfilade.capture.questions import Question
from enfilade.capture.side_files import Found
from enfilade.capture.steps import Steps
from enfilade.capture.windows import Window, others
from enfilade.checks.run import check
from enfilade.editing.merging.merging import differences
from enfilade.editing.merging.saying import Words
from enfilade.errors import Refused
from enfilade.findings import Finding
from enfilade.project.project import Project
from enfilade.project.store import DRAFTS, FILE, keep_state, load, project_bytes
from enfilade.project.writing import project_text

__all__ = ["Desk", "Draft", "Drafts", "Found", "Question", "Saved"]

_DESKS: Final[weakref.WeakValueDictionary[str, Desk]] = weakref.WeakValueDictionary()


class Desk:
    """One project that a person works on, in one window.

    Nothing that was typed is lost: each change is saved before `change` returns, or kept beside the project, or in the
    user's own folders, until it can be. What another window saves is taken in; what both changed is asked about.

    Attributes:
        project: The house as it is now.
        folder: Where it is saved.
        drafts: Typed text that could not be taken yet.
        found: Work that windows could not save before they were closed, the oldest first.
        others: How many other windows are open on the same project.
        addresses: Of the pages of the other acts, by act, where whoever shows them knows.
    """

    def __init__(self, project: Project, folder: Path) -> None:
        self.project = project
        self._checked: tuple[Project, dict[str | None, list[Finding]]] = (project, {})
        self.folder = folder
        self.addresses: Mapping[str, str] = {}
        self._window = Window()
        self._keeper = Keeper(project, folder, self._window)
        self._steps = Steps()
        self._watchers: list[Callable[[], None]] = []
        self._say_open()
        self.drafts = Drafts(folder, self._window)
        self.found: tuple[Found, ...] = tuple(self._keeper.side.found())
        self.others = others(folder / DRAFTS, self._window)

    @classmethod
    def open(cls, folder: str | Path) -> Desk:
        """Return a desk with the project of a folder on it.

        Raises:
            NotFound, BadRecord, Refused: There is no project there, or it cannot be read.
        """
        path = Path(folder)
        project = load(path)
        return cls(project, path.parent if path.name == FILE and not path.is_dir() else path)

    @classmethod
    def at(cls, folder: str | Path) -> Desk:
        """Return the desk of this process for a folder, which is opened once: a page that is made anew finds it again.

        Raises:
            NotFound, BadRecord, Refused: As for `open`.
        """
        key = os.path.realpath(folder)
        desk = _DESKS.get(key)
        if desk is None:
            desk = _DESKS[key] = cls.open(folder)
        else:
            desk.look()
        return desk

    def close(self) -> None:
        """Say that the window is closed; so does the end of the process."""
        self._window.close()
        with contextlib.suppress(OSError):
            (self.folder / DRAFTS).rmdir()  # where nothing was left in it

    # What is changed

    def change(self, words: str, project: Project, joins: str = "") -> None:
        """Make a project the house, remember the step, and save it.

        Args:
            words: What was done, for undo: `moved island`.
            project: The house with the change.
            joins: Changes in a row that join by the same word are undone as one, such as typing in one field.
        Raises:
            BadRecord: It could not be read again; the house stays as it was.
            Refused: It is a copy for one audience.
        """
        if project == self.project:
            return  # A step that changes nothing would be undone without a trace.
        data = project_bytes(project)
        before = self.project
        self._steps.add(words, before, project, joins)
        self._take(project, data)

    def undo(self) -> str:
        """Undo the last step of this window, and return what it was.

        What another window changed since stays.

        Raises:
            Refused: There is nothing to undo, or it cannot be undone any more.
        """
        project, words = self._steps.undo(self.project)
        self._take(project)
        return words

    def redo(self) -> str:
        """Do the last step again that was undone, and return what it was.

        Raises:
            Refused: Likewise.
        """
        project, words = self._steps.redo(self.project)
        self._take(project)
        return words

    @property
    def undo_words(self) -> str:
        """Return what would be undone; empty when nothing."""
        return self._steps.undo_words

    @property
    def redo_words(self) -> str:
        """Return what would be done again; empty when nothing."""
        return self._steps.redo_words

    # What is read

    def findings(self, space: str | None = None) -> list[Finding]:
        """Return the findings of a room, or of the whole house; worked out once for a state of the house."""
        if self._checked[0] is not self.project:
            self._checked = (self.project, {})
        found = self._checked[1]
        if space not in found:
            found[space] = check(self.project, space)
        return found[space]

    def judge_again(self) -> None:
        """Have the findings made anew: the studio's own rules have changed."""
        self._checked = (self.project, {})

    def watch(self, callback: Callable[[], None]) -> None:
        """Have a function called after each change of the house or of how it is kept."""
        self._watchers.append(callback)

    # How it is kept

    @property
    def saved(self) -> Saved:
        """Return how the work is kept."""
        if self.drafts.trouble and not self._keeper.saved.trouble:
            return Saved(
                "Not saved: what is typed and not finished yet.",
                trouble=True,
                do=f"{self.drafts.trouble}. Leave it open.",
            )
        return self._keeper.saved

    @property
    def question(self) -> Question | None:
        """Return what must be chosen before the house can be saved; None when nothing."""
        return self._keeper.question

    def look(self) -> bool:
        """Look at the disk, which is cheap while nothing happens there, and try again what could not be saved.

        Returns:
            Whether the house here changed with it.
        """
        before = (self.project, self.saved, self.question, self.found, self.others)
        self._say_open()
        self._window.looked()
        self.others = others(self.folder / DRAFTS, self._window)
        adopted = self.drafts.adopt()
        self.found = self._still_found()
        if self._keeper.changed():
            self._after(self._keeper.keep(self.project))
        if adopted or any(old is not new for old, new in zip(before, self._state(), strict=True)):
            self._tell()
        return self.project is not before[0]

    def reopen(self) -> None:
        """Take the house as it stands on the disk and forget every step: what was erased there must not come back.

        Raises:
            NotFound, BadRecord, Refused: As for `open`; the desk stays as it was.
        """
        project = load(self.folder)
        self.project, self._steps = project, Steps()
        self._checked = (project, {})
        self._keeper = Keeper(project, self.folder, self._window)
        self.drafts = Drafts(self.folder, self._window)
        self.found = tuple(self._keeper.side.found())
        self._tell()

    def answer(self, side: Literal["mine", "theirs"], key: str) -> str:
        """Choose a side where two windows changed the same, and return words on it.

        Args:
            side: Which to keep.
            key: Of one line of the question, or of the whole question.
        Raises:
            Refused: Something else is asked by now, or nothing.
        """
        before = self.project
        kept = self._keeper.answer(before, side, key)
        self._after(kept)
        if kept.otherwise is not None:
            self._steps.add("took what another window changed", kept.otherwise, self.project)
        self._tell()
        if self.question is not None:
            return f"Chosen. {len(self.question.lines)} more to choose"
        return f"Chosen. {self.saved.words}"

    def bring_back(self, key: str) -> str:
        """Bring in what a window could not save before it was closed.

        Raises:
            Refused: It is not there any more, or this window's own work is not saved yet.
        """
        found = self._found(key)
        if self._keeper.saved.trouble or self.question is not None:
            raise Refused("what is done in this window is not saved yet", do="see to that first")
        now = self.project
        self._keeper.begin_with(found.base)
        self._after(self._keeper.keep(found.mine))
        if self.project != now:
            self._steps.add("brought back what was not saved", now, self.project)
        if self._keeper.side.where is not None or not self.saved.trouble:
            self._keeper.side.forget(found)
        self.found = tuple(one for one in self.found if one is not found)
        self._tell()
        return "Brought back" if self.question is None else self.question.words

    def discard(self, key: str) -> str:
        """Leave out what a window could not save; it is kept among the earlier states.

        Raises:
            Refused: It is not there any more, or cannot be kept there.
        """
        found = self._found(key)
        keep_state(self.folder, project_text(found.mine).encode())
        self._keeper.side.forget(found)
        self.found = tuple(one for one in self.found if one is not found)
        self._tell()
        return "Left out; it is kept among the earlier states"

    def told(self, found: Found) -> tuple[str, ...]:
        """Return what a window that was closed had changed: `Island (width)`."""
        return Words(found.mine, found.base).records(differences(found.base, found.mine))

    def _take(self, project: Project, data: bytes | None = None) -> None:
        project._photos_from = self.project._photos_from
        self.project = project
        self._after(self._keeper.keep(project, data))
        self._tell()

    def _after(self, kept: Kept) -> None:
        for names in kept.names:
            self._steps.rename(names)
        self.project = kept.project

    def _state(self) -> tuple[object, ...]:
        return self.project, self.saved, self.question, self.found, self.others

    def _say_open(self) -> None:
        """Say in the project's folder that this window is open, where that can be done."""
        place = self.folder / DRAFTS
        with contextlib.suppress(OSError):
            if self.folder.is_dir() and not place.is_symlink():
                place.mkdir(exist_ok=True)
                self._window.hold(place)

    def _still_found(self) -> tuple[Found, ...]:
        known = {(one.key, one.when): one for one in self.found}
        found = tuple(known.get((one.key, one.when), one) for one in self._keeper.side.found())
        return self.found if found == self.found else found

    def _found(self, key: str) -> Found:
        for one in self.found:
            if one.key == key:
                return one
        raise Refused("it is not there any more", do="load the page again")

    def _tell(self) -> None:
        for callback in tuple(self._watchers):
            try:
                callback()
            except Exception:  # One page that fails must not stop the others, nor the change that was saved.
                traceback.print_exc(file=sys.stderr)
