"""Seeded chance problems of the size of a workshop's catalog: 20 groups of 6, 40 rules, 3 limits.

A light build is hidden in each, so that none is empty however tight its limits are.
"""

from __future__ import annotations

from collections.abc import Iterator
from random import Random

from configurator.rules.problem import ConditionalLimit, Domain, Implication, Problem, Quantity

TIGHTNESS = {"loose": 0.6, "medium": 0.35, "tight": 0.12}
"""Share of the way from the hidden build's sum to the greatest of all that a limit allows."""


def chance(seed: int) -> Random:
    return Random(seed)  # noqa: S311  Seeded chance makes a test repeatable.


def workshop_problem(
    seed: int, tightness: str, groups: int = 20, options: int = 6, rules: int = 40
) -> Problem:
    random = chance(seed)
    domains = tuple(
        Domain(f"g{at:02}", tuple(f"o{number}" for number in range(options)))
        for at in range(groups)
    )
    sums = [some_quantity(random, domains) for _ in range(3)]
    hidden = {
        domain.id: min(
            random.sample(domain.options, 3),
            key=lambda option, group=domain.id: sum(s.weights[group, option] for s in sums),
        )
        for domain in domains
    }
    share = TIGHTNESS[tightness]
    limits = tuple(
        ConditionalLimit(f"limit-{at}", {}, s, least + int(share * (greatest(s, domains) - least)))
        for at, s in enumerate(sums)
        for least in [s.of(hidden)]
    )
    implications = tuple(some_implications(random, domains, hidden, rules))
    return Problem(domains=domains, implications=implications, conditional_limits=limits)


def some_quantity(random: Random, domains: tuple[Domain, ...]) -> Quantity:
    weights = {(d.id, option): random.randrange(0, 900) for d in domains for option in d.options}
    return Quantity(random.randrange(-500, 500), weights)


def greatest(quantity: Quantity, domains: tuple[Domain, ...]) -> int:
    most = (max(quantity.weights[d.id, option] for option in d.options) for d in domains)
    return quantity.constant + sum(most)


def some_implications(
    random: Random, domains: tuple[Domain, ...], hidden: dict[str, str], number: int
) -> Iterator[Implication]:
    """Yield exclusions, rules of the kind "only with", and three-way rules that all let one by."""
    made = 0
    while made < number:
        first, second, third = random.sample(domains, 3)
        kind = random.choice(["excludes", "only-with", "three-way"])
        when = {first.id: frozenset(random.sample(first.options, random.choice([1, 2])))}
        if kind == "three-way":
            when[second.id] = frozenset(random.sample(second.options, 2))
        kept = 2 if kind == "only-with" else len(third.options) - random.choice([1, 2])
        then = {third.id: frozenset(random.sample(third.options, kept))}
        applies = all(hidden[group] in some for group, some in when.items())
        if not applies or hidden[third.id] in then[third.id]:
            yield Implication(f"rule-{made}", when, then)
            made += 1
