"""An archive in which a client stands everywhere: three versions, a copy for students, answers, photographs, and a
folder."""

from __future__ import annotations

import io
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from PIL import Image
from sqlalchemy import insert, select

import enfilade as ef
from documents.planting import saved
from documents.test_names_in_documents import named_house
from enfilade.archive import tables as t
from enfilade.archive.archive import Archive
from enfilade.archive.keeping import keep
from enfilade.archive.releasing import release
from enfilade.files import write_bytes
from enfilade.project.photos import keep_photograph
from enfilade.project.project import Project
from enfilade.project.store import DRAFTS

_house = cache(named_house)

__all__ = ["KNOWN_FIRST", "NAMES", "STAY", "Planted", "holding", "planted_archive"]

KNOWN_FIRST = "Olbrechtsson"
"""A name that the first version alone knows; later ones speak of it."""
NAMES = (
    "zorvka", "quillbeam", "wrenjka", "tidewaxer", "elverquort", "estuaqry", "5550142", "555-0142", "555 0142", "unaqa",
    "vargaj", KNOWN_FIRST.lower(),
)  # fmt: skip
"""Of the client, the household, the address, the contact, and of who decided: all must go."""
STAY = ("ardvelqe", "jossqua", "holtvarg", "pellqor", "ottqo")
"""Maker, trade, designer, and who sees to things: they built it, and stay."""

_SPELLINGS = (
    "Quillbeam2 and QuillbeamHouse, zorvkaquillbeam, ZORVKA, Zorvka's, the Quillbeams, quillbeam_plan.jpg, "
    f"Z. Quillbeam; Mrs {KNOWN_FIRST} asked, and O. {KNOWN_FIRST} paid."
)


@dataclass(frozen=True)
class Planted:
    """What was planted: ids of the client's project and of another one, and the client's folder."""

    project: str
    other: str
    folder: Path


def planted_archive(archive: Archive, tmp_path: Path) -> Planted:
    """Plant a client in three versions, a copy for students where they share the database, and a folder."""
    folder, elsewhere = tmp_path / "house", tmp_path / "other"
    project = saved(_house(), folder)
    project = _with_names(project, (KNOWN_FIRST, *project.client.names))
    project = _called(project, f"quillbeam-{project.id}", "The Quillbeam house")
    _save(project, folder)
    write_bytes(folder / "studio.toml", b'[studio]\nname = "Studio"\n# as agreed with Mrs Quillbeam\n')
    keep(archive, folder, who="Zorvka Quillbeam", why="as Mrs Quillbeam of 14 Tidewaxer Lane asked")
    project = _with_names(ef.load(folder), project.client.names[1:])
    project = _told_of(project, _SPELLINGS)
    picture = keep_photograph(folder, _photograph())
    shown = {"id": "zorvka-at-home", "file": picture, "caption": "Zorvka at the sink", "space": project.spaces[0].id}
    _save(project.with_records(photographs=[*project.photographs, shown]), folder)
    ef.tell(ef.load(folder), ["captions"], "client", folder / "told", issue=True)
    keep(archive, folder, why=f"{KNOWN_FIRST} has paid")
    write_bytes(folder / DRAFTS / "one.json", b'{"typed": "Quillbeam"}')
    _save(_told_of(ef.load(folder), f"{_SPELLINGS} Once more."), folder)
    keep(archive, folder)
    other = ef.demo()
    ef.save(other, elsewhere)
    keep(archive, elsewhere)
    if archive.address.shared:
        release(archive, project.id, number=1)
        release(archive, project.id)
    archive.writing(lambda connection: _answered(connection, project.id, other.id))
    return Planted(project.id, other.id, folder)


def holding(data: bytes) -> list[str]:
    """Return the planted names that some bytes hold, in any case and in two encodings."""
    low = data.lower()
    return [name for name in NAMES if name.encode() in low or name.encode("utf-16-le") in low]


def _with_names(project: Project, names: tuple[str, ...]) -> Project:
    changed = project.model_copy(update={"client": project.client.model_copy(update={"names": names})})
    changed._loaded = project._loaded
    return changed


def _called(project: Project, id: str, name: str) -> Project:
    return project.model_copy(update={"id": id, "name": name})


def _told_of(project: Project, words: str) -> Project:
    spaces = [space.model_copy(update={"story": words, "note": words}) for space in project.spaces]
    things = [thing.model_copy(update={"name": f"{thing.kind} of the Quillbeams"}) for thing in project.things]
    decisions = [one.model_copy(update={"hindsight": words, "reason": words}) for one in project.decisions]
    changed = project.with_records(spaces=spaces, things=things, decisions=decisions)
    changed._loaded = project._loaded
    return changed


def _save(project: Project, folder: Path) -> None:
    project._loaded = ef.load(folder)._loaded
    ef.save(project, folder)


def _photograph() -> bytes:
    stream = io.BytesIO()
    exif = Image.Exif()
    exif[0x010E] = "Zorvka Quillbeam at 14 Tidewaxer Lane"
    exif[0x013B] = "Zorvka Quillbeam"
    Image.new("RGB", (60, 40), "maroon").save(stream, format="JPEG", exif=exif)
    return stream.getvalue()


def _answered(connection, project: str, other: str) -> None:  # type: ignore[no-untyped-def]
    p = t.projects.c
    rows = dict(connection.execute(select(p.project, p.id).where(p.released.is_(False))).all())
    said = {"released": False, "kind": "dismissed", "who": "Zorvka Quillbeam", "on": "2026-01-01T00:00:00Z"}
    connection.execute(
        insert(t.answers),
        [
            {**said, "project": rows[project], "lesson": f"{other}/sink", "about": "quillbeam-taken",
             "reason": "Zorvka will not have it"},
            {**said, "project": rows[other], "lesson": f"{project}/quillbeam-taken", "about": "pastry",
             "reason": "this one is no Quillbeam"},
        ],
    )  # fmt: skip
