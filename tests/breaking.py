"""Ways to break a project folder, one at a time, and the words that its refusal must then hold."""

from __future__ import annotations

import json
import struct
import zlib
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from enfilade.files import fingerprint
from project_folders import good_plain, put, snapshot_name

__all__ = [
    "WHOLE", "Broken", "added", "bomb", "changed", "door_to_elsewhere", "folder_of", "huge", "link_out",
    "named_by_content", "photo_link_out", "photos_folder_link", "raw", "removed", "replaced_by", "space",
    "studio", "text", "thing", "unlinked",
]  # fmt: skip

Break = Callable[[Path], None]


@dataclass(frozen=True)
class Broken:
    """A project that cannot be taken: what is done to a folder, and the words that the refusal must hold."""

    name: str
    make: Break
    words: tuple[str, ...]


def raw(data: bytes | str) -> Break:
    return lambda folder: put(folder, data)


def text(old: str, new: str) -> Break:
    """Replace text in the file, for what no JSON writer would write."""

    def make(folder: Path) -> None:
        whole = json.dumps(good_plain())
        assert old in whole
        put(folder, whole.replace(old, new, 1))

    return make


def changed(*steps: str | int, to: Any) -> Break:
    """Set one value, found by keys, record ids and indexes."""

    def make(folder: Path) -> None:
        plain = good_plain()
        here: Any = plain
        for step in steps[:-1]:
            here = _step(here, step)
        here[steps[-1]] = to
        put(folder, plain)

    return make


def added(*steps: str | int, record: Any) -> Break:
    """Append to a list, found likewise; a record that is None repeats the last one."""

    def make(folder: Path) -> None:
        plain = good_plain()
        here: Any = plain
        for step in steps:
            here = _step(here, step)
        here.append(here[-1] if record is None else record)
        put(folder, plain)

    return make


def removed(*steps: str | int) -> Break:
    def make(folder: Path) -> None:
        plain = good_plain()
        here: Any = plain
        for step in steps[:-1]:
            here = _step(here, step)
        del here[steps[-1]]
        put(folder, plain)

    return make


def _step(here: Any, step: str | int) -> Any:
    if isinstance(here, list) and isinstance(step, str):
        return next(item for item in here if item["id"] == step)
    return here[step]


def folder_of(*things: Callable[[Path], object], plain: Any = None) -> Break:
    """Write the good project, then do other things to its folder."""

    def make(folder: Path) -> None:
        put(folder, plain if plain is not None else good_plain())
        for thing in things:
            thing(folder)

    return make


def replaced_by(by: Callable[[Path], object]) -> Callable[[Path], object]:
    def make(folder: Path) -> None:
        (folder / "project.json").unlink()
        by(folder / "project.json")

    return make


def huge(path: Path) -> None:
    with path.open("wb") as stream:
        stream.truncate(70 * 1024 * 1024)


def link_out(folder: Path) -> None:
    outside = folder.parent / "outside.json"
    outside.write_text(json.dumps(good_plain()))
    (folder / "project.json").symlink_to(outside)


def photo_link_out(folder: Path) -> None:
    shot = folder / "photos" / snapshot_name()
    outside = folder.parent / "outside.png"
    shot.rename(outside)
    shot.symlink_to(outside)


def unlinked(folder: Path) -> None:
    (folder / "photos" / snapshot_name()).unlink()


def photos_folder_link(folder: Path) -> None:
    (folder / "photos").rename(folder.parent / "photos-elsewhere")
    (folder / "photos").symlink_to(folder.parent / "photos-elsewhere")


def named_by_content(data: bytes, ending: str = "png") -> Break:
    """Put a photograph under the right name, whatever it is."""

    def make(folder: Path) -> None:
        plain = good_plain()
        plain["photographs"][0]["file"] = f"{fingerprint(data)}.{ending}"
        put(folder, plain)
        (folder / "photos" / f"{fingerprint(data)}.{ending}").write_bytes(data)

    return make


def bomb(width: int = 60_000, height: int = 60_000) -> bytes:
    """Return a PNG of a few bytes that says it is 60000 x 60000 (PNG specification, third edition, 11.2.1 IHDR)."""

    def chunk(kind: bytes, body: bytes) -> bytes:
        return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))

    header = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", header) + chunk(b"IDAT", zlib.compress(b"")) + chunk(b"IEND", b"")


def studio(rules: str | bytes) -> Callable[[Path], object]:
    return lambda folder: (folder / "studio.toml").write_bytes(rules if isinstance(rules, bytes) else rules.encode())


WHOLE = json.dumps(good_plain())
THING = {"id": "box", "kind": "furniture", "space": "kitchen", "place": {"how": "free", "x_mm": 900, "y_mm": 900},
         "width_mm": 100, "depth_mm": 100, "top_mm": 100}  # fmt: skip


def thing(**more: Any) -> Break:
    return added("things", record=THING | more)


def space(outline: list[Any], walls: int | None = None, **more: Any) -> Break:
    names = [{"id": f"w{i}"} for i in range(len(outline) if walls is None else walls)]
    record = {"id": "shed", "name": "Shed", "use": "other", "outline": outline, "walls": names, **more}
    return added("spaces", record=record)


def door_to_elsewhere(folder: Path) -> None:
    """Let the door lead to a wall that faces the right way and stands 20 m from it."""
    plain = good_plain()
    outline = [[20_000, 0], [21_000, 0], [21_000, 900], [20_000, 900]]
    walls = [{"id": f"w{i}"} for i in range(4)]
    plain["spaces"].append({"id": "shed", "name": "Shed", "use": "other", "outline": outline, "walls": walls})
    plain["openings"][0]["beyond"] = "w2"
    put(folder, plain)
