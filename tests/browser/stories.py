"""What the stories that are played on the pages share."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import enfilade as ef

__all__ = ["saved"]


def saved(house: Path, tells: Callable[[ef.Project], Any], page: Any, *, seconds: float = 10.0) -> Any:
    """Return what the saved house tells, once it tells anything."""
    for _ in range(int(seconds * 10)):
        if answer := tells(ef.load(house)):
            return answer
        page.wait_for_timeout(100)
    raise AssertionError(f"not saved within {seconds} s: {page.inner_text('.enfilade')[:3000]}")
