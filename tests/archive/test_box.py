"""A project in one file: the same bytes each time, read by other programs, and taken in with the same seals."""

from __future__ import annotations

import errno
import hashlib
import io
import json
import os
import shutil
import subprocess
import zipfile
from pathlib import Path

import pytest

import enfilade as ef
from box_making import good_box
from enfilade.archive.adding import add_version
from enfilade.archive.archive import Archive
from enfilade.archive.box import read_box, take_in, unpack, write_box
from enfilade.archive.store import Store
from enfilade.errors import BadRecord, Conflict, Refused
from enfilade.project.project import Project
from enfilade.project.store import load, save
from enfilade.project.writing import project_text
from needs import need
from project_folders import good_project


def renamed(folder: Path, name: str) -> Project:
    project = load(folder)
    changed = project.model_copy(update={"name": name})
    changed._loaded = project._loaded
    save(changed, folder)
    return changed


@pytest.fixture
def home(tmp_path: Path) -> Path:
    """The demo house with a studio's file, kept by nobody yet."""
    folder = tmp_path / "house"
    save(ef.demo(), folder)
    (folder / "studio.toml").write_text('[studio]\nname = "Studio (invented)"\n')
    (folder / "light").mkdir()
    (folder / "light" / "lamp \u00e9.csv").write_text("0,1\n")
    return folder


def test_a_box_goes_from_archive_to_archive(address: str, home: Path, tmp_path: Path) -> None:
    with Archive(address) as archive:
        archive.keep(home, why="before the tender \u2014 \U0001f6b0 \u53a8\u623f", who="the designer")
        project = renamed(home, "Later")
        archive.keep(home, who="a colleague")
        box = write_box(archive, project.id, tmp_path / "box.zip")
        assert write_box(archive, project.id, tmp_path / "again.zip").read_bytes() == box.read_bytes()
        kept = archive.versions(project.id)
        files = [{path: archive.file(project.id, path, n) for path in archive.paths(project.id, n)} for n in (1, 2)]
        assert take_in(archive, box) == []  # nothing new
    found = read_box(box)
    assert list(found.versions) == kept
    assert [found.files(1), found.files(2)] == files
    with Store(str(tmp_path / "other.sqlite")) as other:
        assert take_in(other, box) == kept
        assert other.versions(project.id) == kept
        assert {path: other.file(project.id, path, 1) for path in other.paths(project.id, 1)} == files[0]
        assert write_box(other, project.id, tmp_path / "back.zip").read_bytes() == box.read_bytes()


def test_an_archive_that_holds_the_beginning_is_continued(home: Path, tmp_path: Path) -> None:
    early, late = tmp_path / "early.zip", tmp_path / "late.zip"
    with Archive(str(tmp_path / "a.sqlite")) as archive:
        name = load(home).id
        archive.keep(home)
        write_box(archive, name, early)
        renamed(home, "Later")
        archive.keep(home)
        write_box(archive, name, late)
    with Archive(str(tmp_path / "b.sqlite")) as other:
        assert [one.number for one in take_in(other, early)] == [1]
        assert [one.number for one in take_in(other, late)] == [2]
        assert take_in(other, early) == []  # the archive is ahead of it
        assert other.find("Sunday", limit=1).total > 0  # what was taken in can be found


def test_archives_that_parted_are_not_mixed(home: Path, tmp_path: Path) -> None:
    with Archive(str(tmp_path / "a.sqlite")) as archive, Archive(str(tmp_path / "b.sqlite")) as other:
        name = load(home).id
        archive.keep(home, who="the designer")
        take_in(other, write_box(archive, name, tmp_path / "box.zip"))
        theirs = shutil.copytree(home, tmp_path / "theirs")
        renamed(home, "Mine")
        archive.keep(home, who="the designer")
        renamed(theirs, "Theirs")
        other.keep(theirs, who="the colleague", onto=1)
        box = write_box(archive, name, tmp_path / "box.zip")
        with pytest.raises(Conflict, match=r"the same up to version 1; the .* version 2 .* by the colleague, the"):
            take_in(other, box)
        assert [one.who for one in other.versions(name)] == ["the designer", "the colleague"]


def test_an_archive_for_students_takes_no_private_box(home: Path, tmp_path: Path) -> None:
    with Archive(str(tmp_path / "a.sqlite")) as archive:
        archive.keep(home)
        box = write_box(archive, load(home).id, tmp_path / "box.zip")
    with Store(str(tmp_path / "students.sqlite"), released=True) as students:
        with pytest.raises(Refused, match="copies for students alone"):
            take_in(students, box)
        assert students.projects() == []


def test_a_version_is_unpacked_as_a_folder(home: Path, tmp_path: Path) -> None:
    with Archive(str(tmp_path / "a.sqlite")) as archive:
        first = load(home)
        archive.keep(home)
        renamed(home, "Later")
        archive.keep(home)
        box = write_box(archive, first.id, tmp_path / "box.zip")
    for number, name in ((1, first.name), (None, "Later"), (2, "Later")):
        folder = unpack(box, tmp_path / f"out-{number}", number)
        assert load(folder).name == name
        assert (folder / "light" / "lamp \u00e9.csv").read_text() == "0,1\n"
        assert (folder / "studio.toml").read_bytes() == (home / "studio.toml").read_bytes()
    assert (tmp_path / "out-1" / "project.json").read_bytes() == project_text(ef.demo()).encode()


