"""Builds known to keep every rule: each settles many options at once."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from configurator.rules.arrays import Wholes
from configurator.rules.options import Build, Picks

_KEPT = 2000


class WitnessPool:
    """The builds found last; when it is full the older half is forgotten."""

    def __init__(self, groups: int) -> None:
        self._builds: Wholes = np.zeros((_KEPT, groups), np.int64)
        self._known: dict[Build, int] = {}

    @property
    def builds(self) -> Wholes:
        """The builds, the oldest first, shape (n, groups)."""
        return self._builds[: len(self._known)]

    def add(self, builds: Iterable[Build]) -> None:
        """Remember builds."""
        for build in builds:
            if build in self._known:
                continue
            if len(self._known) == _KEPT:
                self._forget()
            self._builds[len(self._known)] = build
            self._known[build] = len(self._known)

    def with_all(self, picks: Picks) -> Build | None:
        """Give the latest build that has all the picked options, or None."""
        fitting = np.ones(len(self._known), bool)
        for group, place in picks:
            fitting &= self.builds[:, group] == place
        numbers = np.flatnonzero(fitting)
        return tuple(self.builds[numbers[-1]].tolist()) if numbers.size else None

    def within(self, allowed: Wholes) -> Wholes:
        """Give the builds that take only allowed options; shape (groups, places), 1 where so."""
        if not self._known:
            return self.builds
        groups = np.arange(allowed.shape[0])
        return self.builds[allowed[groups, self.builds].all(axis=1)]

    def _forget(self) -> None:
        kept = list(self._known)[_KEPT // 2 :]
        self._known = {build: number for number, build in enumerate(kept)}
        self._builds[: len(kept)] = kept
