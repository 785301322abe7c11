"""Asking the CP-SAT solver: the same question always gets the same answer."""

from __future__ import annotations

from ortools.sat.python import cp_model

from configurator.rules.model_building import SolverModel, solver_model, weighted
from configurator.rules.propagation import Rules
from configurator.rules.sums import Sum


def solved(rules: Rules, domain: int) -> int:
    """Give a build within a narrowed domain, or 0 when there is none."""
    written = solver_model(rules, domain)
    return _build(written, optimise=False)


def solved_at_least(rules: Rules, total: Sum, domain: int) -> int:
    """Give a build within a narrowed domain with the least sum, or 0 when there is none."""
    written = solver_model(rules, domain)
    written.model.minimize(weighted(written, total))
    return _build(written, optimise=True)


def _build(written: SolverModel, *, optimise: bool) -> int:
    solver = cp_model.CpSolver()
    parameters = solver.parameters
    parameters.num_workers = 1
    parameters.random_seed = 1
    # Questions are small and many: presolving them costs more than it saves, the linear
    # relaxation is what makes tight limits easy.
    parameters.cp_model_presolve = False
    parameters.linearization_level = 2
    parameters.cp_model_probing_level = 0
    parameters.symmetry_level = 0
    status = solver.solve(written.model)
    if status == cp_model.INFEASIBLE:
        return 0
    if status != cp_model.OPTIMAL and (optimise or status != cp_model.FEASIBLE):
        message = f"solver: it ended with {solver.status_name(status)}; it must prove its answer."
        raise RuntimeError(message)
    return written.settled + sum(
        bit for bit, variable in written.variables.items() if solver.boolean_value(variable)
    )
