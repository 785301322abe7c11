"""How long a battery is charged, by a power that its voltage and its charge change."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise

import numpy as np

from configurator.errors import Fault, MeasurementError
from configurator.physics.measurement import EFFICIENCY, NOT_NEGATIVE, PERCENT, POSITIVE, require

PackVoltages = tuple[float, float, float]
"""Of the empty, half full and full battery, rising [V]."""

_W_PER_KW = 1000.0
_CHARGES = (0.0, 0.5, 1.0)


def voltage_at_charge(charge: float, voltages_v: PackVoltages) -> float:
    """Estimate a battery's voltage from its charge.

    Parameters
    ----------
    charge : float
        Share of the usable energy, 0 to 1.
    voltages_v : PackVoltages
        Of the empty, half full and full battery [V].

    Returns
    -------
    float
        Voltage [V]. Under the charging current it is a little higher, so that a power limited by
        current is told on the safe side.

    Source
    ------
    Straight lines between the voltages stated; common practice, no source.

    Examples
    --------
    >>> voltage_at_charge(0.75, (300.0, 360.0, 400.0))
    380.0
    """
    return float(np.interp(charge, _CHARGES, voltages_v))


def charging_hours(
    *,
    usable_energy_kwh: float,
    from_percent: float,
    to_percent: float,
    power_kw: float,
    taper_from_percent: float,
    end_power_share: float,
    current_a: float | None = None,
    voltages_v: PackVoltages | None = None,
) -> float:
    """Compute the charging time with a power that falls steadily near the end.

    The power is full up to `taper_from_percent` of charge, then falls linearly with the charge
    to `end_power_share` of itself at 100 %. Where a direct current limits it, the full power rises
    with the battery's voltage.

    Parameters
    ----------
    usable_energy_kwh : float
        Usable energy of the pack [kWh], > 0.
    from_percent, to_percent : float
        Charge at the start and at the end [%], 0 to 100, rising.
    power_kw : float
        Greatest power into the pack before the taper [kW], > 0.
    taper_from_percent : float
        Charge from which the power falls [%], 0 to 100; 100 for no taper.
    end_power_share : float
        Share of the power left at 100 % of charge, > 0, at most 1.
    current_a : float, optional
        Greatest direct current into the pack [A], > 0; none where only power limits.
    voltages_v : PackVoltages, optional
        Voltages of the pack [V], where a current limits.

    Returns
    -------
    float
        Charging time [h].

    Raises
    ------
    MeasurementError
        If a value is impossible or charging would not raise the charge.

    Source
    ------
    Integral of energy over power. Between corners full power q and taper share p are linear in the
    charge s, and the integral of ds / (p q) from s0 to s1 is (s1 - s0) over the logarithmic mean of
    p1 q0 and p0 q1. With a constant power that is t = E (s_t - s_0) / P + E (1 - s_t) / (P - P_e)
    ln(P / P(s_1)).

    Examples
    --------
    >>> round(charging_hours(usable_energy_kwh=40.0, from_percent=10.0, to_percent=95.0,
    ...     power_kw=40.0, taper_from_percent=80.0, end_power_share=0.15), 4)
    0.9388
    """
    require(
        "charging time",
        {
            "usable_energy_kwh": (usable_energy_kwh, POSITIVE),
            "from_percent": (from_percent, PERCENT),
            "to_percent": (to_percent, PERCENT),
            "power_kw": (power_kw, POSITIVE),
            "taper_from_percent": (taper_from_percent, PERCENT),
            "end_power_share": (end_power_share, EFFICIENCY),
            **({} if current_a is None else {"current_a": (current_a, POSITIVE)}),
            **{f"voltages_v[{n}]": (v, POSITIVE) for n, v in enumerate(voltages_v or ())},
        },
    )
    if to_percent <= from_percent:
        what = f"charging goes from {from_percent} to {to_percent} %; it must rise"
        raise MeasurementError([Fault("M012", "charging time", what, "Give a higher end.")])
    start, end, taper = from_percent / 100, to_percent / 100, taper_from_percent / 100

    def full_kw(charge: float) -> float:
        if current_a is None or voltages_v is None:
            return power_kw
        return min(power_kw, current_a * voltage_at_charge(charge, voltages_v) / _W_PER_KW)

    def share(charge: float) -> float:
        fallen = (charge - taper) / (1 - taper) if charge > taper else 0.0
        return 1 - fallen * (1 - end_power_share)

    corners = sorted(
        {start, end}
        | {
            corner
            for corner in (taper, *_voltage_corners(power_kw, current_a, voltages_v))
            if start < corner < end
        }
    )
    return sum(
        usable_energy_kwh
        * (high - low)
        / _logarithmic_mean(share(high) * full_kw(low), share(low) * full_kw(high))
        for low, high in pairwise(corners)
    )


def stored_power_kw(*, power_kw: float, resistance_ohm: float, voltage_v: float) -> float:
    """Find what of a power at a battery's terminals reaches its cells.

    Parameters
    ----------
    power_kw : float
        Power at the terminals [kW], >= 0.
    resistance_ohm : float
        Inner resistance of the battery [ohm], >= 0.
    voltage_v : float
        Of the battery without a current [V], > 0.

    Returns
    -------
    float
        Power stored [kW]; the rest heats the battery.

    Raises
    ------
    MeasurementError
        If a value is impossible.

    Source
    ------
    First principles: P = I (V + I R), solved for the current; what is stored is V I.

    Examples
    --------
    >>> round(stored_power_kw(power_kw=50.0, resistance_ohm=0.16, voltage_v=380.0), 3)
    47.5
    """
    require(
        "charging power",
        {
            "power_kw": (power_kw, NOT_NEGATIVE),
            "resistance_ohm": (resistance_ohm, NOT_NEGATIVE),
            "voltage_v": (voltage_v, POSITIVE),
        },
    )
    root = math.sqrt(1 + 4 * resistance_ohm * power_kw * _W_PER_KW / voltage_v**2)
    return 2 * power_kw / (1 + root)


def _voltage_corners(
    power_kw: float, current_a: float | None, voltages_v: PackVoltages | None
) -> Iterator[float]:
    """Yield the charges where the full power stops being one straight line."""
    if current_a is None or voltages_v is None:
        return
    yield _CHARGES[1]
    reached_v = power_kw * _W_PER_KW / current_a
    if voltages_v[0] < reached_v < voltages_v[2]:
        yield float(np.interp(reached_v, voltages_v, _CHARGES))


def _logarithmic_mean(first: float, second: float) -> float:
    low, high = sorted((first, second))
    lost = (high - low) / high
    # log1p keeps its digits when the power hardly changes, where the plain formula is 0 / 0.
    return high * lost / -math.log1p(-lost) if lost > 0 else high


def energy_from_mains_kwh(
    *,
    stored_kwh: float,
    hours: float,
    charger_efficiency: float,
    pack_resistance_ohm: float,
    pack_voltage_v: float,
) -> float:
    """Compute what the meter counts while a battery is charged.

    Parameters
    ----------
    stored_kwh : float
        Energy that stays in the cells [kWh], > 0.
    hours : float
        Charging time [h], > 0.
    charger_efficiency : float
        Of the charger, > 0, at most 1; 1 where the meter counts direct current.
    pack_resistance_ohm : float
        Inner resistance of the pack [ohm], >= 0.
    pack_voltage_v : float
        Nominal voltage of the pack [V], > 0.

    Returns
    -------
    float
        Energy [kWh]. The loss in the pack is counted at the mean current, a little less than it is
        with a taper; what pumps and control units take meanwhile isn't counted.

    Raises
    ------
    MeasurementError
        If a value is impossible.

    Source
    ------
    First principles: stored energy and I² R t, over the charger's efficiency.

    Examples
    --------
    >>> round(energy_from_mains_kwh(stored_kwh=36.0, hours=6.0, charger_efficiency=0.9,
    ...     pack_resistance_ohm=0.1, pack_voltage_v=300.0), 2)
    40.27
    """
    require(
        "energy from the mains",
        {
            "stored_kwh": (stored_kwh, POSITIVE),
            "hours": (hours, POSITIVE),
            "charger_efficiency": (charger_efficiency, EFFICIENCY),
            "pack_resistance_ohm": (pack_resistance_ohm, NOT_NEGATIVE),
            "pack_voltage_v": (pack_voltage_v, POSITIVE),
        },
    )
    current_a = stored_kwh * _W_PER_KW / hours / pack_voltage_v
    lost_kwh = current_a**2 * pack_resistance_ohm * hours / _W_PER_KW
    return (stored_kwh + lost_kwh) / charger_efficiency
