"""One browser for all tests that need one, and pages of the demo house that tests only look at."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

import enfilade as ef
from browser.pages import OpenPages, open_pages
from needs import browser_path


@pytest.fixture
def page(chromium: Any) -> Iterator[Any]:
    """An empty page of a browser that has seen nothing yet."""
    context = chromium.new_context(viewport={"width": 1280, "height": 900})
    yield context.new_page()
    context.close()


@pytest.fixture
def home(tmp_path: Path) -> Path:
    """An empty folder that stands for the user's home."""
    (tmp_path / "home").mkdir()
    return tmp_path / "home"


@pytest.fixture
def demo_copy(tmp_path: Path) -> Path:
    """A copy of the demo house that may be changed."""
    ef.save(ef.demo(), tmp_path / "houses" / "demo")
    return tmp_path / "houses" / "demo"


@pytest.fixture(scope="session")
def demo_pages(tmp_path_factory: pytest.TempPathFactory) -> Iterator[OpenPages]:
    """The pages of a demo house, for tests that change nothing in it."""
    browser_path()
    folder = tmp_path_factory.mktemp("pages")
    ef.save(ef.demo(), folder / "demo")
    with open_pages(folder / "demo", home=folder / "home") as pages:
        yield pages


@pytest.fixture(scope="session")
def demo_lab(tmp_path_factory: pytest.TempPathFactory) -> Iterator[OpenPages]:
    """The notebooks of a demo house in JupyterLab, for tests that change nothing in it."""
    browser_path()
    folder = tmp_path_factory.mktemp("lab")
    ef.save(ef.demo(), folder / "demo")
    with open_pages(folder / "demo", home=folder / "home", lab=True) as pages:
        yield pages
