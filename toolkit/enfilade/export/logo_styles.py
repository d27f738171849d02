"""The style sheet that drawing programs put into an SVG, written onto the shapes that it is about."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from enfilade.errors import Refused

__all__ = ["Styles", "styles_of"]

_REMARK: Final = re.compile(r"/\*.*?\*/", re.DOTALL)
_RULE: Final = re.compile(r"([^{}]*)\{([^{}]*)\}")
_LONGEST: Final = 4000
_SELECTOR: Final = re.compile(r"[.#]?[A-Za-z][\w-]*")


@dataclass(frozen=True)
class Styles:
    """Rules in their order: a tag, `.class` or `#id`, and what it sets."""

    rules: tuple[tuple[str, str], ...] = ()

    def of(self, tag: str, id: str, classes: Iterable[str], own: str) -> str:
        """Return the style of one shape: what its tag, its classes and its id ask for, and then its own."""
        names = ({tag}, {f".{name}" for name in classes}, {f"#{id}"})
        found = [words for among in names for selector, words in self.rules if selector in among]
        return ";".join([*found, own] if own else found)


def styles_of(sheets: Iterable[str]) -> Styles:
    """Return the rules of style sheets that speak of tags, classes and ids alone.

    Raises:
        Refused: One says more than that.
    """
    rules: list[tuple[str, str]] = []
    for sheet in sheets:
        if len(sheet) > _LONGEST:
            raise Refused("the logo's style sheet is too long", expected=f"at most {_LONGEST} signs")
        text = _REMARK.sub("", sheet)
        if _RULE.sub("", text).strip() or "@" in text:
            raise Refused("the logo's style sheet cannot be followed", expected="rules for classes alone")
        for selectors, words in _RULE.findall(text):
            for selector in selectors.split(","):
                if not _SELECTOR.fullmatch(selector.strip()):
                    raise Refused(
                        f"the logo's style sheet speaks of {selector.strip()[:40]!r}", expected="classes alone"
                    )
                rules.append((selector.strip(), words.strip().rstrip(";")))
    return Styles(tuple(rules))
