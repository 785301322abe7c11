"""Range by driving case: from the components, effects and mass of a build to a band."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache
from threading import Lock

from configurator.build_spec.drive_facts import DriveFact, Surroundings
from configurator.build_spec.drive_state import DriveState
from configurator.build_spec.driving_inputs import load_of, road_vehicle
from configurator.catalog.models.catalog import DrivingCycle
from configurator.catalog.models.component import (
    Slot,
    Tyre,
)
from configurator.catalog.models.rule import FactName
from configurator.catalog.models.workshop import DrivingCase
from configurator.physics.range_band import RangeBand, range_bands_of_table
from configurator.physics.road_vehicle import Trip
from configurator.physics.trip_arrays import trip_arrays
from configurator.physics.vehicle_table import (
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
            "capacity_percent_at",
            "chemistry",
            "resistance_ohm",
            "resistance_percent_at",
            "nominal_voltage_v",
            "peak_discharge_kw",
        }
    ),
    "motor": frozenset(
        {
            "efficiency",
            "efficiency_by_load",
            "recovery_efficiency",
            "no_load_loss_w",
            "no_load_loss_sigma_percent",
            "peak_power_kw",
        }
    ),
    "reduction": frozenset({"efficiency"}),
    "tyre": frozenset({"rolling_resistance", "rolling_growth_percent"}),
    "converter": frozenset({"efficiency"}),
}
HEATING_READS = frozenset({"max_heat_kw", "coefficient_of_performance"})
COOLING_READS = frozenset({"max_cooling_kw", "cooling_coefficient"})
AGED_READS = frozenset(
    {"aged_capacity_percent", "aged_capacity_sigma_percent", "aged_resistance_percent"}
)
NEEDED_SLOTS: tuple[Slot, ...] = ("pack", "motor", "reduction", "tyre")

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
    case = memory.case
    effects = (True, True, case.temperature_c != case.cabin_c, True)
    return DriveFact(name, case.id, _reads(case), effects, case.load, falls, evaluate)


def _reads(case: DrivingCase) -> dict[Slot, frozenset[str]]:
    """Tell which fields of the components a case reads."""
    reads = dict(RANGE_READS)
    if case.temperature_c != case.cabin_c:
        heats = case.temperature_c < case.cabin_c
        reads["heater"] = HEATING_READS if heats else COOLING_READS
    if case.battery == "aged":
        reads["pack"] |= AGED_READS
    return reads


@lru_cache(maxsize=64)
def _metres_per_second(speed_km_h: tuple[float, ...]) -> tuple[float, ...]:
    return tuple(speed / KM_H_PER_M_S for speed in speed_km_h)


def trip_of(case: DrivingCase, cycles: dict[str, DrivingCycle]) -> Trip:
    """Turn a driving case into the trip that physics drives."""
    trip = Trip(
        speed_m_s=() if case.cycle is None else _metres_per_second(cycles[case.cycle].speed_km_h),
        steady_m_s=None if case.steady_km_h is None else case.steady_km_h / KM_H_PER_M_S,
        temperature_c=case.temperature_c,
        cabin_c=case.cabin_c,
        altitude_m=case.altitude_m,
    )
    if case.km_between_starts is None:
        return trip
    driven = trip_arrays(trip)
    seconds = 1000 * case.km_between_starts * driven.duration_s / driven.distance_m
    return replace(trip, seconds_between_starts=seconds)
