"""Exact answers about what may be taken: a build, one with the least sum, or a proof of none."""

from __future__ import annotations

from collections.abc import Collection, Sequence

import numpy as np

from configurator.rules.arrays import Left, RowArrays, Wholes, Work
from configurator.rules.lazy import Lazy
from configurator.rules.loops import GAVE_UP, NONE, light_costs, narrow_afresh, search
from configurator.rules.options import Build
from configurator.rules.row_table import Options, RowTable
from configurator.rules.rows import Member, Row, Sums
from configurator.rules.solver import solved
from configurator.rules.surrogates import implied_rows

NODES_BEFORE_SHARPENING = 100
NODES_BEFORE_SOLVER = 300
"""Options tried before limits are sharpened, and before the solver is asked: what is hard for the
one is mostly easy for the other."""

NOTHING = np.empty(0, np.int64)


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
        for row in self._sharper() if following is None else following:
            self.table.add(row)

    @property
    def following(self) -> list[Row]:
        """The rows that follow from the rules, and those that lazy limits told."""
        return self.table.rows[self._given :]

    @property
    def members(self) -> list[Member]:
        """The ids of all rules, each once, in the order of the problem, whatever was told."""
        given = [row.member for row in self.table.rows[: self._given]]
        return list(dict.fromkeys([*given, *(lazy.member for lazy in self.lazies)]))

    def narrowed(self, options: Options) -> Options | None:
        """Remove options until no single row removes any more; None at a contradiction."""
        rows, left, work = self.asked(options)
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
            if build is None or not self.learn(build, members, used):
                return build

    def allowed(self, builds: Sequence[Build]) -> list[Build]:
        """Give those of some complete builds, which keep all rows, that no lazy limit rules out."""
        kept = list(builds)
        if self.lazies:
            choices = {build: self.places.choices(build) for build in kept}
            for lazy in self.lazies:
                kept = lazy.kept(kept, choices)
        return kept

    def asked(
        self,
        options: Options,
        members: Collection[Member] | None = None,
        extra: Sequence[Row] = (),
    ) -> tuple[RowArrays, Left, Work]:
        """Lend the arrays for a question about some options; all rules count, or some members."""
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
        rows, left, work = self.asked(options, members, extra)
        work.used[:] = 0
        build = np.zeros(len(options), np.int64)
        status = self._tried(rows, left, work, NODES_BEFORE_SHARPENING, build)
        behind: set[int] = set()
        if status == GAVE_UP:
            self.table.write_options(options)
            narrow_afresh(rows, left, work)
            sharper = implied_rows(self.table, rows, left, work)
            used_so_far = work.used[: len(self.table.rows)].copy()
            rows, left, work = self.asked(options, members, [*extra, *(i.row for i in sharper)])
            work.used[: used_so_far.size] = used_so_far
            behind = {number for implied in sharper for number in implied.behind}
            status = self._tried(rows, left, work, NODES_BEFORE_SOLVER, build)
        if status == GAVE_UP:
            return self._solve(options, members, used, extra)
        if status == NONE:
            if used is not None:
                self._note_used(work, used, behind)
            return None
        return tuple(build.tolist())

    @staticmethod
    def _tried(rows: RowArrays, left: Left, work: Work, nodes: int, build: Wholes) -> int:
        if not narrow_afresh(rows, left, work):
            return NONE
        costs = light_costs(rows, left, work)
        return search(rows, left, work, costs, nodes, NOTHING, NOTHING, build)

    def _sharper(self) -> list[Row]:
        rows, left, work = self.asked(self.places.every)
        if not narrow_afresh(rows, left, work):
            return []
        return [implied.row for implied in implied_rows(self.table, rows, left, work)]

    def _note_used(self, work: Work, used: set[Member], behind: set[int]) -> None:
        numbers = np.flatnonzero(work.used[: len(self.table.rows)]).tolist()
        used |= {self.table.rows[number].member for number in behind.union(numbers)}

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

    def learn(
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
