"""Text to project and back: what is read leniently, in which order it is written, and what no input can do."""

from __future__ import annotations

import json
import time
from pathlib import Path
from typing import Any

import pytest

from building import free, house, thing
from enfilade.errors import BadRecord
from enfilade.project import migrations
from enfilade.project.project import FORMAT
from enfilade.project.reading import DEEPEST, parsed, project_from
from enfilade.project.writing import project_text
from project_folders import good_plain, good_project


def read(plain: dict[str, Any]) -> Any:
    return project_from(json.dumps(plain).encode(), "project.json")


def test_writing_twice_gives_the_same_bytes_and_so_does_reading_between() -> None:
    text = project_text(good_project())
    assert project_text(good_project()) == text
    again = project_from(text.encode(), "project.json")
    assert again == good_project()
    assert project_text(again) == text


def test_the_format_comes_first_and_defaults_are_left_out() -> None:
    plain = json.loads(project_text(good_project()))
    assert next(iter(plain)) == "format"
    assert "show" not in plain
    assert all("state" not in record for record in plain["things"])
    assert " ".join(plain) == (
        "format id name client household brief spaces openings things products finishes decisions answers photographs "
        "script"
    )


def test_each_record_stands_on_its_own_line() -> None:
    project = good_project()
    lines = project_text(project).splitlines()
    for record in (
        *project.things,
        *project.spaces,
        *project.decisions,
        *project.brief.needs,
        *project.household.people,
    ):
        assert sum(1 for line in lines if line.lstrip().startswith(f'{{"id": "{record.id}"')) == 1, record.id


def test_a_change_of_one_record_changes_one_line() -> None:
    project = good_project()
    things = [t.model_copy(update={"width_mm": 700.0}) if t.id == "table" else t for t in project.things]
    before, after = project_text(project).splitlines(), project_text(project.with_records(things=things)).splitlines()
    assert len(before) == len(after)
    assert sum(1 for a, b in zip(before, after, strict=True) if a != b) == 1


def test_text_of_any_script_is_written_as_it_is() -> None:
    name = 'Küche — 台所 — 🍳\u2028 "quoted" \\ and <b>'
    text = project_text(good_project().model_copy(update={"name": name}))
    assert "台所" in text
    assert project_from(text.encode(), "x").name == name


def test_typed_lengths_are_read_in_a_file() -> None:
    box = {"id": "box", "kind": "furniture", "space": "kitchen",
           "width_mm": "2' 6 1/2\"", "depth_mm": "60 cm", "top_mm": "1 m",
           "place": {"how": "free", "x_mm": '40"', "y_mm": "1.5 m", "turn_deg": 45}}  # fmt: skip
    plain = good_plain()
    plain["things"].append(box)
    found = read(plain).thing("box")
    # 30.5 in x 25.4 = 774.7 mm; 40 in = 1016 mm
    assert (found.width_mm, found.depth_mm, found.top_mm) == (774.7, 600.0, 1000.0)
    assert (found.place.x_mm, found.place.y_mm) == (1016.0, 1500.0)


def test_every_length_field_takes_typed_lengths() -> None:
    """A field whose name ends in `_mm` is a length: it takes `12 in` and means 304.8 mm."""
    from pydantic import TypeAdapter

    from enfilade.project.fields import Record

    def records(kind: type[Record]) -> list[type[Record]]:
        return [kind, *(below for child in kind.__subclasses__() for below in records(child))]

    seen = 0
    # Other tests declare records of their own.
    for record in (one for one in records(Record) if one.__module__.startswith("enfilade.")):
        for name, field in record.model_fields.items():
            # Lenses and sensors are named in millimetres everywhere.
            if name.endswith("_mm") and not name.startswith(("focal", "lenses", "sensor")):
                seen += 1
                adapter: TypeAdapter[Any] = TypeAdapter(field.rebuild_annotation())
                many = name.endswith("heights_mm")
                assert adapter.validate_python(["12 in"] if many else "12 in") == ((304.8,) if many else 304.8), (
                    record,
                    name,
                )
    assert seen > 60


