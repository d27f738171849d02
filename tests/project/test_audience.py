"""What each audience is told: the fields that were declared for it, and no name or address in any of them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import pytest

from building import findings, house, room, thing
from building import free as at
from enfilade.findings import Finding, Mark
from enfilade.project.audience import for_audience, without_names
from enfilade.project.fields import AUDIENCES, Audience, Record
from enfilade.project.project import Project
from enfilade.project.writing import project_text
from enfilade.sources import Source
from hostile import _takes
from project_folders import good_plain, good_project

OTHERS: tuple[Audience, ...] = ("client", "public", "student")


# Secrets in every text field


def planted(record: Record, where: str, secrets: dict[str, str]) -> Record:
    """Return a copy with a word of its own in every field that takes free text; `secrets` tells where each went."""
    changed: dict[str, Any] = {}
    for name in type(record).model_fields:
        value, place = getattr(record, name), f"{where}.{name}"
        word = f"zq{len(secrets)}zq"
        if isinstance(value, Record):
            changed[name] = planted(value, place, secrets)
        elif isinstance(value, tuple) and value and isinstance(value[0], Record):
            changed[name] = tuple(planted(item, f"{place}.{i}", secrets) for i, item in enumerate(value))
        elif isinstance(value, str) and _takes(record, name, word.upper()):
            changed[name], secrets[word] = word, place
        elif (
            isinstance(value, tuple)
            and (not value or isinstance(value[0], str))
            and _takes(record, name, (word.upper(),))
        ):
            changed[name], secrets[word] = (word,), place
    return record.model_copy(update=changed)


@pytest.fixture
def secretive() -> tuple[Project, dict[str, str]]:
    secrets: dict[str, str] = {}
    full = good_project().with_records(
        answers=[{"id": "a1", "finding": "K6:aisle:top", "kind": "accepted", "reason": "r", "by": "b"}],
        things=[t.model_copy(update={"remark": "r", "note": "n"}) for t in good_project().things],
    )
    project = planted(full, "project", secrets)
    assert isinstance(project, Project)
    return project, secrets


def told_words(project: Project, secrets: dict[str, str]) -> set[str]:
    text = project_text(project)
    return {place for word, place in secrets.items() if word in text}


def declared_for(record: Record, audience: Audience, where: str = "project") -> Iterator[str]:
    """Yield the places that the records' own schema declares for an audience, walked apart from the code under test."""
    for name, schema in type(record).model_json_schema()["properties"].items():
        value, place = getattr(record, name), f"{where}.{name}"
        if "audiences" in schema and audience not in schema["audiences"]:
            continue
        if isinstance(value, Record):
            yield from declared_for(value, audience, place)
        elif isinstance(value, tuple) and value and isinstance(value[0], Record):
            for i, item in enumerate(value):
                required = type(item).model_json_schema()
                secret = [
                    field for field in required.get("required", ())
                    if audience not in required["properties"][field].get("audiences", AUDIENCES)
                ]  # fmt: skip
                if not secret:
                    yield from declared_for(item, audience, f"{place}.{i}")
        else:
            yield place


# Who hears what, written down by hand: the client hears all but the studio's notes, the public no names, address,
# prices or photographs, and a student the reasons.
EXPECTED = {
    "project.name": {"client", "public", "student"},
    "project.client.names": {"client"},
    "project.client.address": {"client"},
    "project.client.contact": set(),
    "project.client.notes": set(),
    "project.household.people.0.name": {"client"},
    "project.household.entertains": {"client", "student"},
    "project.brief.text": {"client", "student"},
    "project.brief.needs.0.text": {"client", "student"},
    "project.spaces.0.name": {"client", "public", "student"},
    "project.spaces.0.note": set(),
    "project.spaces.0.story": {"client", "public", "student"},
    "project.things.0.note": set(),
    "project.things.0.remark": {"client", "student"},
    "project.products.0.name": {"client", "public", "student"},
    "project.products.0.maker": {"client"},
    "project.products.0.note": set(),
    "project.products.0.purchase.quantity_unit": {"client"},
    "project.decisions.0.title": {"client", "public", "student"},
    "project.decisions.0.reason": {"client", "public", "student"},
    "project.decisions.0.by": {"client"},
    "project.decisions.0.hindsight": {"student"},
    "project.answers.0.reason": {"client", "student"},
    "project.answers.0.by": {"client"},
    "project.photographs.0.caption": {"client"},
    "project.script.0.lines.0.text": {"client", "public", "student"},
    "project.script.0.left_out": set(),
    "project.show.studio.designer": {"client", "student"},
}  # fmt: skip


