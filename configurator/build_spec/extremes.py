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

    def least(self, quantity: Quantity, region: Within) -> Answer:
        """Find the least of a sum within a region, with a build that has it."""
        return self._ask(quantity, region, least=True)

    def greatest(self, quantity: Quantity, region: Within) -> Answer:
        """Find the greatest of a sum within a region, with a build that has it."""
        return self._ask(quantity, region, least=False)

    def _ask(self, quantity: Quantity, region: Within, *, least: bool) -> Answer:
        if not quantity.weights and quantity is not NOTHING:
            any_build = self._ask(NOTHING, region, least=least)
            return None if any_build is None else (quantity.constant, any_build[1])
        within = {**region, **{group: frozenset({o}) for group, o in self.picks.items()}}
        if any(not within[group] <= options for group, options in region.items()):
            return None
        known = self.known.find(quantity, within, least=least)
        if known is not None:
            return known[0]
        answer = self.engine.extreme(quantity, self.picks, region, greatest=not least)
        self.known.keep(quantity, within, answer, least=least)
        return answer


def sum_extremes(asking: Asking, quantity: Quantity) -> tuple[int, int] | None:
    """Find the least and greatest of a sum; None when no build is possible."""
    low, high = asking.least(quantity, {}), asking.greatest(quantity, {})
    return None if low is None or high is None else (low[0], high[0])


def share_extremes(
    asking: Asking, part: Quantity, whole: Quantity
) -> tuple[Fraction, Fraction] | None:
    """Find the least and greatest ratio of two positive sums.

    Source
    ------
    Dinkelbach 1967, On nonlinear fractional programming: at the best ratio r the best of
    part - r whole is zero.
    """
    start = asking.least(NOTHING, {})
    if start is None:
        return None

    def best(*, least: bool) -> Fraction:
        build = start[1]
        ratio = Fraction(part.of(build), whole.of(build))
        while True:
            gain = _gain(part, whole, ratio)
            found = asking.least(gain, {}) if least else asking.greatest(gain, {})
            better = ratio if found is None else Fraction(part.of(found[1]), whole.of(found[1]))
            if better == ratio:
                return ratio
            ratio = better

    return best(least=True), best(least=False)


def _gain(part: Quantity, whole: Quantity, ratio: Fraction) -> Quantity:
    """Write part - ratio whole without its constant, in the smallest whole numbers."""
    p, q = ratio.numerator, ratio.denominator
    pairs = part.weights.keys() | whole.weights.keys()
    weights = {
        pair: q * part.weights.get(pair, 0) - p * whole.weights.get(pair, 0) for pair in pairs
    }
    # The solver takes far longer over large numbers.
    shared = math.gcd(*weights.values()) or 1
    return Quantity(0, {pair: weight // shared for pair, weight in weights.items()})
