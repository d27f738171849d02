"""How long the script takes: sums, walks, the timeline of a part, and where to cut."""

from __future__ import annotations

import random
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import enfilade as ef
from building import door, house, room
from enfilade.checks.run import check
from enfilade.lengths import inches
from enfilade.project.fields import Audience
from enfilade.project.project import Project
from enfilade.standards.yardsticks import yardstick
from enfilade.walkthrough.compose import telling_of
from enfilade.walkthrough.pages import Spoken, TalkPart
from enfilade.walkthrough.spoken import spoken, timeline

ODD = ("", " ", "word", "two words", "<b>markup</b> {no field", "厨房", "🙂", "\u202eturned", "a b c d e f " * 40)


def told(project: Project, audience: Audience = "studio") -> Spoken:
    return spoken(telling_of(project, (), yardstick("us"), audience=audience))


def three_rooms(**more: Any) -> Project:
    """Three rooms in a row with doors between them, told with what is given."""
    spaces = [room(100, 100, id=id, at=(n * 105, 0)) for n, id in enumerate("abc")]
    openings = [door("d", "a-east", 32, beyond="b-west"), door("e", "b-east", 32, beyond="c-west")]
    return house(spaces=spaces, openings=openings, **more)


def lines(*texts: str, **more: Any) -> list[dict[str, Any]]:
    return [{"id": f"l{n}", "text": text, **more} for n, text in enumerate(texts)]


def invented(seed: int) -> Project:
    """A script of odd texts, pauses, parts and stops out of order; decisions of different weight told by some lines."""
    chance = random.Random(seed)

    def some(most: int) -> list[dict[str, Any]]:
        return [
            {"id": f"l{n}", "text": chance.choice(ODD), "pause_s": chance.choice((0, 0.0333, 2.5)),
             "decisions": chance.sample(decided, chance.randrange(3))}
            for n in range(chance.randrange(most + 1))
        ]  # fmt: skip

    decided = [f"d{n}" for n in range(4)]
    decisions = [
        {"id": id, "number": n + 1, "title": id, "options": [{"id": f"o{m}", "text": "x", "cost": f"{m}00"}
         for m in range(n)], "hindsight": "h" * (n % 2)}
        for n, id in enumerate(decided)
    ]  # fmt: skip
    parts = [{"id": f"p{n}", "recap": some(2)} for n in range(chance.randrange(4))]
    for part in parts:
        part["lead_in"] = [line | {"id": f"z{line['id']}"} for line in some(2)]
    stops = [
        {"id": f"s{n}", "space": chance.choice("abc"), "lines": some(5),
         "part": chance.choice([None, *(part["id"] for part in parts)])}
        for n in range(chance.randrange(7))
    ]  # fmt: skip
    speaking = {"parts": parts, "rate_wpm": chance.choice((60.0, 133.7, 300.0)), "walk_mm_s": 777.0}
    return three_rooms(script=stops, decisions=decisions, show={"speaking": speaking})


def with_target(project: Project, target_s: float | None) -> Project:
    speaking = project.show.speaking.model_copy(update={"target_s": target_s})
    return project.model_copy(update={"show": project.show.model_copy(update={"speaking": speaking})})


def ms(seconds: float) -> int:
    whole = round(seconds * 1000)
    assert seconds == whole / 1000  # times are kept to the millisecond
    return whole


def stretches(part: TalkPart) -> list[float]:
    said = [*part.recap, *(line for stop in part.stops for line in stop.lines), *part.lead_in]
    return [s for line in said for s in (line.seconds, line.pause_s)] + [stop.walk_s for stop in part.stops]


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 10**6))
def test_every_sum_is_exactly_that_of_its_parts(seed: int) -> None:
    project = invented(seed)
    whole = told(project)
    assert ms(whole.seconds) == sum(ms(part.seconds) for part in whole.parts)
    for part in whole.parts:
        assert ms(part.seconds) == sum(map(ms, stretches(part)))
        for stop in part.stops:
            assert ms(stop.seconds) == sum(ms(line.seconds) + ms(line.pause_s) for line in stop.lines)
    # Nothing is lost and nothing is said twice.
    ids = [line.id for part in whole.parts for stop in part.stops for line in stop.lines]
    assert sorted(ids) == sorted(f"{stop.id}/{line.id}" for stop in project.script for line in stop.lines)


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 10**6))
def test_the_timeline_runs_without_gaps_from_nought_to_the_end_of_its_part(seed: int) -> None:
    for part in told(invented(seed)).parts:
        timed = timeline(part)
        assert all(a.end_s == b.start_s for a, b in pairwise(timed))
        assert not timed or (timed[0].start_s, timed[-1].end_s) == (0.0, part.seconds)
        said = [*part.recap, *(line for stop in part.stops for line in stop.lines), *part.lead_in]
        assert [one.line for one in timed if one.kind == "line"] == said
        for one in timed:
            assert one.end_s >= one.start_s
            assert (one.line is None) == (one.kind == "walk")
            assert one.kind == "line" or one.end_s > one.start_s


def test_a_script_is_timed_by_hand() -> None:
    # 10 words at 150 a minute are 4 s, then 1.5 s of silence; from middle to middle of two rooms are 105 in = 2667 mm,
    # at 1000 mm a second 2.667 s; 5 words are 2 s.
    ten, five = "one two three four five six seven eight nine ten", "one two three four five"
    script = [
        {"id": "s", "space": "a", "lines": lines(ten, pause_s=1.5)},
        {"id": "t", "space": "b", "lines": lines(five)},
    ]
    whole = told(three_rooms(script=script))
    (part,) = whole.parts
    assert (part.id, part.title) == ("", "")
    first, second = part.stops
    assert (first.seconds, first.walk_s, first.way) == (5.5, 0.0, "")
    assert second.seconds == 2.0
    assert second.walk_mm == pytest.approx(inches(105), abs=15)
    assert second.walk_s == pytest.approx(2.667, abs=0.02)
    assert second.way == "From A."
    assert whole.seconds == pytest.approx(10.167, abs=0.02)
    assert [one.kind for one in timeline(part)] == ["line", "pause", "walk", "line"]


