"""Checks of what guards people: pre-charge, bleed, voltage class and isolation."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from configurator.build_spec.electrical_check import (
    DATA_SHEETS,
    FIRST_PRINCIPLES,
    PRACTICE,
    CheckWords,
    ElectricalCheck,
)
from configurator.build_spec.electrical_set import ElectricalSet
from configurator.build_spec.sentences import listed
from configurator.catalog.models.component import Charger
from configurator.physics.electrical_link import (
    SAFE_VOLTAGE_V,
    greatest_bleed_ohm,
    stored_energy_j,
)
from configurator.physics.electrical_sizing import (
    DC_OHM_PER_V,
    JOINED_OHM_PER_V,
    least_isolation_ohm,
)

PRE_CHARGE = "Pre-charge"
BLEED = "After switching off"
PROTECTION = "Voltage class and isolation"

PRE_CHARGE_WITHIN_S = 1.0
BLEED_WITHIN_S = 60.0
"""Where the catalog has no limit of its own; common practice, no source."""

R100 = "UN Regulation No. 100, 5.1.3"
R100_AND_ISO = "UN Regulation No. 100; ISO 6469-3"
LINK_MISSING = "the capacitance of the inverter's link"


_PRE_CHARGE_TIME = CheckWords(
    "pre-charge-time",
    PRE_CHARGE,
    "Time until the contactors may close",
    "s",
    "five times resistance times capacitance: 99.3 % of the voltage",
    f"{FIRST_PRINCIPLES}; {PRACTICE}, for the bound",
    2,
    "at most",
)
_PRE_CHARGE_ENERGY = CheckWords(
    "pre-charge-energy",
    PRE_CHARGE,
    "Heat in the resistor, each time",
    "J",
    "half of capacitance times the square of the full battery's voltage",
    f"{FIRST_PRINCIPLES}; {DATA_SHEETS}",
    0,
    "at most",
)
_PRE_CHARGE_PEAK = CheckWords(
    "pre-charge-peak",
    PRE_CHARGE,
    "Greatest current through it",
    "A",
    "voltage of the full battery by the resistance",
    FIRST_PRINCIPLES,
    1,
)
_BLEED_TIME = CheckWords(
    "bleed-time",
    BLEED,
    "Time until the inverter holds 60 V or less",
    "s",
    "resistance times capacitance times the logarithm of full voltage by 60 V; other parts on the "
    "same side add theirs, and a broken bleed never ends: test, never trust",
    f"{FIRST_PRINCIPLES}; {R100_AND_ISO} for 60 V; {PRACTICE}, for the bound",
    0,
    "at most",
)
_BLEED_RESISTOR = CheckWords(
    "bleed-resistor",
    BLEED,
    "Bleed of the inverter",
    "kΩ",
    "bound: time by capacitance by that logarithm",
    FIRST_PRINCIPLES,
    1,
    "at most",
)
_BLEED_HEAT = CheckWords(
    "bleed-heat",
    BLEED,
    "Heat in it while the drive is on",
    "W",
    "square of the full battery's voltage by its resistance",
    FIRST_PRINCIPLES,
    1,
)
_ISOLATION = CheckWords(
    "isolation",
    PROTECTION,
    "Isolation",
    "kΩ",
    "Ω for each volt of the full battery; inverter and motor are joined, so the higher one counts "
    "unless every alternating circuit has double insulation or a robust enclosure",
    R100,
    1,
    "at least",
)
_INLET_ISOLATION = CheckWords(
    "isolation-inlet",
    PROTECTION,
    "Isolation of the inlet for alternating current",
    "kΩ",
    "from its live pins, and all that is joined to them while charging, to the chassis",
    f"{R100}.4, from memory",
    0,
    "at least",
)
_BONDING = CheckWords(
    "bonding",
    PROTECTION,
    "Bonding of exposed metal to the chassis",
    "Ω",
    "measured with 0.2 A or more; welded joints count as bonded",
    "UN Regulation No. 100, 5.1.2.2",
    1,
    "at most",
)


def pre_charge_checks(fitted: ElectricalSet, within_s: float) -> Iterator[ElectricalCheck]:
    """Hold the pre-charge against its time and the resistor's strength."""
    part, capacitance_f, pack = fitted.pre_charge, fitted.link_f(), fitted.pack
    if part is None:
        yield _PRE_CHARGE_TIME.against(None, None, "the pre-charge that is fitted")
        return
    yield _PRE_CHARGE_TIME.against(fitted.pre_charge_seconds(), within_s, LINK_MISSING)
    joules = None
    if pack is not None and capacitance_f is not None:
        joules = stored_energy_j(capacitance_f=capacitance_f, voltage_v=pack.full_voltage_v)
    missing = LINK_MISSING if capacitance_f is None else "a battery"
    yield _PRE_CHARGE_ENERGY.against(joules, part.pulse_energy_j, missing)
    yield _PRE_CHARGE_PEAK.told(
        None if pack is None else pack.full_voltage_v / part.resistor_ohm, "a battery"
    )


