"""The inverter's link capacitor: charged before the contactors close, emptied after they open."""

from __future__ import annotations

import math

from configurator.physics.measurement import NOT_NEGATIVE, POSITIVE, require

TIME_CONSTANTS = 5.0
"""Time constants after which a capacitor counts as charged: 99.3 % of the voltage."""

SAFE_VOLTAGE_V = 60.0
"""Direct voltage above which a circuit is of voltage class B [V]. Source: UN Regulation No. 100;
ISO 6469-3."""


def pre_charge_seconds(*, resistor_ohm: float, capacitance_f: float) -> float:
    """Find how long the pre-charge takes until the main contactor may close.

    Parameters
    ----------
    resistor_ohm : float
        Of the pre-charge [Ω], > 0.
    capacitance_f : float
        That is charged [F], > 0.

    Returns
    -------
    float
        Five time constants [s].

    Raises
    ------
    MeasurementError
        If a value is impossible.

    Source
    ------
    First principles: after 5 R C a capacitor has 99.3 % of the voltage.

    Examples
    --------
    >>> round(pre_charge_seconds(resistor_ohm=100.0, capacitance_f=1000e-6), 3)
    0.5
    """
    require(
        "pre-charge",
        {"resistor_ohm": (resistor_ohm, POSITIVE), "capacitance_f": (capacitance_f, POSITIVE)},
    )
    return TIME_CONSTANTS * resistor_ohm * capacitance_f


def stored_energy_j(*, capacitance_f: float, voltage_v: float) -> float:
    """Find the energy in a charged capacitor; as much is left in the resistor that charged it.

    Parameters
    ----------
    capacitance_f : float
        Capacitance [F], > 0.
    voltage_v : float
        Voltage across it [V], >= 0.

    Returns
    -------
    float
        Energy [J].

    Raises
    ------
    MeasurementError
        If a value is impossible.

    Source
    ------
    First principles: ½ C V².

    Examples
    --------
    >>> round(stored_energy_j(capacitance_f=1000e-6, voltage_v=400.0), 6)
    80.0
    """
    require(
        "capacitor",
        {"capacitance_f": (capacitance_f, POSITIVE), "voltage_v": (voltage_v, NOT_NEGATIVE)},
    )
    return 0.5 * capacitance_f * voltage_v**2


def bleed_seconds(
    *, bleed_ohm: float, capacitance_f: float, voltage_v: float, down_to_v: float = SAFE_VOLTAGE_V
) -> float:
    """Find how long a bleed resistor takes to bring a capacitor's voltage down.

    Parameters
    ----------
    bleed_ohm : float
        Of the bleed [Ω], > 0.
    capacitance_f : float
        Capacitance [F], > 0.
    voltage_v : float
        Voltage at the start [V], > 0.
    down_to_v : float
        Voltage at the end [V], > 0.

    Returns
    -------
    float
        Time [s]; none where the voltage is that low from the start.

    Raises
    ------
    MeasurementError
        If a value is impossible.

    Source
    ------
    First principles: t = R C ln(V0 / V).

    Examples
    --------
    >>> round(bleed_seconds(bleed_ohm=31_600.0, capacitance_f=1000e-6, voltage_v=400.0), 1)
    59.9
    """
    require(
        "bleed",
        {
            "bleed_ohm": (bleed_ohm, POSITIVE),
            "capacitance_f": (capacitance_f, POSITIVE),
            "voltage_v": (voltage_v, POSITIVE),
            "down_to_v": (down_to_v, POSITIVE),
        },
    )
    return max(bleed_ohm * capacitance_f * math.log(voltage_v / down_to_v), 0.0)


def greatest_bleed_ohm(
    *, seconds: float, capacitance_f: float, voltage_v: float, down_to_v: float = SAFE_VOLTAGE_V
) -> float | None:
    """Find the greatest bleed resistor that is quick enough; None where none is needed.

    Parameters
    ----------
    seconds : float
        Time allowed [s], >= 0.
    capacitance_f, voltage_v, down_to_v : float
        As for `bleed_seconds`.

    Returns
    -------
    float or None
        Resistance [Ω].

    Raises
    ------
    MeasurementError
        If a value is impossible.

    Source
    ------
    First principles: R = t / (C ln(V0 / V)).

    Examples
    --------
    >>> round(greatest_bleed_ohm(seconds=60.0, capacitance_f=1000e-6, voltage_v=400.0))
    31627
    """
    require("bleed", {"seconds": (seconds, NOT_NEGATIVE)})
    for_one_ohm = bleed_seconds(
        bleed_ohm=1.0, capacitance_f=capacitance_f, voltage_v=voltage_v, down_to_v=down_to_v
    )
    return seconds / for_one_ohm if for_one_ohm > 0 else None
