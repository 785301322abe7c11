"""Compiled loops over builds already found: what they show, and what one change in them shows."""

from __future__ import annotations

import numpy as np

from configurator.compiled_loops import compiled_loop
from configurator.rules.arrays import Flags, RowArrays, Wholes, Words


@compiled_loop
def credit(starts: Wholes, builds: Wholes, picked: Wholes, unknown: Flags) -> Wholes:
    """Strike from `unknown` the options that builds show to be possible.

    A build with all the picks counts for every group; one that lacks a single pick counts for that
    pick's group. `picked` holds -1 for a group without a pick.

    Returns
    -------
    array of int
        The numbers of the builds with all the picks.
    """
    compatible = np.empty(builds.shape[0], np.int64)
    size = 0
    for number in range(builds.shape[0]):
        missing, lacking = 0, -1
        for group in range(picked.size):
            if picked[group] >= 0 and builds[number, group] != picked[group]:
                missing += 1
                lacking = group
                if missing > 1:
                    break
        if missing == 0:
            compatible[size] = number
            size += 1
            for group in range(picked.size):
                unknown[starts[group] + builds[number, group]] = 0
        elif missing == 1:
            unknown[starts[lacking] + builds[number, lacking]] = 0
    return compatible[:size]


@compiled_loop
def _is_meant(masks: Words, factor: int, place: int) -> bool:
    return bool((masks[factor, place >> 6] >> np.uint64(place & 63)) & np.uint64(1) != 0)


@compiled_loop
def _keeps_watched(
    rows: RowArrays, bounds: Wholes, totals: Wholes, build: Wholes, group: int, old: int
) -> bool:
    """Tell whether a build keeps the rows that watch the one group in which it was changed."""
    now = rows.starts[group] + build[group]
    before = rows.starts[group] + old
    for at in range(rows.watch_starts[group], rows.watch_starts[group + 1]):
        row = rows.watches[at]
        applies = True
        for factor in range(rows.factor_starts[row], rows.factor_starts[row + 1]):
            if not _is_meant(rows.factor_masks, factor, build[rows.factor_groups[factor]]):
                applies = False
                break
        if not applies:
            continue
        total = rows.sums[row]
        if total < 0:
            return False
        reached = totals[total] + rows.weights[total, now] - rows.weights[total, before]
        if reached > bounds[row]:
            return False
    return True


@compiled_loop
def neighbours(rows: RowArrays, bounds: Wholes, build: Wholes, unknown: Flags) -> Wholes:
    """List the unknown options that may replace the option of their group in a kept build.

    Returns
    -------
    array of int, shape (n, 2)
        Group and place; every row is kept, lazy limits are not asked.
    """
    totals = np.zeros(rows.weights.shape[0], np.int64)
    for total in range(totals.size):
        for group in range(build.size):
            totals[total] += rows.weights[total, rows.starts[group] + build[group]]
    found = np.empty((unknown.size, 2), np.int64)
    size = 0
    for group in range(build.size):
        old = build[group]
        for place in range(rows.starts[group + 1] - rows.starts[group]):
            if place == old or not unknown[rows.starts[group] + place]:
                continue
            build[group] = place
            if _keeps_watched(rows, bounds, totals, build, group, old):
                found[size, 0], found[size, 1] = group, place
                size += 1
        build[group] = old
    return found[:size]
