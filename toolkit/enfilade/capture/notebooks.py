"""The notebooks, kept as text, as files that Jupyter opens."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any, Final

from enfilade.files import write_text
from enfilade.resources import shipped

__all__ = ["notebook_from", "write_notebooks"]

_CELL: Final = re.compile(r"^# %%(?P<markdown> \[markdown\])?\s*$")
_PYTHON: Final = {"display_name": "Python 3", "language": "python", "name": "python3"}


def notebook_from(text: str) -> dict[str, Any]:
    """Return a notebook, as plain data of its format 4.5, from text in which `# %%` begins a cell."""
    cells = []
    for number, (markdown, lines) in enumerate(_cells(text.splitlines())):
        source = "\n".join(re.sub(r"^# ?", "", line) for line in lines) if markdown else "\n".join(lines)
        cell: dict[str, Any] = {"cell_type": "markdown" if markdown else "code", "id": f"cell-{number}", "metadata": {}}
        cell["source"] = source.strip("\n").splitlines(keepends=True)
        if not markdown:
            cell |= {"execution_count": None, "outputs": []}
        cells.append(cell)
    metadata = {"kernelspec": _PYTHON, "language_info": {"name": "python"}}
    return {"cells": cells, "metadata": metadata, "nbformat": 4, "nbformat_minor": 5}


def write_notebooks(folder: Path) -> tuple[list[Path], list[Path]]:
    """Write every notebook into a folder, and leave those that are there.

    Returns:
        What was written, and what was there already.
    Raises:
        Refused: The folder cannot be written.
    """
    written, there = [], []
    for path in sorted(shipped("notebooks").glob("*.py")):
        target = folder / f"{path.stem}.ipynb"
        if target.exists():
            there.append(target)
            continue
        write_text(target, json.dumps(notebook_from(path.read_text(encoding="utf-8")), indent=1) + "\n")
        written.append(target)
    return written, there


def _cells(lines: list[str]) -> Iterator[tuple[bool, list[str]]]:
    begin = [(i, match) for i, line in enumerate(lines) if (match := _CELL.match(line))]
    for (i, match), (end, _) in zip(begin, [*begin[1:], (len(lines), None)], strict=True):
        yield bool(match["markdown"]), lines[i + 1 : end]
