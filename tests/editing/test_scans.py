"""Scanned plans: kept, set to scale, and drawn over; they stay with the studio."""

from __future__ import annotations

from pathlib import Path

import pytest

from enfilade.editing.rooms.rooms import wall_lengths
from enfilade.editing.rooms.scans import laid_picture, room_over_scan, scan_added, scan_scaled, scans_of
from enfilade.errors import BadRecord, NotFound, OutOfRange, Refused
from enfilade.project.audience import for_audience
from enfilade.project.project import Project
from enfilade.project.showing import Photograph, Scan
from enfilade.walkthrough.pictures import pictures
from project_folders import picture

EMPTY = Project(id="new", name="New house")


def with_plan(folder: Path, project: Project = EMPTY) -> tuple[Project, str]:
    return scan_added(project, folder, picture(1000, 800), "ground floor.png")


def test_a_plan_is_kept_once(tmp_path: Path) -> None:
    project, id = with_plan(tmp_path)
    (plan,) = scans_of(project)
    assert (plan.id, plan.caption, plan.space, plan.scan) == (id, "ground floor.png", None, Scan())
    assert (tmp_path / "photos" / plan.file).read_bytes() == picture(1000, 800)
    assert with_plan(tmp_path, project) == (project, id)
    with pytest.raises(Refused, match="PNG, JPEG or WebP"):
        scan_added(EMPTY, tmp_path, b"%PDF-1.7")


def test_two_points_set_it_to_scale(tmp_path: Path) -> None:
    project, id = with_plan(tmp_path)
    scaled, scale = scan_scaled(project, id, (100, 700), (900, 700), 8000)
    assert scale.mm_per_px == 10
    assert scans_of(scaled)[0].scan == Scan(mm_per_px=10)
    again, _ = scan_scaled(scaled, id, (100, 700), (900, 700), 4000)
    assert scans_of(again)[0].scan == Scan(mm_per_px=5)


def test_a_plan_lies_beside_the_rooms_that_stand_already(tmp_path: Path) -> None:
    project, id = with_plan(tmp_path)
    project, _ = scan_scaled(project, id, (100, 700), (900, 700), 8000)
    project, _ = room_over_scan(project, id, 800, [(0, 800), (400, 800), (400, 500), (0, 500)], "Hall", "hall")
    project, second = scan_added(project, tmp_path, picture(500, 400), "upper floor")
    project, _ = scan_scaled(project, second, (0, 0), (100, 0), 1000)
    scan = scans_of(project)[1].scan
    assert scan is not None
    assert scan.x_mm > 4000


def test_what_sets_no_scale_is_refused(tmp_path: Path) -> None:
    project, id = with_plan(tmp_path)
    for first, second, length, error in (
        ((0, 0), (1, 0), 4000, Refused), ((0, 0), (100, 0), 0, OutOfRange), ((0, 0), (2, 0), 900_000, BadRecord),
    ):  # fmt: skip
        with pytest.raises(error):
            scan_scaled(project, id, first, second, length)
    with pytest.raises(NotFound):
        scan_scaled(project, "attic", (0, 0), (100, 0), 1000)
    with pytest.raises(Refused, match="not set to scale"):
        room_over_scan(project, id, 800, [(0, 0), (100, 0), (100, 100)], "Hall", "hall")
    with pytest.raises(Refused, match="not set to scale"):
        laid_picture(Photograph(id="p", file="0" * 64 + ".png"), 800)


def test_a_room_drawn_over_a_plan_is_assumed_until_it_is_taped(tmp_path: Path) -> None:
    project, id = with_plan(tmp_path)
    # The picture was laid on the glass askew: its level line runs 10 px down over 1000, and is turned level again.
    project, scale = scan_scaled(project, id, (0, 0), (1000, 10), 8000)
    assert scale.turn_deg == pytest.approx(0.5729, abs=1e-3)  # arctan 0.01
    corners = [(100.0, 101.0), (600.0, 106.0), (597.0, 406.0), (97.0, 401.0)]
    project, room = room_over_scan(project, id, 800, corners, "Hall", "hall", 2400)
    space = project.space(room)
    assert (space.basis, space.ceiling_mm) == ("assumed", 2400)
    assert wall_lengths(space) == pytest.approx((4000, 2400, 4000, 2400), abs=1)
    assert space.outline[0][1] == pytest.approx(space.outline[1][1])
    slipped = [(100.0, 101.0), (600.0, 109.0), *corners[2:]]
    rough, room = room_over_scan(project, id, 800, slipped, "Hall", "hall", square=False)
    assert rough.space(room).outline[0][1] - rough.space(room).outline[1][1] == pytest.approx(24, abs=0.1)  # 3 px
    even, room = room_over_scan(project, id, 800, slipped, "Hall", "hall")
    assert even.space(room).outline[0][1] == pytest.approx(even.space(room).outline[1][1])


def test_a_plan_is_shown_to_nobody_but_the_studio(tmp_path: Path) -> None:
    project, _ = with_plan(tmp_path)
    project, _ = room_over_scan(*scaled(project), 800, [(0, 0), (100, 0), (100, 100), (0, 100)], "Hall", "hall")
    photographs = [{**photograph.model_dump(), "space": "hall"} for photograph in project.photographs]
    hung = project.with_records(photographs=photographs)
    for audience in ("client", "public", "student"):
        assert for_audience(hung, audience).photographs == ()
    assert len(for_audience(hung, "studio").photographs) == 1
    hung._photos_from = tmp_path
    assert list(pictures(hung, "hall")) == []
    plain = hung.with_records(photographs=[{**one, "scan": None} for one in photographs])
    plain._photos_from = tmp_path
    assert len(list(pictures(plain, "hall"))) == 1


def scaled(project: Project) -> tuple[Project, str]:
    id = scans_of(project)[0].id
    return scan_scaled(project, id, (0, 0), (100, 0), 4000)[0], id
