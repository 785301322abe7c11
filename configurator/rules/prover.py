"""Exact answers about what may be taken: a build, one with the least sum, or a proof of none."""

from __future__ import annotations

import math
from collections.abc import Collection, Sequence
from dataclasses import dataclass

import numpy as np

from configurator.rules.arrays import Left, Reals, RowArrays, Work
from configurator.rules.lazy import Lazy
from configurator.rules.loops import GAVE_UP, NONE, light_costs, narrow_afresh, search
from configurator.rules.multipliers import STEPS, best_multipliers
from configurator.rules.options import Build
from configurator.rules.row_table import Options, RowTable
from configurator.rules.rows import IMPLIED, Member, Row, Sum, Sums
from configurator.rules.solver import solved
from configurator.rules.surrogates import implied_row, implied_rows

NODES_BEFORE_SOLVER = 1_000
"""Options tried before the solver is asked: what is hard for one is mostly easy for the other."""

NOTHING = np.empty(0, np.int64)


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
    build: Build | None
    gave_up: bool
    is_last: bool
    """No build is better by a step, were this one allowed by the lazy limits."""


class Prover:
    """Rows, lazy limits, and the loops that run over them; for one caller at a time."""

    def __init__(
        self,
        sums: Sums,
        rows: Sequence[Row],
        lazies: Sequence[Lazy],
        following: Sequence[Row] | None = None,
    ) -> None:
        self.sums = sums
        self.places = sums.places
        self.table = RowTable(self.places, rows)
        self.lazies = tuple(lazies)
        self._given = len(rows)
        for row in implied_rows(self.table) if following is None else following:
            self.table.add(row)

    @property
    def following(self) -> list[Row]:
        """The rows that follow from the rules, and those that lazy limits told."""
        return self.table.rows[self._given :]

    @property
    def members(self) -> list[Member]:
        """The ids of all rules, each once, in the order of the problem."""
        every = [row.member for row in self.table.rows if row.member != IMPLIED]
        return list(dict.fromkeys([*every, *(lazy.member for lazy in self.lazies)]))

    def narrowed(self, options: Options) -> Options | None:
        """Remove options until no single row removes any more; None at a contradiction."""
        rows, left, work = self._asked(options)
        return self.table.read_options() if narrow_afresh(rows, left, work) else None

    def some_build(
        self,
        options: Options,
        members: Collection[Member] | None = None,
        used: set[Member] | None = None,
        extra: Sequence[Row] = (),
    ) -> Build | None:
        """Give a build, or None when there is none.

        Parameters
        ----------
        options : tuple of int
            What may be taken.
        members : collection of Member, optional
            The rules that count; all when left out.
        used : set of Member, optional
            Receives rules, of the members given, that alone leave no build; perhaps too many.
        extra : sequence of Row
            What must hold beside the rules.
        """
        while True:
            build = self._search(options, members, used, extra)
            if build is None or not self._learn(build, members, used):
                return build

    def least_build(
        self,
        totals: Sequence[Sum],
        options: Options,
        known: Build | None = None,
        extra: Sequence[Row] = (),
        gap: int = 0,
    ) -> Least | None:
        """Find a build with the least greatest of some sums; None when there is no build.

        Parameters
        ----------
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
        best = known if known is not None else self.some_build(options, extra=extra)
        if best is None:
            return None
        step = math.gcd(*totals[0].weights.tolist()) or 1 if len(totals) == 1 else 1
        question = _Question(totals, options, extra)
        costs, multipliers = self._priced(question, self._peak(totals, best))
        missed_by = 0
        while True:
            target = self._peak(totals, best) - step
            found = self._better(question, costs, multipliers, target, step)
            if found.gave_up:
                found = self._solved(question, target, gap)
                missed_by = max(0, gap - step)
            is_allowed = found.build is not None and not self._learn(found.build)
            if found.build is not None and is_allowed:
                best = found.build
            if found.build is None or (is_allowed and found.is_last):
                return Least(best, missed_by if found.build is not None else 0)

    def allowed(self, builds: Sequence[Build]) -> list[Build]:
        """Give those of some complete builds, which keep all rows, that no lazy limit rules out."""
        kept = list(builds)
        for lazy in self.lazies:
            kept = lazy.kept(kept)
        return kept

    def _asked(
        self,
        options: Options,
        members: Collection[Member] | None = None,
        extra: Sequence[Row] = (),
    ) -> tuple[RowArrays, Left, Work]:
        rows, left, work = self.table.arrays(extra)
        self.table.write_options(options)
        if members is not None:
            stay = len(self.table.rows)
            work.is_on[:stay] = [row.member in members for row in self.table.rows]
        return rows, left, work

    def _search(
        self,
        options: Options,
        members: Collection[Member] | None,
        used: set[Member] | None,
        extra: Sequence[Row],
    ) -> Build | None:
        rows, left, work = self._asked(options, members, extra)
        work.used[:] = 0
        build = np.zeros(len(options), np.int64)
        status = NONE
        if narrow_afresh(rows, left, work):
            costs = light_costs(rows, left, work)
            status = search(rows, left, work, costs, NODES_BEFORE_SOLVER, NOTHING, NOTHING, build)
        if status == GAVE_UP:
            return self._solve(options, members, used, extra)
        if status == NONE:
            if used is not None:
                self._note_used(work, used)
            return None
        return tuple(build.tolist())

    def _note_used(self, work: Work, used: set[Member]) -> None:
        numbers = np.flatnonzero(work.used[: len(self.table.rows)]).tolist()
        used |= {self.table.rows[number].member for number in numbers}

    def _solve(
        self,
        options: Options,
        members: Collection[Member] | None,
        used: set[Member] | None,
        extra: Sequence[Row],
    ) -> Build | None:
        counted = [r for r in self.table.rows if members is None or r.member in members]
        build = solved(self.places, [*counted, *extra], options)
        if build is None and used is not None:
            used |= set(self.members if members is None else members)
        return build

    def _learn(
        self,
        build: Build,
        members: Collection[Member] | None = None,
        used: set[Member] | None = None,
    ) -> bool:
        """Ask the lazy limits about a build; tell whether one rules it out."""
        refused = False
        for lazy in self.lazies:
            if members is not None and lazy.member not in members:
                continue
            row = lazy.row_against(build)
            if row is not None:
                refused = True
                self.table.add(row)
                if used is not None:
                    used.add(lazy.member)
        return refused

    def _peak(self, totals: Sequence[Sum], build: Build) -> int:
        return max(t.constant + t.above_constant(self.places, build) for t in totals)

    def _priced(self, question: _Question, reached: int) -> tuple[Reals, Reals | None]:
        """Rate the options by the sums and, for one sum, by what they use of the rest."""
        totals = question.totals
        costs = np.sum([total.weights for total in totals], axis=0).astype(np.float64)
        rows, left, work = self._asked(question.options)
        if len(totals) > 1 or not narrow_afresh(rows, left, work):
            return costs, None
        target = float(reached - totals[0].constant)
        return costs, best_multipliers(rows, left, work, costs, target, STEPS, -1)

    def _better(
        self,
        question: _Question,
        costs: Reals,
        multipliers: Reals | None,
        target: int,
        step: int,
    ) -> _Better:
        """Search for builds with a peak of at most the target, each better by a step."""
        totals = question.totals
        caps = [Row(IMPLIED, (), total, target - total.constant) for total in totals]
        shares = [1] * len(caps)
        if multipliers is not None:
            implied = implied_row(self.table, caps[0], multipliers)
            if implied is not None:
                caps.append(implied[0])
                shares.append(implied[1])
                costs = implied[2]
        rows, left, work = self._asked(question.options, None, [*caps, *question.extra])
        if any(row.bound < 0 for row in caps) or not narrow_afresh(rows, left, work):
            return _Better(None, gave_up=False, is_last=True)
        build = np.full(len(question.options), -1, np.int64)
        falls = NOTHING if self.lazies else np.array(shares, np.int64)
        peak = np.array([target, step, *(total.constant for total in totals)], np.int64)
        status = search(rows, left, work, costs, NODES_BEFORE_SOLVER, falls, peak, build)
        found = tuple(build.tolist()) if (build >= 0).all() else None
        return _Better(found, status == GAVE_UP, is_last=not self.lazies)

    def _solved(self, question: _Question, target: int, gap: int) -> _Better:
        """Have the solver find the least, or come as near as the gap allows."""
        totals = question.totals
        caps = [Row(IMPLIED, (), total, target - total.constant) for total in totals]
        rows = (
            [*self.table.rows, *caps, *question.extra]
            if len(caps) == 1
            else [*self.table.rows, *question.extra]
        )
        build = solved(self.places, rows, question.options, totals, gap)
        return _Better(build, gave_up=False, is_last=True)
