"""How long a drive bears more than its continuous power."""

from __future__ import annotations

from configurator.physics.measurement import POSITIVE, require


def seconds_of_overload(
    *, power_kw: float, continuous_power_kw: float, peak_power_kw: float, peak_seconds: float
) -> float | None:
    """Estimate how long a drive that is warm from its continuous power bears a greater one.

    Parameters
    ----------
    power_kw : float
        Power asked for [kW], > 0.
    continuous_power_kw, peak_power_kw : float
        Power for long, and at most [kW], > 0.
    peak_seconds : float
        How long the drive, warm from its continuous power, bears its greatest [s], > 0.

    Returns
    -------
    float or None
        Time [s]; 0 where the power is beyond its greatest; None where it bears it for ever.

    Raises
    ------
    MeasurementError
        If a value is impossible.

    Source
    ------
    Losses in the windings grow with the square of the current, taken as that of the power; what
    exceeds the continuous loss is stored as heat. Common practice, no source.

    Examples
    --------
    >>> seconds_of_overload(power_kw=30.0, continuous_power_kw=24.0, peak_power_kw=60.0,
    ...     peak_seconds=60.0)
    560.0
    """
    require(
        "overload",
        {
            "power_kw": (power_kw, POSITIVE),
            "continuous_power_kw": (continuous_power_kw, POSITIVE),
            "peak_power_kw": (peak_power_kw, POSITIVE),
            "peak_seconds": (peak_seconds, POSITIVE),
        },
    )
    if power_kw <= continuous_power_kw:
        return None
    if power_kw > peak_power_kw:
        return 0.0
    stored = peak_seconds * (peak_power_kw**2 - continuous_power_kw**2)
    return stored / (power_kw**2 - continuous_power_kw**2)
