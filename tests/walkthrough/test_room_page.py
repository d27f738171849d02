"""One room's page: its drawings and its text tell the same finding by the same number."""

from __future__ import annotations

import xml.etree.ElementTree as ET

import enfilade as ef
from enfilade.checks.run import check, project_yardstick
from enfilade.walkthrough.compose import compose, telling_of
from enfilade.walkthrough.pages import RoomPage

_SVG = "{http://www.w3.org/2000/svg}"


def _marks(svg: str) -> set[tuple[str, int]]:
    """Return the findings marked on a drawing, each with its number."""
    found = set()
    for group in ET.fromstring(svg).iter(f"{_SVG}g"):
        texts = [node.text or "" for node in group.findall(f"{_SVG}text")]
        if group.get("data-role") == "finding" and len(texts) == 1 and texts[0].isdigit():
            found.add((group.get("data-subject") or "", int(texts[0])))
    return found


def _kitchen() -> RoomPage:
    project = ef.demo()
    rules = project_yardstick(project)
    told = compose(telling_of(project, check(project, yardstick=rules), rules))
    return next(room for room in told.rooms if room.id == "kitchen")


def test_plan_elevations_and_text_share_their_numbers() -> None:
    page = _kitchen()
    drawn = _marks(page.plan.svg)
    on_walls = set().union(*(_marks(one.svg) for one in page.elevations))
    assert drawn
    assert on_walls
    told = {(part.id, part.number) for part in page.short if part.number}
    assert drawn | on_walls == told
    assert len({id for id, _ in told}) == len({number for _, number in told}) == len(told)
