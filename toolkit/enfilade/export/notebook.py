"""A walkthrough as a notebook: one cell a part of the page, its text readable, its data in the metadata."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from enfilade.walkthrough.pages import RoomPage, Walkthrough

__all__ = ["walkthrough_notebook"]


def walkthrough_notebook(walkthrough: Walkthrough) -> Any:
    """Return the notebook (an nbformat node) that the exporter turns into a page."""
    from nbformat.v4 import new_notebook

    data = asdict(walkthrough)
    rooms = data.pop("rooms")
    cells = [_cell("cover", walkthrough.title, data)]
    cells += [_cell("room", page.name, room) for page, room in zip(walkthrough.rooms, rooms, strict=True)]
    cells.append(_cell("annexes", "House", data))
    notebook = new_notebook(cells=cells)
    notebook.metadata["enfilade"] = {
        "title": walkthrough.title,
        "language": walkthrough.language,
        "contents": [_contents(page) for page in walkthrough.rooms],
    }
    return notebook


def _cell(part: str, title: str, data: dict[str, Any]) -> Any:
    from nbformat.v4 import new_raw_cell

    # Cell ids are made from what the cell is, so that the same record gives the same bytes.
    name = f"{part}-{data['id']}" if part == "room" else part
    return new_raw_cell(source=title, id=name[:64], metadata={"enfilade": {"part": part, "data": data}})


def _contents(page: RoomPage) -> dict[str, Any]:
    return {
        "id": page.id,
        "number": page.number,
        "name": page.name,
        "short": len(page.short),
        "decisions": len(page.decisions),
    }
