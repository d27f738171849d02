"""How the house is told, in which order, how long that takes, and what is handed over: their parts of the page."""

from __future__ import annotations

import datetime as dt
from pathlib import Path
from typing import Any

import pytest

import enfilade as ef
from building import door, house, room
from capture_pages import ask, page_on, project_of
from enfilade.capture.desk import Desk
from enfilade.capture.page import Page
from enfilade.capture.telling import far_words, time_words
from enfilade.project.fields import AUDIENCES
from enfilade.trade.speech import rates


@pytest.fixture
def page(tmp_path: Path) -> Page:
    """The demo house, as it is told and kept."""
    return page_on(ef.demo(), tmp_path, more=["aftercare"])


class TestHowItIsTold:
    def test_lengths_of_time_and_paces_are_typed_as_people_say_them(self, page: Page) -> None:
        told = {field["name"]: field for field in page.speaking["told"]}  # type: ignore[attr-defined]
        assert told["target_s"]["label"] == "How long it should take"
        ask(page, "set", path=["show", "speaking", "target_s"], typed="7 min 30 s")
        assert project_of(page).show.speaking.target_s == 450.0
        ask(page, "set", path=["show", "speaking", "walk_mm_s"], typed="4 ft/s")
        assert project_of(page).show.speaking.walk_mm_s == pytest.approx(4 * 304.8)  # a foot is 304.8 mm
        refused = page.do({"do": "set", "path": ["show", "speaking", "target_s"], "typed": "soon"})
        assert "not a time" in refused["say"]
        assert page.speaking["wrong"]  # type: ignore[attr-defined]

    def test_a_published_rate_is_taken_with_its_source(self, page: Page) -> None:
        offered = {one["value"] for one in page.speaking["rates"]}  # type: ignore[attr-defined]
        assert offered == {one.id for one in rates() if "silent" not in one.id}
        ask(page, "take rate", rate="reading-aloud")
        # Brysbaert 2019: 183 words a minute are read aloud.
        assert project_of(page).show.speaking.rate_wpm == 183
        state = page.speaking  # type: ignore[attr-defined]
        assert state["rate"] == "reading-aloud"
        assert "M. Brysbaert" in state["source"]
        assert state["words"].startswith("183 words a minute")
        assert not page.do({"do": "take rate", "rate": "shouting"})["ok"]

    def test_what_joins_the_parts_is_written_in_the_script_alone(self, page: Page) -> None:
        parts = next(f for f in page.speaking["told"] if f["name"] == "parts")  # type: ignore[attr-defined]
        assert [[field["name"] for field in row["fields"]] for row in parts["rows"]] == [["title"], ["title"]]
        assert set(page.speaking["lists"]) == {"spaces"}  # type: ignore[attr-defined]

    def test_a_house_that_says_nothing_of_it_is_asked(self, tmp_path: Path) -> None:
        ef.save(house([]), tmp_path / "h")
        page = Page(Desk.open(tmp_path / "h"), sections=("speaking",), act="tell")
        assert not page.speaking["set"]  # type: ignore[attr-defined]
        ask(page, "set", path=["show", "filming", "picture"], typed="3:2")
        assert page.speaking["set"]  # type: ignore[attr-defined]


class TestTheOrder:
    def test_the_proposed_order_saves_what_it_says(self, tmp_path: Path) -> None:
        # Three rooms in a row, a to b to c: told a, c, b one walks through b twice.
        spaces = [room(100, 100, id=id, at=(at, 0)) for id, at in (("a", 0), ("b", 104), ("c", 208))]
        openings = [door("ab", "a-east", 30, beyond="b-west"), door("bc", "b-east", 30, beyond="c-west")]
        script = [{"id": f"s-{id}", "space": id, "lines": [f"This is {id}."]} for id in ("a", "c", "b")]
        ef.save(house(spaces=spaces, openings=openings, script=script), tmp_path / "h")
        page = Page(Desk.open(tmp_path / "h"), sections=("route", "timing"), act="tell")
        proposal = page.route["proposal"]  # type: ignore[attr-defined]
        names = [stop["name"] for stop in page.route["stops"]]  # type: ignore[attr-defined]
        assert "It saves" in proposal["words"]
        assert "no room is passed again" in proposal["then"]
        ask(page, "take route")
        assert [stop.space for stop in project_of(page).script] == ["a", "b", "c"]
        assert page.route["proposal"] is None  # type: ignore[attr-defined]
        assert [stop["name"] for stop in page.route["stops"]] == [names[0], names[2], names[1]]  # type: ignore[attr-defined]
        assert not page.do({"do": "take route"})["ok"]
        ask(page, "undo")
        assert [stop.space for stop in project_of(page).script] == ["a", "c", "b"]

    def test_a_stop_goes_up_and_down_and_into_another_part(self, page: Page) -> None:
        assert ask(page, "move stop", stop="stop-bay", by=-1)["say"] == "Breakfast bay is told as number 5 of 9"
        assert [stop["name"] for stop in page.route["stops"]][3:6] == ["Kitchen", "Breakfast bay", "Scullery"]  # type: ignore[attr-defined]
        ask(page, "stop in part", stop="stop-bay", part="river-rooms")
        assert [stop["part"] for stop in page.route["stops"]][:5] == ["river-rooms"] * 4 + ["work-and-rest"]  # type: ignore[attr-defined]
        assert page.route["stops"][3]["name"] == "Breakfast bay"  # type: ignore[attr-defined]
        # A place is one of the order in which the house is told, not of how it lies in the file.
        assert ask(page, "move stop", stop="stop-bay", by=-1)["say"] == "Breakfast bay is told as number 3 of 9"
        assert [stop["name"] for stop in page.route["stops"]][1:4] == ["Washroom", "Breakfast bay", "Dining room"]  # type: ignore[attr-defined]
        assert ask(page, "move stop", stop="stop-entry", by=-1)["say"] == "Entry stands there already"

    def test_nothing_that_is_not_there_is_moved(self, page: Page) -> None:
        before = project_of(page)
        for message in (
            {"do": "move stop", "stop": "nowhere", "by": 1},
            {"do": "move stop", "stop": "stop-bay", "by": None},
            {"do": "stop in part", "stop": "stop-bay", "part": "nowhere"},
            {"do": "stop in part", "stop": 3, "part": "river-rooms"},
        ):
            assert not page.do(message)["ok"]
        assert project_of(page) is before

    def test_a_house_in_which_nothing_is_said_tells_how_one_would_walk(self, tmp_path: Path) -> None:
        ef.save(ef.demo().with_records(script=[]), tmp_path / "h")
        page = Page(Desk.open(tmp_path / "h"), sections=("route", "timing"), act="tell")
        assert page.route["begin"].startswith("One would walk Entry, ")  # type: ignore[attr-defined]


