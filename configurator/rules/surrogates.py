"""A row made of other rows with whole multipliers, so that it holds without rounding."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from configurator.rules.arrays import Left, Reals, RowArrays, Work
from configurator.rules.loops import tightest_limits
from configurator.rules.multipliers import STEPS, best_multipliers, joined_weights
from configurator.rules.row_table import RowTable
from configurator.rules.rows import GREATEST_NUMBER, IMPLIED, Row, Sum

FINEST = 2**30
COARSEST = 2**6
SHARPENED = 4
"""Limits that are sharpened for one question."""


@dataclass(frozen=True)
class Implied:
    """A row that follows from others."""

    row: Row
    times: int
    """How often the row that it sharpens is in it."""
    costs: Reals
    """What it makes of each option; the cheapest keep it best."""
    behind: tuple[int, ...]
    """The numbers of the rows that it follows from."""


def implied_rows(table: RowTable, rows: RowArrays, left: Left, work: Work) -> list[Implied]:
    """Make rows of other rows' multiples that sharpen the tightest limits of what is left.

    Parameters
    ----------
    table : RowTable
        The rows.
    rows, left, work
        Its arrays, with what is left narrowed; what is made holds there.
    """
    made = []
    for number in tightest_limits(rows, left, work, SHARPENED).tolist():
        limit = table.rows[number]
        if limit.total is None:
            continue
        sought = limit.total.weights.astype(np.float64)
        bound = float(work.bounds[number])
        multipliers = best_multipliers(rows, left, work, sought, bound, STEPS, number)
        implied = implied_row(table, Row(IMPLIED, (), limit.total, limit.bound), multipliers)
        if implied is not None:
            made.append(replace(implied, behind=(number, *implied.behind)))
    return made


def implied_row(table: RowTable, row: Row, multipliers: Reals) -> Implied | None:
    """Add multiples of the rows of a table to a row with a sum.

    Parameters
    ----------
    table : RowTable
        Whose rows hold; none of those with a multiplier may have factors beside a sum.
    row : Row
        The row to sharpen, without factors.
    multipliers : array, shape (rows,)
        Of each row of the table, 0 or more; later rows count for none.

    Returns
    -------
    Implied or None
        None when nothing is added, or numbers would grow too large.
    """
    if row.total is None or not multipliers.any():
        return None
    rows, _, work = table.lent()
    span = row.total.most + abs(row.bound) + 1.0
    for at in np.flatnonzero(multipliers).tolist():
        added = table.rows[at]
        reach = len(added.factors) if added.total is None else added.total.most + abs(added.bound)
        span += float(multipliers[at]) * (reach + 1)
    times = FINEST
    while times > COARSEST and span * times > GREATEST_NUMBER / 4:
        times //= 2
    if not span * times <= GREATEST_NUMBER / 4:  # Neither too large nor not a number.
        return None
    shares = np.floor(multipliers * times).astype(np.int64)
    weights = row.total.weights * times
    bound = row.bound * times + joined_weights(rows, work.bounds, shares, weights)
    starts = row.total.starts
    least = np.minimum.reduceat(weights, starts)
    sizes = np.diff(table.places.starts)
    weights -= np.repeat(least, sizes)
    greatest = np.maximum.reduceat(weights, starts)
    total = Sum(0, weights, greatest, row.total.starts)
    sharper = Row(IMPLIED, (), total, int(bound - least.sum()))
    return Implied(
        sharper, times, weights.astype(np.float64), tuple(np.flatnonzero(shares).tolist())
    )
