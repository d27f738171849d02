"""The demo house holds what it promises, and what stands in it could stand there."""

from __future__ import annotations

import re
import time
from collections import Counter, deque
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
import shapely
from PIL import Image

from enfilade.checks.view import House
from enfilade.lengths import inches
from enfilade.project import demo as module
from enfilade.project.audience import for_audience
from enfilade.project.demo import demo, demo_folder
from enfilade.project.project import Project
from enfilade.project.standing import Stand
from enfilade.project.store import load, save
from enfilade.project.writing import project_text

SPACES = ["entry", "washroom", "dining", "kitchen", "bay", "scullery", "hearth", "study", "bedroom"]
RIVER_ROOMS = ["entry", "dining", "kitchen", "hearth", "bedroom"]
# The only names that its texts know: people who do not exist, and a place that is nowhere.
INVENTED = {"Odalys", "Bram", "Juniper", "Tam", "Hesper", "Merrowby", "Overmantle", "Slackwater", "Nether", "Wharf"}
CALENDAR = {"Sunday", "Sundays", "Sunday's", "Tuesday", "March", "November", "June"}


@pytest.fixture(scope="module")
def house() -> House:
    return House(demo())


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
    assert all(2 <= len(stop.lines) <= 4 for stop in project.script)
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


def test_one_can_walk_from_the_front_door_to_every_space(house: House) -> None:
    (front_door,) = [door for door in house.doorways["entry"] if door.opening is not None and door.opening.entry]
    assert front_door.passage
    reached, ahead = {"entry"}, deque(["entry"])
    while ahead:
        for door in house.doorways[ahead.popleft()]:
            if door.passage and door.beyond is not None and door.beyond not in reached:
                reached.add(door.beyond)
                ahead.append(door.beyond)
    assert reached == set(SPACES)


def test_the_doors_of_the_river_rooms_line_up(house: House) -> None:
    seen = []
    for near, far in pairwise(RIVER_ROOMS):
        (door,) = [door for door in house.doorways[near] if door.passage and door.beyond == far]
        seen.append(sorted(point[1] for point in (door.segment.a, door.segment.b)))
    front = next(door for door in house.doorways["entry"] if door.id == "front-door")
    seen.append(sorted(point[1] for point in (front.segment.a, front.segment.b)))
    left = max(low for low, _ in seen)
    right = min(high for _, high in seen)
    # One looks through all five doors over the whole width of the narrowest, which is 36 in.
    assert right - left == pytest.approx(inches(36))
    # and nothing that stands as high as an eye is in the way
    view = shapely.box(0, left, max(x for x, _ in demo().space("bedroom").outline), right)
    in_the_way = [
        stand.id
        for stand in house.standing.values()
        if stand.thing.bottom_mm < 1500 < stand.thing.top_mm
        and stand.thing.space != "bedroom"
        and stand.box.polygon.intersection(view).area > 1.0
    ]
    assert in_the_way == []


def test_both_sides_of_an_opening_face_each_other_across_a_wall(house: House) -> None:
    thicknesses = []
    for space, doors in house.doorways.items():
        for door in doors:
            if door.opening is None or door.beyond is None or door.opening.wall != door.wall:
                continue
            (far,) = [d for d in house.doorways[door.beyond] if d.id == door.id]
            assert door.segment.length_mm == pytest.approx(far.segment.length_mm), (space, door.id)
            near_middle, far_middle = door.segment.midpoint, far.segment.midpoint
            thicknesses.append(shapely.Point(near_middle).distance(shapely.Point(far_middle)))
    assert len(thicknesses) == 7
    assert all(thickness == pytest.approx(inches(5)) for thickness in thicknesses)


def _related(a: Stand, b: Stand) -> bool:
    """Tell whether two things may share a place: one set in the other, a basin in its cabinet, what stands on a rug."""
    if getattr(a.thing.place, "host", None) == b.id or getattr(b.thing.place, "host", None) == a.id:
        return True
    kinds = {a.thing.kind, b.thing.kind}
    return kinds == {"sink", "base cabinet"} or "rug" in kinds


def test_no_two_solid_things_share_a_place(house: House) -> None:
    stands = list(house.standing.values())
    shapes = [stand.box.polygon for stand in stands]
    first, second = shapely.STRtree(shapes).query(shapes, predicate="intersects")
    clashes = []
    for i, j in zip(first.tolist(), second.tolist(), strict=True):
        a, b = stands[i], stands[j]
        high = min(a.thing.top_mm, b.thing.top_mm) - max(a.thing.bottom_mm, b.thing.bottom_mm)
        if i < j and high > 1.0 and not _related(a, b) and shapes[i].intersection(shapes[j]).area > 100.0:
            clashes.append((a.id, b.id))
    assert clashes == []


def test_everything_stands_inside_its_room_below_its_ceiling(house: House) -> None:
    for space in demo().spaces:
        # Bay bench and window stools may touch a face; a millimetre is for rounding.
        floor = shapely.Polygon(space.outline).buffer(1.0, join_style="mitre")
        for stand in house.by_space[space.id]:
            outside = stand.box.polygon.difference(floor).area
            assert outside < 100.0, (stand.id, outside)
            assert stand.thing.top_mm <= (space.ceiling_mm or 0.0), stand.id


def test_sizes_are_whole_sixteenths_of_an_inch() -> None:
    for thing in demo().things:
        for size in (thing.width_mm, thing.depth_mm, thing.bottom_mm, thing.top_mm):
            sixteenths = size / 25.4 * 16
            assert sixteenths == pytest.approx(round(sixteenths), abs=1e-3), (thing.id, size)


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
    known = INVENTED | CALENDAR | {"The", "Long", "Shed", "Lane", "Studio", "Lantern", "Lath"}
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
