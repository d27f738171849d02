"""Captions of what is said, as WebVTT and SubRip.

Source: WebVTT: The Web Video Text Tracks Format (W3C), sections on file structure and cue text. SubRip has no standard:
numbered blocks, times with a comma (common practice, no source).
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator, Sequence
from typing import Final

from enfilade.export.document import Document
from enfilade.export.issue import about_lines
from enfilade.listing import listed
from enfilade.trade.captions import USUAL, Cue, Limits, Said, cues, hurried
from enfilade.walkthrough.pages import TalkPart, Walkthrough
from enfilade.walkthrough.spoken import timeline

__all__ = ["part_cues", "srt_text", "vtt_text", "write"]

_NAMED: Final = 20


def write(document: Document) -> dict[str, bytes]:
    """Return `walkthrough.vtt` and `walkthrough.srt` for the whole; nothing when no line is said.

    Where the house is told in several parts there is a pair a part beside them, `walkthrough-1.vtt` and so on, each
    with times from its own beginning, for a film a part. The WebVTT files bear version and date, what changed and what
    is undecided in the note at their head. SubRip has no place that is not shown to whoever watches, so the SubRip
    files hold the captions alone; their WebVTT twins, written with them, say which issue they are.
    """
    pages = document.pages
    parts = [part for part in pages.spoken.parts if any(line.text.strip() for line in _said(part))]
    whole = cues(_whole(parts))
    if not whole:
        document.progress("nothing is said, so there are no captions")
        return {}
    files = _pair("walkthrough", whole, _about(pages, ""))
    if len(parts) > 1:
        for number, part in enumerate(parts, 1):
            title = f"Part {number} of {len(parts)}" + (f": {part.title}" if part.title else "")
            files |= _pair(f"walkthrough-{number}", part_cues(part), _about(pages, title))
    if fast := len(hurried(whole)):
        document.progress(f"{fast} {'caption goes' if fast == 1 else 'captions go'} by too fast to be read at ease")
    return files


def part_cues(part: TalkPart, limits: Limits = USUAL) -> tuple[Cue, ...]:
    """Return the captions of one part, timed from its beginning."""
    return cues(_said(part), limits)


def vtt_text(cues: Sequence[Cue], about: Sequence[str] = (), limits: Limits = USUAL) -> str:
    """Return captions as WebVTT.

    Args:
        cues: In order.
        about: Lines of a note at the head.
        limits: What a caption may be; a note tells which go by too fast.
    """
    blocks = ["WEBVTT"]
    notes = [*about, *_fast_words(cues, limits)]
    if notes:
        blocks.append("\n".join(["NOTE", *(_escaped(_plain(note)) or "-" for note in notes)]))
    for number, cue in enumerate(cues, 1):
        times = f"{_time(cue.start_ms, '.')} --> {_time(cue.end_ms, '.')}"
        blocks.append("\n".join([str(number), times, *map(_escaped, cue.lines)]))
    return "\n\n".join(blocks) + "\n"


def srt_text(cues: Sequence[Cue]) -> str:
    """Return captions as SubRip."""
    return "".join(
        "\n".join([str(number), f"{_time(cue.start_ms, ',')} --> {_time(cue.end_ms, ',')}", *cue.lines, "", ""])
        for number, cue in enumerate(cues, 1)
    )


def _pair(name: str, cues: Sequence[Cue], about: Sequence[str]) -> dict[str, bytes]:
    return {
        f"{name}.vtt": vtt_text(cues, about).encode("utf-8", "replace"),
        f"{name}.srt": srt_text(cues).encode("utf-8", "replace"),
    }


def _about(pages: Walkthrough, part: str) -> tuple[str, ...]:
    return tuple(words for words in (pages.title, part, *about_lines(pages)) if words)


def _said(part: TalkPart, from_s: float = 0.0) -> Iterator[Said]:
    for stretch in timeline(part):
        if stretch.kind == "line" and stretch.line is not None:
            yield Said(_plain(stretch.line.shown), from_s + stretch.start_s, max(0.0, stretch.end_s - stretch.start_s))


def _whole(parts: Sequence[TalkPart]) -> Iterator[Said]:
    from_s = 0.0
    for part in parts:
        yield from _said(part, from_s)
        from_s += part.seconds


def _plain(text: str) -> str:
    """Return text without signs that steer a player or end a line, and without the arrow that parts times."""
    kept = "".join(" " if sign == "\ufeff" or unicodedata.category(sign) in _STEERING else sign for sign in text)
    return kept.replace("-->", "\u2192")


_STEERING: Final = frozenset({"Cc", "Cs", "Zl", "Zp"})
"""Unicode general categories: control, surrogate, line and paragraph separator."""


def _escaped(text: str) -> str:
    return text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")


def _fast_words(cues: Sequence[Cue], limits: Limits) -> Iterator[str]:
    fast = hurried(cues, limits)
    if fast:
        numbers = listed([str(one.number) for one in fast], _NAMED)
        yield (f"Faster than {limits.most_cps:g} characters a second, or shorter than {limits.least_s:g} s: {numbers}")


def _time(milliseconds: int, point: str) -> str:
    seconds, ms = divmod(milliseconds, 1000)
    return f"{seconds // 3600:02d}:{seconds // 60 % 60:02d}:{seconds % 60:02d}{point}{ms:03d}"
