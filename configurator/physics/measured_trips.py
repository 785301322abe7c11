"""What measured trips say about a computed consumption."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from configurator.errors import Fault, MeasurementError
from configurator.physics.measurement import NOT_NEGATIVE, POSITIVE, broken, require

TRIP_SIGMA = 0.08
"""How far one trip strays from its driving case: wind, traffic, the driver. As a standard deviation
of the logarithm; common practice, no source."""

FURTHEST = 4.0
"""A trip that took more than so many times what was computed, or less than that part of it, was
measured or computed wrongly: no wind or driver does that. From memory."""

UNLIKE_SIGMA = 0.05
"""How far the error of the computed consumption in one driving case, such as a winter or a motorway
one, strays from that in another. As a standard deviation of the logarithm; common practice, no
source."""


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
        If a value is impossible, or a trip is beyond `FURTHEST`; all faults together.

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
    impossible = broken("measured trips", {**trips, **doubts})
    if faults := impossible or _too_far(measured_by_computed):
        raise MeasurementError(faults)
    logs = math.fsum(math.log(each) for each in measured_by_computed)
    weight = prior_sigma**2 / trip_sigma**2
    # Written by shares, so that a doubt of nothing stays nothing.
    shrink = 1 + len(measured_by_computed) * weight
    return ConsumptionFactor(math.exp(weight * logs / shrink), prior_sigma / math.sqrt(shrink))


def _too_far(measured_by_computed: Sequence[float]) -> list[Fault]:
    remedy = "Check distance, energy and driving case of the trip, and what the catalog states."
    return [
        Fault(
            "M025",
            f"trip {number}",
            f"it took {ratio:.3g} times what was computed; no wind or driver does that",
            remedy,
        )
        for number, ratio in enumerate(measured_by_computed, 1)
        if not 1 / FURTHEST <= ratio <= FURTHEST
    ]


def factor_elsewhere(
    found: ConsumptionFactor, *, prior_sigma: float, unlike_sigma: float = UNLIKE_SIGMA
) -> ConsumptionFactor:
    """Carry what trips say over to driving cases unlike those that were driven.

    Parameters
    ----------
    found : ConsumptionFactor
        As the trips say it of their own cases; its doubt not above `prior_sigma`.
    prior_sigma : float
        Doubt about the computed consumption before, of its logarithm, >= 0.
    unlike_sigma : float
        Part of that doubt which each driving case has on its own, > 0.

    Returns
    -------
    ConsumptionFactor
        Nearer to 1, with more doubt left than `found`, and never more than before.

    Raises
    ------
    MeasurementError
        If a value is impossible.

    Source
    ------
    Two normal errors of one variance s² that share s² - u²: what is learnt of one moves the other
    by the share r = 1 - u²/s², and leaves the variance r² found² + (1 - r²) s².

    Examples
    --------
    >>> found = consumption_factor([1.10, 1.06, 1.09, 1.12], prior_sigma=0.08)
    >>> there = factor_elsewhere(found, prior_sigma=0.08)
    >>> round(found.factor, 3), round(there.factor, 3)
    (1.073, 1.044)
    >>> round(found.sigma, 3), round(there.sigma, 3)
    (0.036, 0.067)
    """
    learnt = {"factor": (found.factor, POSITIVE), "sigma": (found.sigma, NOT_NEGATIVE)}
    doubts = {"prior_sigma": (prior_sigma, NOT_NEGATIVE), "unlike_sigma": (unlike_sigma, POSITIVE)}
    require("measured trips", {**learnt, **doubts})
    if prior_sigma <= unlike_sigma:
        return ConsumptionFactor(1.0, prior_sigma)
    shared = 1 - (unlike_sigma / prior_sigma) ** 2
    sigma = math.hypot(shared * found.sigma, math.sqrt(1 - shared**2) * prior_sigma)
    return ConsumptionFactor(found.factor**shared, min(sigma, prior_sigma))
