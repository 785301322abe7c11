"""Which rows of the pages of figures are facts, so that each can lead to its own working."""

from __future__ import annotations

from collections.abc import Mapping

from configurator.build_spec.derivations.explain import Key
from configurator.build_spec.electrical_check import ElectricalCheck
from configurator.build_spec.performance_result import PerformanceLine
from configurator.catalog.models.rule import FactName

ELECTRICAL_FACTS: Mapping[str, FactName] = {
    "full-inverter": "pack_voltage_over_v",
    "empty-inverter": "pack_voltage_under_v",
    "full-charger": "charger_voltage_over_v",
    "empty-charger": "charger_voltage_under_v",
    "full-dc-inlet": "dc_inlet_voltage_over_v",
    "empty-dc-inlet": "dc_inlet_voltage_under_v",
    "cable-current": "cable_margin_a",
    "fuse-current": "fuse_margin_a",
    "fuse-cable": "fuse_over_cable_a",
    "contactor-current": "contactor_margin_a",
    "low-voltage-total": "low_voltage_margin_w",
    "pre-charge-time": "pre_charge_seconds",
    "bleed-time": "bleed_seconds",
}
"""Check → the fact that is its value, or its room (with the sign turned for what is over)."""

ABILITY_FACTS: Mapping[str, FactName] = {
    "seconds-to-50": "seconds_to_50_km_h",
    "seconds-to-60-mph": "seconds_to_60_mph",
    "top-speed": "top_speed_km_h",
}


def check_key(check: ElectricalCheck) -> Key | None:
    """Find the fact that a check of the electrical set tells; None where its row says it all."""
    fact = ELECTRICAL_FACTS.get(check.id)
    return None if fact is None or check.value is None else (fact, None)


def ability_key(line: PerformanceLine) -> Key | None:
    """Find the fact that a number of the drive tells."""
    fact = ABILITY_FACTS.get(line.id)
    return None if fact is None or line.value is None else (fact, None)


def charging_key(source_id: str) -> Key:
    """Name the charging time of a source."""
    return ("charging_hours", source_id)
