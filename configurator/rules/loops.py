"""Compiled loops: what follows at once from rows, and trying options until a build is found.

What is still possible is a bit for each option of each group. A row counts for nothing while one of
its factors is out; with all factors certain it bounds its sum; with one factor open, the options
meant there go when they would break it.
"""

from __future__ import annotations

import numpy as np

from configurator.compiled_loops import compiled_loop
from configurator.rules.arrays import Left, Reals, RowArrays, Wholes, Words, Work

ONE = np.uint64(1)
GREATEST = np.int64(2**62)

FOUND, NONE, GAVE_UP = 1, 0, 2


@compiled_loop
def is_left(words: Words, row: int, place: int) -> bool:
    """Tell whether a bit is set in one row of words."""
    return bool((words[row, place >> 6] >> np.uint64(place & 63)) & ONE != 0)


@compiled_loop
def recount(rows: RowArrays, left: Left, group: int) -> None:
    """Count a group's options afresh, and what they leave of each sum."""
    first = rows.starts[group]
    size = rows.starts[group + 1] - first
    count = 0
    for place in range(size):
        if is_left(left.options, group, place):
            count += 1
    left.counts[group] = count
    if count == 0:
        return
    for total in range(rows.sizes[2]):
        if rows.greatest[total, group] == 0:
            continue
        least = GREATEST
        for place in range(size):
            if is_left(left.options, group, place):
                least = min(least, rows.weights[total, first + place])
        left.totals[total] += least - left.least[total, group]
        left.least[total, group] = least


@compiled_loop
def queue_watchers(rows: RowArrays, work: Work, waiting: int, group: int) -> int:
    """Queue the rows that a group's loss may matter to; give how many wait."""
    for at in range(rows.watch_starts[group], rows.watch_starts[group + 1]):
        row = rows.watches[at]
        if not work.is_queued[row]:
            work.is_queued[row] = 1
            work.queue[waiting] = row
            waiting += 1
    for row in range(rows.sizes[0], rows.sizes[1]):
        if not work.is_queued[row]:
            work.is_queued[row] = 1
            work.queue[waiting] = row
            waiting += 1
    return waiting


@compiled_loop
def open_factor(rows: RowArrays, left: Left, row: int) -> int:
    """Give the one factor of a row that is open; -1 when none is, -2 when the row is idle."""
    found = -1
    for factor in range(rows.factor_starts[row], rows.factor_starts[row + 1]):
        group = rows.factor_groups[factor]
        is_in, is_out = False, False
        for word in range(left.options.shape[1]):
            options = left.options[group, word]
            meant = rows.factor_masks[factor, word]
            is_in = is_in or options & meant != 0
            is_out = is_out or options & ~meant != 0
        if not is_in:
            return -2
        if is_out:
            if found >= 0:
                return -2
            found = factor
    return found


@compiled_loop
def drop_too_heavy(rows: RowArrays, left: Left, total: int, group: int, slack: int) -> bool:
    """Drop the options of a group that are heavier than the lightest by more than the slack."""
    first = rows.starts[group]
    most = left.least[total, group] + slack
    dropped = False
    for place in range(rows.starts[group + 1] - first):
        if is_left(left.options, group, place) and rows.weights[total, first + place] > most:
            left.options[group, place >> 6] &= ~(ONE << np.uint64(place & 63))
            dropped = True
    return dropped


@compiled_loop
def least_within(rows: RowArrays, left: Left, total: int, factor: int) -> int:
    """Give the least sum with a factor's group restricted to the options meant."""
    group = rows.factor_groups[factor]
    if rows.greatest[total, group] == 0:
        return int(left.totals[total])
    first = rows.starts[group]
    least = GREATEST
    for place in range(rows.starts[group + 1] - first):
        if is_left(left.options, group, place) and is_left(rows.factor_masks, factor, place):
            least = min(least, rows.weights[total, first + place])
    return int(left.totals[total] - left.least[total, group] + least)


@compiled_loop
def narrow(rows: RowArrays, left: Left, work: Work, waiting: int) -> int:
    """Examine the rows that wait until nothing more goes; give the row contradicted, or -1."""
    failed = -1
    while waiting:
        waiting -= 1
        row = work.queue[waiting]
        work.is_queued[row] = 0
        if failed >= 0 or not work.is_on[row]:
            continue
        factor = open_factor(rows, left, row)
        if factor == -2:
            continue
        total = rows.sums[row]
        if factor == -1:
            slack = work.bounds[row] - left.totals[total] if total >= 0 else np.int64(-1)
            if slack < 0:
                work.used[row] = 1
                failed = row
                continue
            for group in range(left.counts.size):
                spread = rows.greatest[total, group] - left.least[total, group]
                if (
                    left.counts[group] > 1
                    and spread > slack
                    and drop_too_heavy(rows, left, total, group, int(slack))
                ):
                    work.used[row] = 1
                    recount(rows, left, group)
                    waiting = queue_watchers(rows, work, waiting, group)
            continue
        if total >= 0 and least_within(rows, left, total, factor) <= work.bounds[row]:
            continue
        group = rows.factor_groups[factor]
        for word in range(left.options.shape[1]):
            left.options[group, word] &= ~rows.factor_masks[factor, word]
        work.used[row] = 1
        recount(rows, left, group)
        if left.counts[group] == 0:
            failed = row
            continue
        waiting = queue_watchers(rows, work, waiting, group)
    return failed


