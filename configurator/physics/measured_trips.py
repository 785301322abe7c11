"""What measured trips say about a computed consumption."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from configurator.physics.measurement import NOT_NEGATIVE, POSITIVE, require

TRIP_SIGMA = 0.08
"""How far one trip strays from its driving case: wind, traffic, the driver. As a standard deviation
of the logarithm; common practice, no source."""


@dataclass(frozen=True)
class ConsumptionFactor:
    """By what to multiply the computed consumption, and the doubt of its logarithm after that."""

    factor: float
    sigma: float


def consumption_factor(
    measured_by_computed: Sequence[float], *, prior_sigma: float, trip_sigma: float = TRIP_SIGMA
) -> ConsumptionFactor:
    """Learn from measured trips by how much the computed consumption is off.

    Parameters
    ----------
    measured_by_computed : sequence of float, shape (n,)
        Energy for each kilometre measured by that computed, each > 0; none for no trips.
    prior_sigma : float
        Doubt about the computed one, of its logarithm, >= 0.
    trip_sigma : float
        How far a trip strays, of its logarithm, > 0.

    Returns
    -------
    ConsumptionFactor
        With the doubt that is left, never more than before.

    Raises
    ------
    MeasurementError
        If a value is impossible.

    Source
    ------
    Normal law with known variance, its mean normal too (conjugate): precisions add.

    Examples
    --------
    >>> found = consumption_factor([1.10, 1.06], prior_sigma=0.08)
    >>> round(found.factor, 3), round(found.sigma, 3)
    (1.053, 0.046)
    """
    trips = {
        f"trip {number}": (each, POSITIVE) for number, each in enumerate(measured_by_computed, 1)
    }
    doubts = {"prior_sigma": (prior_sigma, NOT_NEGATIVE), "trip_sigma": (trip_sigma, POSITIVE)}
    require("measured trips", {**trips, **doubts})
    logs = math.fsum(math.log(each) for each in measured_by_computed)
    weight = prior_sigma**2 / trip_sigma**2
    # Written by shares, so that a doubt of nothing stays nothing.
    shrink = 1 + len(measured_by_computed) * weight
    return ConsumptionFactor(math.exp(weight * logs / shrink), prior_sigma / math.sqrt(shrink))
