"""The build with the least sum, or with the least greatest of several sums."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from configurator.rules.arrays import Reals
from configurator.rules.loops import GAVE_UP, narrow_afresh, search
from configurator.rules.multipliers import STEPS, best_multipliers
from configurator.rules.options import Build
from configurator.rules.prover import NODES_BEFORE_SOLVER, Prover
from configurator.rules.row_table import Options
from configurator.rules.rows import IMPLIED, Row, Sum
from configurator.rules.solver import solved
from configurator.rules.surrogates import implied_row


@dataclass(frozen=True)
class Least:
    """A build, and by how much another may still be lower; 0 when none is."""

    build: Build
    missed_by: int


@dataclass(frozen=True)
class _Question:
    totals: Sequence[Sum]
    options: Options
    extra: Sequence[Row]


@dataclass(frozen=True)
class _Better:
    """No build is better by a step than the one found, unless a lazy limit rules it out."""

    build: Build | None
    gave_up: bool


def least_build(
    prover: Prover,
    totals: Sequence[Sum],
    options: Options,
    *,
    known: Build | None = None,
    extra: Sequence[Row] = (),
    gap: int = 0,
) -> Least | None:
    """Find a build with the least greatest of some sums; None when there is no build.

    Parameters
    ----------
    prover : Prover
        The rules.
    totals : sequence of Sum
        One or more.
    options : tuple of int
        What may be taken.
    known : tuple of int, optional
        A build within the options that keeps every rule and extra row.
    extra : sequence of Row
        What must hold beside the rules.
    gap : int
        By how little the least may be missed where finding it would take long.
    """
    best = known if known is not None else prover.some_build(options, extra=extra)
    if best is None:
        return None
    step = math.gcd(*totals[0].weights.tolist()) or 1 if len(totals) == 1 else 1
    question = _Question(totals, options, extra)
    priced = _priced(prover, question, _peak(prover, totals, best))
    exact, missed_by = step, 0
    while True:
        target = _peak(prover, totals, best) - step
        found = _better(prover, question, priced, target, step)
        if found.gave_up and step >= gap:
            found = _solved(prover, question, target, gap)
        is_allowed = found.build is not None and not prover.learn(found.build)
        if found.build is not None and is_allowed:
            best = found.build
        if found.gave_up:
            # Sums differ by multiples of the exact step; this is the greatest below the gap.
            missed_by, step = (gap - 1) // exact * exact, gap
        elif found.build is None or is_allowed:
            return Least(best, missed_by)


def _peak(prover: Prover, totals: Sequence[Sum], build: Build) -> int:
    return max(t.constant + t.above_constant(prover.places, build) for t in totals)


def _priced(prover: Prover, question: _Question, reached: int) -> tuple[Reals, Reals | None]:
    """Rate the options by the sums and, for one sum, by what they use of the rest."""
    totals = question.totals
    costs = np.sum([total.weights for total in totals], axis=0).astype(np.float64)
    rows, left, work = prover.asked(question.options)
    if len(totals) > 1 or not narrow_afresh(rows, left, work):
        return costs, None
    target = float(reached - totals[0].constant)
    return costs, best_multipliers(rows, left, work, costs, target, STEPS, -1)


def _better(
    prover: Prover,
    question: _Question,
    priced: tuple[Reals, Reals | None],
    target: int,
    step: int,
) -> _Better:
    """Search for builds with a peak of at most the target, each better by a step."""
    totals = question.totals
    costs, multipliers = priced
    caps = [Row(IMPLIED, (), total, target - total.constant) for total in totals]
    shares = [1] * len(caps)
    if multipliers is not None:
        implied = implied_row(prover.table, caps[0], multipliers)
        if implied is not None:
            caps.append(implied.row)
            shares.append(implied.times)
            costs = implied.costs
    rows, left, work = prover.asked(question.options, None, [*caps, *question.extra])
    if any(row.bound < 0 for row in caps) or not narrow_afresh(rows, left, work):
        return _Better(None, gave_up=False)
    build = np.full(len(question.options), -1, np.int64)
    falls = np.array(shares, np.int64)
    peak = np.array([target, step, *(total.constant for total in totals)], np.int64)
    status = search(rows, left, work, costs, NODES_BEFORE_SOLVER, falls, peak, build)
    found = tuple(build.tolist()) if (build >= 0).all() else None
    return _Better(found, status == GAVE_UP)


def _solved(prover: Prover, question: _Question, target: int, gap: int) -> _Better:
    """Have the solver find the least, or come as near as the gap allows."""
    totals = question.totals
    caps = [Row(IMPLIED, (), total, target - total.constant) for total in totals]
    rows = (
        [*prover.table.rows, *caps, *question.extra]
        if len(caps) == 1
        else [*prover.table.rows, *question.extra]
    )
    build = solved(prover.places, rows, question.options, totals, gap)
    return _Better(build, gave_up=False)
