"""What all tests share: one browser, and which tests stay together when several workers run them."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from needs import BROWSER_FLAGS, browser_path

HERE = Path(__file__).parent


@pytest.hookimpl(tryfirst=True)  # before the workers read the groups
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Keep the tests of a file on one worker, for what they share.

    Those of the checks fill one ledger together; those that drive pages would starve each other of the machine.
    """
    for item in items:
        place = item.path.relative_to(HERE)
        item.add_marker(
            pytest.mark.xdist_group(place.parts[0] if place.parts[0] in ("checks", "browser") else str(place))
        )


@pytest.fixture(scope="session")
def chromium() -> Iterator[Any]:
    """A headless browser."""
    from playwright.sync_api import sync_playwright

    path = browser_path()
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=path, args=BROWSER_FLAGS)
        yield browser
        browser.close()
