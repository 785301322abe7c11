"""The least and greatest of sums, and of ratios of sums, over all builds still possible."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction

from configurator.build_spec.known_extremes import Answer, KnownExtremes, Within
from configurator.rules.engine import Engine
from configurator.rules.problem import Quantity

NOTHING = Quantity(0, {})


@dataclass(frozen=True)
class Asking:
    """One engine and one set of picks, with what is known from earlier questions."""

    engine: Engine
    picks: Mapping[str, str]
    known: KnownExtremes = field(default_factory=KnownExtremes)
    left: Within = field(default_factory=dict)
    """Group → the options still possible, for groups where that is known; it spares questions."""
    exact: bool = True
    """Whether answers are exact however long that takes, and so depend on the question alone."""

    @property
    def open_to(self) -> dict[str, frozenset[str]]:
        """Group → the options that a build may have, for groups with a pick or fewer options."""
        return {**self.left, **{group: frozenset({o}) for group, o in self.picks.items()}}

    def least(self, quantity: Quantity, region: Within, gap: int = 0) -> Answer:
        """Bound the least of a sum within a region from below, with a build that comes near it.

        The build has the very least, but where finding it takes long: then it comes within less
        than the gap of the bound. With no gap the bound is always the least.
        """
        return self._ask(quantity, region, gap, least=True)

    def greatest(self, quantity: Quantity, region: Within, gap: int = 0) -> Answer:
        """Bound the greatest of a sum within a region from above; see `least`."""
        return self._ask(quantity, region, gap, least=False)

    def _ask(self, quantity: Quantity, region: Within, gap: int, *, least: bool) -> Answer:
        gap = 0 if self.exact else gap
        if not quantity.weights and quantity is not NOTHING:
            any_build = self._ask(NOTHING, region, 0, least=least)
            return None if any_build is None else (quantity.constant, any_build[1])
        within = {**region, **{group: frozenset({o}) for group, o in self.picks.items()}}
        if any(not within[group] <= options for group, options in region.items()):
            return None
        known = self.known.find(quantity, within, gap, least=least, is_whole=not region)
        if known is not None:
            return known[0]
        found = self.engine.reach(quantity, self.picks, region, greatest=not least, gap=gap)
        answer = None if found is None else (found.bound, found.build)
        self.known.keep(quantity, within, gap, answer, least=least)
        return answer


def sum_extremes(asking: Asking, quantity: Quantity, gap: int = 0) -> tuple[int, int] | None:
    """Bound the least and greatest of a sum; None when no build is possible.

    No build lies outside; the bounds are attained, or where that takes long missed by less than
    the gap.
    """
    low, high = asking.least(quantity, {}, gap), asking.greatest(quantity, {}, gap)
    return None if low is None or high is None else (low[0], high[0])


def share_extremes(
    asking: Asking, part: Quantity, whole: Quantity, gap: Fraction = Fraction(0)
) -> tuple[Fraction, Fraction] | None:
    """Bound the least and greatest ratio of two positive sums.

    No build lies outside; the bounds are attained, or where that takes long missed by less than
    the gap.

    Source
    ------
    Dinkelbach 1967, On nonlinear fractional programming: at the best ratio r the best of
    part - r whole is zero.
    """
    lightest = asking.least(whole, {}, int(gap))
    if lightest is None:
        return None

    def best(*, least: bool) -> Fraction:
        ratio = _ratio(part, whole, lightest[1])
        while True:
            gain, shared = _gain(part, whole, ratio)
            ask = asking.least if least else asking.greatest
            found = ask(gain, {}, int(gap * lightest[0] * ratio.denominator / shared))
            if found is None:
                return ratio
            better = _ratio(part, whole, found[1])
            if better == ratio or (better > ratio) == least:
                beyond = found[0] * shared + _constant_of_gain(part, whole, ratio)
                return ratio + Fraction(beyond, ratio.denominator * lightest[0])
            ratio = better

    return best(least=True), best(least=False)


def _ratio(part: Quantity, whole: Quantity, build: Mapping[str, str]) -> Fraction:
    return Fraction(part.of(build), whole.of(build))


def _constant_of_gain(part: Quantity, whole: Quantity, ratio: Fraction) -> int:
    return ratio.denominator * part.constant - ratio.numerator * whole.constant


def _gain(part: Quantity, whole: Quantity, ratio: Fraction) -> tuple[Quantity, int]:
    """Write part - ratio whole without its constant in small whole numbers, and their factor."""
    p, q = ratio.numerator, ratio.denominator
    pairs = part.weights.keys() | whole.weights.keys()
    weights = {
        pair: q * part.weights.get(pair, 0) - p * whole.weights.get(pair, 0) for pair in pairs
    }
    # Large numbers leave less room for what the engine makes of them.
    shared = math.gcd(*weights.values()) or 1
    return Quantity(0, {pair: weight // shared for pair, weight in weights.items()}), shared
