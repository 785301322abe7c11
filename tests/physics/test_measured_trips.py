"""Learning from measured trips, against a plain integral over all factors."""

from __future__ import annotations

import math

import numpy as np
import pytest

from configurator.errors import MeasurementError
from configurator.physics.measured_trips import consumption_factor


# Source: Bayes' rule, integrated on a grid.
@pytest.mark.parametrize("ratios", [[], [1.2], [0.9, 1.1, 1.15], [1.3] * 12])
def test_the_factor_is_what_the_integral_over_all_factors_gives(ratios: list[float]) -> None:
    grid = np.linspace(-0.8, 0.8, 40_001)
    log_density = -(grid**2) / (2 * 0.07**2)
    for ratio in ratios:
        log_density -= (math.log(ratio) - grid) ** 2 / (2 * 0.09**2)
    density = np.exp(log_density - log_density.max())
    mean = float((grid * density).sum() / density.sum())
    sigma = math.sqrt(float(((grid - mean) ** 2 * density).sum() / density.sum()))
    found = consumption_factor(ratios, prior_sigma=0.07, trip_sigma=0.09)
    assert (math.exp(mean), sigma) == pytest.approx((found.factor, found.sigma), rel=1e-6)


def test_a_computed_consumption_beyond_doubt_is_not_moved() -> None:
    found = consumption_factor([1.5, 1.6], prior_sigma=0.0)
    assert (1.0, 0.0) == (found.factor, found.sigma)


@pytest.mark.parametrize("ratio", [0.0, -1.0, float("nan"), float("inf")])
def test_an_impossible_trip_is_refused(ratio: float) -> None:
    with pytest.raises(MeasurementError):
        consumption_factor([1.0, ratio], prior_sigma=0.1)


def test_a_trip_that_cannot_be_is_named_by_its_number_from_one() -> None:
    with pytest.raises(MeasurementError, match="trip 2 is -1"):
        consumption_factor([1.1, -1.0], prior_sigma=0.08)
