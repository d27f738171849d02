"""What can be searched of a project: its sentences, each with the record that it stands in."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Final, NamedTuple, get_args

from enfilade.checks.sentences import sentence
from enfilade.checks.where_bought import where_bought
from enfilade.findings import Finding
from enfilade.project.choices import Answer, Decision, Finish, Product
from enfilade.project.project import Project
from enfilade.project.spaces import Use

__all__ = ["KINDS", "NOT_BOUGHT", "USES", "Note", "notes_of"]

KINDS: Final = ("need", "decision", "reason", "option", "product", "finish", "finding", "answer", "lesson")
"""Kinds of what can be found by words."""
USES: Final[tuple[str, ...]] = get_args(Use)
NOT_BOUGHT: Final = "not bought"
"""State of a product or finish that was weighed only, or whose things are removed."""


class Note(NamedTuple):
    """A text that can be found.

    Attributes:
        kind: One of `KINDS`.
        record: Id of the record, or of the finding.
        space: Id of the room; empty for the whole house.
        use: What that room is.
        state: Verdict, status or kind of answer; or empty.
        rule: Of a finding or an answer; or empty.
    """

    kind: str
    record: str
    space: str
    use: str
    state: str
    rule: str
    text: str


def notes_of(project: Project, findings: Sequence[Finding] = ()) -> list[Note]:
    """Return the texts of a project that can be found, in the order of the record.

    A text that is about several rooms stands once in each. A finding that does not apply says nothing that one could
    look for, and is left out.
    """
    return list(dict.fromkeys(_notes(project, findings)))


def _notes(project: Project, findings: Sequence[Finding]) -> Iterator[Note]:
    uses = {space.id: space.use for space in project.spaces}
    for need in project.brief.needs:
        yield from _in_rooms("need", need.id, need.spaces, uses, "", need.text)
    for decision in project.decisions:
        yield from _of_decision(decision, uses)
    yield from _bought(project, uses)
    names = {thing.id: thing.called for thing in project.things}
    for finding in findings:
        if finding.because != "does not apply":
            text = sentence(finding, project.show.units, names)
            where = finding.space or ""
            yield Note("finding", finding.id, where, uses.get(where, ""), finding.verdict, finding.rule, text)
    rooms = {finding.id: finding.space or "" for finding in findings}
    for answer in project.answers:
        where = rooms.get(answer.finding, "")
        rule = answer.finding.partition(":")[0]
        yield Note("answer", answer.id, where, uses.get(where, ""), answer.kind, rule, _answer_words(answer))


def _of_decision(decision: Decision, uses: Mapping[str, str]) -> Iterator[Note]:
    chosen = decision.chosen

    def told(kind: str, text: str) -> Iterator[Note]:
        return _in_rooms(kind, decision.id, decision.spaces, uses, decision.status, text)

    yield from told("decision", _joined(decision.title, chosen.text if chosen else "", decision.changed))
    yield from told("reason", decision.reason)
    for option in decision.options:
        if option is not chosen:
            yield from told("option", _joined(option.text, option.why_not))
    yield from told("lesson", decision.hindsight)


def _bought(project: Project, uses: Mapping[str, str]) -> Iterator[Note]:
    rooms, left_out = where_bought(project)
    not_bought = {(one.list, one.id) for one in left_out}
    for product in project.products:
        state = NOT_BOUGHT if ("products", product.id) in not_bought else ""
        where = rooms["products"].get(product.id, ())
        yield from _in_rooms("product", product.id, where, uses, state, _product_words(product))
    for finish in project.finishes:
        state = NOT_BOUGHT if ("finishes", finish.id) in not_bought else ""
        where = rooms["finishes"].get(finish.id, ())
        yield from _in_rooms("finish", finish.id, where, uses, state, _finish_words(finish))


def _product_words(product: Product) -> str:
    return _joined(product.name, product.maker, product.care, product.note)


def _finish_words(finish: Finish) -> str:
    return _joined(finish.name, finish.material, finish.maker, finish.note)


def _answer_words(answer: Answer) -> str:
    who = f" ({answer.by})" if answer.by else ""
    return f"{answer.kind.capitalize()}: {answer.reason}{who}" if answer.reason else f"{answer.kind.capitalize()}{who}"


def _joined(*texts: str) -> str:
    """Return texts as sentences, one after the other.

    >>> _joined("Island of oak", "", "It is warm.")
    'Island of oak. It is warm.'
    """
    parts = [text.strip() for text in texts if text.strip()]
    return " ".join(part if part[-1] in ".!?:;" or part is parts[-1] else f"{part}." for part in parts)


def _in_rooms(
    kind: str, record: str, spaces: Iterable[str], uses: Mapping[str, str], state: str, text: str
) -> Iterator[Note]:
    if text.strip():
        for space in spaces or ("",):
            yield Note(kind, record, space, uses.get(space, ""), state, "", text)
