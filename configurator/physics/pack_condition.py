"""What temperature and age leave of a battery pack."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from configurator.physics.measurement import NOT_NEGATIVE, POSITIVE, TEMPERATURE, require

Curve = Mapping[int, float]
"""Cell temperature [°C] → per cent of the value at 20 °C; linear in between, flat outside."""

CAPACITY_PERCENT: dict[str, Curve] = {
    "NMC": {-20: 76, -10: 87, 0: 94, 10: 98, 20: 100},
    "LFP": {-20: 62, -10: 79, 0: 90, 10: 96, 20: 100},
}
RESISTANCE_PERCENT: dict[str, Curve] = {
    "NMC": {-20: 330, -10: 220, 0: 160, 10: 125, 20: 100},
    "LFP": {-20: 420, -10: 280, 0: 190, 10: 135, 20: 100},
}
"""By chemistry, for packs whose own curve nobody has stated. Source: from memory, wide."""

DOUBT_OF_COLD = {"catalog": 0.15, "guessed": 0.35}
"""Standard deviation of what cold or warmth changes, as a share of the change, by how the curve is
known. Source: common practice, no source."""


@dataclass(frozen=True)
class PackCondition:
    """A pack at some temperature and age, against the new pack at 20 °C."""

    capacity_percent: float
    capacity_sigma_percent: float
    """Standard deviation of the capacity that is left, of age and temperature alone [% of it]."""
    resistance_percent: float


def pack_condition(
    *,
    temperature_c: float,
    capacity_at: Curve,
    resistance_at: Curve,
    chemistry: str,
    aged_capacity_percent: float = 100.0,
    aged_capacity_sigma_percent: float = 0.0,
    aged_resistance_percent: float = 100.0,
) -> PackCondition:
    """Tell what temperature and age leave of a pack.

    Parameters
    ----------
    temperature_c : float
        Of the cells [°C].
    capacity_at, resistance_at : mapping
        The pack's own curves; empty for those of its chemistry.
    chemistry : str
        A key of `CAPACITY_PERCENT`.
    aged_capacity_percent, aged_capacity_sigma_percent : float
        Capacity left by age [% of new] with its standard deviation [% of what is left].
    aged_resistance_percent : float
        Resistance by age [% of new].

    Returns
    -------
    PackCondition
        Both effects multiplied.

    Raises
    ------
    MeasurementError
        If a value is impossible.

    Source
    ------
    Temperature and age taken as independent; common practice, no source.

    Examples
    --------
    >>> cold = pack_condition(temperature_c=-5.0, capacity_at={-10: 85, 20: 100},
    ...     resistance_at={}, chemistry="LFP")
    >>> cold.capacity_percent, cold.resistance_percent
    (87.5, 235.0)
    """
    require(
        "pack",
        {
            "temperature_c": (temperature_c, TEMPERATURE),
            "aged_capacity_percent": (aged_capacity_percent, POSITIVE),
            "aged_capacity_sigma_percent": (aged_capacity_sigma_percent, NOT_NEGATIVE),
            "aged_resistance_percent": (aged_resistance_percent, POSITIVE),
        },
    )
    by_cold = percent_at(capacity_at or CAPACITY_PERCENT[chemistry], temperature_c)
    doubt = DOUBT_OF_COLD["catalog" if capacity_at else "guessed"]
    cold_sigma_percent = doubt * abs(100 - by_cold) / by_cold * 100
    resistance = percent_at(resistance_at or RESISTANCE_PERCENT[chemistry], temperature_c)
    return PackCondition(
        capacity_percent=by_cold * aged_capacity_percent / 100,
        capacity_sigma_percent=math.hypot(cold_sigma_percent, aged_capacity_sigma_percent),
        resistance_percent=resistance * aged_resistance_percent / 100,
    )


def percent_at(curve: Curve, temperature_c: float) -> float:
    """Read a curve at a temperature.

    Examples
    --------
    >>> percent_at({-10: 80, 0: 90}, -4.0)
    86.0
    """
    points: Sequence[tuple[int, float]] = sorted(curve.items())
    return float(np.interp(temperature_c, [t for t, _ in points], [p for _, p in points]))
