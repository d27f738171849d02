"""Every judged row of the kitchen, storage and island tables is met by one fixture and falls short in another.

The ledger holds the verdicts that the fixtures of this folder reached before; the name of this module
puts it last. It needs the whole folder in one run.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from enfilade.standards.rows import rows

TABLES = ("kitchen-guidelines", "islands", "storage-frontage")
DEFINITIONS = {
    "a leaf that gives the clear width": ("K1/door leaf", "K1a/door leaf", "K1a/passage depth"),
    "shape of the T that K6a/square and K6a/arm judge": ("K6a/block width", "K6a/block length"),
    "the generous end of K9a/seat width": ("K9a/seat width, generous",),
    "from which side K11c/return frontage applies": ("K11c/short side",),
    "asks nothing by itself: K17 still reports the shortfall": ("K17c",),
    "which counter K25/total counts": ("K25/depth", "K25/clear above"),
    "what K25/total is made of": (
        "K25b/oven", "K25b/microwave", "K25b/cooking, longer side", "K25b/cooking, shorter side", "K25b/refrigerator",
        "K25b/preparation", "K25b/sink, longer side", "K25b/sink, shorter side", "K25b/further",
    ),
    "which size of kitchen K27 and K28 judge": ("K27/small below", "K27/medium from", "K27/large above"),
    "what counts as other storage, and up to which amount": (
        "K27c", "K27b/small misc", "K27b/medium misc", "K27b/large misc",
    ),
    "to which counter or storage the row beside it applies": ("K27a/counter depth", "K28/within", "K30/counter depth"),
    "the same values as K9 and K6 to K8, where they are judged": ("N2", "N5"),
    "the range round N1": ("N1/roomy", "N1/tightest"),
    "parts of the frontage formula, judged through K27 and K28": (
        "F1/unit depth", "F1/base depth", "F1/wall depth", "F2", "F3", "F4", "F5", "F6", "F6/cabinet width", "F7",
        "F8/shelves", "F8/drawers", "F9",
    ),
}  # fmt: skip
"""Rows that define or compute and are never judged by themselves, each with what it serves."""


@pytest.fixture
def whole_folder(request: pytest.FixtureRequest) -> None:
    """Skip in a run that leaves out part of this folder."""
    here = Path(__file__).parent
    run = {item.path.name for item in request.session.items if item.path.parent == here}
    missing = {path.name for path in here.glob("test_*.py")} - run
    if missing:
        pytest.skip(f"needs the whole folder in one run; {len(missing)} modules were left out")


@pytest.mark.usefixtures("whole_folder")
def test_every_judged_row_is_met_and_falls_short_in_some_fixture(ledger: dict[str, set[str]]) -> None:
    listed = {name for names in DEFINITIONS.values() for name in names}
    known = {row.name for row in rows() if row.origin in TABLES}
    assert listed <= known
    lacking = {
        name: sorted({"met", "falls short"} - ledger.get(name, set()))
        for name in sorted(known - listed)
        if not {"met", "falls short"} <= ledger.get(name, set())
    }
    assert lacking == {}


def test_rows_that_are_listed_as_definitions_are_marked_so() -> None:
    by_name = {row.name: row for row in rows()}
    assert all(by_name[name].definition for names in DEFINITIONS.values() for name in names)
