"""What fits on a slide: text is set smaller in steps, and goes on on a second slide where the smallest does not do."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby
from typing import Final, Literal

from enfilade.drawings.writing import folded, text_width

__all__ = ["HIGH", "PLAN_HIGH", "PLAN_WIDE", "STEPS", "WIDE", "Block", "Kind", "Role", "Slide", "fitted"]

Kind = Literal["cover", "text", "view", "drawing", "plan", "picture", "decision"]
Role = Literal["lead", "text", "item", "other", "small"]

# The stage: what `slides.css` sets, in its own units, of which 1280 go to the width of a slide.
WIDE: Final = 1152.0
HIGH: Final = 520.0
"""Room under a title of one line."""
PLAN_WIDE: Final = 700.0
PLAN_HIGH: Final = 540.0
_BESIDE: Final = 400.0
"""Room for words beside a plan."""
_TYPE: Final = 30.0
STEPS: Final = (1.0, 0.86, 0.74)
"""How much smaller the type of a slide is set, the largest first."""
_TITLES: Final = ((44.0, 2), (32.0, 3), (24.0, 5))
"""Type of a title, and how many lines it may take."""
_BESIDE_VIEW: Final = 168.0
_TITLES_BESIDE: Final = ((30.0, 4), (22.0, 7), (15.0, 16))
"""Likewise beside a perspective, which fills the height of the slide."""
_SIZES: Final[dict[Role, float]] = {"lead": 1.2, "text": 1.0, "item": 0.9, "other": 0.84, "small": 0.76}
_LINE: Final = 1.4
_GAP: Final = 0.5
"""Under a block, in its own type."""
_SAFE: Final = 0.94
"""Lines are counted on the safe side, since a studio's own face may run wider (own choice)."""
_INDENT: Final = 1.2
_LONGEST_WORD: Final = 60
_LONGEST_NAME: Final = 48
_NAMES: Final = 0.5
_MOST: Final = 8
"""Slides on which one text goes on; what is longer stands in the walkthrough (own choice)."""
_REST: Final = "The rest stands in the walkthrough."


@dataclass(frozen=True)
class Block:
    """A paragraph, or an item of a list, with the words before it that are set bold."""

    role: Role
    text: str
    label: str = ""


@dataclass(frozen=True)
class Slide:
    """One slide.

    Attributes:
        kind: How it is set out.
        title: Its heading.
        kicker: The room that it belongs to.
        blocks: Its text.
        drawing: SVG text of the drawings layer.
        picture: A data address.
        caption: What a drawing or a picture shows, in words.
        names: What the tags on a plan stand for.
        notes: What is said meanwhile.
        step: Index into `STEPS`.
        title_step: Index into the steps of titles.
        part: Which part of a text that goes on over several slides, and of how many; 0 of 0 for a whole one.
    """

    kind: Kind
    title: str
    kicker: str = ""
    blocks: tuple[Block, ...] = ()
    drawing: str = ""
    picture: str = ""
    caption: str = ""
    names: tuple[tuple[str, str], ...] = ()
    notes: tuple[str, ...] = ()
    step: int = 0
    title_step: int = 0
    part: tuple[int, int] = (0, 0)

    def groups(self) -> tuple[tuple[Role, tuple[Block, ...]], ...]:
        """Return the blocks, those of one role that follow each other together, so that lists are set as lists."""
        return tuple((role, tuple(some)) for role, some in groupby(self.blocks, key=lambda block: block.role))


def fitted(slides: Iterable[Slide]) -> Iterator[Slide]:
    """Yield slides whose text fits, more of them where it has to go on."""
    for slide in slides:
        titled, room = _titled(slide)
        if titled.kind == "plan":
            yield from _beside_plan(titled, room)
        elif titled.blocks:
            yield from _set(titled, WIDE, room)
        else:
            yield titled


def _titled(slide: Slide) -> tuple[Slide, float]:
    """Return a slide with its title in the largest type that fits, and the height that is left under it."""
    wide = (_BESIDE_VIEW if slide.kind == "view" else WIDE) * _SAFE
    titles = _TITLES_BESIDE if slide.kind == "view" else _TITLES
    for step, (size, most) in enumerate(titles):
        lines = _lines(slide.title, wide / 1.09, size)
        if len(lines) <= most or step == len(titles) - 1:
            break
    title = slide.title if len(lines) <= most else " ".join(lines[:most]).rstrip() + "\u2026"
    taken = (min(len(lines), most) - 1) * size * 1.2 + (_TITLES[0][0] - size) * -1.2
    return replace(slide, title=title, title_step=step), HIGH - max(0.0, taken)


