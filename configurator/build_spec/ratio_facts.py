"""Facts that are ratios of two sums over the choices: the centre of gravity, and what it causes.

Each is kept in whole numbers and fractions, so that its ends and its limits are exact.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from fractions import Fraction

from configurator.build_spec.sums import MassSums
from configurator.catalog.models.rule import FactName
from configurator.rules.problem import Quantity

BRAKING_G = Fraction(4, 5)
"""Deceleration [g] for which the rear axle's share of braking is told: the hardest for which UN
Regulation No. 13-H, Annex 5, asks that the front wheels lock first; from memory."""

GAP_MM = Fraction(1, 4)
"""By how little the centre of gravity may be missed where finding it takes long; a hundredth of a
point of the axle share."""


@dataclass(frozen=True)
class RatioFact:
    """A fact that rises, or falls, with the ratio of two sums."""

    name: FactName
    part: Quantity
    whole: Quantity
    """Above zero for every build."""
    value_of: Callable[[Fraction], Fraction]
    ratio_of: Callable[[Fraction], Fraction]
    """The other way round."""
    gap: Fraction
    """By how little an end of the ratio may be missed where finding it takes long."""
    rises: bool = True

    def value(self, ratio: Fraction) -> float:
        """Turn the ratio into the fact."""
        return float(self.value_of(ratio))

    def of(self, choices: Mapping[str, str]) -> float:
        """Compute the fact of complete choices."""
        return self.value(Fraction(self.part.of(choices), self.whole.of(choices)))

    def beyond(self, ratio: Fraction) -> Quantity:
        """Write by how much the part exceeds a ratio of the whole, in whole numbers."""

        def excess(part: int, whole: int) -> int:
            return ratio.denominator * part - ratio.numerator * whole

        pairs = self.part.weights.keys() | self.whole.weights.keys()
        return Quantity(
            excess(self.part.constant, self.whole.constant),
            {
                pair: excess(self.part.weights.get(pair, 0), self.whole.weights.get(pair, 0))
                for pair in pairs
            },
        )


def ratio_facts(masses: MassSums) -> tuple[RatioFact, ...]:
    """List the facts about the centre of gravity.

    Source
    ------
    Static equilibrium; track / (2 height) for the threshold of tipping over: static stability
    factor, 49 CFR Part 575.
    """
    return (
        _rear_share_change(masses),
        RatioFact(
            "centre_of_gravity_height_m",
            masses.kerb_height_moment,
            masses.kerb_g,
            lambda ratio: ratio / 1000,
            lambda metres: metres * 1000,
            GAP_MM,
        ),
        RatioFact(
            "left_share_percent",
            masses.kerb_left_moment,
            masses.kerb_g,
            lambda ratio: 100 * ratio / (2 * masses.track_mm),
            lambda percent: percent * 2 * masses.track_mm / 100,
            GAP_MM,
        ),
        _rollover(masses),
        _rear_braking(masses),
    )


def _rear_share_change(masses: MassSums) -> RatioFact:
    wheelbase_mm, donor = masses.wheelbase_mm, masses.donor_rear_share
    return RatioFact(
        "rear_share_change_points",
        masses.kerb_rear_moment,
        masses.kerb_g,
        lambda ratio: 100 * (ratio / wheelbase_mm - donor),
        lambda points: (donor + points / 100) * wheelbase_mm,
        GAP_MM,
    )


def _rollover(masses: MassSums) -> RatioFact:
    half_track_mm = Fraction(masses.track_mm, 2)
    return RatioFact(
        "rollover_threshold_g",
        masses.laden_height_moment,
        masses.laden_g,
        lambda height_mm: half_track_mm / height_mm,
        lambda threshold: half_track_mm / threshold,
        GAP_MM,
        rises=False,
    )


def _rear_braking(masses: MassSums) -> RatioFact:
    """Take from the rear axle what braking moves to the front; lightly laden it carries least."""
    moment, height = masses.with_driver_rear_moment, masses.with_driver_height_moment
    over, under = BRAKING_G.numerator, BRAKING_G.denominator
    pairs = moment.weights.keys() | height.weights.keys()
    braked = Quantity(
        under * moment.constant - over * height.constant,
        {
            pair: under * moment.weights.get(pair, 0) - over * height.weights.get(pair, 0)
            for pair in pairs
        },
    )
    scale = under * masses.wheelbase_mm
    return RatioFact(
        "rear_braking_share_percent",
        braked,
        masses.with_driver_g,
        lambda ratio: 100 * ratio / scale,
        lambda percent: percent * scale / 100,
        GAP_MM * under,
    )
