"""How fast a pack is charged and for how long."""

from __future__ import annotations

import math

from configurator.errors import Fault, MeasurementError
from configurator.physics.control_pilot import pilot_current_a, pilot_duty_percent
from configurator.physics.measurement import EFFICIENCY, PERCENT, PHASES, POSITIVE, require

__all__ = [
    "ac_power_kw",
    "charging_hours",
    "dc_power_kw",
    "pilot_current_a",
    "pilot_duty_percent",
]

_W_PER_KW = 1000.0


def ac_power_kw(
    *,
    source_voltage_v: float,
    source_current_a: float,
    source_phases: int,
    source_max_power_kw: float,
    charger_power_kw: float,
    charger_phases: int,
    charger_max_current_a: float,
    charger_efficiency: float,
    pack_peak_charge_kw: float,
) -> float:
    """Find the power into the pack from an alternating-current source.

    A three-phase charger on one phase gives a third of its power; a single-phase charger on
    three phases uses one of them.

    Parameters
    ----------
    source_voltage_v : float
        Voltage of the source between a phase and neutral [V], > 0.
    source_current_a : float
        Current the source offers in each phase [A], > 0.
    source_phases : int
        Phases of the source, 1 or 3.
    source_max_power_kw : float
        Greatest power of the source in all [kW], > 0.
    charger_power_kw : float
        Greatest power the charger takes on all its phases [kW], > 0.
    charger_phases : int
        Phases of the charger, 1 or 3.
    charger_max_current_a : float
        Greatest current of the charger in each phase [A], > 0.
    charger_efficiency : float
        Power into the pack by power taken, > 0, at most 1.
    pack_peak_charge_kw : float
        Greatest power the pack takes [kW], > 0.

    Returns
    -------
    float
        Power into the pack [kW].

    Raises
    ------
    MeasurementError
        If a value is impossible.

    Source
    ------
    First principles at unity power factor: power = voltage x current x phases.

    Examples
    --------
    >>> round(ac_power_kw(source_voltage_v=230.0, source_current_a=32.0, source_phases=1,
    ...     source_max_power_kw=7.4, charger_power_kw=6.6, charger_phases=1,
    ...     charger_max_current_a=32.0, charger_efficiency=0.92, pack_peak_charge_kw=40.0), 3)
    6.072
    """
    require(
        "AC charging",
        {
            "source_voltage_v": (source_voltage_v, POSITIVE),
            "source_current_a": (source_current_a, POSITIVE),
            "source_phases": (source_phases, PHASES),
            "source_max_power_kw": (source_max_power_kw, POSITIVE),
            "charger_power_kw": (charger_power_kw, POSITIVE),
            "charger_phases": (charger_phases, PHASES),
            "charger_max_current_a": (charger_max_current_a, POSITIVE),
            "charger_efficiency": (charger_efficiency, EFFICIENCY),
            "pack_peak_charge_kw": (pack_peak_charge_kw, POSITIVE),
        },
    )
    phases = min(source_phases, charger_phases)
    current_a = min(source_current_a, charger_max_current_a)
    taken_kw = min(
        source_voltage_v * current_a * phases / _W_PER_KW,
        source_max_power_kw,
        charger_power_kw * phases / charger_phases,
    )
    return min(taken_kw * charger_efficiency, pack_peak_charge_kw)


def dc_power_kw(
    *,
    source_max_power_kw: float,
    source_current_a: float,
    inlet_max_power_kw: float,
    inlet_max_current_a: float,
    pack_nominal_voltage_v: float,
    pack_peak_charge_kw: float,
) -> float:
    """Find the power into the pack from a direct-current source.

    Parameters
    ----------
    source_max_power_kw : float
        Greatest power of the source [kW], > 0.
    source_current_a : float
        Greatest current of the source [A], > 0.
    inlet_max_power_kw : float
        Greatest power of the inlet [kW], > 0.
    inlet_max_current_a : float
        Greatest current of the inlet [A], > 0.
    pack_nominal_voltage_v : float
        Nominal voltage of the pack [V], > 0.
    pack_peak_charge_kw : float
        Greatest power the pack takes [kW], > 0.

    Returns
    -------
    float
        Power into the pack [kW], before any taper. Whether the source reaches the pack's
        voltage at all is a question for the electrical checks, not answered here.

    Raises
    ------
    MeasurementError
        If a value is impossible.

    Source
    ------
    First principles: the least of source, inlet and pack; current limits at nominal voltage.

    Examples
    --------
    >>> dc_power_kw(source_max_power_kw=50.0, source_current_a=125.0, inlet_max_power_kw=60.0,
    ...     inlet_max_current_a=150.0, pack_nominal_voltage_v=320.0, pack_peak_charge_kw=45.0)
    40.0
    """
    require(
        "DC charging",
        {
            "source_max_power_kw": (source_max_power_kw, POSITIVE),
            "source_current_a": (source_current_a, POSITIVE),
            "inlet_max_power_kw": (inlet_max_power_kw, POSITIVE),
            "inlet_max_current_a": (inlet_max_current_a, POSITIVE),
            "pack_nominal_voltage_v": (pack_nominal_voltage_v, POSITIVE),
            "pack_peak_charge_kw": (pack_peak_charge_kw, POSITIVE),
        },
    )
    current_a = min(source_current_a, inlet_max_current_a)
    return min(
        source_max_power_kw,
        inlet_max_power_kw,
        pack_peak_charge_kw,
        current_a * pack_nominal_voltage_v / _W_PER_KW,
    )


def charging_hours(
    *,
    usable_energy_kwh: float,
    from_percent: float,
    to_percent: float,
    power_kw: float,
    taper_from_percent: float,
    end_power_share: float,
) -> float:
    """Compute the charging time with a power that falls steadily near the end.

    The power is full up to `taper_from_percent` of charge, then falls linearly with the charge
    to `end_power_share` of itself at 100 %.

    Parameters
    ----------
    usable_energy_kwh : float
        Usable energy of the pack [kWh], > 0.
    from_percent, to_percent : float
        Charge at the start and at the end [%], 0 to 100, rising.
    power_kw : float
        Power into the pack before the taper [kW], > 0.
    taper_from_percent : float
        Charge from which the power falls [%], 0 to 100; 100 for no taper.
    end_power_share : float
        Share of the power left at 100 % of charge, > 0, at most 1.

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
    Integral of energy over power, t = E (s_t - s_0) / P + E (1 - s_t) / (P - P_e) ln(P / P(s_1)).

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
        },
    )
    if to_percent <= from_percent:
        what = f"charging goes from {from_percent} to {to_percent} %; it must rise"
        raise MeasurementError([Fault("M012", "charging time", what, "Give a higher end.")])
    start, end = from_percent / 100, to_percent / 100
    taper = min(max(taper_from_percent / 100, start), end)
    full_power_hours = usable_energy_kwh * (taper - start) / power_kw
    if taper == end:
        return full_power_hours
    tail_hours = _taper_hours_at_unit_power(taper, end, taper_from_percent / 100, end_power_share)
    return full_power_hours + usable_energy_kwh / power_kw * tail_hours


def _taper_hours_at_unit_power(
    start: float, end: float, taper: float, end_power_share: float
) -> float:
    fall = 1 - end_power_share
    power_at_start = 1 - fall * (start - taper) / (1 - taper)
    lost = fall * (end - start) / (1 - taper) / power_at_start
    # log1p keeps its digits when the power hardly falls, where the plain formula is 0 / 0.
    shape = -math.log1p(-lost) / lost if lost > 0 else 1.0
    return (end - start) / power_at_start * shape
