"""The package as others get it: built, installed elsewhere, its shipped folders found there."""

from __future__ import annotations

import re
import subprocess
import sys
import tarfile
import venv
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
PIP = [sys.executable, "-m", "pip", "--disable-pip-version-check"]


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wheel, built from this checkout."""
    return wheel_of(ROOT, tmp_path_factory.mktemp("wheel"))


@pytest.fixture(scope="module")
def source(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The source archive of this checkout, unpacked elsewhere."""
    folder = tmp_path_factory.mktemp("source")
    command = [sys.executable, "-m", "build", "--sdist", "-o", str(folder), str(ROOT)]
    subprocess.run(command, check=True, timeout=600, stdout=subprocess.DEVNULL)
    with tarfile.open(next(folder.glob("*.tar.gz"))) as tar:
        tar.extractall(folder / "unpacked", **({"filter": "data"} if hasattr(tarfile, "data_filter") else {}))
    return next((folder / "unpacked").iterdir())


def wheel_of(source: Path, folder: Path) -> Path:
    subprocess.run([*PIP, "wheel", "--no-deps", "-q", "-w", str(folder), str(source)], check=True, timeout=300)
    return next(folder.glob("*.whl"))


def use_from_elsewhere(wheel: Path, folder: Path) -> str:
    """Install a wheel alone into an environment of its own, use it from outside the clone, return what it printed.

    What it needs is borrowed from the environment that runs the test.
    """
    home = folder / "elsewhere"
    venv.create(home, with_pip=True, system_site_packages=False)
    python = next(path for path in (home / "bin" / "python", home / "Scripts" / "python.exe") if path.exists())
    install = [python, "-m", *PIP[2:], "install", "-q", "--no-deps", wheel]
    subprocess.run(install, check=True, timeout=300)
    site = next(path for path in sys.path if path.endswith("site-packages"))
    code = f"""
import sys
sys.path.append({site!r})
import enfilade
from enfilade.cli import main
from enfilade.resources import shipped
for place in (enfilade.__file__, *(str(shipped(name)) for name in ("templates", "assets", "notebooks"))):
    assert place.startswith({str(home)!r}), place
assert shipped("notebooks", "check.py").read_text("utf-8").startswith("# ---")
assert shipped("templates", "pages", "index.html.j2").is_file()
from enfilade.capture.es_modules import joined, styles
assert "render" in joined("page.js", "render")
assert "Enfilade Text" in styles()
assert main(["selftest"]) == 0
raise SystemExit(main(["demo", "--out", "made"]))
"""
    done = subprocess.run(
        [python, "-I", "-c", code], cwd=folder, capture_output=True, text=True, timeout=300, check=False
    )
    assert done.returncode == 0, done.stderr
    return done.stdout


@pytest.mark.wheel
def test_wheel_holds_what_is_shipped(wheel: Path) -> None:
    names = zipfile.ZipFile(wheel).namelist()
    for part in (
        "templates/walkthrough/index.html.j2",
        "templates/pages/index.html.j2",
        "templates/pages/sheet.css",
        "assets/fonts/OFL.txt",
        "notebooks/check.py",
        "notebooks/by-hand.py",
    ):
        assert f"enfilade/shipped/{part}" in names
    assert "enfilade/standards/data/kitchen-guidelines.toml" in names
    assert "enfilade/project/demo_house/project.json" in names
    beside = {path.name for path in (ROOT / "toolkit" / "enfilade" / "capture" / "js").iterdir()}
    assert {"page.js", "page.css", "start.js"} <= beside
    assert {f"enfilade/capture/js/{name}" for name in beside} <= set(names)
    data = (ROOT / "toolkit" / "enfilade").rglob("*.toml")
    assert {path.relative_to(ROOT / "toolkit").as_posix() for path in data} <= set(names)
    assert not [name for name in names if "__pycache__" in name or ".ipynb_checkpoints" in name]


@pytest.mark.wheel
def test_source_archive_holds_what_a_contributor_needs(source: Path) -> None:
    for name in (
        "templates/walkthrough/page.css",
        "notebooks/tell.py",
        "tests/building.py",
        "LICENSE",
        "DEVELOPERS.md",
    ):
        assert (source / name).is_file(), name


@pytest.mark.wheel
@pytest.mark.parametrize("origin", ["wheel", "source"])
def test_it_works_from_outside_the_clone(origin: str, request: pytest.FixtureRequest, tmp_path: Path) -> None:
    given: Path = request.getfixturevalue(origin)
    built = given if origin == "wheel" else wheel_of(given, tmp_path / "built")
    page = tmp_path / "made" / "walkthrough.html"
    assert str(page) in use_from_elsewhere(built, tmp_path)
    assert page.stat().st_size < 8_000_000


def test_importing_the_front_door_brings_nothing_heavy() -> None:
    heavy = ("pydantic", "shapely", "pandas", "plotly", "nbconvert")
    code = f"import sys, enfilade; print([m for m in {heavy!r} if m in sys.modules])"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_checks_bring_no_page_and_no_widget() -> None:
    code = (
        "import sys; from enfilade.checks.run import all_checks; all_checks()\n"
        "print([m for m in ('anywidget', 'ipywidgets', 'pandas', 'plotly', 'nbconvert') if m in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_readme_commands_set_everything_up_by_themselves() -> None:
    text = (ROOT / "README.md").read_text("utf-8")
    lines = re.findall(r"^python3 -m venv .*$", text, re.MULTILINE)
    assert lines == [
        "python3 -m venv .venv && .venv/bin/pip install . && .venv/bin/enfilade demo",
        "python3 -m venv .venv && .venv/bin/pip install -e '.[test]' && .venv/bin/pytest",
    ]
    assert "sed -n '/^<!-- tests -->/" in (ROOT / ".ci" / "run").read_text("utf-8")


def test_readme_example_is_a_project_that_can_be_checked() -> None:
    from enfilade.checks.run import check
    from enfilade.project.reading import project_from
    from enfilade.project.things import KINDS

    text = (ROOT / "README.md").read_text("utf-8")
    (example,) = re.findall(r"```json\n(.*?)```", text, re.DOTALL)
    assert check(project_from(example.encode(), "README.md"))
    import enfilade as ef
    from enfilade.walkthrough.report import report

    shown = [line for line in text.split("$ enfilade check")[1].split("```")[0].splitlines()[2:] if "..." not in line]
    demo = ef.demo()
    printed = report(demo, check(demo, "kitchen"), {})
    assert len(shown) >= 2
    assert all(line in printed for line in shown)
    assert all(f"`{kind}`" in text for kind in KINDS)


def test_readme_names_every_command_and_key() -> None:
    from enfilade.cli import _parser
    from enfilade.project.project import Project

    text = (ROOT / "README.md").read_text("utf-8")
    commands = next(a for a in _parser()._actions if a.choices and "demo" in a.choices).choices
    assert all(f"`enfilade {name}" in text for name in commands or ())
    assert all(f"`{key}`" in text for key in Project.model_fields)


def test_published_schema_is_the_present_one() -> None:
    import json

    from enfilade.project.schema import project_schema

    shipped = json.loads((ROOT / "assets" / "project.schema.json").read_text("utf-8"))
    assert shipped == json.loads(json.dumps(project_schema()))


def test_public_names_are_listed() -> None:
    import enfilade

    assert sorted(enfilade.__all__) == dir(enfilade)
    assert all(getattr(enfilade, name) is not None for name in enfilade.__all__)
