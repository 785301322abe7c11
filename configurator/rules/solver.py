"""The CP-SAT solver, for the few questions that trying options does not settle."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from ortools.sat.python import cp_model

from configurator.rules.options import Build, OptionPlaces
from configurator.rules.row_table import Options
from configurator.rules.rows import Row, Sum


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
    model = cp_model.CpModel()
    variables = [[model.new_bool_var("") for _ in domain.options] for domain in places.domains]
    for group, mask in enumerate(options):
        model.add_exactly_one(variables[group])
        for place, variable in enumerate(variables[group]):
            if not mask >> place & 1:
                model.add(variable == 0)
    flat = [variable for of_group in variables for variable in of_group]
    sums: dict[int, cp_model.IntVar] = {}

    def shared(total: Sum) -> cp_model.IntVar:
        if id(total) not in sums:
            sums[id(total)] = model.new_int_var(0, total.most, "")
            model.add(_weighted(flat, total) == sums[id(total)])
        return sums[id(total)]

    for row in rows:
        ways_out = [
            variables[group][place]
            for group, mask in row.factors
            for place in range(len(variables[group]))
            if not mask >> place & 1
        ]
        if row.total is None:
            model.add_bool_or(ways_out)
        elif row.total.most > row.bound:
            # The linear relaxation sees more of a lifted bound than of an enforced constraint.
            lift = row.total.most - row.bound
            model.add(shared(row.total) <= row.bound + lift * sum(ways_out))
    if len(totals) == 1:
        model.minimize(_weighted(flat, totals[0]))
    elif totals:
        peak = model.new_int_var(
            min(total.constant for total in totals),
            max(total.constant + total.most for total in totals),
            "",
        )
        for total in totals:
            model.add(shared(total) + total.constant <= peak)
        model.minimize(peak)
    solver = _solver()
    solver.parameters.absolute_gap_limit = max(gap - 1, 0)
    status = solver.solve(model)
    if status == cp_model.INFEASIBLE:
        return None
    if status != cp_model.OPTIMAL:
        message = f"solver: it ended with {solver.status_name(status)}; it must prove its answer."
        raise RuntimeError(message)
    return tuple(
        next(place for place, variable in enumerate(of_group) if solver.boolean_value(variable))
        for of_group in variables
    )


def _weighted(flat: Sequence[cp_model.IntVar], total: Sum) -> cp_model.LinearExpr:
    pairs = [(v, w) for v, w in zip(flat, total.weights.tolist(), strict=True) if w]
    return cp_model.LinearExpr.weighted_sum([v for v, _ in pairs], [w for _, w in pairs])


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
