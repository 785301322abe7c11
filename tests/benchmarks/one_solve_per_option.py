"""The baseline: one tuned solver question for each option, over one model built once.

The same solver settings as the engine's last resort, and as quick as a plain approach can be: a
question changes the bounds of variables in place, what a lazy limit told stays in the model.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from time import process_time

from ortools.sat.python import cp_model

from configurator.rules.problem import ConditionalLimit, Problem, Quantity

Pair = tuple[str, str]


class Baseline:
    """Answers about one problem by CP-SAT alone."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self.model = cp_model.CpModel()
        self.sums: dict[int, cp_model.IntVar] = {}
        self.taken: dict[Pair, cp_model.IntVar] = {}
        for domain in problem.domains:
            for option in domain.options:
                self.taken[domain.id, option] = self.model.new_bool_var(f"{domain.id} {option}")
            self.model.add_exactly_one(self.taken[domain.id, o] for o in domain.options)
        for implication in problem.implications:
            unmet = self._others(implication.when)
            for group, options in implication.then.items():
                self.model.add_bool_or([*unmet, *(self.taken[group, o] for o in options)])
        for limit in problem.conditional_limits:
            self._add_limit(limit)
        self.solver = cp_model.CpSolver()
        parameters = self.solver.parameters
        parameters.num_workers = 1
        parameters.random_seed = 1
        parameters.cp_model_presolve = False
        parameters.linearization_level = 2
        parameters.cut_level = 0
        parameters.cp_model_probing_level = 0
        parameters.symmetry_level = 0

    def milliseconds(self, picks: Mapping[str, str], every: int = 1) -> float:
        """Time one question for each option, or for each so manieth, counted as if for all."""
        asked = list(self.taken)[::every]
        started = process_time()
        for group, option in asked:
            self.best(None, {**picks, group: option})
        return 1000 * (process_time() - started) * len(self.taken) / len(asked)

    def best(self, quantity: Quantity | None, picks: Mapping[str, str]) -> dict[str, str] | None:
        """Find a build with the picks, and with the least of a quantity if one is given."""
        variables = self.model.proto.variables
        for pair, variable in self.taken.items():
            is_picked = picks.get(pair[0]) == pair[1]
            domain = variables[variable.index].domain
            domain[0], domain[1] = int(is_picked), int(is_picked or pair[0] not in picks)
        self.model.clear_objective()
        if quantity is not None:
            self.model.minimize(self._weighted(quantity))
        while True:
            status = self.solver.solve(self.model)
            if status == cp_model.INFEASIBLE:
                return None
            assert status in {cp_model.OPTIMAL, cp_model.FEASIBLE}
            build = dict(p for p, taken in self.taken.items() if self.solver.boolean_value(taken))
            told = [limit.broken_by(build) for limit in self.problem.lazy_limits]
            broken = [limit for limit in told if limit is not None]
            if not broken:
                return build
            for limit in broken:
                self._add_limit(limit)

    def _add_limit(self, limit: ConditionalLimit) -> None:
        outside = self._others(limit.when)
        if limit.at_most is None:
            self.model.add_bool_or(outside)
            return
        most = self._most(limit.quantity)
        if most > limit.at_most:
            # The linear relaxation sees more of a lifted bound than of an enforced constraint.
            lifted = (most - limit.at_most) * sum(outside)
            self.model.add(self._shared(limit.quantity) <= limit.at_most + lifted)

    def _others(self, when: Mapping[str, frozenset[str]]) -> list[cp_model.IntVar]:
        return [x for (group, o), x in self.taken.items() if group in when and o not in when[group]]

    def _shared(self, quantity: Quantity) -> cp_model.IntVar:
        if id(quantity) not in self.sums:
            total = self.model.new_int_var(-self._most(quantity, -1), self._most(quantity), "")
            self.model.add(self._weighted(quantity) == total)
            self.sums[id(quantity)] = total
        return self.sums[id(quantity)]

    def _most(self, quantity: Quantity, sign: int = 1) -> int:
        weights: Iterable[int] = (
            max(sign * quantity.weights.get((domain.id, option), 0) for option in domain.options)
            for domain in self.problem.domains
        )
        return sign * quantity.constant + sum(weights)

    def _weighted(self, quantity: Quantity) -> cp_model.LinearExprT:
        weights = [quantity.weights.get(pair, 0) for pair in self.taken]
        weighted = cp_model.LinearExpr.weighted_sum(list(self.taken.values()), weights)
        return weighted + quantity.constant
