"""Answers as a notebook shows them: each with the plan of its room in small. All text is escaped."""

from __future__ import annotations

from functools import cache
from html import escape
from typing import TYPE_CHECKING, Any, Final

from enfilade.archive.finding.answers import Answers, Hit, state_words
from enfilade.archive.finding.plans import plan_of
from enfilade.archive.finding.told import count_words
from enfilade.drawings.fonts import font_faces
from enfilade.errors import EnfiladeError
from enfilade.project.readable import readable
from enfilade.resources import shipped

if TYPE_CHECKING:
    import jinja2

__all__ = ["answers_html", "answers_page"]

_LONGEST: Final = 600
_LONGEST_NAME: Final = 120
_MOST_PLANS: Final = 20
_MOST_VALUES: Final = 8
_FACETS: Final = {"kind": "Kinds", "use": "Rooms", "state": "States", "project": "Projects"}
_PAGE: Final = """<!doctype html>
<html lang="en">
<head><meta charset="utf-8"><meta name="viewport" content="width=device-width"><title>Found: {title}</title>
<style>{fonts}</style></head>
<body>
<main>
{body}
</main>
</body>
</html>
"""
# Control characters that no HTML document may hold, and the marks that would turn the direction of what follows.
_FORBIDDEN: Final = dict.fromkeys(
    (*range(9), 11, 12, *range(14, 32), *range(127, 160), *range(0xD800, 0xE000), *range(0x202A, 0x202F),
     *range(0x2066, 0x206A), 65534, 65535),
    "\ufffd",
)  # fmt: skip


def answers_html(answers: Answers) -> str:
    """Return answers as a piece of HTML that loads nothing."""
    markup = _environment().get_template("answers.html.j2").render(
        asked=_cut(answers.asked, _LONGEST_NAME),
        count=count_words(answers),
        notes=[one for one in (answers.understood, *answers.read_as) if one],
        hits=[_shown(answers, hit, at) for at, hit in enumerate(answers.hits)],
        facets=list(_facets(answers)),
    )  # fmt: skip
    return markup.translate(_FORBIDDEN)


def answers_page(answers: Answers) -> str:
    """Return answers as a page of their own, for a browser."""
    title = escape(_cut(answers.asked, _LONGEST_NAME))
    return _PAGE.format(title=title, fonts=font_faces(), body=answers_html(answers))


@cache
def _environment() -> jinja2.Environment:
    import jinja2
    from markupsafe import Markup

    made = jinja2.Environment(
        loader=jinja2.FileSystemLoader(str(shipped("templates", "archive"))),
        autoescape=True,
        undefined=jinja2.StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    made.filters["drawing"] = Markup
    return made


def _shown(answers: Answers, hit: Hit, at: int) -> dict[str, Any]:
    version = f"version {hit.version}" if hit.until is None else f"until version {hit.version}"
    return {
        "kind": hit.kind,
        "state": state_words(hit.state),
        "text": _cut(hit.text, _LONGEST),
        "project": _cut(hit.name or hit.project, _LONGEST_NAME),
        "room": _cut(hit.room, _LONGEST_NAME) or "the whole house",
        "version": version,
        "plan": _plan(answers, hit) if at < _MOST_PLANS else "",
    }


def _plan(answers: Answers, hit: Hit) -> str:
    if answers._store is None:
        return ""
    try:
        return plan_of(answers._store, hit)
    except EnfiladeError:
        return ""  # A version that cannot be read hides no answer.


def _facets(answers: Answers) -> Any:
    for name, title in _FACETS.items():
        pairs = [(value, count) for value, count in answers.facets.get(name, ()) if value or name == "use"]
        if len(pairs) < 2:
            continue
        words = state_words if name == "state" else str
        told = ", ".join(
            f"{_cut(words(value), 40) or 'the whole house'} {count:,}" for value, count in pairs[:_MOST_VALUES]
        )
        more = f" and {len(pairs) - _MOST_VALUES:,} more" if len(pairs) > _MOST_VALUES else ""
        yield {"name": title, "told": told + more}


def _cut(text: str, longest: int) -> str:
    text = readable(" ".join(text.split()), longest + 1)
    return text if len(text) <= longest else text[: longest - 1].rstrip(". ") + "\u2026"
