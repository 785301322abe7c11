"""How many complete builds are left: exact where it can be had, else at most so many."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

from configurator.rules.bounded_count import (
    Way,
    breakable,
    count_along,
    list_along,
    way_through,
)
from configurator.rules.forbidden import Meant, Open, forbidden_in, opened, tidied
from configurator.rules.frontier import count_kept, steps_through
from configurator.rules.problem import LazyLimit, Problem, SwiftLazyLimit
from configurator.rules.split_count import count_apart

WORTH_BOUNDING = 500_000
"""With more builds under the implications alone, limits on sums are not counted exactly."""

MOST_SPLITS = 1_500
"""Parts counted separately before the upper bound that is known has to do."""

ONE_BY_ONE = 300
"""Builds of which each is looked at, for limits that only tell of complete builds."""

_NO_RESTRICTION: Mapping[str, frozenset[str]] = MappingProxyType({})


@dataclass(frozen=True)
class Count:
    """A number of builds."""

    value: int
    is_exact: bool
    """Otherwise there are at most so many."""


def count_builds(
    problem: Problem,
    picks: Mapping[str, str],
    allowed: Mapping[str, frozenset[str]] = _NO_RESTRICTION,
) -> Count:
    """Count the complete builds that have the picks and keep every rule and limit.

    Parameters
    ----------
    problem : Problem
        The groups, implications and limits.
    picks : mapping of str to str
        The option taken, by group.
    allowed : mapping of str to frozenset of str
        Groups that may take only some of their options.

    Returns
    -------
    Count
        Exact when no limit can be broken any more, or when few enough builds are left to count
        under every limit. Otherwise an upper bound: the builds that keep the implications, and the
        limits on sums where that could be counted.

    Raises
    ------
    ValueError
        If a pick or a restriction names what the problem does not have.

    Source
    ------
    From memory: variable elimination along an order of the groups after R. Dechter, Bucket
    elimination (1999); where that grows too wide, counting connected parts separately and
    remembering them after T. Sang et al., component caching for model counting (2004).

    Examples
    --------
    >>> from configurator.rules.problem import Domain, Implication
    >>> roof, floor = Domain("roof", ("steel", "canvas")), Domain("floor", ("cork", "carpet"))
    >>> dry = Implication("dry", {"floor": frozenset({"carpet"})}, {"roof": frozenset({"steel"})})
    >>> count_builds(Problem((roof, floor), (dry,), ()), {})
    Count(value=3, is_exact=True)
    >>> count_builds(Problem((roof, floor), (dry,), ()), {"roof": "canvas"})
    Count(value=1, is_exact=True)
    """
    found = tidied(opened(problem, picks, allowed), forbidden_in(problem))
    if found is None:
        return Count(0, is_exact=True)
    left, forbidden = found
    limits = breakable(problem.conditional_limits, left)
    if limits is None:
        return Count(0, is_exact=True)
    value, is_exact = _count_under_implications(left, forbidden)
    if not limits and not problem.lazy_limits:
        return Count(value, is_exact)
    if not value:
        return Count(0, is_exact=True)
    if value > WORTH_BOUNDING:
        return Count(value, is_exact=False)
    return _along(way_through(left, forbidden, limits), problem.lazy_limits, value)


def _count_under_implications(left: Open, forbidden: Sequence[Meant]) -> tuple[int, bool]:
    bound, is_exact = count_kept(steps_through(left, forbidden), forbidden)
    if is_exact:
        return bound, True
    exact = count_apart(left, forbidden, MOST_SPLITS)
    return (bound, False) if exact is None else (exact, True)


def _along(way: Way, lazy_limits: Sequence[LazyLimit], without_limits: int) -> Count:
    value = count_along(way)
    if value is None:
        return Count(without_limits, is_exact=False)
    if not value or not lazy_limits:
        return Count(value, is_exact=True)
    builds = list_along(way, ONE_BY_ONE) if value <= ONE_BY_ONE else None
    if builds is None:
        return Count(value, is_exact=False)
    for limit in lazy_limits:
        builds = _keeping(builds, limit)
    return Count(len(builds), is_exact=True)


def _keeping(builds: list[dict[str, str]], limit: LazyLimit) -> list[dict[str, str]]:
    if isinstance(limit, SwiftLazyLimit):
        judged = limit.kept_by(builds)
        return [build for build, kept in zip(builds, judged, strict=True) if kept]
    return [build for build in builds if limit.broken_by(build) is None]
