"""What is read from a camera's data, and colour profiles without the device that they describe."""

from __future__ import annotations

import datetime as dt
import io
import struct
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image, ImageCms

from enfilade.project.pictures.exif import read_exif
from enfilade.project.pictures.profiles import plain_profile
from enfilade.project.stripping import day_taken, stripped
from picture_files import camera_jpeg, camera_png, camera_webp, corners, profile_of_a_screen
from project_folders import picture

CAMERAS: dict[str, Callable[..., bytes]] = {"JPEG": camera_jpeg, "PNG": camera_png, "WEBP": camera_webp}


@pytest.mark.parametrize("version", [2, 4])
def test_a_profile_shows_the_same_colours_and_no_longer_names_its_device(version: int) -> None:
    named = profile_of_a_screen()
    named = named[:8] + bytes((version,)) + named[9:]
    plain = plain_profile(named)
    assert plain is not None
    assert b"qq" in named
    assert b"qq" not in plain
    colours = Image.linear_gradient("L").convert("RGB")
    colours.paste(corners(), (10, 10))
    target = ImageCms.createProfile("LAB")

    def seen(profile: bytes) -> bytes:
        source = ImageCms.ImageCmsProfile(io.BytesIO(profile))
        shown_picture = ImageCms.profileToProfile(colours, source, target, outputMode="LAB")
        assert shown_picture is not None
        return shown_picture.tobytes()

    assert seen(plain) == seen(named)
    about = ImageCms.ImageCmsProfile(io.BytesIO(plain)).profile
    assert (about.manufacturer, about.model, about.creation_date) == (None, None, dt.datetime(2000, 1, 1))
    assert about.profile_description == "Unnamed"


def test_a_profile_that_cannot_be_read_is_left_out() -> None:
    whole = profile_of_a_screen()
    white = whole.index(b"wtpt") + 4
    far = whole[:white] + struct.pack(">I", 2**31) + whole[white + 4 :]
    many = whole[:128] + struct.pack(">I", 2**31) + whole[132:]
    for broken in (b"", whole[:100], whole[:140], b"x" * 400, far, many, whole + bytes(5_000_000)):
        assert plain_profile(broken) is None


@pytest.mark.parametrize("form", CAMERAS)
def test_the_day_is_read_from_the_picture(form: str) -> None:
    assert day_taken(CAMERAS[form]()) == dt.date(1961, 4, 12)
    assert day_taken(picture(form=form)) is None
    assert day_taken(stripped(CAMERAS[form]())) is None


@pytest.mark.parametrize(
    "taken", [b"0000:00:00 00:00:00\0", b"    :  :     :  :  \0", b"1961:13:40 00:00:00\0", b"x\0"]
)
def test_a_clock_that_was_never_set_gives_no_day(taken: bytes) -> None:
    assert day_taken(camera_jpeg(taken=taken)) is None


@given(st.sampled_from([b"II*\0", b"MM\0*", b""]), st.binary(max_size=300))
def test_no_bytes_make_the_reader_of_exif_or_of_profiles_fail(mark: bytes, rest: bytes) -> None:
    found = read_exif(mark + rest)
    assert 1 <= found.orientation <= 8
    plain = plain_profile(profile_of_a_screen()[:128] + rest + profile_of_a_screen()[128 + len(rest) :])
    assert plain is None or b"qqserial" not in plain
