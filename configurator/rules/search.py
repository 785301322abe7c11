"""A short search for a build by trying options; it gives up where the solver does better."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from configurator.rules.limits import Limit
from configurator.rules.options import Member, bits_of
from configurator.rules.propagation import Rules, is_complete, narrowed

NODES_BEFORE_SOLVER = 150


@dataclass(frozen=True)
class Found:
    """What a search ended with: a build (0 when there is none), or no answer in its budget."""

    build: int
    settled: bool


def search(
    rules: Rules,
    domain: int,
    ranks: Mapping[int, int],
    nodes: int = NODES_BEFORE_SOLVER,
    touched: set[Member] | None = None,
) -> Found:
    """Look for a build within an already narrowed domain, the best-ranked options first.

    Parameters
    ----------
    rules : Rules
        What must hold.
    domain : int
        A domain that `narrowed` returned, or 0.
    ranks : mapping of int to int
        For each option's bit its rank; lower is tried earlier.
    nodes : int
        How many domains may be looked at before giving up.
    touched : set of Member, optional
        Receives the ids of the rules that removed anything.
    """
    stack = [domain] if domain else []
    while stack:
        domain = stack.pop()
        if is_complete(rules, domain):
            return Found(domain, settled=True)
        nodes -= 1
        if nodes < 0:
            return Found(0, settled=False)
        part, option = next_try(rules, domain, ranks)
        without = narrowed(rules, domain ^ option, lost=option, touched=touched)
        if without:
            stack.append(without)
        only = narrowed(rules, domain & ~part | option, lost=part ^ option, touched=touched)
        if only:
            stack.append(only)
    return Found(0, settled=True)


def light_ranks(rules: Rules, domain: int) -> dict[int, int]:
    """Rank each option by how much of what the limits still leave it would use up."""
    ranks = dict.fromkeys(bits_of(domain), 0)
    for limit in rules.limits:
        _add_use(limit, domain, ranks)
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


def next_try(rules: Rules, domain: int, ranks: Mapping[int, int]) -> tuple[int, int]:
    """Choose among the open groups the one with fewest options, and its best-ranked option."""
    fewest = 0
    chosen = 0
    for mask in rules.group_masks:
        part = domain & mask
        if part & (part - 1):
            size = part.bit_count()
            if not chosen or size < fewest:
                chosen, fewest = part, size
    return chosen, min(bits_of(chosen), key=lambda bit: (ranks[bit], bit))
