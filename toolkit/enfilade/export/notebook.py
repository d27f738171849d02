"""A walkthrough as a notebook: one cell a part of the page, its text readable, its data in the metadata."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import asdict, replace
from typing import Any

from enfilade.export.document import Document
from enfilade.export.setting import look_data
from enfilade.walkthrough.findings_part import grouped
from enfilade.walkthrough.pages import DecisionPart, FindingPart, RoomPage, Table, Walkthrough

__all__ = ["notebook_data", "walkthrough_notebook"]

_UNDECIDED = "Undecided"


def walkthrough_notebook(document: Document) -> Any:
    """Return the notebook (an nbformat node) that the exporter turns into a page."""
    from nbformat.v4 import new_notebook, new_raw_cell

    data = notebook_data(document)
    notebook = new_notebook(cells=[new_raw_cell(**cell) for cell in data["cells"]])
    notebook.metadata["enfilade"] = data["metadata"]["enfilade"]
    return notebook


def notebook_data(document: Document) -> dict[str, Any]:
    """Return the same as plain data: cells of one part each, and what holds for all of them."""
    pages = document.pages
    whole = asdict(replace(pages, rooms=tuple(pages.rooms)))
    rooms = whole.pop("rooms")
    cells = [_cell("cover", pages.title, whole), _cell("first", "What changed, and what is undecided", whole)]
    cells.append(_cell("order", "The house, in the order of the rooms", whole))
    cells += [_cell("room", page.name, _room(page, room)) for page, room in zip(pages.rooms, rooms, strict=True)]
    cells.append(_cell("annexes", "The whole house", _annexes(pages, whole)))
    about = {
        "title": pages.title,
        "language": pages.language,
        "student": pages.audience == "student",
        "look": _look(document),
        "contents": [_contents(page) for page in pages.rooms],
    }
    return {"cells": cells, "metadata": {"enfilade": about}}


def _cell(part: str, title: str, data: dict[str, Any]) -> dict[str, Any]:
    # Cell ids are made from what the cell is, so that the same record gives the same bytes.
    name = f"{part}-{data['id']}" if part == "room" else part
    return {"source": title, "id": name[:64], "metadata": {"enfilade": {"part": part, "data": data}}}


def _look(document: Document) -> dict[str, Any]:
    data = look_data(document.look)
    data["studio"] = data["studio"] or document.pages.studio
    data["designer"] = data["designer"] or document.pages.designer
    return data


def _contents(page: RoomPage) -> dict[str, Any]:
    return {
        "id": page.id,
        "number": page.number,
        "name": page.name,
        "short": len(page.short),
        "decisions": len(page.decisions),
        "undecided": len(_still(page.decisions)),
    }


def _still(decisions: Iterable[DecisionPart]) -> list[DecisionPart]:
    return [part for part in decisions if part.status == _UNDECIDED]


def _room(page: RoomPage, data: dict[str, Any]) -> dict[str, Any]:
    data["undecided"] = [asdict(part) for part in _still(page.decisions)]
    data["decided"] = [asdict(part) for part in page.decisions if part.status != _UNDECIDED]
    cautions = list(page.cautions)
    data |= _told(f"room-{page.id}", cautions, page.short, page.open, page.held)
    data["schedules"] = [_full(table) for table in page.schedules]
    data["counts"] = [_full(table) for table in page.counts]
    data["beside"] = [asdict(group) for group in grouped(page.beside)]
    return data


def _annexes(pages: Walkthrough, data: dict[str, Any]) -> dict[str, Any]:
    short = [part for part in pages.house if not part.because]
    open_ = [part for part in pages.house if part.because]
    registers = [table for table in pages.handover.register if table.rows]
    # Where a register tells what there is and how it is cared for, a list of names or of care would tell it again.
    again = {table.title for table in registers} | ({"Care"} if registers else set())
    bought = [table for table in pages.schedules if table.rows and not (table.title in again and len(table.head) < 3)]
    told = _told("house", [], short, open_, ())
    return data | told | {"registers": [_full(one) for one in registers], "bought": [_full(one) for one in bought]}


def _full(table: Table) -> dict[str, Any]:
    """Return a table without the columns in which nothing stands."""
    kept = [n for n in range(len(table.head)) if n == 0 or any(n < len(row) and row[n] for row in table.rows)]
    return {
        "title": table.title,
        "head": [table.head[n] for n in kept],
        "rows": [[row[n] for n in kept] for row in table.rows],
        "numeric": [place for place, n in enumerate(kept) if n in table.numeric],
        "note": table.note,
    }


def _told(
    anchor: str,
    cautions: list[str],
    short: Iterable[FindingPart],
    open_: Iterable[FindingPart],
    held: Iterable[FindingPart],
) -> dict[str, Any]:
    """Return findings that refer to the cautions of their section by number; `cautions` grows by what it lacks."""

    def referred(parts: Iterable[FindingPart]) -> Iterator[dict[str, Any]]:
        for part in parts:
            yield asdict(part) | {"warned": _numbers(part.caution, cautions)}

    def groups(parts: Iterable[FindingPart]) -> Iterator[dict[str, Any]]:
        for group in grouped(parts):
            yield asdict(group) | {"warned": _numbers(group.caution, cautions)}

    told = {"short": list(referred(short)), "open": list(groups(open_))}
    told["held"] = [{"title": title, "parts": list(referred(parts))} for title, parts in _rules(held)]
    return {**told, "cautions": [{"id": f"{anchor}-caution-{n}", "text": text} for n, text in enumerate(cautions, 1)]}


def _rules(parts: Iterable[FindingPart]) -> list[tuple[str, list[FindingPart]]]:
    """Return findings together that measure the same of several things, in the order in which each is first met."""
    found: dict[str, list[FindingPart]] = {}
    for part in parts:
        found.setdefault(part.title, []).append(part)
    return list(found.items())


def _numbers(caution: str, cautions: list[str]) -> list[int]:
    """Return the numbers of the cautions that a finding carries; several stand joined in one text."""
    found = [number for number, text in enumerate(cautions, 1) if text in caution]
    if caution and not found:
        cautions.append(caution)
        found = [len(cautions)]
    return found
