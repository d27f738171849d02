"""The part of the page that shows a room's photographs: files that arrive in pieces, links, pages of the list."""

from __future__ import annotations

import base64
import io
import json
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

import enfilade as ef
from building import house, on_wall, room, thing
from enfilade.capture.desk import Desk
from enfilade.capture.parts import photographs as part
from enfilade.capture.sight import Sight
from enfilade.capture.uploads import PIECE_BYTES, Uploads
from enfilade.errors import BadRecord, EnfiladeError, NotFound, Refused
from enfilade.project import photos
from picture_files import MARKERS, camera_jpeg, camera_png
from project_folders import picture


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    project = house(
        [
            thing("sink", "bowl", 30, 20, on_wall("kitchen-north", 40), name="Deep sink"),
            thing("table", "table", 30, 30, on_wall("kitchen-south", 9)),
            thing("table", "console", 30, 12, on_wall("hall-south", 9), space="hall", name="Console"),
        ],
        spaces=[room(144, 144), room(90, 90, id="hall", use="hall", at=(0, -94))],
        decisions=[
            {"id": "bowls", "number": 1, "title": "How many bowls", "spaces": ["kitchen"]},
            {"id": "coats", "number": 2, "title": "Coats", "spaces": ["hall"]},
            {"id": "colour", "number": 3, "title": "Colour of all the doors"},
        ],
    )
    ef.save(project, tmp_path / "house")
    return Desk.open(tmp_path / "house")


@pytest.fixture
def sight() -> Sight:
    return Sight(room="kitchen")


def do(desk: Desk, sight: Sight, name: str, **message: Any) -> dict[str, Any]:
    said = part.HANDLERS[name](desk, sight, {"do": name, **message})
    return said if isinstance(said, dict) else {"say": said}


def add(desk: Desk, sight: Sight, data: bytes, *, upload: str = "u", batch: str = "b", size: int = PIECE_BYTES,
        room: str = "kitchen") -> dict[str, Any]:  # fmt: skip
    """Send a file as the page does, and return the last answer."""
    pieces = [data[at : at + size] for at in range(0, len(data), size)] or [b""]
    for index, piece in enumerate(pieces):
        answer = do(desk, sight, "photograph chunk", upload=upload, batch=batch, room=room, index=index,
                    last=index == len(pieces) - 1, buffers=[piece])  # fmt: skip
    return answer


def shown(desk: Desk, sight: Sight) -> dict[str, Any]:
    state = part.shown(desk, sight)
    assert json.loads(json.dumps(state)) == state
    return state


def test_an_empty_room_and_no_room_say_so(desk: Desk, sight: Sight) -> None:
    assert shown(desk, sight)["words"] == "No photographs yet."
    assert "no room" in shown(desk, Sight())["nothing"]


@pytest.mark.parametrize("size", [PIECE_BYTES, 100, 1])
def test_a_file_arrives_in_pieces_and_is_kept_as_it_was(desk: Desk, sight: Sight, size: int) -> None:
    data = picture(20, 20) if size == 1 else camera_jpeg()
    answer = add(desk, sight, data, size=size)
    assert answer["say"] == "Photograph added to Kitchen"
    (photograph,) = ef.load(desk.folder).photographs
    assert photograph.id == answer["taken"]
    assert (desk.folder / "photos" / photograph.file).read_bytes() == data


def test_nothing_changes_until_the_last_piece_is_there(desk: Desk, sight: Sight) -> None:
    before = desk.project
    answer = do(desk, sight, "photograph chunk", upload="u", batch="b", room="kitchen", index=0, last=False,
                buffers=[camera_jpeg()])  # fmt: skip
    assert answer == {"say": ""}
    assert desk.project is before
    assert not (desk.folder / "photos").exists() or not list((desk.folder / "photos").iterdir())


def test_what_is_added_at_once_is_undone_at_once(desk: Desk, sight: Sight) -> None:
    for side in (4, 5, 6):
        add(desk, sight, picture(side, 3), upload=f"u{side}")
    add(desk, sight, picture(7, 3), upload="u7", batch="another")
    assert shown(desk, sight)["words"] == "4 photographs."
    assert desk.undo() == "added photographs to Kitchen"
    assert shown(desk, sight)["words"] == "3 photographs."
    desk.undo()
    assert shown(desk, sight)["words"] == "No photographs yet."
    desk.redo()
    assert len(ef.load(desk.folder).photographs) == 3


def test_of_several_files_those_that_cannot_be_shown_are_refused_with_the_reason(desk: Desk, sight: Sight) -> None:
    add(desk, sight, picture(4, 3), upload="a")
    for data, words in (
        (b"\0\0\0\x18ftypheic" + bytes(99), r"seems to be a HEIC picture.*PNG, JPEG or WebP.*save it as JPEG"),
        (picture(40, 30, "JPEG")[:-30], "damaged"),
        (b"", "no picture"),
        (picture(4, 3), "already"),
    ):
        with pytest.raises(Refused, match=words):
            add(desk, sight, data, upload="b")
    add(desk, sight, picture(9, 9), upload="c")
    assert shown(desk, sight)["words"] == "2 photographs."
    assert desk.undo_words == "added photographs to Kitchen"
    desk.undo()
    assert desk.undo_words == ""


