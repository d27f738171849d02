"""How commands speak: results to stdout, progress to stderr."""

from __future__ import annotations

import json
import sys

__all__ = ["print_json", "say", "tell"]


def tell(words: str) -> None:
    """Write a result, at once."""
    print(words, flush=True)


def say(words: str) -> None:
    """Write what is being done to stderr."""
    # A step goes on; a sentence, such as one on a line at fault, has its own end.
    print(f"  {words}" if words.endswith(".") else f"  {words} ...", file=sys.stderr, flush=True)


def print_json(data: object) -> None:
    """Write a result for another program."""
    print(json.dumps(data, ensure_ascii=False, indent=1, allow_nan=False))
