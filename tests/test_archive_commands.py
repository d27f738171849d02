"""The commands of the archive, as scripts rely on them: results on stdout, refusals on stderr with exit code 2."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest
from sqlalchemy import update

import enfilade as ef
from enfilade.archive import tables as t
from enfilade.archive.archive import Archive
from enfilade.cli import main


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with the demo house in it, and an archive of its own that is not there yet."""
    monkeypatch.setenv("ENFILADE_ARCHIVE", str(tmp_path / "archive.sqlite"))
    monkeypatch.setenv("ENFILADE_DATA", str(tmp_path / "data"))
    monkeypatch.chdir(tmp_path)
    ef.save(ef.demo(), tmp_path / "demo")
    return tmp_path


def run(capsys: pytest.CaptureFixture[str], *words: str, code: int = 0) -> str:
    """Run a command that ends as it should, and return what it printed."""
    assert main(list(words)) == code
    printed, told = capsys.readouterr()
    assert "Traceback" not in told
    if code == 2:
        assert printed == ""
        return told
    return printed


def longer_island(folder: Path, by_mm: float) -> None:
    project = ef.load(folder)
    things = [
        one.model_copy(update={"width_mm": one.width_mm + by_mm}) if one.id == "island" else one
        for one in project.things
    ]
    ef.save(project.with_records(things=things), folder)


