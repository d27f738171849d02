"""Saving and loading: conflicts, kept states, photographs, and what a stranger's folder is spared."""

from __future__ import annotations

import datetime as dt
import os
import threading
from itertools import pairwise
from pathlib import Path

import pytest

from enfilade import files
from enfilade.errors import BadRecord, Conflict, EnfiladeError, NotFound, Refused
from enfilade.files import LOCK, fingerprint
from enfilade.project import store
from enfilade.project.audience import for_audience
from enfilade.project.photos import keep_photograph
from enfilade.project.project import Project
from enfilade.project.showing import Photograph
from enfilade.project.store import KEPT, keep_state, kept_states, load, project_bytes, save, time_kept
from enfilade.project.writing import project_text
from project_folders import folder_state, good_plain, good_project, picture, put, snapshot_name


def renamed(project: Project, name: str) -> Project:
    return project.model_copy(update={"name": name})


def small(name: str = "Small") -> Project:
    return Project(id="small", name=name)


@pytest.fixture
def home(tmp_path: Path) -> Path:
    folder = tmp_path / "house"
    put(folder, good_plain())
    return folder


def test_what_was_saved_is_loaded(home: Path, tmp_path: Path) -> None:
    project = load(home)
    assert project == good_project()
    written = save(project, tmp_path / "copy")
    assert written == tmp_path / "copy" / "project.json"
    assert load(tmp_path / "copy") == project
    assert load(written) == project
    assert load(str(tmp_path / "copy")) == project


def test_the_same_object_can_be_saved_again_and_again(tmp_path: Path) -> None:
    project = small()
    for _ in range(3):
        save(project, tmp_path)
    assert kept_states(tmp_path) == ()  # nothing changed, so nothing is kept
    second = renamed(project, "Second")
    save(second, tmp_path)
    save(renamed(second, "Third"), tmp_path)
    assert load(tmp_path).name == "Third"
    assert len(kept_states(tmp_path)) == 2


def test_a_changed_disk_is_a_conflict_and_stays_as_it_is(home: Path) -> None:
    project = load(home)
    put(home, good_plain() | {"name": "By another hand"})
    before = folder_state(home)
    with pytest.raises(Conflict, match=r"has changed since it was loaded.*nothing was written"):
        save(renamed(project, "Mine"), home)
    assert folder_state(home) == before


def test_a_stale_copy_is_a_conflict(tmp_path: Path) -> None:
    save(small(), tmp_path)
    one, other = load(tmp_path), load(tmp_path)
    save(renamed(one, "One"), tmp_path)
    with pytest.raises(Conflict):
        save(renamed(other, "Other"), tmp_path)
    with pytest.raises(Conflict):
        save(one, tmp_path)  # the old object itself is stale too
    assert load(tmp_path).name == "One"


def test_a_project_that_was_never_loaded_overwrites_nothing(home: Path, tmp_path: Path) -> None:
    with pytest.raises(Conflict, match="never loaded"):
        save(small(), home)
    strange = tmp_path / "strange"
    strange.mkdir()
    (strange / "letter.txt").write_text("dear all")
    before = folder_state(strange)
    with pytest.raises(Conflict, match=r"not empty \(it holds 'letter.txt'\)"):
        save(small(), strange)
    assert folder_state(strange) == before  # not even a lock was put there
    elsewhere = load(home)
    with pytest.raises(Conflict):
        save(elsewhere, strange)


@pytest.mark.parametrize("name", ["studio.toml", ".git", ".DS_Store", LOCK, "drafts"])
def test_what_may_lie_in_a_new_project_folder(tmp_path: Path, name: str) -> None:
    (tmp_path / name).touch()
    save(small(), tmp_path)
    assert load(tmp_path) == small()


def test_loading_and_saving_leave_the_drafts_alone(home: Path, tmp_path: Path) -> None:
    (home / "drafts").mkdir()
    (home / "drafts" / "typed.json").write_bytes(b"\xff not json")
    (home / "Drafts of the letter").mkdir()
    project = load(home)
    assert project == good_project()
    save(renamed(project, "New"), home)
    save(project, tmp_path / "copy")
    assert (home / "drafts" / "typed.json").read_bytes() == b"\xff not json"
    assert not (tmp_path / "copy" / "drafts").exists()
    assert not os.path.lexists(tmp_path / "copy" / "Drafts of the letter")


def test_a_folder_of_drafts_of_a_person_s_own_is_no_fault(home: Path) -> None:
    (home / "Drafts").mkdir()
    assert load(home) == good_project()


