"""Whatever stands in a file: it is refused with its place, or it is a house that can be checked."""

from __future__ import annotations

import copy
import json
from collections.abc import Iterator
from typing import Any

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from enfilade.checks.run import check
from enfilade.errors import BadRecord
from enfilade.project.demo import demo
from enfilade.project.project import Project
from enfilade.project.reading import project_from
from enfilade.project.writing import project_text
from laws.houses import kitchen_plain
from project_folders import good_plain

PLAINS: list[dict[str, Any]] = [good_plain(), kitchen_plain(44), json.loads(project_text(demo()))]
odd = (
    st.none()
    | st.booleans()
    | st.integers(-(10**19), 10**19)
    | st.floats()
    | st.text(max_size=6)
    | st.sampled_from(
        ["none", "free", "wall", "sink", "1'", "0", -1, 0, 1e-9, 0.01, 1e6, -1e6, 360, [], {}, [[]], [{}]]
    )
)
numbers = st.sampled_from([0, 0.01, 0.5, 1, 30, 3000, 1e6, -3000, 359.9]) | st.floats(-9000, 9000)


def places(value: Any, above: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    """Yield the way to every value of plain data."""
    for key, inner in value.items() if isinstance(value, dict) else enumerate(value):
        yield (*above, key)
        if isinstance(inner, dict | list):
            yield from places(inner, (*above, key))


def replaced(plain: dict[str, Any], way: tuple[Any, ...], new: Any) -> dict[str, Any]:
    changed = copy.deepcopy(plain)
    here: Any = changed
    for key in way[:-1]:
        here = here[key]
    here[way[-1]] = new
    return changed


def read(data: bytes) -> Project | BadRecord:
    """Return the project, or the refusal; any other error is a failure."""
    try:
        return project_from(data, "project.json")
    except BadRecord as refusal:
        return refusal


def is_clear(refusal: BadRecord) -> bool:
    """Tell whether each fault has a place and words that a terminal shows as they are."""
    told = all(fault.place and fault.what for fault in refusal.faults)
    return bool(refusal.faults) and told and all(line.isprintable() for line in str(refusal).splitlines())


def taken_or_refused(plain: dict[str, Any]) -> None:
    found = read(json.dumps(plain).encode())
    if isinstance(found, BadRecord):
        assert is_clear(found), str(found)
    else:
        check(found)  # raises nothing, however odd the house is


WAYS = [(plain, list(places(plain))) for plain in PLAINS]
NUMBERS = [
    (plain, [way for way in ways if isinstance(way[-1], str) and way[-1].endswith(("_mm", "_deg", "_m2", "count"))])
    for plain, ways in WAYS
]


@given(st.data())
@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_any_value_anywhere(data: st.DataObject) -> None:
    plain, ways = data.draw(st.sampled_from(WAYS))
    taken_or_refused(replaced(plain, data.draw(st.sampled_from(ways)), data.draw(odd)))


@given(st.data())
@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_any_sizes(data: st.DataObject) -> None:
    """Sizes that can exist, however odd: several at once, so that houses are taken and then checked."""
    plain, ways = data.draw(st.sampled_from(NUMBERS))
    for way in data.draw(st.lists(st.sampled_from(ways), min_size=1, max_size=3)):
        plain = replaced(plain, way, data.draw(numbers))
    taken_or_refused(plain)


@given(st.binary(max_size=60) | st.text(max_size=60).map(lambda text: text.encode("utf-8", "surrogatepass")))
def test_any_bytes(data: bytes) -> None:
    found = read(data)
    assert isinstance(found, BadRecord)
    assert is_clear(found), str(found)
