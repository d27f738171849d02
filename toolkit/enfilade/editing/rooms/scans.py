"""Scanned plans: taken in, set to scale by two points of known distance, and drawn over."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from enfilade.editing.ids import new_id
from enfilade.editing.photographs import photograph_of
from enfilade.editing.rooms.rooms import outline_by_points, room_from_outline
from enfilade.errors import Refused
from enfilade.geometry.points import Point
from enfilade.geometry.scaling import LaidPicture, PictureScale, scale_by_two_points
from enfilade.project.photos import keep_photograph
from enfilade.project.project import Project
from enfilade.project.showing import Photograph, Scan
from enfilade.project.stripping import stripped_small

__all__ = ["laid_picture", "room_over_scan", "scan_added", "scan_scaled", "scans_of"]

_APART_MM = 1000.0
_TRIAL_PX, _TRIAL_QUALITY = 64, 50


def scans_of(project: Project) -> tuple[Photograph, ...]:
    """Return the scanned plans, in the order of the record."""
    return tuple(one for one in project.photographs if one.scan is not None)


def scan_added(project: Project, folder: Path, data: bytes, called: str = "") -> tuple[Project, str]:
    """Keep a scanned plan in the project's folder and record it; one that is there already is found again.

    Args:
        folder: The project's folder.
        data: A whole PNG, JPEG or WebP file.
        called: What it is called, such as the name of its file.
    Returns:
        The changed house, and the id of the plan's record.
    Raises:
        Refused: It is no picture that can be shown, or the folder cannot be written.
    """
    stripped_small(data, longest_px=_TRIAL_PX, quality=_TRIAL_QUALITY)  # what is kept can be shown
    file = keep_photograph(folder, data)
    for one in scans_of(project):
        if one.file == file:
            return project, one.id
    id = new_id("scanned plan", {one.id for one in project.photographs})
    new = {"id": id, "file": file, "caption": " ".join(called.split())[:200] or "Scanned plan", "scan": Scan()}
    return project.with_records(photographs=[*project.photographs, new]), id


def scan_scaled(
    project: Project, id: str, first: Point, second: Point, distance_mm: float, *, level: bool = True
) -> tuple[Project, PictureScale]:
    """Set a scanned plan to scale by two points on it and their distance in the house.

    A plan that is laid down for the first time lies at the origin, or beside the rooms that stand already.

    Args:
        id: Id of the plan's record.
        first, second: The points [px], from the upper left corner of the picture, downwards.
        distance_mm: Their distance in the house, above 0 [mm].
        level: Turn the picture so that the line between them lies along the nearer axis of the plan.
    Raises:
        NotFound: There is no such plan.
        Refused, OutOfRange: The points are too near to each other, or the distance is not above 0.
        BadRecord: A pixel would be larger than any plan shows it.
    """
    photograph = photograph_of(project, id)
    scale = scale_by_two_points(first, second, distance_mm, "nearest" if level else None)
    before = photograph.scan or Scan()
    x, y = before.x_mm, before.y_mm
    if before.mm_per_px is None and project.spaces:
        corners = [corner for space in project.spaces for corner in space.outline]
        x, y = max(corner[0] for corner in corners) + _APART_MM, min(corner[1] for corner in corners)
    scan = {"mm_per_px": scale.mm_per_px, "x_mm": x, "y_mm": y, "turn_deg": scale.turn_deg}
    plain = {name: getattr(photograph, name) for name in Photograph.model_fields} | {"scan": scan}
    return project.with_records(photographs=[plain if one is photograph else one for one in project.photographs]), scale


def laid_picture(photograph: Photograph, height_px: float) -> LaidPicture:
    """Return how a scanned plan lies under the house.

    Args:
        height_px: Height of the picture [px].
    Raises:
        Refused: It is no scanned plan, or not set to scale yet.
    """
    scan = photograph.scan
    if scan is None or scan.mm_per_px is None:
        raise Refused("the plan is not set to scale yet", expected="two points on it, and their distance")
    return LaidPicture(scan.mm_per_px, scan.x_mm, scan.y_mm, scan.turn_deg, height_px)


def room_over_scan(
    project: Project,
    id: str,
    height_px: float,
    corners: Sequence[Point],
    name: str,
    use: str,
    ceiling_mm: float | None = None,
    *,
    square: bool = True,
) -> tuple[Project, str]:
    """Return the project with a room whose corners were marked on a scanned plan, and the room's id.

    Its sizes are assumed until they are taped: a scan is no survey.

    Args:
        id: Id of the plan's record.
        height_px: Height of the picture [px].
        corners: In order [px], from the upper left corner of the picture, downwards.
        square: Make walls square that nearly are.
    Raises:
        Refused: The plan is not set to scale, or the corners make no room.
        BadRecord: A field cannot stand so.
    """
    laid = laid_picture(photograph_of(project, id), height_px)
    outline = outline_by_points(project, [laid.to_house(corner) for corner in corners], square=square)
    return room_from_outline(project, name, use, outline, ceiling_mm=ceiling_mm, basis="assumed")
