"""How `archive.sql` came to be: `python tests/archive/format_1/make.py`, with `toolkit` and `tests` on the path.

It is run once for a format, before that is given out, and never again: what it made has to open for ever.
"""

from __future__ import annotations

import datetime as dt
import sqlite3
import tempfile
from collections.abc import Iterator
from pathlib import Path

from enfilade.archive.adding import add_version
from enfilade.archive.figures import figures_of
from enfilade.archive.notes import notes_of
from enfilade.archive.store import Store
from enfilade.checks.run import check
from enfilade.project.reading import project_from

HERE = Path(__file__).parent
FIRST = (HERE.parent.parent / "project" / "format_1.json").read_bytes()
SCAN = bytes(range(256)) * 3
WHO, WHY = "Ann Ousel", ("before the tender", "after the tender")


def states() -> list[dict[str, bytes]]:
    """Return the files of the two versions that it holds."""
    second = FIRST.replace(b'"name": "', b'"name": "Later: ', 1)
    assert second != FIRST
    return [{"project.json": FIRST, "light/scan.csv": SCAN}, {"project.json": second, "light/scan.csv": SCAN}]


def made() -> str:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "archive.sqlite"
        with Store(str(path)) as store:
            for number, files in enumerate(states()):
                project = project_from(files["project.json"], "format_1.json")
                findings = check(project)
                add_version(store, project, files, who=WHO, why=WHY[number], base=number or None,
                    on=dt.datetime(2026, 3, 24 + number, 10, 42, tzinfo=dt.UTC),
                    notes=notes_of(project, findings), figures=figures_of(project, findings),
                )  # fmt: skip
        connection = sqlite3.connect(path)
        lines = list(dumped(connection))
        connection.close()
    return "\n".join(lines) + "\n"


def dumped(connection: sqlite3.Connection) -> Iterator[str]:
    """Yield an archive as statements; the index of its text search is built again from the rows that it is of."""
    [mark] = connection.execute("PRAGMA application_id").fetchone()
    yield f"PRAGMA application_id = {mark};"
    virtual = dict(connection.execute("SELECT name, sql FROM sqlite_schema WHERE sql LIKE 'CREATE VIRTUAL TABLE%'"))
    for statement in connection.iterdump():
        ours = not statement.startswith(("PRAGMA writable_schema", "INSERT INTO sqlite_master"))
        if ours and not any(name in statement[:60] for name in virtual):
            yield statement
    for name, sql in virtual.items():
        yield f"{sql};"
        yield f"INSERT INTO {name}({name}) VALUES ('rebuild');"


if __name__ == "__main__":
    (HERE / "archive.sql").write_text(made(), encoding="utf-8")
