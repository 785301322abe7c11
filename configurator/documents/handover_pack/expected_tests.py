"""The tests that a careful builder records on every conversion, with limits where one is known."""

from __future__ import annotations

import math
from typing import NamedTuple

from configurator.build_spec.spec import Spec
from configurator.catalog.models.component import Pack
from configurator.documents.figures import number
from configurator.physics.electrical_sizing import JOINED_OHM_PER_V, least_isolation_ohm


class ExpectedTest(NamedTuple):
    """A test to be done, with its limit in words."""

    what: str
    limit: str


def expected_tests(spec: Spec) -> tuple[ExpectedTest, ...]:
    """List the tests still to be signed for this vehicle.

    Source
    ------
    UN Regulation No. 100 for isolation and bonding; common practice, no source, for the rest.
    """
    return (
        *_battery_tests(spec),
        ExpectedTest("Interlock loop opens the main contactors", "at each connector"),
        ExpectedTest("Service disconnect isolates the battery", "voltage gone behind it"),
        ExpectedTest("Brake test on rollers, each axle", "by the testing station"),
        ExpectedTest("Weighbridge ticket, each axle", _axle_limits(spec)),
        ExpectedTest("Warning labels and orange coverings", "complete and legible"),
        ExpectedTest("Second person has checked every row above", "signature"),
    )


def least_isolation_mohm(full_voltage_v: float) -> float:
    """Least isolation resistance of joined circuits [MΩ].

    Examples
    --------
    >>> least_isolation_mohm(400.0)
    0.2
    """
    ohm = least_isolation_ohm(working_voltage_v=full_voltage_v, ohm_per_v=JOINED_OHM_PER_V)
    return ohm / 1e6


def _battery_tests(spec: Spec) -> tuple[ExpectedTest, ...]:
    pack = spec.component("pack")
    if not isinstance(pack, Pack):
        return ()
    isolation = number(least_isolation_mohm(pack.full_voltage_v), 3)
    return (
        ExpectedTest("Modules: voltage, capacity, serial number, origin", "each module"),
        ExpectedTest("Torque of busbar joints", "by the maker's paper"),
        ExpectedTest("Bonding of exposed parts to the chassis", "below 0.1 Ω at 0.2 A or more"),
        ExpectedTest("Isolation resistance, battery to chassis", f"at least {isolation} MΩ"),
        ExpectedTest("Pre-charge before the main contactors close", _pre_charge(spec)),
        ExpectedTest("Contactors are not welded", "open when switched off"),
        ExpectedTest("Control pilot and proximity lines", "see the table below"),
        ExpectedTest("Voltage after switching off", _bleed(spec)),
    )


def _pre_charge(spec: Spec) -> str:
    fact = spec.fact("pre_charge_seconds")
    paper = "by the maker's paper"
    return paper if fact is None else f"{paper}; computed {number(fact.high, 2)} s"


def _bleed(spec: Spec) -> str:
    fact = spec.fact("bleed_seconds")
    within = "60 V or less in the maker's time"
    return within if fact is None else f"{within}; computed {number(math.ceil(fact.high))} s"


def _axle_limits(spec: Spec) -> str:
    front, rear = spec.weights.front.limit_low_kg, spec.weights.rear.limit_low_kg
    return f"laden: front {number(front)} kg, rear {number(rear)} kg"