@pytest.mark.parametrize(
    "hostile",
    [
        '{"a": "' + '\\"' * 40_000,  # a text that never ends
        '{"a": "' + "\\" * 40_001,
        '"' * 40_001,
        "[" + "[],".join([""] * 100_000) + "[]]",
        "{" + ",".join(f'"k{i}": 1' for i in range(60_000)) + ', "k59999": 2}',  # one key twice among many
    ],
    ids=["quotes", "backslashes", "empty texts", "many brackets", "many keys"],
)
def test_no_input_makes_the_reader_go_back_over_itself(hostile: str) -> None:
    started = time.process_time()
    with pytest.raises(BadRecord):
        parsed(hostile.encode(), "x")
    assert time.process_time() - started < 2.0  # far above what one pass takes; quadratic work takes minutes


def test_brackets_inside_text_are_no_nesting() -> None:
    assert parsed(json.dumps({"a": "[" * 500 + '\\"' + "{" * 500}).encode(), "x")["a"].startswith("[[")
    deep = "[" * (DEEPEST - 1) + "]" * (DEEPEST - 1)
    assert parsed(f'{{"a": {deep}}}'.encode(), "x")
    with pytest.raises(BadRecord, match="nest over 40 deep"):
        parsed(f'{{"a": [{deep}]}}'.encode(), "x")


def test_the_faults_of_a_union_stand_at_the_field_alone() -> None:
    plain = good_plain()
    plain["things"][1]["knee_space"] = {"width_mm": -1, "height_mm": 600}
    with pytest.raises(BadRecord) as refusal:
        read(plain)
    assert {fault.place for fault in refusal.value.faults} == {
        "things/top/knee_space/width_mm", "things/top/knee_space/depth_mm",
    }  # fmt: skip


def test_a_great_many_faults_are_cut_at_a_hundred() -> None:
    plain = good_plain() | {"things": [{"id": f"t{i}"} for i in range(500)]}
    with pytest.raises(BadRecord) as refusal:
        read(plain)
    assert len(refusal.value.faults) == 100


def test_the_extreme_ends_of_what_is_accepted_can_be_worked_with() -> None:
    project = house([thing("furniture", "far", 1, 1, free(72, 72, turn=360), bottom=0, top=0)])
    text = project_text(project)
    assert project_from(text.encode(), "x") == project


# Migrations


def test_each_step_is_taken_in_turn(monkeypatch: pytest.MonkeyPatch) -> None:
    def first(plain: dict[str, Any]) -> dict[str, Any]:
        return plain | {"format": 2, "steps": ["first"]}

    def second(plain: dict[str, Any]) -> dict[str, Any]:
        return plain | {"format": 3, "steps": [*plain["steps"], "second"]}

    monkeypatch.setattr(migrations, "FORMAT", 3)
    monkeypatch.setattr(migrations, "STEPS", {1: first, 2: second})
    assert migrations.migrated({"format": 1}, "x")["steps"] == ["first", "second"]
    assert migrations.migrated({"format": 2, "steps": []}, "x")["steps"] == ["second"]
    assert migrations.migrated({"format": 3}, "x") == {"format": 3}
    with pytest.raises(BadRecord, match="4 is newer than this version reads; expected at most 3; update enfilade"):
        migrations.migrated({"format": 4}, "x")


def test_there_is_a_step_from_every_earlier_format() -> None:
    assert set(migrations.STEPS) == set(range(1, FORMAT))


def test_a_file_of_format_1_written_by_hand_is_read() -> None:
    """Kept as it is: an archive is read for longer than any release lives."""
    project = project_from((Path(__file__).parent / "format_1.json").read_bytes(), "format_1.json")
    assert [space.id for space in project.spaces] == ["kitchen", "scullery"]
    assert project.thing("sink").width_mm == 762.0  # 30 in
    assert project.decisions[0].chosen is not None