def test_house_rules_come_along_to_another_folder(home: Path, tmp_path: Path) -> None:
    rules = b'[rules]\r\n"K6/one cook" = 45\n'
    (home / "studio.toml").write_bytes(rules)
    project = load(home)
    save(project, tmp_path / "copy")
    assert (tmp_path / "copy" / "studio.toml").read_bytes() == rules
    own = tmp_path / "own"
    own.mkdir()
    (own / "studio.toml").write_text("[rules]\n")
    save(load(home), own)
    assert (own / "studio.toml").read_text() == "[rules]\n"  # those that lie there already stay
    assert (home / "studio.toml").read_bytes() == rules


def test_house_rules_that_are_a_link_are_not_carried_out_of_their_folder(home: Path, tmp_path: Path) -> None:
    (tmp_path / "outside.toml").write_text("[rules]\n")
    (home / "studio.toml").symlink_to(tmp_path / "outside.toml")
    with pytest.raises(Refused, match=r"studio\.toml is a link"):
        save(load(home), tmp_path / "copy")
    assert not (tmp_path / "copy" / "project.json").exists()


def test_no_house_rules_no_copy_of_them(home: Path, tmp_path: Path) -> None:
    save(load(home), tmp_path / "copy")
    assert not (tmp_path / "copy" / "studio.toml").exists()


def test_a_file_that_was_deleted_meanwhile_can_be_saved_again(home: Path) -> None:
    project = load(home)
    (home / "project.json").unlink()
    save(project, home)
    assert load(home) == project


def test_the_copy_for_an_audience_is_never_saved(home: Path, tmp_path: Path) -> None:
    project = load(home)
    for audience in ("public", "client", "student"):
        told = for_audience(project, audience)
        for folder in (home, tmp_path / "new"):
            with pytest.raises(Refused, match="copy for one audience"):
                save(told, folder)
    assert load(home) == project
    assert not (tmp_path / "new").exists()


def test_what_could_not_be_loaded_again_is_not_written(tmp_path: Path) -> None:
    clash = good_project().model_copy(update={"spaces": ()})
    wrong = small().model_copy(update={"name": 3})
    half = small().model_copy(update={"name": "\ud800"})
    for project in (clash, wrong, half):
        with pytest.raises(BadRecord):
            save(project, tmp_path / "new")
        assert not (tmp_path / "new").exists()


def test_a_link_in_the_place_of_the_file_or_the_history_is_refused(home: Path, tmp_path: Path) -> None:
    project = load(home)
    (home / "project.json").rename(tmp_path / "outside.json")
    (home / "project.json").symlink_to(tmp_path / "outside.json")
    with pytest.raises(Refused, match="is a link"):
        save(renamed(project, "New"), home)
    (home / "project.json").unlink()
    (tmp_path / "outside.json").rename(home / "project.json")
    (tmp_path / "outside").mkdir()
    (home / "history").symlink_to(tmp_path / "outside")
    with pytest.raises(Refused, match="history is a link"):
        save(renamed(project, "New"), home)
    assert list((tmp_path / "outside").iterdir()) == []


def test_crumbs_of_a_writer_that_died_are_swept(home: Path) -> None:
    crumbs = [home / ".project.json.0123456789ab.part", home / "photos" / ".x.0123456789ab.part"]
    for crumb in crumbs:
        crumb.touch()
    save(load(home), home)
    assert not any(crumb.exists() for crumb in crumbs)


def test_the_first_save_can_be_tried_again_after_it_died(tmp_path: Path) -> None:
    (tmp_path / ".project.json.0123456789ab.part").write_bytes(b"half")
    (tmp_path / LOCK).touch()
    save(small(), tmp_path)
    assert load(tmp_path) == small()


# Earlier states


def test_each_state_that_is_replaced_is_kept(tmp_path: Path) -> None:
    project = small("State 0")
    save(project, tmp_path)
    texts = []
    for number in range(1, 6):
        texts.append((tmp_path / "project.json").read_text())
        project = renamed(project, f"State {number}")
        save(project, tmp_path)
    assert [path.read_text() for path in kept_states(tmp_path)] == texts[::-1]


class Clock(dt.datetime):
    at = dt.datetime(2025, 1, 1, tzinfo=dt.UTC)

    @classmethod
    def now(cls, tz: dt.tzinfo | None = None) -> dt.datetime:  # type: ignore[override]
        return cls.at


@pytest.fixture
def clock(monkeypatch: pytest.MonkeyPatch) -> type[Clock]:
    Clock.at = dt.datetime(2025, 1, 1, tzinfo=dt.UTC)
    monkeypatch.setattr("enfilade.project.store.dt.datetime", Clock)
    return Clock


