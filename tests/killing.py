"""Work in forked processes that are killed at random instants, and what they had said until then."""

from __future__ import annotations

import contextlib
import itertools
import os
import random
import signal
import statistics
import subprocess
import time
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

__all__ = ["Child", "Kills", "Say", "fork_only", "how_many", "small_disk"]

Say = Callable[[str], None]
_WHERE = ("before", "within", "writing", "between", "after")
fork_only = pytest.mark.skipif(os.name == "nt", reason="needs fork, signals and mounts of POSIX")


def how_many(variable: str, usual: int) -> int:
    """Return how often to do something: `usual`, unless the environment says otherwise."""
    return int(os.environ.get(variable, "") or usual)


class Child:
    """A forked process that works, and says what it has done through a pipe.

    A line that was said is heard, also when the process was killed right after.

    Attributes:
        started_s: When it was started, by the clock that lines are stamped with.
        said: The lines that were heard, with the moment at which each was said.
    """

    def __init__(self, work: Callable[[Say], None]) -> None:
        self._reader, writer = os.pipe()
        self._heard = b""
        self.said: list[tuple[float, str]] = []
        self.started_s = time.monotonic()
        self.pid = os.fork()
        if self.pid == 0:
            os.close(self._reader)
            code = 1
            try:
                work(lambda line: _write(writer, line))
                code = 0
            except BaseException as error:
                with contextlib.suppress(BaseException):
                    _write(writer, f"failed {type(error).__name__}: {error}"[:3000].replace("\n", " "))
            finally:
                os._exit(code)
        os.close(writer)

    def kill(self) -> list[str]:
        """Kill it, and return what it said."""
        os.kill(self.pid, signal.SIGKILL)
        return self.ended()

    def wait_for(self, word: str, times: int) -> None:
        """Wait until so many lines that begin with a word were said, or it ended."""
        while sum(line.startswith(word) for _, line in self.said) < times and self._hear():
            pass

    def ended(self) -> list[str]:
        """Wait until it ends, and return what it said."""
        while self._hear():
            pass
        os.close(self._reader)
        os.waitpid(self.pid, 0)
        return [line for _, line in self.said]

    def _hear(self) -> bool:
        data = os.read(self._reader, 65536)
        *lines, self._heard = (self._heard + data).split(b"\n")
        for line in lines:
            moment, _, words = line.decode().partition(" ")
            self.said.append((float(moment), words))
        return bool(data)


def _write(handle: int, line: str) -> None:
    assert "\n" not in line
    os.write(handle, f"{time.monotonic():.6f} {line}\n".encode())


class Kills:
    """Kills a work again and again, at instants spread over its whole length, and over what it writes.

    The work says `begin ...` before each thing that it does and `done ...` when that was acknowledged; between, it may
    say `write ...` when it begins to write. Then each second kill is aimed at the writing, which is a small part of it.

    Args:
        seed: Of the instants.
    Attributes:
        fell: How often a kill fell before, within (while writing, where that is said), between and after what was done.
    """

    def __init__(self, seed: int) -> None:
        self.fell: Counter[str] = Counter()
        self._chance = random.Random(seed)
        self._lengths_s: list[float] = []
        self._writes_s: list[float] = []

    def measured(self, work: Callable[[Say], None]) -> list[str]:
        """Let a work end by itself, and remember how long it took; returns what it said."""
        child = Child(work)
        said = child.ended()
        assert said[-1] == "end", said
        self._lengths_s.append(child.said[-1][0] - child.started_s)
        for (begun_s, line), (done_s, _) in itertools.pairwise(child.said):
            if line.startswith("write"):
                self._writes_s.append(done_s - begun_s)
        return said

    def kill(self, work: Callable[[Say], None]) -> list[str]:
        """Start a work, kill it at a random instant, and return what it had said."""
        child = Child(work)
        if self._writes_s and self.fell.total() % 2:
            child.wait_for("write", self._chance.randint(1, len(self._writes_s) // len(self._lengths_s)))
            time.sleep(self._chance.uniform(0, statistics.median(self._writes_s) * 1.1))
        else:
            at_s = child.started_s + self._chance.uniform(0, statistics.median(self._lengths_s) * 1.05)
            time.sleep(max(0.0, at_s - time.monotonic()))
        said = child.kill()
        assert not any(line.startswith("failed") for line in said), said
        begun, done = (sum(line.startswith(word) for line in said) for word in ("begin", "done"))
        within = "writing" if said and said[-1].startswith("write") else "within"
        self.fell["before" if not begun else within if begun > done else "after" if "end" in said else "between"] += 1
        return said

    def told(self, what: str) -> str:
        """Return the figures as a line."""
        fell = ", ".join(f"{self.fell[word]} {word}" for word in _WHERE if self.fell[word])
        return f"{what}: {self.fell.total()} kills fell {fell}"


@contextmanager
def small_disk(place: Path, size: str) -> Iterator[Path]:
    """Give a disk of its own of a size such as `128k`; skips where none can be mounted."""
    place.mkdir()
    if os.name == "nt" or os.geteuid() != 0:
        pytest.skip("a small disk is mounted by root alone")
    mounting = ["mount", "-t", "tmpfs", "-o", f"size={size}", "none", str(place)]
    mounted = subprocess.run(mounting, capture_output=True, check=False)
    if mounted.returncode != 0:
        pytest.skip(f"no small disk could be mounted: {mounted.stderr.decode().strip()}")
    try:
        yield place
    finally:
        subprocess.run(["umount", str(place)], check=True)
