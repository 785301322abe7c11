"""Sizing of the high-voltage set: cable, isolation, 12 V supply.

These figures prepare a design; a competent person designs and signs the installation.
"""

from __future__ import annotations

import math

from configurator.physics.measurement import EFFICIENCY, FINITE, NOT_NEGATIVE, POSITIVE, require

COPPER_RESISTIVITY_OHM_M = 1.72e-8
"""Of annealed copper at 20 °C [Ω m]. Source: IEC 60028, 1/58 Ω mm²/m."""

COPPER_GROWTH_PER_K = 0.00393
"""Growth of copper's resistance with temperature [1/K]. Source: IEC 60028."""

RATED_AT_C = 30.0
"""Ambient temperature at which tables state what a cable may carry [°C]."""

FUSE_SHARE = 1.25
"""A fuse is rated for this many times the continuous current. Source: common practice."""

DC_OHM_PER_V = 100.0
JOINED_OHM_PER_V = 500.0
"""Least isolation resistance for each volt of working voltage: of a circuit of direct voltage
alone, and of one joined to alternating voltage. Source: UN Regulation No. 100, 5.1.3."""


def derated_current_a(*, rated_a: float, max_conductor_c: float, ambient_c: float) -> float:
    """Find what a cable may carry where it is warmer than its table assumes.

    Parameters
    ----------
    rated_a : float
        What it may carry at an ambient of 30 °C [A], > 0.
    max_conductor_c : float
        Temperature that the conductor may reach [°C], above 30.
    ambient_c : float
        Temperature around the cable [°C].

    Returns
    -------
    float
        Current [A]; none where it is as warm around the cable as the conductor may be.

    Raises
    ------
    MeasurementError
        If a value is impossible.

    Source
    ------
    Heat grows with the square of the current and leaves with the difference of temperatures:
    √((Tmax - Ta) / (Tmax - 30)); as in IEC 60364-5-52, table B.52.14.

    Examples
    --------
    >>> round(derated_current_a(rated_a=200.0, max_conductor_c=90.0, ambient_c=60.0), 1)
    141.4
    """
    require(
        "cable",
        {
            "rated_a": (rated_a, POSITIVE),
            "max_conductor_c above 30": (max_conductor_c - RATED_AT_C, POSITIVE),
            "ambient_c": (ambient_c, FINITE),
        },
    )
    left = max(max_conductor_c - ambient_c, 0.0) / (max_conductor_c - RATED_AT_C)
    return rated_a * math.sqrt(left)


def cable_resistance_ohm(*, length_m: float, area_mm2: float, conductor_c: float = 20.0) -> float:
    """Find the resistance of a copper conductor.

    Parameters
    ----------
    length_m : float
        There and back [m], >= 0.
    area_mm2 : float
        Of the conductor [mm²], > 0.
    conductor_c : float
        Its temperature [°C].

    Returns
    -------
    float
        Resistance [Ω].

    Raises
    ------
    MeasurementError
        If a value is impossible.

    Source
    ------
    IEC 60028 for copper: 1.72e-8 Ω m at 20 °C, 0.393 % more for each kelvin.

    Examples
    --------
    >>> round(cable_resistance_ohm(length_m=12.0, area_mm2=4.0), 4)
    0.0516
    """
    require(
        "cable",
        {
            "length_m": (length_m, NOT_NEGATIVE),
            "area_mm2": (area_mm2, POSITIVE),
            "conductor_c": (conductor_c, FINITE),
        },
    )
    warmed = 1 + COPPER_GROWTH_PER_K * (conductor_c - 20.0)
    return COPPER_RESISTIVITY_OHM_M * warmed * length_m / (area_mm2 * 1e-6)


def least_isolation_ohm(*, working_voltage_v: float, ohm_per_v: float) -> float:
    """Find the least isolation resistance between a circuit and the chassis.

    Parameters
    ----------
    working_voltage_v : float
        Greatest voltage of the circuit in use [V], >= 0.
    ohm_per_v : float
        What is asked for each volt [Ω/V], > 0.

    Returns
    -------
    float
        Resistance [Ω].

    Raises
    ------
    MeasurementError
        If a value is impossible.

    Source
    ------
    UN Regulation No. 100, 5.1.3.

    Examples
    --------
    >>> least_isolation_ohm(working_voltage_v=400.0, ohm_per_v=JOINED_OHM_PER_V)
    200000.0
    """
    require(
        "isolation",
        {
            "working_voltage_v": (working_voltage_v, NOT_NEGATIVE),
            "ohm_per_v": (ohm_per_v, POSITIVE),
        },
    )
    return working_voltage_v * ohm_per_v


def converter_input_a(*, load_w: float, efficiency: float, voltage_v: float) -> float:
    """Find the current that the 12 V converter takes from the battery.

    Parameters
    ----------
    load_w : float
        All 12 V loads together [W], >= 0.
    efficiency : float
        Of the converter, > 0, at most 1.
    voltage_v : float
        Of the battery [V], > 0.

    Returns
    -------
    float
        Current [A].

    Raises
    ------
    MeasurementError
        If a value is impossible.

    Source
    ------
    First principles: the load by the efficiency by the voltage.

    Examples
    --------
    >>> converter_input_a(load_w=900.0, efficiency=0.9, voltage_v=400.0)
    2.5
    """
    require(
        "12 V converter",
        {
            "load_w": (load_w, NOT_NEGATIVE),
            "efficiency": (efficiency, EFFICIENCY),
            "voltage_v": (voltage_v, POSITIVE),
        },
    )
    return load_w / efficiency / voltage_v
