"""A question with figures, in restricted English.

Such as `islands between 2.4 and 3.0 m with four seats whose aisle fell short`. It is read piece by piece; what is left
over are words that must stand in the same room. How it was read is said, so that a misreading is seen.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Final

from enfilade.archive.finding.amounts import AMOUNT, COMPARED, COUNT, Amount, Range, amount_of, count_of, range_of
from enfilade.archive.finding.nouns import SEATED, noun_in
from enfilade.archive.finding.topics import Topic, topics_of
from enfilade.errors import Refused
from enfilade.lengths import System

__all__ = ["ADJECTIVES", "COMPARING", "FILLERS", "Measured", "Question", "question_in"]


@dataclass(frozen=True)
class Measured:
    """A figure that is asked for, by its name."""

    name: str
    range: Range


@dataclass
class Question:
    """A question with figures.

    Attributes:
        kinds: Kinds of things, or `room`, `decision`, `product`, `finish`.
        use: Of the room; empty: any.
        measured: What must hold of one and the same.
        topics, verdict: What was found of it; verdict is `met`, `falls short` or `accepted`.
        rest: Words that must stand in the same room.
        understood: How it was read.
        system: Units for the answer.
    """

    kinds: tuple[str, ...] = ()
    use: str = ""
    measured: list[Measured] = field(default_factory=list)
    topics: tuple[Topic, ...] = ()
    verdict: str = ""
    rest: str = ""
    understood: str = ""
    system: System = "us"


_BOUND: Final = {phrase: how for how, phrases in COMPARED.items() for phrase in phrases}
ADJECTIVES: Final = {"long": "length", "wide": "width", "deep": "depth", "high": "height", "tall": "height"}
COMPARING: Final = {
    "longer": ("over", "length"), "wider": ("over", "width"), "deeper": ("over", "depth"), "higher": ("over", "height"),
    "taller": ("over", "height"), "shorter": ("under", "length"), "narrower": ("under", "width"),
    "shallower": ("under", "depth"), "lower": ("under", "height"),
}  # fmt: skip
_NOUNS: Final = "length|width|depth|height|area|cost|price|ceilings?|ceiling height"
_AMOUNT_OF: Final = rf"(?:(?P<noun>{_NOUNS})\s+(?:of\s+|is\s+|are\s+)?)?"
_VERDICTS: Final = (
    (r"(?:fell|falls|fall) short", "falls short"), (r"(?:was|were|is|are) (?:met|kept)|(?:held|holds|hold)", "met"),
    (r"(?:was|were|is|are) accepted", "accepted"),
)  # fmt: skip
_TOLD: Final = {"falls short": "fell short", "met": "held", "accepted": "was accepted"}
FILLERS: Final = frozenset(
    ("with", "that", "which", "whose", "is", "are", "was", "were", "has", "have", "of", "a", "an", "the", "and", "in",
     "at", "by", "its", "their")
)  # fmt: skip
_READ: Final = {
    "length": "Length is the longer side, be it the width or the depth on record.",
    "width": "Width is the shorter side of a room or a top, of anything else the width on record.",
}
_COMPARE: Final = "|".join(
    [*(rf"{word} than" for word in COMPARING), *sorted(map(re.escape, _BOUND), key=len, reverse=True)]
)
_LIKE: Final = rf"(?:\s+(?P<adj>{'|'.join(ADJECTIVES)})\b)?"
_BETWEEN: Final = re.compile(
    rf"{_AMOUNT_OF}(?P<key>(?:between|from)\s+)?(?<![\w.,/])(?P<a>{AMOUNT})\s*(?P<to>and|to|-|\u2013)\s*(?P<b>{AMOUNT}){_LIKE}"
)
_SINGLE: Final = re.compile(rf"{_AMOUNT_OF}(?:(?<!\w)(?P<how>{_COMPARE})\s*)?(?<![\w.,/])"
                            rf"(?P<a>{AMOUNT})(?![\w/])(?:\s+(?P<adj>{'|'.join(ADJECTIVES)})\b)?")  # fmt: skip
_HOW: Final = "|".join(sorted(map(re.escape, _BOUND), key=len, reverse=True))
_PIECES: Final = re.compile(
    rf"(?:(?:with|has|having|for)\s+)?(?:between\s+(?P<a>{COUNT})\s+and\s+(?P<b>{COUNT})|(?:(?P<how>{_HOW})\s+)?(?P<n>{COUNT})"
    rf"(?P<more>\s+or\s+(?:more|fewer|less))?)\s+(?P<what>seats?|seated|places|people|bins?)\b"
)
_WITHOUT: Final = re.compile(r"without\s+(?:any\s+)?(?P<what>seats|places|bins)\b")
_SEATING: Final = re.compile(rf"(?:seating|that seats?)\s+(?:(?P<how>{_HOW})\s+)?(?P<n>{COUNT})\b")
_UNIT: Final = re.compile(r"[a-z\"'][a-z0-9\u00b2. ]*$|['\"]$")


def question_in(typed: str) -> Question | None:
    """Return a question with figures; None where what was typed is words alone.

    Raises:
        Refused: A figure names no unit where one is needed, or a rule is asked for that no title names.
    """
    text = typed.lower().replace("\u201d", '"').replace("\u2033", '"').replace("\u2032", "'").replace("\u2019", "'")
    text, quoted = _without_phrases(text)
    asked = Question()
    text = _topic(text, asked)
    text = _pieces(text, asked)
    noun = noun_in(text)
    if noun is not None:
        asked.kinds, asked.use, word, (start, end) = noun
        text = f"{text[:start]} \x00 {text[end:]}"
    elif asked.measured:
        asked.kinds = SEATED if asked.measured[0].name == "seats" else ("waste",)
        word = "things to sit at" if asked.kinds is SEATED else "waste"
    else:
        return None
    text = _amounts(text, asked, word)
    if not asked.measured and not asked.verdict:
        return None
    left = [one for one in text.replace("\x00", " ").split() if one.strip(",.;:?") not in FILLERS]
    asked.rest = " ".join([*left, *quoted]).strip()
    asked.understood = _understood(asked, word)
    return asked


def _without_phrases(text: str) -> tuple[str, list[str]]:
    """Take out quoted phrases; a mark right behind a figure is inches."""
    quoted: list[str] = []

    def taken(match: re.Match[str]) -> str:
        quoted.append(f'"{match[1]}"')
        return " "

    return re.sub(r'(?<![\d/])["\u201c]([^"\u201c\u201d]*[^\W\d][^"\u201c\u201d]*)["\u201d]', taken, text), quoted


def _topic(text: str, asked: Question) -> str:
    for pattern, verdict in _VERDICTS:
        found = re.search(rf"\bwhose\s+(?P<topic>[^,]+?)\s+(?:{pattern})\b", text)
        if found is None:
            continue
        asked.topics, asked.verdict = topics_of(found["topic"]), verdict
        if not asked.topics:
            raise Refused(
                f"no rule is about {found['topic']!r}",
                expected="a word of a rule's title, such as aisle, landing, seat, walkway",
            )
        return text[: found.start()] + " " + text[found.end() :]
    return text


def _pieces(text: str, asked: Question) -> str:
    def taken(match: re.Match[str]) -> str:
        groups = match.groupdict()
        name = "bins" if groups.get("what", "seats").startswith("bin") else "seats"
        asked.measured.append(Measured(name, _count_range(groups)))
        return " "

    for pattern in (_PIECES, _SEATING, _WITHOUT):
        text = pattern.sub(taken, text, count=1)
    return text


def _count_range(groups: dict[str, str | None]) -> Range:
    if groups.get("a"):
        return range_of("", *(Amount("number", float(count_of(groups[end] or "")), 0.0, "us") for end in "ab"))
    number = count_of(groups.get("n") or "no")
    how = _BOUND.get(groups.get("how") or "", "")
    if more := (groups.get("more") or "").split():
        how = "at least" if more[-1] == "more" else "at most"
    return range_of(how, Amount("number", float(number), 0.0, "us"))


def _amounts(text: str, asked: Question, word: str) -> str:
    def between(match: re.Match[str]) -> str:
        feet_inches = match["to"] == "-" and re.search(r"(?:'|ft|feet|foot)$", match["a"].strip())
        if not match["key"] and (match["to"] == "and" or feet_inches):
            return match[0]
        unit = _UNIT.search(match["b"].strip())
        first = amount_of(match["a"], unit[0] if unit else "")
        return _measured(asked, word, match, "", first, amount_of(match["b"]))

    def single(match: re.Match[str]) -> str:
        how = match["how"] or ""
        if not how and not match["noun"] and re.fullmatch(r"[\d,.]+(?:\s+\d+)?", match["a"]) and not _money(asked):
            return match[0]  # a plain number among words is a word
        return _measured(asked, word, match, how, amount_of(match["a"]), None)

    return _SINGLE.sub(_once(single), _BETWEEN.sub(_once(between), text))


def _once(taken: Callable[[re.Match[str]], str], most: int = 4) -> Callable[[re.Match[str]], str]:
    left = [most]

    def some(match: re.Match[str]) -> str:
        left[0] -= 1
        return taken(match) if left[0] >= 0 else match[0]

    return some


def _money(asked: Question) -> bool:
    return asked.kinds[0] in ("decision", "product", "finish")


def _measured(asked: Question, word: str, match: re.Match[str], how: str, first: Amount, second: Amount | None) -> str:
    than = COMPARING.get(how.removesuffix(" than"))
    how, name = than if than else (_BOUND.get(how, ""), match["noun"] or "")
    name = ADJECTIVES.get(match["adj"] or "", name)
    name = "height" if name.startswith("ceiling") else {"price": "cost"}.get(name, name)
    if not name:
        name = "cost" if _money(asked) else "area" if first.sort == "area" else "length"
        if name == "length" and word.startswith("ceiling"):
            name = "height"
    expected = {"cost": "number", "area": "area"}.get(name, "length")
    for amount in filter(None, (first, second)):
        if amount.sort != expected:
            raise _unlike(amount, expected, match, name)
        if amount.sort != "number":
            asked.system = amount.system
    asked.measured.append(Measured(name, range_of(how, first, second)))
    return " "


def _unlike(amount: Amount, expected: str, match: re.Match[str], name: str) -> Refused:
    typed = match[0].strip()
    if amount.sort == "number":
        units = "12 m2 or 130 sq ft" if expected == "area" else "m, mm, cm, ft or in: 2.4 m, 96 in, 8 ft 6 in"
        return Refused(f"{typed!r} has no unit", expected=units, do="write the unit, or put words in quotes")
    return Refused(f"{typed!r} is no {name}", expected=f"a {expected}", do="write another unit")


def _understood(asked: Question, word: str) -> str:
    parts = [f"{one.name} {one.range.words}" for one in asked.measured]
    if asked.verdict:
        titles = sorted({title for _, _, title in asked.topics})
        more = f" and {len(titles) - 3} more" if len(titles) > 3 else ""
        parts.append(f"for which {' / '.join(titles[:3])}{more} {_TOLD[asked.verdict]}")
    if asked.rest:
        parts.append(f"in a room where these words stand: {asked.rest}")
    head = word if not asked.use else f"{word} (rooms)"
    names = dict.fromkeys(one.name for one in asked.measured if one.name in _READ)
    return f"Read as: {head}, " + ", and ".join(parts) + "." + "".join(f" {_READ[name]}" for name in names)