def test_twenty_states_at_most_are_kept_and_old_ones_stand_further_apart(tmp_path: Path, clock: type[Clock]) -> None:
    project = small("State 0")
    save(project, tmp_path)
    first = (tmp_path / "project.json").read_bytes()
    for hour in range(1, 301):
        clock.at += dt.timedelta(hours=1)
        before = (tmp_path / "project.json").read_bytes()
        project = renamed(project, f"State {hour}")
        save(project, tmp_path)
        kept = kept_states(tmp_path)
        assert len(kept) == min(hour, KEPT) <= 20
        assert kept[0].read_bytes() == before  # the newest is always there
        assert kept[-1].read_bytes() == first  # and the oldest
    hours = [int(path.read_text().split("State ")[1].split('"')[0]) for path in kept_states(tmp_path)]
    ages = [300 - hour for hour in hours]
    assert ages == sorted(ages)
    recent = sum(1 for age in ages if age <= 10)
    assert recent >= 4  # some from the last hours ...
    assert sum(1 for age in ages if age > 75) >= 2  # ... and some from the first days
    gaps = [older - newer for newer, older in pairwise(ages)]
    assert sum(gaps[:6]) < sum(gaps[-6:])


def test_many_savings_in_ten_minutes_leave_the_states_of_yesterday(tmp_path: Path, clock: type[Clock]) -> None:
    project = small("State 0")
    save(project, tmp_path)
    for minute in range(1, 481):  # eight hours of work, a change a minute
        clock.at += dt.timedelta(minutes=1)
        project = renamed(project, f"Yesterday {minute}")
        save(project, tmp_path)
    yesterday = set(kept_states(tmp_path))
    evening = clock.at
    clock.at += dt.timedelta(hours=16)
    for turn in range(300):
        clock.at += dt.timedelta(seconds=2)
        project = renamed(project, f"Today {turn}")
        save(project, tmp_path)
    kept = kept_states(tmp_path)
    assert len(kept) == KEPT
    of_yesterday = [path for path in kept if path in yesterday]
    assert len(of_yesterday) >= 10
    ages = [evening - time_kept(path) for path in of_yesterday]
    assert min(ages) < dt.timedelta(hours=1)  # some of its end ...
    assert max(ages) > dt.timedelta(hours=7)  # ... and some of its beginning
    assert any('"Yesterday 480"' in path.read_text() for path in kept)  # how it was left in the evening
    assert '"Today 298"' in kept[0].read_text()
    assert sum(1 for path in kept if '"Today' in path.read_text()) >= 5


def test_days_of_many_savings_leave_something_of_each_day(tmp_path: Path, clock: type[Clock]) -> None:
    project = small("State 0")
    save(project, tmp_path)
    for day in range(5):
        for turn in range(60):
            clock.at += dt.timedelta(seconds=10)
            project = renamed(project, f"Day {day}, {turn}")
            save(project, tmp_path)
        clock.at += dt.timedelta(days=1)
    texts = [path.read_text() for path in kept_states(tmp_path)]
    for day in range(5):
        assert any(f'"Day {day}, ' in text for text in texts)


def test_a_state_that_will_not_be_saved_can_be_kept(tmp_path: Path) -> None:
    project = small("State 0")
    save(project, tmp_path)
    before = (tmp_path / "project.json").read_bytes()
    for _ in range(2):  # twice is once
        keep_state(tmp_path, project_bytes(small("Given up")))
    assert (tmp_path / "project.json").read_bytes() == before
    (kept,) = kept_states(tmp_path)
    assert '"Given up"' in kept.read_text()
    save(renamed(project, "State 1"), tmp_path)
    assert [path.read_bytes() for path in kept_states(tmp_path)] == [before, kept.read_bytes()]
    outside = tmp_path / "outside"
    outside.mkdir()
    (tmp_path / "history").rename(tmp_path / "old")
    (tmp_path / "history").symlink_to(outside)
    with pytest.raises(Refused, match="is a link"):
        keep_state(tmp_path, b"x")
    assert list(outside.iterdir()) == []


def test_a_clock_that_is_set_back_does_not_hide_the_newest_state(tmp_path: Path, clock: type[Clock]) -> None:
    project = small("State 0")
    save(project, tmp_path)
    for number in range(1, 4):
        clock.at -= dt.timedelta(days=1)
        before = (tmp_path / "project.json").read_bytes()
        project = renamed(project, f"State {number}")
        save(project, tmp_path)
        assert kept_states(tmp_path)[0].read_bytes() == before


def test_other_files_in_the_history_are_left_alone(tmp_path: Path) -> None:
    project = small()
    save(project, tmp_path)
    (tmp_path / "history").mkdir()
    (tmp_path / "history" / "why.json").write_text("{}")
    for number in range(25):
        project = renamed(project, f"State {number}")
        save(project, tmp_path)
    assert (tmp_path / "history" / "why.json").read_text() == "{}"
    assert len(kept_states(tmp_path)) == KEPT