@pytest.mark.parametrize("audience", AUDIENCES)
def test_exactly_the_declared_fields_remain(secretive: tuple[Project, dict[str, str]], audience: Audience) -> None:
    project, secrets = secretive
    # The planted names are found in their own field alone, so nothing is replaced anywhere else.
    told = told_words(for_audience(project, audience), secrets)
    declared = set(declared_for(project, audience)) & set(secrets.values())
    assert told == declared
    if audience == "studio":
        assert told == set(secrets.values())
    assert len(secrets) > 60


@pytest.mark.parametrize("audience", OTHERS)
def test_who_hears_what(secretive: tuple[Project, dict[str, str]], audience: Audience) -> None:
    project, secrets = secretive
    told = told_words(for_audience(project, audience), secrets)
    for place, audiences in EXPECTED.items():
        assert place in secrets.values(), place
        assert (place in told) == (audience in audiences), place


def test_prices_are_told_to_the_client_alone() -> None:
    project = good_project()
    assert for_audience(project, "client").products[0].purchase.quote is not None
    for audience in ("public", "student"):
        assert for_audience(project, audience).products[0].purchase.quote is None


def test_a_decision_is_told_to_whom_may_hear_of_it() -> None:
    plain = good_plain()
    plain["decisions"][0]["hear"] = ["student"]
    project = Project.model_validate(plain)
    heard = {audience: len(for_audience(project, audience).decisions) for audience in AUDIENCES}
    assert heard == {"client": 0, "public": 0, "student": 1, "studio": 1}


def test_records_that_say_nothing_without_what_is_left_out_go_as_a_whole() -> None:
    told = for_audience(good_project(), "public")
    assert (told.photographs, told.answers, told.brief.needs) == ((), (), ())
    assert for_audience(good_project(), "student").photographs == ()
    assert len(for_audience(good_project(), "client").photographs) == 1


def test_a_maker_is_named_to_others_only_with_leave() -> None:
    plain = good_plain()
    plain["spaces"][0]["story"] = "The tap of Maker A runs hot."
    assert for_audience(Project.model_validate(plain), "public").products[0].maker == ""
    assert for_audience(Project.model_validate(plain), "public").spaces[0].story == "The tap of the maker runs hot."
    plain["products"][0]["may_be_credited"] = True
    assert for_audience(Project.model_validate(plain), "public").products[0].maker == "maker A"
    assert for_audience(Project.model_validate(plain), "public").spaces[0].story == "The tap of Maker A runs hot."


def test_the_studio_and_the_project_itself_are_left_alone() -> None:
    project = good_project()
    before = project_text(project)
    assert for_audience(project, "studio") is project
    for audience in OTHERS:
        for_audience(project, audience)
    assert project_text(project) == before


# Names and addresses inside text


def story(text: str, audience: Audience = "public", **client: Any) -> str:
    people = client.pop("people", [])
    kitchen = room(144, 144) | {"story": text}
    project = house(spaces=[kitchen], client=client, household={"people": people})
    return for_audience(project, audience).spaces[0].story


NAMES = {"names": ["Mara Okonkwo-Lindqvist", "Tom Stone"], "address": "14 Tidewater Lane, Elverport, ME 04530",
         "contact": "mara@estuary.example, +1 207 555 0142"}  # fmt: skip


@pytest.mark.parametrize("audience", ["public", "student"])
@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("Mara Okonkwo-Lindqvist cooks.", "The client cooks."),
        ("Mara cooks, MARA bakes, mara rests.", "The client cooks, the client bakes, the client rests."),
        ("Mara\u2019s stool and Mara's pan", "The client\u2019s stool and the client's pan"),
        ("the Okonkwos and the Lindqvists", "the clients and the clients"),
        ("Mara\nOkonkwo-Lindqvist", "The client"),
        ("for_Mara_only (Mara)", "for_the client_only (the client)"),
        ("Marabou feathers, Tommy, tomorrow", "Marabou feathers, Tommy, tomorrow"),
        (
            "A stone counter that Tom Stone chose; Stone likes it.",
            "A stone counter that the client chose; the client likes it.",
        ),
        ("at 14 Tidewater Lane", "at the address"),
        ("on tidewater lane, in Elverport", "at the address"),
        ("14 Tidewater Lane, Elverport, ME 04530", "The address"),
        ("zip 04530", "the postcode"),
        ("write to mara@estuary.example", "write to an e-mail address"),
        (
            "call +1 (207) 555-0142 or 207.555.0142 or 2075550142",
            "call a telephone number or a telephone number or a telephone number",
        ),
        ("item 12075550142999", "item 12075550142999"),
        ("sink and stove and tap", "sink and stove and tap"),
    ],
)
def test_known_names_and_addresses_are_replaced(text: str, told: str, audience: Audience) -> None:
    assert story(text, audience, **NAMES) == told
    assert story(text, "client", **NAMES) == text


