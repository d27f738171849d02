"""Every kind of box that was damaged or made to harm is refused with its place, and leaves no trace."""

from __future__ import annotations

import io
import os
import shutil
import tracemalloc
import zipfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from box_making import good_box, good_members, raws, zipped
from enfilade.archive.box import read_box, take_in, unpack, write_box
from enfilade.archive.store import Store
from enfilade.errors import BadRecord, EnfiladeError, NotFound, Refused
from hostile_boxes import HOSTILE, Hostile
from project_folders import folder_state

_MOST_BYTES = 200_000_000


@pytest.fixture
def place(tmp_path: Path) -> Iterator[Path]:
    """A folder that is watched: nothing beside the box itself and the archive may appear or change in or above it."""
    (tmp_path / "outside.txt").write_text("untouched")
    (tmp_path / "inner").mkdir()
    before = folder_state(tmp_path)
    yield tmp_path / "inner"
    after = {name: what for name, what in folder_state(tmp_path).items() if not name.startswith("inner/")}
    assert after == before


@pytest.mark.parametrize("hostile", HOSTILE, ids=lambda one: one.what)
def test_it_is_refused_with_its_place(hostile: Hostile, place: Path) -> None:
    box = place / "box.zip"
    box.write_bytes(hostile.made())
    tracemalloc.start()
    try:
        with pytest.raises(EnfiladeError) as caught:
            read_box(box)
        assert tracemalloc.get_traced_memory()[1] < _MOST_BYTES
    finally:
        tracemalloc.stop()
    said = str(caught.value)
    assert said.startswith(f"{box}: ")
    for words in hostile.words:
        assert words in said
    assert all(line.isprintable() for line in said.splitlines())
    with pytest.raises(BadRecord):
        unpack(box, place / "out")
    assert not (place / "out").exists()
    with Store(str(place / "archive.sqlite")) as store:
        with pytest.raises(BadRecord):
            take_in(store, box)
        assert store.projects() == []


def test_what_is_no_file_is_refused(place: Path) -> None:
    with pytest.raises(NotFound):
        read_box(place / "none.zip")
    with pytest.raises(Refused, match="plain file"):
        read_box(place)
    (place / "box.zip").write_bytes(good_box())
    (place / "link.zip").symlink_to(place / "box.zip")
    with pytest.raises(Refused, match="is a link"):
        read_box(place / "link.zip")
    os.mkfifo(place / "pipe.zip")
    with pytest.raises(Refused, match="plain file"):
        read_box(place / "pipe.zip")


def test_it_is_not_unpacked_over_anything(place: Path) -> None:
    box = place / "box.zip"
    box.write_bytes(good_box())
    for name in ("full", "elsewhere"):
        (place / name).mkdir()
    (place / "full" / "mine.txt").write_text("mine")
    (place / "link").symlink_to(place / "elsewhere")
    (place / "file").write_text("mine")
    for name, words in (("full", "not empty"), ("link", "is a link"), ("file", "is no folder")):
        with pytest.raises(Refused, match=words):
            unpack(box, place / name)
    assert (place / "full" / "mine.txt").read_text() == "mine"
    assert not any((place / "elsewhere").iterdir())
    with pytest.raises(NotFound, match="version 9"):
        unpack(box, place / "out", 9)


def test_it_is_not_written_over_what_is_no_box(place: Path) -> None:
    box = place / "box.zip"
    box.write_bytes(good_box())
    with Store(str(place / "archive.sqlite")) as store:
        take_in(store, box)
        for name, data in {"letter.txt": b"mine", "other.zip": zipped(raws({"a": b"a"})), "empty": b""}.items():
            (place / name).write_bytes(data)
            with pytest.raises(Refused, match="no project box"):
                write_box(store, "test-house", place / name)
            assert (place / name).read_bytes() == data
        (place / "link.zip").symlink_to(box)
        for name, words in (("link.zip", "no project box"), (".", "is a folder")):
            with pytest.raises(Refused, match=words):
                write_box(store, "test-house", place / name)
        assert write_box(store, "test-house", box).read_bytes() == good_box()
        with pytest.raises(NotFound):
            write_box(store, "another-house", place / "none.zip")
        assert not [entry for entry in place.iterdir() if entry.name.endswith(".part")]


class _Pipe(io.RawIOBase):
    """A stream that cannot go back, so that sizes are written behind the data."""

    def __init__(self) -> None:
        self.written = bytearray()

    def writable(self) -> bool:
        return True

    def write(self, data: Any) -> int:
        self.written += data
        return len(data)


def test_a_box_that_was_packed_again_by_other_means_is_read(place: Path) -> None:
    """Folders of their own, other times, and sizes behind the data are within the published layout."""
    box, again = place / "box.zip", place / "again.zip"
    box.write_bytes(good_box())
    with zipfile.ZipFile(box) as opened:
        opened.extractall(place / "unpacked")
    shutil.make_archive(str(place / "again"), "zip", place / "unpacked")
    assert read_box(again).versions == read_box(box).versions
    pipe = _Pipe()
    with zipfile.ZipFile(pipe, "w", zipfile.ZIP_DEFLATED) as streamed:
        for name, data in good_members().items():
            streamed.writestr(name, data)
    again.write_bytes(bytes(pipe.written))
    assert read_box(again).versions == read_box(box).versions
