"""The commands, as scripts rely on them."""

from __future__ import annotations

import json
from pathlib import Path

import jsonschema
import pytest

import enfilade as ef
from building import house, on_wall, room, thing
from enfilade.cli import main
from enfilade.project.choices import Answer
from enfilade.project.schema import project_schema


@pytest.fixture
def demo_folder(tmp_path: Path) -> Path:
    """The demo house, saved."""
    ef.save(ef.demo(), tmp_path / "demo")
    return tmp_path / "demo"


def test_demo_writes_a_project_and_its_page_and_says_where(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "made"
    assert main(["demo", "--out", str(out)]) == 0
    printed, progress = capsys.readouterr()
    assert str((out / "walkthrough.html").resolve()) in printed
    assert "room 1 of 9" in progress
    assert ef.load(out / "project") == ef.demo()


def test_demo_leaves_a_project_that_is_there_and_makes_its_page_anew(tmp_path: Path) -> None:
    out = tmp_path / "made"
    changed = ef.demo().model_copy(update={"name": "Renamed by its owner"})
    ef.save(changed, out / "project")
    before = (out / "project" / "project.json").read_bytes()
    assert main(["demo", "--out", str(out)]) == 0
    assert (out / "project" / "project.json").read_bytes() == before
    assert "Renamed by its owner" in (out / "walkthrough.html").read_text("utf-8")


def test_open_refuses_what_cannot_be_opened_before_anything_is_started(
    demo_folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "other").mkdir()
    (tmp_path / "other" / "letter.txt").write_text("x", "utf-8")
    for arguments in (["other"], ["other/letter.txt"], ["--lab"]):
        assert main(["open", "--no-browser", *(a if a.startswith("-") else str(tmp_path / a) for a in arguments)]) == 2
        printed, told = capsys.readouterr()
        assert printed == ""
        assert "; expected " in told
        assert "starting" not in told
    (demo_folder / "project.json").write_text('{"format": 1, "id": "A", "name": "A"}', "utf-8")
    assert main(["open", str(demo_folder), "--no-browser"]) == 2
    printed, told = capsys.readouterr()
    assert printed == ""
    assert f"{demo_folder / 'project.json'}: id: " in told
    assert not demo_folder.with_name("demo-notebooks").exists()


def test_check_prints_findings_as_json_and_exits_with_one(
    demo_folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["check", str(demo_folder), "--json"]) == 1
    found = json.loads(capsys.readouterr().out)
    assert {finding["verdict"] for finding in found} == {"met", "falls short", "not assessed"}
    assert len({finding["id"] for finding in found}) == len(found)
    keys = {"id", "rule", "title", "level", "space", "subjects", "verdict", "because", "needs", "measured", "required",
            "margin", "assumed", "working", "source", "caution", "marks"}  # fmt: skip
    assert keys <= found[0].keys()
    assert all(finding["source"]["known"] for finding in found)


def test_check_of_one_space_and_another_yardstick(demo_folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    main(["check", str(demo_folder), "--space", "kitchen", "--yardstick", "us-access", "--json"])
    found = json.loads(capsys.readouterr().out)
    assert {finding["space"] for finding in found} == {"kitchen"}
    assert "access" in {finding["level"] for finding in found}


def test_check_exits_with_zero_when_nothing_falls_short_unanswered(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    ef.save(house(spaces=[room(60, 60, id="closet", use="closet")]), tmp_path / "empty")
    assert main(["check", str(tmp_path / "empty")]) == 0
    assert "Local codes" in capsys.readouterr().out


def test_check_exits_with_zero_when_all_that_falls_short_is_answered(demo_folder: Path) -> None:
    project = ef.load(demo_folder)
    short = [finding for finding in ef.check(project) if finding.verdict == "falls short"]
    answers = [
        {
            "id": f"answer-{number}",
            "finding": finding.id,
            "kind": "to mend" if number % 2 else "accepted",
            "reason": "agreed on site",
            "by": "W. Overmantle",
            "measured": finding.measured.value,
            "unit": finding.measured.unit,
        }
        for number, finding in enumerate(short)
    ]
    assert len(answers) > 5
    ef.save(project.with_records(answers=[Answer(**answer) for answer in answers]), demo_folder)
    assert main(["check", str(demo_folder)]) == 0
    ef.save(ef.load(demo_folder).with_records(answers=[Answer(**answer) for answer in answers[1:]]), demo_folder)
    assert main(["check", str(demo_folder)]) == 1


@pytest.mark.parametrize(
    "arguments",
    [["check", "MISSING"], ["check", "DEMO", "--space", "attic"], ["check", "DEMO", "--yardstick", "moon"],
     ["tell", "DEMO", "--to", "scroll"], ["tell", "MISSING"]],
)  # fmt: skip
def test_refused_input_exits_with_two_and_says_why_on_stderr(
    arguments: list[str], demo_folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    filled = [{"MISSING": str(demo_folder / "nowhere"), "DEMO": str(demo_folder)}.get(word, word) for word in arguments]
    assert main(filled) == 2
    printed, told = capsys.readouterr()
    assert printed == ""
    assert "; expected " in told
    assert "Traceback" not in told


def test_tell_writes_beside_the_project_by_default(demo_folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["tell", str(demo_folder), "--audience", "student"]) == 0
    path = demo_folder.with_name("demo-told") / "walkthrough.html"
    told = [str(path.with_name(name).resolve()) for name in ("walkthrough.html", "speaker.html", "prompt.html")]
    assert capsys.readouterr().out.splitlines() == told
    assert "For students" in path.read_text("utf-8")


def test_schema_accepts_the_demo_house_and_refuses_a_stranger(
    demo_folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["schema"]) == 0
    schema = json.loads(capsys.readouterr().out)
    assert schema == json.loads(json.dumps(project_schema()))
    jsonschema.Draft202012Validator.check_schema(schema)
    validator = jsonschema.Draft202012Validator(schema)
    plain = json.loads((demo_folder / "project.json").read_text("utf-8"))
    assert list(validator.iter_errors(plain)) == []
    assert list(validator.iter_errors({**plain, "colour": "red"}))


def test_selftest_finds_everything_that_is_needed(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["selftest"]) == 0
    assert "missing, needed" not in capsys.readouterr().out


def test_help_speaks_of_every_command(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as stopped:
        main(["--help"])
    assert stopped.value.code == 0
    text = capsys.readouterr().out
    assert all(name in text for name in ("demo", "open", "check", "tell", "schema", "selftest"))


def test_a_bad_idea_loads_and_is_found(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    # Two counters 400 mm apart: nobody can work there, and it must be possible to record it.
    across = [
        thing("counter", "a", 100, 25, on_wall("kitchen-north", 0)),
        thing("counter", "b", 100, 25, on_wall("kitchen-south", 44)),
    ]
    narrow = house(across, spaces=[room(144, 50 + 400 / 25.4)], household={"size": 2, "cooks_together": 1})
    ef.save(narrow, tmp_path / "narrow")
    assert main(["check", str(tmp_path / "narrow"), "--json"]) == 1
    found = json.loads(capsys.readouterr().out)
    assert [
        f for f in found if f["verdict"] == "falls short" and f["measured"] and abs(f["measured"]["value"] - 400) < 0.1
    ]
