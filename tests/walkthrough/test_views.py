"""Perspectives on a room's page."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from typing import Any

import pytest
from hypothesis import given, settings

from building import free, house, room, thing
from enfilade.project.fields import Audience
from enfilade.project.project import Project
from enfilade.walkthrough.compose import telling_of
from enfilade.walkthrough.telling import Telling
from enfilade.walkthrough.views import views
from laws.houses import houses

_VIEW = {"id": "v", "title": "", "eye": {"x_mm": 500, "y_mm": 500, "height_mm": 1500}, "toward": [2500, 2500]}


def _telling(project: Project, audience: Audience = "client") -> Telling:
    return telling_of(project, (), None, audience=audience)  # type: ignore[arg-type]


def _kitchen(**more: Any) -> Project:
    space = {**room(144, 144), **more}
    return house([thing("island", "island", 60, 36, free(72, 72))], spaces=[space])


def test_a_room_without_a_recorded_view_gets_one_from_where_a_person_stands() -> None:
    (drawing,) = views(_telling(_kitchen()), "kitchen")
    # Told once, to the inch: 1581 mm is 62.24 in.
    assert drawing.title.startswith("Kitchen, seen ")
    assert "5' 2\" above the floor" in drawing.title
    assert drawing.title.count("Kitchen") == 1
    assert "sees" not in drawing.title
    assert "island" in drawing.svg


def test_an_empty_room_gets_none() -> None:
    assert views(_telling(house()), "kitchen") == ()


def test_recorded_views_are_all_drawn_in_their_order() -> None:
    project = _kitchen(views=[{**_VIEW, "title": "One"}, {**_VIEW, "id": "w", "title": "Two", "width_deg": 100}])
    first, second = views(_telling(project), "kitchen")
    assert first.title.startswith("One. Seen ")
    assert "Kitchen" not in first.title
    assert second.title.startswith("Two.")
    assert first.svg != second.svg


def test_a_view_from_another_room_says_from_which() -> None:
    rooms = [
        room(144, 144),
        {**room(144, 144, id="hall", at=(200, 0)), "views": [{**_VIEW, "title": "Hall, as a person sees it"}]},
    ]
    (drawing,) = views(_telling(house(spaces=rooms)), "hall")
    assert drawing.title.startswith("Hall, seen from Kitchen, ")


def test_a_recorded_view_of_an_empty_room_is_drawn() -> None:
    assert len(views(_telling(house(spaces=[{**room(144, 144), "views": [_VIEW]}])), "kitchen")) == 1


@pytest.mark.parametrize("eye", [(500, 500), (-9000, 0)])
def test_an_eye_that_aims_at_itself_or_stands_outside_is_drawn(eye: tuple[int, int]) -> None:
    view = {**_VIEW, "eye": {"x_mm": eye[0], "y_mm": eye[1], "height_mm": 1500}, "toward": list(eye)}
    (drawing,) = views(_telling(_kitchen(views=[view])), "kitchen")
    assert drawing.svg.startswith("<svg")
    assert ("outside the rooms" in drawing.title) == (eye[0] < 0)


def test_names_are_raw_in_the_caption_and_escaped_in_the_picture() -> None:
    (drawing,) = views(_telling(_kitchen(name="<b>Kitchen & co</b>")), "kitchen")
    assert "<b>Kitchen & co</b>" in drawing.title
    assert "<b>" not in drawing.svg
    assert "&lt;b&gt;Kitchen &amp; co" in drawing.svg


@settings(max_examples=25, deadline=None)
@given(houses())
def test_any_house_gets_its_perspectives(project: Project) -> None:
    telling = _telling(project)
    for space in project.spaces:
        for drawing in views(telling, space.id):
            assert ET.fromstring(drawing.svg).get("role") == "img"
            assert len(drawing.svg) < 120_000
