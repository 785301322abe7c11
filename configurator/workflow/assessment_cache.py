"""Remember the last assessments, so that a redrawn screen does not compute again."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable
from threading import Lock

from configurator.build_spec.spec import Assessment

AssessmentKey = tuple[str, frozenset[str]]
"""The build in canonical JSON, and the parts of the talk that were explained."""


class AssessmentCache:
    """The last assessments by content; safe between threads.

    Parameters
    ----------
    size : int
        How many to keep.
    """

    def __init__(self, size: int = 256) -> None:
        self._size = size
        self._kept: OrderedDict[AssessmentKey, Assessment] = OrderedDict()
        self._lock = Lock()

    def get_or_make(self, key: AssessmentKey, make: Callable[[], Assessment]) -> Assessment:
        """Return what is kept for the key; otherwise make and keep it."""
        with self._lock:
            if key in self._kept:
                self._kept.move_to_end(key)
                return self._kept[key]
        # Made outside the lock: a slow assessment must not hold up another tablet.
        made = make()
        with self._lock:
            self._kept[key] = made
            while len(self._kept) > self._size:
                self._kept.popitem(last=False)
        return made
