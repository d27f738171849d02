"""Find in the archive: what was typed goes in, answers come out."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from types import MappingProxyType
from typing import TYPE_CHECKING, Any, Final

from sqlalchemy import Connection, select

from enfilade.archive import tables as t
from enfilade.archive.finding.answers import Answers, state_of
from enfilade.archive.finding.asked import Term, readable_question, terms_in
from enfilade.archive.finding.found import Project, hits_of, projects_of
from enfilade.archive.finding.measures import Sized, measured
from enfilade.archive.finding.questions import Question
from enfilade.archive.finding.ranking import fit_of, fit_of_some
from enfilade.archive.finding.reading import corrected
from enfilade.archive.finding.sizes import sized_hits
from enfilade.archive.finding.spelling import as_meant, no_size_read
from enfilade.archive.finding.texts import Filters, Row, Searched, stands, texts
from enfilade.archive.finding.vocabulary import vocabulary_of
from enfilade.archive.notes import KINDS, USES
from enfilade.errors import NotFound, Refused

if TYPE_CHECKING:
    from enfilade.archive.store import Store

__all__ = ["MOST_HITS", "find"]

MOST_HITS: Final = 1000
_ROOMS_OF_WORDS: Final = 1500
_APART: Final = "No single text holds all of these words; they stand in one room."
_NOTHING: Final = "Nothing was asked: type a word, or a size such as \u201cislands over 2.4 m\u201d."


def find(
    store: Store,
    words: str,
    *,
    kinds: Sequence[str] = (),
    use: str = "",
    project: str = "",
    state: str = "",
    past: bool = False,
    limit: int = 20,
) -> Answers:
    """Look through all that was kept.

    All words must stand in a text; accents, capitals and endings do not matter, and a word that stands nowhere is read
    as the nearest one. `"two words"` must stand side by side, `-word` must not stand. Figures are read as in `islands
    between 2.4 and 3.0 m with four seats whose aisle fell short`; `Answers.understood` says how.

    Args:
        store: The archive.
        words: What is looked for.
        kinds: Of `notes.KINDS`; none: any. By number: kinds of things, `room`, `decision`, `product`, `finish`.
        use: What the room is, such as `kitchen`.
        project: Id of one project.
        state: Verdict (`holds`, `falls short`, `not assessed`), status or kind of answer.
        past: Also what stands in an earlier version only.
        limit: How many hits at most.
    Raises:
        Refused: What was typed is too long, a figure lacks its unit, or a kind or use is unknown.
        NotFound: There is no such project.
    """
    words = readable_question(words)
    kinds, state = _checked(kinds, use, limit), state_of(state)
    with store.reading() as connection:
        question, told = as_meant(words, lambda word: _kept(store, connection, word))
        one = _project_rows(connection, store.released, project)
        if question is not None:
            return _by_number(store, connection, words, question, kinds, use, one, state, past, limit, told)
        filters = Filters(store.released, kinds, use, state, one, past)
        return _by_words(store, connection, words, filters, limit)


def _checked(kinds: Sequence[str], use: str, limit: int) -> tuple[str, ...]:
    kinds = (kinds,) if isinstance(kinds, str) else tuple(kinds)
    from enfilade.project.things import KINDS as THINGS

    for kind in kinds:
        if kind not in KINDS and kind not in THINGS and kind != "room":
            raise Refused(f"kind {kind!r} is unknown", expected=", ".join(KINDS))
    if use and use not in USES:
        raise Refused(f"use {use!r} is unknown", expected=", ".join(USES))
    if isinstance(limit, bool) or not isinstance(limit, int) or not 0 <= limit <= MOST_HITS:
        raise Refused(f"limit {limit!r} is out of range", expected=f"0 to {MOST_HITS}")
    return kinds


def _project_rows(connection: Connection, released: bool, project: str) -> tuple[int, ...] | None:
    if not project:
        return None
    query = select(t.projects.c.id).where(t.projects.c.project == project, t.projects.c.released == released)
    found = tuple(connection.execute(query).scalars())
    if not found:
        raise NotFound(f"{project!r} is not in the archive", do="`enfilade versions` lists its projects")
    return found


def _by_words(store: Store, connection: Connection, words: str, filters: Filters, limit: int) -> Answers:
    terms, told = _terms(store, connection, words)
    told = no_size_read(words) + told
    if not any(not term.without for term in terms):
        return Answers((), 0, read_as=told or (_NOTHING,), asked=words, _store=store)
    found = texts(connection, terms, filters)
    held: Mapping[int, tuple[int, ...]] = {}
    if not found.rows and sum(not term.without for term in terms) > 1:
        found, held, fit = _in_one_room(connection, terms, filters)
        told += (_APART,) if found.rows else ()
    else:
        fit = _fit_of_rows(terms)
    everywhere = found.rows
    found = _each_once(found)
    # What holds more of the words comes first.
    scored = ((len(held.get(row.id, ())), fit(row), row.id, row) for row in found.rows)
    ranked = sorted(scored, key=lambda one: one[:3], reverse=True)
    projects = projects_of(connection, {row.project for row in found.rows})
    best = [(score, row) for _, score, _, row in ranked[:limit]]
    if found.about:
        told += (f"Over {len(found.rows):,} were found: the newest {len(found.rows):,} were ranked.",)
    return Answers(
        hits_of(store, projects, best),
        found.total,
        found.about,
        told,
        "",
        _facets(found.rows, projects, everywhere),
        words,
        store,
    )


def _kept(store: Store, connection: Connection, word: str) -> bool:
    """Tell whether a word stands in the archive in any form."""
    return word in vocabulary_of(store, connection).words or stands(connection, word)


def _each_once(found: Searched) -> Searched:
    """Return each text once, though it is about several rooms: in the first of them."""
    once = {_text_of(row): row for row in reversed(found.rows)}
    rows = list(reversed(once.values()))
    return Searched(rows, found.total if found.about else len(rows), found.about)


def _text_of(row: Row) -> tuple[int, str, str, str, int | None]:
    return row.project, row.kind, row.record, row.text, row.until


def _fit_of_rows(terms: Sequence[Term]) -> Callable[[Row], float]:
    fit = fit_of(terms)
    return lambda row: fit(row.kind, row.text)


def _in_one_room(
    connection: Connection, terms: Sequence[Term], filters: Filters
) -> tuple[Searched, dict[int, tuple[int, ...]], Callable[[Row], float]]:
    """Return texts that hold one of the terms each, in rooms where all of them stand.

    Returns:
        The texts; by the row of each which of the terms it holds; and how well a row fits.
    """
    without = tuple(term for term in terms if term.without)
    wanted = [term for term in terms if not term.without]
    several = [texts(connection, (term, *without), filters) for term in wanted]
    rooms = set.intersection(*({(row.project, row.space) for row in one.rows} for one in several))
    rows = {row.id: row for one in several for row in one.rows if (row.project, row.space) in rooms}
    held: dict[int, tuple[int, ...]] = {}
    for at, one in enumerate(several):
        held |= {row.id: (*held.get(row.id, ()), at) for row in one.rows}
    fit = fit_of_some(wanted, [one.total for one in several])
    newest = [rows[id] for id in sorted(rows, reverse=True)]
    searched = Searched(newest, len(newest), any(one.about for one in several))
    return searched, held, lambda row: fit(row.kind, row.text, held[row.id])


def _terms(store: Store, connection: Connection, words: str) -> tuple[tuple[Term, ...], tuple[str, ...]]:
    terms, left_out = terms_in(words)
    terms, told = corrected(
        terms, lambda fresh: vocabulary_of(store, connection, fresh=fresh), stands, connection
    )  # fmt: skip
    if left_out:
        quoted = ", ".join(f"\u201c{word}\u201d" for word in left_out[:8])
        verbs = "stands nearly everywhere and was" if len(left_out) == 1 else "stand nearly everywhere and were"
        told += (f"{quoted} {verbs} left out.",)
    return terms, told


def _by_number(
    store: Store, connection: Connection, words: str, question: Question, kinds: tuple[str, ...], use: str,
    one: tuple[int, ...] | None, state: str, past: bool, limit: int, told: tuple[str, ...],
) -> Answers:  # fmt: skip
    if kinds:
        question.kinds = tuple(kind for kind in question.kinds if kind in kinds)
    found, about = measured(connection, question, released=store.released, use=use, projects=one, past=past)
    if state:
        found = [sized for sized in found if sized.state == state]
    if question.rest:
        terms, more = _terms(store, connection, question.rest)
        told += more
        if any(not term.without for term in terms):
            asked = Filters(store.released, (), use, "", one, past)
            with_words = texts(connection, terms, asked, _ROOMS_OF_WORDS)
            found = _in_rooms_of(found, with_words.rows)
            about = about or with_words.about
    if question.verdict == "accepted":
        # Every answer begins with what was answered.
        accepted = Filters(store.released, ("answer",), use, "accepted", one, past)
        answers = texts(connection, (Term((("accepted",),)),), accepted, _ROOMS_OF_WORDS)
        rules = {rule for rule, _, _ in question.topics}
        found = _in_rooms_of(found, [row for row in answers.rows if row.rule in rules])
        about = about or answers.about
    found = list({_one_of(sized): sized for sized in found}.values())
    if about:
        told += ("More fit than were looked at: there are others.",)
    nearness = question.measured[0].range.nearness if question.measured else lambda _: 1.0
    ranked = sorted(found, key=lambda sized: (-nearness(sized.value), -sized.id))
    projects = projects_of(connection, {sized.project for sized in found})
    best = [(round(nearness(sized.value), 4), sized) for sized in ranked[:limit]]
    hits = sized_hits(store, connection, projects, best, question)
    return Answers(hits, len(found), about, told, question.understood, _facets(found, projects), words, store)


def _one_of(sized: Sized) -> tuple[int, str, str, str]:
    """Return what is one: a decision, product or finish is one in all of its rooms."""
    return sized.project, "" if sized.what in KINDS else sized.space, sized.what, sized.record


def _in_rooms_of(found: Iterable[Sized], rows: Iterable[Row]) -> list[Sized]:
    rooms = {(row.project, row.space) for row in rows}
    return [sized for sized in found if (sized.project, sized.space) in rooms]


def _facets(
    rows: Sequence[Row] | Sequence[Sized], projects: Mapping[int, Project], everywhere: Sequence[Row] = ()
) -> Mapping[str, tuple[tuple[str, int], ...]]:
    """Count what was found by kind, use, project and state.

    Args:
        rows: What was found, each once.
        projects: By number.
        everywhere: The same in all of its rooms, so that a text is counted once by each use of them.
    """
    counted: dict[str, Any] = {
        "kind": Counter(row.kind if isinstance(row, Row) else row.what for row in rows),
        "use": Counter(use for *_, use in {(*_text_of(row), row.use) for row in everywhere})
        if everywhere
        else Counter(row.use for row in rows),
        "project": Counter(projects[row.project].id for row in rows),
        "state": Counter(row.state for row in rows),
    }
    return MappingProxyType(
        {name: tuple(sorted(one.items(), key=lambda pair: (-pair[1], pair[0]))) for name, one in counted.items()}
    )