def bleed_checks(fitted: ElectricalSet, within_s: float) -> Iterator[ElectricalCheck]:
    """Hold the bleed against the time within which the voltage must be gone."""
    motor, pack, capacitance_f = fitted.motor, fitted.pack, fitted.link_f()
    bleed_ohm = None if motor is None else motor.bleed_ohm
    needed = {LINK_MISSING: capacitance_f, "the bleed of the inverter": bleed_ohm}
    missing = [words for words, stated in {**needed, "a battery": pack}.items() if stated is None]
    yield _BLEED_TIME.against(fitted.bleed_seconds(), within_s, listed(missing))
    if pack is None or bleed_ohm is None or capacitance_f is None:
        return
    greatest_ohm = greatest_bleed_ohm(
        seconds=max(within_s, 0.0), capacitance_f=capacitance_f, voltage_v=pack.full_voltage_v
    )
    if greatest_ohm is not None:
        yield _BLEED_RESISTOR.against(bleed_ohm / 1000, greatest_ohm / 1000)
    yield _BLEED_HEAT.told(pack.full_voltage_v**2 / bleed_ohm)


def protection_checks(fitted: ElectricalSet) -> Iterator[ElectricalCheck]:
    """Tell the voltage class, and what isolation and bonding must be measured as."""
    if fitted.pack is None:
        return
    full_v = fitted.pack.full_voltage_v
    yield CheckWords(
        "voltage-class",
        PROTECTION,
        f"Voltage class {voltage_class(full_v)}, battery full",
        "V",
        "class B is above 60 V and up to 1,500 V of direct voltage",
        R100_AND_ISO,
    ).told(full_v)
    above = "" if full_v > SAFE_VOLTAGE_V else "; asked for above 60 V only, wise below"
    for name, label, ohm_per_v in (
        ("dc", "direct voltage alone", DC_OHM_PER_V),
        ("joined", "joined to alternating voltage", JOINED_OHM_PER_V),
    ):
        least_ohm = least_isolation_ohm(working_voltage_v=full_v, ohm_per_v=ohm_per_v)
        yield replace(
            _ISOLATION,
            id=f"isolation-{name}",
            label=f"{_ISOLATION.label}, {label}",
            formula=f"{ohm_per_v:g} {_ISOLATION.formula}{above}",
        ).to_measure(least_ohm / 1000)
    if fitted.parts.get("charger", Charger):
        yield _INLET_ISOLATION.to_measure(1000.0)
    yield _BONDING.to_measure(0.1)


def voltage_class(full_voltage_v: float) -> str:
    """Name the voltage class of a circuit of direct voltage.

    Examples
    --------
    >>> voltage_class(60.0), voltage_class(60.1)
    ('A', 'B')
    """
    return "B" if full_voltage_v > SAFE_VOLTAGE_V else "A"
