"""Laws of the record: what is saved is loaded, the same bytes each time, in whichever units lengths were typed."""

from __future__ import annotations

import json
import tempfile
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from enfilade.lengths import parse_length, show_length
from enfilade.project.demo import demo
from enfilade.project.project import Project
from enfilade.project.reading import project_from
from enfilade.project.store import load, save
from enfilade.project.writing import project_text
from laws.houses import houses, kitchens

several = settings(max_examples=40, deadline=None)


@given(houses())
@several
def test_what_was_saved_is_loaded(project: Project) -> None:
    with tempfile.TemporaryDirectory() as folder:
        save(project, folder)
        again = load(folder)
    assert again == project


@given(houses())
@several
def test_a_project_has_one_text(project: Project) -> None:
    text = project_text(project)
    assert project_text(project) == text
    assert project_text(project_from(text.encode(), "x")) == text
    assert project_text(Project.model_validate(json.loads(text))) == text
    assert project_text(Project.model_validate(project.model_dump())) == text  # though every default is spelt out


def typed_in_the_other_system(value: Any, write: Any) -> Any:
    """Return plain data in which every length in millimetres is typed text of another unit."""
    if isinstance(value, dict):
        return {
            key: _typed(inner, write)
            if key.endswith("_mm")
            else [[_typed(part, write) for part in corner] for corner in inner]
            if key == "outline"
            else typed_in_the_other_system(inner, write)
            for key, inner in value.items()
        }
    return [typed_in_the_other_system(inner, write) for inner in value] if isinstance(value, list) else value


def _typed(value: Any, write: Any) -> Any:
    if isinstance(value, list):
        return [_typed(inner, write) for inner in value]
    return write(value) if isinstance(value, int | float) else value


def as_fraction_of_an_inch(value_mm: float) -> str:
    exact = Fraction(repr(value_mm)) * Fraction(5, 127)  # 1 in = 25.4 mm = 127/5 mm
    return f'{"-" if exact < 0 else ""}{abs(exact.numerator)}/{exact.denominator}"'


def as_decimal_inches(value_mm: float) -> str:
    return f'{value_mm / 25.4:.13f}"'


def as_feet_and_inches(value_mm: float) -> str:
    exact = Fraction(repr(value_mm)) * Fraction(5, 127)
    feet, inch = divmod(abs(exact), 12)
    return f"{'-' if exact < 0 else ''}{feet}' {float(inch):.13f}\""


def as_metres(value_mm: float) -> str:
    return f"{value_mm / 1000:.12f} m"


WAYS = [as_fraction_of_an_inch, as_decimal_inches, as_feet_and_inches, as_metres]


@pytest.mark.parametrize("write", WAYS, ids=lambda write: write.__name__)
@given(project=houses())
@settings(max_examples=15, deadline=None)
def test_lengths_typed_in_the_other_system_make_an_equal_project(write: Any, project: Project) -> None:
    plain = json.loads(project_text(project))
    retyped = typed_in_the_other_system(plain, write)
    assert retyped != plain
    assert project_from(json.dumps(retyped).encode(), "x") == project


@pytest.mark.parametrize("write", WAYS, ids=lambda write: write.__name__)
def test_the_demo_house_retyped_is_the_demo_house(write: Any) -> None:
    plain = json.loads(project_text(demo()))
    assert project_from(json.dumps(typed_in_the_other_system(plain, write)).encode(), "x") == demo()


@given(st.floats(-1_000_000, 1_000_000), st.sampled_from(["us", "metric"]))
def test_a_length_that_was_shown_reads_within_a_thirty_second_of_an_inch(value_mm: float, system: Any) -> None:
    shown = show_length(value_mm, system)
    assert abs(parse_length(shown) - value_mm) <= 25.4 / 32 + 1e-6


@given(kitchens())
@settings(max_examples=15, deadline=None)
def test_changing_one_thing_keeps_the_others_as_they_are(project: Project) -> None:
    wider = [t.model_copy(update={"width_mm": t.width_mm + 1}) if t.id == "island" else t for t in project.things]
    changed = project.with_records(things=wider)
    assert changed != project
    assert all(a is b for a, b in zip(project.things, changed.things, strict=True) if a.id != "island")
    assert changed.with_records(things=project.things) == project
