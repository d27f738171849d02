"""A project's file that cannot be read any more: named, and the last good state offered and taken."""

from __future__ import annotations

import pickle
from pathlib import Path

import pytest

from enfilade.errors import BadRecord, NotFound, Refused
from enfilade.files import fingerprint
from enfilade.project.last_good import last_good, take_last_good
from enfilade.project.project import Project
from enfilade.project.store import load, save

DAMAGE = {
    "zero bytes": b"",
    "zeros": b"\x00" * 5000,
    "cut short": b'{"format": 1, "id": "small", "na',
    "garbage": b"\x89PNG\r\n\x1a\n",
    "not JSON": b"hello",
    "another record": b'{"format": 1, "id": "small", "name": 7}',
}


@pytest.fixture
def home(tmp_path: Path) -> Path:
    """A folder with two earlier states."""
    folder = tmp_path / "house"
    project = Project(id="small", name="First")
    save(project, folder)
    for name in ("Second", "Third"):
        later = project.model_copy(update={"name": name})
        later._loaded = project._loaded
        save(later, folder)
        project = later
    return folder


@pytest.mark.parametrize("damage", DAMAGE.values(), ids=DAMAGE)
def test_the_newest_state_that_can_be_read_is_offered_and_taken(damage: bytes, home: Path) -> None:
    (home / "project.json").write_bytes(damage)
    with pytest.raises(BadRecord) as caught:
        load(home)
    first, *_, last = str(caught.value).splitlines()
    assert first.startswith(f"{home / 'project.json'}: ")
    assert "the state that stood until" in last
    assert f"`enfilade bring-back {home}` takes it" in last
    good = last_good(home)
    assert good is not None
    assert good.project.name == "Second"
    assert good.path.name in last
    said = take_last_good(home / "project.json")
    assert load(home).name == "Second"
    aside = home / "drafts" / f"unreadable-{fingerprint(damage)[:12]}.json"
    assert aside.read_bytes() == damage
    assert str(aside) in said


def test_a_state_that_cannot_be_read_is_passed_over(home: Path) -> None:
    good = last_good(home)
    assert good is not None
    good.path.write_bytes(b"{")
    (home / "project.json").write_bytes(b"{")
    take_last_good(home)
    assert load(home).name == "First"


def test_nothing_is_offered_where_nothing_is(home: Path) -> None:
    for state in (home / "history").iterdir():
        state.unlink()
    (home / "project.json").write_bytes(b"{")
    with pytest.raises(BadRecord) as caught:
        load(home)
    assert "bring-back" not in str(caught.value)
    with pytest.raises(NotFound, match="no earlier state"):
        take_last_good(home)
    assert (home / "project.json").read_bytes() == b"{"


def test_a_file_that_is_whole_or_newer_stays(home: Path) -> None:
    with pytest.raises(Refused, match="can be read"):
        take_last_good(home)
    newer = (home / "project.json").read_bytes().replace(b'"format": 1', b'"format": 99')
    (home / "project.json").write_bytes(newer)
    with pytest.raises(BadRecord, match="newer than this version reads") as caught:
        load(home)
    assert "bring-back" not in str(caught.value)
    with pytest.raises(Refused, match="is not damaged"):
        take_last_good(home)
    assert (home / "project.json").read_bytes() == newer


def test_a_link_in_the_files_place_goes_aside_and_is_not_followed(home: Path, tmp_path: Path) -> None:
    (tmp_path / "secret.json").write_text("secret")
    (home / "project.json").unlink()
    (home / "project.json").symlink_to(tmp_path / "secret.json")
    take_last_good(home)
    assert load(home).name == "Second"
    assert (tmp_path / "secret.json").read_text() == "secret"


def test_the_offer_survives_a_worker_process(home: Path) -> None:
    (home / "project.json").write_bytes(b"{")
    with pytest.raises(BadRecord) as caught:
        load(home)
    assert str(pickle.loads(pickle.dumps(caught.value))) == str(caught.value)  # our own bytes, not a file's