# Photographs


def test_photographs_come_along_to_another_folder(home: Path, tmp_path: Path) -> None:
    project = load(home)
    save(project, tmp_path / "copy")
    assert (tmp_path / "copy" / "photos" / snapshot_name()).read_bytes() == picture()
    (home / "photos" / snapshot_name()).unlink()
    assert load(tmp_path / "copy") == project


def test_a_photograph_that_is_gone_stops_the_save(home: Path, tmp_path: Path) -> None:
    project = load(home)
    (home / "photos" / snapshot_name()).unlink()
    with pytest.raises(EnfiladeError, match=snapshot_name()):
        save(project, tmp_path / "copy")
    assert not (tmp_path / "copy" / "project.json").exists()
    with pytest.raises(BadRecord, match="photographs/before/file"):
        save(renamed(project, "New"), home)
    assert b"Test house" in (home / "project.json").read_bytes()


def test_photographs_are_read_once_as_long_as_they_stay(home: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    project = load(home)
    read: list[str] = []
    real = store.check_photographs
    monkeypatch.setattr(store, "check_photographs", lambda *given: (read.append("read"), real(*given))[1])
    for number in range(4):
        project = renamed(project, f"State {number}")
        save(project, home)
    assert read == []
    path = home / "photos" / snapshot_name()
    path.write_bytes(picture(colour="red"))
    with pytest.raises(BadRecord, match="holds another picture"):
        save(renamed(project, "New"), home)
    path.write_bytes(picture())
    save(renamed(project, "New"), home)
    assert read == ["read", "read"]


def test_photographs_are_not_copied_through_a_link(home: Path, tmp_path: Path) -> None:
    project = load(home)
    (tmp_path / "outside").mkdir()
    (tmp_path / "copy").mkdir()
    (tmp_path / "copy" / "photos").symlink_to(tmp_path / "outside")
    with pytest.raises(Refused, match="is a link"):
        save(project, tmp_path / "copy")
    assert list((tmp_path / "outside").iterdir()) == []


def test_a_new_photograph_is_kept_before_the_first_save(tmp_path: Path) -> None:
    name = keep_photograph(tmp_path, picture(form="JPEG"))
    project = small().with_records(photographs=[Photograph(id="one", file=name)])
    save(project, tmp_path)
    assert load(tmp_path).photographs[0].file == f"{fingerprint(picture(form='JPEG'))}.jpg"


# Several writers


def test_threads_lose_no_accepted_save(tmp_path: Path) -> None:
    save(small("start"), tmp_path)
    accepted: list[str] = []
    refused: list[str] = []

    def write(worker: int) -> None:
        for turn in range(3):
            project = load(tmp_path)
            name = f"{worker}-{turn}"
            try:
                save(renamed(project, name), tmp_path)
            except Conflict:
                refused.append(name)
            else:
                accepted.append(name)

    workers = [threading.Thread(target=write, args=(number,)) for number in range(4)]
    for thread in workers:
        thread.start()
    for thread in workers:
        thread.join()
    assert len(accepted) + len(refused) == 12
    assert accepted
    everywhere = (tmp_path / "project.json").read_text() + "".join(path.read_text() for path in kept_states(tmp_path))
    for name in accepted:
        assert f'"name": "{name}"' in everywhere
    for name in refused:
        assert f'"name": "{name}"' not in everywhere


def test_a_busy_folder_is_a_conflict_that_says_so(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    save(small(), tmp_path)
    project = load(tmp_path)
    with files.locked(tmp_path):
        monkeypatch.setattr(store, "locked", lambda folder: files.locked(folder, wait_s=0.05))
        with pytest.raises(Conflict, match="another window"):
            save(renamed(project, "New"), tmp_path)
    save(renamed(project, "New"), tmp_path)


def test_folders_that_cannot_be_are_refused(tmp_path: Path) -> None:
    (tmp_path / "file").touch()
    for folder in (tmp_path / "file", tmp_path / "file" / "x", tmp_path / "a\0b", tmp_path / ("n" * 300)):
        with pytest.raises(EnfiladeError):
            save(small(), folder)
    if os.name != "nt":
        (tmp_path / "loop").symlink_to(tmp_path / "loop")
        with pytest.raises(EnfiladeError):
            save(small(), tmp_path / "loop")


def test_an_empty_folder_holds_no_project(tmp_path: Path) -> None:
    with pytest.raises(NotFound, match=r"project.json does not exist"):
        load(tmp_path)


def test_the_file_holds_what_project_text_writes(tmp_path: Path) -> None:
    save(small(), tmp_path)
    assert (tmp_path / "project.json").read_bytes() == project_text(small()).encode()
