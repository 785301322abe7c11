"""Exact answers about a domain: a build within it, and one with the least sum."""

from __future__ import annotations

from collections.abc import Mapping

from configurator.rules.limits import Limit
from configurator.rules.propagation import Rules, is_complete, narrowed
from configurator.rules.search import light_ranks, next_try, search
from configurator.rules.solving import solved, solved_at_least
from configurator.rules.sums import Sum

_NODES_BEFORE_SOLVER = 200


def any_build(rules: Rules, domain: int, ranks: Mapping[int, int] | None = None) -> int:
    """Give a build within a narrowed domain, or 0 when there is none."""
    if not domain:
        return 0
    if ranks is None:
        ranks = light_ranks(rules, domain)
    found = search(rules, domain, ranks)
    return found.build if found.settled else solved(rules, domain)


def least_build(rules: Rules, total: Sum, domain: int) -> int:
    """Give a build within a narrowed domain with the least sum, or 0 when there is none.

    Branch and bound: each build found lowers the cap that the next must keep. The solver
    finishes what takes too long.
    """
    if not domain:
        return 0
    ranks = _ranks_towards(rules, total, domain)
    cap = at_most(total, total.greatest(domain))
    capped = rules.with_limit(cap)
    best = 0
    stack = [(domain, 0)]
    for _ in range(_NODES_BEFORE_SOLVER):
        if not stack:
            return best
        part_domain = _within_cap(capped, cap, *stack.pop())
        if not part_domain:
            continue
        if is_complete(rules, part_domain):
            best = part_domain
            cap.bounds[0] = total.least(best) - 1
            continue
        part, option = next_try(rules, part_domain, ranks)
        stack.append((part_domain ^ option, option))
        stack.append((part_domain & ~part | option, part ^ option))
    domain = narrowed(capped, domain)
    return (solved_at_least(capped, total, domain) if domain else 0) or best


def least_build_in_turn(rules: Rules, first: Sum, second: Sum, domain: int) -> int:
    """Give a build with the least first sum and, among those, the least second sum; 0 if none."""
    best = least_build(rules, first, domain)
    if not best:
        return 0
    rules = rules.with_limit(at_most(first, first.least(best)))
    return least_build(rules, second, narrowed(rules, domain))


def at_most(total: Sum, bound: int) -> Limit:
    """Make a limit without classes."""
    return Limit(("limit", ""), total, [bound], (), {})


def _within_cap(capped: Rules, cap: Limit, domain: int, lost: int) -> int:
    shrunk = cap.narrowed(domain)
    return narrowed(capped, shrunk, lost=lost | (domain ^ shrunk)) if shrunk else 0


def _ranks_towards(rules: Rules, total: Sum, domain: int) -> dict[int, int]:
    """Rank by the sum itself, equals by how little of the limits they use."""
    light = light_ranks(rules, domain)
    step = max(light.values()) + 1
    return {bit: total.weights.get(bit, 0) * step + use for bit, use in light.items()}
