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
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the wheel and the source archive, built from this checkout."""
    folder = tmp_path_factory.mktemp("dist")
    pip = [
        sys.executable,
        "-m",
        "pip",
        "--disable-pip-version-check",
        "wheel",
        "--no-deps",
        "-q",
        "-w",
        str(folder),
        str(ROOT),
    ]
    subprocess.run(pip, check=True, timeout=300)
    return folder


@pytest.mark.wheel
def test_wheel_holds_what_is_shipped(built: Path) -> None:
    names = zipfile.ZipFile(next(built.glob("*.whl"))).namelist()
    for part in ("templates/walkthrough/index.html.j2", "assets/fonts/OFL.txt", "notebooks/check.py"):
        assert f"enfilade/shipped/{part}" in names
    assert "enfilade/standards/data/kitchen-guidelines.toml" in names
    assert "enfilade/project/demo_house/project.json" in names
    assert not [name for name in names if "__pycache__" in name or ".ipynb_checkpoints" in name]


@pytest.mark.wheel
def test_installed_wheel_works_from_outside_the_clone(built: Path, tmp_path: Path) -> None:
    home = tmp_path / "elsewhere"
    # The wheel alone is installed; what it needs is borrowed from the environment that runs this test.
    venv.create(home, with_pip=True, system_site_packages=False)
    python = next(path for path in (home / "bin" / "python", home / "Scripts" / "python.exe") if path.exists())
    subprocess.run(
        [python, "-m", "pip", "--disable-pip-version-check", "install", "-q", "--no-deps", next(built.glob("*.whl"))],
        check=True,
        timeout=300,
    )
    site = next(path for path in sys.path if path.endswith("site-packages"))
    code = (
        f"import sys; sys.path.append({site!r})\n"
        "import enfilade\n"
        f"assert {str(ROOT)!r} not in enfilade.__file__, enfilade.__file__\n"
        "from enfilade.cli import main\n"
        "raise SystemExit(main(['demo', '--out', 'made']))\n"
    )
    done = subprocess.run(
        [python, "-I", "-c", code], cwd=tmp_path, capture_output=True, text=True, timeout=300, check=False
    )
    assert done.returncode == 0, done.stderr
    page = tmp_path / "made" / "walkthrough.html"
    assert str(page) in done.stdout
    assert page.stat().st_size < 8_000_000


@pytest.mark.wheel
def test_source_archive_can_be_built_and_installed(tmp_path: Path) -> None:
    subprocess.run([sys.executable, "-m", "build", "--sdist", "-o", str(tmp_path), str(ROOT)], check=True, timeout=600,
                   stdout=subprocess.DEVNULL)  # fmt: skip
    archive = next(tmp_path.glob("*.tar.gz"))
    with tarfile.open(archive) as tar:
        names = {name.partition("/")[2] for name in tar.getnames()}
        tar.extractall(tmp_path / "src", filter="data")
    for name in (
        "templates/walkthrough/page.css",
        "assets/fonts/OFL.txt",
        "notebooks/tell.py",
        "tests/building.py",
        "LICENSE",
    ):
        assert name in names
    source = next((tmp_path / "src").iterdir())
    subprocess.run(
        [
            sys.executable,
            "-m",
            "pip",
            "--disable-pip-version-check",
            "wheel",
            "--no-deps",
            "-q",
            "-w",
            str(tmp_path / "w"),
            str(source),
        ],
        check=True,
        timeout=300,
    )
    names = zipfile.ZipFile(next((tmp_path / "w").glob("*.whl"))).namelist()
    assert "enfilade/shipped/templates/walkthrough/index.html.j2" in names


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
