"""Asking the CP-SAT solver: the same question always gets the same answer."""

from __future__ import annotations

from collections.abc import Sequence

from ortools.sat.python import cp_model

from configurator.rules.lazy import Rule
from configurator.rules.limits import Limit
from configurator.rules.model_building import SolverModel, solver_model, write_least
from configurator.rules.propagation import Rules, narrowed
from configurator.rules.sums import Sum
from configurator.rules.tables import broken_region


def solved(rules: Rules, domain: int) -> int:
    """Give a build within a narrowed domain, or 0 when there is none."""
    return _solved(rules, (), domain)


def solved_at_least(rules: Rules, totals: Sequence[Sum], domain: int) -> int:
    """Give a build with the least greatest of some sums, or 0 when there is none."""
    return _solved(rules, totals, domain)


def _solved(rules: Rules, totals: Sequence[Sum], domain: int) -> int:
    while domain:
        examined = len(rules.every)
        written = solver_model(rules, domain)
        if totals:
            write_least(written, totals, domain)
        build = _build(written, optimise=bool(totals))
        if not build:
            return 0
        told = _regions_broken(rules, build)
        if not told and not rules.refuse(build):
            return build
        rules.regions += told
        domain = narrowed(rules, domain, examined=examined)
    return 0


def _regions_broken(rules: Rules, build: int) -> list[Rule]:
    """Find the large tables, unknown to the solver, that its build breaks."""
    return [
        broken_region(rule, build)
        for rule in rules.every
        if isinstance(rule, Limit) and rule.class_masks and not rule.allows(build)
    ]


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
