"""The greatest whole number at which a falling quantity is still enough, for many at once."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from configurator.physics.trip_arrays import Floats

Rows = NDArray[np.intp]
Wholes = NDArray[np.int64]
Spare = Callable[[Rows, Wholes], Floats]
"""Rows asked about and a whole number for each → what is to spare there, below 0 for too little."""


def greatest_whole(spare: Spare, count: int, least: int, greatest: int) -> Wholes:
    """Find, for each row, the greatest whole number at which something is to spare.

    Parameters
    ----------
    spare : callable
        Falling in the whole number for every row.
    count : int
        Rows, numbered from 0.
    least, greatest : int
        Whole numbers to look between.

    Returns
    -------
    array of int, shape (count,)
        `least` - 1 where even `least` is too much.

    Source
    ------
    False position with the Illinois weighting between two whole numbers of which the lower is
    enough and the upper is not, halving every third time so that it never crawls.

    Examples
    --------
    >>> greatest_whole(lambda rows, wholes: 30.0 - wholes**2.0, 1, 0, 100).tolist()
    [5]
    """
    every: Rows = np.arange(count)
    low: Wholes = np.full(count, least, dtype=np.int64)
    high: Wholes = np.full(count, greatest, dtype=np.int64)
    spare_low, spare_high = spare(every, low), spare(every, high)
    low[spare_low < 0] = least - 1
    low[spare_high >= 0] = greatest
    is_open = (spare_low >= 0) & (spare_high < 0) & (high - low > 1)
    side = np.zeros(count, dtype=np.int64)
    turn = 0
    while is_open.any():
        rows = np.flatnonzero(is_open)
        middle = _between(low[rows], high[rows], spare_low[rows], spare_high[rows], turn)
        spare_middle = spare(rows, middle)
        up, down = spare_middle >= 0, spare_middle < 0
        # An end that stays twice weighs half as much, which draws the next guess towards it.
        spare_high[rows[up & (side[rows] > 0)]] /= 2
        spare_low[rows[down & (side[rows] < 0)]] /= 2
        low[rows[up]], spare_low[rows[up]] = middle[up], spare_middle[up]
        high[rows[down]], spare_high[rows[down]] = middle[down], spare_middle[down]
        side[rows] = np.where(up, 1, -1)
        is_open[rows] = high[rows] - low[rows] > 1
        turn += 1
    return low


def _between(low: Wholes, high: Wholes, spare_low: Floats, spare_high: Floats, turn: int) -> Wholes:
    """Guess a whole number strictly between, where the line between the ends crosses zero."""
    share = spare_low / (spare_low - spare_high) if turn % 3 < 2 else np.full(low.size, 0.5)
    guess: Wholes = low + np.rint((high - low) * share).astype(np.int64)
    return np.minimum(np.maximum(guess, low + 1), high - 1)
