"""A day driven with complete choices, and how it ends with a new or an aged battery."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from statistics import NormalDist
from typing import Literal

from configurator.build_spec.compiled import Compiled
from configurator.build_spec.day_charging import Halfway, Supply, halfway, supply_of
from configurator.build_spec.day_result import DayOutcome, Road
from configurator.build_spec.day_trip import day_vehicle, legs_by_road, trip_of_legs
from configurator.catalog.models.day import CustomersDay
from configurator.physics.cell_energy import cell_energies
from configurator.physics.range_band import Z_OF_P90, range_bands, variance_shares
from configurator.physics.road_vehicle import Leg, RoadVehicle, Trip
from configurator.physics.vehicle_table import vehicle_table

STORED_DECIMALS = 3
Battery = Literal["new", "aged"]


@dataclass(frozen=True)
class DrivenDay:
    """A day as physics drives it, with one age of the battery."""

    vehicle: RoadVehicle
    legs: Mapping[Road, tuple[Leg, ...]]
    trip: Trip
    day: CustomersDay

    @property
    def usable_kwh(self) -> float:
        """What the battery gives from full to empty."""
        return self.vehicle.usable_energy_wh / 1000

    def joules_by_road(self) -> dict[Road, float]:
        """Energy out of the cells on each kind of road; below 0 where hills give back more.

        Together they are what the whole day takes, with what measured trips say of it.
        """
        found: dict[Road, float] = {}
        for road, legs in self.legs.items():
            part = trip_of_legs(self.day, legs, all_legs=self.trip.legs)
            table = vehicle_table([self.vehicle], part)
            joules = float(cell_energies(table, part).joules[0])
            found[road] = joules * self.vehicle.consumption_factor
        return found


@dataclass(frozen=True)
class DayAsked:
    """A day asked of complete choices, with where it charges."""

    compiled: Compiled
    choices: Mapping[str, str]
    day: CustomersDay
    supply: Supply

    def driven(self, battery: Battery) -> DrivenDay | None:
        """Prepare the day with one age of the battery; None where a part is missing to drive."""
        catalog, day = self.compiled.catalog, self.day
        vehicle = day_vehicle(self.compiled.book, self.choices, day, battery)
        if vehicle is None:
            return None
        cycles = {cycle.id: cycle for cycle in catalog.cycles}
        legs = legs_by_road(day, catalog.workshop.day, cycles)
        whole = tuple(leg for parts in legs.values() for leg in parts)
        return DrivenDay(vehicle, legs, trip_of_legs(day, whole, all_legs=whole), day)

    def with_day(self, day: CustomersDay) -> DayAsked:
        """Ask another day of the same choices."""
        return replace(self, day=day)

    def halfway(self, usable_kwh: float) -> Halfway:
        """Describe what is charged halfway."""
        return halfway(self.day, self.supply, usable_kwh)


def ask_day(compiled: Compiled, choices: Mapping[str, str], day: CustomersDay) -> DayAsked:
    """Ask a day of complete choices."""
    supply = supply_of(compiled.catalog, day, compiled.book.parts_of(choices))
    return DayAsked(compiled, choices, day, supply)


def outcome(battery: Battery, driven: DrivenDay, charging: Halfway) -> DayOutcome:
    """Tell how a day ends with one age of the battery."""
    band = range_bands([driven.vehicle], driven.trip)[0]
    shares = variance_shares([driven.vehicle], driven.trip)[0]
    sigma = math.log(band.high_km / band.low_km) / (2 * Z_OF_P90)
    used_factor = math.exp(Z_OF_P90 * sigma * math.sqrt(max(1 - shares["usable energy"], 0.0)))
    distance_km, usable_kwh = driven.day.distance_km, driven.usable_kwh
    used_kwh = usable_kwh * distance_km / band.mid_km
    longest_low_km = charging.longest_share * band.low_km
    longest_mid_km = charging.longest_share * band.mid_km
    by_edge = [distance_km / km for km in (band.low_km, band.mid_km, band.high_km)]
    left = [stored(100 * charging.left_on_return(share)) for share in by_edge]
    return DayOutcome(
        battery=battery,
        usable_kwh=stored(usable_kwh),
        used_low_kwh=stored(used_kwh / used_factor),
        used_mid_kwh=stored(used_kwh),
        used_high_kwh=stored(used_kwh * used_factor),
        left_low_percent=left[0],
        left_mid_percent=left[1],
        left_high_percent=left[2],
        least_low_percent=stored(100 * charging.least_left(by_edge[0])),
        spare_low_km=stored(longest_low_km - distance_km),
        spare_mid_km=stored(longest_mid_km - distance_km),
        fits=longest_low_km >= distance_km,
        likelihood_percent=stored(100 * _likelihood(longest_mid_km / distance_km, sigma)),
    )


def _likelihood(longest_by_asked: float, sigma: float) -> float:
    if sigma == 0:
        return float(longest_by_asked >= 1)
    return NormalDist().cdf(math.log(longest_by_asked) / sigma)


def stored(value: float) -> float:
    """Round a number as the Spec keeps it."""
    return round(value, STORED_DECIMALS)
