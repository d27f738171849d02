"""Which house is open, how one is begun, and what a notebook shows of it."""

from __future__ import annotations

import json
import os
from pathlib import Path
from typing import Any

import pytest

import enfilade as ef
from enfilade.capture import opened
from enfilade.capture.desk import Desk
from enfilade.capture.houses import beside, choose, given_folder, house_name, opened_before, remember
from enfilade.capture.opened import project_folder
from enfilade.capture.opening import SECTIONS, Trouble, open_page
from enfilade.capture.page import Page
from enfilade.capture.parts import documents, parts, start
from enfilade.capture.sight import Sight
from enfilade.errors import BadRecord, EnfiladeError, Refused


@pytest.fixture(autouse=True)
def _somebody(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Somebody with an empty home, who has opened nothing yet."""
    for name in ("ENFILADE_PROJECT", "ENFILADE_CHOSEN", "QUERY_STRING"):
        monkeypatch.setenv(name, "")  # so that it is put back after the test, which may set it
        monkeypatch.delenv(name)
    monkeypatch.setenv("HOME", str(tmp_path / "home"))
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "home" / "config"))
    monkeypatch.setenv("ENFILADE_DATA", str(tmp_path / "data"))
    (tmp_path / "elsewhere").mkdir()
    monkeypatch.chdir(tmp_path / "elsewhere")
    documents.written_by(None)


@pytest.fixture
def demo(tmp_path: Path) -> Path:
    """The demo house, kept in a folder."""
    ef.save(ef.demo(), tmp_path / "demo")
    return tmp_path / "demo"


def test_what_was_set_from_here_leads_here_from_where_the_pages_run(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("ENFILADE_ARCHIVE", "studio.sqlite")
    with opened._runtime(None):
        assert os.environ["ENFILADE_ARCHIVE"] == str(tmp_path / "elsewhere" / "studio.sqlite")
    assert os.environ["ENFILADE_ARCHIVE"] == "studio.sqlite"
    for other in ("postgresql://studio@server/archive", "~/studio.sqlite"):
        monkeypatch.setenv("ENFILADE_ARCHIVE", other)
        with opened._runtime(None):
            assert os.environ["ENFILADE_ARCHIVE"] == other


def files_in(folder: Path) -> set[str]:
    return {path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file()}


class TestWhichHouse:
    def test_none_is_meant_where_nothing_says_so(self) -> None:
        assert given_folder() is None
        assert house_name() == ""

    def test_the_one_that_is_named(self, demo: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        monkeypatch.setenv("ENFILADE_PROJECT", str(demo))
        assert given_folder() == demo
        monkeypatch.setenv("ENFILADE_PROJECT", str(demo / "project.json"))
        assert given_folder() == demo
        assert house_name() == ef.demo().name

    def test_the_one_beside_the_notebooks(self, demo: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        copies = beside(demo, "notebooks")
        copies.mkdir()
        monkeypatch.chdir(copies)
        assert given_folder() == demo

    def test_the_one_that_one_stands_in(self, demo: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        monkeypatch.chdir(demo)
        assert given_folder() == demo

    def test_the_one_that_was_chosen_comes_first_and_is_known_to_the_other_pages(
        self, demo: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        monkeypatch.setenv("ENFILADE_PROJECT", str(tmp_path / "not-yet"))
        monkeypatch.setenv("ENFILADE_CHOSEN", str(tmp_path / "chosen"))
        assert given_folder() == tmp_path / "not-yet"
        choose(demo)
        # The next kernel of the same server is started as the first one was.
        monkeypatch.setenv("ENFILADE_PROJECT", str(tmp_path / "not-yet"))
        assert given_folder() == demo

    @pytest.mark.parametrize("text", ["[1]", "{}", "no json", '{"name": 3}'])
    def test_a_broken_file_has_no_name_and_does_no_harm(
        self, text: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        (tmp_path / "project.json").write_text(text, "utf-8")
        monkeypatch.setenv("ENFILADE_PROJECT", str(tmp_path))
        assert house_name() in ("", "3")


class TestOpenedBefore:
    def test_the_last_comes_first_and_none_comes_twice(self, demo: Path, tmp_path: Path) -> None:
        ef.save(ef.demo().model_copy(update={"name": "Other"}), tmp_path / "other")
        for folder, name in ((demo, "Demo"), (tmp_path / "other", "Other"), (demo, "Demo")):
            remember(folder, name)
        assert [one.name for one in opened_before()] == ["Demo", "Other"]

    def test_what_is_no_longer_there_is_not_offered(self, demo: Path) -> None:
        remember(demo, "Demo")
        (demo / "project.json").rename(demo / "moved.json")
        assert opened_before() == []

    def test_nothing_of_it_gets_into_the_project(self, demo: Path) -> None:
        before = files_in(demo)
        remember(demo, "Demo")
        open_page("check")
        assert files_in(demo) == before

    @pytest.mark.parametrize("text", ["", "{", "[1, 2]", '[{"name": 1}]', '{"a": 1}', "null"])
    def test_a_broken_list_is_an_empty_list(self, text: str, demo: Path, tmp_path: Path) -> None:
        (tmp_path / "data").mkdir()
        (tmp_path / "data" / "opened.json").write_text(text, "utf-8")
        assert opened_before() == []
        remember(demo, "Demo")
        assert [one.name for one in opened_before()] == ["Demo"]

    def test_a_folder_that_cannot_be_written_stops_nobody(self, demo: Path, tmp_path: Path) -> None:
        (tmp_path / "data").write_text("a file stands there", "utf-8")
        remember(demo, "Demo")
        assert opened_before() == []


class TestTheFolderThatIsNamed:
    def test_a_project_by_its_folder_or_its_file(self, demo: Path) -> None:
        assert project_folder(str(demo)) == demo
        assert project_folder(str(demo / "project.json")) == demo
        assert project_folder(None) is None

    def test_a_new_name_or_an_empty_folder_can_be_begun(self, tmp_path: Path) -> None:
        (tmp_path / "empty" / "photos").mkdir(parents=True)
        assert project_folder(str(tmp_path / "empty")) == tmp_path / "empty"
        assert project_folder(str(tmp_path / "new")) == tmp_path / "new"

    def test_a_broken_project_is_told_with_its_places(self, demo: Path) -> None:
        (demo / "project.json").write_text('{"format": 1, "id": "A"}', "utf-8")
        with pytest.raises(BadRecord, match=r"project\.json: "):
            project_folder(str(demo))

    def test_a_folder_of_other_things_or_a_file_is_refused(self, tmp_path: Path) -> None:
        (tmp_path / "other").mkdir()
        (tmp_path / "other" / "letter.txt").write_text("x", "utf-8")
        with pytest.raises(Refused, match=r"letter\.txt"):
            project_folder(str(tmp_path / "other"))
        with pytest.raises(Refused, match="a file stands there"):
            project_folder(str(tmp_path / "other" / "letter.txt"))


class TestWhatANotebookShows:
    @pytest.mark.parametrize("act", SECTIONS)
    def test_the_page_of_its_act(self, act: str, demo: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        monkeypatch.setenv("ENFILADE_PROJECT", str(demo))
        monkeypatch.setenv("QUERY_STRING", "token=abc&room=study")
        page = open_page(act)
        assert isinstance(page, Page)
        assert page.desk is not None
        assert tuple(page.sections) == SECTIONS[act]
        assert page.sight.room == "study"
        assert [one.name for one in opened_before()] == [ef.demo().name]

    def test_every_part_is_there(self) -> None:
        assert {name for names in SECTIONS.values() for name in names} <= set(parts())

    def test_the_questions_where_there_is_no_house(self) -> None:
        page = open_page()
        assert isinstance(page, Page)
        assert page.desk is None
        assert not page.started
        assert page.start["documents"].endswith("Documents")

    def test_a_broken_house_in_words_that_cannot_become_markup(
        self, demo: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        (demo / "project.json").write_text('{"format": 1, "id": "<script>", "name": "x"}', "utf-8")
        monkeypatch.setenv("ENFILADE_PROJECT", str(demo))
        shown = open_page()
        assert isinstance(shown, Trouble)
        assert "project.json: " in repr(shown)
        assert "&lt;script&gt;" in shown._repr_html_()
        assert "<script>" not in shown._repr_html_()

    def test_no_other_act(self) -> None:
        with pytest.raises(Refused, match="measure, decide, check, tell, keep"):
            open_page("draw")


class TestBeginning:
    def ask(self, page: Page, do: str, **message: Any) -> dict[str, Any]:
        return page.do({"do": do, **message})

    def test_three_answers_make_a_house_and_its_page(self, tmp_path: Path) -> None:
        page = open_page("measure")
        assert isinstance(page, Page)
        assert self.ask(page, "suggest place", name="Boathouse")["folder"].endswith("Documents/Boathouse")
        answer = self.ask(page, "start project", name="Boathouse", folder="", units="metric")
        made = tmp_path / "home" / "Documents" / "Boathouse"
        assert answer["ok"], answer
        assert str(made) in answer["say"]
        assert page.started
        assert page.units == "metric"
        assert ef.load(made).name == "Boathouse"
        assert given_folder() == made

    def test_a_folder_may_be_typed_and_is_taken_below_the_documents_where_it_is_not_whole(self, tmp_path: Path) -> None:
        page = open_page()
        assert isinstance(page, Page)
        assert self.ask(page, "start project", name="Boathouse", folder="work/boat", units="us")["ok"]
        assert (tmp_path / "home" / "Documents" / "work" / "boat" / "project.json").is_file()

    def test_the_folder_that_was_named_when_it_was_started_is_offered(
        self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        monkeypatch.setenv("ENFILADE_PROJECT", str(tmp_path / "named"))
        page = open_page()
        assert isinstance(page, Page)
        assert page.start["given"] == str(tmp_path / "named")
        assert self.ask(page, "start project", name="Boathouse", folder="", units="us")["ok"]
        assert (tmp_path / "named" / "project.json").is_file()

    def test_what_cannot_be_taken_is_told_at_its_field_and_leaves_nothing(self, demo: Path, tmp_path: Path) -> None:
        (tmp_path / "full").mkdir()
        (tmp_path / "full" / "letter.txt").write_text("x", "utf-8")
        (tmp_path / "file").write_text("x", "utf-8")
        before = files_in(tmp_path)
        page = open_page()
        assert isinstance(page, Page)
        for folder in (demo, tmp_path / "full", tmp_path / "file", tmp_path / "file" / "below", "a\0b"):
            answer = self.ask(page, "start project", name="Boathouse", folder=str(folder), units="us")
            assert not answer["ok"]
            assert [fault["place"] for fault in answer["errors"]] == ["folder"], folder
            assert answer["errors"][0]["what"]
        assert not page.started
        assert files_in(tmp_path) - {"data/.lock"} == before

    def test_a_house_that_is_there_is_opened_by_its_folder(self, demo: Path) -> None:
        page = open_page()
        assert isinstance(page, Page)
        assert self.ask(page, "open project", folder=str(demo / "project.json"))["house"] == ef.demo().name
        assert page.started

    def test_a_folder_without_a_house_is_told_at_the_field(self, tmp_path: Path) -> None:
        page = open_page()
        assert isinstance(page, Page)
        for folder in (str(tmp_path / "nowhere"), "", str(tmp_path)):
            answer = self.ask(page, "open project", folder=folder)
            assert [fault["place"] for fault in answer["errors"]] == ["open"]

    def test_the_demo_house_is_copied_again_beside_an_earlier_copy(
        self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        for name in ("Demo house", "Demo house 2"):
            page = open_page()
            assert isinstance(page, Page)
            assert self.ask(page, "open demo")["ok"]
            monkeypatch.delenv("ENFILADE_PROJECT")
            assert ef.load(tmp_path / "home" / "Documents" / name) == ef.demo()

    def test_a_page_that_shows_a_house_begins_no_other(self, demo: Path) -> None:
        for begin in (start.start_project, start.open_project, start.open_demo):
            with pytest.raises(Refused, match="open on this page already"):
                begin(Desk.open(demo), Sight(), {"name": "x", "folder": "", "units": "us"})

    @pytest.mark.parametrize("odd", [None, 3, ["x"], {"a": 1}, "x" * 100_000])
    def test_messages_of_strangers_are_refused(self, odd: Any) -> None:
        page = open_page()
        assert isinstance(page, Page)
        for do, names in {
            "suggest place": ("name",),
            "start project": ("name", "folder", "units"),
            "open project": ("folder",),
        }.items():
            for name in names:
                message = {"name": "House", "folder": "", "units": "us", name: odd}
                assert not self.ask(page, do, **message)["ok"]
        assert not page.started


class TestDocuments:
    def test_they_are_written_by_who_was_handed_over_and_their_pages_can_be_read(self, demo: Path) -> None:
        asked: list[dict[str, Any]] = []

        def write(project: Any, *, audience: str, out: Path, **more: Any) -> list[Path]:
            asked.append({"name": project.name, "audience": audience, "out": out})
            out.mkdir(parents=True)
            (out / "walkthrough.html").write_text(f"for {audience}", "utf-8")
            return [out / "walkthrough.html"]

        documents.written_by(write)
        desk, sight = Desk.open(demo), Sight()
        assert documents.shown(desk, sight)["can"]
        said = documents.write_documents(desk, sight, {"audience": "public"})
        path = demo.with_name("demo-told") / "public" / "walkthrough.html"
        assert asked == [{"name": ef.demo().name, "audience": "public", "out": path.parent}]
        assert said == "1 file written"
        shown = documents.shown(desk, sight)
        assert shown["audience"] == "public"
        assert [one["value"] for one in shown["audiences"] if one["files"]] == ["public"]
        assert documents.read_document(desk, sight, {"audience": "public"})["html"] == "for public"

    def test_the_real_writer_leaves_out_what_an_audience_may_not_be_told(self, demo: Path) -> None:
        documents.written_by(ef.tell)
        desk = Desk.open(demo)
        documents.write_documents(desk, Sight(), {"audience": "public"})
        page = documents.read_document(desk, Sight(), {"audience": "public"})["html"]
        assert desk.project.client.names
        assert not [name for name in desk.project.client.names if name in page]

    def test_without_a_writer_or_for_a_strange_audience_nothing_is_written(self, demo: Path) -> None:
        desk = Desk.open(demo)
        assert not documents.shown(desk, Sight())["can"]
        for message in ({"audience": "client"}, {"audience": "../x"}, {"audience": None}, {}):
            with pytest.raises(EnfiladeError):
                documents.write_documents(desk, Sight(), message)
        with pytest.raises(EnfiladeError):
            documents.read_document(desk, Sight(), {"audience": "../demo"})
        assert not demo.with_name("demo-told").exists()

    def test_the_words_that_are_said_of_each_audience(self, demo: Path) -> None:
        told = documents.shown(Desk.open(demo), Sight())["audiences"]
        assert [one["value"] for one in told] == ["client", "public", "student", "studio"]
        assert json.dumps(told)
