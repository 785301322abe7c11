"""A problem's rules over bits, ready for the search and the solver."""

from __future__ import annotations

from configurator.rules.clauses import clauses_of
from configurator.rules.conditions import condition_of
from configurator.rules.lazy import Lazy
from configurator.rules.limits import limit_of
from configurator.rules.options import OptionBits
from configurator.rules.problem import Problem, Quantity
from configurator.rules.propagation import Rules
from configurator.rules.sums import Sum, sum_of
from configurator.rules.tables import envelope


def compiled_rules(problem: Problem, names: OptionBits) -> Rules:
    """Compile every rule of a problem, each quantity once however many limits share it.

    Raises
    ------
    ValueError
        If a rule does not fit the groups, or a sum could leave the range of exact numbers.
    """
    sums: dict[int, Sum] = {}

    def shared(quantity: Quantity) -> Sum:
        if id(quantity) not in sums:
            sums[id(quantity)] = sum_of(quantity, names)
        return sums[id(quantity)]

    limits = [limit_of(limit, shared(limit.quantity), names) for limit in problem.limits]
    envelopes = (envelope(limit, names) for limit in limits)
    return Rules(
        names.group_masks,
        [
            *clauses_of(problem.implications, names),
            *(around for around in envelopes if around is not None),
            *limits,
            *(
                condition_of(limit, shared(limit.quantity), names)
                for limit in problem.conditional_limits
            ),
        ],
        [Lazy(limit, names) for limit in problem.lazy_limits],
    )