def _beside_plan(slide: Slide, room: float) -> Iterator[Slide]:
    """Yield a plan with its words beside it; words that find no room get a slide of their own."""
    names = tuple((tag, _cut(name)) for tag, name in slide.names)
    named = _names_height(names)
    alone = replace(slide, kind="text", drawing="", names=(), notes=())
    steps = [step for step, scale in enumerate(STEPS) if _height(slide.blocks, _BESIDE, scale) + named <= room]
    if steps:
        yield replace(slide, names=names, step=steps[0])
        return
    yield replace(slide, blocks=(), names=names if named <= room else ())
    if slide.blocks:
        yield from _set(alone, WIDE, room)
    if named > room:
        yield from _set(
            replace(alone, blocks=tuple(Block("other", name, tag) for tag, name in slide.names)), WIDE, room
        )


def _cut(name: str) -> str:
    return name if len(name) <= _LONGEST_NAME else name[: _LONGEST_NAME - 1].rstrip() + "\u2026"


def _names_height(names: Sequence[tuple[str, str]]) -> float:
    """Return how high the names of a plan stand, in two columns."""
    size = _TYPE * _NAMES
    wide = (_BESIDE - size) / 2 - size * 4.0
    tags = [len(_lines(tag, size * 3.2, size * 1.09)) for tag, _ in names]
    lines = [max(tag, len(_lines(name, wide * _SAFE, size))) for tag, (_, name) in zip(tags, names, strict=True)]
    return (sum(lines) / 2 + max(lines, default=0)) * size * 1.3


def _set(slide: Slide, wide: float, room: float) -> Iterator[Slide]:
    for step, scale in enumerate(STEPS):
        if _height(slide.blocks, wide, scale) <= room:
            yield replace(slide, step=step)
            return
    step = len(STEPS) - 1
    sheets = list(_sheets(slide.blocks, wide, room, STEPS[step]))
    if len(sheets) > _MOST:
        sheets = [*sheets[: _MOST - 1], (*sheets[_MOST - 1][:-1], Block("small", _REST))]
    for number, blocks in enumerate(sheets, 1):
        notes = slide.notes if number == 1 else ()
        yield replace(slide, blocks=blocks, step=step, notes=notes, part=(number, len(sheets)))


def _sheets(blocks: Sequence[Block], wide: float, room: float, scale: float) -> Iterator[tuple[Block, ...]]:
    """Yield the blocks of one slide after another; a block longer than a slide is broken at its lines."""
    here: list[Block] = []
    left = room
    for block in _short(blocks, wide, room, scale):
        high = _height((block,), wide, scale)
        if here and high > left:
            yield tuple(here)
            here, left = [], room
        here.append(block)
        left -= high
    if here:
        yield tuple(here)


def _short(blocks: Iterable[Block], wide: float, room: float, scale: float) -> Iterator[Block]:
    for block in blocks:
        if _height((block,), wide, scale) <= room:
            yield block
            continue
        size = _TYPE * scale * _SIZES[block.role]
        most = max(1, int(room / (size * _LINE)) - 2)
        lines = _block_lines(block, wide, size, bare=True)
        for n in range(0, len(lines), most):
            yield replace(block, text=" ".join(lines[n : n + most]), label=block.label if n == 0 else "")


def _height(blocks: Iterable[Block], wide: float, scale: float) -> float:
    return sum(_block_height(block, wide, scale) for block in blocks)


def _block_height(block: Block, wide: float, scale: float) -> float:
    size = _TYPE * scale * _SIZES[block.role]
    return (len(_block_lines(block, wide, size)) * _LINE + _GAP) * size


def _block_lines(block: Block, wide: float, size: float, *, bare: bool = False) -> list[str]:
    indent = _INDENT * size if block.role in ("item", "other") else 0.0
    text = block.text if bare else f"{block.label} {block.text}".strip()
    # Bold words run wider; a label is short, so its whole line is counted a little longer.
    return _lines(text, (wide - indent) * _SAFE - (text_width(block.label, size) * 0.09), size)


def _lines(text: str, wide: float, size: float) -> list[str]:
    words = (word[n : n + _LONGEST_WORD] for word in text.split() for n in range(0, len(word), _LONGEST_WORD))
    return folded(" ".join(words), max(wide, size * 4), size) or [""]
