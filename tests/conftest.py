"""What all tests share: one browser, and which tests stay together when several workers run them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest

from needs import BROWSER_FLAGS, browser_path


@pytest.hookimpl(optionalhook=True)  # asked only where several workers run the tests
def pytest_xdist_make_scheduler(config: pytest.Config, log: Any) -> Any:
    """Keep the tests of a file on one worker, for what they share.

    Those of the checks fill one ledger together; those that drive pages would starve each other of the machine.
    """
    from xdist.scheduler import LoadScopeScheduling

    class Together(LoadScopeScheduling):
        def _split_scope(self, nodeid: str) -> str:
            path = nodeid.partition("::")[0]
            return next((group for group in ("checks", "browser") if f"tests/{group}/" in path), path)

    return Together(config, log)


@pytest.fixture(scope="session")
def chromium() -> Iterator[Any]:
    """A headless browser."""
    from playwright.sync_api import sync_playwright

    path = browser_path()
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=path, args=BROWSER_FLAGS)
        yield browser
        browser.close()
