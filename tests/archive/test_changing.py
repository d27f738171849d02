"""What changed is told in sentences of the trade; figures are worked out by hand from the inches of the houses."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

import enfilade as ef
from building import free, house, room, thing
from changed_houses import decision, kitchen, option
from enfilade.archive.adding import add_version
from enfilade.archive.changing import Stated, changed, stated, told_between
from enfilade.archive.gathering import findings_bytes
from enfilade.archive.stated import findings_from, kept_state
from enfilade.archive.store import Store
from enfilade.errors import BadRecord, NotFound
from enfilade.project.project import Project
from enfilade.project.writing import project_text
from enfilade.standards.house_rules import with_house_rules
from enfilade.standards.yardsticks import yardstick
from hostile import EVERYTHING


def told(before: Project, after: Project) -> tuple[str, ...]:
    return told_between(stated(before), stated(after))


def test_a_longer_island_a_short_aisle_and_a_reversed_decision() -> None:
    before = kitchen(48, decisions=[decision()])
    after = kitchen(40, length=78, decisions=[decision(choice="oak")])
    # The aisle was drawn 48 in wide and is 40; NKBA guideline 6 asks 42 in for one cook: 2 in short. 78 - 72 = 6 in.
    # The island's middle moved with the aisle: 48 - 40 = 8 in. Guideline 25 asks 158 in of counter: 120 in less the
    # sink's and the cooktop's 30 in each, and the island's 72 in, are 132 in; 6 in more are 138 in, 20 in short.
    assert told(before, after) == (
        "Kitchen: decision 14, “What the island is topped with”, was reversed: now “A top of oak”, "
        "was “A top of soapstone”.",
        'Kitchen: Work aisle, one cook (island, counter) now falls short: 40", 2" short, asked at least 42"; was 48".',
        'Kitchen: Total counter frontage falls short by less: 138", 20" short, asked at least 158"; was 132".',
        'Kitchen: island is 6" longer (now 78", was 72").',
        'Kitchen: island: moved by 8".',
    )


def test_sizes_read_in_the_units_of_the_later_state() -> None:
    before, after = kitchen(units="metric"), kitchen(units="metric")
    island = next(one for one in after.things if one.kind == "island")
    longer = island.model_copy(update={"width_mm": island.width_mm + 150, "top_mm": island.top_mm + 20})
    after = after.with_records(things=[longer if one.id == "island" else one for one in after.things])
    # 72 in = 1828.8 mm; 36 in = 914.4 mm. The counter's 132 in are 3352.8 mm, the 158 in asked are 4013.2 mm.
    assert told(before, after) == (
        "Kitchen: Total counter frontage falls short by less: 3503 mm, 510 mm short, asked at least 4013 mm; "
        "was 3353 mm.",
        "Kitchen: island is 150 mm longer (now 1979 mm, was 1829 mm); 20 mm taller (now 934 mm, was 914 mm).",
    )


def test_what_was_mended_holds_again() -> None:
    sentences = told(kitchen(40), kitchen(44))
    assert (
        'Kitchen: Work aisle, one cook (island, counter) holds again: 44", 2" to spare, asked at least 42"; was 40".'
        in sentences
    )


def test_what_fell_short_and_falls_further_short_is_told() -> None:
    # NKBA guideline 6 asks 42 in for one cook: 40 in is 2 in short, 37 in is 5 in short.
    name = "Kitchen: Work aisle, one cook (island, counter)"
    further = f'{name} falls further short: 37", 5" short, asked at least 42"; was 40".'
    less = f'{name} falls short by less: 40", 2" short, asked at least 42"; was 37".'
    assert further in told(kitchen(40), kitchen(37))
    assert less in told(kitchen(37), kitchen(40))
    # A length is the same up to half a millimetre: 0.01 in is a quarter of that.
    assert not any("Work aisle" in words for words in told(kitchen(40), kitchen(39.99)))


def _cabinets(*at: float) -> Project:
    """Return a room with a cabinet of 60 by 24 in at 96 in along it, and others of 16 by 16 in at other places."""
    placed = [thing("base cabinet", "long", 60, 24, free(96, 84), name="long")]
    ids = ("one", "two")[: len(at)]
    placed += [thing("base cabinet", id, 16, 16, free(x, 84), name=id) for id, x in zip(ids, at, strict=True)]
    return house(placed, spaces=[room(240, 168)])


def test_alike_findings_stand_in_one_sentence_and_what_was_cured_no_longer_occurs() -> None:
    # Both stand whole inside the long one, which ends 96 + 30 = 126 in along: 16 in by 16 in are 1.78 sq ft each.
    apart, inside = _cabinets(160, 190), _cabinets(80, 112)
    shares = "Kitchen: Area that two solid things share (long with one, two)"
    assert f"{shares} now falls short: 1.8 sq ft, asked none (2 of them)." in told(apart, inside)
    assert f"{shares} no longer occurs (2 of them)." in told(inside, apart)
    gone = told(inside, _cabinets())
    assert f"{shares} is not looked at any more; it fell short (2 of them)." in gone


@pytest.mark.parametrize(
    ("before", "after", "words"),
    [
        ({"choice": None, "status": "undecided"}, {}, "is settled: “A top of soapstone”"),
        ({}, {"choice": None, "status": "undecided"}, "was reopened; it was “A top of soapstone”"),
        ({}, {"status": "built"}, "is built"),
        ({}, {"status": "changed on site", "changed": "A seam was needed."}, "was changed on site; on site: “A seam"),
        ({"status": "built"}, {}, "is planned, and no longer built"),
        ({"status": "built"}, {"status": "built", "choice": "oak"}, "was reversed: now “A top of oak”"),
        ({}, {"status": "built", "choice": "oak"}, "was “A top of soapstone”; is built"),
        ({"choice": "oak", "status": "undecided"}, {"status": "undecided"}, "is still open; marked for now is “A"),
    ],
)  # fmt: skip
def test_what_became_of_a_decision(before: dict[str, str], after: dict[str, str], words: str) -> None:
    sentences = told(kitchen(decisions=[decision(**before)]), kitchen(decisions=[decision(**after)]))
    assert len(sentences) == 1
    assert sentences[0].startswith("Kitchen: decision 14, “What the island is topped with”, ")
    assert words in sentences[0]


def test_a_new_decision_and_one_that_is_gone_are_told() -> None:
    one, two = kitchen(decisions=[decision()]), kitchen(decisions=[decision(id="other", number=15, title="The tap")])
    sentences = told(one, two)
    assert any("decision 15, “The tap”, is new" in words for words in sentences)
    assert any("decision 14, “What the island is topped with”, was taken out" in words for words in sentences)


def test_answers_are_told_with_the_finding_in_words() -> None:
    finding = "K6:one-cook:island+north-counter"
    answer = {"id": "a", "finding": finding, "kind": "accepted", "reason": "They like it close.", "by": "Ada Rill"}
    before, after = kitchen(40), kitchen(40, answers=[answer])
    name = "Kitchen: Work aisle, one cook (island, counter)"
    assert told(before, after) == (f"{name} was accepted by Ada Rill: “They like it close”.",)
    assert told(after, before) == (f"{name}: its answer was taken back.",)
    mended = kitchen(40, answers=[{**answer, "kind": "to mend"}])
    assert told(after, mended) == (
        f"{name} is to be mended by Ada Rill: “They like it close”; before, it was accepted by Ada Rill: "
        "“They like it close”.",
    )


def test_what_house_rules_alone_turned_is_no_change_of_the_house() -> None:
    house = kitchen(48)
    stricter = with_house_rules(yardstick("us"), '[rules]\n"K6/one cook" = 50')
    sentences = told_between(stated(house), stated(house, rules=stricter))
    assert sentences[0].startswith("The whole house: the studio's house rules are others than before")
    assert sentences[1:] == (
        "Kitchen: by the rules alone, Work aisle, one cook (island, counter) now falls short: "
        '48", 2" short, asked at least 50"; was 48", asked at least 42".',
    )


def test_what_a_newer_tool_finds_is_no_change_of_the_house() -> None:
    house = stated(kitchen(40))
    older = replace(house, findings=tuple(one for one in house.findings if one.rule != "K6"))
    sentences = told_between(older, house)
    assert "the published rules are read otherwise" in sentences[0]
    assert [words for words in sentences if "K" in words and "by the rules alone" in words] == list(sentences[1:])
    assert "Work aisle, one cook (island, counter) now falls short" in sentences[1]
    # A house that changed as well: what changed is told as such, and what the rules turned still apart from it.
    moved = stated(kitchen(39))
    assert any("moved by 1" in words for words in told_between(older, moved))
    assert any("by the rules alone, Work aisle" in words for words in told_between(older, moved))


def test_nothing_is_told_of_the_same_state() -> None:
    state = stated(ef.demo())
    assert told_between(state, state) == ()
    assert told_between(state, replace(state, findings=findings_from(findings_bytes(state.findings)))) == ()


def test_findings_come_back_as_they_were_kept() -> None:
    found = ef.check(ef.demo())
    again = findings_from(findings_bytes(found))
    for one, other in zip(found, again, strict=True):
        assert (one.id, one.verdict, one.source, one.needs, one.working) == (
            other.id, other.verdict, other.source, other.needs, other.working,
        )  # fmt: skip
        assert (one.margin is None) == (other.margin is None)
        if one.margin is not None:
            assert other.margin == pytest.approx(one.margin, abs=1e-5)  # kept to six places


@pytest.mark.parametrize("data", [b"", b"{}", b"[1]", b'[{"id": "x"}]', b"[" * 100_000, b"\xff"])
def test_a_damaged_file_of_findings_is_refused_with_its_place(data: bytes) -> None:
    with pytest.raises(BadRecord, match=r"findings\.json: (top|finding 1)"):
        findings_from(data)


_STATUS = st.sampled_from(["undecided", "planned", "built", "changed on site"])


@given(st.lists(st.tuples(st.sampled_from("ab"), _STATUS, st.sampled_from("ab"), _STATUS), min_size=1, max_size=4))
@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_every_difference_in_a_choice_or_status_is_told(moves: list[tuple[str, str, str, str]]) -> None:
    options = [option("a", "First."), option("b", "Second.")]

    def state(choices: list[tuple[str, str]]) -> Stated:
        decisions = [
            {"id": f"d{n}", "number": n, "title": f"Title {n} of many", "options": options, "choice": choice,
             "status": status}
            for n, (choice, status) in enumerate(choices, 1)
        ]  # fmt: skip
        return stated(house([], spaces=[room(144, 144)], decisions=decisions), findings=())

    sentences = told_between(state([one[:2] for one in moves]), state([one[2:] for one in moves]))
    for n, (choice, status, now, status_now) in enumerate(moves, 1):
        said = [words for words in sentences if f"decision {n}, “Title {n} of many”" in words]
        assert bool(said) == ((choice, status) != (now, status_now)), (n, sentences)


def test_odd_text_is_told_on_one_line() -> None:
    odd = {"title": EVERYTHING[:400], "reason": "x" * 100_000}
    before = kitchen(decisions=[decision(**odd)])
    after = kitchen(decisions=[decision(**odd, choice="oak", status="changed on site", changed=EVERYTHING * 200)])
    sentences = told(before, after)
    assert sentences
    assert all(len(words) < 2000 and "\n" not in words for words in sentences)


def test_a_house_without_rooms_and_one_with_many() -> None:
    empty = house([], spaces=[])
    many = house([], spaces=[room(60, 60, id=f"room-{n}", use="hall", at=(n * 70, 0)) for n in range(100)])
    assert len([words for words in told(empty, many) if "the room is new" in words]) == 100
    assert len([words for words in told(many, empty) if "the room was taken out" in words]) == 100


def kept(store: Store, project: Project, base: int | None, **more: bytes) -> int:
    files = {"project.json": project_text(project).encode(), **more}
    return add_version(store, project, files, who="", why="", base=base).version.number


def test_versions_of_the_archive(address: str) -> None:
    first, second = kitchen(48), kitchen(40)
    rules = b'[rules]\n"K6/one cook" = 46\n'
    with Store(address) as store:
        kept(store, first, None, **{"findings.json": findings_bytes(ef.check(first))})
        kept(store, second, 1)  # without findings: today's rules say
        kept(store, second, 2, **{"studio.toml": rules, "findings.json": b"damaged"})
        assert changed(store, "test-house", 1, 1) == ()
        assert changed(store, "test-house", 1, 2) == told(first, second)
        assert changed(store, "test-house", 1) == changed(store, "test-house", 1, 3)
        assert kept_state(store, "test-house").rules.row("K6", "one cook").printed == "46 in"
        # It fell short by 2 in, and does by 6 in; the verdict is the same, and the other rules are told.
        assert "house rules are others" in changed(store, "test-house", 2, 3)[0]
        with pytest.raises(NotFound, match="no version 9"):
            changed(store, "test-house", 1, 9)
        with pytest.raises(NotFound, match="not in the archive"):
            changed(store, "elsewhere", 1)
