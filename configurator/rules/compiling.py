"""A problem's rules and limits as rows, ready for questions."""

from __future__ import annotations

from configurator.rules.lazy import Lazy
from configurator.rules.options import option_places
from configurator.rules.problem import Problem
from configurator.rules.prover import Prover
from configurator.rules.rows import Sums, row_of_limit, rows_of_implications


def compiled(problem: Problem, wider: Prover | None = None) -> Prover:
    """Compile every rule of a problem, each quantity once however many limits share it.

    Parameters
    ----------
    problem : Problem
        The groups, implications and limits.
    wider : Prover, optional
        Of a problem with the same groups that lacks some of the rules and limits; the rows it found
        to follow are taken over.

    Raises
    ------
    ValueError
        If a rule does not fit the groups, or a sum could leave the range of exact numbers.
    """
    places = option_places(problem.domains) if wider is None else wider.places
    sums = Sums(places) if wider is None else wider.sums
    rows = rows_of_implications(problem.implications, places)
    rows += [
        row_of_limit(limit, sums.of(limit.quantity), places) for limit in problem.conditional_limits
    ]
    known = {} if wider is None else {id(lazy.limit): lazy for lazy in wider.lazies}
    lazies = [known.get(id(limit)) or Lazy(limit, places, sums) for limit in problem.lazy_limits]
    return Prover(sums, rows, lazies, None if wider is None else wider.following)
