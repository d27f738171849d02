"""Files cut into records and put together again: any bytes come back, equal records are shared, damage is refused."""

from __future__ import annotations

import contextlib
import json
import threading
import time
import zlib

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from enfilade.archive.adding import add_version
from enfilade.archive.cutting import (
    Cut,
    cut,
    digest,
    joined,
    manifest_of,
    packed,
    pieces_of,
    unpacked,
)
from enfilade.archive.store import Store
from enfilade.archive.versions import Version, seal_of
from enfilade.errors import Refused
from enfilade.project.store import project_bytes
from project_folders import good_project

RECORD = '{"id": "sink-size", "title": "Size of the sink", "reason": "' + "wide " * 20 + '"}'
SIGNS = [
    "{", "}", "},", "[", "\n", "\r\n", "\r", "\u2028", "\x85", "\x1c", "\ufeff", " ", RECORD, f"{RECORD},", "é", "𝄞",
]  # fmt: skip
JSON_LIKE = st.lists(st.sampled_from(SIGNS)).map("".join)
JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.text(),
    lambda inner: st.lists(inner) | st.dictionaries(st.text(), inner),
)


def whole(parts: Cut) -> bytes:
    return b"".join(part.encode() if isinstance(part, str) else part for part in parts)


def kept_and_read(data: bytes) -> bytes:
    parts = cut(data)
    pieces = {part for part in parts if isinstance(part, bytes)}
    numbers = {digest(piece): number for number, piece in enumerate(sorted(pieces), 1)}
    kept = {numbers[digest(piece)]: packed(piece) for piece in pieces}
    manifest = manifest_of([part if isinstance(part, str) else digest(part) for part in parts], numbers)
    return joined(pieces_of(manifest), {number: unpacked(piece) for number, piece in kept.items()})


@given(st.binary(max_size=3000))
@example(b"")
@example(b"\xff\xfe")
@example(b"\xed\xa0\x80")  # half of a pair: no UTF-8
@example(b"\xef\xbb\xbf{}")
def test_any_bytes_come_back(data: bytes) -> None:
    assert whole(cut(data)) == data
    assert kept_and_read(data) == data
    assert unpacked(packed(data)) == data


@given(JSON_LIKE)
@settings(max_examples=300)
def test_any_text_comes_back(text: str) -> None:
    data = text.encode()
    assert whole(cut(data)) == data
    assert kept_and_read(data) == data


@given(JSON, st.sampled_from([None, 0, 1, 2]))
def test_any_json_comes_back(plain: object, indent: int | None) -> None:
    data = json.dumps(plain, indent=indent, ensure_ascii=False).encode("utf-8", "surrogatepass")
    assert kept_and_read(data) == data


def test_long_lines_of_braces_take_no_longer_than_others() -> None:
    """A text of 200,000 braces, on a line that does not end as a record does: read once, not once for each brace."""
    for data in (
        b'"text": "' + b"{" * 200_000 + b'",\n',
        b"{" * 200_000 + b"}" * 200_000 + b"x",
        b"{}," * 100_000 + b"x",
    ):
        began_s = time.monotonic()
        assert kept_and_read(data) == data
        assert time.monotonic() - began_s < 5


def test_equal_records_are_one_piece_and_a_change_adds_one() -> None:
    project = good_project()
    changed = project.model_copy(
        update={"decisions": tuple(one.model_copy(update={"title": "Another"}) for one in project.decisions)}
    )
    before, after = (
        {part for part in cut(project_bytes(one)) if isinstance(part, bytes)} for one in (project, changed)
    )
    assert len(before) > 10
    assert len(after - before) == len(before - after) == len(project.decisions) == 1


@pytest.mark.parametrize(
    "plain",
    [b"", b"{}", b"null", b"1", b'"a"', b"[1.5]", b"[true]", b"[null]", b"[[1]]", b'[{"a": 1}]', b"[1", b"\xff",
     b"[" * 100_000, b"[1e999]", b"[NaN]", b"[" + b"9" * 5000 + b"]"],
)  # fmt: skip
def test_a_hostile_manifest_is_refused(plain: bytes) -> None:
    for kept in (b"\x00" + plain, b"\x01" + zlib.compress(plain)):
        with pytest.raises(Refused, match="damaged"):
            pieces_of(kept)


