"""A record without its client: no name in it, everything else in it, and a record that can be saved."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import enfilade as ef
from building import house
from documents.test_names_in_documents import NEEDLES, named_house
from enfilade.project.fields import Record
from enfilade.project.forgotten import forgotten
from enfilade.project.names import Names
from enfilade.project.project import Project
from enfilade.project.writing import project_text

_STAY = ("ardvelqe", "jossqua", "tarnovik", "inezka", "holtvarg", "pellqor", "ottqo")
"""Maker, trade, designer, and who sees to things."""


@pytest.fixture(scope="module")
def named() -> Project:
    return named_house()


def test_no_name_of_the_client_is_left_and_who_built_it_is_named(named: Project) -> None:
    text = project_text(forgotten(named)).lower()
    assert [needle for needle in NEEDLES if needle in text] == [
        needle for needle in NEEDLES if needle in _STAY and needle in project_text(named).lower()
    ]
    assert "the client" in text


def test_what_was_decided_measured_paid_and_learnt_stays(tmp_path: Path) -> None:
    demo = ef.demo()
    without = forgotten(demo)
    ef.save(without, tmp_path / "house")  # no copy for an audience
    assert ef.load(tmp_path / "house") == without
    assert without.client == type(without.client)()
    assert [person.name for person in without.household.people] == [""] * len(demo.household.people)
    assert [person.shoulder_height_mm for person in without.household.people] == [
        person.shoulder_height_mm for person in demo.household.people
    ]
    for name in ("spaces", "openings", "things"):
        before, after = getattr(demo, name), getattr(without, name)
        assert [_plain(one) for one in after] == [_plain(one) for one in before]
    assert [one.purchase for one in without.products] == [one.purchase for one in demo.products]
    assert [(one.number, one.status, one.on) for one in without.decisions] == [
        (one.number, one.status, one.on) for one in demo.decisions
    ]
    assert sum(bool(one.hindsight) for one in without.decisions) == sum(bool(one.hindsight) for one in demo.decisions)
    assert without.photographs == ()
    assert "photographs" not in project_text(without)
    assert {one.verdict for one in ef.check(without)} == {one.verdict for one in ef.check(demo)}


def _plain(record: Record) -> dict[str, object]:
    plain = record.model_dump()
    return {name: value for name, value in plain.items() if isinstance(value, int | float | bool)}


def test_a_name_that_one_state_knew_goes_out_of_another() -> None:
    knew = house([], client={"names": ["Odo Brackwater"]})
    speaks = house(
        [], brief={"text": "As Brackwater wished, and Mr. Brackwater's sister."}, client={"names": ["Ann Ost"]}
    )
    assert "Brackwater" in forgotten(speaks).brief.text
    assert forgotten(speaks, [knew]).brief.text == "As the client wished, and the client's sister."
    assert forgotten(speaks, Names.to_forget([knew, speaks])) == forgotten(speaks, [knew])


def test_ids_are_the_same_in_every_state_and_the_house_is_called_as_any() -> None:
    first = house([], id="brackwater-house", name="Brackwater House", client={"names": ["Odo Brackwater"]},
                  brief={"needs": [{"id": "odo-sink", "number": 1, "text": "a sink"}]})  # fmt: skip
    second = house([], id="brackwater-house", name="The barn",
                   brief={"needs": [{"id": "new-brackwater", "number": 2, "text": "a tap"},
                                    {"id": "odo-sink", "number": 1, "text": "a sink"}]})  # fmt: skip
    names = Names.to_forget([first, second], taken=["private-house-1"])
    a, b = forgotten(first, names), forgotten(second, names)
    assert a.id == b.id == "private-house-2"
    assert (a.name, b.name) == ("A house", "The barn")
    assert a.brief.needs[0].id == b.brief.needs[1].id
    assert len({need.id for need in b.brief.needs}) == 2


@pytest.mark.parametrize(("text", "gone", "left"), [
    ("Brackwater2, BrackwaterHouse and odobrackwater", "brackwater", "House"),
    ("brackwater_plan.jpg", "brackwater", "_plan.jpg"),
    ("the marathon of Mara, and mara-3", "mara,", "marathon"),
    ("MaraHouse", "mara", "House"),
])  # fmt: skip
def test_names_inside_longer_words(text: str, gone: str, left: str) -> None:
    said = Names.to_forget([house([], client={"names": ["Odo Brackwater", "Mara"]})]).out_of_text(text)
    assert gone not in said.lower()
    assert left in said


def test_a_text_that_grows_is_cut_to_what_its_field_holds() -> None:
    full = ("Bo " * 134)[:400]
    known = house([], client={"names": ["Bo"]}, name=full, show={"studio": {"name": full}})
    assert len(forgotten(known).show.studio.name) <= 400
    Project.model_validate(forgotten(known).model_dump())


def test_what_was_forgotten_stays_as_it_is(named: Project) -> None:
    once = forgotten(named)
    assert forgotten(once) == once
    assert named.client.names  # the record that it was made from is not touched


@settings(max_examples=40, deadline=None)
@given(
    name=st.text(st.characters(codec="utf-8", exclude_categories=("Cc", "Cs")), min_size=0, max_size=40),
    address=st.text(st.characters(codec="utf-8", exclude_categories=("Cc", "Cs")), max_size=60),
    text=st.text(st.characters(codec="utf-8", exclude_categories=("Cc", "Cs")), max_size=200),
)
def test_any_name_leaves_a_record_that_can_be_read_back(name: str, address: str, text: str) -> None:
    known = house([], client={"names": [name], "address": address, "notes": text}, brief={"text": f"{name} {text}"})
    without = forgotten(known)
    assert Project.model_validate(without.model_dump()) == without
    assert without.client == type(without.client)()
