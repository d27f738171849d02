"""Shipped folders are found, and nothing beside them."""

from __future__ import annotations

import pytest

from enfilade.errors import NotFound
from enfilade.resources import FOLDERS, shipped


@pytest.mark.parametrize("folder", FOLDERS)
def test_every_shipped_folder_is_there(folder: str) -> None:
    assert shipped(folder).is_dir()


@pytest.mark.parametrize(
    "parts",
    [(), ("tests",), ("templates", "no-such-file"), ("templates", ".."), ("assets", "..", "pyproject.toml"), ("",)],
)
def test_what_is_not_shipped_is_not_found(parts: tuple[str, ...]) -> None:
    with pytest.raises(NotFound, match="was not found"):
        shipped(*parts)
