"""The lives of all builds, read further each time."""

from __future__ import annotations

from threading import Lock

from configurator.build_life.life import Entry, Life
from configurator.record.build_list import entries_since
from configurator.record.database import Record


class LivesSoFar:
    """All lives as far as they were read; entries are only added, so that only new ones are read.

    Examples
    --------
    >>> LivesSoFar().number
    0
    """

    def __init__(self) -> None:
        self.number = 0
        """Of the last entry that was read."""
        self._entries: dict[str, tuple[Entry, ...]] = {}
        self._lock = Lock()

    def read(self, record: Record) -> dict[str, Life]:
        """Read what was added since, and give every life by reference."""
        with self._lock:
            for reference, entry in entries_since(record, self.number):
                self._entries[reference] = (*self._entries.get(reference, ()), entry)
                self.number = entry.number
            return {reference: Life(entries) for reference, entries in self._entries.items()}
