"""The desk when the process is killed, the disk is full, the folder is closed or gone, or the file is spoilt."""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from edits import base_house
from enfilade import files
from enfilade.capture import side_places as places
from enfilade.capture.desk import Desk
from enfilade.errors import Refused
from enfilade.project import store
from enfilade.project.project import Project
from enfilade.project.store import kept_states, load, save
from project_folders import as_nobody, folder_state

pytestmark = pytest.mark.skipif(os.name == "nt", reason="needs fork, signals and mounts of POSIX")


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("ENFILADE_DATA", str(tmp_path / "data"))
    monkeypatch.setattr(places.tempfile, "gettempdir", lambda: str(tmp_path / "temp"))
    folder = tmp_path / "house"
    save(base_house().model_copy(), folder)
    return folder


def with_note(project: Project, note: str, id: str = "table") -> Project:
    things = [one.model_copy(update={"note": note}) if one.id == id else one for one in project.things]
    return project.with_records(things=things)


def note(folder: Path) -> str:
    return load(folder).thing("table").note


# A killed kernel

_WRITER = """
import sys
from pathlib import Path
from enfilade.capture.desk import Desk
desk = Desk.open(Path(sys.argv[1]))
for number in range(30):
    house = desk.project
    things = [one.model_copy(update={"note": f"Note {number}"}) if one.id == "table" else one for one in house.things]
    desk.change(f"note {number}", house.with_records(things=things))
    desk.drafts.keep(("things", "lamp", "note"), f"typed {number}")
    print(number, flush=True)
"""


def test_a_process_that_is_killed_between_changes_loses_none_that_it_acknowledged(home: Path) -> None:
    seen = set()
    for attempt, last in enumerate((0, 2, 7, 13, 21)):
        child = subprocess.Popen([sys.executable, "-c", _WRITER, str(home)], stdout=subprocess.PIPE, text=True)
        assert child.stdout is not None
        acknowledged = -1
        while acknowledged < last:
            acknowledged = int(child.stdout.readline())
        time.sleep(0.004 * attempt)  # into the midst of the next change
        child.send_signal(signal.SIGKILL)
        rest = child.communicate()[0].split()
        acknowledged = int(rest[-1]) if rest else acknowledged
        desk = Desk.open(home)
        stands = int(desk.project.thing("table").note.removeprefix("Note "))
        assert acknowledged <= stands <= acknowledged + 1
        seen.add(stands - acknowledged)
        draft = desk.drafts.get(("things", "lamp", "note"))
        assert draft is not None
        assert int(str(draft.typed).removeprefix("typed ")) >= acknowledged
        assert desk.found == ()
        assert desk.others == 0
        desk.close()
    assert 0 in seen


def test_what_a_killed_process_could_not_save_is_offered_back(home: Path) -> None:
    reader, writer = os.pipe()
    child = os.fork()
    if child == 0:
        desk = Desk.open(home)
        (home / "project.json").write_text("{}")
        desk.change("noted", with_note(desk.project, "from the killed one"))
        os.write(writer, b"1" if desk.saved.trouble else b"0")
        time.sleep(60)
        os._exit(0)
    assert os.read(reader, 1) == b"1"
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    shutil.copy(kept_states(home)[0] if kept_states(home) else _saved_again(home), home / "project.json")
    desk = Desk.open(home)
    (found,) = desk.found
    assert desk.told(found) == ("Table (note)",)
    desk.bring_back(found.key)
    assert note(home) == "from the killed one"


def _saved_again(home: Path) -> Path:
    other = home.parent / "other"
    save(base_house().model_copy(), other)
    return other / "project.json"


# A full disk


@pytest.fixture
def tiny_disk(tmp_path: Path) -> Iterator[Path]:
    """A disk of 256 kB."""
    disk = tmp_path / "disk"
    disk.mkdir()
    if os.geteuid() != 0:
        pytest.skip("a small disk is mounted by root alone")
    mounted = subprocess.run(
        ["mount", "-t", "tmpfs", "-o", "size=256k", "none", str(disk)], capture_output=True, check=False
    )
    if mounted.returncode != 0:
        pytest.skip(f"no small disk could be mounted: {mounted.stderr.decode().strip()}")
    try:
        yield disk
    finally:
        subprocess.run(["umount", str(disk)], check=True)


