"""Which sentence pattern is taken next: by the ids of what is told, never by chance, and none twice running."""

from __future__ import annotations

import hashlib
import tomllib
from collections import deque
from functools import lru_cache
from importlib import resources
from string import Template
from typing import Any, Final

__all__ = ["Voice", "digest", "patterns", "word_list"]

_APART: Final = 3
"""A pattern comes back only after so many others of its topic, where there are enough."""


@lru_cache(maxsize=1)
def patterns() -> dict[str, dict[str, tuple[str, ...]]]:
    """Return the sentence patterns by topic and kind, and the lists of words."""
    text = (resources.files(__package__) / "patterns.toml").read_text("utf-8")
    data: dict[str, dict[str, Any]] = tomllib.loads(text)
    return {topic: {kind: tuple(texts) for kind, texts in kinds.items()} for topic, kinds in data.items()}


@lru_cache(maxsize=16)
def word_list(name: str) -> frozenset[str]:
    """Return one of the lists of words by which texts are told apart."""
    return frozenset(patterns()["words"][name])


def digest(key: str) -> bytes:
    """Return what stands for chance: the same for the same key, and evenly spread over keys."""
    return hashlib.sha256(key.encode()).digest()


class Voice:
    """Speaks one draft. What was said before only keeps a pattern from coming again too soon."""

    def __init__(self) -> None:
        self._lately: dict[tuple[str, str], deque[str]] = {}

    def say(self, topic: str, kind: str, key: str, **parts: str) -> str:
        """Return a sentence on a topic.

        Args:
            topic, kind: Which patterns it is taken from.
            key: Id of what is told: the same id takes the same pattern, unless that was said just before.
            parts: What is put in, by the letters after `$`.
        """
        texts = tuple(dict.fromkeys(patterns()[topic][kind]))
        lately = self._lately.setdefault((topic, kind), deque(maxlen=min(_APART, len(texts) - 1)))
        by_key = sorted(texts, key=lambda text: digest(f"{key}|{text}"))
        chosen = next((text for text in by_key if text not in lately), by_key[0])
        lately.append(chosen)
        return " ".join(Template(chosen).substitute(parts).split())