def test_the_room_that_files_were_given_to_gets_them(desk: Desk, sight: Sight) -> None:
    sight.room = "hall"
    add(desk, sight, picture(), room="kitchen")
    assert desk.project.photographs[0].space == "kitchen"
    with pytest.raises(Refused, match="no longer there"):
        add(desk, sight, picture(9, 9), room="attic")


def test_pieces_that_are_missing_too_large_or_too_many_are_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    def piece(uploads: Uploads, upload: str, index: Any, data: bytes, last: bool = False) -> bytes | None:
        return uploads.taken({"upload": upload, "index": index, "last": last, "buffers": [data]})

    uploads = Uploads(10)
    assert piece(uploads, "a", 0, b"123") is None
    with pytest.raises(Refused, match="did not arrive"):
        piece(uploads, "a", 2, b"456")
    with pytest.raises(Refused, match="did not arrive"):
        piece(uploads, "a", 1, b"456")  # what had arrived was let go
    for index in (-1, 1, True, "0", None, 0.5):
        with pytest.raises(Refused, match="did not arrive"):
            piece(uploads, "b", index, b"1")
    assert piece(uploads, "a", 0, b"12345") is None
    with pytest.raises(Refused, match="too large"):
        piece(uploads, "a", 1, b"678901")
    assert piece(uploads, "a", 0, b"1234567890", last=True) == b"1234567890"
    with pytest.raises(Refused, match="too large"):
        piece(Uploads(10**9), "a", 0, bytes(5 * PIECE_BYTES))
    for buffers in (None, [], [b"", b""], "x"):
        with pytest.raises(Refused, match="did not arrive"):
            uploads.taken({"upload": "a", "index": 0, "last": True, "buffers": buffers})


def test_files_that_never_end_are_let_go_when_others_come() -> None:
    uploads = Uploads(100)
    for name in "abcdefgh":
        uploads.taken({"upload": name, "index": 0, "buffers": [b"1"]})
    with pytest.raises(Refused, match="did not arrive"):
        uploads.taken({"upload": "a", "index": 1, "last": True, "buffers": [b"2"]})
    assert uploads.taken({"upload": "h", "index": 1, "last": True, "buffers": [b"2"]}) == b"12"


def test_forty_megabytes_are_taken_and_no_more(desk: Desk, sight: Sight) -> None:
    start = picture(30, 30)
    large = start + bytes(photos.LARGEST_BYTES - len(start))
    assert add(desk, sight, large)["taken"]
    with pytest.raises(Refused, match="at most 40 MB"):
        add(desk, sight, large + b"x")


def test_pictures_are_small_stripped_and_asked_for_a_few_at_a_time(desk: Desk, sight: Sight) -> None:
    for index, data in enumerate((camera_jpeg(6), camera_png(3), picture(2000, 1000, "JPEG"))):
        add(desk, sight, data, upload=str(index))
    files = [one["file"] for one in shown(desk, sight)["photographs"]]
    answer = do(desk, sight, "photograph pictures", files=files)
    sizes = []
    for file in files:
        head, _, body = answer["pictures"][file].partition(",")
        assert head == "data:image/jpeg;base64"
        data = base64.b64decode(body)
        assert not any(marker in data for marker in MARKERS)
        with Image.open(io.BytesIO(data)) as small:
            sizes.append(small.size)
            assert dict(small.getexif()) == {}
    assert sizes == [(32, 48), (48, 32), (480, 240)]
    assert answer["say"] == ""
    for asked in (None, [], files * 2, "x"):
        with pytest.raises(Refused):
            do(desk, sight, "photograph pictures", files=asked)


def test_a_picture_of_no_photograph_is_not_read_and_one_that_is_gone_is_empty(desk: Desk, sight: Sight) -> None:
    add(desk, sight, picture(11, 7))
    file = desk.project.photographs[0].file
    (desk.folder / "photos" / file).unlink()
    answer = do(desk, sight, "photograph pictures", files=[file, "../project.json", 3])
    assert answer["pictures"] == {file: ""}


