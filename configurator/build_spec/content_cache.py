"""Remember the last answers by what they were computed from, so that nothing is computed twice."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Hashable
from threading import Lock
from typing import Generic, TypeVar

Answer = TypeVar("Answer")


class ContentCache(Generic[Answer]):
    """The last answers; safe between threads.

    Parameters
    ----------
    size : int
        How many to keep; the one longest unasked goes first.

    Examples
    --------
    >>> cache = ContentCache[int](size=2)
    >>> cache.get_or_make("a", lambda: 1), cache.get_or_make("a", lambda: 2)
    (1, 1)
    """

    def __init__(self, size: int) -> None:
        self._size = size
        self._kept: OrderedDict[Hashable, Answer] = OrderedDict()
        self._lock = Lock()

    def known(self, key: Hashable) -> Answer | None:
        """Return what is kept for the key, or None."""
        with self._lock:
            return self._kept.get(key)

    def get_or_make(self, key: Hashable, make: Callable[[], Answer]) -> Answer:
        """Return what is kept for the key; otherwise make and keep it."""
        with self._lock:
            if key in self._kept:
                self._kept.move_to_end(key)
                return self._kept[key]
        # Made outside the lock: a slow answer must not hold up another tablet.
        made = make()
        with self._lock:
            self._kept[key] = made
            while len(self._kept) > self._size:
                self._kept.popitem(last=False)
        return made