def test_names_are_found_however_they_are_composed() -> None:
    # "José" with one sign for the accented letter in the record and two in the text, and without accents.
    text = "Jose\u0301 and Jose and JOS\u00c9"
    assert story(text, names=["Jos\u00e9 Quill"]) == "The clients"


def test_people_of_the_household_are_names_too() -> None:
    people = [{"id": "a", "name": "Wren"}, {"id": "b", "name": "Al"}]
    assert story("Wren's desk, Al's bed; al dente", people=people) == "The client's desk, the client's bed; al dente"


def test_titles_and_connecting_words_name_nobody() -> None:
    told = story("The house and the family of Dr. Quill", names=["Dr. and Mrs. Quill", "The Quill Family"])
    assert told == "The house and the family of the client"


@pytest.mark.parametrize("name", ["Sink", "Kitchen", "New", "Wall", "Free", "None", "Range"])
def test_a_name_that_is_a_word_of_the_record_breaks_no_record(name: str) -> None:
    project = house(
        [thing("sink", "bowl", 30, 20, at(40, 40))],
        client={"names": [name]},
        finishes=[{"id": "a", "name": f"as {name} x"}],
    )
    told = for_audience(project, "public")
    assert told.things[0].kind == "sink"
    assert told.spaces[0].use == "kitchen"
    assert told.things[0].place.how == "free"
    assert told.things[0].state == "new"
    assert told.finishes[0].name == "as the client x"
    Project.model_validate(told.model_dump()).verified()


# Names inside ids, in the record and in findings


def named_in_ids() -> Project:
    return house(
        [thing("table", "mara-table", 40, 40, at(72, 72), space="maras-room", seating=[{"id": "row", "count": 2}])],
        spaces=[room(144, 144, id="maras-room", use="study"), room(60, 60, id="tom-s-nook", use="other", at=(300, 0))],
        client={"names": ["Mara Quill", "Tom Quill"]},
        decisions=[
            {"id": "d1", "number": 1, "title": "A table", "things": ["mara-table"], "findings": ["X1:seats:mara-table"]}
        ],
    )


def test_ids_are_changed_alike_in_the_record_and_in_findings() -> None:
    project = named_in_ids()
    told = for_audience(project, "public")
    text = project_text(told).lower()
    assert "mara" not in text
    assert "tom" not in text.replace("bottom", "").replace("custom", "")
    told.verified()
    found = Finding(
        id="X1:seats:mara-table", rule="X1", title="Seats at Mara's table", level="practice", space="maras-room",
        subjects=("mara-table",), source=Source("Own", "", "", "", "own choice"), because="missing fact",
        needs=("mara-table.top_mm",), assumed=("mara-table.width_mm",), working=("Mara sits here",),
        marks=(Mark("measure", ((0.0, 0.0), (1.0, 0.0)), "Mara"),), caution="Ask Mara.", also=("As Tom said.",),
    )  # fmt: skip
    nameless = without_names(found, project, "public")
    assert nameless.subjects == (told.things[0].id,)
    assert nameless.space == told.spaces[0].id
    assert nameless.id == f"X1:seats:{told.things[0].id}"
    assert nameless.needs == (f"{told.things[0].id}.top_mm",)
    assert "mara" not in repr(nameless).lower()
    assert "As the client said." in nameless.also
    for audience in ("client", "studio"):
        assert without_names(found, project, audience) is found
    student = for_audience(project, "student")
    assert student.decisions[0].findings == (without_names(found, project, "student").id,)


def test_new_ids_never_meet_old_ones() -> None:
    things = [
        thing("table", name, 10, 10, at(20 + 20 * i, 40)) for i, name in enumerate(["mara-a", "private-a-1", "quill-a"])
    ]
    told = for_audience(house(things, client={"names": ["Mara Quill"]}), "public")
    assert len({t.id for t in told.things}) == 3
    told.verified()


def test_findings_fit_the_told_copy_of_a_real_check() -> None:
    project = named_in_ids()
    told = for_audience(project, "public")
    known = {record.id for name in ("spaces", "things", "openings") for record in getattr(told, name)}
    walls = {wall.id for space in told.spaces for wall in space.walls}
    from enfilade.checks.run import check

    for finding in check(project):
        nameless = without_names(finding, project, "public")
        assert nameless.space is None or nameless.space in known
        for subject in nameless.subjects:
            assert subject in known | walls or subject.replace("-", "").isalnum()
            assert "mara" not in subject
        assert (nameless.rule, nameless.verdict, nameless.margin) == (finding.rule, finding.verdict, finding.margin)


def test_a_finding_without_names_stays_equal() -> None:
    project = house(client={"names": ["Mara Quill"]})
    found = findings(project, "K1") or findings(project, "K2")
    for finding in found:
        assert without_names(finding, project, "public") == replace(finding)
