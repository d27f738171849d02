"""Nothing is unpickled, and nothing of a project is run: every call that could is found and explained."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
SOURCES = sorted(path for top in ("toolkit", "templates", "notebooks") for path in (ROOT / top).rglob("*.py"))

MODULES = {
    "_pickle", "cPickle", "cffi", "cloudpickle", "code", "codeop", "commands", "ctypes", "dill", "imp", "joblib",
    "jsonpickle", "marshal", "pickle", "pickletools", "pty", "ruamel", "runpy", "shelve", "subprocess", "tarfile",
    "yaml",
}  # fmt: skip
"""Modules that make objects, or programs run, out of bytes; or unpack archives without asking where to."""

BUILT_IN = {"__import__", "breakpoint", "compile", "eval", "exec"}
CALLS = {
    "compile", "exec_module", "execl", "execle", "execlp", "execv", "execve", "execvp", "execvpe", "extract",
    "extractall", "from_string", "import_module", "loads_pickle", "popen", "posix_spawn", "read_pickle", "run_module",
    "run_path", "run_line_magic", "spawnl", "spawnv", "spawnve", "startfile", "system", "to_pickle", "unpack_archive",
    "unsafe_load",
}  # fmt: skip

ALLOWED = {
    ("toolkit/enfilade/__init__.py", "import_module"): "the front door is lazy; names come from its own table",
    ("toolkit/enfilade/geometry/__init__.py", "import_module"): "the same for geometry",
    ("toolkit/enfilade/checks/run.py", "import_module"): "every check in the package's own folder",
    (
        "toolkit/enfilade/capture/parts/__init__.py",
        "import_module",
    ): "every part in the package's own folder",
    ("toolkit/enfilade/export/forms.py", "import_module"): "the writer of a form, from the table of forms",
    (
        "toolkit/enfilade/export/typesetting.py",
        "typst.compile",
    ): "sets our own template; a project is JSON to it",
    ("toolkit/enfilade/export/office/paper_styles.py", "RGBColor.from_string"): "reads six hexadecimal digits",
    ("toolkit/enfilade/archive/finding/vocabulary.py", "process.extract"): "rapidfuzz looks for the nearest words",
}
"""What looks like one of them and is none, each with the reason why."""


def found_in(tree: ast.AST) -> Iterator[tuple[int, str]]:
    """Yield line and name of everything in a module that could run what it was given."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from ((node.lineno, one.name) for one in node.names if one.name.split(".")[0] in MODULES)
        elif isinstance(node, ast.ImportFrom):
            module = node.module or ""
            if node.level == 0 and module.split(".")[0] in MODULES:
                yield node.lineno, module
            yield from (
                (node.lineno, f"{module}.{one.name}")
                for one in node.names
                if one.name in CALLS - {"import_module", "compile", "extract"} and node.level == 0
            )
        elif isinstance(node, ast.Call):
            yield from _in_call(node)


def _in_call(node: ast.Call) -> Iterator[tuple[int, str]]:
    if isinstance(node.func, ast.Name):
        if node.func.id in BUILT_IN | CALLS:
            yield node.lineno, node.func.id
        elif node.func.id == "getattr" and _of_a_module(node):
            yield node.lineno, ast.unparse(node)
    elif isinstance(node.func, ast.Attribute) and node.func.attr in CALLS | BUILT_IN:
        base = ast.unparse(node.func.value)
        if (base, node.func.attr) not in {("re", "compile"), ("self", "system")}:
            yield node.lineno, node.func.attr if base == "importlib" else f"{base}.{node.func.attr}"
    for keyword in node.keywords:
        on = not (isinstance(keyword.value, ast.Constant) and keyword.value.value is False)
        if keyword.arg in ("shell", "allow_pickle") and on:
            yield node.lineno, f"{keyword.arg}={ast.unparse(keyword.value)}"


def _of_a_module(node: ast.Call) -> bool:
    """Tell whether something is asked of `os` or the built-in functions by a name that is no plain text."""
    asked = ast.unparse(node.args[0]) in ("builtins", "__builtins__", "os")
    name = node.args[1]
    return asked and not (isinstance(name, ast.Constant) and name.value not in BUILT_IN | CALLS)


def test_there_is_something_to_look_at() -> None:
    assert len(SOURCES) > 300


def test_nothing_is_run_but_what_is_explained() -> None:
    found: dict[tuple[str, str], int] = {}
    for path in SOURCES:
        name = path.relative_to(ROOT).as_posix()
        for line, call in found_in(ast.parse(path.read_bytes(), str(path))):
            found[name, call] = line
    unexplained = {f"{name}:{line}: {call}" for (name, call), line in found.items() if (name, call) not in ALLOWED}
    assert unexplained == set()
    assert ALLOWED.keys() - found.keys() == set()  # an allowance that nothing needs any more goes


@pytest.mark.parametrize(
    "code",
    [
        "import pickle", "from pickle import loads", "import marshal as m", "from shelve import open as o",
        "import yaml",
        "import subprocess", "from os import system", "import os; os.system(x)", "import os; os.popen(x)",
        "import os; os.execv(a, b)", "eval(x)", "exec(x)", "compile(x, '', 'exec')", "__import__(x)",
        "import builtins; builtins.eval(x)", "getattr(builtins, x)", "getattr(os, 'system')",
        "importlib.import_module(x)",
        "from importlib import import_module\nimport_module(x)", "box.extractall(folder)", "box.extract(name)",
        "import tarfile", "import shutil; shutil.unpack_archive(x)", "numpy.load(x, allow_pickle=True)",
        "run(x, shell=True)", "run(x, shell=y)", "pandas.read_pickle(x)", "environment.from_string(x)",
        "spec.loader.exec_module(m)", "import runpy", "import ctypes",
    ],
)  # fmt: skip
def test_the_search_finds_what_it_looks_for(code: str) -> None:
    assert list(found_in(ast.parse(code))), code


@pytest.mark.parametrize(
    "code", ["re.compile(x)", "run(x, shell=False)", "json.loads(x)", "box.read(name)", "getattr(os, 'O_BINARY', 0)"]
)
def test_the_search_finds_nothing_else(code: str) -> None:
    assert not list(found_in(ast.parse(code))), code


def test_boxes_are_unpacked_by_their_own_reader_alone() -> None:
    """Only what is named here may open zip files, and none of it writes a member's name to the disk."""
    openers = {
        path.relative_to(ROOT / "toolkit" / "enfilade").as_posix()
        for path in SOURCES
        if "zipfile.ZipFile(" in path.read_text(encoding="utf-8")
    }
    assert openers == {
        "archive/box/writing.py",  # writes a box
        "editing/tables/workbooks.py",  # looks at a workbook's entries before its reader does
        "export/office/package.py",  # packs our own documents anew
    }
