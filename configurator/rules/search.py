"""A short search for a build by trying options; it gives up where the solver does better."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from configurator.rules.conditions import Condition
from configurator.rules.limits import Limit
from configurator.rules.options import Member, bits_of
from configurator.rules.propagation import Rules, is_complete, narrowed


@dataclass(frozen=True)
class Found:
    """What a search ended with: a build (0 when there is none), or no answer in its budget."""

    build: int
    settled: bool


def search(
    rules: Rules,
    domain: int,
    ranks: Mapping[int, int] | None,
    nodes: int,
    touched: set[Member] | None = None,
) -> Found:
    """Look for a build within an already narrowed domain.

    Parameters
    ----------
    rules : Rules
        What must hold.
    domain : int
        A domain that `narrowed` returned, or 0.
    ranks : mapping of int to int, or None
        For each option's bit its rank; lower is tried earlier. With None, groups and options are
        tried in the order of the problem, so that the build with the earliest options is found.
    nodes : int
        How many domains may be looked at before giving up.
    touched : set of Member, optional
        Receives the ids of the rules that removed anything.
    """
    stack = [(domain, 0, len(rules.every))]
    while stack:
        domain, lost, examined = stack.pop()
        domain = narrowed(rules, domain, lost, examined, touched)
        if not domain:
            continue
        if is_complete(rules, domain):
            if rules.refuse(domain, touched):
                continue
            return Found(domain, settled=True)
        nodes -= 1
        if nodes < 0:
            return Found(0, settled=False)
        stack += branches(rules, domain, ranks)
    return Found(0, settled=True)


def branches(
    rules: Rules, domain: int, ranks: Mapping[int, int] | None
) -> tuple[tuple[int, int, int], tuple[int, int, int]]:
    """Split a domain at one option of an open group.

    With ranks it is the best-ranked option of the group with the fewest options, else the first of
    the first group.

    Returns
    -------
    tuple of two tuples of int
        Without the option and, to be tried first, with it alone: the domain, what it lost, and
        how many rules it was narrowed by.
    """
    parts = [part for mask in rules.group_masks if (part := domain & mask) & (part - 1)]
    if ranks is None:
        part = parts[0]
        option = part & -part
    else:
        part = min(parts, key=int.bit_count)
        option = min(bits_of(part), key=ranks.__getitem__)
    examined = len(rules.every)
    return (
        (domain ^ option, option, examined),
        (domain & ~part | option, part ^ option, examined),
    )


def light_ranks(rules: Rules, domain: int) -> dict[int, int]:
    """Rank each option by how much of what the limits still leave it would use up."""
    ranks = dict.fromkeys(bits_of(domain), 0)
    for rule in rules.every:
        if isinstance(rule, Limit):
            _add_use(rule, domain, ranks)
        elif isinstance(rule, Condition) and all(domain & meant for _, meant in rule.factors):
            _add_use(rule.inner, domain, ranks)
    return ranks


def _add_use(limit: Limit, domain: int, ranks: dict[int, int]) -> None:
    rows = limit.rows(domain)
    if not rows:
        return
    total = limit.total
    bound = limit.bound(rows)
    slack = max(bound - total.least(domain), 0) + 1
    for mask in total.masks:
        lightest = total.span(domain & mask)[0]
        for bit in bits_of(domain & mask):
            ranks[bit] += 1000 * (total.weights[bit] - lightest) // slack
    for mask in limit.class_masks:
        for bit in bits_of(domain & mask):
            left = rows & limit.rows_of[bit]
            if left:
                ranks[bit] += 1000 * (bound - limit.bound(left)) // slack
