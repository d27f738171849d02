"""The demo house holds what it promises, and travels like any other project."""

from __future__ import annotations

import re
import time
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from enfilade.checks.answers import Standing, standing_of
from enfilade.checks.run import check
from enfilade.lengths import inches
from enfilade.project import demo as module
from enfilade.project.audience import for_audience
from enfilade.project.demo import demo, demo_folder
from enfilade.project.project import Project
from enfilade.project.store import load, save
from enfilade.project.writing import project_text

SPACES = ["entry", "washroom", "dining", "kitchen", "bay", "scullery", "hearth", "study", "bedroom"]
# The only names that its texts know: people who do not exist, and a place that is nowhere.
INVENTED = {"Odalys", "Bram", "Juniper", "Tam", "Hesper", "Merrowby", "Overmantle", "Slackwater", "Nether", "Wharf"}
CALENDAR = {"Sunday", "Sundays", "Sunday's", "Tuesday", "March", "November", "June"}


def test_it_has_nine_spaces() -> None:
    assert [space.id for space in demo().spaces] == SPACES
    assert Counter(space.use for space in demo().spaces) == Counter(
        ["entry", "washroom", "dining", "kitchen", "breakfast", "scullery", "living", "study", "bedroom"]
    )
    for space in demo().spaces:
        assert space.story, space.id
        assert space.ceiling_mm, space.id
        assert space.floor_finish, space.id
        assert space.ceiling_finish, space.id


def test_every_room_has_things_decisions_and_lines_to_speak() -> None:
    project = demo()
    assert sorted(stop.space for stop in project.script) == sorted(SPACES)
    assert all(len(stop.lines) >= 2 for stop in project.script)
    assert {thing.space for thing in project.things} == set(SPACES)
    assert {space for decision in project.decisions for space in decision.spaces} == set(SPACES)


def test_decisions_stand_as_promised() -> None:
    decisions = demo().decisions
    assert Counter(d.status == "changed on site" for d in decisions)[True] == 2
    assert all(bool(d.changed) == (d.status == "changed on site") for d in decisions)
    assert sum(bool(d.hindsight) for d in decisions) == 3
    statuses = Counter(d.status for d in decisions)
    assert statuses["undecided"] >= 3
    assert statuses["planned"] >= 5
    assert statuses["built"] >= 5
    assert len({d.number for d in decisions}) == len(decisions)


def test_what_is_open_says_who_decides_and_by_when_and_what_is_closed_says_why() -> None:
    for decision in demo().decisions:
        assert len(decision.options) >= 2, decision.id
        assert decision.by, decision.id
        if decision.status == "undecided":
            assert decision.due is not None, decision.id
            assert decision.choice is None, decision.id
            assert not decision.reason, decision.id
        else:
            assert decision.reason, decision.id
            assert decision.on is not None, decision.id
            assert decision.approved_on is not None, decision.id
            assert decision.on <= decision.approved_on, decision.id
            others = [option for option in decision.options if option.id != decision.choice]
            assert all(option.why_not for option in others), decision.id


def test_one_need_and_one_decision_are_left_loose_on_purpose() -> None:
    project = demo()
    answered = {need for decision in project.decisions for need in decision.needs}
    assert [need.id for need in project.brief.needs if need.id not in answered] == ["pastry"]
    assert [decision.id for decision in project.decisions if not decision.needs] == ["study-colour"]
    assert [need.number for need in project.brief.needs] == list(range(1, 15))


def test_it_feeds_fourteen_and_sleeps_five() -> None:
    project = demo()
    assert project.household.count == 5
    assert project.household.largest_gathering == 14
    table = project.thing("dining-table")
    assert sum(row.count for row in table.seating) == 14  # type: ignore[attr-defined]
    assert sum(getattr(thing, "at", None) == "dining-table" for thing in project.things) == 14
    assert sum(getattr(thing, "at", None) == "island" for thing in project.things) == 4


def test_some_of_the_house_is_kept_some_removed_some_new_and_some_only_assumed() -> None:
    project = demo()
    for records in (project.things, project.openings, [wall for space in project.spaces for wall in space.walls]):
        assert {record.state for record in records} == {"kept", "removed", "new"}
    assumed = [t.id for t in project.things if t.basis == "assumed" or "assumed" in t.bases.values()]
    assert len(assumed) >= 8
    assert {t.basis for t in project.things} == {"measured", "data sheet", "assumed"}


def test_enough_pieces_are_ordered() -> None:
    """Each product that is bought by the piece is bought as often as it stands in the house."""
    project = demo()
    used = Counter(thing.product for thing in project.things if thing.product and thing.state != "removed")
    assert set(used) == {product.id for product in project.products}
    for product in project.products:
        assert product.purchase.quantity == used[product.id], product.id
        assert product.purchase.lead_time_days, product.id
        assert product.purchase.order_by is not None, product.id


