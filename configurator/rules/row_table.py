"""All rows of a problem in arrays that grow when a lazy limit tells a new one."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from configurator.rules.arrays import Left, RowArrays, Work
from configurator.rules.options import OptionPlaces
from configurator.rules.rows import Row, Sum

SPARE = 12
"""Rows that a question may add, each with its own sum and no factor."""

Options = tuple[int, ...]
"""For each group the mask of the options that may be taken."""


class RowTable:
    """Rows by number; those of a question stand behind those that stay."""

    def __init__(self, places: OptionPlaces, rows: Sequence[Row]) -> None:
        self.places = places
        most = max((len(domain.options) for domain in places.domains), default=1)
        self.words = (most - 1) // 64 + 1
        self.rows: list[Row] = []
        self._numbers: dict[int, int] = {}
        self._sums: list[Sum] = []
        self._watches: list[list[int]] = [[] for _ in places.domains]
        self._spare = SPARE
        self._arrays: tuple[RowArrays, Left, Work] | None = None
        for row in rows:
            self.add(row)

    def add(self, row: Row) -> None:
        """Let a row stay."""
        number = len(self.rows)
        self.rows.append(row)
        groups = {group for group, _ in row.factors}
        if row.total is not None:
            if id(row.total) not in self._numbers:
                self._numbers[id(row.total)] = len(self._sums)
                self._sums.append(row.total)
            groups |= {int(group) for group in np.flatnonzero(row.total.greatest)}
        for group in groups:
            self._watches[group].append(number)
        self._arrays = None

    def arrays(self, extra: Sequence[Row] = ()) -> tuple[RowArrays, Left, Work]:
        """Lend the arrays, with a question's rows behind; until the next question."""
        if len(extra) > self._spare:
            self._spare, self._arrays = len(extra), None
        if self._arrays is None:
            self._arrays = self._made()
        rows, _, work = self._arrays
        stay, sums = len(self.rows), len(self._sums)
        for at, row in enumerate(extra):
            if row.total is not None:
                rows.weights[sums + at] = row.total.weights
                rows.greatest[sums + at] = row.total.greatest
                work.bounds[stay + at] = row.bound
        rows.sizes[:] = stay, stay + len(extra), sums + len(extra)
        work.is_on[:] = 1
        return self._arrays

    def lent(self) -> tuple[RowArrays, Left, Work]:
        """Give the arrays lent last, as they stand."""
        return self.arrays() if self._arrays is None else self._arrays

    def write_options(self, options: Options) -> None:
        """Write what may be taken into the arrays lent last."""
        left = self.lent()[1].options
        for word in range(self.words):
            shift = 64 * word
            left[:, word] = [mask >> shift & 0xFFFF_FFFF_FFFF_FFFF for mask in options]

    def read_options(self) -> Options:
        """Read what is left in the arrays lent last."""
        left = self.lent()[1].options
        columns = [left[:, word].tolist() for word in range(self.words)]
        return tuple(
            sum(word << 64 * at for at, word in enumerate(of_group))
            for of_group in zip(*columns, strict=True)
        )

    def _made(self) -> tuple[RowArrays, Left, Work]:
        groups, options = len(self.places.domains), self.places.starts[-1]
        every, spare = len(self.rows) + self._spare, self._spare
        sums = len(self._sums) + spare
        factors = [factor for row in self.rows for factor in row.factors]
        factor_counts = [len(row.factors) for row in self.rows] + [0] * spare
        masks = np.zeros((len(factors), self.words), np.uint64)
        for word in range(self.words):
            masks[:, word] = [mask >> 64 * word & 0xFFFF_FFFF_FFFF_FFFF for _, mask in factors]
        weights = np.zeros((sums, options), np.int64)
        greatest = np.zeros((sums, groups), np.int64)
        for at, total in enumerate(self._sums):
            weights[at], greatest[at] = total.weights, total.greatest
        numbers = [-1 if r.total is None else self._numbers[id(r.total)] for r in self.rows]
        rows = RowArrays(
            starts=np.array(self.places.starts, np.int64),
            factor_starts=_starts(factor_counts),
            factor_groups=np.array([group for group, _ in factors], np.int64),
            factor_masks=masks,
            sums=np.array([*numbers, *range(len(self._sums), sums)], np.int64),
            weights=weights,
            greatest=greatest,
            watch_starts=_starts([len(watching) for watching in self._watches]),
            watches=np.array([row for rows in self._watches for row in rows], np.int64),
            sizes=np.zeros(3, np.int64),
        )
        return rows, *_room(rows, [row.bound for row in self.rows] + [0] * spare, groups, every)


def _room(rows: RowArrays, bounds: Sequence[int], groups: int, every: int) -> tuple[Left, Work]:
    words, sums = rows.factor_masks.shape[1], rows.weights.shape[0]
    left = Left(
        np.zeros((groups, words), np.uint64),
        np.zeros(groups, np.int64),
        np.zeros((sums, groups), np.int64),
        np.zeros(sums, np.int64),
    )
    work = Work(
        bounds=np.array(bounds, np.int64),
        is_on=np.ones(every, np.uint8),
        used=np.zeros(every, np.uint8),
        queue=np.zeros(every, np.int64),
        is_queued=np.zeros(every, np.uint8),
        level_options=np.zeros((groups + 1, groups, words), np.uint64),
        level_counts=np.zeros((groups + 1, groups), np.int64),
        level_least=np.zeros((groups + 1, sums, groups), np.int64),
        level_totals=np.zeros((groups + 1, sums), np.int64),
    )
    return left, work


def _starts(counts: Sequence[int]) -> np.ndarray[tuple[int], np.dtype[np.int64]]:
    return np.concatenate([[0], np.cumsum(np.array(counts, np.int64))]).astype(np.int64)
