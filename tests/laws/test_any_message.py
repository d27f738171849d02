"""Whatever a page sends: it is done, or refused in words; the house stays whole on the disk; every step is undone."""

from __future__ import annotations

import json
import random
from collections.abc import Iterator
from pathlib import Path
from shutil import copytree
from typing import Any

import pytest

from enfilade.capture.desk import Desk
from enfilade.capture.opening import SECTIONS
from enfilade.capture.page import Page
from enfilade.capture.parts import handlers, parts
from enfilade.editing.starting import new_project
from enfilade.editing.tables.schedules import SCHEDULES
from enfilade.project.demo import demo
from enfilade.project.fields import AUDIENCES
from enfilade.project.project import Project
from enfilade.project.reading import project_from
from enfilade.project.store import kept_states, load, save
from enfilade.project.things import KINDS
from enfilade.project.writing import project_text
from project_folders import picture
from typed_fields import fields_of

KITCHENS = Path(__file__).parents[1] / "outside" / "kitchens"
HOUSES = ("demo", "empty", *sorted(path.name for path in KITCHENS.iterdir()))
ALL_PARTS = tuple(name for name in parts() if name != "start")

ODD: list[Any] = [
    None, True, -1, 2**70, 10**400, 1e308, float("nan"), float("-inf"), "", " ", "none", "new", "\0", "a\0b", "\ud800",
    "𝄞\udfff", "\ufffe\uffff", "a" * 5000, "../../etc/passwd", "<b>", "%s{}", "٣", "²", "1/0", "1e999", "9" * 39,
    [], {}, [[]], [{}], [None], {"a": 1}, {"kind": "x"}, {"how": "free", "x_mm": "1"}, ["x"] * 6000,
    json.loads("[" * 300 + "]" * 300),
]  # fmt: skip
PATHS = (
    ["things", "island", "place", "wall"], ["things"], ["decisions"], ["name"], ["id"], ["show", "units"], ["walls"],
    ["lines", "kitchen"], ["decisions", "new", "title"], ["new"], ["a"] * 13, ["__class__"], ["things", "\ud800"],
)  # fmt: skip
LENGTHS = ("1'", "36", "0", "-5", '2 1/2"', "900 mm", "99999", "inf", "x", "", '24"', '60"', "120", "5000")
WORDS = ("Kitchen", "Pantry", "New", "“q”", "名前", "O'Neill", "a/b", "x" * 300, "")
YES_NO = (True, False)
PICKED: dict[str, tuple[Any, ...]] = {
    "list": ("things", "openings", None), "kind": (*KINDS, "door", "window", "accepted", "to mend"),
    "values": ({"title": "Sink"}, {"name": "New"}, {"name": "Tap", "kind": "seat"}), "schedule": (*SCHEDULES, "x"),
    "text": ("Name\tNote\nTap\tx\n", "x"), "upload": ("u",), "index": (0,), "last": YES_NO, "without": ([], [1]),
    "buffers": ([picture(400, 300)], [picture(8, 8)], [b""], [b"Name,Note\nx,y\n"], [b"PK\3\4"], []),
    "files": (["x"],), "as": ("csv", "xlsx"), "end": ("left", "right"), "side": ("front", "left"), "units": ("us",),
    "audience": AUDIENCES, "links": ("things",), "folder": ("x",),
    **dict.fromkeys(("along", "all", "open", "later", "linked", "clear"), YES_NO),
    **dict.fromkeys(("x", "y", "turn", "dx", "dy", "deg", "by", "px"), (0, 1, -30, 90, 1500.5, 4000.25, 1e8)),
    **dict.fromkeys(("width", "offset", "thickness", "right", "up", "lining"), LENGTHS),
    **dict.fromkeys(("title", "name", "reason", "label", "batch", "called", "filter"), WORDS),
}  # fmt: skip
"""Values of what messages hold that does not depend on the house."""


