"""The shots and the documents on the page of the act `tell`."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

import enfilade as ef
from building import door, free, house, on_wall, thing
from capture_pages import ask, page_on, project_of
from enfilade.capture.page import Page
from enfilade.capture.parts import documents
from enfilade.export.forms import FORMS
from enfilade.project.issues import issued_to
from enfilade.walkthrough.film import film


@pytest.fixture
def page(tmp_path: Path) -> Page:
    """A kitchen in which two lines are said."""
    project = house(
        [
            thing("island", "island", 40, 36, free(60, 60)),
            thing("range", "range", 30, 27, on_wall("kitchen-north", 20)),
        ],
        openings=[door("d", "kitchen-west", 10)],
        script=[{"id": "s", "space": "kitchen", "lines": [
            {"id": "a", "text": "Here is the island, {width of island} wide.", "things": ["island"]},
            {"id": "b", "text": "And here one cooks.", "things": ["range"], "shot": {"size": "medium"}}]}],
    )  # fmt: skip
    return page_on(project, tmp_path, sections=("script", "shots", "documents"))


class TestShots:
    def test_nothing_is_planned_unasked(self, page: Page, monkeypatch: pytest.MonkeyPatch) -> None:
        def never(*_: Any) -> None:
            raise AssertionError("planned unasked")

        monkeypatch.setattr("enfilade.capture.parts.shots.film", never)
        ask(page, "say line", path=["script", "s", "lines", "a", "text"], typed="Here.")
        assert page.shots == {"number": 0, "can": True, "shots": [], "plans": []}  # type: ignore[attr-defined]
        assert not page.do({"do": "shot pictures"})["ok"]

    def test_they_are_planned_on_demand_and_say_when_they_are_older_than_the_record(self, page: Page) -> None:
        said: list[str] = []
        page.sight.progress = said.append
        ask(page, "plan shots")
        assert said[-1] == "shot 2 of 2"
        state = page.shots  # type: ignore[attr-defined]
        assert (state["number"], state["older"], len(state["shots"])) == (1, False, 2)
        assert state["shots"][0]["said"].startswith("Here is the island, 40 in wide")
        drawn = ask(page, "shot pictures")
        assert drawn["pictures"].keys() == {"s/a", "s/b"}
        assert all(svg.startswith("<svg") for svg in drawn["pictures"].values())
        assert len(drawn["plans"]) == len(state["plans"]) == 1
        ask(page, "say line", path=["script", "s", "lines", "a", "text"], typed="Here.")
        assert page.shots["older"]  # type: ignore[attr-defined]
        ask(page, "undo")
        assert not page.shots["older"]  # type: ignore[attr-defined]
        ask(page, "plan shots")
        assert page.shots["number"] == 2  # type: ignore[attr-defined]

    def test_a_place_is_fixed_and_freed(self, page: Page) -> None:
        path = ["script", "s", "lines", "b"]
        assert not page.do({"do": "stand here", "path": path})["ok"]
        ask(page, "plan shots")
        from enfilade.capture.telling import told_now

        assert page.desk is not None
        found = film(told_now(page.desk, page.sight).telling).shots[1].eye_mm
        assert found is not None
        assert page.shots["shots"][1]["here"]  # type: ignore[attr-defined]
        ask(page, "stand here", path=path)
        shot = project_of(page).script[0].lines[1].shot
        assert shot is not None
        assert shot.eye is not None
        assert (shot.eye.x_mm, shot.eye.y_mm, shot.eye.height_mm) == pytest.approx(found, abs=0.06)
        assert shot.size == "medium"
        assert page.shots["shots"][1]["fixed"]  # type: ignore[attr-defined]
        assert page.shots["older"]  # type: ignore[attr-defined]
        ask(page, "find again", path=path)
        freed = project_of(page).script[0].lines[1].shot
        assert freed is not None
        assert (freed.eye, freed.size) == (None, "medium")
        for message in ({"do": "stand here", "path": ["script", "s", "lines", "z"]}, {"do": "find again", "path": 5}):
            assert not page.do(message)["ok"]


class TestDocuments:
    @pytest.fixture(autouse=True)
    def no_writer(self) -> Iterator[None]:
        documents.written_by(None)
        yield
        documents.written_by(None)

    def test_they_are_written_in_the_forms_that_are_chosen_and_listed_with_their_sizes(self, page: Page) -> None:
        documents.written_by(ef.tell, FORMS.values())
        page.refresh()
        assert [one["value"] for one in page.documents["forms"]] == list(FORMS)  # type: ignore[attr-defined]
        said: list[str] = []
        page.sight.progress = said.append
        answer = ask(page, "write documents", audience="client", forms=["html", "captions"])
        assert "setting captions, WebVTT and SRT" in said
        client = page.documents["audiences"][0]  # type: ignore[attr-defined]
        names = [file["name"] for file in client["files"]]
        assert {"walkthrough.html", "speaker.html", "prompt.html", "walkthrough.vtt"} <= set(names)
        assert all(file["size"].endswith("B") and file["new"] for file in client["files"])
        # The names stand in the part itself.
        assert answer["say"] == f"{len(names)} files written"
        assert page.documents["chosen"] == ["html", "captions"]  # type: ignore[attr-defined]
        assert "<html" in ask(page, "read document", audience="client", name="speaker.html")["html"]
        captions = ask(page, "read document", audience="client", name="walkthrough.vtt")
        assert (captions["type"], captions["name"]) == ("text/plain", "walkthrough.vtt")
        assert not issued_to(project_of(page), "client").last

    def test_what_is_issued_is_kept_and_said(self, page: Page) -> None:
        documents.written_by(ef.tell, FORMS.values())
        answer = ask(page, "write documents", audience="client", forms=["captions"], issue=True)
        assert "issued to the client" in answer["say"]
        last = issued_to(project_of(page), "client").last
        assert last is not None
        assert last.forms == ("captions",)
        told = {one["value"]: one["issued"] for one in page.documents["audiences"]}  # type: ignore[attr-defined]
        assert told["client"].startswith("Last issued: number 1, version ")
        assert told["public"] == ""

    @pytest.mark.parametrize("name", ["../house/project.json", "project.json", "..", "", 5, "walkthrough.html\0"])
    def test_no_other_file_is_read(self, page: Page, name: Any) -> None:
        documents.written_by(ef.tell, FORMS.values())
        ask(page, "write documents", audience="client", forms=["captions"])
        answer = page.do({"do": "read document", "audience": "client", "name": name})
        assert not answer["ok"]
        assert "could not be done" not in answer["say"]

    @pytest.mark.parametrize("forms", [[], ["scroll"], "html", [5]])
    def test_strange_forms_are_refused(self, page: Page, forms: Any) -> None:
        documents.written_by(ef.tell, FORMS.values())
        assert not page.do({"do": "write documents", "audience": "client", "forms": forms})["ok"]
        assert page.desk is not None
        assert not page.desk.folder.with_name("house-told").exists()

    def test_a_link_in_the_folder_is_no_file_of_ours(self, page: Page) -> None:
        assert page.desk is not None
        folder = page.desk.folder.with_name("house-told")
        folder.mkdir()
        (folder / "walkthrough.html").symlink_to(page.desk.folder / "project.json")
        page.refresh()
        assert page.documents["audiences"][0]["files"] == []  # type: ignore[attr-defined]
        assert not page.do({"do": "read document", "audience": "client"})["ok"]
