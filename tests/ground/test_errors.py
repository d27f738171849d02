"""Errors say what, what was expected and what to do, and survive the way back from a worker process."""

from __future__ import annotations

import math
import pickle

import pytest

from enfilade.errors import (
    BadRecord,
    Conflict,
    EnfiladeError,
    Fault,
    NotFound,
    OutOfRange,
    Refused,
    require_positive,
)


def test_an_error_reads_as_one_sentence() -> None:
    error = Refused("height is 3 mm", expected="at least 10 mm", do="measure it again")
    assert str(error) == "height is 3 mm; expected at least 10 mm; measure it again"
    assert str(NotFound("no wall 'a'")) == "no wall 'a'"


def test_faults_stand_one_a_line_with_the_file_and_the_place() -> None:
    error = BadRecord("project.json", [Fault("things/sink/width_mm", "-3 mm", "above 0"), Fault("top", "is empty")])
    assert str(error).splitlines() == [
        "project.json: things/sink/width_mm: -3 mm; expected above 0",
        "project.json: top: is empty",
    ]


@pytest.mark.parametrize(
    ("kind", "builtin"),
    [
        (OutOfRange, ValueError),
        (NotFound, LookupError),
        (Refused, ValueError),
        (Conflict, RuntimeError),
        (BadRecord, ValueError),
    ],
)
def test_each_error_is_of_the_family_and_also_a_builtin(kind: type[Exception], builtin: type[Exception]) -> None:
    assert issubclass(kind, EnfiladeError)
    assert issubclass(kind, builtin)


@pytest.mark.parametrize(
    "error",
    [
        OutOfRange("a", expected="b", do="c"),
        NotFound("a", expected="b"),
        Conflict("a", do="c"),
        BadRecord("f", [Fault("p", "w", "e"), Fault("q", "v")]),
    ],
)
def test_an_error_comes_back_whole_from_another_process(error: EnfiladeError) -> None:
    again = pickle.loads(pickle.dumps(error))
    assert type(again) is type(error)
    assert str(again) == str(error)
    assert (again.expected, again.do) == (error.expected, error.do)
    if isinstance(error, BadRecord) and isinstance(again, BadRecord):
        assert (again.file, again.faults) == (error.file, error.faults)


@pytest.mark.parametrize("value", [0, -1, -0.0, math.nan, math.inf, -math.inf])
def test_what_is_not_above_nought_is_refused_by_name(value: float) -> None:
    with pytest.raises(OutOfRange, match=r"depth_mm is .*finite number above 0"):
        require_positive(width_mm=3, depth_mm=value)
    require_positive(width_mm=3, depth_mm=1e-9)
