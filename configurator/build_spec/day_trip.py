"""A customer's day as the trip and the vehicle that physics drives."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace

from configurator.build_spec.day_result import Road
from configurator.build_spec.drive_state import drive_state
from configurator.build_spec.driving_inputs import road_vehicle
from configurator.build_spec.fact_book import FactBook
from configurator.build_spec.sums import DRIVER_KG
from configurator.catalog.models.catalog import DrivingCycle
from configurator.catalog.models.day import CustomersDay, DayRoads, Trailer
from configurator.catalog.models.workshop import DrivingCase
from configurator.physics.road_vehicle import Leg, RoadVehicle, Trip
from configurator.physics.trip_arrays import trip_arrays
from configurator.rules.problem import Quantity
from configurator.units import KM_H_PER_M_S, grams

TRAILER_MASS_SIGMA_PERCENT = 10.0
TRAILER_DRAG_SIGMA_PERCENT = 25.0
TRAILER_ROLLING_SIGMA_PERCENT = 20.0
"""Doubt about a trailer that nobody weighed; common practice, no source."""

METRES_PER_KM = 1000.0


def legs_by_road(
    day: CustomersDay, roads: DayRoads, cycles: Mapping[str, DrivingCycle]
) -> dict[Road, tuple[Leg, ...]]:
    """Split a day into legs: each road has its share of climbing, falling and level kilometres.

    Parameters
    ----------
    day : CustomersDay
        Distances [km], metres climbed and descended [m].
    roads : DayRoads
        Which cycles stand for town and country, how steep hills are [%].
    cycles : mapping
        Cycles by id.

    Returns
    -------
    dict
        Road → its legs; roads that are not driven are left out.

    Source
    ------
    Way uphill = metres climbed / sin(atan(slope)). Where hills of that slope would be longer than
    the day, they are as much steeper as it takes.
    """
    town, country = (_trace(cycles[cycle]) for cycle in (roads.town, roads.country))
    driven: dict[Road, Leg] = {
        "town": Leg(distance_m=METRES_PER_KM * day.town_km, speed_m_s=town),
        "country": Leg(distance_m=METRES_PER_KM * day.country_km, speed_m_s=country),
        "motorway": Leg(
            distance_m=METRES_PER_KM * day.motorway_km,
            steady_m_s=day.motorway_km_h / KM_H_PER_M_S,
        ),
    }
    stretches = _stretches(day, roads)
    return {
        road: tuple(
            replace(leg, distance_m=leg.distance_m * share, slope_percent=slope)
            for slope, share in stretches.items()
        )
        for road, leg in driven.items()
        if leg.distance_m > 0
    }


def _stretches(day: CustomersDay, roads: DayRoads) -> dict[float, float]:
    """Slope [%] → share of the way that has it."""
    way_m = METRES_PER_KM * day.distance_km
    hills_m = day.climbed_m + day.descended_m
    rise = max(math.sin(math.atan(roads.hill_percent / 100)), hills_m / way_m)
    slope = 100 * math.tan(math.asin(rise))
    up, down = day.climbed_m / rise / way_m, day.descended_m / rise / way_m
    level = 1 - up - down
    shares = {0.0: level if level > 1e-12 else 0.0, slope: up, -slope: down}
    return {slope: share for slope, share in shares.items() if share > 0}


def _trace(cycle: DrivingCycle) -> tuple[float, ...]:
    return tuple(speed / KM_H_PER_M_S for speed in cycle.speed_km_h)


def trip_of_legs(day: CustomersDay, legs: tuple[Leg, ...], *, all_legs: tuple[Leg, ...]) -> Trip:
    """Make the trip of some legs of a day, in the weather of the day.

    The cabin is cold as often by the hour in each leg as it is in the whole day.
    """
    trip = Trip(
        legs=all_legs,
        temperature_c=day.temperature_c,
        cabin_c=day.cabin_c,
        altitude_m=day.altitude_m,
    )
    starts = day.cold_starts - day.preheats
    between_s = trip_arrays(trip).duration_s / starts if starts else None
    return replace(trip, legs=legs, seconds_between_starts=between_s)


def day_vehicle(
    book: FactBook, choices: Mapping[str, str], day: CustomersDay, battery: str
) -> RoadVehicle | None:
    """Assemble the vehicle of a day, trailer behind; None where a part is missing to drive."""
    case = DrivingCase(
        id="the-customers-day",
        label="The customer's day",
        steady_km_h=day.motorway_km_h,
        temperature_c=day.temperature_c,
        cabin_c=day.cabin_c,
        pack_c=day.battery_c,
        altitude_m=day.altitude_m,
        battery="aged" if battery == "aged" else "new",
    )
    every_effect = book.offer.reading((True, True, True, True))
    state = drive_state(every_effect, choices, day_mass(book, day))
    vehicle = road_vehicle(book.around, case, state)
    if vehicle is None or day.trailer is None:
        return vehicle
    return with_trailer_behind(vehicle, day.trailer)


def day_mass(book: FactBook, day: CustomersDay) -> Quantity:
    """Sum what the vehicle weighs on the day, without a trailer [g]."""
    if day.load == "laden":
        return book.masses.laden_g
    kerb = book.masses.kerb_g
    return Quantity(kerb.constant + grams(DRIVER_KG + (day.load_kg or 0.0)), kerb.weights)


def with_trailer_behind(vehicle: RoadVehicle, trailer: Trailer) -> RoadVehicle:
    """Hang a trailer on a vehicle.

    Parameters
    ----------
    vehicle : RoadVehicle
        Alone.
    trailer : Trailer
        Mass [kg], drag area [m²] and rolling resistance that it adds.

    Returns
    -------
    RoadVehicle
        The two together: masses and drag areas add, rolling resistances by their weights; the
        driven axle grips with the vehicle's weight alone.

    Source
    ------
    Forces add. The doubts about the trailer are `TRAILER_…_SIGMA_PERCENT`, independent of the
    vehicle's.

    Examples
    --------
    >>> from configurator.physics.example_van import EXAMPLE_VAN
    >>> behind = with_trailer_behind(EXAMPLE_VAN, Trailer(mass_kg=600, drag_area_m2=0.8))
    >>> behind.mass_kg - EXAMPLE_VAN.mass_kg, round(behind.drag_area_m2, 2)
    (600.0, 2.0)
    """
    mass_kg = vehicle.mass_kg + trailer.mass_kg
    area_m2 = vehicle.drag_area_m2 + trailer.drag_area_m2
    own_n, pulled_n = (
        vehicle.rolling_resistance * vehicle.mass_kg,
        trailer.rolling_resistance * trailer.mass_kg,
    )
    rolling_n = own_n + pulled_n
    return replace(
        vehicle,
        mass_kg=mass_kg,
        drag_area_m2=area_m2,
        rolling_resistance=rolling_n / mass_kg,
        recovery_grip=vehicle.recovery_grip * vehicle.mass_kg / mass_kg,
        mass_sigma_kg=math.hypot(
            vehicle.mass_sigma_kg, trailer.mass_kg * TRAILER_MASS_SIGMA_PERCENT / 100
        ),
        drag_area_sigma_percent=math.hypot(
            vehicle.drag_area_sigma_percent * vehicle.drag_area_m2,
            TRAILER_DRAG_SIGMA_PERCENT * trailer.drag_area_m2,
        )
        / area_m2,
        rolling_resistance_sigma_percent=math.hypot(
            vehicle.rolling_resistance_sigma_percent * own_n,
            TRAILER_ROLLING_SIGMA_PERCENT * pulled_n,
        )
        / rolling_n,
    )
