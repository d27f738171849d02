"""Projects side by side; the figures are those of `check`, of pandas and of shapely on the same records."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pandas as pd
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from rapidfuzz import fuzz, utils

import enfilade as ef
from building import house, room, thing
from changed_houses import decision, kitchen
from enfilade.archive.box import write_box
from enfilade.archive.comparing import Comparison, compare
from enfilade.archive.comparing.matching import LIKE, LIKE_NUMBERED, Matched, matched
from enfilade.archive.comparing.topics import OTHER, topic_of
from enfilade.archive.keeping import keep
from enfilade.archive.store import Store
from enfilade.errors import NotFound, Refused
from enfilade.project.project import Project
from enfilade.standards.yardsticks import yardstick, yardstick_names

NEED = {"id": "hot", "number": 3, "text": "A top that takes a hot pan from the oven.", "spaces": ["kitchen"]}


def rows(comparison: Comparison, title: str) -> dict[str, tuple[str, ...]]:
    table = comparison.table(title)
    assert table is not None, [one.title for one in comparison.tables]
    return {row[0]: row[1:] for row in table.rows}


def other(project: Project, **more: Any) -> Project:
    return project.model_copy(update={"id": "other-house", "name": "Other house", **more})


def test_areas_are_those_of_the_outlines() -> None:
    two = house([], spaces=[room(120, 144), room(60, 60, id="hall", use="hall", at=(200, 0))])
    demo = ef.demo()
    found = rows(compare([demo, two]), "Rooms and areas")
    frame = pd.DataFrame({"use": one.use, "sq_ft": shapely.Polygon(one.outline).area / 304.8**2} for one in demo.spaces)
    by_use = frame.groupby("use")["sq_ft"].sum()
    assert found["Kitchen"] == (f"{by_use['kitchen']:,.1f} sq ft", "120 sq ft")  # 10 ft x 12 ft
    assert found["Hall"] == ("–", "25 sq ft")
    assert found["Whole house"] == (f"{len(frame)} rooms, {frame.sq_ft.sum():,.1f} sq ft", "2 rooms, 145 sq ft")


def test_things_are_counted_without_those_that_go() -> None:
    demo = ef.demo()
    frame = pd.DataFrame([one.model_dump(include={"kind", "state"}) for one in demo.things])
    there = frame[frame.state != "removed"].kind.value_counts()
    found = rows(compare([demo, kitchen()]), "What stands there")
    assert {kind.lower(): int(cells[0]) for kind, cells in found.items() if cells[0] != "–"} == there.to_dict()
    assert found["Island"][1] == "1"
    seats = sum(row.count for one in demo.things if one.state != "removed" for row in getattr(one, "seating", ()))
    assert rows(compare([demo, kitchen()]), "Seats, appliances and storage")["Seats in all"] == (str(seats), "–")


def test_verdicts_are_those_of_check() -> None:
    demo = ef.demo()
    columns = [demo, demo.model_copy(update={"yardstick": "us-access"})]
    comparison = compare(columns)
    found = rows(comparison, "Verdicts")
    for n, column in enumerate(columns):
        findings = ef.check(column)
        frame = pd.DataFrame({"verdict": one.verdict, "because": one.because, "level": one.level} for one in findings)
        assert int(found["Holds"][n]) == (frame.verdict == "met").sum()
        assert int(found["Falls short"][n]) + int(found["Accepted"][n]) == (frame.verdict == "falls short").sum()
        assert int(found["Not assessed"][n]) == (frame.because == "missing fact").sum()
        levels = rows(comparison, "Verdicts by level")
        code = frame[(frame.level == "code") & (frame.verdict == "met")]
        assert levels["Model code"][n].startswith(f"{len(code)} hold")
    assert any("different sets of rules" in note for note in comparison.notes)


def test_an_answer_that_no_longer_holds_does_not_accept() -> None:
    answer = {"id": "a", "finding": "K6:one-cook:island+north-counter", "kind": "accepted", "reason": "So be it.",
              "by": "Ada Rill", "measured": 1016.0, "unit": "mm"}  # fmt: skip
    holds, worse = kitchen(40, answers=[answer]), kitchen(38, answers=[answer])
    found = rows(compare([holds, worse, kitchen(48)]), "Where the verdicts differ")
    # Guideline 6 asks 42 in for one cook: 42 - 40 = 2 in short, 42 - 38 = 4 in, 48 - 42 = 6 in to spare.
    assert found["Work aisle, one cook: Kitchen guideline 6, recommended"] == (
        'Accepted: 40", 2" short', 'Falls short: 38", 4" short', 'Holds: 48", 6" to spare',
    )  # fmt: skip


def test_every_rule_has_a_topic() -> None:
    rules = {row.rule for name in yardstick_names() for row in yardstick(name).rows() if not row.definition}
    assert {rule for rule in rules if topic_of(rule) == OTHER} == set()
    assert {one.rule for one in ef.check(ef.demo()) if topic_of(one.rule) == OTHER} == set()


def test_finishes_that_are_shared_stand_first() -> None:
    oak, slate = {"id": "oak", "name": "Oak", "material": "oiled"}, {"id": "slate", "name": "Slate"}
    island = thing("island", "island", 72, 36, {"how": "free", "x_mm": 1800, "y_mm": 1500}, finish="oak")
    first = house([island], finishes=[slate, oak], spaces=[{**room(144, 144), "floor_finish": "slate"}])
    second = house([], finishes=[{**oak, "id": "wood", "name": "oak "}], id="second", name="Second")
    table = compare([first, second]).table("Finishes")
    assert table is not None
    assert table.rows == (
        ("Oak, oiled", "Kitchen: island", "on record, not placed yet"),
        ("Slate", "Kitchen: floor", "–"),
    )


def test_costs_by_area_are_worked_out_by_hand() -> None:
    purchase = {"allowance": "9000", "quote": "7200"}
    island = thing("island", "island", 72, 36, {"how": "free", "x_mm": 1800, "y_mm": 1500}, product="top")
    products = [{"id": "top", "name": "Top", "purchase": purchase}, {"id": "tap", "name": "Tap"}]
    one = house([island], products=products, show={"currency": "USD"})
    two = house([], id="second", name="Second", show={"currency": "EUR", "units": "metric"})
    comparison = compare([one, two])
    found = rows(comparison, "Costs")
    assert found["Set aside"] == ("USD\xa09,000", "–")
    assert found["To be expected"] == ("USD\xa07,200", "–")
    assert found["Against what is set aside"] == ("USD\xa01,800 under", "–")
    assert found["By area, whole house"] == ("USD\xa050 a square foot", "–")  # 7,200 over 12 ft x 12 ft
    assert found["Without a price"] == ("1", "–")
    assert any("different currencies (USD and EUR)" in note for note in comparison.notes)
    assert "feet and inches" in comparison.notes[0]


def test_what_was_chosen_for_the_same_need_and_what_came_of_it() -> None:
    built = decision(needs=["hot"], status="changed on site", changed="A seam was needed.", hindsight="Measure twice.")
    one = kitchen(40, brief={"needs": [NEED]}, decisions=[built])
    need = {**NEED, "id": "pans", "number": 9, "text": "A top that takes a hot pan out of the oven"}
    open_ = decision(needs=["pans"], choice=None, status="undecided")
    two = other(
        kitchen(48, brief={"needs": [need, {**NEED, "id": "tap", "text": "Water for the dog."}]}, decisions=[open_])
    )
    table = compare([one, two]).table("Choices made for the same need")
    assert table is not None
    assert table.rows == (
        (
            "3. A top that takes a hot pan from the oven.",
            "14. What the island is topped with: A top of soapstone.\nOver: A top of oak.\nWhy: It takes a hot pan.\n"
            "What came of it: Changed on site; on site: A seam was needed; "
            'falls short: Work aisle, one cook 40" (2" short).\nIn hindsight: Measure twice.',
            "14. What the island is topped with: nothing chosen yet\nOver: A top of soapstone; A top of oak.\n"
            "Why: It takes a hot pan.\nWhat came of it: Undecided.",
        ),
    )
    assert "Needs that one alone has: 1." in table.note
    assert "matched by their words" in table.note
    assert "ratio" not in table.note


def test_versions_of_one_project_are_matched_by_id_alone() -> None:
    one = kitchen(brief={"needs": [NEED]}, decisions=[decision()])
    renamed = kitchen(
        brief={"needs": [{**NEED, "text": "Something else altogether."}]}, decisions=[decision(choice="oak")]
    )
    found = compare([one, renamed])
    needs = found.table("Choices made for the same need")
    subjects = found.table("Choices on the same subject")
    assert needs is not None
    assert subjects is not None
    assert len(needs.rows) == 1
    assert needs.rows[0][1:] == ("No decision names this need.",) * 2
    assert "A top of soapstone" in subjects.rows[0][1]
    assert "A top of oak" in subjects.rows[0][2]


_TEXT = st.text(st.characters(codec="utf-8", categories=("L", "Zs")), max_size=30)
_ITEM = st.builds(Matched, st.sampled_from("pqr"), st.sampled_from("abcdef"), st.integers(1, 4), _TEXT)


@given(st.lists(st.lists(_ITEM, max_size=5, unique_by=lambda one: one.id), min_size=2, max_size=4))
@settings(max_examples=150, deadline=None)
def test_matching_loses_nothing_and_joins_only_what_is_alike(each: list[list[Matched]]) -> None:
    each = [[Matched(f"p{n}", one.id, one.number, one.text) for one in column] for n, column in enumerate(each)]
    rows = matched(each)
    for n, column in enumerate(each):
        assert sorted(one.id for one in (row[n] for row in rows) if one is not None) == sorted(one.id for one in column)
    for row in rows:
        there = [one for one in row if one is not None]
        for n, one in enumerate(there[1:], 1):
            ratios = [
                (
                    fuzz.token_sort_ratio(one.text, before.text, processor=utils.default_process),
                    one.number == before.number,
                )
                for before in there[:n]
            ]
            assert any(ratio >= (LIKE_NUMBERED if same else LIKE) - 0.01 for ratio, same in ratios)


@pytest.mark.parametrize("count", [0, 1, 7])
def test_fewer_than_two_or_more_than_six_are_refused(count: int) -> None:
    with pytest.raises(Refused, match="expected 2 to 6"):
        compare([kitchen()] * count)


@pytest.mark.parametrize("text", ["../nowhere", "no such@x", "a\x00b", "", "\u202e" * 50, "x" * 5000, "a@99999999999"])
def test_what_is_no_project_is_said(text: str, address: str) -> None:
    with (
        Store(address) as store,
        pytest.raises((NotFound, Refused), match=r"is no project; expected|is not in the archive"),
    ):
        compare([kitchen(), text], store)


def test_folders_versions_and_boxes(address: str, tmp_path: Path) -> None:
    folder = tmp_path / "house"
    ef.save(kitchen(48), folder)
    with Store(address) as store:
        keep(store, folder, who="a", why="first")
        moved = ef.load(folder)
        things = [one.model_copy(update={"width_mm": 2000.0}) if one.id == "island" else one for one in moved.things]
        ef.save(moved.with_records(things=things), folder)
        keep(store, folder, who="a", why="second")
        write_box(store, "test-house", tmp_path / "house.box")
        texts = [folder, str(folder / "project.json"), "test-house", "test-house@1", tmp_path / "house.box"]
        found = compare(texts, store)
        assert found.columns == (
            "Test house, as saved (1)", "Test house, as saved (2)", "Test house, version 2", "Test house, version 1",
            "Test house, version 2, from its box",
        )  # fmt: skip
        assert any("kept with" in note for note in found.notes)
        with pytest.raises(NotFound, match="no version 7"):
            compare([folder, "test-house@7"], store)
    with pytest.raises(Refused, match="none is open"):
        compare([folder, "test-house"])
