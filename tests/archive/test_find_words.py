"""Found by words: the same in both databases, whatever is typed."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

import enfilade as ef
from archives import keep_made, made
from enfilade.archive.adding import add_version
from enfilade.archive.figures import figures_of
from enfilade.archive.finding import Answers, find
from enfilade.archive.finding.asked import LONGEST, STOP_WORDS
from enfilade.archive.finding.vocabulary import Vocabulary
from enfilade.archive.indexing import folded, searched
from enfilade.archive.notes import KINDS, Note, notes_of
from enfilade.archive.store import FILE, Store
from enfilade.errors import EnfiladeError, NotFound, Refused
from enfilade.project.project import Project
from enfilade.project.writing import project_text
from postgres import Server


def note(text: str, record: str = "d1", kind: str = "decision", space: str = "", state: str = "") -> Note:
    return Note(kind, record, space, "", state, "", text)


def kept(store: Store, *notes: Note, project: str = "house", base: int | None = None, name: str = "House") -> None:
    house = Project.model_validate({"id": project, "name": f"{name} {base or 0}"})
    files = {FILE: project_text(house).encode()}
    add_version(store, house, files, who="the designer", why="", base=base, notes=notes)


def ids(answers: Answers) -> list[str]:
    return sorted(hit.id for hit in answers.hits)


@pytest.fixture(scope="module")
def both(postgres: Server, tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Store, Store]]:
    """The demo house and some generated ones, in a file and in PostgreSQL."""
    name = postgres.new_database()
    house = ef.demo()
    findings = ef.check(house)
    with Store(str(tmp_path_factory.mktemp("find") / "a.sqlite")) as file, Store(postgres.address(name)) as shared:
        for store in (file, shared):
            files = {FILE: project_text(house).encode()}
            add_version(
                store,
                house,
                files,
                who="a",
                why="b",
                base=None,
                notes=notes_of(house, findings),
                figures=figures_of(house, findings),
            )
            for one in made(6, 12):
                keep_made(store, one)
        yield file, shared
    postgres.drop(name)


@pytest.mark.parametrize(
    ("typed", "written"),
    [
        # Pairs of M. F. Porter, An algorithm for suffix stripping, 1980; recalled. Both stemmers take them so.
        ("caresses", "a caress"), ("ponies", "the poni"), ("cats", "one cat"), ("plastered", "to plaster"),
        ("motoring", "a motor"), ("conflated", "to conflate"), ("hopping", "to hop"), ("relational", "to relate"),
        ("hopeful", "hope"), ("adjustable", "to adjust"), ("connections", "it connects"), ("connected", "connecting"),
    ],
)  # fmt: skip
def test_endings_do_not_matter(address: str, typed: str, written: str) -> None:
    with Store(address) as store:
        kept(store, note(written), note("nothing of the kind", "d2"))
        assert ids(find(store, typed)) == ["d1"]


def test_accents_and_capitals_do_not_matter(address: str) -> None:
    with Store(address) as store:
        kept(store, note("A SOUFFL\u00c9 dish above the oven"), note("A cr\u00eape pan", "d2"))
        for typed in ("souffle", "SOUFFL\u00c9", "Souffle\u0301"):
            assert ids(find(store, typed)) == ["d1"]
        assert ids(find(store, "cr\u00eapes")) == ["d2"]


def test_all_words_phrases_and_what_must_not_stand(address: str) -> None:
    with Store(address) as store:
        kept(
            store,
            note("Oak boards on the floor of the dining room", "d1"),
            note("A floor of slate, and boards of oak above it", "d2"),
            note("Oak on the stair", "d3"),
        )
        assert ids(find(store, "oak floor")) == ["d1", "d2"]
        assert ids(find(store, '"oak boards"')) == ["d1"]
        assert ids(find(store, "oak -slate")) == ["d1", "d3"]
        assert ids(find(store, "the oak of stairs")) == ["d3"]
        nothing = find(store, "of the")
        assert (nothing.total, nothing.hits) == (0, ())
        assert "left out" in " ".join(nothing.read_as)


def test_words_of_one_room_are_found_where_no_text_holds_them_all(address: str) -> None:
    with Store(address) as store:
        kept(
            store,
            note("Soapstone, honed", "f1", "finish", "kitchen"),
            note("The island stands askew", "d1", "decision", "kitchen"),
            note("Soapstone, honed", "f2", "finish", "bath"),
        )
        found = find(store, "soapstone island")
        assert ids(found) == ["d1", "f1"]
        assert "one room" in " ".join(found.read_as)


def test_of_words_that_stand_apart_the_rarer_one_and_whoever_holds_more_comes_first(address: str) -> None:
    with Store(address) as store:
        kept(
            store,
            note("island stool", "stool"),
            note("The island has four stools, and nobody sits at the island twice.", "seats"),
            note("An island of oak", "oak"),
            note("What the counters are made of: soapstone, honed and oiled.", "counters"),
        )
        # Soapstone stands in one text, the island in three.
        found = find(store, "soapston iland")
        assert found.hits[0].id == "counters"
        assert [hit.score for hit in found.hits] == sorted((hit.score for hit in found.hits), reverse=True)
        # Of three words a text that holds two comes before a shorter one that holds the rarest.
        found = find(store, "island stools soapstone")
        assert [hit.id for hit in found.hits[:2]] in (["stool", "seats"], ["seats", "stool"])


def test_a_slip_of_the_hand_is_forgiven_and_said(address: str) -> None:
    with Store(address) as store:
        kept(store, note("Soapstone round the sink"), note("A larder of slate", "d2"))
        for typed, meant in (("soapston", "soapstone"), ("saopstone", "soapstone"), ("lader", "larder")):
            found = find(store, typed)
            assert ids(found) == (["d1"] if meant == "soapstone" else ["d2"])
            assert found.read_as == (f"\u201c{typed}\u201d was read as \u201c{meant}\u201d.",)
        assert ids(find(store, "soap")) == ["d1"]  # the last word may be a beginning
        unknown = find(store, "xylophone")
        assert (unknown.total, unknown.read_as) == (0, ("\u201cxylophone\u201d stands nowhere, and nothing like it.",))
        # What is kept later is known at once.
        kept(store, note("A xylophone on the wall", "d9"), base=1)
        assert ids(find(store, "xylophone")) == ["d9"]


@pytest.mark.parametrize(
    ("one", "other", "distance"),
    [
        # By hand from the definition of F. J. Damerau, 1964, and V. I. Levenshtein, 1966: insertions, deletions,
        # substitutions, and exchanges of neighbours. `ca` to `abc` is the usual example of the unrestricted distance,
        # and kitten to sitting that of Levenshtein's (both recalled).
        ("ca", "abc", 2), ("kitten", "sitting", 3), ("island", "isalnd", 1), ("drawer", "drawr", 1),
        ("counter", "coutners", 2),
    ],
)  # fmt: skip
def test_distances_of_the_literature(one: str, other: str, distance: int) -> None:
    from rapidfuzz.distance import DamerauLevenshtein

    assert DamerauLevenshtein.distance(one, other) == distance


def test_the_nearest_word_keeps_its_first_letter() -> None:
    words = Vocabulary(["table", "cable", "stable", "oak"], 0)
    assert words.nearest("tabel") == ("table",)
    assert words.nearest("tble") == ("table",)
    assert words.nearest("ok") == ()  # too short to guess
    assert words.nearest("wable") == ("cable", "table")  # both are as near
    assert words.beginning("tab") == ("table",)


def test_of_a_long_name_the_end_is_left_out_and_never_where_it_stands(address: str) -> None:
    with Store(address) as store:
        kept(store, note("A larder of slate"), name="The house of the very long name " * 4)
        found = find(store, "slate")
        (line,) = [line for line in found.as_text(80).splitlines() if "(house)" in line]
        assert line.startswith("The house of the")
        assert line.endswith(" (house), the whole house, version 1")
        assert len(line) <= 80
        assert "@font-face" in found.page()  # the shipped face, in a page that loads nothing


def test_people_read_holds_and_may_type_the_old_word(both: tuple[Store, Store]) -> None:
    for store in both:
        holds, met = (find(store, "island", state=typed) for typed in ("holds", "met"))
        assert [hit.id for hit in holds.hits] == [hit.id for hit in met.hits]
        assert holds.hits
        assert "finding, holds: " in holds.as_text()
        assert "finding, met" not in holds.as_text()
        assert find(store, "islands whose aisle holds").understood.endswith(" held.")


def test_what_stands_no_more_is_found_only_when_asked_for(address: str) -> None:
    with Store(address) as store:
        kept(store, note("A hatch to the dining room"), note("Oak", "d2"))
        kept(store, note("Oak", "d2"), base=1)
        assert find(store, "hatch").total == 0
        (hit,) = find(store, "hatch", past=True).hits
        assert (hit.until, hit.version) == (1, 1)
        (still,) = find(store, "oak", past=True).hits
        assert (still.until, still.version) == (None, 2)


def test_filters_and_bad_ones(both: tuple[Store, Store]) -> None:
    for store in both:
        assert {hit.kind for hit in find(store, "island", kinds=("finding",)).hits} == {"finding"}
        assert {hit.state for hit in find(store, "island", state="met").hits} == {"met"}
        assert {hit.project for hit in find(store, "stone", project=ef.demo().id).hits} == {ef.demo().id}
        assert all(hit.space for hit in find(store, "island", use="kitchen").hits)
        assert find(store, "island", limit=0).hits == ()
        with pytest.raises(Refused, match="kind 'thoughts' is unknown"):
            find(store, "island", kinds=("thoughts",))
        with pytest.raises(Refused, match="use 'ballroom' is unknown"):
            find(store, "island", use="ballroom")
        with pytest.raises(NotFound, match="'nowhere'"):
            find(store, "island", project="nowhere")
        with pytest.raises(Refused, match="limit"):
            find(store, "island", limit=-1)


def test_students_find_what_was_released_and_no_other_word(address: str) -> None:
    with Store(address) as store:
        kept(store, note("Soapstone for the family Merrowby"))
        store.released = True  # as whoever may see no more
        found = find(store, "soapstone")
        assert (found.total, found.hits) == (0, ())
        assert find(store, "merowby").read_as == ("\u201cmerowby\u201d stands nowhere, and nothing like it.",)


@pytest.mark.parametrize(
    "typed",
    [
        "", " ", '"', '""', "-", "--", "-oak", "NEAR(", "oak AND", "a* OR", "^oak", "text:oak",
        "oak'; DROP TABLE notes;--",
        "{", "}", "\\", "%s", ":q",
        "oak & | ! <->", "oak:*", "\x00", "oak\x00ash", "\ud800", "\U0001f600", "\u6f22\u5b57", "\u202eoak",
        "((((", "o'clock", "1e400 m", "islands over 1/0 m",
        "rooms under 9" + "9" * 60 + " m2", "\u0660 seats",
        "islands between m and m", "oak " * 200,
    ],
)  # fmt: skip
def test_nothing_typed_is_an_error_of_syntax(both: tuple[Store, Store], typed: str) -> None:
    told = []
    for store in both:
        try:
            assert isinstance(find(store, typed)._repr_html_(), str)
        except Refused as error:
            told.append(str(error))
    assert not any("\x00" in one for one in told)


def test_a_question_of_a_hundred_thousand_signs_is_refused(both: tuple[Store, Store]) -> None:
    for store in both:
        with pytest.raises(Refused, match=f"at most {LONGEST:,}"):
            find(store, "oak " * 25_000)


_TYPED = st.text(
    st.one_of(st.characters(), st.sampled_from("\"'-*:()^ 0123456789.,mftin/\u201c\u00bd")), max_size=60
) | st.lists(st.sampled_from(
    ["islands", "rooms", "between", "and", "over", "under", "2.4", "3 m", "8 ft", "four", "seats", "whose", "aisle",
     "fell short", "oak", "about", "-", '"', "decisions", "5,000", "12 m2", "at least", "wide"]
), max_size=8).map(" ".join)  # fmt: skip


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(_TYPED)
@example(typed="GA")  # which one database's stemmer makes of gas
def test_whatever_is_typed_is_answered_or_refused_alike(both: tuple[Store, Store], typed: str) -> None:
    said = []
    for store in both:
        try:
            found = find(store, typed, limit=200)
        except EnfiladeError as error:
            said.append(type(error).__name__)
        else:
            said.append(sorted((hit.project, hit.space, hit.kind, hit.id) for hit in found.hits))
            for name, counted in found.facets.items():
                total = sum(count for _, count in counted)
                # A text about rooms of several uses is counted by each: so many are found when it is narrowed to it.
                whole = total >= found.total if name == "use" else total == found.total
                assert found.about or not found.hits or whole
    assert said[0] == said[1]


def test_every_text_is_found_by_its_own_words_in_both(both: tuple[Store, Store]) -> None:
    house = ef.demo()
    for one in notes_of(house, ef.check(house))[::9]:
        words = [word for word in folded(one.text).split() if word.isalpha() and word not in STOP_WORDS]
        for store in both:
            found = find(store, '"' + " ".join(searched(one.text).split()[:8]) + '" ' + " ".join(words[:6]), limit=1000)
            assert (one.kind, one.record) in {(hit.kind, hit.id) for hit in found.hits}, (one, store.address.shared)


def test_both_databases_find_the_same_in_the_same_order(both: tuple[Store, Store]) -> None:
    for typed in ("stone", "oak floor", "island", "drawers", "light", "bench", "window sill", "nobody sits"):
        file, shared = (find(store, typed, limit=500) for store in both)
        assert [hit.as_json() for hit in file.hits] == [hit.as_json() for hit in shared.hits], typed
        assert (file.total, dict(file.facets)) == (shared.total, dict(shared.facets))
        scores = [hit.score for hit in file.hits]
        assert scores == sorted(scores, reverse=True)
        assert all(score > 0 for score in scores)


def test_of_very_many_the_newest_are_ranked_and_it_says_so(
    both: tuple[Store, Store], monkeypatch: pytest.MonkeyPatch
) -> None:
    from enfilade.archive.finding import texts

    monkeypatch.setattr(texts, "_FEW", 20)
    monkeypatch.setattr(texts.texts, "__defaults__", (30,))
    for store in both:
        found = find(store, "counter", limit=10)
        assert found.about
        assert found.total > 30
        assert "newest" in " ".join(found.read_as)


def test_json_is_what_others_read(both: tuple[Store, Store]) -> None:
    (hit, *_) = find(both[0], "soapstone").hits
    assert list(hit.as_json()) == ["project", "version", "space", "kind", "id", "text", "score"]
    assert hit.room == "Kitchen"


def test_every_kind_is_searched(both: tuple[Store, Store]) -> None:
    assert {one.kind for one in notes_of(ef.demo(), ef.check(ef.demo()))} == set(KINDS)


def test_odd_texts_are_kept_and_found(address: str, tmp_path: Path) -> None:
    with Store(address) as store:
        texts = ("zero \x00 byte larch", "half \ud83d character larch", "larch " * 20_000, "<script>larch</script>",
                 "\U0001f600 larch \u202e")  # fmt: skip
        kept(store, *(note(text, f"d{n}") for n, text in enumerate(texts, 1)))
        found = find(store, "larch")
        assert ids(found) == ["d1", "d2", "d3", "d4", "d5"]
        page = found._repr_html_()
        assert "<script" not in page
        assert "\u202e" not in page
