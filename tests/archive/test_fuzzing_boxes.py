"""Boxes changed at random are taken, or refused with a place: 200 here, 2,000 with `ENFILADE_FUZZ=10000`."""

from __future__ import annotations

import json
import random
import shutil
from collections import Counter
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from box_making import Raw, boxed, good_box, good_members, raws, sealed_box, summed, zipped
from enfilade.archive.box import read_box, take_in, unpack
from enfilade.archive.store import Store
from fuzzing import MANY, bounded, bytes_changed, is_clear, record_changed, refusal
from laws.test_any_input import odd, places, replaced
from project_folders import folder_state

SEED = 20260325
_NAMES = (
    "../out", "/out", "C:out", "a\\b", "con", "a.", "A", "manifest.json", "Manifest.json",
    "versions/0001/project.json/x",
    "files/\u00e9", "files/e\u0301", "files/\x00", "", "./a", "a//b",
    "files/" + "x" * 300, "files/\u202e", "files/a/",
)  # fmt: skip


def _of_bytes(chance: random.Random) -> bytes:
    return bytes_changed(good_box(), chance)


def _of_directory(chance: random.Random) -> bytes:
    """Change the directory and the end alone, where a few bytes decide."""
    data = good_box()
    at = data.index(b"PK\x01\x02")
    return data[:at] + bytes_changed(data[at:], chance)


def _of_headers(chance: random.Random) -> bytes:
    entries = raws(good_members())
    for _ in range(chance.randrange(1, 4)):
        at = chance.randrange(len(entries))
        entries[at] = _lied(entries[at], chance)
    if chance.random() < 0.2:
        entries.insert(chance.randrange(len(entries)), chance.choice(entries))
    if chance.random() < 0.2:
        chance.shuffle(entries)
    return zipped(entries, tail=chance.choice((b"", b"", b"", b"x")), head=chance.choice((b"", b"", b"", b"MZ")))


def _lied(entry: Raw, chance: random.Random) -> Raw:
    number = chance.choice((0, 1, 2, 8, 9, 12, 30, 255, 999, 65535, 2**31, 2**32 - 1))
    name = chance.choice(("flags", "method", "crc", "packed", "size", "offset"))
    said = {name: min(number, 65535) if name in ("flags", "method") else number}
    how = chance.randrange(7)
    if how == 0:
        return replace(entry, said=said)
    if how == 1:
        return replace(entry, said=said, own=said)
    if how == 2:
        return replace(entry, name=chance.choice(_NAMES).encode(), flags=chance.choice((0, 0x0800)))
    if how == 3:
        return replace(entry, outer=chance.choice((0o120777, 0o040755, 0o010644, 0o100644, 0)) << 16 | number & 0xFF)
    if how == 4:
        return replace(entry, extra=chance.randbytes(chance.randrange(12)))
    if how == 5:
        return replace(entry, packed=bytes_changed(entry.data, chance), method=chance.choice((0, 8)))
    return replace(entry, data=bytes(chance.choice((10, 10_000, 30_000_000))))


def _of_manifest(chance: random.Random) -> bytes:
    """Change the manifest, with checksums that fit it again, and sometimes seals too."""
    members = good_members()
    if chance.random() < 0.5:
        change = chance.choice((bytes_changed, record_changed))
        return boxed({**members, "manifest.json": change(members["manifest.json"], chance)})
    plain = json.loads(members["manifest.json"])
    files = chance.choice(plain["versions"])["files"]
    files[chance.choice(_NAMES)] = chance.choice([*members, "ghost"])
    try:
        return sealed_box(plain, members)
    except KeyError:
        return boxed({**members, "manifest.json": json.dumps(plain).encode()})


def _of_contents(chance: random.Random) -> bytes:
    """Change records, findings and photographs, with checksums and seals that fit them again: a forgery done well."""
    members = good_members()
    name = chance.choice([one for one in members if "/" in one])
    change = record_changed if name.endswith(".json") and chance.random() < 0.7 else bytes_changed
    members[name] = change(members[name], chance)
    return sealed_box(json.loads(members["manifest.json"]), members)


def _of_members(chance: random.Random) -> bytes:
    members = good_members()
    name = chance.choice(list(members))
    if chance.random() < 0.5:
        del members[name]
    else:
        members[chance.choice([one for one in _NAMES if one] + [name])] = members[name]
    return zipped(raws(summed(members) if chance.random() < 0.5 else members))


WAYS = (_of_bytes, _of_directory, _of_headers, _of_manifest, _of_contents, _of_members)


def test_every_box_is_taken_or_refused_with_a_place(tmp_path: Path) -> None:
    outside, inner = tmp_path / "outside.txt", tmp_path / "inner"
    outside.write_text("untouched")
    inner.mkdir()
    box = inner / "box.zip"
    box.touch()
    before = folder_state(tmp_path)
    said: Counter[str] = Counter()
    with bounded() as next_case:
        for case in range(MANY // 5):
            chance = random.Random(SEED + case)
            box.write_bytes(WAYS[case % len(WAYS)](chance))
            next_case()
            said[_answer(box, inner, case)] += 1
            after = folder_state(tmp_path)
            assert after.keys() == before.keys(), case
            assert all(after[name] == before[name] for name in before if name != "inner/box.zip"), case
    print(f"boxes: {dict(said)}")
    assert said["taken"] > MANY // 100
    assert said["refused"] > MANY // 20


def _answer(box: Path, inner: Path, case: int) -> str:
    error = refusal(lambda: read_box(box))
    if error is not None:
        assert is_clear(error), (case, repr(error))
        return "refused"
    try:
        error = refusal(lambda: unpack(box, inner / "out"))
        if error is not None:  # A photograph that is none, or is missing, is seen when the folder is loaded.
            assert is_clear(error), (case, repr(error))
            assert not (inner / "out").exists(), case
        with Store(str(inner / "archive.sqlite")) as store:
            assert len(take_in(store, box)) == len(read_box(box).versions), case
    finally:
        shutil.rmtree(inner / "out", ignore_errors=True)
        for path in inner.glob("archive.sqlite*"):
            path.unlink()
    return "taken"


PLAIN: dict[str, Any] = json.loads(good_members()["manifest.json"])


@given(st.data())
@settings(
    max_examples=100, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.function_scoped_fixture]
)
def test_any_value_anywhere_in_the_manifest(tmp_path_factory: pytest.TempPathFactory, data: st.DataObject) -> None:
    plain = replaced(PLAIN, data.draw(st.sampled_from(list(places(PLAIN)))), data.draw(odd))
    box = tmp_path_factory.getbasetemp() / "manifest.zip"
    box.write_bytes(boxed({**good_members(), "manifest.json": json.dumps(plain).encode()}))
    error = refusal(lambda: read_box(box))
    assert error is None or is_clear(error)
