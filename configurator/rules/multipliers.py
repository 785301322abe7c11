"""Rows that follow from all others together, for the sum that is sought or limited.

Any rows added with multipliers of 0 or more make a row that every build keeps. The multipliers that
make the sum's own least as great as can be see what the rows do not see one by one.
"""

from __future__ import annotations

import numpy as np

from configurator.compiled_loops import compiled_loop
from configurator.rules.arrays import Left, Reals, RowArrays, Wholes, Words, Work

STEPS = 60
PATIENCE = 5
"""Steps without gain after which the step is shortened."""


@compiled_loop
def _meant(masks: Words, factor: int, place: int) -> bool:
    return bool((masks[factor, place >> 6] >> np.uint64(place & 63)) & np.uint64(1) != 0)


@compiled_loop
def _is_certain(rows: RowArrays, left: Left, bounds: Wholes, row: int) -> bool:
    """Tell whether a row bounds a plain sum in what is left: weights, or options meant."""
    total = rows.sums[row]
    if total >= 0 and rows.greatest[total].sum() <= bounds[row]:
        return False
    for factor in range(rows.factor_starts[row], rows.factor_starts[row + 1]):
        is_in, is_out = False, False
        for word in range(left.options.shape[1]):
            options = left.options[rows.factor_groups[factor], word]
            is_in = is_in or options & rows.factor_masks[factor, word] != 0
            is_out = is_out or options & ~rows.factor_masks[factor, word] != 0
        if not is_in or (is_out and total >= 0):
            return False
    return True


@compiled_loop
def _add_row(rows: RowArrays, row: int, share: float, costs: Reals | Wholes) -> None:
    """Add a row's weights, times a share, to costs; whole numbers stay whole."""
    total = rows.sums[row]
    if total >= 0:
        costs += share * rows.weights[total]
        return
    for factor in range(rows.factor_starts[row], rows.factor_starts[row + 1]):
        group = rows.factor_groups[factor]
        first = rows.starts[group]
        for place in range(rows.starts[group + 1] - first):
            if _meant(rows.factor_masks, factor, place):
                costs[first + place] += share


@compiled_loop
def _bound_of(rows: RowArrays, bounds: Wholes, row: int) -> int:
    if rows.sums[row] >= 0:
        return int(bounds[row])
    return int(rows.factor_starts[row + 1] - rows.factor_starts[row] - 1)


@compiled_loop
def _excess(rows: RowArrays, bounds: Wholes, row: int, taken: Wholes) -> float:
    """Tell by how much taken options pass a row's bound; below 0 where they keep it."""
    total = rows.sums[row]
    reached = 0
    if total >= 0:
        for group in range(taken.size):
            reached += rows.weights[total, rows.starts[group] + taken[group]]
    else:
        for factor in range(rows.factor_starts[row], rows.factor_starts[row + 1]):
            if _meant(rows.factor_masks, factor, taken[rows.factor_groups[factor]]):
                reached += 1
    return float(reached - _bound_of(rows, bounds, row))


@compiled_loop
def _chosen_rows(rows: RowArrays, left: Left, work: Work, own: int) -> tuple[Wholes, Reals]:
    """List the certain rows but one, and the size of their sums for one group."""
    chosen = np.empty(rows.sizes[0], np.int64)
    scales = np.ones(rows.sizes[0])
    size = 0
    for row in range(rows.sizes[0]):
        if row != own and work.is_on[row] and _is_certain(rows, left, work.bounds, row):
            chosen[size] = row
            if rows.sums[row] >= 0:
                scales[size] = max(1.0, rows.greatest[rows.sums[row]].mean())
            size += 1
    return chosen[:size], scales[:size]


@compiled_loop
def _take_cheapest(rows: RowArrays, left: Left, costs: Reals, taken: Wholes) -> float:
    """Take the cheapest option left in each group; give what they cost together."""
    value = 0.0
    for group in range(taken.size):
        first = rows.starts[group]
        least = np.inf
        for place in range(rows.starts[group + 1] - first):
            if _meant(left.options, group, place) and costs[first + place] < least:
                least = costs[first + place]
                taken[group] = place
        value += least
    return value


@compiled_loop
def best_multipliers(
    rows: RowArrays, left: Left, work: Work, sought: Reals, target: float, steps: int, own: int
) -> Reals:
    """Give a multiplier for each row that makes the least of `sought` with all rows' excess great.

    `target` is a value that some build has, or a guess; `own` is a row to leave out. Subgradient
    ascent with Polyak's step. Nothing rests on how good the outcome is.
    """
    chosen, scales = _chosen_rows(rows, left, work, own)
    size = chosen.size
    now, best = np.zeros(size), np.zeros(size)
    excess = np.empty(size)
    taken = np.empty(left.counts.size, np.int64)
    best_value, step, idle = -np.inf, 1.0, 0
    for _ in range(steps):
        costs = sought.copy()
        value = 0.0
        for at in range(size):
            if now[at] > 0.0:
                share = now[at] / scales[at]
                _add_row(rows, chosen[at], share, costs)
                value -= share * _bound_of(rows, work.bounds, chosen[at])
        value += _take_cheapest(rows, left, costs, taken)
        idle += 1
        if value > best_value:
            best_value, idle = value, 0
            best[:] = now
        elif idle > PATIENCE:
            step, idle = 0.5 * step, 0
            now[:] = best
        square = 0.0
        for at in range(size):
            excess[at] = _excess(rows, work.bounds, chosen[at], taken) / scales[at]
            if now[at] > 0.0 or excess[at] > 0.0:
                square += excess[at] ** 2
        if square < 1e-12:
            break
        away = target - value if target > value else 0.05 * abs(value) + 1.0
        for at in range(size):
            now[at] = max(0.0, now[at] + step * away / square * excess[at])
    multipliers = np.zeros(rows.sizes[0])
    for at in range(size):
        multipliers[chosen[at]] = best[at] / scales[at]
    return multipliers


@compiled_loop
def joined_weights(rows: RowArrays, bounds: Wholes, shares: Wholes, weights: Wholes) -> int:
    """Add every row times its whole share to weights; give the sum of their bounds."""
    bound = 0
    for row in range(shares.size):
        share = shares[row]
        if share == 0:
            continue
        bound += share * _bound_of(rows, bounds, row)
        _add_row(rows, row, share, weights)
    return bound
