"""How long the documents of the demo house take: the pages, what is printed, and all of it.

Run on demand, as the other benchmarks; nothing is asserted about time. `python tests/benchmarks/test_documents.py`
measures the commands instead, each in a process of its own: wall time, and what the processor worked.
"""

from __future__ import annotations

import os
import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from typing import Any

import pytest

import enfilade as ef
from enfilade.project.demo import demo

FORMS = {"html": ["html"], "pdf": ["pdf"], "script and shots": ["script", "shots"], "all": ["all"]}


@pytest.mark.parametrize("name", FORMS)
def test_documents(benchmark: Any, tmp_path: Path, name: str) -> None:
    benchmark.group = "documents"
    project = demo()
    paths = benchmark.pedantic(lambda: ef.tell(project, FORMS[name], "client", tmp_path), rounds=3, warmup_rounds=1)
    assert paths


def commands() -> None:
    """Print how long each command takes."""
    environment = {**os.environ, "PYTHONPATH": str(Path(ef.__file__).parents[1])}
    with tempfile.TemporaryDirectory() as folder:
        ef.save(demo(), Path(folder) / "demo")
        for forms in ("html", "pdf", "all"):
            before, start = resource.getrusage(resource.RUSAGE_CHILDREN), time.perf_counter()
            command = [sys.executable, "-m", "enfilade", "tell", str(Path(folder) / "demo"), "--to", forms]
            subprocess.run(command, check=True, capture_output=True, env=environment)
            wall, after = time.perf_counter() - start, resource.getrusage(resource.RUSAGE_CHILDREN)
            worked = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
            print(f"{forms}: {wall:.1f} s, of which the processor worked {worked:.1f} s")


if __name__ == "__main__":
    commands()
