"""What who tells a house for the first time must not miss: lines that lost a thing, versions, faults, lists."""

from __future__ import annotations

from pathlib import Path

import pytest

import enfilade as ef
from capture_pages import ask, page_on, project_of
from enfilade.capture.page import Page
from enfilade.capture.parts import documents
from enfilade.editing.things.placing_things import things_removed
from enfilade.project.audience import for_audience
from enfilade.project.issues import keep_issue


@pytest.fixture
def page(tmp_path: Path) -> Page:
    """The demo house, as it is told; things can be taken out on the same page."""
    return page_on(ef.demo(), tmp_path, more=["decisions"], room="kitchen")


def kitchen_line(page: Page, thing: str) -> list[str]:
    """Return the path of the first line in the kitchen that shows a thing."""
    stop = next(one for one in project_of(page).script if one.space == "kitchen")
    line = next(one for one in stop.lines if thing in one.things)
    return ["script", stop.id, "lines", line.id]


def notes(page: Page, path: list[str]) -> list[str]:
    stops = [stop for part in page.script["parts"] for stop in part["stops"]]  # type: ignore[attr-defined]
    (found,) = (line for stop in stops for line in stop["lines"] if line.get("at") == path)
    return [note["words"] for note in found["notes"]]


class TestAThingThatGoes:
    def test_the_lines_that_showed_it_are_named_by_room_and_beginning(self, page: Page) -> None:
        showed = [(stop, line) for stop in project_of(page).script for line in stop.lines if "island" in line.things]
        assert len(showed) == 2  # as the demo's script is written
        said = ask(page, "remove", id="island")["say"]
        assert "2 lines in Kitchen showed it: “" in said
        for _, line in showed:
            assert f"“{' '.join(line.text.split()[:4])}" in said
        assert "stop" not in said.partition("showed it")[0].rpartition(". ")[2]

    def test_what_no_line_shows_goes_without_a_word_on_lines(self) -> None:
        project = ef.demo()
        shown = {id for stop in project.script for line in stop.lines
                 for id in (*line.things, *(line.shot.subjects if line.shot else ()))}  # fmt: skip
        plain = next(one for one in project.things if one.id not in shown and one.kind == "receptacle")
        assert "showed it" not in things_removed(project, [plain.id])[1]

    def test_a_line_on_what_is_removed_says_that(self, page: Page) -> None:
        path = kitchen_line(page, "island")
        ask(page, "say line", path=[*path, "text"], typed="It is {width of island} long.")
        assert notes(page, path) == []
        ask(page, "set", path=["things", "island", "state"], typed="removed")
        assert "{width of island}: the island is removed." in notes(page, path)
        ask(page, "say line", path=[*path, "text"], typed="It is {width of iland} long.")
        (note,) = (one for one in notes(page, path) if "iland" in one)
        assert "no record" in note
        assert "`" not in note


class TestVersionAndDate:
    def test_they_are_typed_beside_the_issue(self, page: Page) -> None:
        borne = page.documents["borne"]  # type: ignore[attr-defined]
        assert [(one["label"], one["path"]) for one in borne] == [
            ("Version", ["show", "version"]), ("Date", ["show", "date"]),
        ]  # fmt: skip
        ask(page, "set", path=["show", "version"], typed="5")
        assert project_of(page).show.version == "5"
        assert not page.do({"do": "set", "path": ["show", "date"], "typed": "soon"})["ok"]
        assert "soon" in page.documents["borne"][1]["typed"]  # type: ignore[attr-defined]

    def test_a_version_that_was_issued_with_something_else_in_it_is_said(self, page: Page) -> None:
        keep_issue(for_audience(project_of(page), "client"), "client", ["html"])
        page.refresh()
        assert page.documents["audiences"][0]["again"]  # type: ignore[attr-defined]
        assert ask(page, "issued before", audience="client")["words"] == ""
        path = kitchen_line(page, "island")
        ask(page, "say line", path=[*path, "text"], typed="The island is new.")
        # The demo is version 4 of 16 March 2026.
        words = ask(page, "issued before", audience="client")["words"]
        assert words == "Version 4 was issued on 16 March 2026; what is written now differs from it."
        assert ask(page, "issued before", audience="public")["words"] == ""
        ask(page, "set", path=["show", "version"], typed="5")
        assert not page.documents["audiences"][0]["again"]  # type: ignore[attr-defined]
        assert ask(page, "issued before", audience="client")["words"] == ""

    def test_what_the_audience_is_not_told_makes_no_difference(self, page: Page) -> None:
        keep_issue(for_audience(project_of(page), "client"), "client", ["html"])
        ask(page, "set", path=["spaces", "kitchen", "note"], typed="Nobody but the studio reads this.")
        assert ask(page, "issued before", audience="client")["words"] == ""
        assert page.documents["audiences"][0]["again"]  # type: ignore[attr-defined]

    def test_the_page_knows_when_to_ask_again(self, page: Page) -> None:
        first = page.documents["state"]  # type: ignore[attr-defined]
        page.refresh()
        assert page.documents["state"] == first  # type: ignore[attr-defined]
        ask(page, "set", path=["show", "version"], typed="5")
        assert page.documents["state"] != first  # type: ignore[attr-defined]


