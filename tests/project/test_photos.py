"""Photographs: what a camera makes is kept, anything else is refused from its header alone."""

from __future__ import annotations

import io
import warnings
from pathlib import Path

import pytest
from PIL import Image

from enfilade.errors import Refused
from enfilade.files import fingerprint
from enfilade.project import photos
from enfilade.project.photos import keep_photograph
from project_folders import picture


@pytest.mark.parametrize(("form", "ending"), [("PNG", "png"), ("JPEG", "jpg"), ("WEBP", "webp")])
def test_a_photograph_is_named_by_its_content(tmp_path: Path, form: str, ending: str) -> None:
    data = picture(form=form)
    name = keep_photograph(tmp_path, data)
    assert name == f"{fingerprint(data)}.{ending}"
    assert (tmp_path / "photos" / name).read_bytes() == data
    assert keep_photograph(tmp_path, data) == name
    assert [path.name for path in (tmp_path / "photos").iterdir()] == [name]


def test_the_double_picture_of_a_telephone_is_a_jpeg(tmp_path: Path) -> None:
    stream = io.BytesIO()
    first, second = Image.new("RGB", (8, 8), "red"), Image.new("RGB", (4, 4), "blue")
    first.save(stream, format="MPO", save_all=True, append_images=[second])
    assert keep_photograph(tmp_path, stream.getvalue()).endswith(".jpg")


@pytest.mark.parametrize(
    "data",
    [b"", b"GIF89a", b"\xff\xd8\xff", b"%PDF-1.7", b"<svg/>", b"RIFF\x00\x00\x00\x00WEBPVP8 ", picture(form="BMP")],
)
def test_what_is_no_picture_is_refused(tmp_path: Path, data: bytes) -> None:
    with pytest.raises(Refused, match="PNG, JPEG or WebP"):
        keep_photograph(tmp_path, data)
    assert list(tmp_path.iterdir()) == []


def test_no_bytes_make_a_decoder_fail_otherwise(tmp_path: Path) -> None:
    for form in ("PNG", "JPEG", "WEBP"):
        whole = picture(40, 30, form)
        for length in range(0, len(whole), 7):
            for twist in (whole[:length], whole[:length] + b"\xff" * 9 + whole[length + 9 :]):
                try:
                    keep_photograph(tmp_path / form, twist)
                except Refused:
                    continue


def test_large_pictures_are_refused_without_a_warning(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(photos, "LARGEST_PIXELS", 100)
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        with pytest.raises(Refused, match="20 x 20 pixels"):
            keep_photograph(tmp_path, picture(20, 20))
    assert keep_photograph(tmp_path, picture(10, 10))
    monkeypatch.setattr(photos, "LARGEST_BYTES", 10)
    with pytest.raises(Refused, match="at most 10"):
        keep_photograph(tmp_path, picture(4, 4))