class TestTime:
    def test_times_add_up_and_follow_what_is_typed(self, page: Page) -> None:
        ask(page, "set", path=["show", "speaking", "target_s"], typed="1:00")
        state = page.timing  # type: ignore[attr-defined]
        assert state["over"]
        assert "over the 1 min that are asked for" in state["against"]
        assert state["too_long"]
        ask(page, "say line", path=["script", "stop-bay", "lines", "line-1", "text"], typed="wide " * 150)
        bay = next(s for part in page.timing["parts"] for s in part["stops"] if s["key"] == "stop-bay")  # type: ignore[attr-defined]
        others = sum(len(one.text.split()) for one in project_of(page).script[5].lines[1:])
        assert bay["said"] == time_words(60 * (150 + others) / 150)  # that a rate is words by minutes

    def test_a_cut_is_taken_and_the_next_is_proposed(self, page: Page) -> None:
        ask(page, "set", path=["show", "speaking", "target_s"], typed="5 min")
        first = page.timing["cuts"][0]  # type: ignore[attr-defined]
        ask(page, "take line out", path=first["path"])
        assert first["path"] not in [cut["path"] for cut in page.timing["cuts"]]  # type: ignore[attr-defined]

    def test_who_hears_how_long_is_told_where_it_differs(self, page: Page) -> None:
        assert "The client hears" in page.timing["hears"]  # type: ignore[attr-defined]
        for stop in project_of(page).script:
            for line in stop.lines:
                ask(page, "set", path=["script", stop.id, "lines", line.id, "hear"], typed=list(AUDIENCES))
        assert page.timing["hears"] == ""  # type: ignore[attr-defined]

    @pytest.mark.parametrize(
        ("mm", "units", "words"), [(0.0, "us", "0 ft"), (3048.0, "us", "10 ft"), (9940.0, "metric", "9.9 m"),
                                   (9960.0, "metric", "10 m")],
    )  # fmt: skip
    def test_how_far_one_walks(self, mm: float, units: Any, words: str) -> None:
        assert far_words(mm, units) == words  # 10 ft are 3048 mm


class TestWhatIsHandedOver:
    def test_open_points_service_and_trades_are_forms_that_are_opened(self, page: Page) -> None:
        state = page.aftercare  # type: ignore[attr-defined]
        assert [one["name"] for one in state["points"]] == [space.name for space in project_of(page).spaces]
        assert not any(one["fields"] for one in (*state["points"], *state["care"]))
        ask(page, "open care", key="spaces/kitchen", open=True)
        (points,) = next(one for one in page.aftercare["points"] if one["key"] == "spaces/kitchen")["fields"]  # type: ignore[attr-defined]
        assert points["label"] == "Open points"
        labels = [field["label"] for field in points["rows"][0]["fields"]]
        assert labels[0] == "What is left to do"
        assert "Who sees to it" in labels
        row = ["spaces", "kitchen", "points", points["rows"][0]["key"]]
        ask(page, "set", path=[*row, "closed_on"], typed="2026-03-02")
        assert project_of(page).space("kitchen").points[0].closed_on == dt.date(2026, 3, 2)

    def test_a_service_is_added_to_a_product(self, page: Page) -> None:
        product = project_of(page).products[0]
        ask(page, "open care", key=f"products/{product.id}", open=True)
        before = len(product.services)
        ask(page, "add row", path=["products", product.id, "services"], values={"what": "Oil it", "every_months": "6"})
        services = project_of(page).products[0].services
        assert len(services) == before + 1
        assert (services[-1].what, services[-1].every_months) == ("Oil it", 6)
        told = next(one for one in page.aftercare["care"] if one["key"] == f"products/{product.id}")  # type: ignore[attr-defined]
        assert f"{before + 1} service" in told["words"]
        form = {field["name"]: field for field in told["fields"]}
        assert form["services"]["rows"][-1]["fields"][0]["label"] == "What is done"

    @pytest.mark.parametrize("key", ["", "spaces/nowhere", "client/names", "products", "things/island"])
    def test_nothing_else_is_opened(self, page: Page, key: str) -> None:
        assert not page.do({"do": "open care", "key": key, "open": True})["ok"]
        assert "trouble" not in page.aftercare  # type: ignore[attr-defined]
