"""Documents for tests of what is printed: small houses, a film made by hand, and what a PDF says of itself by pypdf."""

from __future__ import annotations

import io
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Any

import pypdf

from enfilade.export.document import Document
from enfilade.export.tell import told
from enfilade.project.fields import Audience
from enfilade.project.project import Project
from enfilade.walkthrough.film import Film, ShotPart
from enfilade.walkthrough.pages import Drawing, Spoken, SpokenPart, StopPart, TalkPart

__all__ = [
    "SIX_SHOTS", "bookmarks", "document", "filmed", "fonts", "paths", "picture", "read", "shot", "spoken_lines",
    "squeezed", "tags", "talk", "text_of",
]  # fmt: skip


def document(project: Project, audience: Audience = "client") -> Document:
    """Return what documents of a house are written from."""
    return told(project, audience)


def read(data: bytes) -> pypdf.PdfReader:
    return pypdf.PdfReader(io.BytesIO(data), strict=True)


def text_of(data: bytes) -> str:
    """Return all words of a PDF, without the places at which long words may break."""
    pages = [page.extract_text() for page in read(data).pages]
    return " ".join(" ".join(pages).replace("\u200b", "").split())


def squeezed(text: str) -> str:
    """Return text without its spaces and what stands for none, so that where lines break does not matter."""
    return "".join(text.replace("\u200b", "").replace("\u2060", "").split())


def bookmarks(reader: pypdf.PdfReader) -> list[str]:
    """Return the titles of all bookmarks, in order."""

    def flat(entries: Sequence[Any]) -> Iterator[str]:
        for entry in entries:
            if isinstance(entry, list):
                yield from flat(entry)
            else:
                yield str(entry.title)

    return list(flat(reader.outline))


def fonts(reader: pypdf.PdfReader) -> dict[str, bool]:
    """Return each font that a page or a form in it uses, and whether its program is inside the file."""
    found: dict[str, bool] = {}
    for number in range(1, int(reader.trailer["/Size"])):
        thing = reader.get_object(number)
        if isinstance(thing, dict) and thing.get("/Type") == "/FontDescriptor":
            found[str(thing["/FontName"])] = any(key in thing for key in ("/FontFile", "/FontFile2", "/FontFile3"))
    return found


def tags(reader: pypdf.PdfReader) -> dict[str, int]:
    """Return how often each kind of element stands in the structure tree."""
    counts: dict[str, int] = {}
    waiting = [reader.trailer["/Root"]["/StructTreeRoot"]]
    while waiting:
        node = waiting.pop().get_object()
        if isinstance(node, list):
            waiting += node
        elif isinstance(node, dict):
            if "/S" in node:
                counts[str(node["/S"])] = counts.get(str(node["/S"]), 0) + 1
            if "/K" in node:
                kids = node["/K"].get_object() if hasattr(node["/K"], "get_object") else node["/K"]
                waiting += [one for one in (kids if isinstance(kids, list) else [kids]) if not isinstance(one, int)]
    return counts


def paths(page: pypdf.PageObject) -> list[tuple[tuple[float, float], tuple[float, float]]]:
    """Return the straight segments drawn on a page, in points of the page."""
    found: list[tuple[tuple[float, float], tuple[float, float]]] = []
    here: list[tuple[float, float]] = []

    def visit(operator: bytes, operands: list[Any], matrix: list[float], text: list[float]) -> None:
        if operator in (b"m", b"l"):
            x, y = (float(each) for each in operands)
            a, b, c, d, e, f = matrix
            point = (a * x + c * y + e, b * x + d * y + f)
            if operator == b"l":
                found.append((here[-1], point))
            here.append(point)

    page.extract_text(visitor_operand_before=visit)
    return found


def picture(title: str = "Perspective", width: float = 320, height: float = 180) -> Drawing:
    """Return a small drawing, as the drawings layer writes them."""
    return Drawing(
        title,
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}" height="{height}" viewBox="0 0 {width} {height}">'
        f'<rect width="{width}" height="{height}" fill="#ffffff"/><path fill="none" stroke="#111111" '
        f'd="M0,0L{width * 0.35},{height * 0.35}H{width * 0.65}L{width},0M0,{height}L{width * 0.35},{height * 0.7}'
        f'H{width * 0.65}L{width},{height}"/></svg>',
    )


def shot(number: int, line: str, **more: Any) -> ShotPart:
    """Return a planned shot; `more` replaces what it says."""
    usual: dict[str, Any] = {
        "number": number, "line": line, "space": "kitchen", "room": "Kitchen", "size": "wide", "move": "still",
        "focal_mm": 24.0, "lens": "24 mm", "subject": "island", "also": ("hood", "range"), "blocked_by": (),
        "eye_mm": (0.0, 0.0, 1500.0), "toward_mm": (1.0, 0.0, 0.0), "where": "6' 0\" from the south wall, 5' 0\" high",
        "trouble": "", "note": "", "picture": picture(),
    }  # fmt: skip
    return ShotPart(**(usual | more))


def spoken_lines(stop: str, *texts: str, pause_s: float = 0.0, shows: Sequence[str] = ()) -> tuple[SpokenPart, ...]:
    return tuple(
        SpokenPart(f"{stop}/{number}", text, text, 4.0, pause_s, tuple(shows)) for number, text in enumerate(texts, 1)
    )


def talk(*stops: tuple[str, tuple[SpokenPart, ...]], walk_s: float = 0.0, title: str = "") -> Spoken:
    """Return a script of one part: by stop, its name and its lines."""
    parts = []
    for number, (name, lines) in enumerate(stops, 1):
        seconds = sum(line.seconds + line.pause_s for line in lines)
        walk = walk_s if number > 1 else 0.0
        way = f"From {stops[number - 2][0]}." if number > 1 else ""
        parts.append(StopPart(f"s{number}", name.lower(), number, name, lines, seconds, walk * 1000, walk, way))
    total = sum(one.seconds + one.walk_s for one in parts)
    return Spoken((TalkPart("p", title, (), tuple(parts), (), total),), 150.0, total, None, ())


def filmed(base: Document, spoken: Spoken, shots: Sequence[ShotPart], plans: Sequence[Drawing] = ()) -> Document:
    """Return a document with a script and a film that were made by hand."""
    made = replace(base, pages=replace(base.pages, spoken=spoken))
    made.__dict__["film"] = Film(tuple(shots), tuple(plans))
    return made


SIX_SHOTS = (
    shot(1, "s1/1"),
    shot(2, "s1/2", size="close-up", lens="85 mm", subject="sink", also=(), move="pan"),
    shot(3, "s1/3", picture=None, focal_mm=None, lens="", subject="hood",
         trouble="The wall stands too near; step back or take a shorter lens."),
    shot(4, "s2/1", space="bay", room="Bay", subject="bench", note="Wait for high water."),
    shot(5, "s2/2", space="bay", room="Bay", subject="window", blocked_by=("pendant",)),
    shot(6, "s2/3", space="bay", room="Bay", subject="the river", size="extreme wide"),
)  # fmt: skip
