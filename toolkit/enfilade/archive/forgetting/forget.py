"""A client forgotten: first said, then, when it is asked for, done in one transaction."""

from __future__ import annotations

import datetime as dt
import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from sqlalchemy import Connection, func, insert, select

from enfilade.archive import tables as t
from enfilade.archive.forgetting.cleaning import cleaned, mark_unclean, unclean
from enfilade.archive.forgetting.folder import earlier_records, forget_folder, working_record
from enfilade.archive.forgetting.plan import Plan, planned
from enfilade.archive.forgetting.rewriting import alone, rewritten, swept
from enfilade.archive.forgetting.searched import (
    changed_notes,
    forget_answers,
    forget_figures,
    forget_notes,
    others_who_name,
)
from enfilade.archive.forgetting.words import NOTES, counted_words, known_of, remains
from enfilade.archive.store import Store
from enfilade.errors import Refused
from enfilade.project.issues import FOLDER as ISSUED
from enfilade.project.photos import FOLDER as PHOTOS
from enfilade.project.project import Project

__all__ = ["Forgotten", "finish", "forget"]

_LONGEST_WHO = 200


@dataclass(frozen=True)
class Forgotten:
    """What would be erased of a client, or was; no name stands in it.

    Attributes:
        project: Id of the project from now on: another one, where it held a name.
        renamed: It is another one.
        erased: It was done; otherwise it is only said.
        names: How many names, addresses and the like are known, by what they are.
        versions: Versions that are rewritten, those of copies for students too.
        photographs, issues: Files of them that go.
        notes: Texts among what can be searched that hold a name.
        copies: Copies for students in the same archive.
        remains: Sentences on what is left, there and elsewhere.
    """

    project: str
    renamed: bool
    erased: bool
    names: Mapping[str, int]
    versions: int
    photographs: int
    issues: int
    notes: int
    copies: int
    remains: tuple[str, ...]

    @property
    def sentences(self) -> tuple[str, ...]:
        """What was erased, or would be, and how far it reaches."""
        files = {
            "photographs": self.photographs,
            "issued documents": self.issues,
            NOTES: self.notes,
        }
        reach = f"{self.versions} version{'' if self.versions == 1 else 's'} of the house"
        students = " and of its copies for students" if self.copies else ""
        done = "Erased" if self.erased else "To be erased"
        known = counted_words({**self.names, **files}) or "nothing that is known"
        said = [f"{done}: {known}.", f"{'They went' if self.erased else 'They would go'} out of {reach}{students}."]
        if self.renamed:
            is_now = "is known from now on" if self.erased else "would be known from then on"
            said.append(f"Its id held a name: the house {is_now} as {self.project}.")
        return tuple(said)


def forget(
    store: Store, project: str, *, folder: str | Path | None = None, erase: bool = False, who: str = ""
) -> Forgotten:
    """Erase a client's names, addresses and photographs through all versions of a project, and say what remains.

    Names are gathered over all versions and the working folder: what only the first version knew goes out of the last
    one's sentences too. Whether something must be kept, such as contracts, the law says, and not this.

    Args:
        store: The archive.
        project: Id of the project.
        folder: Its working folder, to be rewritten too.
        erase: Do it; otherwise it is only said what would be done. It cannot be undone.
        who: Who does it, for the archive's record.
    Raises:
        NotFound: The archive holds no such project, or there is no such folder.
        BadRecord: A version cannot be read, so that names could not be found in it; nothing was erased.
        Conflict, Refused: The archive or the folder cannot be written, or the folder is another project's.
    """
    if store.released:
        raise Refused(
            f"{store.address}: this archive holds copies for students alone, and knows no names to look for",
            do="forget the project in the whole archive, then release it anew, or remove this file",
        )
    working = None if folder is None else working_record(folder, project)
    beside = [] if working is None else [working, *earlier_records(working)]
    if not erase:
        with store.reading() as connection:
            return _told(connection, planned(connection, str(store.address), project, beside), working)
    plan, told = store.writing(lambda connection: _erased(connection, str(store.address), project, beside, who))
    try:
        left = forget_folder(working, plan.names, plan.id, store.id) if working is not None else ()
    finally:  # The archive has forgotten by now, whatever became of the folder.
        uncleaned = cleaned(store)
    return replace(told, remains=(*uncleaned, *left, *told.remains))


def finish(store: Store) -> tuple[str, ...]:
    """Clean the bytes of what was erased, where a process died before it did, and say where some may be left."""
    with store.reading() as connection:
        if store.released or not unclean(connection):
            return ()
    return cleaned(store)


def _told(connection: Connection, plan: Plan, working: Project | None, *, erased: bool = False) -> Forgotten:
    files = [(path, file) for held in plan.held for one in held.versions for path, file in one.files.items()]
    photographs, issues = (
        {file for path, file in files if path.startswith(f"{folder}/")} for folder in (PHOTOS, ISSUED)
    )
    return Forgotten(
        project=plan.id,
        renamed=plan.id != plan.held[0].id,
        erased=erased,
        names=known_of(plan.states),
        versions=sum(len(held.versions) for held in plan.held),
        photographs=len(photographs),
        issues=len(issues),
        notes=sum(1 for held in plan.held for _ in changed_notes(connection, held, plan.names)),
        copies=len(plan.held) - 1,
        remains=remains(plan, erased=erased, folder=working is not None, naming=others_who_name(connection, plan)),
    )


def _erased(
    connection: Connection, archive: str, project: str, beside: Sequence[Project], who: str
) -> tuple[Plan, Forgotten]:
    alone(connection)
    plan = planned(connection, archive, project, beside)
    told = _told(connection, plan, beside[0] if beside else None, erased=True)
    ids = _ids(plan)
    for held in plan.held:
        rewritten(connection, archive, plan, held, ids[held.row])
        forget_notes(connection, held, plan.names)
        forget_figures(connection, held, plan.names)
        forget_answers(connection, plan, held, ids[held.row])
    swept(connection, plan)
    _recorded(connection, plan, told, who)
    mark_unclean(connection)
    return plan, told


def _ids(plan: Plan) -> dict[int, str]:
    """Return by which id the project and its copies go: the newest copy by the project's own, so that a later release
    goes on from it."""
    ids = {held.row: plan.names.out_of_ids(held.id) for held in plan.held}
    if len(plan.held) > 1 and plan.id not in [ids[held.row] for held in plan.held[2:]]:
        ids[plan.held[1].row] = plan.id
    return ids


def _recorded(connection: Connection, plan: Plan, told: Forgotten, who: str) -> None:
    """Record that a project was forgotten, without names."""
    number = connection.execute(select(func.count()).where(t.info.c.key.startswith("forgotten "))).scalar_one() + 1
    plain = {
        "day": dt.datetime.now(dt.UTC).date().isoformat(),
        "project": plan.id,
        "versions": told.versions,
        "who": plan.names.out_of_text(who)[:_LONGEST_WHO],
    }
    value = json.dumps(plain, ensure_ascii=False)
    connection.execute(insert(t.info).values(key=f"forgotten {number:04d}", value=value))
