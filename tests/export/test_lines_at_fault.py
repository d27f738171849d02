"""Lines at fault are named before anything is written: a field that stands for nothing, a figure that is stale."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

import enfilade as ef
from enfilade.cli import main
from enfilade.errors import BadRecord, Refused
from enfilade.export.forms import FORMS
from enfilade.export.tell import tell
from enfilade.project.issues import FOLDER
from enfilade.project.project import Project
from enfilade.project.store import load, save
from script.told_house import line, stop, told_house

BROKEN = "The island is {width of iland} wide."
STALE = "The river counter is 9 feet long."  # the record has 8 ft 4 in
T1 = "Kitchen, line 2: {width of iland} stands for nothing: `iland` is no record that has a width; expected `island`"
T2 = "Kitchen, line 3: the line says 9 feet; expected 8 ft 4 in (width of river counter)."


def faulty(**more: Any) -> Project:
    return told_house([stop("kitchen", line("Hello.", "a"), line(BROKEN, "b", **more), line(STALE, "c", **more))])


def faults(project: Project, out: Path, audience: Any = "client", **more: Any) -> list[str]:
    said: list[str] = []
    tell(project, ["captions"], audience, out, progress=said.append, **more)
    return [words for words in said if ", line " in words or "recap" in words]


def test_each_line_at_fault_is_named_with_its_place_and_what_is_expected(tmp_path: Path) -> None:
    found = faults(faulty(), tmp_path)
    assert len(found) == 2
    assert found[0].startswith(T1)
    assert found[1] == T2
    assert (tmp_path / "walkthrough.vtt").exists()


def test_without_progress_they_go_to_standard_error(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    paths = ef.tell(faulty(), ["captions"], out=tmp_path)
    printed, told = capsys.readouterr()
    assert printed == ""
    assert [words for words in told.splitlines() if words] == [
        words for words in told.splitlines() if "Kitchen, line" in words
    ]
    assert T2 in told
    assert sorted(path.name for path in paths) == ["walkthrough.srt", "walkthrough.vtt"]


def test_nothing_is_said_of_lines_that_are_in_order(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    tell(
        told_house([stop("kitchen", line("The island is {width of island} wide, 8' 10\" in all."))]),
        ["captions"],
        out=tmp_path,
    )
    assert capsys.readouterr() == ("", "")


def test_only_lines_that_this_audience_hears_are_named(tmp_path: Path) -> None:
    project = faulty(hear=["student", "studio"])
    assert faults(project, tmp_path, "client") == []
    assert len(faults(project, tmp_path, "student")) == 2


def test_a_stale_price_is_named_though_the_public_is_told_no_prices(tmp_path: Path) -> None:
    """The line is heard by everybody; that its amount is wrong is known from the whole record."""
    project = told_house([stop("kitchen", line("It cost 8,000 dollars.", decisions=["top"]))])
    assert len(faults(project, tmp_path, "public")) == 1


def test_a_line_that_is_not_told_since_it_holds_a_price_is_no_fault(tmp_path: Path) -> None:
    project = told_house([stop("kitchen", line("It cost {cost of decision 4}.", "a"), line(STALE, "b"))])
    found = faults(project, tmp_path, "public")
    assert [one.partition(":")[0] for one in found] == ["Kitchen, line 2"]


def test_fields_of_findings_are_read_with_what_was_found(tmp_path: Path) -> None:
    project = told_house([stop("kitchen", line("There are {measured of K6:aisle:gone+range}."))])
    assert "is no finding" in faults(project, tmp_path)[0]


def test_what_joins_the_parts_is_looked_at_too(tmp_path: Path) -> None:
    parts = [{"id": "p", "title": "On", "recap": [line(BROKEN, "r")]}]
    project = told_house([stop("kitchen", line("Hello."), part="p")], show={"speaking": {"parts": parts}})
    assert faults(project, tmp_path)[0].startswith("On, recap, line 1: {width of iland}")


def test_an_issue_with_broken_fields_is_refused_and_nothing_is_written(tmp_path: Path) -> None:
    save(faulty(), tmp_path / "house")
    project = load(tmp_path / "house")
    with pytest.raises(Refused, match="mend the lines") as refused:
        tell(project, ["captions"], out=tmp_path / "told", issue=True)
    assert T1 in str(refused.value)
    assert "9 feet" not in str(refused.value)
    assert not (tmp_path / "told").exists()
    assert not (tmp_path / "house" / FOLDER).exists()


def test_an_issue_with_stale_figures_is_made_and_names_them(tmp_path: Path) -> None:
    save(told_house([stop("kitchen", line("Hello.", "a"), line("So.", "b"), line(STALE, "c"))]), tmp_path / "house")
    assert faults(load(tmp_path / "house"), tmp_path / "told", issue=True) == [T2]
    assert (tmp_path / "house" / FOLDER).exists()


def test_the_command_names_them_and_refuses_such_an_issue(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    save(faulty(), tmp_path / "house")
    assert main(["tell", str(tmp_path / "house"), "--to", "captions"]) == 0
    printed, told = capsys.readouterr()
    assert f"  {T2}\n" in told
    assert "Kitchen, line" not in printed
    assert main(["tell", str(tmp_path / "house"), "--to", "captions", "--issue"]) == 2
    assert T1 in capsys.readouterr().err


def test_a_field_with_odd_signs_does_not_steer_the_terminal(tmp_path: Path) -> None:
    project = told_house([stop("kitchen", line("{\u202e\u2066x} " + "{y} " * 500))])
    found = faults(project, tmp_path)
    assert len(found) <= 101
    assert all(one.isprintable() for one in found)


def test_the_studios_file_is_judged_before_anything_is_worked_out(tmp_path: Path) -> None:
    save(faulty(), tmp_path / "house")
    (tmp_path / "house" / "studio.toml").write_text("[look]\nink = 'loud'\n", "utf-8")
    said: list[str] = []
    with pytest.raises(BadRecord, match=r"studio\.toml"):
        tell(load(tmp_path / "house"), ["captions"], out=tmp_path / "told", progress=said.append)
    assert said == []


def test_help_lists_every_form(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        main(["tell", "--help"])
    told = capsys.readouterr().out
    for form in FORMS.values():
        assert f"  {form.name} " in told
        assert form.words in told