def test_a_manifest_that_names_what_is_not_there_is_refused() -> None:
    with pytest.raises(Refused, match="piece 7 of a file is missing"):
        joined(["a", 7], {1: b"x"})
    with pytest.raises(Refused, match="piece -1"):
        joined([-1], {1: b"x"})


@given(st.binary(max_size=400))
def test_bytes_that_were_never_packed_are_refused_or_read(kept: bytes) -> None:
    with contextlib.suppress(Refused):
        unpacked(kept)
    with contextlib.suppress(Refused):
        assert all(isinstance(part, str | int) for part in pieces_of(kept))


def test_a_bomb_is_never_unpacked_whole() -> None:
    bomb = b"\x01" + zlib.compress(bytes(50_000_000), 9)
    assert len(bomb) < 100_000
    with pytest.raises(Refused, match="holds over 1000 bytes"):
        unpacked(bomb, largest=1000)
    for cut_off in range(1, 40):
        with pytest.raises(Refused, match="damaged"):
            unpacked(bomb[:-cut_off], largest=60_000_000)


@given(st.data())
def test_whoever_changes_anything_changes_the_seal(data: st.DataObject) -> None:
    """SHA-256 stands behind it; what is asked here is that nothing is left out and that no two things run together."""
    import datetime as dt
    from dataclasses import replace

    words = st.text(st.characters(exclude_characters="\x00"), max_size=8)
    moment = dt.datetime(2026, 3, 24, 10, 42, tzinfo=dt.UTC)
    version = Version("house", 2, moment, data.draw(words), data.draw(words), 1, "us", "", b"")
    digests = {"project.json": digest(b"a"), "photos/a.jpg": digest(b"b")}
    seal = seal_of(version, b"before", digests)
    assert len(seal) == 32
    others = {
        "project": "other", "number": 3, "on": moment + dt.timedelta(seconds=1), "who": version.who + "x",
        "why": "x" + version.why, "format": 2, "yardstick": "eu", "house_rules": "x",
    }  # fmt: skip
    for name, value in others.items():
        assert seal_of(replace(version, **{name: value}), b"before", digests) != seal
    if version.who != version.why:
        assert seal_of(replace(version, who=version.why, why=version.who), b"before", digests) != seal
    for changed in (
        {"project.json": digest(b"a")}, {**digests, "new": digest(b"")}, {**digests, "project.json": digest(b"c")},
        {"project.json": digest(b"b"), "photos/a.jpg": digest(b"a")},
    ):  # fmt: skip
        assert seal_of(version, b"before", changed) != seal
    assert seal_of(version, b"", digests) != seal
    assert seal_of(version, b"before", dict(reversed(digests.items()))) == seal


def test_many_who_keep_the_same_at_once_share_it(address: str) -> None:
    """Eight threads keep eight houses with one photograph and the same records: each comes back, pieces stand once."""
    photograph = bytes(range(256)) * 400
    houses = [good_project().model_copy(update={"id": f"house-{number}"}) for number in range(8)]
    Store(address).close()
    failures: list[BaseException] = []
    start = threading.Barrier(len(houses))

    def keep_one(house: object) -> None:
        try:
            with Store(address) as store:
                start.wait(timeout=60)
                files = {"project.json": project_bytes(house), "photos/a.jpg": photograph}  # type: ignore[arg-type]
                add_version(store, house, files, who="x", why="", base=None)  # type: ignore[arg-type]
        except BaseException as error:
            failures.append(error)

    threads = [threading.Thread(target=keep_one, args=(house,)) for house in houses]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(timeout=120)
    assert failures == []
    from sqlalchemy import func, select

    from enfilade.archive import tables as t

    with Store(address) as store:
        for house in houses:
            assert store.project(house.id) == house
            assert store.file(house.id, "photos/a.jpg") == photograph
        with store.reading() as connection:
            pieces = connection.execute(select(t.pieces.c.digest)).scalars().all()
            assert connection.execute(select(func.count()).select_from(t.files)).scalar() == len(houses) + 1
        assert len(pieces) == len({bytes(one) for one in pieces})
        shared = {part for house in houses for part in cut(project_bytes(house)) if isinstance(part, bytes)}
        assert len(pieces) == len(shared) + 1
