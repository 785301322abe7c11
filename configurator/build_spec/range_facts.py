"""Range by driving case: from the components, effects and mass of a build to a band."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from threading import Lock

from configurator.build_spec.drive_facts import DriveFact, Surroundings
from configurator.build_spec.drive_state import DriveState
from configurator.catalog.models.catalog import DrivingCycle
from configurator.catalog.models.component import (
    Converter,
    Heater,
    Motor,
    Pack,
    Reduction,
    Slot,
    Tyre,
)
from configurator.catalog.models.rule import FactName
from configurator.catalog.models.workshop import DrivingCase
from configurator.physics.range_band import RangeBand, range_bands_of_table
from configurator.physics.road_vehicle import RoadVehicle, Trip
from configurator.physics.vehicle_table import (
    Load,
    VehicleRow,
    table_of_rows,
    vehicle_row,
    with_load,
)
from configurator.units import KM_H_PER_M_S

RANGE_READS: dict[Slot, frozenset[str]] = {
    "pack": frozenset(
        {
            "capacity_kwh",
            "usable_percent",
            "capacity_sigma_percent",
            "aged_capacity_percent",
            "resistance_ohm",
            "nominal_voltage_v",
            "peak_discharge_kw",
        }
    ),
    "motor": frozenset({"efficiency", "recovery_efficiency", "no_load_loss_w", "peak_power_kw"}),
    "reduction": frozenset({"efficiency"}),
    "tyre": frozenset({"rolling_resistance"}),
    "converter": frozenset({"efficiency"}),
    "heater": frozenset({"max_heat_kw", "coefficient_of_performance"}),
}
NEEDED_SLOTS: tuple[Slot, ...] = ("pack", "motor", "reduction", "tyre")

RECOVERY_SHARE = {"front": 0.7, "rear": 0.5}
"""Share of the braking that the driven axle can do. Common practice, no source: the front axle
carries most of the braking; the rest is left to the friction brakes for stability."""

CONVERTER_EFFICIENCY_WITHOUT = 0.90
"""Of the 12 V supply where no converter is named; common practice, no source."""

REMEMBERED = 20_000
"""Bands kept before the memory starts afresh."""

Slots = tuple[tuple[Slot, str], ...]
"""As `DriveState.slots`."""

_BAND_FACTS: dict[FactName, Callable[[RangeBand], float]] = {
    "range_low_km": lambda band: band.low_km,
    "range_mid_km": lambda band: band.mid_km,
    "range_high_km": lambda band: band.high_km,
    "consumption_wh_per_km": lambda band: band.consumption_wh_per_km,
}


@dataclass(frozen=True)
class _Fitted:
    """What the components of a state come to on one trip."""

    row: VehicleRow
    tyre: Tyre


@dataclass
class RangeMemory:
    """Bands already computed for one driving case; several threads may ask.

    Few sets of components carry many loads, so the numbers of a set are gathered once.
    """

    around: Surroundings
    case: DrivingCase
    trip: Trip
    _bands: dict[DriveState, RangeBand] = field(default_factory=dict)
    _fitted: dict[Slots, _Fitted | None] = field(default_factory=dict)
    _lock: Lock = field(default_factory=Lock)

    def bands(self, states: Sequence[DriveState]) -> list[RangeBand | None]:
        """Give the band of each state; None where a part is missing that driving needs."""
        with self._lock:
            if len(self._bands) > REMEMBERED:
                self._bands.clear()
                self._fitted.clear()
            drivable = {
                state: with_load(fitted.row, load_of(self.around, fitted.tyre, state))
                for state in states
                if state not in self._bands and (fitted := self._fit(state)) is not None
            }
            if drivable:
                table = table_of_rows(list(drivable.values()))
                computed = range_bands_of_table(table, self.trip)
                self._bands.update(zip(drivable, computed, strict=True))
            return [self._bands.get(state) for state in states]

    def _fit(self, state: DriveState) -> _Fitted | None:
        if state.slots not in self._fitted:
            vehicle = road_vehicle(self.around, self.case, state)
            tyre = self.around.parts(state).get("tyre", Tyre)
            self._fitted[state.slots] = (
                None
                if vehicle is None or tyre is None
                else _Fitted(vehicle_row(vehicle, self.trip), tyre)
            )
        return self._fitted[state.slots]


def range_facts(around: Surroundings) -> list[DriveFact]:
    """Range and consumption in every driving case of the catalog."""
    cycles = {cycle.id: cycle for cycle in around.catalog.cycles}
    facts: list[DriveFact] = []
    for case in around.catalog.driving_cases:
        memory = RangeMemory(around, case, trip_of(case, cycles))
        facts += [_range_fact(name, memory) for name in _BAND_FACTS]
    return facts


def _range_fact(name: FactName, memory: RangeMemory) -> DriveFact:
    take = _BAND_FACTS[name]

    def evaluate(states: Sequence[DriveState]) -> list[float | None]:
        return [None if band is None else take(band) for band in memory.bands(states)]

    falls = name != "consumption_wh_per_km"
    reads = dict(RANGE_READS)
    heats = memory.case.temperature_c < memory.case.cabin_c
    if not heats:
        del reads["heater"]
    effects = (True, True, heats, True)
    return DriveFact(name, memory.case.id, reads, effects, memory.case.load, falls, evaluate)


def trip_of(case: DrivingCase, cycles: dict[str, DrivingCycle]) -> Trip:
    """Turn a driving case into the trip that physics drives."""
    trace = () if case.cycle is None else cycles[case.cycle].speed_km_h
    return Trip(
        speed_m_s=tuple(speed / KM_H_PER_M_S for speed in trace),
        steady_m_s=None if case.steady_km_h is None else case.steady_km_h / KM_H_PER_M_S,
        temperature_c=case.temperature_c,
        cabin_c=case.cabin_c,
        altitude_m=case.altitude_m,
    )


def road_vehicle(around: Surroundings, case: DrivingCase, state: DriveState) -> RoadVehicle | None:
    """Assemble the inputs of the energy model; None where a needed part is missing."""
    parts = around.parts(state)
    pack, motor = parts.get("pack", Pack), parts.get("motor", Motor)
    reduction, tyre = parts.get("reduction", Reduction), parts.get("tyre", Tyre)
    if pack is None or motor is None or reduction is None or tyre is None:
        return None
    vehicle = around.offer.vehicle
    gear = reduction.efficiency.value
    aged = pack.aged_capacity_percent / 100 if case.battery == "aged" else 1.0
    heater, converter = parts.get("heater", Heater), parts.get("converter", Converter)
    return RoadVehicle(
        **load_of(around, tyre, state)._asdict(),
        drive_efficiency=motor.efficiency.value * gear,
        no_load_loss_w=motor.no_load_loss_w,
        recovery_efficiency=motor.recovery_efficiency.value * gear,
        recovery_share=RECOVERY_SHARE[vehicle.driven_axle],
        converter_efficiency=converter.efficiency if converter else CONVERTER_EFFICIENCY_WITHOUT,
        heater_max_heat_w=heater.max_heat_kw * 1000 if heater else 0.0,
        heater_cop=_cop_points(heater),
        usable_energy_wh=1000 * pack.capacity_kwh * aged * pack.usable_percent / 100,
        resistance_ohm=pack.resistance_ohm,
        nominal_voltage_v=pack.nominal_voltage_v,
        peak_power_w=1000
        * gear
        * min(motor.peak_power_kw, pack.peak_discharge_kw * motor.efficiency.value),
        mass_sigma_kg=vehicle.mass_sigma_kg,
        drag_area_sigma_percent=vehicle.drag_area_m2.sigma_percent,
        rolling_resistance_sigma_percent=tyre.rolling_resistance.sigma_percent,
        drive_efficiency_sigma_percent=math.hypot(
            motor.efficiency.sigma_percent, reduction.efficiency.sigma_percent
        ),
        auxiliary_power_sigma_percent=vehicle.auxiliary_power_w.sigma_percent,
        cabin_heat_loss_sigma_percent=vehicle.cabin_heat_loss_w_per_k.sigma_percent,
        usable_energy_sigma_percent=pack.capacity_sigma_percent,
    )


def load_of(around: Surroundings, tyre: Tyre, state: DriveState) -> Load:
    """Add what the options of a state change to what the vehicle and its tyres have."""
    vehicle = around.offer.vehicle
    drag, rolling, heat_loss, auxiliary = state.effects
    return Load(
        mass_kg=state.mass_g / 1000,
        drag_area_m2=vehicle.drag_area_m2.value + drag,
        rolling_resistance=tyre.rolling_resistance.value + rolling,
        auxiliary_power_w=max(0.0, vehicle.auxiliary_power_w.value + auxiliary),
        cabin_heat_loss_w_per_k=max(0.0, vehicle.cabin_heat_loss_w_per_k.value + heat_loss),
    )


def _cop_points(heater: Heater | None) -> tuple[tuple[float, float], ...]:
    if heater is None:
        return ()
    return tuple(sorted((float(t), cop) for t, cop in heater.coefficient_of_performance.items()))