def test_a_walk_through_a_room_names_it_and_a_room_without_a_way_says_so() -> None:
    script = [{"id": id, "space": id, "lines": lines("x")} for id in ("a", "c", "apart")]
    plain = three_rooms().model_dump() | {"script": script}
    plain["spaces"] = [*plain["spaces"], room(100, 100, id="apart", at=(0, 400))]
    _, there, apart = told(Project.model_validate(plain)).parts[0].stops
    assert there.way == "From A, through B."
    assert (apart.way, apart.walk_s) == ("No way on foot was found from C.", 0.0)


def test_a_stop_without_a_part_belongs_to_that_of_the_stop_before() -> None:
    stops = [
        {"id": "s1", "space": "a", "lines": lines("x")},
        {"id": "s2", "space": "b", "part": "two", "lines": lines("x")},
        {"id": "s3", "space": "c", "lines": lines("x")},
        {"id": "s4", "space": "a", "part": "one", "lines": lines("x")},
    ]
    speaking = {"parts": [{"id": "one", "title": "First", "recap": lines("before")}, {"id": "two"}]}
    whole = told(three_rooms(script=stops, show={"speaking": speaking}))
    assert [[stop.id for stop in part.stops] for part in whole.parts] == [["s1", "s4"], ["s2", "s3"]]
    assert [part.title for part in whole.parts] == ["First", ""]
    assert whole.parts[0].recap[0].id == "one/l0"
    # A part begins where it begins: nobody walks there from the part before.
    assert whole.parts[1].stops[0].walk_s == 0.0


def test_what_an_audience_may_not_hear_takes_no_time() -> None:
    script = [
        {"id": "s", "space": "a", "lines": [*lines("one two"), {"id": "m", "text": "secret", "hear": ["studio"]}]}
    ]
    project = three_rooms(script=script)
    assert told(project, "client").seconds < told(project, "studio").seconds
    assert "secret" not in repr(told(project, "client"))


def test_nothing_said_is_nothing_timed() -> None:
    empty = told(house(spaces=[]))
    assert (empty.parts, empty.seconds, empty.cuts, empty.too_long) == ((), 0.0, (), "")


# --- where to cut


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 10**6), st.floats(0.01, 1.2), st.floats(0.01, 1.0))
def test_a_shorter_target_takes_the_same_lines_and_more(seed: int, share: float, less: float) -> None:
    project = invented(seed)
    whole = told(project).seconds
    if not whole:
        return
    longer, shorter = (told(with_target(project, whole * one)) for one in (share, share * less))
    cut = [[one.line for one in some.cuts] for some in (longer, shorter)]
    assert cut[1][: len(cut[0])] == cut[0]
    for some, target in ((longer, whole * share), (shorter, whole * share * less)):
        left = ms(whole) - sum(ms(one.seconds) for one in some.cuts)
        assert (left <= int(target * 1000)) == (some.too_long == "")
        # No room falls silent that was not.
        gone = {one.line for one in some.cuts}
        rooms: dict[str, list[str]] = {}
        for stop in (stop for part in some.parts for stop in part.stops):
            rooms.setdefault(stop.space, []).extend(line.id for line in stop.lines)
        assert all(set(ids) - gone for ids in rooms.values() if ids)


def test_the_least_important_decision_goes_first() -> None:
    heavy = {"id": "heavy", "number": 1, "title": "The heavy one", "needs": ["n"], "status": "changed on site"}
    light = {"id": "light", "number": 2, "title": "The light one"}
    said = [
        {"id": "h", "text": "one two three", "decisions": ["heavy"]},
        {"id": "l", "text": "one two three", "decisions": ["light"]},
        {"id": "x", "text": "one two three"},
    ]
    brief = {"needs": [{"id": "n", "number": 1, "text": "A need."}]}
    project = three_rooms(script=[{"id": "s", "space": "a", "lines": said}], decisions=[heavy, light], brief=brief)
    project = project.model_copy(
        update={"decisions": tuple(d.model_copy(update={"status": s}) for d, s in
                                   zip(project.decisions, ("changed on site", "built"), strict=True))}
    )  # fmt: skip
    found = told(with_target(project, 0.5))
    # Then the line that tells none; the last that is left in the room is never proposed.
    assert [one.line for one in found.cuts] == ["s/l", "s/x"]
    assert found.cuts[0].why == "It tells decision 2, The light one, which answers no need of the brief."
    assert found.too_long.startswith("Without all of these it is still 1 s too long: one room keeps one line")
    assert told(with_target(project, 60.0)).cuts == ()


def test_the_demo_house_comes_down_to_five_minutes_and_not_to_two() -> None:
    project = ef.demo()
    findings = check(project)
    five, two = (spoken(telling_of(with_target(project, s), findings, yardstick("us"))) for s in (300.0, 120.0))
    left = five.seconds - sum(one.seconds for one in five.cuts)
    assert left <= 300.0 < left + five.cuts[-1].seconds
    assert not five.too_long
    assert two.seconds - sum(one.seconds for one in two.cuts) > 120.0
    assert two.too_long.startswith("Without all of these it is still ")
