"""Broken projects: each is refused with the file and the place, and nothing on disk is changed."""

from __future__ import annotations

import json
import os
import struct
import tempfile
import zlib
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from enfilade.checks.run import project_yardstick
from enfilade.cli import main
from enfilade.errors import EnfiladeError
from enfilade.files import fingerprint
from enfilade.project.store import load
from project_folders import as_nobody, folder_state, good_plain, picture, put, snapshot_name

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


def _replace_json(by: Callable[[Path], object]) -> Callable[[Path], object]:
    def make(folder: Path) -> None:
        (folder / "project.json").unlink()
        by(folder / "project.json")

    return make


def _huge(path: Path) -> None:
    with path.open("wb") as stream:
        stream.truncate(70 * 1024 * 1024)


def _link_out(folder: Path) -> None:
    outside = folder.parent / "outside.json"
    outside.write_text(json.dumps(good_plain()))
    (folder / "project.json").symlink_to(outside)


def _photo_link_out(folder: Path) -> None:
    shot = folder / "photos" / snapshot_name()
    outside = folder.parent / "outside.png"
    shot.rename(outside)
    shot.symlink_to(outside)


def _photos_folder_link(folder: Path) -> None:
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


BROKEN = [
    # The file as bytes and as JSON
    Broken("truncated", raw(WHOLE[: len(WHOLE) // 2]), ("line 1 column", "JSON")),
    Broken("truncated inside a text", raw('{"format": 1, "id": "a'), ("line 1 column 21",)),
    Broken("empty", raw(b""), ("top: the file is empty",)),
    Broken("only whitespace", raw(b" \n\t \r\n"), ("top: the file is empty",)),
    Broken("a list at the top", raw("[]"), ("top: a list stands there",)),
    Broken("a number at the top", raw("12"), ("top: a int stands there",)),
    Broken("null", raw("null"), ("top: a NoneType stands there",)),
    Broken("a comment", raw('{"format": 1} // yes'), ("line 1 column 15",)),
    Broken("a trailing comma", raw('{"format": 1,}'), ("line 1 column",)),
    Broken("UTF-16", raw(WHOLE.encode("utf-16")), ("byte 0: is not UTF-8",)),
    Broken("Latin-1", raw(WHOLE.replace("Quill", "Qu\u00e9").encode("latin-1").replace(b"\\u00e9", b"\xe9")), ("byte ", "UTF-8")),
    Broken("a surrogate as bytes", raw(WHOLE.encode().replace(b"Quill", b"Qui\xed\xa0\x80ll")), ("byte ", "UTF-8")),
    Broken("half a surrogate pair", text("Size of the sink", "Size \\ud800"), ("decisions/sink-size/title", "half a surrogate pair")),
    Broken("NUL in text", text("Size of the sink", "Size\\u0000"), ("decisions/sink-size/title", "U+0000")),
    Broken("a control sign in text", text("Here is the sink.", "\\u001b[2J"), ("script/stop/lines/0", "U+001B")),
    Broken("NUL in an id", text('"id": "lamp"', '"id": "la\\u0000mp"'), ("things/la\\x00mp/id",)),
    Broken("NUL in a finding", text("K6:aisle:top", "K6\\u0000"), ("answers/a1/finding", "U+0000")),
    Broken("a key twice at the top", text('"id": "test-house"', '"id": "test-house", "id": "b"'), ("id", "key stands twice")),
    Broken("a key twice in a record", text('"kind": "sink"', '"kind": "sink", "kind": "sink"'), ("bowl", "kind", "twice")),
    Broken("200,000 brackets", raw("[" * 200_000), ("line 1: brackets nest over 40 deep",)),
    Broken("200,000 braces in a field", raw('{"format": 1, "id": ' + '{"a":' * 200_000), ("nest over 40 deep",)),
    Broken("brackets after an odd quote", raw('{"a": "' + '\\"' * 200_000 + "[" * 100), ("line 1 column",)),
    # Format
    Broken("format missing", removed("format"), ("format: None is not a format number",)),
    Broken("format newer", changed("format", to=2), ("format: 2 is newer than this version reads",)),
    Broken("format zero", changed("format", to=0), ("format: 0 is not",)),
    Broken("format text", changed("format", to="1"), ("format: '1' is not",)),
    Broken("format true", changed("format", to=True), ("format: True is not",)),
    Broken("format a fraction", changed("format", to=1.5), ("format: 1.5 is not",)),
    # Types
    Broken("spaces is a record", changed("spaces", to={}), ("spaces",)),
    Broken("things is null", changed("things", to=None), ("things",)),
    Broken("client is a text", changed("client", to="Ida"), ("client", "is no record")),
    Broken("a thing is a number", added("things", record=7), ("things/7",)),
    Broken("a space is a list", added("spaces", record=[]), ("spaces/2",)),
    Broken("id is a number", changed("id", to=3), ("id",)),
    Broken("id with capitals", changed("id", to="Test House"), ("id", "[a-z0-9]")),
    Broken("id with a line end", changed("id", to="a\n"), ("id",)),
    Broken("a count is true", changed("things", "bowl", "bowls", to=True), ("things/bowl/bowls",)),
    Broken("a count is a text", changed("things", "bowl", "bowls", to="2"), ("things/bowl/bowls",)),
    Broken("a count is a fraction", changed("things", "bowl", "bowls", to=1.5), ("things/bowl/bowls",)),
    Broken("a length is true", changed("things", "bowl", "width_mm", to=True), ("things/bowl/width_mm",)),
    Broken("a length is null", changed("things", "bowl", "width_mm", to=None), ("things/bowl/width_mm",)),
    Broken("a length is a list", changed("things", "bowl", "width_mm", to=[30]), ("things/bowl/width_mm",)),
    Broken("a length in words", changed("things", "bowl", "width_mm", to="two feet"), ("things/bowl/width_mm", "10' 11 1/4")),
    Broken("a length in a place", changed("things", "base", "place", "offset_mm", to="x"), ("things/base/place/offset_mm",)),
    Broken("a wall that is no id", changed("things", "base", "place", "wall", to="NO"), ("things/base/place/wall",)),
    Broken("a corner of three", changed("spaces", 0, "outline", 0, to=[1, 2, 3]), ("spaces/kitchen/outline/0",)),
    Broken("a corner of text", changed("spaces", 0, "outline", 0, to="0,0"), ("spaces/kitchen/outline/0",)),
    Broken("a turn of text", thing(place={"how": "free", "x_mm": 1, "y_mm": 1, "turn_deg": "90"}), ("things/box/place/turn_deg",)),
    Broken("a day as a number", changed("decisions", 0, "on", to=0), ("decisions/sink-size/on", "2025-03-31")),
    Broken("a day that is none", changed("decisions", 0, "on", to="2025-02-30"), ("decisions/sink-size/on",)),
    Broken("an unknown kind", thing(kind="spaceship"), ("things/box", "no such kind", "'sink'")),
    Broken("a kind that is a list", thing(kind=[]), ("things/box",)),
    Broken("no kind", removed("things", "bowl", "kind"), ("things/bowl", "does not say its kind")),
    Broken("an unknown way to stand", thing(place={"how": "floating"}), ("things/box/place",)),
    Broken("a fact that is neither", changed("things", "top", "knee_space", to="maybe"), ("things/top/knee_space",)),
    Broken("a knee space without depth", changed("things", "top", "knee_space", to={"width_mm": 900, "height_mm": 600}),
           ("things/top/knee_space/depth_mm: is missing",)),
    Broken("a price of too many places", changed("products", 0, "purchase", "quote", to="1.005"), ("products/tap/purchase/quote",)),
    Broken("a colour in words", changed("finishes", 0, "colour", to="teal"), ("finishes/oak/colour",)),
    Broken("a use that is none", changed("spaces", 0, "use", to="ballroom"), ("spaces/kitchen/use", "'kitchen'")),
    # Missing and unknown keys
    Broken("no outline", removed("spaces", 0, "outline"), ("spaces/kitchen/outline: is missing",)),
    Broken("unknown key at the top", changed("colour", to=1), ("colour: is not a field", "enfilade schema")),
    Broken("unknown key in a space", changed("spaces", 0, "colour", to=1), ("spaces/kitchen/colour: is not a field",)),
    Broken("unknown key in a wall", changed("spaces", 0, "walls", 0, "colour", to=1), ("spaces/kitchen/walls/kitchen-south/colour",)),
    Broken("unknown key in a thing", changed("things", "bowl", "colour", to=1), ("things/bowl/colour: is not a field",)),
    Broken("unknown key in a place", changed("things", "bowl", "place", "colour", to=1), ("things/bowl/place/colour",)),
    Broken("unknown key in a leaf", changed("things", "base", "opens", 0, "colour", to=1), ("things/base/opens/0/colour",)),
    Broken("unknown key in a seat row", changed("things", "table", "seating", 0, "x", to=1), ("things/table/seating/row/x",)),
    Broken("unknown key in the client", changed("client", "phone", to="1"), ("client/phone",)),
    Broken("unknown key in a need", changed("brief", "needs", 0, "x", to="1"), ("brief/needs/big-sink/x",)),
    Broken("unknown key in an option", changed("decisions", 0, "options", 0, "x", to=1), ("decisions/sink-size/options/wide/x",)),
    Broken("unknown key in a purchase", changed("products", 0, "purchase", "x", to=1), ("products/tap/purchase/x",)),
    Broken("a field of another kind", changed("things", "lamp", "bowls", to=1), ("things/lamp/bowls",)),
    Broken("a terminal's words in a key", text('"kind": "sink"', '"\\u001b[2J\\n": 1, "kind": "sink"'), ("things/bowl/\\x1b[2J\\n",)),
    # Numbers
    Broken("NaN", text('"x_mm": 1828.8', '"x_mm": NaN'), ("NaN stands where a number",)),
    Broken("Infinity", text('"x_mm": 1828.8', '"x_mm": Infinity'), ("Infinity stands where",)),
    Broken("-Infinity", text('"x_mm": 1828.8', '"x_mm": -Infinity'), ("-Infinity stands where",)),
    Broken("1e400 as a length", text('"x_mm": 1828.8', '"x_mm": 1e400'), ("things/table/place/x_mm", "out of range")),
    Broken("1e400 as a number", text('"area_m2": 0.9', '"area_m2": 1e400'), ("openings/look-out/glazing/area_m2",)),
    Broken("1e400 as money", text('"quote": "120.50"', '"quote": 1e400'), ("products/tap/purchase/quote",)),
    Broken("1e30 mm", changed("things", "table", "width_mm", to=1e30), ("things/table/width_mm", "1000000 mm")),
    Broken("a corner at 1e30", changed("spaces", 0, "outline", 0, to=[1e30, 0]), ("spaces/kitchen/outline/0/0",)),
    Broken("5,000 digits", text('"x_mm": 1828.8', '"x_mm": ' + "9" * 5000), ("5000 digits", "at most 18")),
    Broken("a negative width", changed("things", "table", "width_mm", to=-5), ("things/table/width_mm", "-5")),
    Broken("no width", changed("things", "table", "width_mm", to=0), ("things/table/width_mm",)),
    Broken("a width below all measure", changed("things", "table", "width_mm", to=1e-7), ("things/table/width_mm",)),
    Broken("a negative height", changed("things", "table", "bottom_mm", to=-1), ("things/table/bottom_mm",)),
    Broken("top below bottom", thing(bottom_mm=200), ("things/box: top_mm is 100 mm, below bottom_mm at 200 mm",)),
    Broken("a leaf's top below its bottom", thing(opens=[{"kind": "hinged", "bottom_mm": 60, "top_mm": 50}]), ("things/box/opens/0", "below")),
    Broken("no bowls", changed("things", "bowl", "bowls", to=0), ("things/bowl/bowls",)),
    Broken("a million guests", changed("household", "gatherings", 0, "people", to=10**6), ("household/gatherings/0/people",)),
    Broken("a basis for no field", thing(bases={"wings_mm": "assumed"}), ("things/box", "'wings_mm'", "field of a furniture")),
    # Names that clash or lead nowhere
    *(
        Broken(f"an id twice in {name}", added(name, record=None), (f"{name}/", "id stands more than once"))
        for name in ("openings", "things", "products", "finishes", "decisions", "answers", "photographs", "script")
    ),
    Broken("a space twice", added("spaces", record=None), ("spaces/hall: id stands", "spaces/walls/hall-south: wall id")),
    Broken("a wall twice", changed("spaces", 1, "walls", 0, "id", to="kitchen-north"), ("spaces/walls/kitchen-north",)),
    Broken("a need twice", added("brief", "needs", record=None), ("brief/needs/big-sink: id stands",)),
    Broken("a need's number twice", added("brief", "needs", record={"id": "b", "number": 1, "text": "x"}), ("number 1 stands",)),
    Broken("a decision's number twice", added("decisions", record={"id": "b", "number": 1, "title": "x"}), ("decisions: number 1",)),
    Broken("a person twice", added("household", "people", record=None), ("household/people/ida",)),
    Broken("a seat row twice", added("things", "table", "seating", record=None), ("things/table", "seat rows share an id")),
    Broken("an option twice", added("decisions", 0, "options", record=None), ("decisions/sink-size", "options share an id")),
    Broken("an unknown wall", changed("things", "base", "place", "wall", to="no-wall"), ("things/base/place/wall: 'no-wall'",)),
    Broken("an opening's unknown wall", changed("openings", 0, "wall", to="no-wall"), ("openings/way/wall: 'no-wall'",)),
    Broken("an unknown wall beyond", changed("openings", 0, "beyond", to="no-wall"), ("openings/way/beyond: 'no-wall'",)),
    Broken("an unknown host", changed("things", "bowl", "place", "host", to="no-top"), ("things/bowl/place/host: 'no-top'",)),
    Broken("an unknown space", thing(space="attic"), ("things/box/space: 'attic' is not among the spaces",)),
    Broken("an unknown product", thing(product="nothing"), ("things/box/product: 'nothing'",)),
    Broken("a product called none", thing(product="none"), ("things/box/product: 'none'",)),
    Broken("an unknown finish", thing(finish="gold"), ("things/box/finish: 'gold'",)),
    Broken("a wall's unknown finish", changed("spaces", 0, "walls", 0, "finish", to="gold"), ("spaces/kitchen/finish",)),
    Broken("an unknown opening", changed("things", "blind", "opening", to="gone"), ("things/blind/opening: 'gone'",)),
    Broken("an unknown light", changed("things", "switch", "controls", to=["gone"]), ("things/switch/controls: 'gone'",)),
    Broken("an unknown need", changed("decisions", 0, "needs", to=["gone"]), ("decisions/sink-size/needs: 'gone'",)),
    Broken("a decision on an unknown thing", changed("decisions", 0, "things", to=["gone"]), ("decisions/sink-size/things",)),
    Broken("a decision in an unknown space", changed("decisions", 0, "spaces", to=["gone"]), ("decisions/sink-size/spaces",)),
    Broken("an option's unknown product", changed("decisions", 0, "options", 0, "products", to=["gone"]),
           ("decisions/sink-size/options/wide/products",)),
    Broken("a need in an unknown space", changed("brief", "needs", 0, "spaces", to=["gone"]), ("brief/needs/big-sink/spaces",)),
    Broken("a stop in an unknown space", changed("script", 0, "space", to="gone"), ("script/stop/space",)),
    Broken("a photograph of an unknown thing", changed("photographs", 0, "things", to=["gone"]), ("photographs/before/things",)),
    Broken("a ring of hosts", changed("things", "top", "place", to={"how": "set in", "host": "bowl", "offset_mm": 0}),
           ("/place/host", "is set in itself")),
    Broken("its own host", changed("things", "bowl", "place", "host", to="bowl"), ("things/bowl/place/host", "in itself")),
    # What cannot stand
    Broken("an outline that crosses itself", space([[0, 0], [900, 900], [900, 0], [0, 700]]), ("spaces/shed", "cross")),
    Broken("a repeated corner", space([[0, 0], [900, 0], [900, 0], [0, 900]]), ("spaces/shed", "corners 2 and 3")),
    Broken("the first corner again at the end", space([[0, 0], [900, 0], [900, 900], [0, 0]]), ("spaces/shed", "repeats the first")),
    Broken("no area", space([[0, 0], [900, 0], [1800, 0]]), ("spaces/shed", "no area")),
    Broken("two corners", space([[0, 0], [900, 0]]), ("spaces/shed/outline", "at least 3")),
    Broken("too few walls", space([[0, 0], [900, 0], [900, 900]], 2), ("spaces/shed: 2 walls for 3 corners",)),
    Broken("too many walls", space([[0, 0], [900, 0], [900, 900]], 4), ("spaces/shed: 4 walls for 3 corners",)),
    Broken("a dropped ceiling that crosses itself",
           space([[0, 0], [900, 0], [900, 900]],
                 dropped=[{"id": "beam", "outline": [[0, 0], [90, 90], [90, 0], [0, 70]], "height_mm": 2000}]),
           ("spaces/shed", "dropped beam", "cross")),
    Broken("a door wider than its wall", changed("openings", 0, "width_mm", to=4000), ("openings/way/width_mm", "wider than its wall")),
    Broken("a door past the end", changed("openings", 0, "offset_mm", to=3000), ("openings/way/offset_mm", "past an end")),
    Broken("a door before the start", changed("openings", 0, "offset_mm", to=-50), ("openings/way/offset_mm", "past an end")),
    Broken("a door to a wall at its side", changed("openings", 0, "beyond", to="hall-east"), ("openings/way/beyond", "does not face")),
    Broken("a door to its own wall", changed("openings", 0, "beyond", to="kitchen-south"), ("openings/way/beyond",)),
    Broken("a door to a wall elsewhere",
           added("openings", record={"id": "odd", "kind": "door", "wall": "hall-south", "beyond": "nook-north", "offset_mm": 0,
                                     "width_mm": 700, "height_mm": 2000}),
           ("openings/odd/beyond",)),
    Broken("a thing outside any room", thing(place={"how": "free", "x_mm": 90_000, "y_mm": 0}), ("things/box/place", "outside 'kitchen'")),
    Broken("a thing in the next room", thing(space="hall"), ("things/box/place", "outside 'hall'")),
    Broken("a thing past the end of its wall", changed("things", "base", "place", "offset_mm", to=9000), ("things/base/place", "outside")),
    Broken("a choice that is no option", changed("decisions", 0, "choice", to="gold"), ("decisions/sink-size", "'gold' is not an option", "wide, small")),
    Broken("built without a choice", removed("decisions", 0, "choice"), ("decisions/sink-size", "no option is chosen")),
    Broken("accepted without a reason", removed("answers", 0, "reason"), ("answers/a1", "reason or a name")),
    Broken("accepted without a name", changed("answers", 0, "by", to=" "), ("answers/a1", "reason or a name")),
    Broken("a figure without its unit", removed("answers", 0, "unit"), ("answers/a1", "unit go together")),
    # The folder
    Broken("no file", lambda folder: folder.mkdir(), ("project.json does not exist",)),
    Broken("the file is a folder", folder_of(_replace_json(Path.mkdir)), ("project.json is not a plain file",)),
    Broken("the file is a link", folder_of(lambda f: (f / "project.json").unlink(), _link_out), ("project.json is a link",)),
    Broken("the file is a pipe", folder_of(_replace_json(os.mkfifo)), ("project.json is not a plain file",)),
    Broken("70 MB", folder_of(_replace_json(_huge)), ("project.json holds 73400320 bytes",)),
    Broken("another file by case", folder_of(lambda f: (f / "Project.JSON").touch()), ("Project.JSON: differs from 'project.json'",)),
    Broken("photos by case", folder_of(lambda f: (f / "Photos").mkdir()), ("Photos: differs from 'photos'",)),
    Broken("house rules by case", folder_of(lambda f: (f / "Studio.toml").touch()), ("Studio.toml: differs from 'studio.toml'",)),
    # Photographs
    Broken("a photograph that climbs out", changed("photographs", 0, "file", to="../outside.png"), ("photographs/before/file",)),
    Broken("a photograph by a whole path", changed("photographs", 0, "file", to="/etc/passwd"), ("photographs/before/file",)),
    Broken("a photograph that is a link", folder_of(_photo_link_out), ("photographs/before/file", "is a link")),
    Broken("photos is a link", folder_of(_photos_folder_link), ("photographs/before/file", "photos folder", "is a link")),
    Broken("a photograph is missing", folder_of(lambda f: (f / "photos" / snapshot_name()).unlink()), ("photographs/before/file", "not exist")),
    Broken("a photograph is a folder",
           folder_of(lambda f: (f / "photos" / snapshot_name()).unlink(), lambda f: (f / "photos" / snapshot_name()).mkdir()),
           ("photographs/before/file", "plain file")),
    Broken("another photograph under the name",
           folder_of(lambda f: (f / "photos" / snapshot_name()).write_bytes(picture(colour="red"))),
           ("photographs/before/file", "holds another picture")),
    Broken("a photograph that is none", named_by_content(b"<svg onload=alert(1)>"), ("photographs/before/file", "no picture")),
    Broken("a photograph cut short", named_by_content(picture()[:20]), ("photographs/before/file", "no picture")),
    Broken("a JPEG called PNG", named_by_content(picture(form="JPEG")), ("photographs/before/file", "another picture")),
    Broken("a GIF", named_by_content(picture(form="GIF")), ("photographs/before/file", "no picture")),
    Broken("a picture bomb", named_by_content(bomb()), ("photographs/before/file", "at most 60 million pixels")),
    Broken("a smaller bomb", named_by_content(bomb(11_000, 10_000)), ("photographs/before/file", "11000 x 10000 pixels")),
    # House rules
    Broken("house rules that are no TOML", folder_of(studio("[rules\nK6 =")), ("studio.toml", "TOML")),
    Broken("house rules that are no text", folder_of(studio(b"\xff\xfe\x00")), ("studio.toml", "UTF-8")),
    Broken("a laxer house rule", folder_of(studio('[rules]\n"K6/one cook" = 30')), ("studio.toml: rules/K6/one cook", "not stricter")),
    Broken("an unknown house rule", folder_of(studio('[rules]\n"Z99" = 30')), ("studio.toml: rules/Z99",)),
    Broken("an unknown table of house rules", folder_of(studio("[walls]\na = 1")), ("studio.toml: walls", "unknown")),
]  # fmt: skip

EACH = pytest.mark.parametrize("broken", BROKEN, ids=lambda broken: broken.name)
needs_posix = pytest.mark.skipif(os.name == "nt", reason="links and pipes of POSIX")


def test_the_project_that_is_broken_here_is_good(tmp_path: Path) -> None:
    put(tmp_path, good_plain())
    assert len(load(tmp_path).things) == 7
    (tmp_path / "project.json").write_bytes(b"\xef\xbb\xbf" + WHOLE.encode())
    assert load(tmp_path / "project.json").id == "test-house"  # an editor's byte order mark does no harm


def test_every_case_has_its_own_name() -> None:
    assert len({broken.name for broken in BROKEN}) == len(BROKEN) > 45


@EACH
@needs_posix
def test_it_is_refused_with_its_place_and_nothing_is_changed(tmp_path: Path, broken: Broken) -> None:
    folder = tmp_path / "house"
    broken.make(folder)
    before = folder_state(folder)
    with pytest.raises(EnfiladeError) as refusal:
        project_yardstick(load(folder))
    message = str(refusal.value)
    for words in broken.words:
        assert words in message
    assert str(folder) in message
    assert all(line.isprintable() for line in message.splitlines())
    assert len(message) < 40_000
    assert folder_state(folder) == before


@EACH
@needs_posix
def test_the_command_refuses_it_with_exit_code_2(
    tmp_path: Path, broken: Broken, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = tmp_path / "house"
    broken.make(folder)
    before = folder_state(folder)
    assert main(["check", str(folder)]) == 2
    told = capsys.readouterr()
    assert told.out == ""
    for words in broken.words:
        assert words in told.err
    assert "Traceback" not in told.err
    assert folder_state(folder) == before


def test_a_file_that_may_not_be_read_is_refused() -> None:
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        folder.chmod(0o755)
        put(folder, good_plain())
        (folder / "project.json").chmod(0)

        def refused() -> str:
            try:
                load(folder)
            except EnfiladeError as error:
                return str(error)
            return "it was read"

        assert "project.json' cannot be read (Permission denied)" in as_nobody(refused)
        (folder / "project.json").chmod(0o644)
        folder.chmod(0o700)
        assert "is not a folder that can be read" in as_nobody(refused)


def test_paths_that_cannot_be_are_refused(tmp_path: Path) -> None:
    (tmp_path / "file").touch()
    for path in (tmp_path / "none", tmp_path / "file", tmp_path / "a\0b", tmp_path / ("n" * 300), Path("/proc/none/x")):
        with pytest.raises(EnfiladeError):
            load(path)


def test_every_fault_of_a_file_is_told_at_once(tmp_path: Path) -> None:
    plain = good_plain()
    plain["things"][0]["width_mm"] = -1
    plain["spaces"][0]["use"] = "ballroom"
    plain["colour"] = 1
    put(tmp_path, plain)
    with pytest.raises(EnfiladeError) as refusal:
        load(tmp_path)
    assert len(str(refusal.value).splitlines()) == 3
