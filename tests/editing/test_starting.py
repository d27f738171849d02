"""A new project from three answers."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from enfilade.editing.starting import assumed_ceiling_mm, folder_name, new_project
from enfilade.errors import BadRecord
from enfilade.project.reading import project_from
from enfilade.project.writing import project_text


def test_a_new_project_holds_the_answers_and_leaves_the_rest_unknown() -> None:
    project = new_project("  Long   house by the water ", "metric")
    assert (project.id, project.name) == ("long-house-by-the-water", "Long house by the water")
    assert project.show.units == "metric"
    assert project.yardstick == "us"
    assert project.household.count is None
    assert project.spaces == ()
    assert project_from(project_text(project).encode(), "project.json") == project


@pytest.mark.parametrize(
    ("name", "units", "places"),
    [
        ("", "us", ["name"]),
        ("   ", "feet", ["name", "units"]),
        ("x" * 201, "us", ["name"]),
        ("Bad \x01 sign", "us", ["name"]),
    ],
)
def test_an_answer_that_cannot_be_taken_is_told_at_its_field(name: str, units: str, places: list[str]) -> None:
    with pytest.raises(BadRecord) as refused:
        new_project(name, units)
    assert [fault.place for fault in refused.value.faults] == places
    assert all(fault.what and fault.expected for fault in refused.value.faults)


@given(st.text(min_size=1, max_size=200).filter(lambda text: text.strip()))
def test_any_name_makes_a_project_that_can_be_kept_or_is_refused_in_words(name: str) -> None:
    try:
        project = new_project(name, "us")
    except BadRecord as error:
        refused = error
    else:
        assert project_from(project_text(project).encode(), "project.json") == project
        return
    assert [fault.place for fault in refused.faults] == ["name"]


@given(st.text(max_size=300))
def test_any_name_gives_a_folder_that_every_system_can_write(name: str) -> None:
    folder = folder_name(name)
    assert 0 < len(folder) <= 90
    assert len(Path(folder).parts) == 1
    assert not set(folder) & set('<>:"/\\|?*\0')
    assert folder == folder.strip(" .")
    assert folder.split(".")[0].strip().lower() not in {"con", "prn", "aux", "nul", "com1", "lpt9"}


@pytest.mark.parametrize("name", ["CON", "nul.txt", "..", "/", "COM1"])
def test_names_that_a_system_keeps_for_itself_get_another(name: str) -> None:
    assert folder_name(name).startswith("House")


def test_a_folder_that_is_there_is_not_named_again() -> None:
    assert folder_name("Boathouse", {"Boathouse", "Boathouse 2"}) == "Boathouse 3"


def test_the_ceiling_that_is_assumed() -> None:
    # Common practice, no document: 8 ft, 2440 mm.
    assert assumed_ceiling_mm("us") == pytest.approx(8 * 12 * 25.4)
    assert assumed_ceiling_mm("metric") == 2440
