"""What is said about forgetting: how much was found and erased, and what remains. No name stands in it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Final

from enfilade.archive.forgetting.bytes_of_names import SHORTEST_IN_BYTES
from enfilade.archive.forgetting.plan import Plan
from enfilade.listing import joined
from enfilade.project.names import Names
from enfilade.project.project import Project

__all__ = ["NOTES", "counted_words", "known_of", "remains"]


def known_of(states: Iterable[Project]) -> dict[str, int]:
    """Return how many names and the like are known over all states of a project, by what they are."""
    found: dict[str, set[str]] = {what: set() for what in _SINGLE}
    for state in states:
        client = state.client
        found["names of the client"].update(client.names)
        found["names in the household"].update(person.name for person in state.household.people)
        found["addresses"].add(client.address)
        found["ways to reach the client"].add(client.contact)
        found["notes on the client"].add(client.notes)
    return {what: len(those - {""}) for what, those in found.items() if those - {""}}


NOTES: Final = "texts that name them, among needs, decisions, findings and answers"
_SINGLE: Final = {
    "names of the client": "name of the client",
    "names in the household": "name in the household",
    "addresses": "address",
    "ways to reach the client": "way to reach the client",
    "notes on the client": "note on the client",
    "photographs": "photograph",
    "issued documents": "issued document",
    NOTES: "text that names them, among needs, decisions, findings and answers",
}
_FOLDER: Final = (
    "The project's working folder is not part of this: name it in the same go, or remove it. Once the archive has "
    "forgotten the names, it cannot look for them there."
)
_ALWAYS: Final = (
    "Room sizes, things, decisions with their reasons and costs, findings, answers and lessons stay, without names. "
    "Whoever knows the house may still know it by its plan.",
    "Who designed, built and made it stays named, and so does who kept each version.",
    "Boxes, documents and drawings that were handed out, or lie beside the project (PROJECT-told), hold what they "
    "held: ask for them back, or ask that they be destroyed. A box that is taken in again brings everything back.",
    "Backups, copies of the archive elsewhere, other folders of the project, and what the disk has not written over "
    "yet hold what they held.",
    "A copy for students in another file was made without the client, but with the names that were known that day: "
    "release it anew, or remove the file.",
    "The archive records that a project was forgotten: the day, its id without names, by whom, and how many versions.",
)
_SEALS: Final = {
    True: "All seals were made anew, so that they no longer match those of earlier boxes.",
    False: "All seals would be made anew, so that they would no longer match those of earlier boxes.",
}


def counted_words(counts: Mapping[str, int]) -> str:
    """Return how many of each there are, as part of a sentence.

    >>> counted_words({"names of the client": 2, "addresses": 1, "photographs": 0})
    '2 names of the client and 1 address'
    """
    return joined([f"{count} {_SINGLE[what] if count == 1 else what}" for what, count in counts.items() if count])


def remains(plan: Plan, *, erased: bool, folder: bool, naming: int, more: Iterable[str] = ()) -> tuple[str, ...]:
    """Return in sentences what is left, or would be.

    Args:
        plan: What is forgotten.
        erased: It is done; otherwise it is only said.
        folder: The working folder is forgotten too.
        naming: How many other projects hold one of the names.
        more: What else was met.
    """
    said = [*more, *_ALWAYS, _SEALS[erased]]
    if not folder:
        said.insert(0, _FOLDER)
    if naming:
        alone = "they were left alone" if erased else "they would be left alone"
        those = "1 other project holds" if naming == 1 else f"{naming} other projects hold"
        said.append(f"{those} a word of these names, and may mean somebody else; {alone}.")
    said += _ordinary(plan.names)
    said += _short(plan.names)
    return tuple(said)


def _ordinary(names: Names) -> list[str]:
    if not names.ordinary:
        return []
    count = (
        "1 name is an ordinary word" if len(names.ordinary) == 1 else f"{len(names.ordinary)} names are ordinary words"
    )
    return [f"{count} too, which stays wherever it is not written as a name: read the texts once more."]


def _short(names: Names) -> list[str]:
    count = sum(len(word) < SHORTEST_IN_BYTES for word in names.telling)
    if not count:
        return []
    those = "1 name has" if count == 1 else f"{count} names have"
    return [
        f"{those} so few letters that pictures and fonts beside the records cannot be looked through for "
        f"{'it' if count == 1 else 'them'}: a logo may bear one."
    ]