@compiled_loop
def narrow_afresh(rows: RowArrays, left: Left, work: Work) -> bool:
    """Count everything in `left.options` and narrow by every row; False at a contradiction."""
    left.totals[:] = 0
    left.least[:] = 0
    for group in range(left.counts.size):
        recount(rows, left, group)
        if left.counts[group] == 0:
            return False
    waiting = 0
    for row in range(rows.sizes[1] - 1, -1, -1):
        work.queue[waiting] = row
        work.is_queued[row] = 1
        waiting += 1
    return narrow(rows, left, work, waiting) < 0


@compiled_loop
def light_costs(rows: RowArrays, left: Left, work: Work) -> Reals:
    """Rate each option by how much of what the certain rows still leave it would use up."""
    costs = np.zeros(rows.starts[-1])
    for row in range(rows.sizes[1]):
        total = rows.sums[row]
        if total >= 0 and work.is_on[row] and open_factor(rows, left, row) == -1:
            slack = max(work.bounds[row] - left.totals[total], 0) + 1.0
            costs += rows.weights[total] / slack
    return costs


@compiled_loop
def tightest_limits(rows: RowArrays, left: Left, work: Work, most: int) -> Wholes:
    """List a few of the certain rows that stay and bound a sum, those with least room first."""
    numbers = np.empty(rows.sizes[0], np.int64)
    room = np.empty(rows.sizes[0])
    size = 0
    for row in range(rows.sizes[0]):
        total = rows.sums[row]
        if total >= 0 and work.is_on[row] and open_factor(rows, left, row) == -1:
            span = rows.greatest[total].sum() + 1.0
            numbers[size] = row
            room[size] = (work.bounds[row] - left.totals[total]) / span
            size += 1
    return numbers[np.argsort(room[:size])[:most]]


@compiled_loop
def best_place(rows: RowArrays, left: Left, costs: Reals, group: int) -> int:
    """Give the option left with the least cost, the first among equals."""
    first = rows.starts[group]
    best = -1
    for place in range(rows.starts[group + 1] - first):
        if is_left(left.options, group, place) and (
            best < 0 or costs[first + place] < costs[first + best]
        ):
            best = place
    return best


@compiled_loop
def tightest_group(left: Left, troubles: Reals) -> int:
    """Give the open group with the fewest options for its troubles; -1 when none is open."""
    chosen = -1
    for group in range(left.counts.size):
        if left.counts[group] > 1 and (
            chosen < 0
            or left.counts[group] * troubles[chosen] < left.counts[chosen] * troubles[group]
        ):
            chosen = group
    return chosen


@compiled_loop
def search(
    rows: RowArrays,
    left: Left,
    work: Work,
    costs: Reals,
    nodes: int,
    falls: Wholes,
    peak: Wholes,
    build: Wholes,
) -> int:
    """Try options, least cost first, in what is left and narrowed, until a build is found.

    With `falls`, the search goes on for better ones until none is left: a build's peak is the
    greatest of the question's first sums, one for each constant in `peak[2:]`; `peak[0]` is the
    greatest wanted and `peak[1]` how much the next must be below one found. The bounds of the
    question's rows fall with it, each by its share in `falls`. `build` holds the last one found.
    """
    groups = left.counts.size
    decided = np.empty((groups + 1, 2), np.int64)
    troubles = np.ones(groups)
    level, found = 0, False
    stay = rows.sizes[0]
    while True:
        group = tightest_group(left, troubles)
        if group < 0:
            for each in range(groups):
                build[each] = best_place(rows, left, costs, each)
            if falls.size == 0:
                return FOUND
            found = True
            reached = -GREATEST
            for at in range(peak.size - 2):
                reached = max(reached, left.totals[rows.sums[stay + at]] + peak[2 + at])
            for at in range(falls.size):
                work.bounds[stay + at] -= falls[at] * (peak[0] - reached + peak[1])
            peak[0] = reached - peak[1]
            failed = stay
        else:
            if nodes == 0:
                return GAVE_UP
            nodes -= 1
            place = best_place(rows, left, costs, group)
            work.level_options[level] = left.options
            work.level_counts[level] = left.counts
            work.level_least[level] = left.least
            work.level_totals[level] = left.totals
            decided[level, 0], decided[level, 1] = group, place
            level += 1
            left.options[group] = 0
            left.options[group, place >> 6] = ONE << np.uint64(place & 63)
            recount(rows, left, group)
            failed = narrow(rows, left, work, queue_watchers(rows, work, 0, group))
        while failed >= 0:
            for factor in range(rows.factor_starts[failed], rows.factor_starts[failed + 1]):
                troubles[rows.factor_groups[factor]] += 1.0
            if level == 0:
                return FOUND if found else NONE
            level -= 1
            left.options[:] = work.level_options[level]
            left.counts[:] = work.level_counts[level]
            left.least[:] = work.level_least[level]
            left.totals[:] = work.level_totals[level]
            group, place = decided[level, 0], decided[level, 1]
            left.options[group, place >> 6] &= ~(ONE << np.uint64(place & 63))
            recount(rows, left, group)
            failed = narrow(rows, left, work, queue_watchers(rows, work, 0, group))
