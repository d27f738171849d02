"""What is said with every finding that touches a hazard, by the hazard's name."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable
from functools import lru_cache
from importlib import resources

from enfilade.errors import NotFound

__all__ = ["cautions", "joined"]


@lru_cache(maxsize=1)
def cautions() -> dict[str, str]:
    """Return the caution texts by key (`electricity`, `fire`, ...)."""
    text = (resources.files(__package__) / "data" / "cautions.toml").read_text("utf-8")
    return dict(tomllib.loads(text)["cautions"])


def joined(own: str, keys: Iterable[str]) -> str:
    """Return a row's own caution and those of further hazards as one text, each said once.

    Args:
        own: The text of the row's own caution; empty when it has none.
        keys: Keys of `cautions.toml`.
    Raises:
        NotFound: There is no such caution.
    """
    keys, known = tuple(keys), cautions()
    if unknown := [key for key in keys if key not in known]:
        raise NotFound(f"caution {unknown[0]!r} is unknown", expected=", ".join(known))
    return " ".join(dict.fromkeys(text for text in (own, *(known[key] for key in keys)) if text))
