"""Issues: what each audience was told, kept beside the project; damaged and foreign files."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

import enfilade as ef
from enfilade.errors import BadRecord, Conflict, Refused
from enfilade.project.audience import for_audience
from enfilade.project.fields import AUDIENCES, Audience
from enfilade.project.issues import FOLDER, KEPT, as_kept, issued_to, keep_issue
from enfilade.project.project import Project
from enfilade.project.store import load, save
from hostile import with_hostile_text


@pytest.fixture
def home(tmp_path: Path) -> Path:
    save(ef.demo(), tmp_path / "house")
    return tmp_path / "house"


@pytest.mark.parametrize("audience", AUDIENCES)
def test_what_was_issued_reads_back(home: Path, audience: Audience) -> None:
    project = load(home)
    told = for_audience(project, audience)
    path = keep_issue(told, audience, ["html", "pdf", "html"])
    assert path == home / FOLDER / f"{audience}-0001.json"
    found = issued_to(project, audience)
    assert found.troubles == ()
    assert found.last is not None
    assert (found.last.version, found.last.date, found.last.forms) == ("4", project.show.date, ("html", "pdf"))
    assert found.last.project == as_kept(told)
    assert found.last.project.decisions == told.decisions
    assert found.last.project.things == told.things
    assert load(home) == project  # the project itself is as it was
    others = [one for one in AUDIENCES if one != audience]
    assert all(issued_to(project, one).last is None for one in others)


def test_a_public_issue_holds_the_public_copy_alone(home: Path) -> None:
    project = load(home)
    keep_issue(for_audience(project, "public"), "public", ["html"])
    kept = (home / FOLDER / "public-0001.json").read_text("utf-8")
    for secret in ("Merrowby", "Odalys", "Slackwater", "6400.00", "Overmantle", "maker A", "Scantling", "Sheave"):
        assert secret not in kept
        assert secret in (home / "project.json").read_text("utf-8")


def test_only_the_last_ones_are_kept(home: Path) -> None:
    project = load(home)
    for _ in range(KEPT + 3):
        keep_issue(for_audience(project, "public"), "public", ["html"])
    keep_issue(for_audience(project, "client"), "client", ["html"])
    names = sorted(path.name for path in (home / FOLDER).iterdir())
    assert names == ["client-0001.json", *(f"public-{n:04d}.json" for n in range(4, KEPT + 4))]
    last = issued_to(project, "public").last
    assert last is not None
    assert last.number == KEPT + 3


def test_a_project_without_a_folder_is_refused() -> None:
    with pytest.raises(Refused, match=r"no folder yet.*save it first"):
        keep_issue(for_audience(ef.demo(), "client"), "client", ["html"])
    assert issued_to(ef.demo(), "client").last is None


def test_another_audience_s_copy_is_refused(home: Path) -> None:
    project = load(home)
    for told in (project, for_audience(project, "client")):
        with pytest.raises(Refused, match="not the copy for public"):
            keep_issue(told, "public", ["html"])
    assert not (home / FOLDER).exists()


DAMAGED = {
    "no JSON": b"{",
    "no text": b"\xff\xfe\x00",
    "empty": b"",
    "a list": b"[]",
    "a newer form": b'{"issue": 2}',
    "nothing told": b'{"issue": 1, "audience": "client", "version": "4", "forms": []}',
    "another audience": b'{"issue": 1, "audience": "public", "version": "4", "forms": [], "told": {"format": 1}}',
    "a day that is none": b'{"issue": 1, "audience": "client", "version": "4", "date": "never", "forms": [], '
    b'"told": {}}',
    "a newer record": b'{"issue": 1, "audience": "client", "version": "4", "date": null, "forms": [], '
    b'"told": {"format": 99}}',
    "another project": b'{"issue": 1, "audience": "client", "version": "4", "date": null, "forms": [], '
    b'"told": {"format": 1, "id": "other"}}',
    "nested": b"[" * 100_000,
    "a twice": b'{"issue": 1, "issue": 1}',
}


@pytest.mark.parametrize("what", DAMAGED)
def test_a_damaged_or_foreign_file_is_passed_over_in_words(home: Path, what: str) -> None:
    project = load(home)
    keep_issue(for_audience(project, "client"), "client", ["html"])
    (home / FOLDER / "client-0002.json").write_bytes(DAMAGED[what])
    found = issued_to(project, "client")
    assert found.last is not None
    assert found.last.number == 1
    (words,) = found.troubles
    assert words.startswith("The issue client-0002.json ")
    assert words.endswith(".")
    assert str(home) not in words
    assert len(words) < 600
    assert keep_issue(for_audience(project, "client"), "client", ["html"]).name == "client-0003.json"
    assert issued_to(project, "client").troubles == ()


def test_records_that_no_longer_stand_alone_are_left_out_one_by_one(home: Path) -> None:
    project = load(home)
    path = keep_issue(for_audience(project, "client"), "client", ["html"])
    plain = json.loads(path.read_text("utf-8"))
    plain["told"]["things"][0]["width_mm"] = "wide"
    plain["told"]["decisions"].append({"id": "odd"})
    plain["told"]["spaces"].append(plain["told"]["spaces"][0])
    plain["told"]["show"] = 3
    path.write_text(json.dumps(plain), "utf-8")
    last = issued_to(project, "client").last
    assert last is not None
    assert len(last.project.things) == len(project.things) - 1
    assert len(last.project.decisions) == len(project.decisions)
    assert len(last.project.spaces) == len(project.spaces)


def test_links_are_not_followed(home: Path, tmp_path: Path) -> None:
    project = load(home)
    outside = tmp_path / "outside"
    outside.mkdir()
    (home / FOLDER).symlink_to(outside)
    assert issued_to(project, "client").troubles == (f"The folder {FOLDER} is a link and was not read.",)
    with pytest.raises(Refused, match="is a link"):
        keep_issue(for_audience(project, "client"), "client", ["html"])
    with pytest.raises(Refused, match="is a link"):
        save(project, tmp_path / "copy")
    assert list(outside.iterdir()) == []
    (home / FOLDER).unlink()
    path = keep_issue(for_audience(project, "client"), "client", ["html"])
    path.rename(outside / "one.json")
    path.symlink_to(outside / "one.json")
    assert "is a link" in issued_to(project, "client").troubles[0]


def test_strange_files_among_the_issues_are_left_alone(home: Path) -> None:
    project = load(home)
    keep_issue(for_audience(project, "client"), "client", ["html"])
    for name in ("client-1.json", "client-0009.txt", "notes.txt", "neighbour-0001.json"):
        (home / FOLDER / name).write_text("dear all")
    (home / FOLDER / "client-0008.json").mkdir()
    found = issued_to(project, "client")
    assert found.last is not None
    assert found.last.number == 1
    save(project.model_copy(update={"name": "Another"}), home)
    assert (home / FOLDER / "notes.txt").read_text() == "dear all"


def test_issues_come_along_to_another_folder(home: Path, tmp_path: Path) -> None:
    project = load(home)
    keep_issue(for_audience(project, "client"), "client", ["html"])
    (home / FOLDER / "notes.txt").write_text("dear all")
    save(project, tmp_path / "copy")
    last = issued_to(load(tmp_path / "copy"), "client").last
    assert last is not None
    assert last.project == as_kept(for_audience(project, "client"))
    assert sorted(path.name for path in (tmp_path / "copy" / FOLDER).iterdir()) == ["client-0001.json"]
    save(ef.demo(), tmp_path / "new")
    assert not (tmp_path / "new" / FOLDER).exists()


def test_a_folder_with_issues_and_no_project_is_a_stranger_s(tmp_path: Path) -> None:
    (tmp_path / FOLDER).mkdir()
    with pytest.raises(Conflict, match="holds 'issued'"):
        save(ef.demo(), tmp_path)


def test_a_twin_of_the_folder_is_refused(home: Path) -> None:
    (home / "Issued").mkdir()
    with pytest.raises(BadRecord, match="by case alone"):
        load(home)


def test_odd_text_is_kept_as_it_is(home: Path) -> None:
    project, _ = with_hostile_text(load(home))
    project._loaded = load(home)._loaded
    for audience in AUDIENCES:
        told = for_audience(project, audience)
        keep_issue(told, audience, ["html"])
        found = issued_to(told, audience)
        assert found.troubles == ()
        assert found.last is not None
        assert found.last.project == as_kept(told)


def test_the_smallest_project(tmp_path: Path) -> None:
    project = Project(id="small", name="Small")
    save(project, tmp_path)
    keep_issue(for_audience(project, "public"), "public", [])
    last = issued_to(project, "public").last
    assert last is not None
    assert (last.version, last.date, last.project.name) == ("1", None, "Small")
