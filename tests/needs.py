"""What some tests need beyond Python: skipped with a reason on a plain machine, never skipped in CI."""

from __future__ import annotations

import os
import shutil
from pathlib import Path

import pytest

__all__ = ["BROWSER_FLAGS", "axe_script", "browser_path", "java_and_checker", "need"]

BROWSER_FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]


def need(found: str | None, what: str) -> str:
    """Return what was found; skip the test without it, and fail it in CI."""
    if found:
        return found
    if os.environ.get("CI"):
        pytest.fail(f"CI lacks {what}")
    pytest.skip(f"needs {what}; see `Tests` in the README")


def browser_path() -> str:
    """Return the path of Chromium."""
    return need(shutil.which("chromium") or shutil.which("chromium-browser"), "Chromium")


def _file(variable: str) -> str | None:
    path = os.environ.get(variable, "")
    return path if path and Path(path).is_file() else None


def axe_script() -> str:
    """Return the path of the accessibility checker's script."""
    return need(_file("ENFILADE_AXE"), "axe-core (ENFILADE_AXE names axe.min.js)")


def java_and_checker() -> tuple[str, str]:
    """Return the paths of Java and of the HTML checker."""
    return need(shutil.which("java"), "Java"), need(
        _file("ENFILADE_VNU"), "the HTML checker (ENFILADE_VNU names vnu.jar)"
    )
