"""Asking the CP-SAT solver: the same question always gets the same answer."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal, overload

from ortools.sat.python import cp_model

from configurator.rules.lazy import Rule
from configurator.rules.limits import Limit
from configurator.rules.model_building import (
    SolverModel,
    solver_model,
    write_least,
    write_order,
    write_rules,
    write_switched,
)
from configurator.rules.options import ALWAYS, Member
from configurator.rules.propagation import Rules, narrowed
from configurator.rules.sums import Sum
from configurator.rules.tables import broken_region

# The solver counts its steps, not seconds, so that giving up does not depend on the machine.
_EFFORT_IN_ORDER = 0.03


def solved(rules: Rules, domain: int) -> int:
    """Give a build within a narrowed domain, or 0 when there is none."""
    return _solved(rules, (), domain)


def solved_at_least(rules: Rules, totals: Sequence[Sum], domain: int) -> int:
    """Give a build with the least greatest of some sums, or 0 when there is none."""
    return _solved(rules, totals, domain)


def solved_first(rules: Rules, domain: int) -> int | None:
    """Give the build with the earliest options in the order of the problem, or 0.

    None means that trying options in that order takes too long here.
    """
    return _solved(rules, (), domain, in_order=True)


@overload
def _solved(rules: Rules, totals: Sequence[Sum], domain: int) -> int: ...
@overload
def _solved(
    rules: Rules, totals: Sequence[Sum], domain: int, *, in_order: Literal[True]
) -> int | None: ...
def _solved(
    rules: Rules, totals: Sequence[Sum], domain: int, *, in_order: bool = False
) -> int | None:
    while domain:
        examined = len(rules.every)
        written = _written(rules)
        written.restrict(domain)
        if totals:
            write_least(written, totals)
        if in_order:
            write_order(written)
        solver, status = _asked(written, in_order=in_order)
        if status == cp_model.UNKNOWN:
            return None
        if status == cp_model.INFEASIBLE:
            return 0
        build = _read(written, solver)
        told = _regions_broken(rules, build)
        if not told and not rules.refuse(build):
            return build
        rules.tell_solver(told)
        domain = narrowed(rules, domain, examined=examined)
    return 0


def refuted_by(rules: Rules, domain: int) -> set[Member] | None:
    """Give some rules that alone leave no build within a domain, or None when there is a build."""
    members = rules.members
    while True:
        written = solver_model(rules.group_masks)
        literals = write_switched(written, members, rules.for_solver)
        written.restrict(domain)
        written.model.add_assumptions(literals.values())
        solver, status = _asked(written, in_order=False)
        if status == cp_model.INFEASIBLE:
            core = set(solver.sufficient_assumptions_for_infeasibility())
            used = {member for member, literal in literals.items() if literal.index in core}
            return used or set(members)
        build = _read(written, solver)
        told = _regions_broken(rules, build)
        if not told and not rules.refuse(build):
            return None
        rules.tell_solver(told)


def _written(rules: Rules) -> SolverModel:
    """Copy what is written of the rules that stay, after bringing it up to date."""
    base = rules.base
    if base.written is None:
        base.written = solver_model(base.group_masks)
    write_rules(base.written, base.for_solver[base.count_written :])
    base.count_written = len(base.for_solver)
    written = base.written.copy()
    write_rules(written, rules.extra)
    return written


def _regions_broken(rules: Rules, build: int) -> list[Rule]:
    """Find the large tables, unknown to the solver, that its build breaks."""
    return [
        broken_region(rule, build)
        for rule in rules.every
        if isinstance(rule, Limit) and rule.class_masks and not rule.allows(build)
    ]


def _asked(
    written: SolverModel, *, in_order: bool
) -> tuple[cp_model.CpSolver, cp_model.CpSolverStatus]:
    solver = cp_model.CpSolver()
    parameters = solver.parameters
    parameters.num_workers = 1
    parameters.random_seed = 1
    # Questions are small and many: presolving them and looking for cuts cost more than they save,
    # the linear relaxation is what makes tight limits easy.
    parameters.cp_model_presolve = False
    parameters.linearization_level = 2
    parameters.cut_level = 0
    parameters.cp_model_probing_level = 0
    parameters.symmetry_level = 0
    if in_order:
        parameters.search_branching = cp_model.FIXED_SEARCH
        parameters.max_deterministic_time = _EFFORT_IN_ORDER
    status = solver.solve(written.model)
    given_up = in_order and status == cp_model.UNKNOWN
    if status not in {cp_model.OPTIMAL, cp_model.INFEASIBLE} and not given_up:
        message = f"solver: it ended with {solver.status_name(status)}; it must prove its answer."
        raise RuntimeError(message)
    return solver, status


def _read(written: SolverModel, solver: cp_model.CpSolver) -> int:
    values = solver.response_proto.solution
    return ALWAYS | sum(
        bit for bit, variable in written.variables.items() if values[variable.index]
    )
