"""An engine of its own kind to hold the engine's answers against: linear programming.

It shares nothing with the engine but the problem, whose options become whole numbers from 0 to 1
and whose rules and limits become sums of them. It knows limits without a region only, and numbers
that ordinary floating point keeps apart.
"""

from __future__ import annotations

from collections.abc import Mapping

from ortools.linear_solver import pywraplp

from configurator.rules.problem import Problem, Quantity

NOTHING = Quantity(0, {})
EXACTLY = pywraplp.MPSolverParameters()
EXACTLY.SetDoubleParam(pywraplp.MPSolverParameters.RELATIVE_MIP_GAP, 0.0)


class SecondEngine:
    """Answers about one problem; what it found and refuted it need not solve again."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self.seen: list[dict[str, str]] = []
        self.refuted: list[Mapping[str, str]] = []
        self.solver = pywraplp.Solver.CreateSolver("SCIP")
        self.taken = {
            (domain.id, option): self.solver.BoolVar(f"{domain.id} {option}")
            for domain in problem.domains
            for option in domain.options
        }
        for domain in problem.domains:
            self.solver.Add(sum(self.taken[domain.id, option] for option in domain.options) == 1)
        for implication in problem.implications:
            for group, options in implication.then.items():
                when = [self.taken[g, o] for g, some in implication.when.items() for o in some]
                kept = [self.taken[group, option] for option in options]
                self.solver.Add(sum(when) - sum(kept) <= len(implication.when) - 1)
        for limit in problem.conditional_limits:
            assert not limit.when
            self.solver.Add(self.total(limit.quantity) <= limit.at_most)

    def is_possible(self, picks: Mapping[str, str]) -> bool:
        if any(picks.items() <= build.items() for build in self.seen):
            return True
        if any(fewer.items() <= picks.items() for fewer in self.refuted):
            return False
        build = self.best(NOTHING, picks)
        if build is None:
            self.refuted.append(picks)
            return False
        assert all(limit.keeps(build) for limit in self.problem.conditional_limits)
        self.seen.append(build)
        return True

    def availability(self, picks: Mapping[str, str]) -> dict[str, dict[str, bool]]:
        return {
            domain.id: {o: self.is_possible({**picks, domain.id: o}) for o in domain.options}
            for domain in self.problem.domains
        }

    def best(self, quantity: Quantity, picks: Mapping[str, str]) -> dict[str, str] | None:
        """Find a build with the least of a quantity."""
        for (group, option), variable in self.taken.items():
            variable.SetBounds(0, picks.get(group, option) == option)
        self.solver.Minimize(self.total(quantity))
        status = self.solver.Solve(EXACTLY)
        if status == pywraplp.Solver.INFEASIBLE:
            return None
        assert status == pywraplp.Solver.OPTIMAL
        return dict(pair for pair, x in self.taken.items() if x.solution_value() > 0.5)

    def best_in_turn(self, first: Quantity, second: Quantity, picks: Mapping[str, str]):
        """Find a build with the least of one quantity and then of another."""
        found = self.best(first, picks)
        if found is None:
            return None
        bound = self.solver.Add(self.total(first) <= first.of(found))
        best = self.best(second, picks)
        bound.SetUb(self.solver.infinity())
        return best

    def total(self, quantity: Quantity):
        weights = quantity.weights.items()
        return quantity.constant + sum(weight * self.taken[pair] for pair, weight in weights)