class TestBeforeDocuments:
    def test_lines_that_do_not_agree_with_the_record_are_named(self, page: Page) -> None:
        assert page.documents["faults"] == []  # type: ignore[attr-defined]
        path = kitchen_line(page, "island")
        ask(page, "say line", path=[*path, "text"], typed="It is {width of iland} long.")
        (fault,) = page.documents["faults"]  # type: ignore[attr-defined]
        assert (fault["at"], fault["where"]) == (path, "Kitchen")
        assert fault["begins"] == "It is {width of iland} long."
        assert "iland" in fault["words"]
        ask(page, "say line", path=[*path, "text"], typed="The island is 5 ft wide.")
        (fault,) = page.documents["faults"]  # type: ignore[attr-defined]
        assert "does not agree with the record" in fault["words"]
        ask(page, "say line", path=[*path, "text"], typed="The island is {width of island} wide.")
        assert page.documents["faults"] == []  # type: ignore[attr-defined]

    def test_a_thing_in_the_wrong_room_is_no_reason_to_wait(self, page: Page) -> None:
        ask(page, "set", path=["script", "stop-study", "lines", "line-1", "things"], typed=["washroom-toilet"])
        assert page.documents["faults"] == []  # type: ignore[attr-defined]

    def test_what_was_written_is_counted_and_not_listed(self, page: Page, tmp_path: Path) -> None:
        made = [tmp_path / f"{number}.txt" for number in range(21)]
        documents.written_by(lambda *_, **__: made)
        try:
            assert ask(page, "write documents", audience="client")["say"] == "21 files written"
        finally:
            documents.written_by(None)


class TestLists:
    def test_what_a_line_shows_is_chosen_room_by_room_its_own_first(self, page: Page) -> None:
        path = kitchen_line(page, "island")
        ask(page, "open line", path=path, open=True)
        lists = page.script["lists"]  # type: ignore[attr-defined]
        for name in ("things from kitchen", "subjects from kitchen"):
            groups = [one["group"] for one in lists[name]]
            runs = [group for at, group in enumerate(groups) if at == 0 or groups[at - 1] != group]
            assert runs[0] == "Kitchen"
            assert len(runs) == len(set(runs))  # each room once
            told = [(one["group"], one["label"]) for one in lists[name]]
            assert len(told) == len(set(told))
        assert {one["value"] for one in lists["things from kitchen"]} == set(project_of(page).things_by_id)

    def test_figures_of_one_name_say_what_they_are_about(self, page: Page) -> None:
        found = ask(page, "figures", path=kitchen_line(page, "island"))["figures"]
        labels = [one["label"] for one in found]
        assert len(labels) == len(set(labels))
        aisles = {one["field"]: one["label"] for one in found if one["label"].startswith("Work aisle, two cooks")}
        assert aisles["{measured of K6:two-cooks:counter-river+island}"] == (
            "Work aisle, two cooks (river counter and island): measured"
        )


class TestWords:
    @pytest.mark.parametrize(
        ("path", "words"),
        [
            (["show", "speaking", "target_s"], "changed how long it should take"),
            (["show", "filming", "camera_height_mm"], "changed camera height"),
            (["KITCHEN", "text"], "changed what is said in Kitchen"),
            (["KITCHEN", "pause_s"], "changed silence after a line in Kitchen"),
            (["KITCHEN", "shot", "focal_mm"], "changed focal length of a line in Kitchen"),
        ],
    )
    def test_what_can_be_undone_is_called_as_people_call_it(self, page: Page, path: list[str], words: str) -> None:
        line = kitchen_line(page, "island")
        there = [*line, *path[1:]] if path[0] == "KITCHEN" else path
        typed = {"target_s": "7", "camera_height_mm": "5 ft", "text": "Here.", "pause_s": "2", "focal_mm": "35"}
        ask(page, "set", path=there, typed=typed[path[-1]])
        assert project_of(page) != ef.demo()
        assert page.desk is not None
        assert page.desk.undo_words == words

    def test_who_hears_a_line_is_listed(self, page: Page) -> None:
        path = kitchen_line(page, "island")
        ask(page, "set", path=[*path, "hear"], typed=["client", "student", "studio"])
        stops = [stop for part in page.script["parts"] for stop in part["stops"]]  # type: ignore[attr-defined]
        (line,) = (one for stop in stops for one in stop["lines"] if one.get("at") == path)
        assert "heard by the client, students and the studio" in line["about"]

    def test_no_backtick_stands_on_the_page(self, page: Page) -> None:
        refused = page.do({"do": "write documents", "audience": "client"})
        assert "`" not in refused["say"]
        assert "“tell”" in refused["say"]
