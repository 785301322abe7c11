"""The CP-SAT solver, for the few questions that trying options does not settle."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from ortools.sat.python import cp_model

from configurator.rules.options import Build, OptionPlaces
from configurator.rules.row_table import Options
from configurator.rules.rows import GREATEST_NUMBER, Row, Sum


def solved(
    places: OptionPlaces,
    rows: Iterable[Row],
    options: Options,
    totals: Sequence[Sum] = (),
    gap: int = 0,
) -> Build | None:
    """Give a build, with the least greatest of some sums; None when no build is left.

    The same question always gets the same answer.

    Parameters
    ----------
    places : OptionPlaces
        The groups and options.
    rows : iterable of Row
        What must hold.
    options : tuple of int
        For each group the mask of the options that may be taken.
    totals : sequence of Sum
        What is to be least; nothing when there is none.
    gap : int
        By how little the least may be missed.
    """
    model = _Model(places)
    model.allow(options)
    for row in rows:
        model.hold(row)
    model.seek(totals)
    solver = _solver()
    solver.parameters.absolute_gap_limit = _gap_limit(totals, gap)
    status = solver.solve(model.model)
    if status == cp_model.INFEASIBLE:
        return None
    if status != cp_model.OPTIMAL:
        message = f"solver: it ended with {solver.status_name(status)}; it must prove its answer."
        raise RuntimeError(message)
    return tuple(
        next(place for place, variable in enumerate(of_group) if solver.boolean_value(variable))
        for of_group in model.variables
    )


@dataclass
class _Model:
    """A solver's model: a variable for each option, and one for each sum that a row bounds."""

    places: OptionPlaces
    model: cp_model.CpModel = field(default_factory=cp_model.CpModel)
    variables: list[list[cp_model.IntVar]] = field(default_factory=list)
    sums: dict[int, cp_model.IntVar] = field(default_factory=dict)

    def allow(self, options: Options) -> None:
        """Take exactly one of the options that may be taken in each group."""
        for domain, mask in zip(self.places.domains, options, strict=True):
            of_group = [self.model.new_bool_var("") for _ in domain.options]
            self.model.add_exactly_one(of_group)
            for place, variable in enumerate(of_group):
                if not mask >> place & 1:
                    self.model.add(variable == 0)
            self.variables.append(of_group)

    def hold(self, row: Row) -> None:
        """Let a row hold."""
        ways_out = [
            variable
            for group, mask in row.factors
            for place, variable in enumerate(self.variables[group])
            if not mask >> place & 1
        ]
        if row.total is None:
            self.model.add_bool_or(ways_out)
            return
        lift = row.total.most - row.bound
        if lift <= 0:
            return
        total = self._shared(row.total)
        if lift * max(len(ways_out), 1) <= GREATEST_NUMBER:
            # The linear relaxation sees more of a lifted bound than of an enforced constraint.
            self.model.add(total <= row.bound + lift * sum(ways_out))
        else:
            is_bound = self.model.new_bool_var("")
            self.model.add_bool_or([is_bound, *ways_out])
            self.model.add(total <= row.bound).only_enforce_if(is_bound)

    def seek(self, totals: Sequence[Sum]) -> None:
        """Make the greatest of some sums least."""
        if len(totals) == 1:
            self.model.minimize(self._weighted(totals[0]))
        elif totals:
            least = min(total.constant for total in totals)
            most = max(total.constant + total.most for total in totals)
            peak = self.model.new_int_var(least, most, "")
            for total in totals:
                self.model.add(self._shared(total) + total.constant <= peak)
            self.model.minimize(peak)

    def _shared(self, total: Sum) -> cp_model.IntVar:
        if id(total) not in self.sums:
            self.sums[id(total)] = self.model.new_int_var(0, total.most, "")
            self.model.add(self._weighted(total) == self.sums[id(total)])
        return self.sums[id(total)]

    def _weighted(self, total: Sum) -> cp_model.LinearExpr:
        """Write a sum; its groups by variables where the solver could not add all its weights.

        Such a variable is at least the weight of the option taken; that is enough, since sums are
        only ever bounded from above.
        """
        weights = total.weights.tolist()
        if sum(weights) <= GREATEST_NUMBER:
            flat = [variable for of_group in self.variables for variable in of_group]
            pairs = [(v, w) for v, w in zip(flat, weights, strict=True) if w]
            return cp_model.LinearExpr.weighted_sum([v for v, _ in pairs], [w for _, w in pairs])
        parts = []
        for group, of_group in enumerate(self.variables):
            part = self.model.new_int_var(0, int(total.greatest[group]), "")
            for variable, weight in zip(of_group, weights[total.starts[group] :], strict=False):
                self.model.add(part >= weight).only_enforce_if(variable)
            parts.append(part)
        return cp_model.LinearExpr.sum(parts)


def _gap_limit(totals: Sequence[Sum], gap: int) -> float:
    """Tell the solver's gap; less where its floating numbers are coarser than whole numbers."""
    coarse = max((math.ulp(total.most) for total in totals), default=0.0)
    return max(gap - 1 - (2 * coarse if coarse >= 1 else 0), 0.0)


def _solver() -> cp_model.CpSolver:
    solver = cp_model.CpSolver()
    parameters = solver.parameters
    parameters.num_workers = 1
    parameters.random_seed = 1
    # Questions are small: presolving them and looking for cuts cost more than they save, the linear
    # relaxation is what makes tight limits easy.
    parameters.cp_model_presolve = False
    parameters.linearization_level = 2
    parameters.cut_level = 0
    parameters.cp_model_probing_level = 0
    parameters.symmetry_level = 0
    return solver
