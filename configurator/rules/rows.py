"""Every rule and limit as a row: where all its factors hold, a sum must stay within a bound."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TypeAlias

import numpy as np

from configurator.rules.arrays import Wholes
from configurator.rules.options import OptionPlaces
from configurator.rules.problem import ConditionalLimit, Implication, Quantity

Member: TypeAlias = tuple[str, str]
"""("implication" or "limit", id), as conflicts name them. Rows that share one stand together."""

IMPLIED: Member = ("implied", "")
"""Of rows that follow from others."""

# Weights and what loops make of them have 63 bits; a sum far below leaves room for additions.
GREATEST_NUMBER = 2**60

_SUMS_KEPT = 500


@dataclass(frozen=True, eq=False)
class Sum:
    """A quantity over option numbers; the least weight of each group is in the constant."""

    constant: int
    weights: Wholes
    """By option, at least 0."""
    greatest: Wholes
    """By group, the greatest weight."""
    starts: Wholes
    """The first option of each group."""

    @cached_property
    def most(self) -> int:
        """The greatest sum above the constant, whatever is taken."""
        return int(self.greatest.sum())

    def opposite(self) -> Sum:
        """Give the sum with every sign turned, whose least is this one's greatest."""
        sizes = np.diff(np.append(self.starts, self.weights.size))
        weights = np.repeat(self.greatest, sizes) - self.weights
        greatest = np.maximum.reduceat(weights, self.starts)
        return Sum(-self.constant - self.most, weights, greatest, self.starts)

    def above_constant(self, places: OptionPlaces, build: Sequence[int]) -> int:
        """Sum a complete build, without the constant."""
        starts = places.starts
        return sum(int(self.weights[starts[at] + place]) for at, place in enumerate(build))


@dataclass(frozen=True, eq=False)
class Row:
    """Where each group of `factors` takes an option meant, `total` must not pass `bound`.

    `factors` pairs a group's position with the mask of the options meant. Without `total` the
    factors may not all hold. `bound` is above the constant of `total`.
    """

    member: Member
    factors: tuple[tuple[int, int], ...]
    total: Sum | None = None
    bound: int = 0

    def allows(self, places: OptionPlaces, build: Sequence[int]) -> bool:
        """Tell whether a complete build keeps the row."""
        if not all(mask >> build[group] & 1 for group, mask in self.factors):
            return True
        return self.total is not None and self.total.above_constant(places, build) <= self.bound


class Sums:
    """Compiled quantities, each once however many rows share it."""

    def __init__(self, places: OptionPlaces) -> None:
        self.places = places
        self._known: dict[int, tuple[Quantity, Sum]] = {}

    def of(self, quantity: Quantity) -> Sum:
        """Compile a quantity, or give what was made of it before."""
        known = self._known.get(id(quantity))
        if known is None:
            if len(self._known) > _SUMS_KEPT:
                self._known.clear()
            known = (quantity, sum_of(quantity, self.places))
            self._known[id(quantity)] = known
        return known[1]


def sum_of(quantity: Quantity, places: OptionPlaces) -> Sum:
    """Compile a quantity; weights of pairs that do not exist count for nothing.

    Raises
    ------
    ValueError
        If the sum could leave the range of exact whole numbers.
    """
    by_group = [
        [quantity.weights.get((domain.id, option), 0) for option in domain.options]
        for domain in places.domains
    ]
    reach = abs(quantity.constant) + sum(max(map(abs, weights)) for weights in by_group)
    if reach > GREATEST_NUMBER:
        message = (
            f"quantity: it can reach {reach}; the engine counts exactly up to 2^60. "
            "Use a coarser unit."
        )
        raise ValueError(message)
    least = [min(weights) for weights in by_group]
    above = [w - low for weights, low in zip(by_group, least, strict=True) for w in weights]
    greatest = [max(weights) - low for weights, low in zip(by_group, least, strict=True)]
    return Sum(
        quantity.constant + sum(least),
        np.array(above, dtype=np.int64),
        np.array(greatest, dtype=np.int64),
        np.array(places.starts[:-1], dtype=np.int64),
    )


def rows_of_implications(implications: Iterable[Implication], places: OptionPlaces) -> list[Row]:
    """Turn each implication into one row for each group in its `then`.

    An option that does not exist is never taken, so naming one changes nothing.

    Raises
    ------
    ValueError
        If an implication names a group that does not exist.
    """
    rows = []
    for implication in implications:
        when = {
            places.position(group): places.mask(group, options)
            for group, options in implication.when.items()
        }
        for group, options in implication.then.items():
            position = places.position(group)
            forbidden = places.every[position] & ~places.mask(group, options)
            meant = {**when, position: forbidden & when.get(position, forbidden)}
            if all(meant.values()):
                factors = _telling(meant, places)
                rows.append(Row(("implication", implication.id), factors))
    return rows


def row_of_limit(limit: ConditionalLimit, total: Sum, places: OptionPlaces) -> Row:
    """Compile a limit on a compiled sum.

    Raises
    ------
    ValueError
        If the condition names a group that does not exist.
    """
    meant = {places.position(g): places.mask(g, options) for g, options in limit.when.items()}
    factors = _telling(meant, places)
    member = ("limit", limit.id)
    if limit.at_most is None:
        return Row(member, factors)
    # No sum is below 0, so any bound below forbids as much as -1 does, and -1 always has room.
    bound = max(-1, min(limit.at_most - total.constant, total.most))
    return Row(member, factors, total, bound)


def _telling(meant: dict[int, int], places: OptionPlaces) -> tuple[tuple[int, int], ...]:
    """Leave out the factors that always hold."""
    return tuple((at, mask) for at, mask in sorted(meant.items()) if mask != places.every[at])
