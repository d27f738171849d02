"""Which findings come first, and in which order the rooms are walked."""

from __future__ import annotations

from building import door, house, room
from enfilade.checks.view import House
from enfilade.findings import Finding, Level, Requirement
from enfilade.quantities import Quantity
from enfilade.sources import Source
from enfilade.walkthrough.order import room_order
from enfilade.walkthrough.ranking import by_urgency, worth_mending

SOURCE = Source("Rules", "", "", "", "own choice")


def short(rule: str, level: Level, missing: float, *, subject: str = "a", caution: str = "") -> Finding:
    """A finding that lacks `missing` of 10."""
    return Finding(
        f"{rule}:x:{subject}-{missing}", rule, rule, level, "kitchen", (subject,), SOURCE,
        measured=Quantity(10 - missing, "count"), required=Requirement("at least", 10, "count"), caution=caution,
    )  # fmt: skip


def test_code_comes_before_access_before_recommendation_before_practice() -> None:
    found = [short("P", "practice", 9), short("R", "recommended", 5), short("A", "access", 1), short("C", "code", 1)]
    assert [finding.rule for finding in by_urgency(found)] == ["C", "A", "R", "P"]


def test_a_hazard_and_a_larger_lack_come_first_within_a_level() -> None:
    found = [
        short("small", "recommended", 1),
        short("large", "recommended", 5),
        short("hazard", "recommended", 2, caution="!"),
    ]
    assert [finding.rule for finding in by_urgency(found)] == ["hazard", "large", "small"]


def test_five_lines_say_five_things() -> None:
    found = [short("K", "recommended", n) for n in (1, 2, 3)] + [short(f"R{n}", "recommended", 1) for n in range(9)]
    chosen = worth_mending(found)
    assert len(chosen) == 5
    assert len({finding.rule for finding in chosen}) == 5
    assert worth_mending([]) == []


def test_rooms_are_walked_from_the_way_in_through_doors() -> None:
    spaces = [
        room(100, 100, id="far", use="bedroom", at=(210, 0)),
        room(100, 100, id="middle", use="dining", at=(105, 0)),
        room(100, 100, id="first", use="entry", at=(0, 0)),
        room(100, 100, id="apart", use="garage", at=(0, 300)),
    ]
    openings = [
        door("in", "first-west", 20, beyond="none", entry=True),
        door("a", "first-east", 20, beyond="middle-west"),
        door("b", "middle-east", 20, beyond="far-west"),
    ]
    assert room_order(House(house(spaces=spaces, openings=openings))) == ["first", "middle", "far", "apart"]


def test_a_house_without_rooms_has_no_order() -> None:
    assert room_order(House(house(spaces=[]))) == []
