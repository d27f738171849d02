"""What each audience reads in the documents: all that is meant for it, and nothing else, however deep one looks."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Mapping
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from documents.belongs import BELONGS, FILES, NOWHERE
from documents.planting import (
    KEPT_BACK,
    WORD,
    Place,
    field_of,
    filled,
    full_house,
    otherwise,
    plant,
    private_fields,
    saved,
    text_fields,
    visible,
)
from documents.reading import Reading, read_folder
from enfilade.export.former import RECORD
from enfilade.export.forms import FORMS, written
from enfilade.export.tell import tell, told
from enfilade.project.fields import AUDIENCES, Audience, Record
from enfilade.project.project import Project
from enfilade.project.things import KINDS


@pytest.fixture(scope="module")
def planted(tmp_path_factory: pytest.TempPathFactory) -> tuple[Project, dict[str, Place]]:
    """The full house with a secret in every field that takes words, in a folder of its own."""
    project, at = plant(full_house())
    return saved(project, tmp_path_factory.mktemp("house")), at


@pytest.fixture(scope="module")
def documents(
    planted: tuple[Project, dict[str, Place]], tmp_path_factory: pytest.TempPathFactory
) -> dict[Audience, dict[str, Reading]]:
    """Every form for every audience, read through."""
    told_to: dict[Audience, dict[str, Reading]] = {}
    for audience in AUDIENCES:
        folder = tmp_path_factory.mktemp("told")
        tell(planted[0], ["all"], audience, folder)
        told_to[audience] = read_folder(folder)
    return told_to


def declared_at(project: Project, place: Place) -> str:
    """Return the field at a place, by the record in which it was declared."""
    owner: Any = project
    for step in place[:-1]:
        owner = owner[step] if isinstance(step, int) else getattr(owner, step)
    return field_of(type(owner), str(place[-1]))


def test_the_house_holds_a_secret_in_every_field_of_the_schema(planted: tuple[Project, dict[str, Place]]) -> None:
    project, at = planted
    fields = {declared_at(project, place) for place in at.values()}
    # A field that is added later is planted too, or this fails: give it a value in `full_house`.
    assert text_fields() - fields == set()
    assert fields - text_fields() == set()
    assert len(fields) > 55
    assert len(at) > 300
    assert {thing.kind for thing in project.things} == set(KINDS)


def test_the_house_fills_every_field_that_somebody_may_not_see() -> None:
    assert private_fields().keys() - set(filled(full_house())) == set()
    assert len(private_fields()) > 90


def test_the_table_of_documents_covers_every_field() -> None:
    assert text_fields() - BELONGS.keys() - NOWHERE.keys() == set()
    assert (BELONGS.keys() | NOWHERE.keys()) - text_fields() == set()
    assert not BELONGS.keys() & NOWHERE.keys()
    assert all(files and files <= FILES for files in BELONGS.values())
    assert {"Project.yardstick": KEPT_BACK["Project.yardstick"]} == KEPT_BACK


@pytest.mark.parametrize("audience", AUDIENCES)
def test_all_forms_are_written(documents: dict[Audience, dict[str, Reading]], audience: Audience) -> None:
    unheard = {"service.ics"} if audience in ("public", "student") else set()
    assert documents[audience].keys() - {RECORD} == FILES - unheard


@pytest.mark.parametrize("audience", AUDIENCES)
def test_no_document_holds_a_secret_that_is_not_meant_for_its_audience(
    planted: tuple[Project, dict[str, Place]], documents: dict[Audience, dict[str, Reading]], audience: Audience
) -> None:
    project, at = planted
    may = set(visible(project, audience))
    leaked = [
        (name, ".".join(map(str, at[word])), reading.where(word)[:5])
        for name, reading in documents[audience].items()
        for word in sorted(reading.matches(WORD))
        if at[word] not in may
    ]
    assert leaked == []
    hidden = set(at.values()) - may
    assert len(hidden) == 0 if audience == "studio" else len(hidden) > 50


@pytest.mark.parametrize("audience", AUDIENCES)
def test_what_an_audience_may_see_stands_where_it_belongs(
    planted: tuple[Project, dict[str, Place]], documents: dict[Audience, dict[str, Reading]], audience: Audience
) -> None:
    project, at = planted
    may = set(visible(project, audience))
    found = {name: reading.matches(WORD) for name, reading in documents[audience].items()}
    missing = [
        (declared_at(project, place), ".".join(map(str, place)), name)
        for word, place in at.items()
        if place in may and not _said_nowhere(project, place, audience)
        for name in BELONGS.get(declared_at(project, place), ())
        if name in found and word not in found[name]
    ]
    assert missing == []


def _said_nowhere(project: Project, place: Place, audience: Audience) -> bool:
    """Tell whether a single value has nothing to say, though its field has."""
    owner: Any = project
    for step in place[:-1]:
        owner = owner[step] if isinstance(step, int) else getattr(owner, step)
    if place[0] == "decisions" and place[-1] == "why_not":
        return project.decisions[int(place[1])].chosen is owner  # the option that was taken
    if place == ("client", "names"):
        return audience == "studio"  # the studio's own documents are headed `For the studio`
    if place[0] == "photographs":
        return owner.scan is not None  # a plan to draw over, and no picture of the house
    if place[-1] == "trade" and place[:2] == ("show", "trades"):
        return audience in ("public", "student") and not owner.may_be_credited  # nobody to be thanked by name
    return False


@pytest.mark.parametrize("audience", AUDIENCES)
def test_nothing_of_the_camera_and_of_the_machine_is_carried_along(
    documents: dict[Audience, dict[str, Reading]], planted: tuple[Project, dict[str, Place]], audience: Audience
) -> None:
    folder = str(planted[0].folder)
    for name, reading in documents[audience].items():
        for words in ("qqcamera", folder, "site-packages", "toolkit/enfilade"):
            assert not reading.holds(words), (name, words, reading.where(words)[:3])


# What may not be seen has no effect either


@cache
def _base() -> tuple[Project, dict[str, Place]]:
    return plant(full_house())


def all_files(project: Project, audience: Audience, folder: Path) -> dict[str, bytes]:
    document = told(saved(project, folder), audience)
    return {name: data for form in FORMS.values() for name, data in written(form, document)}


@pytest.mark.parametrize("audience", ["client", "public", "student"])
def test_what_an_audience_may_not_see_changes_no_byte(tmp_path: Path, audience: Audience) -> None:
    """Prices, days, counts, who cooks and who comes: all that is hidden is put otherwise, also what is no text."""
    project, _ = _base()
    changed = otherwise(project, audience)
    places = set(_differing(project, changed))
    expected = {field for field, audiences in private_fields().items() if audience not in audiences}
    assert len(places & expected) > (10 if audience == "client" else 20)
    one, other = all_files(project, audience, tmp_path / "a"), all_files(changed, audience, tmp_path / "b")
    assert one.keys() == other.keys()
    assert [name for name in one if one[name] != other[name]] == []


def _differing(one: Any, other: Any) -> Iterator[str]:
    for name in type(one).model_fields:
        before, after = getattr(one, name), getattr(other, name)
        if before != after:
            yield field_of(type(one), name)
        for inner, changed in zip(
            *(value if isinstance(value, tuple) else (value,) for value in (before, after)), strict=True
        ):
            if isinstance(inner, Record):
                yield from _differing(inner, changed)


# Figures that are private, as they are written


FIGURES: Mapping[str, tuple[str, ...]] = {
    "Purchase.allowance": ("7431.17", "7,431.17"),
    "Purchase.quote": ("8642.29", "8,642.29"),
    "Purchase.ordered_price": ("9753.41", "9,753.41"),
    "Option.cost": ("6317.53", "6,317.53"),
    "Purchase.needed_on_site": ("2087-03-19", "19 March 2087", "March 19, 2087", "20870319"),
    "Product.warranty_until": ("2088-05-23", "23 May 2088", "20880523"),
    "Decision.on": ("2085-01-13", "13 January 2085"),
    "Decision.due": ("2085-02-17", "17 February 2085"),
    "Decision.approved_on": ("2085-04-11", "11 April 2085"),
    "OpenPoint.found_on": ("2084-06-07", "7 June 2084"),
    "OpenPoint.due": ("2084-08-09", "9 August 2084"),
    "OpenPoint.closed_on": ("2084-09-11", "11 September 2084"),
    "Service.first_on": ("2086-07-29", "29 July 2086", "20860729"),
    "Answer.on": ("2081-12-05", "5 December 2081"),
    "Photograph.taken_on": ("2083-10-21", "21 October 2083"),
}
"""Private figures of the full house, each as a document might write it; those that could stand in a drawing by chance
are held by `test_what_an_audience_may_not_see_changes_no_byte`."""


@pytest.mark.parametrize("audience", AUDIENCES)
def test_private_figures_are_written_for_those_alone_who_may_know_them(
    documents: dict[Audience, dict[str, Reading]], audience: Audience
) -> None:
    declared = private_fields()
    leaked = [
        (field, form, name)
        for field, forms in FIGURES.items()
        if audience not in declared[field]
        for form in forms
        for name, reading in documents[audience].items()
        if form.lower() in reading.text
    ]
    assert leaked == []
    told_fields = {
        field
        for field, forms in FIGURES.items()
        if any(form.lower() in reading.text for form in forms for reading in documents[audience].values())
    }
    if audience in ("client", "studio"):
        assert FIGURES.keys() - told_fields == {"Photograph.taken_on"}


def test_days_of_a_workbook_are_as_private_as_days_in_words(documents: dict[Audience, dict[str, Reading]]) -> None:
    """A workbook counts days from 1899-12-30 (ECMA-376 part 1, 18.17.4.1)."""
    for field, day in (
        ("Purchase.needed_on_site", dt.date(2087, 3, 19)),
        ("Product.warranty_until", dt.date(2088, 5, 23)),
    ):
        number = str((day - dt.date(1899, 12, 30)).days)
        for audience in AUDIENCES:
            sheets = "\n".join(
                text for where, text in documents[audience]["schedules.xlsx"].pieces if "/sheet" in where
            )
            assert (f"<v>{number}</v>" in sheets or day.isoformat() in sheets) == (audience in ("client", "studio")), (
                field
            )
