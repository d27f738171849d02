"""How long the draft, its times and the route take; nothing is asserted about time.

Run on demand: `python -m pytest tests/benchmarks/test_speaking.py --benchmark-only`. Ten demo houses stand side by
side, and no door joins them; the houses of 11 and of 30 rooms have doors between neighbours.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from itertools import count, pairwise
from typing import Any

import pytest

import enfilade as ef
from benchmarks.big_houses import big_house
from building import door, free, house, room, thing
from enfilade.checks.run import check
from enfilade.checks.view import House
from enfilade.findings import Finding
from enfilade.project.project import Project
from enfilade.standards.yardsticks import yardstick
from enfilade.walkthrough import route, walking
from enfilade.walkthrough.compose import telling_of
from enfilade.walkthrough.drafting import drafted
from enfilade.walkthrough.order import room_order
from enfilade.walkthrough.spoken import spoken


@cache
def row(rooms: int) -> Project:
    """Rooms in rows of six, with doors between neighbours and a table in each."""
    ids = [f"r{n}" for n in range(rooms)]
    spaces = [room(150, 150, id=id, at=(n % 6 * 155, n // 6 * 155)) for n, id in enumerate(ids)]
    openings = [
        door(f"e{n}", f"{a}-east", 30 + n % 5 * 15, beyond=f"{b}-west")
        for n, (a, b) in enumerate(pairwise(ids))
        if (n + 1) % 6
    ]
    openings += [door(f"n{n}", f"{ids[n]}-north", 60, beyond=f"{ids[n + 6]}-south") for n in range(rooms - 6)]
    things = [
        thing("table", f"t{n}", 50, 50, free(n % 6 * 155 + 75, n // 6 * 155 + 75), space=id) for n, id in enumerate(ids)
    ]
    return house(things, spaces=spaces, openings=openings)


@cache
def findings(copies: int) -> tuple[Finding, ...]:
    return tuple(check(demo(copies)))


def demo(copies: int) -> Project:
    return ef.demo() if copies == 1 else big_house(copies)


def forget() -> None:
    walking._room.cache_clear()
    route._ordered.cache_clear()


def route_anew(project: Project) -> Callable[[], Any]:
    def call() -> Any:
        forget()
        return route.best_route(House(project))

    return call


def route_after_a_change(project: Project) -> Callable[[], Any]:
    """What a page without a script asks when one thing was moved."""
    at = next(n for n, one in enumerate(project.things) if one.place.how == "free")
    silent, steps = project.model_copy(update={"script": ()}), count(1)

    def call() -> Any:
        things = list(silent.things)
        place = things[at].place.model_copy(update={"turn_deg": float(next(steps) % 300)})
        things[at] = things[at].model_copy(update={"place": place})
        return room_order(House(silent.model_copy(update={"things": tuple(things)})))

    return call


def draft_anew(copies: int) -> Callable[[], Any]:
    project, found = demo(copies).model_copy(update={"script": ()}), findings(copies)
    return lambda: drafted(project, found)


def draft_again(copies: int) -> Callable[[], Any]:
    once, found = drafted(demo(copies), findings(copies)), findings(copies)
    return lambda: drafted(once, found)


def times(copies: int) -> Callable[[], Any]:
    whole = drafted(demo(copies).model_copy(update={"script": ()}), findings(copies))
    telling = telling_of(whole, findings(copies), yardstick("us"))
    return lambda: spoken(telling)


CALLS: dict[str, Callable[[], Callable[[], Any]]] = {
    "route of the demo house, 9 rooms": lambda: route_anew(ef.demo()),
    "route of 11 rooms": lambda: route_anew(row(11)),
    "route of 30 rooms": lambda: route_anew(row(30)),
    "order of 9 rooms, one thing moved": lambda: route_after_a_change(ef.demo()),
    "order of 30 rooms, one thing moved": lambda: route_after_a_change(row(30)),
    "draft of the demo house": lambda: draft_anew(1),
    "draft of ten": lambda: draft_anew(10),
    "drafted again": lambda: draft_again(1),
    "times of the drafted demo house": lambda: times(1),
    "times of ten": lambda: times(10),
}


@pytest.mark.parametrize("name", CALLS)
def test_timed(benchmark: Any, name: str) -> None:
    benchmark.group = "speaking"
    benchmark.pedantic(CALLS[name](), rounds=5, warmup_rounds=1)


@pytest.mark.parametrize("name", [name for name in CALLS if "ten" not in name])
def test_it_runs(name: str) -> None:
    assert CALLS[name]()()
