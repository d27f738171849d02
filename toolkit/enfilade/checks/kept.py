"""Results that are kept from one check of a house to the next."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable
from typing import Generic, TypeVar

__all__ = ["Kept"]

T = TypeVar("T")


class Kept(Generic[T]):
    """Remembers what was worked out from objects, for as long as they are the same objects.

    Records, what stands of them, and the shapes of that are frozen, and what has not moved stays the same object
    from one house to the next. A result may follow from nothing but the objects that are handed over with it: so
    it holds for every check that has them, and tells none what it did not declare.

    Args:
        size: Results that are kept, those that were asked for last. A room asks for some hundreds; many more
            would be held for nothing, and make each pass of the collector longer.
    """

    def __init__(self, size: int) -> None:
        self._size = size
        # The objects are held with their result, so that their ids stay their own.
        self._results: OrderedDict[tuple[int, ...], tuple[tuple[object, ...], T]] = OrderedDict()

    def get(self, of: tuple[object, ...], make: Callable[[], T]) -> T:
        """Return what was worked out from these objects, or work it out."""
        key = tuple(map(id, of))
        found = self._results.get(key)
        if found is None:
            found = self._results[key] = (of, make())
            while len(self._results) > self._size:
                self._results.popitem(last=False)
        else:
            self._results.move_to_end(key)
        return found[1]

    def clear(self) -> None:
        """Forget everything."""
        self._results.clear()
