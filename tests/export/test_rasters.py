"""Pictures of points of drawings, read back with Pillow."""

from __future__ import annotations

import io
from functools import cache

import numpy as np
import numpy.typing as npt
import pytest
from PIL import Image

from enfilade.checks.view import House
from enfilade.drawings.perspective import for_points, perspective
from enfilade.drawings.solids import house_solids
from enfilade.export.look import Look
from enfilade.export.raster import Rasters
from enfilade.geometry.camera import camera_toward
from enfilade.project.demo import demo

WIDE = 960


@cache
def kitchen() -> str:
    camera = camera_toward((14200.0, 4700.0, 1581.0), (9500.0, 1000.0, 1200.0), width_deg=80, level=True)
    return perspective(house_solids(House(demo())), camera, filled=True, title="t", alt="a", width_px=WIDE)


@cache
def pixels(svg: str) -> npt.NDArray[np.int64]:
    with Image.open(io.BytesIO(Rasters(Look()).png(svg, WIDE))) as image:
        return np.asarray(image.convert("RGB"), dtype=np.int64)


def test_a_picture_is_as_wide_as_asked() -> None:
    assert pixels(kitchen()).shape[1] == WIDE


def test_a_perspective_shows_the_same_without_its_seams_painted_over(monkeypatch: pytest.MonkeyPatch) -> None:
    plain = pixels(kitchen())
    monkeypatch.setattr("enfilade.export.raster.for_points", lambda svg: svg)
    painted = np.asarray(Image.open(io.BytesIO(Rasters(Look()).png(kitchen(), WIDE))).convert("RGB"), dtype=np.int64)
    off = np.abs(plain - painted).max(axis=2)
    # Only what lies along an edge may differ: a pixel in a hundred by more than an eighth of the scale.
    assert (off > 32).mean() < 0.01
    assert off.mean() < 1.0


def test_faces_meet_without_white_between_them() -> None:
    """Two halves of one colour, cut aslant: where they are blended, paper shows through; crisp, nothing does."""
    svg = (
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 960 640"><rect width="960" height="640" fill="#ffffff"/>'
        '<path fill="#336655" stroke="#336655" stroke-width="0.6" d="M0 0L960 0L0 640Z"/>'
        '<path fill="#336655" stroke="#336655" stroke-width="0.6" d="M960 0L960 640L0 640Z"/></svg>'
    )
    assert "stroke" not in for_points(svg)
    assert (pixels(svg) == (0x33, 0x66, 0x55)).all()


def test_only_the_faces_of_perspectives_are_changed() -> None:
    line = '<path stroke-width="0.6" d="M0 0L1 1"/><rect fill="none" stroke="#1a1a1a" stroke-width="0.5"/>'
    assert for_points(line) == line
    assert for_points(kitchen()).count("crispEdges") == kitchen().count('stroke-width="0.6" d=')
