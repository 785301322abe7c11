"""A row made of other rows with whole multipliers, so that it holds without rounding."""

from __future__ import annotations

import numpy as np

from configurator.rules.arrays import Reals
from configurator.rules.loops import narrow_afresh
from configurator.rules.multipliers import STEPS, best_multipliers, joined_weights
from configurator.rules.row_table import RowTable
from configurator.rules.rows import GREATEST_NUMBER, IMPLIED, Row, Sum

FINEST = 2**30
COARSEST = 2**6


def implied_rows(table: RowTable) -> list[Row]:
    """For each plain limit, make the row of other rows' multiples that sharpens it most."""
    rows, left, work = table.arrays()
    table.write_options(table.places.every)
    if not narrow_afresh(rows, left, work):
        return []
    made = []
    for number, row in enumerate(table.rows):
        if row.total is None or row.factors:
            continue
        sought = row.total.weights.astype(np.float64)
        multipliers = best_multipliers(rows, left, work, sought, float(row.bound), STEPS, number)
        implied = implied_row(table, row, multipliers)
        if implied is not None:
            made.append(implied[0])
    return made


def implied_row(table: RowTable, row: Row, multipliers: Reals) -> tuple[Row, int, Reals] | None:
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
    tuple of Row, int and array, or None
        The row that follows, how often the given one is in it, and the costs it gives to options;
        None when nothing is added, or numbers would grow too large.
    """
    if row.total is None or not multipliers.any():
        return None
    rows, _, work = table.arrays()
    span = row.total.most + abs(row.bound) + 1.0
    for at in np.flatnonzero(multipliers).tolist():
        added = table.rows[at]
        reach = 0 if added.total is None else added.total.most + abs(added.bound)
        span += float(multipliers[at]) * (reach + 1)
    times = FINEST
    while times > COARSEST and span * times > GREATEST_NUMBER / 4:
        times //= 2
    if span * times > GREATEST_NUMBER / 4:
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
    return Row(IMPLIED, (), total, int(bound - least.sum())), times, weights.astype(np.float64)
