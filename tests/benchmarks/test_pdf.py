"""How long the printed documents of the demo house take, its checks and drawings done; and the whole command once.

Run on demand, as the other benchmarks; nothing is asserted about time.
"""

from __future__ import annotations

import os
import subprocess
import sys
from importlib import import_module
from pathlib import Path
from typing import Any

import pytest

import enfilade as ef
from enfilade.export.document import Document
from enfilade.export.tell import told

FORMS = ("book", "sheets", "script", "cards", "storyboard")


@pytest.fixture(scope="module")
def document() -> Document:
    """The demo house, told, with its shots planned."""
    made = told(ef.demo())
    assert made.film
    return made


@pytest.mark.parametrize("form", FORMS)
def test_setting_one_document(benchmark: Any, document: Document, form: str) -> None:
    benchmark.group = "printed"
    write = import_module(f"enfilade.export.{form}").write
    files = benchmark.pedantic(lambda: write(document), rounds=3, warmup_rounds=1)
    assert all(data.startswith(b"%PDF") for data in files.values())


def test_the_command_that_makes_the_book_and_the_sheets(benchmark: Any, tmp_path: Path) -> None:
    benchmark.group = "printed, from the command"
    ef.save(ef.demo(), tmp_path / "house")
    command = [sys.executable, "-m", "enfilade", "tell", str(tmp_path / "house"), "--to", "pdf", "--out", str(tmp_path)]
    environment = {**os.environ, "PYTHONPATH": str(Path(ef.__file__).parents[1])}

    def run() -> None:
        subprocess.run(command, check=True, env=environment, capture_output=True)

    benchmark.pedantic(run, rounds=2)
    assert (tmp_path / "walkthrough.pdf").stat().st_size > 100_000
