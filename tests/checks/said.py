"""What findings say, for tests that compare many cases."""

from __future__ import annotations

from typing import Any

from building import findings
from enfilade.project.project import Project

__all__ = ["verdict", "verdicts"]


def verdicts(project: Project, rule: str, part: str = "", *, yardstick: Any = "us") -> list[str]:
    """Return the verdicts of one rule and part, with the reason where it is not assessed."""
    slug = "-".join("".join(c if c.isalnum() else " " for c in part.lower()).split())
    found = findings(project, rule, yardstick=yardstick, containing=f"{rule}:{slug}:")
    return [f.verdict if f.because is None else f.because for f in found]


def verdict(project: Project, rule: str, part: str = "", *, yardstick: Any = "us") -> str:
    """Return the only one of them; fails when there are none or several."""
    found = verdicts(project, rule, part, yardstick=yardstick)
    assert len(found) == 1, found
    return found[0]
