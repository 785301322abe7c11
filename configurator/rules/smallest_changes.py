"""The smallest changes of picks that let a wanted option in, found in their order."""

from __future__ import annotations

import heapq
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field
from itertools import count

from configurator.rules.engine import Engine
from configurator.rules.problem import Domain, Quantity

MOST_TIED = 64
"""Equally good changes looked at beyond those asked for; a catalog of copies has no end of them."""

Allowed = Mapping[str, frozenset[str]]


@dataclass(frozen=True)
class Change:
    """New options for some picked groups, in the order of the problem."""

    options: tuple[tuple[str, str], ...]
    total: int
    """Orders changes: first by how many groups are altered, then by what that costs."""


def smallest_changes(
    engine: Engine,
    picks: Mapping[str, str],
    wanted: tuple[str, str],
    kept: Collection[str],
    cost: Quantity,
    *,
    enough: int,
) -> list[Change]:
    """List the changes that let an option in and of which nothing can be left out.

    Parameters
    ----------
    engine : Engine
        Of all builds that are allowed.
    picks : mapping of str to str
        The option taken, by group; a pick of the wanted option's group gives way to it.
    wanted : tuple of str
        The group and the option wanted, which does not go with the picks.
    kept : collection of str
        Groups whose pick is never altered.
    cost : Quantity
        Of two changes that alter equally many groups, the one that adds less to this is smaller.
    enough : int
        How many to find; all that tie with the last of them are found too.

    Returns
    -------
    list of Change
        The smallest first; changes with equal totals in any order. Empty when nothing helps.

    Source
    ------
    Lawler 1972, A procedure for computing the K best solutions to discrete optimization problems:
    the builds without the best change fall into parts, each with a best of its own.
    """
    others = {group: option for group, option in picks.items() if group != wanted[0]}
    domains = [
        domain for domain in engine.problem.domains if domain.id in others and domain.id not in kept
    ]
    free = {domain.id for domain in domains}
    fixed = {group: option for group, option in others.items() if group not in free}
    search = _Search(
        engine, {**fixed, wanted[0]: wanted[1]}, others, domains, _weighed(domains, others, cost)
    )
    return search.run(enough)


def _weighed(domains: Iterable[Domain], picks: Mapping[str, str], cost: Quantity) -> Quantity:
    """Weigh each altered group by more than all costs together, and by what it adds to the cost."""
    added = {
        (domain.id, option): cost.weights.get((domain.id, option), 0)
        - cost.weights.get((domain.id, picks[domain.id]), 0)
        for domain in domains
        for option in domain.options
    }
    span: dict[str, int] = {}
    for (group, _), weight in added.items():
        span[group] = max(abs(weight), span.get(group, 0))
    step = 2 * sum(span.values()) + 1
    return Quantity(
        0,
        {pair: step + weight for pair, weight in added.items() if picks[pair[0]] != pair[1]},
    )


@dataclass
class _Search:
    """Parts of all builds, each with its smallest change, the part with the smallest first."""

    engine: Engine
    fixed: Mapping[str, str]
    picks: Mapping[str, str]
    domains: list[Domain]
    weights: Quantity
    heap: list[tuple[int, int, Change, Allowed]] = field(default_factory=list)
    order: count[int] = field(default_factory=count)

    def run(self, enough: int) -> list[Change]:
        found: list[Change] = []
        self._push({})
        while self.heap and not self._is_enough(found, enough):
            _, _, change, part = heapq.heappop(self.heap)
            larger_than = next((c for c in found if set(c.options) <= set(change.options)), None)
            if larger_than is None:
                found.append(change)
            self._split(part, larger_than or change)
        return found

    def _is_enough(self, found: list[Change], enough: int) -> bool:
        if len(found) < enough:
            return False
        return self.heap[0][0] > found[enough - 1].total or len(found) >= enough + MOST_TIED

    def _push(self, part: Allowed) -> None:
        answer = self.engine.extreme(self.weights, self.fixed, part)
        if answer is None:
            return
        total, build = answer
        options = tuple(
            (domain.id, build[domain.id])
            for domain in self.domains
            if build[domain.id] != self.picks[domain.id]
        )
        if options:
            heapq.heappush(self.heap, (total, next(self.order), Change(options, total), part))

    def _split(self, part: Allowed, change: Change) -> None:
        """Split what is left of a part without any build that has the whole change."""
        taken: dict[str, frozenset[str]] = {}
        for group, option in change.options:
            rest = self._allowed(part, group) - {option}
            if rest:
                self._push({**part, **taken, group: rest})
            taken[group] = frozenset({option})

    def _allowed(self, part: Allowed, group: str) -> frozenset[str]:
        if group in part:
            return part[group]
        return next(frozenset(d.options) for d in self.domains if d.id == group)
