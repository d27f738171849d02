"""The notebooks run from top to bottom."""

from __future__ import annotations

import warnings
from pathlib import Path

import pytest

from enfilade.resources import shipped

NOTEBOOKS = sorted(shipped("notebooks").glob("*.py"))


@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.stem)
@pytest.mark.filterwarnings("default")
def test_notebook_runs(path: Path, tmp_path: Path) -> None:
    import jupytext
    from nbclient import NotebookClient

    notebook = jupytext.read(path)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        NotebookClient(
            notebook, timeout=120, kernel_name="python3", resources={"metadata": {"path": str(tmp_path)}}
        ).execute()
    outputs = [output for cell in notebook.cells if cell.cell_type == "code" for output in cell.outputs]
    assert outputs
    assert not [output for output in outputs if output.output_type == "error"]


def test_there_is_a_notebook_for_each_act_that_works() -> None:
    assert [path.stem for path in NOTEBOOKS] == ["check", "decide", "measure", "tell"]
