"""An issue to the public that was kept before a name was known shows neither the name nor changes that are none."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

import enfilade as ef
from building import free, house, room, thing
from enfilade.checks.run import project_yardstick
from enfilade.project.audience import for_audience
from enfilade.project.fields import Audience
from enfilade.project.issues import keep_issue
from enfilade.project.project import Project
from enfilade.project.store import load, save
from enfilade.walkthrough.changes import changes
from enfilade.walkthrough.compose import telling_of

NOTHING = ("Nothing that is told here has changed.",)
MARA, BOTH = ["Mara Quill"], ["Mara Quill", "Tom Quill"]
Since = Callable[[Project, Project], tuple[str, ...]]


def known(names: list[str], story: str = "Mara sits here.", **more: Any) -> Project:
    study = room(144, 144, id="maras-room", use="study") | {"name": "Mara's room", "story": story}
    tables = [
        thing(
            "table", f"{who}-table", 20 + at, 20, free(at, at), name=f"{who.capitalize()}'s table", space="maras-room"
        )
        for who, at in (("mara", 30), ("tom", 70))
    ]
    products = [{"id": "p", "name": "tap", "maker": "maker F", "may_be_credited": True}]
    return house(tables, spaces=[study], products=products, client={"names": names}, **more)


@pytest.fixture(params=["public", "student"])
def since(request: pytest.FixtureRequest, tmp_path: Path) -> Since:
    """Keep an issue of one state for an audience, and return what has changed in another."""
    audience: Audience = request.param

    def sentences(before: Project, after: Project) -> tuple[str, ...]:
        home = tmp_path / str(len(list(tmp_path.iterdir())))
        save(before, home)
        keep_issue(for_audience(load(home), audience), audience, ["html"])
        now = after.model_copy()
        now._loaded = load(home)._loaded
        return changes(telling_of(now, [], project_yardstick(now), audience=audience)).sentences

    return sentences


def test_the_demo_house_told_twice_has_not_changed(since: Since) -> None:
    assert since(ef.demo(), ef.demo()) == NOTHING


def test_a_name_that_was_learnt_later_changes_nothing(since: Since) -> None:
    assert since(known([]), known(MARA)) == NOTHING
    assert since(known(MARA), known(BOTH)) == NOTHING


def test_what_was_written_before_is_told_without_the_name(since: Since) -> None:
    (sentence,) = since(known([]), known(MARA, "Mara sleeps here."))
    assert sentence == (
        "The client's room: story \u201cThe client sleeps here.\u201d, was \u201cThe client sits here.\u201d."
    )


def test_changed_ids_stay_with_their_records_when_others_come_and_go(since: Since) -> None:
    both, three = known(BOTH), ["Bea Quill", *BOTH]
    bea = thing("table", "bea-table", 9, 9, free(100, 30), name="low table", space="maras-room")
    tables = [bea, *(table.model_dump() for table in both.things)]
    more = Project.model_validate(known(three).model_dump() | {"things": tables})
    assert since(known(three), more) == ("The client's room: low table was added.",)
    gone = both.with_records(things=both.things[1:])
    assert since(both, gone) == ("The client's room: the client's table was taken out.",)


def test_a_project_whose_own_id_holds_the_name_is_still_the_same(since: Since) -> None:
    before = known([]).model_copy(update={"id": "quill-house"})
    after = known(MARA, "It is light.").model_copy(update={"id": "quill-house"})
    (sentence,) = since(before, after)
    assert "Quill" not in sentence
    assert "It is light." in sentence


def test_a_maker_who_may_no_longer_be_credited_is_not_named_as_what_was(since: Since) -> None:
    withdrawn = known(MARA)
    product = withdrawn.products[0].model_copy(update={"may_be_credited": False})
    assert "maker F" not in " ".join(since(known(MARA), withdrawn.with_records(products=[product])))
