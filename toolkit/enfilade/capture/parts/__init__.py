"""What each part of a page shows, and what it does when it is asked to.

A module here has `NAME` (its trait, and its view in `js/<name>.js`), `shown(desk, sight)`, which returns plain JSON,
and `HANDLERS`: by the message's `do`, what changes the house and returns the words that a screen reader says. Those of
`QUIET` change nothing that is shown, unless they have something to say.
"""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Callable, Mapping
from functools import cache
from types import ModuleType
from typing import Any

__all__ = ["Handler", "handlers", "parts", "quiet"]

Handler = Callable[..., str | dict[str, Any]]


@cache
def parts() -> Mapping[str, ModuleType]:
    """Return every part by name; each module of this package is one."""
    names = sorted(info.name for info in pkgutil.iter_modules(__path__) if not info.name.startswith("_"))
    modules = [importlib.import_module(f"{__name__}.{name}") for name in names]
    return {module.NAME: module for module in modules}


@cache
def handlers() -> Mapping[str, Handler]:
    """Return what is done for each message, by its `do`."""
    found: dict[str, Handler] = {}
    for module in parts().values():
        for do, handler in module.HANDLERS.items():
            if do in found:
                raise RuntimeError(f"two parts answer to {do!r}")
            found[do] = handler
    return found


@cache
def quiet() -> frozenset[str]:
    """Return what is asked again and again, and after which nothing is shown anew unless it has something to say."""
    return frozenset(do for module in parts().values() for do in getattr(module, "QUIET", ()))
