"""What is left of a problem within a domain, written for the CP-SAT solver."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from ortools.sat.python import cp_model

from configurator.rules.clauses import Clause
from configurator.rules.conditions import Condition
from configurator.rules.limits import Limit
from configurator.rules.options import ALWAYS, bits_of
from configurator.rules.propagation import Rules
from configurator.rules.sums import Sum

ROWS_WRITTEN = 40


@dataclass(frozen=True)
class SolverModel:
    """A model, the variable of each option that is still open, and the options that are not."""

    model: cp_model.CpModel
    variables: Mapping[int, cp_model.IntVar]
    settled: int


def solver_model(rules: Rules, domain: int) -> SolverModel:
    """Write what the rules still demand within a narrowed domain.

    Rules that nothing left can break are not written, nor are tables of many rows: whoever solves
    has to check the build against them.
    """
    model = cp_model.CpModel()
    variables: dict[int, cp_model.IntVar] = {}
    settled = ALWAYS
    for mask in rules.group_masks:
        part = domain & mask
        if part & (part - 1):
            literals = {bit: model.new_bool_var("") for bit in bits_of(part)}
            model.add_exactly_one(literals.values())
            variables |= literals
        else:
            settled |= part
    written = SolverModel(model, variables, settled)
    for rule in (*rules.every, *rules.regions):
        if isinstance(rule, Clause):
            _write_clause(written, rule, domain)
        elif isinstance(rule, Condition):
            _write_condition(written, rule, domain)
        else:
            _write_limit(written, rule, domain)
    return written


def write_least(written: SolverModel, totals: Sequence[Sum], domain: int) -> None:
    """Ask for the least greatest of some sums."""
    if len(totals) == 1:
        written.model.minimize(weighted(written, totals[0]))
        return
    least = min(total.least(domain) for total in totals)
    most = max(total.greatest(domain) for total in totals)
    greatest = written.model.new_int_var(least, most, "")
    for total in totals:
        written.model.add(weighted(written, total) + _fixed(written, total) <= greatest)
    written.model.minimize(greatest)


def weighted(written: SolverModel, total: Sum) -> cp_model.LinearExpr:
    """Write the part of a sum that is still open."""
    pairs = [
        (variable, total.weights[bit])
        for bit, variable in written.variables.items()
        if total.weights.get(bit, 0)
    ]
    return cp_model.LinearExpr.weighted_sum(
        [variable for variable, _ in pairs], [weight for _, weight in pairs]
    )


def _ways_out(
    written: SolverModel, factors: Sequence[tuple[int, int]], domain: int
) -> list[cp_model.IntVar] | None:
    """Give the options of which any one avoids a condition, or None when it cannot be met."""
    ways_out = []
    for group_mask, meant in factors:
        if not domain & meant:
            return None
        outside = domain & group_mask & ~meant
        ways_out += [written.variables[bit] for bit in bits_of(outside)]
    return ways_out


def _write_clause(written: SolverModel, clause: Clause, domain: int) -> None:
    ways_out = _ways_out(written, clause.factors, domain)
    if ways_out is not None:
        written.model.add_bool_or(ways_out)


def _write_condition(written: SolverModel, condition: Condition, domain: int) -> None:
    """Lift the bound to what can never be exceeded when any way out is taken.

    The linear relaxation sees more of this form than of an enforced constraint.
    """
    ways_out = _ways_out(written, condition.factors, domain)
    most = condition.total.greatest(domain)
    if ways_out is None or most <= condition.bound:
        return
    lift = cp_model.LinearExpr.weighted_sum(ways_out, [most - condition.bound] * len(ways_out))
    open_sum = weighted(written, condition.total)
    written.model.add(open_sum <= lift + condition.bound - _fixed(written, condition.total))


def _fixed(written: SolverModel, total: Sum) -> int:
    return total.constant + sum(total.weights.get(bit, 0) for bit in bits_of(written.settled))


def _write_limit(written: SolverModel, limit: Limit, domain: int) -> None:
    rows = limit.rows(domain)
    most = limit.total.greatest(domain)
    open_masks = [mask for mask in limit.class_masks if (domain & mask).bit_count() > 1]
    fixed = _fixed(written, limit.total)
    left = list(bits_of(rows))
    bounds = [min(limit.bound(row), most) for row in left]
    if not open_masks or len(left) == 1:
        if bounds[0] < most:
            written.model.add(weighted(written, limit.total) <= bounds[0] - fixed)
        _keep_rows_selectable(written, limit, domain, rows, open_masks)
        return
    if len(left) > ROWS_WRITTEN:
        return
    row_literals = {row: written.model.new_bool_var("") for row in left}
    written.model.add_exactly_one(row_literals.values())
    for mask in open_masks:
        _tie_rows_to_options(written, limit, domain & mask, row_literals)
    if bounds[-1] < most:
        allowance = cp_model.LinearExpr.weighted_sum(
            list(row_literals.values()), [bound - fixed for bound in bounds]
        )
        written.model.add(weighted(written, limit.total) <= allowance)


def _keep_rows_selectable(
    written: SolverModel, limit: Limit, domain: int, rows: int, open_masks: list[int]
) -> None:
    """Forbid options of class groups that do not select the single row left."""
    for mask in open_masks:
        for bit in bits_of(domain & mask):
            if not rows & limit.rows_of[bit]:
                written.model.add(written.variables[bit] == 0)


def _tie_rows_to_options(
    written: SolverModel, limit: Limit, part: int, row_literals: dict[int, cp_model.IntVar]
) -> None:
    """Select only rows of the class that the group takes."""
    options_of_rows: dict[int, list[cp_model.IntVar]] = {}
    for bit in bits_of(part):
        options_of_rows.setdefault(limit.rows_of[bit], []).append(written.variables[bit])
    for rows, options in options_of_rows.items():
        selected = [literal for row, literal in row_literals.items() if rows & row]
        written.model.add(sum(selected) == sum(options))