def test_on_a_full_disk_the_work_is_kept_elsewhere_until_there_is_room(home: Path, tiny_disk: Path) -> None:
    folder = tiny_disk / "house"
    save(base_house().model_copy(), folder)
    desk = Desk.open(folder)
    ballast = tiny_disk / "ballast"
    with ballast.open("wb", buffering=0) as stream:
        try:
            while True:
                stream.write(b"x" * 4096)
        except OSError:
            pass
    before = (folder / "project.json").read_bytes()
    heard: list[str] = []
    desk.watch(lambda: heard.append(desk.saved.words))
    desk.change("noted", with_note(desk.project, "while it was full"))
    assert desk.saved.trouble
    assert desk.saved.words == "Not saved: the disk is full."
    assert "Make room" in desk.saved.do
    kept = home.parent / "data" / "unsaved"
    assert str(kept) in desk.saved.do
    assert (folder / "project.json").read_bytes() == before
    (version,) = (path for path in kept.rglob("*.json") if "while it was full" in path.read_text())
    assert oct(version.parent.stat().st_mode)[-3:] == "700"
    desk.drafts.keep(("things", "lamp", "note"), "half typed")
    assert desk.drafts.trouble == ""
    desk.change("noted", with_note(desk.project, "and more"))
    desk.look()
    assert desk.saved.words == "Not saved: the disk is full."
    ballast.unlink()
    assert desk.look() is False  # the house here did not change; how it is kept did
    assert not desk.saved.trouble
    assert desk.saved.words.startswith("Saved again ")
    assert note(folder) == "and more"
    assert heard[-1] == desk.saved.words
    assert [path for path in kept.rglob("*.json") if len(path.stem) == 64] == []
    desk.close()
    again = Desk.open(folder)
    draft = again.drafts.get(("things", "lamp", "note"))
    assert draft is not None
    assert draft.typed == "half typed"
    assert again.found == ()
    again.close()


