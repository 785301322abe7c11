"""Answer a question a second time by a plain method that shares nothing with the engine.

One solver model is written from the words of the rules for each question; no narrowing, no
memory of earlier questions. A limit that is no sum is checked on the build found, and what it
tells is added until the build keeps it or there is none.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from ortools.sat.python import cp_model

from configurator.rules.problem import ConditionalLimit, Implication, LazyLimit, Quantity
from configurator.rules.rulebook import Options, Question, Rulebook


def build_for(book: Rulebook, question: Question) -> dict[str, str] | None:
    """Find a build that answers a question.

    Parameters
    ----------
    book : Rulebook
        What the question speaks of.
    question : Question
        What the build keeps, and what is wanted of it.

    Returns
    -------
    dict of str to str or None
        Option by group, or None where there is no such build.

    Raises
    ------
    KeyError
        If the question names what the rulebook does not have.
    RuntimeError
        If the solver ends without an answer.

    Examples
    --------
    >>> from configurator.rules.problem import Domain
    >>> from configurator.rules.rulebook import Wanted
    >>> book = Rulebook((Domain("roof", ("steel", "canvas")),), {}, {})
    >>> build_for(book, Question((), Wanted(within={"roof": frozenset({"canvas"})})))
    {'roof': 'canvas'}
    """
    written = _Written(book)
    lazies: list[tuple[LazyLimit, cp_model.IntVar | None]] = []
    for kind, name in question.keeps:
        if kind == "rule":
            written.keep_rule(book.rules[name])
        else:
            limit = book.limits[name]
            for form in limit.by_region:
                written.keep_limit(form)
            if limit.lazy is not None:
                lazies.append((limit.lazy, None))
    wanted = question.wanted
    for group, options in wanted.within.items():
        written.model.add_bool_or(written.some(group, options))
    if wanted.breaks is not None:
        lazies += written.break_member(*wanted.breaks)
    return written.solved(lazies)


def is_answer(book: Rulebook, question: Question, build: Mapping[str, str]) -> bool:
    """Tell whether a build is complete, keeps what a question keeps, and is as wanted.

    Raises
    ------
    KeyError
        If the question names what the rulebook does not have.
    """
    if {domain.id for domain in book.domains} != set(build):
        return False
    if any(build[domain.id] not in domain.options for domain in book.domains):
        return False
    wanted = question.wanted
    return (
        all(book.keeps(member, build) for member in question.keeps)
        and _all_in(build, wanted.within)
        and (wanted.breaks is None or not book.keeps(wanted.breaks, build))
    )


def _all_in(build: Mapping[str, str], options_of: Options) -> bool:
    return all(build[group] in options for group, options in options_of.items())


class _Written:
    """A solver model with one variable for each option."""

    def __init__(self, book: Rulebook) -> None:
        self.book = book
        self.model = cp_model.CpModel()
        self.variables: dict[tuple[str, str], cp_model.IntVar] = {}
        for domain in book.domains:
            literals = [self.model.new_bool_var(f"{domain.id}/{o}") for o in domain.options]
            self.model.add_exactly_one(literals)
            pairs = ((domain.id, option) for option in domain.options)
            self.variables |= dict(zip(pairs, literals, strict=True))

    def some(self, group: str, options: Iterable[str]) -> list[cp_model.IntVar]:
        """Give the variables of those options that the group has."""
        return [
            self.variables[group, option]
            for option in sorted(options)
            if (group, option) in self.variables
        ]

    def outside(self, options_of: Options) -> list[cp_model.IntVar]:
        """Give the options with any of which a build lies outside a combination."""
        return [
            variable
            for (group, option), variable in self.variables.items()
            if group in options_of and option not in options_of[group]
        ]

    def keep_rule(self, rule: Implication) -> None:
        for group, allowed in rule.then.items():
            self.model.add_bool_or([*self.outside(rule.when), *self.some(group, allowed)])

    def keep_limit(self, form: ConditionalLimit, only_if: cp_model.IntVar | None = None) -> None:
        """Demand a sum within its bound, unless the build lies outside the limit's region."""
        free: list[cp_model.LiteralT] = [*self.outside(form.when)]
        if only_if is not None:
            free.append(only_if.negated())
        if form.at_most is None:
            self.model.add_bool_or(free)
            return
        holds = self.model.new_bool_var("")
        self.model.add_bool_or([*free, holds])
        self.model.add(self._sum(form.quantity) <= form.at_most).only_enforce_if(holds)

    def break_member(self, kind: str, name: str) -> list[tuple[LazyLimit, cp_model.IntVar | None]]:
        """Demand that a rule or limit is broken; give what must be asked about the builds found."""
        if kind == "rule":
            rule = self.book.rules[name]
            for group, options in rule.when.items():
                self.model.add_bool_or(self.some(group, options))
            self.model.add_bool_or(self.outside(rule.then))
            return []
        limit = self.book.limits[name]
        ways = [self._beyond(form) for form in limit.by_region]
        lazies: list[tuple[LazyLimit, cp_model.IntVar | None]] = []
        if limit.opposite is not None:
            ways.append(self.model.new_bool_var("beyond the lazy part"))
            lazies.append((limit.opposite, ways[-1]))
        self.model.add_bool_or(ways)
        return lazies

    def solved(
        self, lazies: list[tuple[LazyLimit, cp_model.IntVar | None]]
    ) -> dict[str, str] | None:
        """Solve, check, cut, and solve again."""
        while True:
            solver = cp_model.CpSolver()
            solver.parameters.num_workers = 1
            solver.parameters.random_seed = 1
            status = solver.solve(self.model)
            if status == cp_model.INFEASIBLE:
                return None
            if status not in {cp_model.OPTIMAL, cp_model.FEASIBLE}:
                message = f"solver: it ended with {solver.status_name(status)}, without an answer."
                raise RuntimeError(message)
            build = {
                group: option
                for (group, option), variable in self.variables.items()
                if solver.boolean_value(variable)
            }
            told = [
                (broken, only_if)
                for limit, only_if in lazies
                if only_if is None or solver.boolean_value(only_if)
                if (broken := limit.broken_by(build)) is not None
            ]
            if not told:
                return build
            for form, only_if in told:
                self.keep_limit(form, only_if)

    def _beyond(self, form: ConditionalLimit) -> cp_model.IntVar:
        """Give a literal with which a build breaks one form of a limit."""
        beyond = self.model.new_bool_var("")
        for group, options in form.when.items():
            self.model.add_bool_or([*self.some(group, options), beyond.negated()])
        if form.at_most is not None:
            self.model.add(self._sum(form.quantity) > form.at_most).only_enforce_if(beyond)
        return beyond

    def _sum(self, quantity: Quantity) -> cp_model.LinearExpr:
        pairs = [
            (self.variables[pair], weight)
            for pair, weight in quantity.weights.items()
            if pair in self.variables
        ]
        variables, weights = [v for v, _ in pairs], [w for _, w in pairs]
        return cp_model.LinearExpr.weighted_sum(variables, weights) + quantity.constant
