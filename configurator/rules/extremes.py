"""Exact answers about a domain: a build within it, and one with the least sum."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from configurator.rules.limits import Limit, limit_without_table
from configurator.rules.options import bits_of
from configurator.rules.propagation import Rules, is_complete, narrowed
from configurator.rules.search import branches, light_ranks, search
from configurator.rules.solving import solved, solved_at_least, solved_first
from configurator.rules.sums import Sum

# One dive finds most builds and, light as it is, settles most neighbours. Proving a least is
# what the solver does better.
NODES_BEFORE_SOLVER = 40
NODES_BEFORE_SOLVER_PROVES = 12


def any_build(rules: Rules, domain: int, ranks: Mapping[int, int] | None = None) -> int:
    """Give a build within a narrowed domain, or 0 when there is none."""
    if not domain:
        return 0
    if ranks is None:
        ranks = light_ranks(rules, domain)
    found = search(rules, domain, ranks, NODES_BEFORE_SOLVER)
    return found.build if found.settled else solved(rules, domain)


def least_build(rules: Rules, totals: Sequence[Sum], domain: int) -> int:
    """Give a build with the least greatest of some sums, or 0 when the domain holds none.

    Among equals it is the one with the earliest options, group by group in the order of the
    problem, so that the answer does not depend on how it was found.
    """
    best = _some_least_build(rules, totals, domain)
    if not best:
        return 0
    at_best = rules.with_limits(_caps(totals, _greatest(totals, best)))
    return _first_build(at_best, narrowed(at_best, domain))


def some_least_build(rules: Rules, totals: Sequence[Sum], domain: int) -> int:
    """Give any one build with the least greatest of some sums, or 0 when the domain holds none."""
    return solved_at_least(rules, totals, domain)


def least_build_in_turn(rules: Rules, first: Sum, second: Sum, domain: int) -> int:
    """Give a build with the least first sum and, among those, the least second sum; 0 if none."""
    best = _some_least_build(rules, [first], domain)
    if not best:
        return 0
    at_best = rules.with_limits(_caps([first], first.least(best)))
    return least_build(at_best, [second], narrowed(at_best, domain))


def _some_least_build(rules: Rules, totals: Sequence[Sum], domain: int) -> int:
    """Branch and bound: each build found lowers the cap that the next must keep.

    The solver finishes what takes too long.
    """
    if not domain:
        return 0
    ranks = _ranks_towards(rules, totals, domain)
    caps = _caps(totals, max(total.greatest(domain) for total in totals))
    capped = rules.with_limits(caps)
    best = 0
    stack = [(domain, 0, 0)]
    for _ in range(NODES_BEFORE_SOLVER_PROVES):
        if not stack:
            return best
        part_domain = _within(capped, caps, *stack.pop())
        if not part_domain:
            continue
        if not is_complete(rules, part_domain):
            stack += branches(capped, part_domain, ranks)
        elif not capped.refuse(part_domain):
            best = part_domain
            for cap in caps:
                cap.bounds[0] = _greatest(totals, best) - 1
    return solved_at_least(capped, totals, narrowed(capped, domain)) or best


def _within(capped: Rules, caps: Sequence[Limit], domain: int, lost: int, examined: int) -> int:
    """Narrow a domain that was narrowed when the caps were higher."""
    for cap in caps:
        shrunk = cap.narrowed(domain)
        if not shrunk:
            return 0
        lost |= domain ^ shrunk
        domain = shrunk
    return narrowed(capped, domain, lost, examined)


def _first_build(rules: Rules, domain: int) -> int:
    """Give the build with the earliest options."""
    found = search(rules, domain, None, NODES_BEFORE_SOLVER_PROVES)
    if found.settled:
        return found.build
    first = solved_first(rules, domain)
    return first_build_by_questions(rules, domain) if first is None else first


def first_build_by_questions(rules: Rules, domain: int) -> int:
    """Settle one group after the other, asking whether some build has its earliest option."""
    build = solved(rules, domain)
    for mask in rules.group_masks:
        for option in bits_of(domain & mask if build else 0):
            taken = domain & ~mask | option
            asked = narrowed(rules, taken, domain ^ taken)
            if not build & option:
                build_with = solved(rules, asked)
                if not build_with:
                    continue
                build = build_with
            domain = asked
            break
    return build


def _caps(totals: Sequence[Sum], bound: int) -> list[Limit]:
    return [limit_without_table(("limit", ""), total, bound) for total in totals]


def _greatest(totals: Sequence[Sum], build: int) -> int:
    return max(total.least(build) for total in totals)


def _ranks_towards(rules: Rules, totals: Sequence[Sum], domain: int) -> dict[int, int]:
    """Rank by the sums themselves, equals by how little of the limits they use."""
    light = light_ranks(rules, domain)
    step = max(light.values()) + 1
    return {
        bit: sum(total.weights.get(bit, 0) for total in totals) * step + use
        for bit, use in light.items()
    }