def test_a_photograph_is_linked_by_the_names_that_people_use(desk: Desk, sight: Sight) -> None:
    id = add(desk, sight, picture())["taken"]
    state = shown(desk, sight)
    assert [one["label"] for one in state["things"]] == ["Deep sink", "table"]
    assert [one["label"] for one in state["decisions"]] == ["1. How many bowls", "3. Colour of all the doors"]
    assert do(desk, sight, "photograph linked", id=id, links="things", to="bowl", linked=True)["say"] == (
        "Photograph linked to Deep sink"
    )
    do(desk, sight, "photograph linked", id=id, links="decisions", to="bowls", linked=True)
    do(desk, sight, "photograph linked", id=id, links="things", to="console", linked=True)
    (photograph,) = shown(desk, sight)["photographs"]
    assert photograph["links"] == "Shows Deep sink, Console, Hall. Belongs to 1. How many bowls."
    assert photograph["linked"] == {"things": ["bowl", "console"], "decisions": ["bowls"]}
    assert photograph["elsewhere"]["things"] == [{"value": "console", "label": "Console, Hall"}]
    do(desk, sight, "photograph linked", id=id, links="things", to="bowl", linked=False)
    assert ef.load(desk.folder).photographs[0].things == ("console",)


def test_fields_are_asked_for_in_plain_words_and_a_draft_is_shown(desk: Desk, sight: Sight) -> None:
    id = add(desk, sight, camera_jpeg())["taken"]
    (photograph,) = shown(desk, sight)["photographs"]
    assert [(one["label"], one["shown"]) for one in photograph["fields"]] == [
        ("Caption", ""), ("What it shows, for someone who cannot see it", ""),
    ]  # fmt: skip
    more = {one["label"]: one for one in photograph["more"]}
    assert more["Day it was taken"]["shown"].endswith("1961") or more["Day it was taken"]["shown"] == "1961-04-12"
    assert [one["label"] for one in more["Room"]["options"]] == ["Kitchen", "Hall"]
    assert photograph["fields"][0]["path"] == ["photographs", id, "caption"]
    desk.drafts.keep(("photographs", id, "caption"), "x" * 500, "too long")
    (photograph,) = shown(desk, sight)["photographs"]
    assert (photograph["fields"][0]["typed"], photograph["fields"][0]["error"]) == ("x" * 500, "too long")


def test_a_photograph_is_removed_and_brought_back(desk: Desk, sight: Sight) -> None:
    id = add(desk, sight, picture())["taken"]
    desk.drafts.keep(("photographs", id, "taken_on"), "yesterday", "no day")
    assert "undo" in do(desk, sight, "photograph removed", id=id)["say"]
    assert desk.project.photographs == ()
    assert desk.drafts.get(("photographs", id, "taken_on")) is None
    assert desk.undo() == "removed a photograph"
    assert [one["id"] for one in shown(desk, sight)["photographs"]] == [id]
    assert do(desk, sight, "photograph pictures", files=[desk.project.photographs[0].file])["pictures"]


def test_a_long_list_is_shown_page_by_page(desk: Desk, sight: Sight) -> None:
    plain = [{"id": f"p{i}", "file": f"{i:064x}.png", "space": "kitchen"} for i in range(30)]
    desk.project = desk.project.with_records(photographs=plain)

    def page() -> tuple[list[str], str, bool, bool]:
        state = shown(desk, sight)
        ids = [one["id"] for one in state["photographs"]]
        return ids, state["page"]["words"], state["page"]["before"], state["page"]["after"]

    seen = [page()]
    for _ in range(2):
        do(desk, sight, "photograph page", later=True)
        seen.append(page())
    assert [one[1:] for one in seen] == [
        ("1 to 12 of 30", False, True), ("13 to 24 of 30", True, True), ("25 to 30 of 30", True, False),
    ]  # fmt: skip
    assert [id for one in seen for id in one[0]] == [f"p{i}" for i in range(30)]
    assert do(desk, sight, "photograph page", later=True)["say"] == "Photographs 25 to 30 of 30"
    desk.project = desk.project.with_records(photographs=plain[:5])
    assert page()[1] == "1 to 5 of 5"
    assert do(desk, sight, "photograph page", later=False)["say"] == "Photographs 1 to 5 of 5"
    sight.room = "hall"
    assert page()[0] == []


def test_a_stranger_s_messages_are_refused_in_words(desk: Desk, sight: Sight) -> None:
    add(desk, sight, picture())
    before = desk.project
    for name in part.HANDLERS:
        if name == "photograph page":
            continue
        for message in (
            {}, {"id": 3}, {"id": "x" * 100}, {"id": "gone", "links": "things", "to": "bowl", "linked": True},
            {"id": desk.project.photographs[0].id, "links": "file", "to": "bowl", "linked": True},
            {"id": desk.project.photographs[0].id, "links": "things", "to": "gone", "linked": True},
            {"upload": ["u"], "index": 0}, {"upload": "u", "index": 0, "last": True, "buffers": [b"x"], "room": 3},
        ):  # fmt: skip
            if name == "photograph removed" and message.get("id") == desk.project.photographs[0].id:
                continue
            with pytest.raises((Refused, NotFound, BadRecord)) as refusal:
                do(desk, sight, name, **message)
            assert isinstance(refusal.value, EnfiladeError)
    assert desk.project is before
