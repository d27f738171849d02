"""What stands under a drawing: notes, keys, scale bar and title block."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from enfilade.drawings.items import Scene
from enfilade.drawings.shapes import mark_markup, number, text_markup
from enfilade.drawings.style import GREY, INK, PAPER, TEXT
from enfilade.drawings.writing import cut, folded, text_width
from enfilade.lengths import FOOT_MM, System
from enfilade.listing import tag_order

__all__ = ["Block", "footer_block", "key_block", "scale_bar"]

_LINE: Final = 15.0
_COLUMN: Final = 300.0
_TAGS_A_LINE: Final = 4


@dataclass(frozen=True, slots=True)
class Block:
    """Markup that starts at y = 0, and its height [px]."""

    markup: str
    height: float


def key_block(scene: Scene, things: Sequence[tuple[str, str]], width: float, system: System) -> Block:
    """Return the key: numbered findings, findings without a place, names that did not fit, and notes; in columns."""
    columns = max(1, int(width // (_COLUMN * 1.25)))
    parts: list[str] = []
    y = 0.0
    numbered = [(str(k.number), k.verdict, k.text) for k in scene.key if k.number]
    whole = [("", k.verdict, k.text) for k in scene.key if not k.number]
    for heading, entries in (("", numbered), (scene.about, whole)):
        if not entries:
            continue
        if heading:
            parts.append(text_markup(heading, (0, y + _LINE / 2), TEXT["key"], anchor="start", bold=True))
            y += _LINE + 3
        block = _columns(entries, columns, width, 28.0)
        parts.append(f'<g transform="translate(0 {number(y)})">{block.markup}</g>')
        y += block.height + 4
    if things:
        named = _together(things)
        longest = max(max(text_width(tags, TEXT["key"], True) for tags, _ in named) + 12, 26.0)
        many = max(1, int(width // max(160.0, longest + 96)))
        block = _columns([(tags, "", text) for tags, text in named], many, width, longest)
        parts.append(f'<g transform="translate(0 {number(y)})">{block.markup}</g>')
        y += block.height + 4
    for note in (*scene.notes, *(("Strings of dimensions are in millimetres.",) if system == "metric" else ())):
        for line in folded(note, width, TEXT["note"]):
            parts.append(text_markup(line, (0, y + 7), TEXT["note"], anchor="start", colour=GREY))
            y += 13
    return Block("".join(parts), y)


def _together(things: Sequence[tuple[str, str]]) -> list[tuple[str, str]]:
    """Return tags and what they stand for; several that stand for the same are told on one line, few at a time.

    >>> _together([("K-3", "base cabinet"), ("K-1", "base cabinet"), ("K-2", "cup dresser")])
    [('K-1, K-3', 'base cabinet'), ('K-2', 'cup dresser')]
    """
    tags: dict[str, list[str]] = {}
    for tag, text in sorted(set(things), key=tag_order):
        tags.setdefault(text, []).append(tag)
    return [
        (", ".join(some[n : n + _TAGS_A_LINE]), text if n == 0 else "")
        for text, some in tags.items()
        for n in range(0, len(some), _TAGS_A_LINE)
    ]


def _columns(entries: Sequence[tuple[str, str, str]], columns: int, width: float, indent: float) -> Block:
    each = width / columns
    wrapped = [folded(text, each - indent - 14, TEXT["key"]) for _, _, text in entries]
    heights = [max(_LINE * len(lines), 22.0 if verdict else _LINE) + (4 if verdict else 0)
               for lines, (_, verdict, _) in zip(wrapped, entries, strict=True)]  # fmt: skip
    goal = sum(heights) / columns
    parts, x, y, tallest, column = [], 0.0, 0.0, 0.0, 0
    for (tag, verdict, _), lines, height in zip(entries, wrapped, heights, strict=True):
        if y + height / 2 > goal and y > 0 and column < columns - 1:
            column, x, y = column + 1, x + each, 0.0
        first = y + (11.0 if verdict else _LINE / 2)
        if verdict:
            parts.append(mark_markup((x + 11, first), tag, verdict, 7.5 if tag else 4.0))  # type: ignore[arg-type]
        else:
            parts.append(text_markup(tag, (x, first), TEXT["key"], anchor="start", bold=True))
        for n, line in enumerate(lines):
            parts.append(text_markup(line, (x + indent, first + n * _LINE), TEXT["key"], anchor="start"))
        y += height
        tallest = max(tallest, y)
    return Block("".join(parts), tallest)


def scale_bar(scale: float, system: System) -> tuple[str, float]:
    """Return a bar of four fields with its figures, about 120 px long, and its length [px]."""
    unit_mm, name = (FOOT_MM, "ft") if system == "us" else (1000.0, "m")
    steps = (0.5, 1, 2, 4, 8, 10, 20, 40, 80, 100, 200, 400, 1000, 2000)
    whole = min(steps, key=lambda step: abs(step * unit_mm * scale - 120))
    length = whole * unit_mm * scale
    field = length / 4
    parts = []
    for n in range(4):
        fill = INK if n % 2 == 0 else PAPER
        parts.append(
            f'<rect x="{number(n * field)}" y="0" width="{number(field)}" height="4.5" fill="{fill}" '
            f'stroke="{INK}" stroke-width="0.5"/>'
        )
    for share in (0, 0.5, 1):
        text = f"{whole * share:g}" + (f" {name}" if share == 1 else "")
        parts.append(text_markup(text, (length * share, 12.5), TEXT["note"]))
    return "".join(parts), length


def footer_block(scene: Scene, title: str, scale_words: str, scale: float, system: System, width: float) -> Block:
    """Return the title block: a hairline, the title, whose drawing it is, scale and bar."""
    bar, bar_length = scale_bar(scale, system)
    beside = max(bar_length, text_width(scale_words, TEXT["note"])) + 40
    narrow = width - beside < 220
    room = width if narrow else width - beside
    date = f"{scene.date}" if scene.date else ""
    facts = [scene.project, scene.stage, f"version {scene.version}" if scene.version else "", date, scene.studio]
    parts = [f'<line x1="0" y1="0.5" x2="{number(width)}" y2="0.5" stroke="{INK}" stroke-width="0.5"/>']
    parts.append(text_markup(cut(title, room, TEXT["title"] * 1.06), (0, 18), TEXT["title"], anchor="start", bold=True))
    y = 36.0
    for line in folded(" \u00b7 ".join(fact for fact in facts if fact), room, TEXT["key"])[:3]:
        parts.append(text_markup(line, (0, y), TEXT["key"], anchor="start", colour=GREY))
        y += 14
    left, top = (4.0, y + 4) if narrow else (width - bar_length - 16, 12.0)
    parts.append(f'<g transform="translate({number(left)} {number(top)})">{bar}</g>')
    if narrow:
        parts.append(text_markup(scale_words, (0, top + 28), TEXT["note"], anchor="start", colour=GREY))
        return Block("".join(parts), top + 36)
    parts.append(text_markup(scale_words, (left + bar_length, top + 27), TEXT["note"], anchor="end", colour=GREY))
    return Block("".join(parts), max(y, top + 36) - 6)