def test_kept_listed_and_brought_back(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    first = (home / "demo" / "project.json").read_bytes()
    printed = run(capsys, "keep", "demo", "--why", "before the tender")
    assert "version 1" in printed
    assert str(home / "archive.sqlite") in printed
    assert "nothing was added" in run(capsys, "keep", "demo")
    longer_island(home / "demo", 150)
    # 150 mm are 5 7/8 in and 0.8 mm.
    assert '5 7/8" longer' in run(capsys, "keep", "demo", "--by", "J. Corbel")
    listed = run(capsys, "versions", ef.demo().id)
    assert listed.index("version 2") < listed.index("version 1")
    assert "before the tender" in listed
    (line,) = run(capsys, "versions").splitlines()
    assert line.startswith(f"{ef.demo().id}  {ef.demo().name}; version 2, ")
    assert "`enfilade versions` lists" in run(capsys, "versions", "long-shad", code=2)
    run(capsys, "bring-back", "demo", "--version", "1", "--out", "back")
    assert (home / "back" / "project.json").read_bytes() == first
    # Its own folder says which version stands there now, where the former state went, and what it goes on from.
    told = run(capsys, "bring-back", "demo", "--version", "1")
    assert "version 1, " in told
    assert str(home / "demo") in told
    state = Path(told.partition("before is ")[2].partition(".\n")[0])
    assert state.is_relative_to(home / "demo")
    assert state.read_bytes() != first
    assert "a change to version 2" in told
    assert "no version 9" in run(capsys, "bring-back", "demo", "--version", "9", "--out", "other", code=2)


def test_a_damaged_record_is_named_and_its_last_good_state_taken(
    home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    longer_island(home / "demo", 150)  # so that there is an earlier state
    file = home / "demo" / "project.json"
    file.write_bytes(file.read_bytes()[:2000])
    told = run(capsys, "check", "demo", code=2)
    assert "project.json" in told
    assert "bring-back" in told
    run(capsys, "bring-back", "demo")
    assert ef.load(home / "demo") == ef.demo()


def test_a_damaged_folder_without_earlier_states_names_how_it_comes_back(
    home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    run(capsys, "keep", "demo")
    run(capsys, "bring-back", "demo", "--version", "1", "--out", "back")
    (home / "back" / "project.json").write_text("{")
    assert "bring-back" in run(capsys, "check", "back", code=2)
    told = run(capsys, "bring-back", "back", code=2)
    assert "`enfilade bring-back back --version 1` brings version 1 of long-shed back" in told
    told = run(capsys, "bring-back", "back", "--version", "1")
    assert "unreadable-" in told
    assert ef.load(home / "back") == ef.demo()


def test_found_by_words_and_by_figures(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    run(capsys, "keep", "demo")
    assert "“soapston” was read as “soapstone”" in run(capsys, "find", "soapston", "counter")
    found = json.loads(run(capsys, "find", "islands between 2.4 and 3.0 m with four seats", "--json"))
    # The demo house's island: 105 in, four stools.
    assert [(one["kind"], one["id"]) for one in found] == [("island", "island")]
    assert set(found[0]) == {"project", "version", "space", "kind", "id", "text", "score"}
    run(capsys, "find", "larch", "--page", "found.html")
    assert "<svg" in (home / "found.html").read_text("utf-8")
    assert "Nothing was found" in run(capsys, "find", "submarine")
    assert "no archive at" in run(capsys, "find", "larch", "--archive", "nowhere.sqlite", code=2)
    assert not (home / "nowhere.sqlite").exists()


def test_compared(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    run(capsys, "keep", "demo")
    longer_island(home / "demo", 150)
    run(capsys, "keep", "demo")
    name = ef.demo().id
    whole = run(capsys, "compare", f"{name}@1", name, "--all")
    assert "ROOMS AND AREAS" in whole
    # What differs comes first, and what is the same is named alone. 150 mm are 5.906 in: 5 7/8 and a bit.
    differing = run(capsys, "compare", f"{name}@1", name)
    assert 'island is 5 7/8" longer' in differing.split("VERDICTS")[0]
    assert "ROOMS AND AREAS" not in differing
    assert "The same in all: Rooms and areas;" in " ".join(differing.split())
    assert len(differing.splitlines()) < len(whole.splitlines()) / 2
    plain = json.loads(run(capsys, "compare", "demo", f"{name}@1", "--json"))
    assert len(plain["columns"]) == 2
    assert "expected 2 to 6" in run(capsys, "compare", "demo", code=2)


def test_learnt_and_answered(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    run(capsys, "keep", "demo")
    ef.save(ef.demo().model_copy(update={"id": "second-house", "name": "Second house"}), home / "second")
    found = json.loads(run(capsys, "lessons", "second", "--json"))
    assert found
    assert all(one["open"] and one["reasons"] for one in found)
    first = found[0]["id"]
    assert "--reason" in run(capsys, "lessons", "second", "--dismiss", first, code=2)
    assert "keep it" in run(capsys, "lessons", "second", "--dismiss", first, "--reason", "another stone", code=2)
    run(capsys, "keep", "second")
    run(capsys, "lessons", "second", "--dismiss", first, "--reason", "another stone")
    (answered,) = [one for one in json.loads(run(capsys, "lessons", "second", "--json")) if one["id"] == first]
    assert answered["answered"]["kind"] == "dismissed"
    assert not answered["open"]
    offered = next(one for one in found if one["offers"])
    row = offered["offers"][0]["row"]
    assert "needs a row" in run(capsys, "lessons", "second", "--rule", offered["id"], code=2)
    run(capsys, "lessons", "second", "--rule", offered["id"], "--row", row, "--value", "60 in")
    rules = home / "second" / "studio.toml"
    assert f'"{row}"' in rules.read_text("utf-8")
    # Dismissed later, the lesson is no rule any more, and the studio's file still holds it: said, with the way out.
    dismissed = ("lessons", "second", "--dismiss", offered["id"], "--reason", "another stone")
    assert main(list(dismissed)) == 0
    told = capsys.readouterr().err
    assert f"The house rule {row} = " in told
    assert "delete its line there" in told
    assert str(rules) in told
    assert main(list(dismissed)) == 0
    assert "house rule" not in capsys.readouterr().err


def test_boxed_and_taken_in(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    run(capsys, "keep", "demo")
    run(capsys, "box", "demo", "--out", "demo-box.zip")
    (home / "demo-box.zip").touch()
    assert "--replace" in run(capsys, "box", "demo", "--out", "demo-box.zip", code=2)
    run(capsys, "box", "demo", "--out", "demo-box.zip", "--replace")
    run(capsys, "unbox", "demo-box.zip", "--out", "unpacked")
    assert ef.load(home / "unpacked") == ef.demo()
    assert "version 1" in run(capsys, "unbox", "demo-box.zip", "--archive", "other.sqlite")
    assert "nothing was added" in run(capsys, "unbox", "demo-box.zip", "--archive", "other.sqlite")
    (home / "cut.zip").write_bytes((home / "demo-box.zip").read_bytes()[:-400])
    assert "cut.zip" in run(capsys, "unbox", "cut.zip", "--archive", "third.sqlite", code=2)


def test_released_without_the_client(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    run(capsys, "keep", "demo")
    run(capsys, "release", "demo", "--to", "students.sqlite")
    names = ef.demo().client.names
    assert names
    assert run(capsys, "find", "island", "--archive", "students.sqlite").count("found") == 1
    data = (home / "students.sqlite").read_bytes()
    assert not [name for name in names if name.encode() in data]


def test_forgotten_only_when_it_is_asked_for(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    run(capsys, "keep", "demo")
    before = (home / "demo" / "project.json").read_bytes()
    told = run(capsys, "forget", "demo")
    assert "To be erased: 2 names of the client" in told
    # Nothing is done yet: what would be done is said as such.
    for done in ("They went", "not touched", "were made anew", "were left alone"):
        assert done not in told
    assert "They would go out of 1 version" in told
    assert "All seals would be made anew" in told
    assert (home / "demo" / "project.json").read_bytes() == before
    assert "Erased: 2 names of the client" in run(capsys, "forget", "demo", "--folder", "demo", "--erase")
    assert ef.load(home / "demo").client.names == ()
    left = [path.read_bytes() for path in (home, home / "demo") for path in path.glob("*") if path.is_file()]
    assert not [name for name in ef.demo().client.names for data in left if name.encode() in data]


def test_verified_and_the_copy_taken(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    run(capsys, "keep", "demo")
    longer_island(home / "demo", 150)
    run(capsys, "keep", "demo")  # the first keep of the day finds nothing to copy, the second does
    assert "every one is as it was kept" in run(capsys, "verify")
    data = bytearray((home / "archive.sqlite").read_bytes())
    data[100:] = b"\x00" * (len(data) - 100)
    for beside in ("archive.sqlite-wal", "archive.sqlite-shm"):
        (home / beside).unlink(missing_ok=True)
    (home / "archive.sqlite").write_bytes(data)
    told = run(capsys, "versions", ef.demo().id, code=2)
    assert "archive.sqlite" in told
    assert "copy" in told
    assert "enfilade verify --take-copy" in told
    assert "enfilade verify --take-copy" in run(capsys, "verify", code=2)
    told = run(capsys, "verify", "--take-copy")
    assert "every one is as it was kept" in told
    assert "archive.sqlite.damaged-" in told
    assert "is whole" in run(capsys, "verify", "--take-copy", code=2)


def test_damage_that_leaves_the_rest_readable_names_the_copy_and_what_it_lacks(
    home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    run(capsys, "keep", "demo")
    for _ in range(2):
        longer_island(home / "demo", 150)
        run(capsys, "keep", "demo")
    with Archive(str(home / "archive.sqlite")) as archive:
        archive.writing(lambda one: one.execute(update(t.versions).where(t.versions.c.number == 2).values(why="?")))
    assert "enfilade verify --take-copy" in run(capsys, "verify", code=1)
    told = run(capsys, "verify", "--take-copy")
    assert "archive.sqlite.before-copy-" in told
    assert "long-shed: versions 2 to 3" in told


def test_of_two_copies_the_second_is_told_and_both_are_brought_together(
    home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    run(capsys, "keep", "demo")
    shutil.copytree(home / "demo", home / "theirs")
    longer_island(home / "theirs", 150)
    run(capsys, "keep", "theirs", "--by", "the colleague")
    project = ef.load(home / "demo")
    ef.save(
        project.with_records(products=[one.model_copy(update={"note": "Ask once more."}) for one in project.products]),
        home / "demo",
    )
    told = run(capsys, "keep", "demo", code=2)
    assert "the colleague" in told
    assert "--merge" in told
    # A side of a place that is not asked is not passed over in silence.
    told = run(capsys, "keep", "demo", "--take", "things/island/width_mm=theirs", code=2)
    assert "things/island/width_mm" in told
    assert "no --take" in told
    run(capsys, "keep", "demo", "--merge")
    both = ef.load(home / "demo")
    assert both.thing("island").width_mm == ef.demo().thing("island").width_mm + 150
    assert {one.note for one in both.products} == {"Ask once more."}
