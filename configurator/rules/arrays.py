"""The arrays that compiled loops read and write.

Whoever moves a field changes a comment in each file of loops as well: code kept on disk is only
compiled anew when its own file changes.
"""

from __future__ import annotations

from typing import NamedTuple, TypeAlias

import numpy as np
from numpy.typing import NDArray

Wholes: TypeAlias = NDArray[np.int64]
Words: TypeAlias = NDArray[np.uint64]
Flags: TypeAlias = NDArray[np.uint8]
Reals: TypeAlias = NDArray[np.float64]


class RowArrays(NamedTuple):
    """Rows by number. The rows of a question stand behind those that stay."""

    starts: Wholes
    """First option of each group, shape (groups + 1,)."""
    factor_starts: Wholes
    """First factor of each row, shape (rows + 1,)."""
    factor_groups: Wholes
    factor_masks: Words
    """Options meant, shape (factors, words)."""
    sums: Wholes
    """The sum that each row bounds, or -1, shape (rows,)."""
    weights: Wholes
    """Shape (sums, options)."""
    greatest: Wholes
    """Greatest weight, shape (sums, groups)."""
    watch_starts: Wholes
    watches: Wholes
    """The rows that stay, by the groups that matter to them."""
    sizes: Wholes
    """How many rows stay, how many there are with the question's, how many sums there are."""


class Left(NamedTuple):
    """What is still possible."""

    options: Words
    """Shape (groups, words)."""
    counts: Wholes
    """Options left in each group."""
    least: Wholes
    """Least weight left, shape (sums, groups)."""
    totals: Wholes
    """Least sum left, shape (sums,)."""


class Work(NamedTuple):
    """What the loops write on; one question at a time."""

    bounds: Wholes
    """Of each row, above its sum's constant."""
    is_on: Flags
    """The rows that count."""
    used: Flags
    """Receives the rows that removed anything."""
    queue: Wholes
    is_queued: Flags
    level_options: Words
    level_counts: Wholes
    level_least: Wholes
    level_totals: Wholes
    """What was left before each decision, shape (groups + 1, …)."""
