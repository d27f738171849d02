"""How long the planning of shots takes, and that it grows no faster than the script."""

from __future__ import annotations

import time
from typing import Any

import pytest

import enfilade as ef
from building import free, house, on_wall, room, thing
from enfilade.checks.run import project_yardstick
from enfilade.drawings.solids import house_solids
from enfilade.project.project import Project
from enfilade.walkthrough.compose import telling_of
from enfilade.walkthrough.film import film
from enfilade.walkthrough.filming.lines import script_lines
from enfilade.walkthrough.filming.planner import Planner
from enfilade.walkthrough.telling import Telling


def told(project: Project) -> Telling:
    return telling_of(project, (), project_yardstick(project, None), audience="studio")


def planner_of(telling: Telling) -> Planner:
    from enfilade.walkthrough.film import names_of_things

    return Planner(telling.project, house_solids(telling.house), names_of_things(telling))


def planned(telling: Telling) -> int:
    planner = planner_of(telling)
    return sum(planner.plan(at).setup is not None for at in script_lines(telling.project))


@pytest.mark.benchmark(group="film")
def test_planning_the_demo_house(benchmark: Any) -> None:
    telling = told(ef.demo())
    assert benchmark.pedantic(planned, (telling,), rounds=3) >= 25


@pytest.mark.benchmark(group="film")
def test_filming_the_demo_house_with_its_pictures(benchmark: Any) -> None:
    telling = told(ef.demo())
    assert len(benchmark.pedantic(film, (telling,), rounds=2).plans) == 9


def many(count: int) -> Telling:
    """Return a house of one room a five shots, each of a subject of its own."""
    spaces, things, script = [], [], []
    for n in range(count // 5):
        name = f"room-{n}"
        spaces.append(room(200, 160, id=name, use="living", at=(n * 210, 0)))
        things += [
            thing("base cabinet", f"chest-{n}-{i}", 24 + i, 20, on_wall(f"{name}-north", 10 + 40 * i), space=name)
            for i in range(4)
        ]
        things.append(thing("table", f"table-{n}", 40, 30, free(n * 210 + 100, 70), space=name))
        ids = [*(f"chest-{n}-{i}" for i in range(4)), f"table-{n}"]
        lines = [{"id": f"l{i}", "text": "Said.", "things": [id]} for i, id in enumerate(ids)]
        script.append({"id": f"at-{name}", "space": name, "lines": lines})
    return told(house(things, spaces=spaces, script=script))


def test_a_hundred_shots_take_no_more_than_their_share() -> None:
    times = {}
    for count in (20, 100):
        telling = many(count)
        planned(telling)  # what is remembered by the libraries is warm
        least = min(_timed(telling) for _ in range(2))
        times[count] = least
    # Five times the shots in five times the rooms: twice their share leaves room for a busy machine.
    assert times[100] < 10 * times[20]


def _timed(telling: Telling) -> float:
    start = time.process_time()
    assert planned(telling) == sum(len(stop.lines) for stop in telling.project.script)
    return time.process_time() - start
