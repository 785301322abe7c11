"""The current that a load draws from a battery whose voltage sags under it."""

from __future__ import annotations

import math
from dataclasses import dataclass

from configurator.physics.measurement import EFFICIENCY, NOT_NEGATIVE, POSITIVE, require


@dataclass(frozen=True)
class BatteryLoad:
    """What a battery does under a load."""

    current_a: float
    voltage_v: float
    """Between the terminals, under the load."""
    power_w: float
    """At the terminals; less than asked where the battery cannot give that much."""
    is_enough: bool
    """Whether the battery can give what was asked."""


def terminal_power_w(
    *,
    mechanical_w: float,
    efficiency: float,
    no_load_w: float = 0.0,
    per_w: float = 0.0,
    auxiliary_w: float = 0.0,
) -> float:
    """Find the power that the drive and everything beside it take at the battery's terminals.

    Parameters
    ----------
    mechanical_w : float
        Power at the motor's shaft [W], >= 0.
    efficiency : float
        Of motor and inverter together without the other two losses, > 0, at most 1.
    no_load_w : float
        Loss of the turning drive whatever it gives [W], >= 0.
    per_w : float
        Loss by the square of the power [1/W], >= 0.
    auxiliary_w : float
        What converter and heater take from the battery beside it [W], >= 0.

    Returns
    -------
    float
        Power at the terminals [W].

    Raises
    ------
    MeasurementError
        If a value is impossible.

    Source
    ------
    First principles: what goes in is what comes out and what is lost.

    Examples
    --------
    >>> terminal_power_w(mechanical_w=36_000.0, efficiency=0.9, auxiliary_w=2_000.0)
    42000.0
    """
    require(
        "terminal power",
        {
            "mechanical_w": (mechanical_w, NOT_NEGATIVE),
            "efficiency": (efficiency, EFFICIENCY),
            "no_load_w": (no_load_w, NOT_NEGATIVE),
            "per_w": (per_w, NOT_NEGATIVE),
            "auxiliary_w": (auxiliary_w, NOT_NEGATIVE),
        },
    )
    return mechanical_w / efficiency + per_w * mechanical_w**2 + no_load_w + auxiliary_w


def mechanical_power_w(
    *, terminal_w: float, efficiency: float, no_load_w: float = 0.0, per_w: float = 0.0
) -> float:
    """Find the power at the motor's shaft that a power at the battery's terminals gives.

    Parameters
    ----------
    terminal_w : float
        Power that the drive takes at the terminals [W], >= 0.
    efficiency, no_load_w, per_w : float
        As for `terminal_power_w`.

    Returns
    -------
    float
        Power at the shaft [W]; none where turning the drive alone takes it all.

    Raises
    ------
    MeasurementError
        If a value is impossible.

    Source
    ------
    `terminal_power_w` solved for the power at the shaft; the root written so that a small loss by
    the square loses no digits.

    Examples
    --------
    >>> mechanical_power_w(terminal_w=40_000.0, efficiency=0.9)
    36000.0
    """
    require(
        "shaft power",
        {
            "terminal_w": (terminal_w, NOT_NEGATIVE),
            "efficiency": (efficiency, EFFICIENCY),
            "no_load_w": (no_load_w, NOT_NEGATIVE),
            "per_w": (per_w, NOT_NEGATIVE),
        },
    )
    left_w = efficiency * max(terminal_w - no_load_w, 0.0)
    return 2 * left_w / (1 + math.sqrt(1 + 4 * efficiency * per_w * left_w))


def battery_load(*, power_w: float, open_voltage_v: float, resistance_ohm: float) -> BatteryLoad:
    """Solve current and voltage of a battery that gives a power at its terminals.

    Beyond the greatest power V² / 4R no current gives what is asked; the load told is then that of
    the greatest power, and it is marked as not enough.

    Parameters
    ----------
    power_w : float
        Power asked at the terminals [W], >= 0.
    open_voltage_v : float
        Voltage without a load [V], > 0.
    resistance_ohm : float
        Inner resistance of the whole battery [Ω], >= 0.

    Returns
    -------
    BatteryLoad
        Current, voltage under load and power.

    Raises
    ------
    MeasurementError
        If a value is impossible.

    Source
    ------
    First principles: P = I (V - I R), the lesser root, written so that a small resistance loses no
    digits.

    Examples
    --------
    >>> load = battery_load(power_w=30_000.0, open_voltage_v=300.0, resistance_ohm=0.1)
    >>> round(load.current_a, 2), round(load.voltage_v, 2), load.is_enough
    (103.58, 289.64, True)
    """
    require(
        "battery load",
        {
            "power_w": (power_w, NOT_NEGATIVE),
            "open_voltage_v": (open_voltage_v, POSITIVE),
            "resistance_ohm": (resistance_ohm, NOT_NEGATIVE),
        },
    )
    left = open_voltage_v**2 - 4 * resistance_ohm * power_w
    current_a = (
        2 * power_w / (open_voltage_v + math.sqrt(left))
        if left >= 0
        else (open_voltage_v / (2 * resistance_ohm))
    )
    voltage_v = open_voltage_v - current_a * resistance_ohm
    return BatteryLoad(current_a, voltage_v, voltage_v * current_a, left >= 0)


def short_circuit_a(*, open_voltage_v: float, resistance_ohm: float) -> float:
    """Find the current of a battery whose terminals are joined by nothing but metal.

    Parameters
    ----------
    open_voltage_v : float
        Voltage without a load [V], > 0.
    resistance_ohm : float
        Inner resistance of the whole battery [Ω], > 0.

    Returns
    -------
    float
        Current [A]; the first instant may exceed it, since part of the resistance builds up slowly.

    Raises
    ------
    MeasurementError
        If a value is impossible.

    Source
    ------
    Ohm's law.

    Examples
    --------
    >>> short_circuit_a(open_voltage_v=400.0, resistance_ohm=0.08)
    5000.0
    """
    require(
        "short circuit",
        {
            "open_voltage_v": (open_voltage_v, POSITIVE),
            "resistance_ohm": (resistance_ohm, POSITIVE),
        },
    )
    return open_voltage_v / resistance_ohm
