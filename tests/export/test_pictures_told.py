"""Photographs in what is exported: shown the right way up, without place, device, time or comments, for anybody."""

from __future__ import annotations

import base64
import io
import re
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

import enfilade as ef
from building import house, room
from enfilade.errors import Refused
from enfilade.project.fields import AUDIENCES, Audience
from enfilade.project.photos import keep_photograph
from picture_files import MARKERS, camera_jpeg, camera_png, camera_webp, corners, parts_of
from project_folders import picture

FILES = {
    "jpeg": camera_jpeg(),
    "jpeg on its side": camera_jpeg(6, ">"),
    "large jpeg": camera_jpeg(8, picture=corners(2400, 1600)),
    "png": camera_png(),
    "png upside down": camera_png(3),
    "webp": camera_webp(),
    "webp on its side": camera_webp(8, lossless=False),
}
HEARD: dict[Audience, int] = {"client": len(FILES), "studio": len(FILES), "public": 0, "student": 0}
"""What the audiences of the record's fields say: photographs are for the client."""


def told(folder: Path, files: dict[str, bytes], audience: Audience = "client") -> str:
    photographs = [
        {"id": f"p{i}", "file": keep_photograph(folder, data), "space": "kitchen", "caption": name,
         "taken_on": "1961-04-12"}
        for i, (name, data) in enumerate(files.items())
    ]  # fmt: skip
    ef.save(house(spaces=[room(100, 100)], photographs=photographs), folder)
    path, *_ = ef.tell(ef.load(folder), audience=audience, out=folder.parent / "told")
    return path.read_text("utf-8")


def carried(markup: str) -> list[bytes]:
    return [base64.b64decode(data) for data in re.findall(r"data:image/\w+;base64,([A-Za-z0-9+/=]+)", markup)]


@pytest.mark.parametrize("audience", AUDIENCES)
def test_nobody_is_told_what_the_camera_wrote(tmp_path: Path, audience: Audience) -> None:
    markup = told(tmp_path / "p", FILES, audience)
    pictures = carried(markup)
    assert len(pictures) == HEARD[audience]
    text = re.sub(r"<style.*?</style>|base64,[A-Za-z0-9+/=]+", "", markup, flags=re.DOTALL).encode()
    for marker in MARKERS:
        assert marker in FILES["jpeg"]
        assert marker not in text
        assert not any(marker in data for data in pictures), marker
        for shift in range(3):  # as base64 has it, wherever it would begin
            written = base64.b64encode(bytes(shift) + marker)[4 if shift else 0 : -4].decode()
            assert len(written) < 8 or written not in re.sub(r"<style.*?</style>", "", markup, flags=re.DOTALL)
    for data in pictures:
        with Image.open(io.BytesIO(data)) as shown:
            assert dict(shown.getexif()) == {}
            assert not {"exif", "xmp", "comment", "mp", "Author", "Comment"} & set(shown.info)
        names = {name for name, _ in parts_of(data)}
        assert not names & {0xE1, 0xED, 0xFE, b"eXIf", b"tEXt", b"iTXt", b"zTXt", b"tIME", b"EXIF", b"XMP "}


def test_pictures_on_a_page_are_upright_and_no_larger_than_it_shows(tmp_path: Path) -> None:
    pictures = dict(zip(FILES, carried(told(tmp_path / "p", FILES)), strict=True))
    sizes: dict[str, Any] = {}
    for name, data in pictures.items():
        with Image.open(io.BytesIO(data)) as shown:
            sizes[name] = shown.size
    turned = {"jpeg on its side", "webp on its side"}
    expected = {name: (32, 48) if name in turned else (48, 32) for name in FILES}
    assert sizes == expected | {"large jpeg": (800, 1200)}  # 1600 x 2400 seen upright, longest side 1200
    assert len(pictures["large jpeg"]) < 60_000


def test_the_originals_stay_as_they_came(tmp_path: Path) -> None:
    told(tmp_path / "p", FILES)
    kept = sorted((tmp_path / "p" / "photos").iterdir())
    assert sorted(path.read_bytes() for path in kept) == sorted(FILES.values())


def test_a_damaged_photograph_is_named_and_nothing_is_written(tmp_path: Path) -> None:
    whole = picture(400, 300, "JPEG")
    with pytest.raises(Refused, match=r"photograph 'broken': .*damaged.*add it anew"):
        told(tmp_path / "p", {"broken": whole[:-40]})
    assert not (tmp_path / "told").exists()
