"""A copy for students holds what they may be told and nothing else, however deep one looks."""

from __future__ import annotations

from pathlib import Path

import pytest

import enfilade as ef
from documents.planting import WORD, Place, full_house, plant, saved, visible
from enfilade.archive.archive import Archive
from enfilade.archive.releasing import as_released, grant, release
from enfilade.archive.store import Store
from enfilade.errors import NotFound, Refused
from enfilade.project.audience import for_audience
from enfilade.project.project import Project


@pytest.fixture(scope="module")
def planted(tmp_path_factory: pytest.TempPathFactory) -> tuple[Project, dict[str, Place]]:
    """The full house with a secret in every field that takes words, in a folder of its own."""
    project, at = plant(full_house())
    return saved(project, tmp_path_factory.mktemp("house")), at


def secrets_in(text: str) -> set[str]:
    return set(WORD.findall(text.lower()))


def test_no_byte_of_the_file_for_students_holds_what_they_may_not_know(
    planted: tuple[Project, dict[str, Place]], tmp_path: Path
) -> None:
    project, at = planted
    assert project.folder is not None
    (project.folder / "studio.toml").write_text('[studio]\nname = "qqletterhead"\naddress = "qqaddress"\n')
    may = set(visible(project, "student"))
    with Archive(str(tmp_path / "all.sqlite")) as archive:
        archive.keep(project.folder, who="qqwho", why="qqwhy")
        to = tmp_path / "students" / "students.sqlite"
        version = release(archive, project.id, str(to), who="the studio", why="for the course")
        assert (version.number, version.who, version.why) == (1, "the studio", "for the course")
        assert release(archive, project.id, str(to)).number == 1  # the very same is there
    (project.folder / "studio.toml").unlink()
    with Store(str(to), create=False) as students:
        assert students.released
        paths = students.paths(version.project)
        assert paths.keys() == {"project.json", "findings.json"}
        told = "".join(students.file(version.project, path).decode() for path in paths)
        record = students.project(version.project)
        assert len(ef.check(record)) > 100
        while_open = b"".join(path.read_bytes() for path in to.parent.iterdir())
    raw = (while_open + b"".join(path.read_bytes() for path in to.parent.iterdir())).decode("latin-1")
    found = secrets_in(raw) | secrets_in(told)
    assert {at[word] for word in found} - may == set()
    assert len(found) > 100
    assert "qq" not in told
    assert [word for word in ("qqletterhead", "qqaddress", "qqwho", "qqwhy", "qqcamera") if word in raw] == []
    # All that they may be told is there.
    whole = for_audience(project, "student")
    assert [one.hindsight for one in record.decisions] == [one.hindsight for one in whole.decisions]
    assert [one.reason for one in record.answers] == [one.reason for one in whole.answers]


def test_a_later_version_is_added_to_the_copy_under_an_id_without_names(tmp_path: Path) -> None:
    project = ef.demo().model_copy(update={"id": "merrowby-shed"})
    ef.save(project, tmp_path / "house")
    to = str(tmp_path / "students.sqlite")
    with Archive(str(tmp_path / "all.sqlite")) as archive:
        archive.keep(tmp_path / "house")
        first = release(archive, project.id, to, who="Odalys Merrowby", why="as the Merrowbys allowed")
        changed = ef.load(tmp_path / "house")
        later = changed.model_copy(update={"household": changed.household.model_copy(update={"bedrooms": 7})})
        later._loaded = changed._loaded
        ef.save(later, tmp_path / "house")
        archive.keep(tmp_path / "house")
        second = release(archive, project.id, to)
        assert (first.number, second.number) == (1, 2)
        assert first.project == second.project
        assert "merrowby" not in repr(first).lower()
        assert release(archive, project.id, to, number=1).number == 3  # an earlier state may be released again


def test_two_projects_whose_ids_hold_names_stay_two_copies(tmp_path: Path) -> None:
    to = str(tmp_path / "students.sqlite")
    copies = set()
    with Archive(str(tmp_path / "all.sqlite")) as archive:
        for number, id in enumerate(("merrowby", "odalys")):
            project = ef.demo().model_copy(
                update={"id": id, "show": ef.demo().show.model_copy(update={"version": str(number)})}
            )
            ef.save(project, tmp_path / id)
            archive.keep(tmp_path / id)
            copies.add(release(archive, id, to).project)
    assert len(copies) == 2


def test_a_copy_is_never_put_where_the_rest_is(tmp_path: Path) -> None:
    ef.save(ef.demo(), tmp_path / "house")
    here, other = tmp_path / "all.sqlite", tmp_path / "other.sqlite"
    Store(str(other)).close()
    with Archive(str(here)) as archive:
        archive.keep(tmp_path / "house")
        (tmp_path / "link.sqlite").symlink_to(here)
        for to in (None, str(here), str(tmp_path / "." / "all.sqlite"), str(tmp_path / "link.sqlite"), str(other)):
            with pytest.raises(Refused):
                release(archive, "long-shed", to)
        with pytest.raises(NotFound):
            release(archive, "nowhere", str(tmp_path / "students.sqlite"))
        with pytest.raises(NotFound):
            release(archive, "long-shed", str(tmp_path / "students.sqlite"), number=7)
        with pytest.raises(Refused, match="knows no roles"):
            grant(archive, "student")
    with Store(str(other)) as whole:
        assert whole.projects() == []
    with Store(str(tmp_path / "new.sqlite"), released=True) as students, pytest.raises(Refused):
        release(students, "long-shed", str(tmp_path / "more.sqlite"))


def test_in_a_shared_database_the_copy_lies_beside_the_rest(address: str, tmp_path: Path) -> None:
    if "://" not in address:
        pytest.skip("a file holds no copies beside the rest")
    ef.save(ef.demo(), tmp_path / "house")
    with Archive(address) as archive:
        archive.keep(tmp_path / "house")
        version = release(archive, "long-shed")
        seen = as_released(archive)
        assert [one.id for one in seen.projects()] == [version.project]
        assert seen.project(version.project).client.names == ()
        assert archive.project("long-shed").client.names
        assert [one.id for one in archive.projects()] == ["long-shed"]
        with pytest.raises(Refused, match="the archive itself"):
            release(archive, "long-shed", address)
        to = str(tmp_path / "students.sqlite")
        assert release(archive, "long-shed", to).project == version.project
