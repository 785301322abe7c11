"""Learning from measured trips, against a plain integral over all factors."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from configurator.errors import MeasurementError
from configurator.physics.measured_trips import (
    ConsumptionFactor,
    consumption_factor,
    factor_elsewhere,
)


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


# Source: two normal errors that go together, the one conditioned on trips in the other's case.
@pytest.mark.parametrize(("prior", "unlike"), [(0.08, 0.05), (0.2, 0.01), (0.06, 0.059)])
def test_elsewhere_trips_say_what_the_errors_have_in_common(prior: float, unlike: float) -> None:
    ratios, trip = [1.2, 1.12, 1.16], 0.09
    together = np.array([[prior**2, prior**2 - unlike**2], [prior**2 - unlike**2, prior**2]])
    gain = together[:, 0] / (prior**2 + trip**2 / len(ratios))
    mean = gain * np.mean(np.log(ratios))
    covariance = together - np.outer(gain, together[0])
    found = consumption_factor(ratios, prior_sigma=prior, trip_sigma=trip)
    there = factor_elsewhere(found, prior_sigma=prior, unlike_sigma=unlike)
    expected = (math.exp(mean[1]), math.sqrt(covariance[1, 1]))
    assert expected == pytest.approx((there.factor, there.sigma), rel=1e-9)


@given(
    factor=st.floats(0.25, 4.0),
    prior=st.floats(0.0, 0.6),
    share=st.floats(0.0, 1.0),
    unlike=st.floats(0.001, 0.3),
)
def test_elsewhere_trips_never_say_more_than_in_their_own_cases(
    factor: float, prior: float, share: float, unlike: float
) -> None:
    found = ConsumptionFactor(factor, share * prior)
    there = factor_elsewhere(found, prior_sigma=prior, unlike_sigma=unlike)
    assert found.sigma - 1e-12 <= there.sigma <= prior
    assert abs(math.log(there.factor)) <= abs(math.log(factor)) + 1e-12


def test_trips_beyond_any_wind_or_driver_are_refused_all_together() -> None:
    with pytest.raises(MeasurementError) as refused:
        consumption_factor([1.0, 4.1, 3.9, 0.24], prior_sigma=0.1)
    said = [(fault.code, fault.where) for fault in refused.value.faults]
    assert [("M025", "trip 2"), ("M025", "trip 4")] == said


@pytest.mark.parametrize("ratio", [0.0, -1.0, float("nan"), float("inf")])
def test_an_impossible_trip_is_refused(ratio: float) -> None:
    with pytest.raises(MeasurementError):
        consumption_factor([1.0, ratio], prior_sigma=0.1)


def test_a_trip_that_cannot_be_is_named_by_its_number_from_one() -> None:
    with pytest.raises(MeasurementError, match="trip 2 is -1"):
        consumption_factor([1.1, -1.0], prior_sigma=0.08)
