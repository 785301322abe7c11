"""Charging from each source: time warm and cold, what limits it, range gained, cost, label."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from decimal import ROUND_HALF_UP, Decimal
from typing import Any

from configurator.build_spec.charging_facts import (
    ChargingPower,
    charging_power,
    hours_at,
    taper_from_percent,
)
from configurator.build_spec.charging_result import ChargingCost, ChargingLine
from configurator.build_spec.compiled import Compiled
from configurator.build_spec.drive_state import Parts
from configurator.build_spec.facts import Extent
from configurator.catalog.models.charging_source import ChargingSource
from configurator.catalog.models.component import Charger, DcInlet, Pack
from configurator.catalog.models.rule import FactName
from configurator.catalog.models.workshop import Tariff
from configurator.physics.charging import energy_from_mains_kwh
from configurator.physics.charging_limits import CABLE_CURRENT_A
from configurator.physics.control_pilot import (
    GREATEST_CURRENT_A,
    LEAST_CURRENT_A,
    pilot_duty_percent,
)

Extents = Mapping[tuple[FactName, str | None], Extent]

STORED_DECIMALS = 3
_PENNY = Decimal("0.01")


def charging_lines(
    compiled: Compiled, choices: Mapping[str, str], extents: Extents
) -> tuple[ChargingLine, ...]:
    """Tell of charging from each source that fits; all but the time belongs to complete builds."""
    complete = len(choices) == len(compiled.offer.groups)
    parts = compiled.book.parts_of(choices) if complete else Parts({})
    return tuple(
        ChargingLine(
            source_id=source.id,
            label=source.label,
            supply=source.supply,
            from_percent=source.from_percent,
            to_percent=source.to_percent,
            low_hours=round(extent.low, STORED_DECIMALS),
            high_hours=round(extent.high, STORED_DECIMALS),
            pilot_duty_percent=_pilot(source),
            voltage_v=source.voltage_v,
            current_a=source.current_a,
            phases=source.phases,
            cable_current_a=_cable_current_a(source),
            **_of_complete(compiled, source, parts, extents),
        )
        for source in compiled.catalog.charging_sources
        if (extent := extents.get(("charging_hours", source.id))) is not None
    )


def _of_complete(
    compiled: Compiled, source: ChargingSource, parts: Parts, extents: Extents
) -> dict[str, Any]:
    pack, cold_c = parts.get("pack", Pack), compiled.catalog.workshop.cold_morning_c
    warm = None if pack is None else charging_power(source, parts, pack)
    hours = None if pack is None or warm is None else hours_at(source, pack, warm)
    cold = None if pack is None else charging_power(source, parts, pack, cold_c)
    if pack is None or warm is None or hours is None or cold is None:
        return {}
    cold_hours = hours_at(source, pack, cold)
    mains_kwh = _mains_kwh(source, parts, pack, hours)
    return {
        "power_kw": round(warm.kw_half_full, STORED_DECIMALS),
        "limited_by": warm.decided_by.by,
        "phases_used": _phases_used(source, parts),
        "taper_from_percent": taper_from_percent(source, pack),
        "cold_c": cold_c,
        "cold_hours": None if cold_hours is None else round(cold_hours, STORED_DECIMALS),
        "cold_limited_by": _decided_by(cold),
        **_range_gained(compiled, source, extents, hours),
        "mains_kwh": round(mains_kwh, STORED_DECIMALS),
        "costs": _costs(source, compiled.catalog.workshop.tariffs, mains_kwh),
        "socket_label": _socket_label(source, parts),
    }


def _phases_used(source: ChargingSource, parts: Parts) -> int | None:
    charger = parts.get("charger", Charger)
    return min(source.phases, charger.phases) if charger and source.supply == "ac" else None


def _decided_by(power: ChargingPower) -> str:
    return "temperature" if power.greatest_kw <= 0 else power.decided_by.by


def _mains_kwh(source: ChargingSource, parts: Parts, pack: Pack, hours: float) -> float:
    """Count what the meter does: of direct current after the unit's own charger."""
    charger = parts.get("charger", Charger)
    usable_kwh = pack.capacity_kwh * pack.usable_percent / 100
    return energy_from_mains_kwh(
        stored_kwh=usable_kwh * (source.to_percent - source.from_percent) / 100,
        hours=hours,
        charger_efficiency=charger.efficiency if charger and source.supply == "ac" else 1.0,
        pack_resistance_ohm=pack.resistance_ohm,
        pack_voltage_v=pack.nominal_voltage_v,
    )


def _range_gained(
    compiled: Compiled, source: ChargingSource, extents: Extents, hours: float
) -> dict[str, Any]:
    headline = compiled.catalog.workshop.headline_cases[0]
    low, high = extents.get(("range_low_km", headline)), extents.get(("range_high_km", headline))
    case = next((c for c in compiled.catalog.driving_cases if c.id == headline), None)
    if low is None or high is None or case is None:
        return {}
    share_an_hour = (source.to_percent - source.from_percent) / 100 / hours
    return {
        "km_per_hour_low": round(low.low * share_an_hour, STORED_DECIMALS),
        "km_per_hour_high": round(high.high * share_an_hour, STORED_DECIMALS),
        "km_case": case.label,
    }


def _costs(
    source: ChargingSource, tariffs: Sequence[Tariff], mains_kwh: float
) -> tuple[ChargingCost, ...]:
    energy = Decimal(str(round(mains_kwh, STORED_DECIMALS)))
    return tuple(
        ChargingCost(
            tariff_label=tariff.label,
            pence_per_kwh=tariff.pence_per_kwh,
            cost_gbp=(energy * tariff.pence_per_kwh / 100).quantize(_PENNY, ROUND_HALF_UP),
        )
        for tariff in tariffs
        if tariff.where == source.where
    )


def _socket_label(source: ChargingSource, parts: Parts) -> str:
    charger, inlet = parts.get("charger", Charger), parts.get("dc_inlet", DcInlet)
    if source.supply == "ac":
        return charger.socket_label if charger else ""
    return inlet.socket_label if inlet else ""


def _pilot(source: ChargingSource) -> float | None:
    """Tell the pilot's duty; None for a source without one, or with a current it cannot say."""
    current_a = min(source.current_a, _cable_current_a(source) or source.current_a)
    if source.supply != "ac" or not LEAST_CURRENT_A <= current_a <= GREATEST_CURRENT_A:
        return None
    return round(pilot_duty_percent(current_a), 1)


def _cable_current_a(source: ChargingSource) -> float | None:
    resistor_ohm = source.cable_resistor_ohm
    return None if resistor_ohm is None else CABLE_CURRENT_A[resistor_ohm]
