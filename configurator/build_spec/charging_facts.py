"""Charging by source: what limits the power, and for how long a battery is charged."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from configurator.build_spec.drive_state import Parts
from configurator.catalog.models.charging_source import ChargingSource
from configurator.catalog.models.component import Charger, DcInlet, Pack
from configurator.physics.charging import (
    PackVoltages,
    charging_hours,
    stored_power_kw,
    voltage_at_charge,
)
from configurator.physics.charging_limits import (
    CABLE_CURRENT_A,
    PowerLimit,
    ac_limits,
    battery_limits,
    dc_limits,
    least_limit,
)
from configurator.physics.pack_condition import RESISTANCE_PERCENT, Curve, percent_at

TAPER_FROM_PERCENT = {"ac": 95.0, "dc": 80.0}
END_POWER_SHARE = {"ac": 0.20, "dc": 0.15}
"""Charging tapers above this charge to this share of the power, where the pack does not state from
where; common practice, no source."""

CHARGE_PERCENT: dict[str, Curve] = {
    "NMC": {-1: 0, 0: 30, 10: 65, 20: 100},
    "LFP": {-1: 0, 0: 15, 10: 50, 20: 100},
}
"""Cell temperature [°C] → power a battery may be charged with by its greatest [%], by chemistry,
for packs that do not state it; none in frost, since charging cells too cold harms them for good and
some bear none. Source: from memory, wide; the cell maker's table comes first."""

WARM_C = 20.0
"""Of the cells, for the charging time that is promised [°C]."""


@dataclass(frozen=True)
class ChargingPower:
    """The power into the battery from one source, before the taper."""

    limits: tuple[PowerLimit, ...]
    voltages_v: PackVoltages
    resistance_ohm: float
    """Of the battery, as warm as it is."""

    @property
    def greatest_kw(self) -> float:
        """Power that no voltage of the battery exceeds [kW]."""
        return min(limit.power_kw for limit in self.limits)

    @property
    def current_a(self) -> float | None:
        """The direct current that limits as well [A]."""
        return min((a for limit in self.limits if (a := limit.current_a) is not None), default=None)

    @property
    def decided_by(self) -> PowerLimit:
        """What limits the half full battery."""
        return least_limit(self.limits, self.voltages_v[1])

    @property
    def kw_half_full(self) -> float:
        """Power into the half full battery [kW]."""
        return self.decided_by.at(self.voltages_v[1])

    @property
    def greatest_stored_kw(self) -> float:
        """The greatest power less what it loses in the half full battery [kW].

        A current that limits needs no such correction: times the voltage without a current it gives
        what is stored.
        """
        return stored_power_kw(
            power_kw=self.greatest_kw,
            resistance_ohm=self.resistance_ohm,
            voltage_v=self.voltages_v[1],
        )


def charging_power(
    source: ChargingSource, parts: Parts, pack: Pack, cell_c: float = WARM_C
) -> ChargingPower | None:
    """Find the power into a battery from a source; None where nothing takes it.

    Nothing does either where the voltages of unit, charger or inlet do not hold those of the
    battery from the start to the end.
    """
    voltages_v = (pack.empty_voltage_v, pack.nominal_voltage_v, pack.full_voltage_v)
    start_v = voltage_at_charge(source.from_percent / 100, voltages_v)
    end_v = voltage_at_charge(source.to_percent / 100, voltages_v)
    least_v, greatest_v = _window_v(source, parts)
    if start_v < least_v or end_v > greatest_v:
        return None
    links = _ac(source, parts) if source.supply == "ac" else _dc(source, parts)
    if links is None:
        return None
    curve = pack.charge_percent_at or CHARGE_PERCENT[pack.chemistry]
    battery = battery_limits(
        peak_charge_kw=pack.peak_charge_kw, temperature_percent=percent_at(curve, cell_c)
    )
    resistances = pack.resistance_percent_at or RESISTANCE_PERCENT[pack.chemistry]
    resistance_ohm = pack.resistance_ohm * percent_at(resistances, cell_c) / 100
    return ChargingPower((*links, *battery), voltages_v, resistance_ohm)


def _window_v(source: ChargingSource, parts: Parts) -> tuple[float, float]:
    """Tell between which voltages of the battery it is charged; what nobody stated is no bound."""
    if source.supply == "ac":
        charger = parts.get("charger", Charger)
        return (
            (0.0, math.inf) if charger is None else (charger.min_voltage_v, charger.max_voltage_v)
        )
    inlet = parts.get("dc_inlet", DcInlet)
    if inlet is None:
        return 0.0, source.voltage_v
    least_v, greatest_v = inlet.min_voltage_v, inlet.max_voltage_v
    return (
        0.0 if least_v is None else least_v,
        source.voltage_v if greatest_v is None else min(source.voltage_v, greatest_v),
    )


def hours_at(source: ChargingSource, pack: Pack, power: ChargingPower) -> float | None:
    """Compute the charging time [h]; None where the battery is too cold to be charged."""
    if power.greatest_kw <= 0:
        return None
    return charging_hours(
        usable_energy_kwh=pack.capacity_kwh * pack.usable_percent / 100,
        from_percent=source.from_percent,
        to_percent=source.to_percent,
        power_kw=power.greatest_stored_kw,
        taper_from_percent=taper_from_percent(source, pack),
        end_power_share=END_POWER_SHARE[source.supply],
        current_a=power.current_a,
        voltages_v=power.voltages_v,
    )


def taper_from_percent(source: ChargingSource, pack: Pack) -> float:
    """Tell the charge from which the power falls [%]."""
    stated = pack.ac_taper_from_percent if source.supply == "ac" else pack.dc_taper_from_percent
    return TAPER_FROM_PERCENT[source.supply] if stated is None else stated


def charging_hours_from(source: ChargingSource) -> Callable[[Parts], float | None]:
    """Make the fact of the charging time from a source."""

    def hours(parts: Parts) -> float | None:
        pack = parts.get("pack", Pack)
        power = None if pack is None else charging_power(source, parts, pack)
        return None if pack is None or power is None else hours_at(source, pack, power)

    return hours


def _ac(source: ChargingSource, parts: Parts) -> tuple[PowerLimit, ...] | None:
    charger, resistor_ohm = parts.get("charger", Charger), source.cable_resistor_ohm
    return (
        None
        if charger is None
        else ac_limits(
            source_voltage_v=source.voltage_v,
            source_current_a=source.current_a,
            source_phases=source.phases,
            source_max_power_kw=source.max_power_kw,
            charger_power_kw=charger.ac_power_kw,
            charger_phases=charger.phases,
            charger_max_current_a=charger.max_current_a,
            charger_efficiency=charger.efficiency,
            cable_current_a=None if resistor_ohm is None else CABLE_CURRENT_A[resistor_ohm],
            inlet_current_a=charger.inlet_current_a,
        )
    )


def _dc(source: ChargingSource, parts: Parts) -> tuple[PowerLimit, ...] | None:
    inlet = parts.get("dc_inlet", DcInlet)
    return (
        None
        if inlet is None
        else dc_limits(
            source_max_power_kw=source.max_power_kw,
            source_current_a=source.current_a,
            inlet_max_power_kw=inlet.max_power_kw,
            inlet_max_current_a=inlet.max_current_a,
        )
    )