def test_a_damaged_archive_is_not_boxed(home: Path, tmp_path: Path) -> None:
    from sqlalchemy import text

    box = tmp_path / "box.zip"
    box.write_bytes(good_box())
    with Archive(str(tmp_path / "a.sqlite")) as archive:
        archive.keep(home)
        archive.writing(lambda connection: connection.execute(text("UPDATE versions SET who = 'somebody else'")))
        with pytest.raises(BadRecord, match="its seal does not fit"):
            write_box(archive, load(home).id, box)
    assert box.read_bytes() == good_box()


@pytest.mark.parametrize("path", ["light/con", "light/a:b", "light/a\\b", "light/a.", "../a", "/a", "light/\x1b"])
def test_a_path_that_not_every_machine_holds_is_never_kept(path: str, tmp_path: Path) -> None:
    project = good_project()
    files = {"project.json": project_text(project).encode(), path: b""}
    with Store(str(tmp_path / "a.sqlite")) as store:
        with pytest.raises(Refused, match="cannot be kept"):
            add_version(store, project, files, who="", why="", base=None)
        assert store.projects() == []


# With an outside eye: programs that know nothing of us.


def test_pythons_zip_reader_finds_it_whole() -> None:
    with zipfile.ZipFile(io.BytesIO(good_box())) as box:
        assert box.testzip() is None
        assert box.namelist() == sorted(box.namelist())
        assert {entry.date_time for entry in box.infolist()} == {(1980, 1, 1, 0, 0, 0)}
        manifest = json.loads(box.read("manifest.json"))
        assert [one["number"] for one in manifest["versions"]] == [1, 2, 3]
        for version in manifest["versions"]:
            for path, member in version["files"].items():
                data = box.read(member)
                if path.startswith("photos/"):
                    assert path.split("/")[1].startswith(hashlib.sha256(data).hexdigest())
        assert "sha256sum -c SHA256SUMS" in box.read("README.txt").decode()


def test_the_seals_can_be_made_again_from_the_readme_alone() -> None:
    """The recipe as README.txt tells it, written down a second time with nothing of ours."""
    with zipfile.ZipFile(io.BytesIO(good_box())) as box:
        manifest = json.loads(box.read("manifest.json"))
        before = ""
        for one in manifest["versions"]:
            words = [before, manifest["project"]["id"], str(one["number"]), one["on"], one["who"], one["why"],
                     str(one["format"]), one["yardstick"], one["house_rules"]]  # fmt: skip
            digests = {path: hashlib.sha256(box.read(member)).hexdigest() for path, member in one["files"].items()}
            words += [f"{digests[path]} {path}" for path in sorted(digests)]
            before = hashlib.sha256(b"\x00".join(word.encode() for word in words)).hexdigest()
            assert one["seal"] == before


def test_unzip_and_sha256sum_find_it_whole(tmp_path: Path) -> None:
    unzip, sums = need(shutil.which("unzip"), "unzip"), need(shutil.which("sha256sum"), "sha256sum")
    box = tmp_path / "box.zip"
    box.write_bytes(good_box())
    tested = subprocess.run([unzip, "-t", str(box)], capture_output=True, text=True, check=False)
    assert tested.returncode == 0, tested.stdout
    assert "No errors detected" in tested.stdout
    subprocess.run([unzip, "-q", str(box), "-d", str(tmp_path / "out")], check=True)
    checked = subprocess.run([sums, "--strict", "-c", "SHA256SUMS"], cwd=tmp_path / "out", capture_output=True,
                             text=True, check=False, env={**os.environ, "LC_ALL": "C"})  # fmt: skip
    assert checked.returncode == 0, checked.stdout + checked.stderr
    count = sum(1 for path in (tmp_path / "out").rglob("*") if path.is_file())
    assert checked.stdout.count(": OK\n") == count - 1  # all but the list itself


def test_a_full_disk_leaves_the_box_that_stood_there(
    home: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    box = tmp_path / "box.zip"
    box.write_bytes(good_box())

    def full(*_: object, **__: object) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    with Archive(str(tmp_path / "a.sqlite")) as archive:
        archive.keep(home)
        monkeypatch.setattr(zipfile.ZipFile, "writestr", full)
        with pytest.raises(Refused, match="No space left"):
            write_box(archive, "long-shed", box)
    assert box.read_bytes() == good_box()
    assert not [entry for entry in tmp_path.iterdir() if entry.name.endswith(".part")]


def test_a_box_that_changes_while_it_is_used_is_noticed(tmp_path: Path) -> None:
    """What was verified is what is used: bytes that are exchanged in between are refused."""
    box = tmp_path / "box.zip"
    box.write_bytes(good_box())
    found = read_box(box)
    with zipfile.ZipFile(io.BytesIO(good_box())) as old, zipfile.ZipFile(box, "w") as new:
        for entry in old.infolist():
            new.writestr(entry, old.read(entry).replace(b"The third", b"The thirt"), compress_type=zipfile.ZIP_DEFLATED)
    with pytest.raises((BadRecord, Conflict)):
        found.files()
