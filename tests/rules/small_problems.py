"""Random small problems, and every question answered by looking at all builds."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import product
from math import isqrt

from hypothesis import HealthCheck, settings
from hypothesis import strategies as st

from configurator.rules.problem import (
    ConditionalLimit,
    Domain,
    Implication,
    LazyLimit,
    Problem,
    Quantity,
)

steady = settings(
    max_examples=40,
    derandomize=True,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)


def all_builds(problem: Problem) -> list[dict[str, str]]:
    """List every build that keeps every rule, straight from the words of the contract."""
    groups = [domain.id for domain in problem.domains]
    every = product(*(domain.options for domain in problem.domains))
    return [
        build
        for options in every
        if keeps(problem, build := dict(zip(groups, options, strict=True)))
    ]


def keeps(problem: Problem, build: Mapping[str, str]) -> bool:
    """Tell whether a complete build keeps every rule."""
    for implication in problem.implications:
        if all(build[group] in options for group, options in implication.when.items()) and not all(
            build[group] in options for group, options in implication.then.items()
        ):
            return False
    if any(limit.broken_by(build) for limit in problem.lazy_limits):
        return False
    return all(limit.keeps(build) for limit in problem.conditional_limits)


def has(build: Mapping[str, str], picks: Mapping[str, str]) -> bool:
    """Tell whether a build has all the picks."""
    return all(build[group] == option for group, option in picks.items())


def without(picks: Mapping[str, str], group: str) -> dict[str, str]:
    """Lift the pick of one group."""
    return {each: option for each, option in picks.items() if each != group}


@st.composite
def domains(draw: st.DrawFn) -> tuple[Domain, ...]:
    sizes = draw(st.lists(st.integers(2, 4), min_size=3, max_size=5))
    return tuple(
        Domain(f"g{at}", tuple(f"o{number}" for number in range(size)))
        for at, size in enumerate(sizes)
    )


def subsets(domain: Domain, *, least: int = 1) -> st.SearchStrategy[frozenset[str]]:
    return st.frozensets(
        st.sampled_from(domain.options), min_size=least, max_size=len(domain.options) - 1
    )


@st.composite
def implications(draw: st.DrawFn, groups: tuple[Domain, ...], name: str) -> Implication:
    """Draw an exclusion, an only-with, a three-way rule, or a "never"."""
    kind = draw(st.sampled_from(["excludes", "only-with", "three-way", "never"]))
    involved = draw(st.permutations(groups))
    when = {involved[0].id: draw(subsets(involved[0]))}
    if kind == "three-way":
        when[involved[1].id] = draw(subsets(involved[1]))
    then = {involved[-1].id: draw(subsets(involved[-1]))}
    if kind == "never":
        when[involved[1].id] = draw(subsets(involved[1]))
        then = {involved[-1].id: frozenset()}
    if kind == "only-with" and draw(st.booleans()):
        then[involved[-2].id] = draw(subsets(involved[-2]))
    return Implication(name, when, then)


@st.composite
def quantities(draw: st.DrawFn, groups: tuple[Domain, ...]) -> Quantity:
    """Draw a sum with weights of either sign; some pairs are absent."""
    scale = draw(st.sampled_from([1, 7, 10**9]))
    weights = {
        (domain.id, option): draw(st.integers(-3, 9)) * scale
        for domain in groups
        for option in domain.options
        if draw(st.integers(0, 3))
    }
    return Quantity(draw(st.integers(-5, 5)) * scale, weights)


@st.composite
def conditional_limits(draw: st.DrawFn, groups: tuple[Domain, ...], name: str) -> ConditionalLimit:
    """Draw a limit for a region of choices; None forbids the region."""
    quantity = draw(quantities(groups))
    scale = max([1, *(abs(weight) for weight in quantity.weights.values())]) // 3 + 1
    involved = draw(st.permutations(groups))[: draw(st.integers(0, 3))]
    when = {domain.id: draw(subsets(domain)) for domain in involved}
    bound = st.integers(0, 12).map(lambda number: number * scale)
    at_most = draw(st.one_of(st.none(), bound, bound)) if when else draw(bound)
    return ConditionalLimit(name, when, quantity, at_most)


@dataclass(frozen=True)
class SpreadLimit:
    """A limit that is no sum: the weights of two groups may not differ by more than a bound.

    It tells no more than that the very options asked about do not go together.
    """

    id: str
    groups: tuple[str, str]
    weights: dict[tuple[str, str], int]
    at_most: int

    def broken_by(self, choices: Mapping[str, str]) -> ConditionalLimit | None:
        first, second = (self.weights[group, choices[group]] for group in self.groups)
        if abs(first - second) <= self.at_most:
            return None
        when = {group: frozenset({choices[group]}) for group in self.groups}
        return ConditionalLimit("as told", when, Quantity(0, {}), None)


@dataclass(frozen=True)
class RootLimit:
    """A limit on the whole part of the root of a sum; it tells the greatest sum allowed.

    It judges many choices at once, as a limit may.
    """

    id: str
    quantity: Quantity
    at_most: int

    def broken_by(self, choices: Mapping[str, str]) -> ConditionalLimit | None:
        if isqrt(max(self.quantity.of(choices), 0)) <= self.at_most:
            return None
        return ConditionalLimit(self.id, {}, self.quantity, (self.at_most + 1) ** 2 - 1)

    def kept_by(self, many: Sequence[Mapping[str, str]]) -> list[bool]:
        return [self.broken_by(choices) is None for choices in many]


@st.composite
def lazy_limits(draw: st.DrawFn, groups: tuple[Domain, ...], name: str) -> LazyLimit:
    if draw(st.booleans()):
        return RootLimit(name, draw(quantities(groups)), draw(st.integers(1, 4)))
    pair = draw(st.permutations(groups))[:2]
    weights = {
        (domain.id, option): draw(st.integers(0, 6)) for domain in pair for option in domain.options
    }
    return SpreadLimit(name, (pair[0].id, pair[1].id), weights, draw(st.integers(1, 4)))


@st.composite
def problems(draw: st.DrawFn) -> Problem:
    groups = draw(domains())
    rules = tuple(draw(implications(groups, f"rule-{at}")) for at in range(draw(st.integers(0, 5))))
    names = st.lists(st.sampled_from(["mass", "axle", "range"]), max_size=2)
    return Problem(
        groups,
        rules,
        tuple(draw(conditional_limits(groups, name)) for name in draw(names)),
        tuple(draw(lazy_limits(groups, name)) for name in draw(names)),
    )


@st.composite
def picks_of(draw: st.DrawFn, problem: Problem) -> dict[str, str]:
    """Draw picks for some groups; they may be impossible."""
    return {
        domain.id: draw(st.sampled_from(domain.options))
        for domain in draw(st.permutations(problem.domains))
        if draw(st.booleans())
    }


@st.composite
def problems_and_picks(draw: st.DrawFn) -> tuple[Problem, dict[str, str]]:
    problem = draw(problems())
    return problem, draw(picks_of(problem))
