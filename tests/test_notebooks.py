"""The notebooks run from top to bottom, and each act's shows its page."""

from __future__ import annotations

import json
import warnings
from pathlib import Path
from typing import Any

import pytest

import enfilade as ef
from enfilade.capture.addresses import ACTS
from enfilade.capture.notebooks import notebook_from, write_notebooks
from enfilade.resources import shipped

NOTEBOOKS = sorted(shipped("notebooks").glob("*.py"))


@pytest.fixture
def ran(request: pytest.FixtureRequest, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Any:
    """A notebook that was run beside a copy of the demo house."""
    import nbformat
    from nbclient import NotebookClient

    ef.save(ef.demo(), tmp_path / "demo")
    monkeypatch.setenv("ENFILADE_PROJECT", str(tmp_path / "demo"))
    monkeypatch.setenv("ENFILADE_DATA", str(tmp_path / "data"))
    notebook = nbformat.reads(json.dumps(notebook_from(request.param.read_text("utf-8"))), as_version=4)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        NotebookClient(
            notebook, timeout=120, kernel_name="python3", resources={"metadata": {"path": str(tmp_path)}}
        ).execute()
    return notebook


def outputs_of(notebook: Any) -> list[Any]:
    """Return all that the cells of a notebook put out."""
    return [output for cell in notebook.cells if cell.cell_type == "code" for output in cell.outputs]


@pytest.mark.parametrize("ran", [shipped("notebooks", "by-hand.py")], ids=["by-hand"], indirect=True)
@pytest.mark.filterwarnings("default")
def test_the_notebook_by_hand_runs(ran: Any) -> None:
    outputs = outputs_of(ran)
    assert len(outputs) > 12
    assert not [output for output in outputs if output.output_type == "error"]


@pytest.mark.parametrize("ran", [shipped("notebooks", f"{act}.py") for act in ACTS], ids=ACTS, indirect=True)
@pytest.mark.filterwarnings("default")
def test_each_act_shows_every_part_of_its_page_and_nothing_else(ran: Any) -> None:
    (output,) = outputs_of(ran)
    assert "application/vnd.jupyter.widget-view+json" in output.data
    models = ran.metadata["widgets"]["application/vnd.jupyter.widget-state+json"]["state"].values()
    (page,) = [model["state"] for model in models if "sections" in model["state"]]
    assert page["started"]
    assert len(page["sections"]) > 1
    shown = {name: page.get(name, {"trouble": "no such part"}) for name in page["sections"]}
    assert {name: state["trouble"] for name, state in shown.items() if "trouble" in state} == {}


def test_there_is_a_notebook_for_each_act_and_one_by_hand() -> None:
    assert [path.stem for path in NOTEBOOKS] == sorted([*ACTS, "by-hand"])


@pytest.mark.parametrize("act", ACTS)
def test_a_notebook_of_an_act_is_a_few_lines_that_read_as_sentences(act: str) -> None:
    cells = notebook_from(shipped("notebooks", f"{act}.py").read_text("utf-8"))["cells"]
    assert [cell["cell_type"] for cell in cells] == ["markdown", "code"]
    assert len(cells[1]["source"]) <= 5


@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.stem)
@pytest.mark.filterwarnings("default")
def test_notebook_is_read_as_jupytext_reads_it(path: Path) -> None:
    import jupytext

    ours = notebook_from(path.read_text("utf-8"))["cells"]
    theirs = jupytext.read(path).cells
    assert [(cell["cell_type"], "".join(cell["source"])) for cell in ours] == [
        (cell.cell_type, cell.source) for cell in theirs
    ]


def test_copies_are_whole_notebooks_and_those_that_are_there_stay(tmp_path: Path) -> None:
    import nbformat

    (tmp_path / "decide.ipynb").write_text("mine", "utf-8")
    written, there = write_notebooks(tmp_path)
    assert there == [tmp_path / "decide.ipynb"]
    assert (tmp_path / "decide.ipynb").read_text("utf-8") == "mine"
    assert len(written) == len(NOTEBOOKS) - 1
    for path in written:
        nbformat.validate(nbformat.read(path, as_version=4))
