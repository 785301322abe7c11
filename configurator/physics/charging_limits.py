"""What limits the power into a battery: source, cable, inlet, charger, battery or temperature."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from configurator.physics.measurement import (
    EFFICIENCY,
    NOT_NEGATIVE,
    PERCENT,
    PHASES,
    POSITIVE,
    Bound,
    require,
)

LimitedBy = Literal["source", "cable", "inlet", "charger", "battery", "temperature"]

CABLE_CURRENT_A = {1500: 13.0, 680: 20.0, 220: 32.0, 100: 63.0}
"""Proximity resistor in the plug of a charging cable [ohm] → current it carries [A].
Source: IEC 61851-1 annex B, from memory."""

_W_PER_KW = 1000.0


@dataclass(frozen=True)
class PowerLimit:
    """The power into the battery that one link of the chain allows."""

    by: LimitedBy
    power_kw: float
    current_a: float | None = None
    """Direct current that the link allows as well; the power then rises with the voltage."""

    def at(self, voltage_v: float) -> float:
        """Tell the power allowed at a voltage of the battery [kW]."""
        if self.current_a is None:
            return self.power_kw
        return min(self.power_kw, self.current_a * voltage_v / _W_PER_KW)


def ac_limits(
    *,
    source_voltage_v: float,
    source_current_a: float,
    source_phases: int,
    source_max_power_kw: float,
    charger_power_kw: float,
    charger_phases: int,
    charger_max_current_a: float,
    charger_efficiency: float,
    cable_current_a: float | None = None,
    inlet_current_a: float | None = None,
) -> tuple[PowerLimit, ...]:
    """Find what each link before the battery allows with alternating current.

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
        Power into the battery by power taken, > 0, at most 1.
    cable_current_a, inlet_current_a : float, optional
        What cable and inlet carry in each phase [A], > 0; left out where not known.

    Returns
    -------
    tuple of PowerLimit
        From the source to the charger; power into the battery [kW].

    Raises
    ------
    MeasurementError
        If a value is impossible.

    Source
    ------
    First principles at unity power factor: power = voltage x current x phases.

    Examples
    --------
    >>> limits = ac_limits(source_voltage_v=230.0, source_current_a=32.0, source_phases=1,
    ...     source_max_power_kw=7.4, charger_power_kw=6.6, charger_phases=1,
    ...     charger_max_current_a=32.0, charger_efficiency=0.92, cable_current_a=20.0)
    >>> [(limit.by, round(limit.power_kw, 3)) for limit in limits]
    [('source', 6.771), ('cable', 4.232), ('charger', 6.072)]
    """
    carried: dict[LimitedBy, float | None] = {"cable": cable_current_a, "inlet": inlet_current_a}
    given: dict[str, tuple[float, Bound]] = {
        "source_voltage_v": (source_voltage_v, POSITIVE),
        "source_current_a": (source_current_a, POSITIVE),
        "source_phases": (source_phases, PHASES),
        "source_max_power_kw": (source_max_power_kw, POSITIVE),
        "charger_power_kw": (charger_power_kw, POSITIVE),
        "charger_phases": (charger_phases, PHASES),
        "charger_max_current_a": (charger_max_current_a, POSITIVE),
        "charger_efficiency": (charger_efficiency, EFFICIENCY),
    }
    links = {by: current_a for by, current_a in carried.items() if current_a is not None}
    require(
        "AC charging",
        given | {f"{by}_current_a": (amps, POSITIVE) for by, amps in links.items()},
    )
    phases = min(source_phases, charger_phases)

    def by_current(current_a: float) -> float:
        return source_voltage_v * current_a * phases / _W_PER_KW

    source_kw = min(by_current(source_current_a), source_max_power_kw)
    charger_kw = min(by_current(charger_max_current_a), charger_power_kw * phases / charger_phases)
    return (
        PowerLimit("source", source_kw * charger_efficiency),
        *(PowerLimit(by, by_current(amps) * charger_efficiency) for by, amps in links.items()),
        PowerLimit("charger", charger_kw * charger_efficiency),
    )


def dc_limits(
    *,
    source_max_power_kw: float,
    source_current_a: float,
    inlet_max_power_kw: float,
    inlet_max_current_a: float,
) -> tuple[PowerLimit, ...]:
    """Find what source and inlet allow with direct current.

    Parameters
    ----------
    source_max_power_kw, inlet_max_power_kw : float
        Greatest power of each [kW], > 0.
    source_current_a, inlet_max_current_a : float
        Greatest current of each [A], > 0.

    Returns
    -------
    tuple of PowerLimit
        Of source and inlet. Whether the source reaches the battery's voltage at all is a question
        for the electrical checks, not answered here.

    Raises
    ------
    MeasurementError
        If a value is impossible.

    Source
    ------
    First principles: power = voltage x current.

    Examples
    --------
    >>> [limit.at(320.0) for limit in dc_limits(source_max_power_kw=50.0, source_current_a=125.0,
    ...     inlet_max_power_kw=60.0, inlet_max_current_a=150.0)]
    [40.0, 48.0]
    """
    require(
        "DC charging",
        {
            "source_max_power_kw": (source_max_power_kw, POSITIVE),
            "source_current_a": (source_current_a, POSITIVE),
            "inlet_max_power_kw": (inlet_max_power_kw, POSITIVE),
            "inlet_max_current_a": (inlet_max_current_a, POSITIVE),
        },
    )
    return (
        PowerLimit("source", source_max_power_kw, source_current_a),
        PowerLimit("inlet", inlet_max_power_kw, inlet_max_current_a),
    )


def battery_limits(
    *, peak_charge_kw: float, temperature_percent: float = 100.0
) -> tuple[PowerLimit, ...]:
    """Find what the battery takes, warm and at its temperature.

    Parameters
    ----------
    peak_charge_kw : float
        Greatest power the battery takes [kW], >= 0.
    temperature_percent : float
        What its temperature leaves of that [%], 0 to 100.

    Returns
    -------
    tuple of PowerLimit
        Of the battery, and of its temperature where that leaves less.

    Raises
    ------
    MeasurementError
        If a value is impossible.

    Examples
    --------
    >>> [limit.power_kw for limit in battery_limits(peak_charge_kw=40.0, temperature_percent=30.0)]
    [40.0, 12.0]
    """
    require(
        "battery",
        {
            "peak_charge_kw": (peak_charge_kw, NOT_NEGATIVE),
            "temperature_percent": (temperature_percent, PERCENT),
        },
    )
    warm = PowerLimit("battery", peak_charge_kw)
    if temperature_percent == 100:
        return (warm,)
    return (warm, PowerLimit("temperature", peak_charge_kw * temperature_percent / 100))


def least_limit(limits: Iterable[PowerLimit], voltage_v: float) -> PowerLimit:
    """Find the link that decides at a voltage of the battery; of equal ones the first.

    Examples
    --------
    >>> least_limit([PowerLimit("source", 50.0, 125.0), PowerLimit("battery", 45.0)], 380.0).by
    'battery'
    """
    return min(limits, key=lambda limit: limit.at(voltage_v))
