"""The question put to the engine, free of any workshop word: groups, implications, limits.

Every number is a whole number in a unit of the caller's choosing, so that an answer is exact.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import repeat
from typing import Protocol, runtime_checkable


@dataclass(frozen=True)
class Domain:
    """A group of which exactly one option is taken."""

    id: str
    options: tuple[str, ...]


@dataclass(frozen=True)
class Implication:
    """If every group in `when` takes one of its options, each group in `then` takes one of its.

    A group in `then` with no option left means: never.
    """

    id: str
    when: Mapping[str, frozenset[str]]
    then: Mapping[str, frozenset[str]]


@dataclass(frozen=True)
class Quantity:
    """A whole-number sum: `constant` plus the weight of each option taken (0 when absent)."""

    constant: int
    weights: Mapping[tuple[str, str], int]

    def of(self, choices: Mapping[str, str]) -> int:
        """Sum it for complete choices.

        Examples
        --------
        >>> Quantity(10, {("roof", "steel"): 5}).of({"roof": "steel", "floor": "cork"})
        15
        """
        return self.constant + sum(map(self.weights.get, choices.items(), repeat(0)))


@dataclass(frozen=True)
class ConditionalLimit:
    """Where every group in `when` takes one of its options, a quantity must not exceed a bound.

    An empty `when` means always. `at_most=None` forbids the combination outright. Several may share
    an id; together they are one limit, and all hold.
    """

    id: str
    when: Mapping[str, frozenset[str]]
    quantity: Quantity
    at_most: int | None

    def keeps(self, choices: Mapping[str, str]) -> bool:
        """Tell whether complete choices keep the limit.

        Examples
        --------
        >>> heavy = Quantity(10, {("pack", "large"): 5})
        >>> limit = ConditionalLimit("range", {"roof": frozenset({"tall"})}, heavy, 12)
        >>> limit.keeps({"roof": "tall", "pack": "large"})
        False
        >>> limit.keeps({"roof": "low", "pack": "large"})
        True
        """
        if any(choices[group] not in options for group, options in self.when.items()):
            return True
        return self.at_most is not None and self.quantity.of(choices) <= self.at_most


class LazyLimit(Protocol):
    """A limit on a quantity that is not a sum, told only for choices that somebody asks about.

    The engine solves without it, asks about the answer, adds what it is told and solves again until
    the answer keeps the limit or there is none. What is told must hold in every allowed build, so
    the engine's answers stay exact both ways.
    """

    @property
    def id(self) -> str:
        """Shared with other limits that are one with it."""
        ...

    def broken_by(self, choices: Mapping[str, str]) -> ConditionalLimit | None:
        """Tell a limit that complete choices break and every allowed build keeps, or None."""
        ...


@runtime_checkable
class SwiftLazyLimit(LazyLimit, Protocol):
    """A lazy limit that judges many choices in less time than it takes one after the other."""

    def kept_by(self, many: Sequence[Mapping[str, str]]) -> Sequence[bool]:
        """Tell of each complete choices whether they keep the limit; `broken_by` must agree."""
        ...


@dataclass(frozen=True)
class Problem:
    """All builds of one vehicle that are allowed."""

    domains: tuple[Domain, ...]
    implications: tuple[Implication, ...]
    conditional_limits: tuple[ConditionalLimit, ...] = ()
    lazy_limits: tuple[LazyLimit, ...] = ()


@dataclass(frozen=True)
class Conflict:
    """A minimal set of picks, implications and limits that cannot hold together."""

    picks: tuple[tuple[str, str], ...]
    implications: tuple[str, ...]
    limits: tuple[str, ...]


@dataclass(frozen=True)
class Reach:
    """A bound that no build passes, and a build that comes near it."""

    bound: int
    value: int
    build: dict[str, str]