class Sender:
    """Makes messages for a page: each holds every key that some message has, and some are broken."""

    def __init__(self, seed: int) -> None:
        self.rng = random.Random(seed)
        self.gone = ["gone"]

    def id(self, known: list[str]) -> str:
        return self.rng.choice([*known, self.rng.choice(self.gone)])

    def message(self, page: Page) -> dict[str, Any]:
        assert page.desk is not None
        pick, desk, room = self.rng.choice, page.desk, page.sight.room
        message = {key: pick(values) for key, values in PICKED.items()} | self.of_the_house(desk, room)
        often = ["set"] * 60 + ["add thing", "make room", "nudge", "turn", "undo", "redo"] * 6
        message["do"] = pick([*sorted(handlers()), *often] if desk.project.spaces else ["make room", "undo", "set"])
        for _ in range(pick([0, 0, 0, 4, 8])):
            message[pick(sorted(message.keys() - {"do", "buffers"}))] = pick(ODD)
            message.pop(pick(sorted(message.keys() - {"do"})))
        return message

    def of_the_house(self, desk: Desk, room: str | None) -> dict[str, Any]:
        pick, known = self.rng.choice, list(fields_of(desk.project))
        walls, things = (self.id(list(one)) for one in (desk.project.walls_by_id, desk.project.things_by_id))
        others = [one.id for name in ("openings", "decisions", "photographs") for one in getattr(desk.project, name)]
        path, *_, shape = pick(known)
        typed = [*(shape.words or LENGTHS), *WORDS, pick(ODD), walls, things, "2026-03-14", "none", ["a", "b"]]
        question, drafts = desk.question, (desk.drafts.get(("survey",)), desk.drafts.get(("scan",)))
        return {
            "path": [*pick([path, path, path, path[:2], pick(PATHS)])],
            "typed": pick([*typed, {"how": "wall"}, [["0", "0"], ["99", "9"]]]),
            "sheet": self.sheet(desk.project), "id": self.id([*others, things, things]), "to": things, "wall": walls,
            "plan": self.id(others), "beyond": walls, "space": self.id([one.id for one in desk.project.spaces]),
            "room": room, "where": pick(["", "floor", f"wall/{walls}", f"in/{things}"]),
            "finding": self.id([one.id for one in desk.findings(room)] if room else []),
            "key": pick([*(path.name for path in kept_states(desk.folder)[:3]), question and question.key]),
            "opened": pick([draft.typed["opened"] for draft in drafts if draft] or ["x"]),
        }  # fmt: skip

    def sheet(self, project: Project) -> dict[str, Any]:
        pick, plans = self.rng.choice, [one.id for one in project.photographs if one.scan is not None]
        plain = [{"length": "3 m", "turn": "right", "angle": ""}] * 4
        walls = [*plain[: pick([1, 3])], {"length": pick(LENGTHS), "turn": "angle", "angle": pick(["", "45"])}]
        return {
            "name": pick(WORDS[:4]), "use": "kitchen", "ceiling": pick(["", "", *LENGTHS]), "hand": "right",
            "walls": pick([plain, plain, walls]), "measured_to": pick(["finish", "framing"]), "spread": pick(YES_NO),
            "plan": pick(["", *plans]), "marks": [[10, 10], [310, pick([10, 40])]], "distance": pick(LENGTHS),
            "corners": [[20, 20], [pick([200, 20]), 20], [200, 150], [20, 150]], "square": pick(YES_NO),
            "wall": self.id([*project.walls_by_id]), "row": pick(["lower", "upper"]), "replace": pick(YES_NO),
            "stretch": pick(["", "0/900", "nan/1"]), "text": pick(["24", '30" base, 24" dishwasher', "36 sink", "x"]),
        }  # fmt: skip


@pytest.fixture(autouse=True)
def own_home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """Nothing is written but into the house's folder and into what the tool remembers of its user."""
    monkeypatch.setenv("HOME", str(tmp_path / "home"))
    monkeypatch.setenv("ENFILADE_DATA", str(tmp_path / "data"))
    monkeypatch.delenv("ENFILADE_PROJECT", raising=False)
    (tmp_path / "home").mkdir()
    monkeypatch.chdir(tmp_path / "home")
    yield
    assert {path.name for path in tmp_path.iterdir()} <= {"home", "data", "house"}
    assert not list((tmp_path / "home").iterdir())


