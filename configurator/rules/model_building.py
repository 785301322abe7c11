"""Rules written for the CP-SAT solver once, to be copied for each question."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from ortools.sat.python import cp_model

from configurator.rules.clauses import Clause
from configurator.rules.conditions import Condition
from configurator.rules.lazy import Rule
from configurator.rules.limits import Limit
from configurator.rules.options import ALWAYS, Member, bits_of
from configurator.rules.sums import Sum

ROWS_WRITTEN = 40


@dataclass(frozen=True)
class SolverModel:
    """A model, the variable of each option, and the variables of sums that conditions share."""

    model: cp_model.CpModel
    variables: dict[int, cp_model.IntVar]
    everything: int
    sums: dict[int, tuple[Sum, cp_model.IntVar]] = field(default_factory=dict)

    def copy(self) -> SolverModel:
        """Copy the model, so that a question can be added to it."""
        model = self.model.clone()
        variables = {
            bit: model.get_bool_var_from_proto_index(variable.index)
            for bit, variable in self.variables.items()
        }
        return SolverModel(model, variables, self.everything)

    def restrict(self, domain: int) -> None:
        """Leave out every option that is not in a domain."""
        of_index = self.model.proto.variables
        for bit, variable in self.variables.items():
            if not bit & domain:
                of_index[variable.index].domain[1] = 0


def solver_model(group_masks: Sequence[int]) -> SolverModel:
    """Write groups of which exactly one option is taken."""
    model = cp_model.CpModel()
    variables: dict[int, cp_model.IntVar] = {}
    for mask in group_masks:
        literals = {bit: model.new_bool_var("") for bit in bits_of(mask)}
        model.add_exactly_one(literals.values())
        variables |= literals
    return SolverModel(model, variables, ALWAYS | sum(group_masks))


def write_rules(written: SolverModel, rules: Iterable[Rule]) -> None:
    """Add rules to a model.

    Tables of many rows are not written: whoever solves has to check the build against them.
    """
    for rule in rules:
        _write_rule(written, rule)


def write_switched(
    written: SolverModel, members: Iterable[Member], rules: Iterable[Rule]
) -> dict[Member, cp_model.IntVar]:
    """Add rules that hold only while their member's literal does, and give the literals."""
    literals = {member: written.model.new_bool_var("") for member in members}
    for rule in rules:
        for constraint in _write_rule(written, rule):
            constraint.only_enforce_if(literals[rule.member])
    return literals


def write_least(written: SolverModel, totals: Sequence[Sum]) -> None:
    """Ask for the least greatest of some sums."""
    if len(totals) == 1:
        written.model.minimize(_above_constant(written, totals[0]))
        return
    least = min(total.constant for total in totals)
    most = max(total.greatest(written.everything) for total in totals)
    greatest = written.model.new_int_var(least, most, "")
    for total in totals:
        written.model.add(_above_constant(written, total) + total.constant <= greatest)
    written.model.minimize(greatest)


def write_order(written: SolverModel) -> None:
    """Have options tried in the order of the problem, so that the first build has the earliest."""
    written.model.add_decision_strategy(
        list(written.variables.values()), cp_model.CHOOSE_FIRST, cp_model.SELECT_MAX_VALUE
    )


def _above_constant(written: SolverModel, total: Sum) -> cp_model.LinearExpr:
    pairs = [
        (variable, weight)
        for bit, variable in written.variables.items()
        if (weight := total.weights.get(bit, 0))
    ]
    return cp_model.LinearExpr.weighted_sum(
        [variable for variable, _ in pairs], [weight for _, weight in pairs]
    )


def _shared_sum(written: SolverModel, total: Sum) -> cp_model.IntVar:
    """Give the one variable that stands for a sum above its constant."""
    known = written.sums.get(id(total))
    if known is None:
        most = total.greatest(written.everything) - total.constant
        variable = written.model.new_int_var(0, most, "")
        written.model.add(_above_constant(written, total) == variable)
        known = written.sums[id(total)] = (total, variable)
    return known[1]


def _ways_out(written: SolverModel, factors: Sequence[tuple[int, int]]) -> list[cp_model.IntVar]:
    """Give the options of which any one avoids a condition."""
    return [
        written.variables[bit]
        for group_mask, meant in factors
        for bit in bits_of(group_mask & ~meant)
    ]


def _write_rule(written: SolverModel, rule: Rule) -> list[cp_model.Constraint]:
    if isinstance(rule, Clause):
        return [written.model.add_bool_or(_ways_out(written, rule.factors))]
    if isinstance(rule, Condition):
        return _write_condition(written, rule)
    return _write_limit(written, rule)


def _write_condition(written: SolverModel, condition: Condition) -> list[cp_model.Constraint]:
    """Lift the bound to what can never be exceeded when any way out is taken.

    The linear relaxation sees more of this form than of an enforced constraint.
    """
    total = condition.total
    most = total.greatest(written.everything)
    if most <= condition.bound:
        return []
    ways_out = _ways_out(written, condition.factors)
    lift = cp_model.LinearExpr.weighted_sum(ways_out, [most - condition.bound] * len(ways_out))
    bound = lift + condition.bound - total.constant
    return [written.model.add(_shared_sum(written, total) <= bound)]


def _write_limit(written: SolverModel, limit: Limit) -> list[cp_model.Constraint]:
    if not limit.bounds:
        return [written.model.add_bool_or([])]
    if limit.class_masks:
        return _write_table(written, limit) if len(limit.bounds) <= ROWS_WRITTEN else []
    if limit.bounds[0] >= limit.total.greatest(written.everything):
        return []
    bound = limit.bounds[0] - limit.total.constant
    return [written.model.add(_above_constant(written, limit.total) <= bound)]


def _write_table(written: SolverModel, limit: Limit) -> list[cp_model.Constraint]:
    model = written.model
    rows = [model.new_bool_var("") for _ in limit.bounds]
    constraints = [model.add(sum(rows) == 1)]
    for mask in limit.class_masks:
        options_of_rows: dict[int, list[cp_model.IntVar]] = {}
        for bit in bits_of(mask):
            options_of_rows.setdefault(limit.rows_of[bit], []).append(written.variables[bit])
        for selected, options in options_of_rows.items():
            of_class = [rows[row.bit_length() - 1] for row in bits_of(selected)]
            constraints.append(model.add(sum(of_class) == sum(options)))
    allowances = [bound - limit.total.constant for bound in limit.bounds]
    allowance = cp_model.LinearExpr.weighted_sum(rows, allowances)
    constraints.append(model.add(_above_constant(written, limit.total) <= allowance))
    return constraints