def _texts(value: Any) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for inner in value.values():
            yield from _texts(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from _texts(inner)


def test_it_names_no_maker_and_nobody_who_exists() -> None:
    project = demo()
    makers = {p.maker for p in project.products} | {f.maker for f in project.finishes} - {""}
    assert makers
    assert all(re.fullmatch(r"maker [A-Z]", maker) for maker in makers)
    known = INVENTED | CALENDAR | {"The", "Long", "Shed", "Lane", "Studio", "Lantern", "Lath", "Daughter", "Brothers"}
    for text in _texts(project.model_dump(mode="json")):
        assert not re.search(r"https?:|www\.|@|\.(com|org|net)\b|[®™]", text), text
        # A capital inside a sentence is a name; single letters stand for shapes and makers.
        names = re.findall(r"(?<=[a-z,;] )[A-Z][\w’']+", text)
        assert set(names) <= known, text


def test_the_public_hears_no_names() -> None:
    told = project_text(for_audience(demo(), "public"))
    for name in ("Odalys", "Bram", "Merrowby", "Hesper", "Slackwater"):
        assert name not in told


def test_the_file_is_written_as_the_program_writes_it() -> None:
    assert (demo_folder() / "project.json").read_text(encoding="utf-8") == project_text(demo())


def test_pictures_are_small_and_described() -> None:
    project = demo()
    assert len(project.photographs) == 3
    assert {path.name for path in (demo_folder() / "photos").iterdir()} == {p.file for p in project.photographs}
    for photograph in project.photographs:
        path = demo_folder() / "photos" / photograph.file
        assert path.stat().st_size < 60_000
        assert photograph.caption
        assert len(photograph.alternative) > 40
        with Image.open(path) as picture:
            assert picture.size == (960, 640)


def test_saved_elsewhere_it_is_a_project_like_any_other(tmp_path: Path) -> None:
    project = demo()
    assert project._loaded is None
    save(project, tmp_path / "house")
    again = load(tmp_path / "house")
    assert again == project == demo()
    assert {path.name for path in (tmp_path / "house" / "photos").iterdir()} == {p.file for p in again.photographs}
    save(project, tmp_path / "house")  # it is known there now
    assert project.folder == (tmp_path / "house").resolve()
    assert demo()._loaded is None  # what one copy did, the next does not know


def test_a_changed_copy_brings_its_pictures_along(tmp_path: Path) -> None:
    project = demo()
    changed = project.with_records(things=[thing for thing in project.things if thing.id != "oars"])
    save(changed, tmp_path / "changed")
    assert load(tmp_path / "changed") == changed
    save(changed, tmp_path / "third")  # from where it lies now, not from the package
    assert load(tmp_path / "third") == changed


def test_saving_it_elsewhere_leaves_the_shipped_folder_alone(tmp_path: Path) -> None:
    before = sorted((path.name, path.stat().st_mtime_ns) for path in demo_folder().rglob("*"))
    save(demo(), tmp_path / "house")
    assert sorted((path.name, path.stat().st_mtime_ns) for path in demo_folder().rglob("*")) == before


def test_it_loads_fast() -> None:
    start = time.process_time()
    module._shipped.__wrapped__()
    assert time.process_time() - start < 1.0
    assert isinstance(demo(), Project)


def test_findings_that_it_names_are_found_and_answers_hold() -> None:
    project = demo()
    found = {finding.id: finding for finding in check(project)}
    named = {name for decision in project.decisions for name in decision.findings}
    assert len(named) >= 6
    assert sorted(named - set(found)) == []
    assert Counter(answer.kind for answer in project.answers) == {"accepted": 2, "to mend": 1, "not relevant here": 1}
    for answer in project.answers:
        finding = found[answer.finding]
        assert finding.verdict == "falls short", answer.id
        assert finding.measured is not None, answer.id
        assert answer.unit == finding.measured.unit, answer.id
        assert answer.measured == pytest.approx(finding.measured.value, abs=0.5), answer.id
        assert standing_of(answer, finding) is Standing.HOLDS, answer.id


def test_some_guidelines_are_met_and_some_fall_short_on_purpose() -> None:
    # The figures are those of the drawing: an aisle of 41 in where two cooks are asked 48, 19 1/2 in between
    # the dishwasher and the counter at a right angle where 21 are asked, 20 in a person on the bay bench.
    found = {finding.id: finding for finding in check(demo())}
    for name, inches_measured in (
        ("K6:two-cooks:counter-range-right+island", 41.0),
        ("K13b::dishwasher+counter-range-left", 19.5),
        ("K9:seat-width:bay-table+bench", 20.0),
    ):
        measured = found[name].measured
        assert measured is not None, name
        assert measured.value == pytest.approx(inches(inches_measured), abs=0.01), name
        assert found[name].verdict == "falls short", name
    verdicts = Counter(finding.verdict for finding in found.values())
    assert verdicts["met"] > verdicts["falls short"] >= 8
    assert verdicts["not assessed"] >= 5
    missing = [finding.id for finding in found.values() if finding.because == "missing fact"]
    assert missing, "some facts are left open, so that something is to be asked"
