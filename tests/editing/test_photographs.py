"""Photographs of a room: taken in with their day, linked, taken out; the files stay as they came."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest

import enfilade as ef
from building import house, on_wall, room, thing
from enfilade.editing.photographs import (
    photograph_added,
    photograph_linked,
    photograph_of,
    photograph_removed,
    photograph_taken_in,
    photographs_of,
)
from enfilade.errors import BadRecord, NotFound, Refused
from enfilade.files import fingerprint
from enfilade.project.project import Project
from picture_files import camera_jpeg, camera_png, camera_webp
from project_folders import picture


@pytest.fixture
def home() -> Project:
    return house(
        [
            thing("sink", "bowl", 30, 20, on_wall("kitchen-north", 40)),
            thing("table", "table", 30, 30, on_wall("kitchen-south", 9)),
        ],
        spaces=[room(144, 144), room(90, 90, id="hall", use="hall", at=(0, -94))],
        decisions=[{"id": "bowls", "number": 1, "title": "How many bowls", "spaces": ["kitchen"]}],
    )  # fmt: skip


@pytest.mark.parametrize("make", [camera_jpeg, camera_png, camera_webp])
def test_a_picture_is_kept_as_it_came_with_the_day_of_its_camera(tmp_path: Path, home: Project, make: object) -> None:
    data = make(6)  # type: ignore[operator]
    project, id = photograph_taken_in(home, tmp_path, data, "kitchen")
    (photograph,) = photographs_of(project, "kitchen")
    assert (photograph.id, photograph.space, photograph.taken_on) == (id, "kitchen", dt.date(1961, 4, 12))
    assert photograph.file.startswith(fingerprint(data))
    assert (tmp_path / "photos" / photograph.file).read_bytes() == data
    assert home.photographs == ()


def test_the_day_is_unknown_where_the_picture_does_not_say_it(tmp_path: Path, home: Project) -> None:
    project, id = photograph_taken_in(home, tmp_path, picture(), "kitchen")
    assert photograph_of(project, id).taken_on is None


def test_what_was_taken_in_is_saved_and_loaded_again(tmp_path: Path, home: Project) -> None:
    project, _ = photograph_taken_in(home, tmp_path, camera_jpeg(), "kitchen")
    project, _ = photograph_taken_in(project, tmp_path, picture(), "kitchen")
    ef.save(project, tmp_path)
    assert ef.load(tmp_path).photographs == project.photographs


def test_ids_are_new_and_records_that_stood_stay_the_same_objects(tmp_path: Path, home: Project) -> None:
    project = home
    ids = []
    for side in (4, 5, 6):
        before = project
        project, id = photograph_taken_in(before, tmp_path, picture(side, 3), "kitchen")
        ids.append(id)
        assert all(a is b for a, b in zip(before.photographs, project.photographs, strict=False))
        assert all(a is b for a, b in zip(before.things, project.things, strict=True))
    assert len(set(ids)) == 3
    assert [one.id for one in photographs_of(project, "kitchen")] == ids


def test_one_picture_stands_once_in_a_room_and_may_stand_in_another(tmp_path: Path, home: Project) -> None:
    project, _ = photograph_taken_in(home, tmp_path, picture(), "kitchen")
    with pytest.raises(Refused, match="Kitchen have this picture already"):
        photograph_taken_in(project, tmp_path, picture(), "kitchen")
    project, _ = photograph_taken_in(project, tmp_path, picture(), "hall")
    assert len({one.file for one in project.photographs}) == 1


@pytest.mark.parametrize("data", [b"", b"%PDF-1.7 x", picture(40, 30, "JPEG")[:-30], picture(60, 60)[:-40]])
def test_what_cannot_be_shown_is_refused_before_anything_is_kept(tmp_path: Path, home: Project, data: bytes) -> None:
    with pytest.raises(Refused, match=r"no picture|damaged"):
        photograph_taken_in(home, tmp_path / "home", data, "kitchen")
    assert list(tmp_path.iterdir()) == []


def test_an_unknown_room_is_refused(tmp_path: Path, home: Project) -> None:
    with pytest.raises(NotFound):
        photograph_taken_in(home, tmp_path, picture(), "attic")
    with pytest.raises(BadRecord):
        photograph_added(home, f"{'0' * 64}.png", "attic")


def test_links_are_made_and_taken_back(home: Project) -> None:
    project, id = photograph_added(home, f"{'0' * 64}.png", "kitchen", caption="Before")
    linked = photograph_linked(photograph_linked(project, id, "things", "bowl", True), id, "things", "table", True)
    linked = photograph_linked(linked, id, "decisions", "bowls", True)
    assert photograph_of(linked, id).things == ("bowl", "table")
    assert photograph_of(linked, id).decisions == ("bowls",)
    assert photograph_linked(linked, id, "things", "bowl", True) is linked
    fewer = photograph_linked(linked, id, "things", "bowl", False)
    assert photograph_of(fewer, id).things == ("table",)
    assert photograph_of(fewer, id).caption == "Before"
    with pytest.raises(BadRecord, match="gone"):
        photograph_linked(project, id, "things", "gone", True)
    with pytest.raises(NotFound, match="not in the project any more"):
        photograph_linked(project, "gone", "things", "bowl", True)


def test_taking_a_photograph_out_leaves_its_file_for_the_states_that_have_it(tmp_path: Path, home: Project) -> None:
    project, id = photograph_taken_in(home, tmp_path, picture(), "kitchen")
    file = photograph_of(project, id).file
    without = photograph_removed(project, id)
    assert without.photographs == ()
    ef.save(project, tmp_path)
    opened = ef.load(tmp_path)
    fewer = photograph_removed(opened, id)
    ef.save(fewer, tmp_path)
    assert (tmp_path / "photos" / file).is_file()
    ef.save(fewer.with_records(photographs=opened.photographs), tmp_path)  # as undo does
    assert [one.id for one in ef.load(tmp_path).photographs] == [id]
    with pytest.raises(NotFound):
        photograph_removed(without, id)


def test_scanned_plans_are_no_photographs_of_the_room(home: Project) -> None:
    plain = {"id": "plan", "file": f"{'0' * 64}.png", "space": "kitchen", "scan": {"mm_per_px": 5.0}}
    assert photographs_of(home.with_records(photographs=[plain]), "kitchen") == ()