def test_where_nothing_can_be_written_the_window_keeps_it_and_says_so(
    home: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    desk = Desk.open(home)
    shutil.rmtree(home)
    for place in ("data", "temp"):
        (home.parent / place).write_text("a file stands here")
    desk.change("noted", with_note(desk.project, "in memory"))
    assert desk.saved.trouble
    assert "kept in this window alone: leave it open" in desk.saved.do
    desk.drafts.keep(("things", "lamp", "note"), "half typed")
    assert desk.drafts.trouble
    home.mkdir()
    desk.look()
    assert note(home) == "in memory"
    desk.drafts.keep(("things", "lamp", "note"), "half typed, and more")
    assert desk.drafts.trouble == ""
    assert not desk.saved.trouble


def test_a_folder_that_another_window_holds_is_tried_again(home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    desk = Desk.open(home)
    monkeypatch.setattr(store, "locked", lambda folder: files.locked(folder, wait_s=0.05))
    with files.locked(home):
        desk.change("noted", with_note(desk.project, "meanwhile"))
        assert desk.saved.words == "Not saved yet: another window holds the project's folder."
        assert "tried again by itself" in desk.saved.do
        assert desk.question is None
    desk.look()
    assert not desk.saved.trouble
    assert note(home) == "meanwhile"


# A folder that may not be written


def test_a_folder_that_may_not_be_written() -> None:
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name) / "house"
        save(base_house().model_copy(), folder)
        for path in (Path(name), folder):
            path.chmod(0o755)
        before = folder_state(folder)
        data = Path(name) / "data"
        data.mkdir(mode=0o777)
        data.chmod(0o777)

        def tried() -> str:
            os.environ["ENFILADE_DATA"] = str(data)
            desk = Desk.open(folder)
            desk.change("noted", with_note(desk.project, "by nobody"))
            desk.drafts.keep(("things", "lamp", "note"), "half typed")
            told = f"{desk.saved.words} {desk.saved.do}"
            desk.look()
            desk.close()
            again = Desk.open(folder)
            draft = again.drafts.get(("things", "lamp", "note"))
            return (
                f"{told} | {[again.told(one) for one in again.found]} | {draft and draft.typed} | {desk.drafts.trouble}"
            )

        told = as_nobody(tried)
        assert f"Not saved: the folder {folder} may not be written." in told
        assert f"Meanwhile your work is kept in {data}/unsaved/house-" in told
        assert "('Table (note)',)" in told
        assert "| half typed |" in told
        assert folder_state(folder) == before


# A folder that is gone


def test_a_folder_that_is_gone_is_not_made_anew_and_goes_on_when_it_is_back(home: Path) -> None:
    desk = Desk.open(home)
    away = home.with_name("elsewhere")
    home.rename(away)
    desk.look()
    assert desk.saved.trouble
    assert "is gone" in desk.saved.words
    desk.change("noted", with_note(desk.project, "meanwhile"))
    desk.drafts.keep(("things", "lamp", "note"), "half typed")
    assert not home.exists()
    assert str(home.parent / "data") in desk.saved.do
    assert desk.undo() == "noted"  # editing goes on, undo too
    desk.redo()
    away.rename(home)
    desk.look()
    assert desk.saved.words.startswith("Saved again")
    assert note(home) == "meanwhile"


def test_a_file_that_was_taken_away_is_written_again(home: Path) -> None:
    desk = Desk.open(home)
    desk.change("noted", with_note(desk.project, "here"))
    (home / "project.json").unlink()
    desk.look()
    assert note(home) == "here"


# A file that another hand spoilt


@pytest.mark.parametrize(
    "garbage", [b"", b"\xff\xfe\x00", b'{"format": 1, "id": "x"', b'{"format": 99, "id": "x", "name": "X"}']
)
def test_a_spoilt_file_is_not_written_over_until_that_is_chosen(home: Path, garbage: bytes) -> None:
    desk = Desk.open(home)
    desk.change("noted", with_note(desk.project, "good"))
    (home / "project.json").write_bytes(garbage)
    desk.look()
    assert desk.saved.trouble
    assert "changed by another hand and cannot be read" in desk.saved.words
    desk.change("noted", with_note(desk.project, "better"))
    assert (home / "project.json").read_bytes() == garbage
    assert desk.question is not None
    assert desk.question.kind == "unreadable"
    with pytest.raises(Refused, match="nothing that could be taken"):
        desk.answer("theirs", desk.question.key)
    desk.answer("mine", desk.question.key)
    assert note(home) == "better"
    assert not desk.saved.trouble
    assert desk.question is None
    assert any(path.read_bytes() == garbage for path in (home / "drafts").glob("unreadable-*.json"))


def test_a_spoilt_file_that_is_mended_is_taken_in(home: Path) -> None:
    desk = Desk.open(home)
    good = (home / "project.json").read_bytes()
    (home / "project.json").write_bytes(good[:100])
    desk.change("noted", with_note(desk.project, "here"))
    assert desk.saved.trouble
    (home / "project.json").write_bytes(good.replace(b'"Test house"', b'"Mended house"'))
    desk.look()
    assert not desk.saved.trouble
    assert desk.question is None
    assert (load(home).name, note(home)) == ("Mended house", "here")


@pytest.mark.parametrize("thing", ["link", "folder", "pipe"])
def test_something_else_in_the_place_of_the_file(home: Path, thing: str) -> None:
    desk = Desk.open(home)
    path = home / "project.json"
    data = path.read_bytes()
    path.unlink()
    if thing == "link":
        (home.parent / "outside.json").write_bytes(data)
        path.symlink_to(home.parent / "outside.json")
    elif thing == "folder":
        path.mkdir()
    else:
        os.mkfifo(path)
    desk.change("noted", with_note(desk.project, "here"))
    desk.look()
    assert desk.saved.trouble
    assert desk.question is None
    assert not path.is_file() or (home.parent / "outside.json").read_bytes() == data
    path.rmdir() if thing == "folder" else path.unlink()
    desk.look()
    assert note(home) == "here"
    assert not desk.saved.trouble


def test_a_link_in_the_place_of_the_drafts_is_not_followed(home: Path) -> None:
    outside = home.parent / "outside"
    outside.mkdir()
    (home / "drafts").symlink_to(outside)
    desk = Desk.open(home)
    other = Desk.open(home)
    other.change("noted", with_note(other.project, "one"))
    desk.change("noted", with_note(desk.project, "two"))
    desk.drafts.keep(("things", "lamp", "note"), "half typed")
    assert desk.question is not None
    assert str(home.parent / "data") in desk.saved.do
    assert list(outside.iterdir()) == []
    for one in (desk, other):
        one.close()
    assert Desk.open(home).drafts.get(("things", "lamp", "note")) is not None


def test_a_temporary_folder_of_somebody_else_is_not_used(home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    if os.geteuid() != 0:
        pytest.skip("needs to give a folder to somebody else")
    strange = home.parent / "temp" / f"enfilade-{os.getuid()}"
    strange.mkdir(parents=True)
    os.chown(strange, 65534, 65534)
    (home.parent / "data").write_text("a file stands here")
    desk = Desk.open(home)
    shutil.rmtree(home)
    desk.change("noted", with_note(desk.project, "secret"))
    assert "this window alone" in desk.saved.do
    assert list(strange.iterdir()) == []


def test_a_photograph_that_is_gone_is_told_and_nothing_is_lost(home: Path) -> None:
    desk = Desk.open(home)
    photograph = {"id": "one", "file": "0" * 64 + ".png"}
    desk.change("added a photograph", desk.project.with_records(photographs=[photograph]))
    assert desk.saved.trouble
    assert "0000" in desk.saved.words
    desk.undo()
    assert not desk.saved.trouble
    assert load(home) == desk.project
