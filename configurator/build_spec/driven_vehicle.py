"""A vehicle as its measured trips tell: the consumption that they move, the doubt they leave."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace

from configurator.build_spec.drive_facts import Surroundings
from configurator.build_spec.drive_state import drive_state
from configurator.build_spec.driven_conditions import conditions_of
from configurator.build_spec.driving_inputs import road_vehicle
from configurator.build_spec.offer import Offer
from configurator.build_spec.range_facts import trip_of
from configurator.build_spec.sums import DRIVER_KG, mass_sums
from configurator.catalog.models.build import BuildInput
from configurator.catalog.models.catalog import Catalog
from configurator.catalog.models.measurements import MeasuredTrip
from configurator.catalog.models.vehicle import DrivenConditions, Vehicle
from configurator.catalog.models.workshop import DrivingCase
from configurator.physics.measured_trips import (
    ConsumptionFactor,
    consumption_factor,
    factor_elsewhere,
)
from configurator.physics.range_band import Z_OF_P90, range_bands
from configurator.physics.road_vehicle import RoadVehicle
from configurator.rules.problem import Quantity
from configurator.units import grams

COMMON_SIGMA = 0.03
"""What all trips have in common, the driver and the battery's monitor, and no number of them evens
out; as a standard deviation of the logarithm. Common practice, no source."""


def as_driven(
    catalog: Catalog, offer: Offer, build: BuildInput, choices: Mapping[str, str]
) -> Vehicle | None:
    """Move and narrow the consumption by measured trips; the doubt before is the mean of theirs.

    Raises
    ------
    MeasurementError
        If a trip is too far from what was computed for it.
    """
    cases = {case.id: case for case in catalog.driving_cases}
    ratios, sigmas, driven = [], [], []
    for trip in build.measurements.trips:
        if trip.case not in cases:
            continue
        computed = _on_the_road(catalog, offer, build, choices, cases[trip.case])
        if computed is None:
            continue
        ratio, sigma = _against(catalog, computed, trip, cases[trip.case])
        ratios.append(ratio)
        sigmas.append(sigma)
        driven.append(conditions_of(cases[trip.case]))
    if not ratios:
        return None
    prior_sigma = math.sqrt(math.fsum(sigma**2 for sigma in sigmas) / len(sigmas))
    factor = consumption_factor(ratios, prior_sigma=prior_sigma)
    doubt = min(math.hypot(factor.sigma, COMMON_SIGMA), prior_sigma)
    told = ConsumptionFactor(factor.factor, doubt)
    return _learnt(offer.vehicle, told, prior_sigma, tuple(dict.fromkeys(driven)))


def _learnt(
    vehicle: Vehicle,
    told: ConsumptionFactor,
    prior_sigma: float,
    driven: tuple[DrivenConditions, ...],
) -> Vehicle:
    elsewhere = factor_elsewhere(told, prior_sigma=prior_sigma)
    load = vehicle.measured_road_load.model_copy(
        update={
            "consumption_factor": told.factor,
            "doubt_left": told.sigma / prior_sigma if prior_sigma > 0 else 1.0,
            "driven": driven,
            "consumption_factor_elsewhere": elsewhere.factor,
            "doubt_left_elsewhere": elsewhere.sigma / prior_sigma if prior_sigma > 0 else 1.0,
        }
    )
    return vehicle.model_copy(update={"measured_road_load": load})


def _against(
    catalog: Catalog, vehicle: RoadVehicle, trip: MeasuredTrip, case: DrivingCase
) -> tuple[float, float]:
    """Give measured by computed energy for each kilometre, and the doubt of the computed one."""
    driven = trip_of(case, {cycle.id: cycle for cycle in catalog.cycles})
    band = range_bands([replace(vehicle, usable_energy_sigma_percent=0.0)], driven)[0]
    measured_wh_per_km = 1000 * trip.energy_kwh / trip.km
    sigma = math.log(band.high_km / band.mid_km) / Z_OF_P90
    return measured_wh_per_km / band.consumption_wh_per_km, sigma


def _on_the_road(
    catalog: Catalog,
    offer: Offer,
    build: BuildInput,
    choices: Mapping[str, str],
    case: DrivingCase,
) -> RoadVehicle | None:
    masses = mass_sums(offer, build)
    kerb = masses.kerb_g
    with_driver = Quantity(kerb.constant + grams(DRIVER_KG), kerb.weights)
    mass_g = with_driver if case.load == "driver" else masses.laden_g
    return road_vehicle(Surroundings(catalog, offer), case, drive_state(offer, choices, mass_g))
