"""Facts that physics computes from a drive state; each tells what it reads and how it moves.

A fact that reads the mass and the effects moves one way with each of them: `falls` says that more
mass, drag, rolling resistance, heat loss or auxiliary power never raises it. The exactness of every
answer about such a fact rests on that, and tests hold it.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass

from configurator.build_spec.drive_state import DriveState, Parts
from configurator.build_spec.offer import NO_EFFECTS, EffectMask, Offer
from configurator.catalog.models.catalog import Catalog
from configurator.catalog.models.component import (
    Charger,
    ChargingSource,
    DcInlet,
    Motor,
    Pack,
    Reduction,
    Slot,
    Tyre,
)
from configurator.catalog.models.rule import FactName
from configurator.physics.air_density import air_density_kg_m3
from configurator.physics.charging import ac_power_kw, charging_hours, dc_power_kw
from configurator.physics.performance import (
    cruise_power_margin_kw,
    geared_speed_km_h,
    hill_restart_percent,
    top_speed_km_h,
)
from configurator.physics.tyre import tyre_speed_km_h

ELECTRICAL_FIELDS: dict[Slot, frozenset[str]] = {
    "pack": frozenset(
        {
            "capacity_kwh",
            "usable_percent",
            "nominal_voltage_v",
            "full_voltage_v",
            "empty_voltage_v",
            "peak_charge_kw",
        }
    ),
    "motor": frozenset({"min_voltage_v", "max_voltage_v"}),
    "charger": frozenset(
        {
            "ac_power_kw",
            "phases",
            "max_current_a",
            "efficiency",
            "min_voltage_v",
            "max_voltage_v",
        }
    ),
    "dc_inlet": frozenset({"max_power_kw", "max_current_a"}),
}

MassKind = str
"""`driver`, `laden` or `train` (laden with trailer): the mass a fact reads; empty for none."""

CRUISE_SPEED_KM_H = 90.0
"""The steady speed that the motor must hold for as long as the battery lasts [km/h]."""

TAPER_FROM_PERCENT = {"ac": 95.0, "dc": 80.0}
END_POWER_SHARE = {"ac": 0.20, "dc": 0.15}
"""Charging tapers above this charge to this share of the power; common practice, no source."""

Evaluate = Callable[[Sequence[DriveState]], list[float | None]]


@dataclass(frozen=True)
class DriveFact:
    """A fact of a drive state; `evaluate` gives None where what is fitted has no such fact."""

    name: FactName
    case: str | None
    reads: Mapping[Slot, frozenset[str]]
    """The fields it reads of the component in each slot; alike there is alike to the fact."""
    effects: EffectMask
    """Which effects it reads: drag, rolling resistance, heat loss, auxiliary power."""
    mass: MassKind
    falls: bool
    evaluate: Evaluate


@dataclass(frozen=True)
class Surroundings:
    """What every drive fact of a build needs besides the state."""

    catalog: Catalog
    offer: Offer

    def parts(self, state: DriveState) -> Parts:
        """Look up the components of a state."""
        by_id = self.catalog.component_by_id
        return Parts({slot: by_id[component] for slot, component in state.slots})


def performance_facts(around: Surroundings) -> list[DriveFact]:
    """Facts of the drive: hill, cruise, top speed, tyre speed."""
    drive: dict[Slot, frozenset[str]] = {
        "motor": frozenset({"peak_torque_nm", "continuous_power_kw", "max_speed_rpm"}),
        "reduction": frozenset({"overall_ratios", "efficiency"}),
        "tyre": frozenset({"rolling_radius_m", "rolling_resistance", "speed_symbol"}),
    }

    def fact(
        name: FactName,
        mass: MassKind,
        effects: EffectMask,
        compute: Callable[[DriveState], float | None],
    ) -> DriveFact:
        return DriveFact(
            name, None, drive, effects, mass, True, lambda states: [compute(s) for s in states]
        )

    rolling, air = (False, True, False, False), (True, True, False, False)

    return [
        fact("hill_restart_percent", "train", rolling, lambda s: _hill_restart(around, s)),
        fact("cruise_power_margin_kw", "driver", air, lambda s: _cruise_margin(around, s)),
        fact("top_speed_km_h", "driver", air, lambda s: _top_speed(around, s)),
        fact(
            "tyre_speed_margin_km_h", "", NO_EFFECTS, lambda s: _tyre_speed_margin(around.parts(s))
        ),
    ]


def electrical_facts(around: Surroundings) -> list[DriveFact]:
    """Facts of the electrical set that no mass moves: energy, voltages, charging times."""

    def fact(
        name: FactName,
        case: str | None,
        slots: Collection[Slot],
        compute: Callable[[Parts], float | None],
    ) -> DriveFact:
        return DriveFact(
            name,
            case,
            {slot: ELECTRICAL_FIELDS[slot] for slot in slots},
            effects=NO_EFFECTS,
            mass="",
            falls=True,
            evaluate=lambda states: [compute(around.parts(state)) for state in states],
        )

    facts = [
        fact("usable_energy_kwh", None, {"pack"}, _usable_energy_kwh),
        fact("pack_voltage_over_v", None, {"pack", "motor"}, lambda p: _over_v(p, "motor")),
        fact("pack_voltage_under_v", None, {"pack", "motor"}, lambda p: _under_v(p, "motor")),
        fact("charger_voltage_over_v", None, {"pack", "charger"}, lambda p: _over_v(p, "charger")),
        fact(
            "charger_voltage_under_v", None, {"pack", "charger"}, lambda p: _under_v(p, "charger")
        ),
    ]
    for source in around.catalog.charging_sources:
        slots: set[Slot] = {"pack", "charger" if source.supply == "ac" else "dc_inlet"}
        facts.append(fact("charging_hours", source.id, slots, _charging_hours_from(source)))
    return facts


def _hill_restart(around: Surroundings, state: DriveState) -> float | None:
    parts = around.parts(state)
    motor, reduction, tyre = _drive_parts(parts)
    if motor is None or reduction is None or tyre is None:
        return None
    return hill_restart_percent(
        mass_kg=state.mass_g / 1000,
        peak_torque_nm=motor.peak_torque_nm,
        overall_ratio=max(reduction.overall_ratios),
        efficiency=reduction.efficiency.value,
        rolling_radius_m=tyre.rolling_radius_m,
        rolling_resistance=tyre.rolling_resistance.value + state.effects[1],
    )


def _cruise_margin(around: Surroundings, state: DriveState) -> float | None:
    road = _on_the_road(around, state)
    return None if road is None else cruise_power_margin_kw(**road, speed_km_h=CRUISE_SPEED_KM_H)


def _top_speed(around: Surroundings, state: DriveState) -> float | None:
    road = _on_the_road(around, state)
    motor, reduction, tyre = _drive_parts(around.parts(state))
    if road is None or motor is None or reduction is None or tyre is None:
        return None
    return top_speed_km_h(**road, geared_speed_km_h=_geared_speed(motor, reduction, tyre))


def _on_the_road(around: Surroundings, state: DriveState) -> dict[str, float] | None:
    """Gather what resistance and continuous power depend on; None without a drive."""
    motor, reduction, tyre = _drive_parts(around.parts(state))
    if motor is None or reduction is None or tyre is None:
        return None
    return {
        "mass_kg": state.mass_g / 1000,
        "drag_area_m2": around.offer.vehicle.drag_area_m2.value + state.effects[0],
        "rolling_resistance": tyre.rolling_resistance.value + state.effects[1],
        "drive_efficiency": reduction.efficiency.value,
        "continuous_power_kw": motor.continuous_power_kw,
        "air_density_kg_m3": air_density_kg_m3(15.0, 0.0),
    }


def _tyre_speed_margin(parts: Parts) -> float | None:
    motor, reduction, tyre = _drive_parts(parts)
    if motor is None or reduction is None or tyre is None:
        return None
    return tyre_speed_km_h(tyre.speed_symbol) - _geared_speed(motor, reduction, tyre)


def _geared_speed(motor: Motor, reduction: Reduction, tyre: Tyre) -> float:
    return geared_speed_km_h(
        max_speed_rpm=motor.max_speed_rpm,
        lowest_overall_ratio=min(reduction.overall_ratios),
        rolling_radius_m=tyre.rolling_radius_m,
    )


def _drive_parts(parts: Parts) -> tuple[Motor | None, Reduction | None, Tyre | None]:
    return parts.get("motor", Motor), parts.get("reduction", Reduction), parts.get("tyre", Tyre)


def _usable_energy_kwh(parts: Parts) -> float | None:
    pack = parts.get("pack", Pack)
    return None if pack is None else pack.capacity_kwh * pack.usable_percent / 100


def _user_of_pack(parts: Parts, slot: Slot) -> Motor | Charger | None:
    return parts.get("motor", Motor) if slot == "motor" else parts.get("charger", Charger)


def _over_v(parts: Parts, slot: Slot) -> float | None:
    pack, user = parts.get("pack", Pack), _user_of_pack(parts, slot)
    return None if pack is None or user is None else pack.full_voltage_v - user.max_voltage_v


def _under_v(parts: Parts, slot: Slot) -> float | None:
    pack, user = parts.get("pack", Pack), _user_of_pack(parts, slot)
    return None if pack is None or user is None else user.min_voltage_v - pack.empty_voltage_v


def _charging_hours_from(source: ChargingSource) -> Callable[[Parts], float | None]:
    def hours(parts: Parts) -> float | None:
        pack = parts.get("pack", Pack)
        power_kw = None if pack is None else charging_power_kw(source, parts, pack)
        if pack is None or power_kw is None:
            return None
        return charging_hours(
            usable_energy_kwh=pack.capacity_kwh * pack.usable_percent / 100,
            from_percent=source.from_percent,
            to_percent=source.to_percent,
            power_kw=power_kw,
            taper_from_percent=TAPER_FROM_PERCENT[source.supply],
            end_power_share=END_POWER_SHARE[source.supply],
        )

    return hours


def charging_power_kw(source: ChargingSource, parts: Parts, pack: Pack) -> float | None:
    """Tell the power into the pack before any taper [kW]; None where nothing takes it."""
    if source.supply == "dc":
        inlet = parts.get("dc_inlet", DcInlet)
        return (
            None
            if inlet is None
            else dc_power_kw(
                source_max_power_kw=source.max_power_kw,
                source_current_a=source.current_a,
                inlet_max_power_kw=inlet.max_power_kw,
                inlet_max_current_a=inlet.max_current_a,
                pack_nominal_voltage_v=pack.nominal_voltage_v,
                pack_peak_charge_kw=pack.peak_charge_kw,
            )
        )
    charger = parts.get("charger", Charger)
    return (
        None
        if charger is None
        else ac_power_kw(
            source_voltage_v=source.voltage_v,
            source_current_a=source.current_a,
            source_phases=source.phases,
            source_max_power_kw=source.max_power_kw,
            charger_power_kw=charger.ac_power_kw,
            charger_phases=charger.phases,
            charger_max_current_a=charger.max_current_a,
            charger_efficiency=charger.efficiency,
            pack_peak_charge_kw=pack.peak_charge_kw,
        )
    )
