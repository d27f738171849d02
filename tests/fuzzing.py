"""Bytes and records changed at random, from a seed: what a bad disk, a bad editor, or somebody bad may do to a file."""

from __future__ import annotations

import contextlib
import copy
import json
import os
import random
import resource
import signal
from collections.abc import Callable, Iterator
from typing import Any

from enfilade.errors import EnfiladeError

__all__ = ["MANY", "bounded", "bytes_changed", "is_clear", "record_changed", "refusal"]

MANY = int(os.environ.get("ENFILADE_FUZZ", "1000"))
"""So many project files are tried, and a fifth as many boxes."""
LIMIT_S = 20
_MOST_GROWTH_KB = 1_500_000
_ODD: list[Any] = [
    None, True, 0, -1, 1.5, 10**17, 10**30, 1e308, -1e308, 5e-324, "", "x" * 100_000, "\ud800", "\x00", "\u202e",
    "../..", [], {}, [[]], [None] * 2000, {"id": "x"}, {"": 0}, [0] * 5000, "none", "10' 11 1/4\"", [1e300, -1e300],
]  # fmt: skip


@contextlib.contextmanager
def bounded() -> Iterator[Callable[[], None]]:
    """Hold a run to its limits; what is given is called before each case, which may take 20 s.

    Memory may grow by 1.5 GB in all (own choice: far above what a refusal costs, far below what a bomb does).
    """

    def late(*_: Any) -> None:
        raise TimeoutError(f"a case took over {LIMIT_S} s")

    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    old = signal.signal(signal.SIGALRM, late)
    try:
        yield lambda: signal.alarm(LIMIT_S) and None
    finally:
        signal.alarm(0)
        signal.signal(signal.SIGALRM, old)
    assert resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before < _MOST_GROWTH_KB


def refusal(work: Callable[[], Any]) -> EnfiladeError | None:
    """Return the error by which something was refused, None when it was taken; any other error is a failure."""
    try:
        work()
    except EnfiladeError as error:
        return error
    return None


def is_clear(error: EnfiladeError) -> bool:
    """Tell whether each fault has a place and words that a terminal shows as they are."""
    faults = getattr(error, "faults", ())
    told = all(fault.place and fault.what for fault in faults)
    return bool(faults) and told and all(line.isprintable() for line in str(error).splitlines())


def bytes_changed(data: bytes, chance: random.Random) -> bytes:
    """Return bytes with one to four changes: bits turned, bytes cut off, left out, doubled, moved, or put in."""
    found = bytearray(data)
    for _ in range(chance.choice((1, 1, 1, 2, 4))):
        if not found:
            break
        at, long = chance.randrange(len(found)), chance.choice((1, 2, 8, 64, 1000))
        how = chance.randrange(8)
        if how == 0:
            found[at] ^= 1 << chance.randrange(8)
        elif how == 1:
            found[at] = chance.choice(b'\x00\xff"{}[]:,\\-.0919eE\x80\xc0 \n')
        elif how == 2:
            del found[at:]
        elif how == 3:
            del found[at : at + long]
        elif how == 4:
            found[at:at] = found[at : at + long]
        elif how == 5:
            other = chance.randrange(len(found))
            found[at : at + long] = found[other : other + long]
        elif how == 6:
            found[at:at] = chance.randbytes(long)
        else:
            found[at : at + long] = bytes(len(found[at : at + long]))
    return bytes(found)


def record_changed(data: bytes, chance: random.Random) -> bytes:
    """Return a JSON file with one to three changes to its values or its words."""
    plain = json.loads(data)
    for _ in range(chance.choice((1, 1, 2, 3))):
        home, key = chance.choice(list(_places(plain)))
        how = chance.randrange(7)
        if how == 0:
            del home[key]
        elif how == 1 and isinstance(home, list):
            home.insert(key, copy.deepcopy(home[key]))
        elif how == 2:
            other, at = chance.choice(list(_places(plain)))
            home[key] = copy.deepcopy(other[at])
        elif how == 3 and isinstance(home, dict):
            home[chance.choice(("id", "x", "", "kind", "__class__", key + "_"))] = copy.deepcopy(home[key])
        elif how == 4:
            home[key] = _nested(chance.choice((5, 39, 41, 150)), home[key])
        else:
            home[key] = copy.deepcopy(chance.choice(_ODD))
    text = json.dumps(plain, ensure_ascii=chance.random() < 0.9, indent=chance.choice((None, 1)))
    how = chance.randrange(12)
    if how == 0:
        text = text.replace('"id":', '"id": "twice", "id":', chance.randrange(1, 3))
    elif how == 1:
        text = text.replace(": 0", chance.choice((": NaN", ": Infinity", ": 1e999", ": " + "9" * 5000, ": 0x10")), 2)
    elif how == 2:
        text = text.replace("[", "[" * chance.choice((2, 50, 50_000)), 1)
    elif how == 3:
        text = "\ufeff" * chance.randrange(3) + text + chance.choice(("", "\x00", "{}", "//"))
    return text.encode(chance.choice(("utf-8",) * 9 + ("utf-16",)), "surrogatepass")


def _nested(deep: int, value: Any) -> Any:
    for _ in range(deep):
        value = [value]
    return value


def _places(plain: Any) -> Iterator[tuple[Any, Any]]:
    keys = list(plain) if isinstance(plain, dict) else range(len(plain)) if isinstance(plain, list) else ()
    for key in keys:
        yield plain, key
        yield from _places(plain[key])