def house_in(folder: Path, name: str) -> Desk:
    own = demo() if name == "demo" else new_project("House", "metric")
    copytree(KITCHENS / name, folder) if (KITCHENS / name).exists() else save(own, folder)
    return Desk.open(folder)


def sent(page: Page, message: dict[str, Any]) -> dict[str, Any]:
    """Send a message; what is answered and shown is plain, in words, and never that something broke."""
    answer = page.do(message)
    assert {"ok", "say", "errors"} <= set(answer)
    assert "could not be done" not in answer["say"], message["do"]
    shown = [getattr(page, name) for name in page.sections if page.desk]
    assert all(set(state) != {"trouble"} for state in shown), message["do"]
    for plain in (answer, *shown, page.live):
        assert json.dumps(plain, allow_nan=False, ensure_ascii=False).encode()
    return answer


def rows(project: Project) -> int:
    """Return how many records stand in the lists of a house."""
    return sum(len(value) for value in vars(project).values() if isinstance(value, tuple))


def on_disk(desk: Desk) -> Project:
    """Return the house that lies in the folder; it is the one on the page, but for the rounding of lengths read."""
    saved = load(desk.folder)
    assert saved == project_from(project_text(desk.project.verified()).encode(), "the page")
    return saved


@pytest.mark.parametrize("name", HOUSES)
def test_any_message_on_one_page(tmp_path: Path, name: str) -> None:
    desk, sender = house_in(tmp_path / "house", name), Sender(HOUSES.index(name))
    page, first, changed = Page(desk, sections=ALL_PARTS), desk.project, 0
    for _ in range(60):
        before, message = desk.project, sender.message(page)
        page.hand = {"seq": 1, **{key: message.get(key) for key in ("id", "x", "y", "turn", "wall")}}
        assert sent(page, message)["ok"] or desk.project is before, message["do"]
        if message["do"] == "set":
            assert rows(desk.project) >= rows(before), message["path"]
        if desk.project is not before:
            changed += 1
            on_disk(desk)
            sender.gone += [one.id for one in before.things if one.id not in desk.project.things_by_id]
    page.sections, last, undone = ["head"], desk.project, []
    while desk.undo_words:
        undone.append(sent(page, {"do": "undo"})["ok"])
    assert desk.project == on_disk(desk) == first
    assert all([*undone, *(sent(page, {"do": "redo"})["ok"] for _ in undone)])
    assert desk.project == last
    assert changed > 3


def test_any_message_on_two_pages_of_one_house(tmp_path: Path) -> None:
    desks, sender = [house_in(tmp_path / "house", "l-island"), Desk.open(tmp_path / "house")], Sender(5)
    pages = [Page(desk, sections=SECTIONS["decide"]) for desk in desks]
    for _ in range(80):
        sent(sender.rng.choice(pages), sender.message(sender.rng.choice(pages)))
    for page in pages * 3:
        sent(page, {"do": "look"})
        while page.desk is not None and page.desk.question:
            sent(page, {"do": sender.rng.choice(["keep mine", "take theirs"]), "key": page.desk.question.key})
    assert not any(desk.saved.trouble for desk in desks)
    assert on_disk(desks[0]) == on_disk(desks[1])


def test_a_page_without_a_house_refuses_what_is_done_to_one(tmp_path: Path) -> None:
    other, page, sender = Page(house_in(tmp_path / "house", "demo")), Page(sections=["start"]), Sender(2)
    page.hand = {"id": "island"}
    asked: list[Any] = ["", None, [], {}, *sorted(handlers().keys() - {"open demo", "suggest place"})]
    for do in asked:
        message = {"units": "us", "name": "\ud800", "folder": "\0"} if "project" in f"{do}" else sender.message(other)
        assert not sent(page, {**message, "do": do})["ok"]
