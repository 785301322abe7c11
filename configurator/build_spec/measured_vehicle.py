"""A vehicle as it was measured: weighed, coasted down, driven."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace
from functools import lru_cache

from configurator.build_spec.drive_facts import Surroundings
from configurator.build_spec.drive_state import drive_state, sum_effects
from configurator.build_spec.driving_inputs import road_vehicle
from configurator.build_spec.offer import Offer
from configurator.build_spec.range_facts import trip_of
from configurator.build_spec.sums import DRIVER_KG, mass_sums
from configurator.build_spec.weight_doubt import WEIGHBRIDGE_SIGMA_KG
from configurator.catalog.models.build import BuildInput
from configurator.catalog.models.catalog import Catalog
from configurator.catalog.models.data import UncertainValue
from configurator.catalog.models.measurements import CoastDown, MeasuredTrip
from configurator.catalog.models.vehicle import MeasuredRoadLoad, Vehicle
from configurator.catalog.models.workshop import DrivingCase
from configurator.errors import Fault, MeasurementError
from configurator.physics.air_density import air_density_kg_m3
from configurator.physics.coast_down import CoastDownFit, CoastDownRun, fit_coast_down
from configurator.physics.measured_trips import ConsumptionFactor, consumption_factor
from configurator.physics.range_band import Z_OF_P90, range_bands
from configurator.physics.road_vehicle import RoadVehicle
from configurator.rules.problem import Quantity
from configurator.units import KM_H_PER_M_S, grams

COMMON_SIGMA = 0.03
"""What all trips have in common, the driver and the battery's monitor, and no number of them evens
out; as a standard deviation of the logarithm. Common practice, no source."""

FITS_KEPT = 32
"""Coast-downs whose fit is remembered; each pick asks for it again."""

DOUBT_OF_DAY = 0.03
"""What one day's wind and road leave in doubt of drag area and of rolling resistance, each as a
share of its value, whatever the runs' own scatter: a steady 2 m/s along the road moves both by
3 %, computed; gusts of 1 m/s move a mean of six runs as much. Common practice, no source."""

DOUBT_OF_PARTS = 0.5
"""Share of a computed mass's doubt that stays once the donor is weighed: that of the parts. Common
practice, no source."""


@lru_cache(maxsize=FITS_KEPT)
def coast_down_fit(coast_down: CoastDown) -> CoastDownFit:
    """Fit drag area and rolling resistance to the runs of a day, with the day's own doubt.

    Raises
    ------
    MeasurementError
        If they cannot be fitted.
    """
    runs = [
        CoastDownRun(run.time_s, tuple(speed / KM_H_PER_M_S for speed in run.speed_km_h))
        for run in coast_down.runs
    ]
    density = air_density_kg_m3(coast_down.temperature_c, coast_down.altitude_m)
    return _with_doubt_of_day(
        fit_coast_down(runs, mass_kg=coast_down.mass_kg, air_density_kg_m3=density)
    )


def _with_doubt_of_day(fit: CoastDownFit) -> CoastDownFit:
    drag = math.hypot(fit.drag_area_sigma_m2, DOUBT_OF_DAY * fit.drag_area_m2)
    rolling = math.hypot(fit.rolling_resistance_sigma, DOUBT_OF_DAY * fit.rolling_resistance)
    together = fit.correlation * fit.drag_area_sigma_m2 * fit.rolling_resistance_sigma
    return replace(
        fit,
        drag_area_sigma_m2=drag,
        rolling_resistance_sigma=rolling,
        correlation=together / (drag * rolling),
    )


def was_on_the_road(build: BuildInput) -> bool:
    """Tell whether anything measured on the road may change what the physics reads."""
    return build.measurements.coast_down is not None or bool(build.measurements.trips)


def as_measured(
    catalog: Catalog, offer: Offer, build: BuildInput, choices: Mapping[str, str]
) -> Offer:
    """Put what was measured on the road in place of what the catalog assumes.

    What was measured on the finished vehicle counts while all its choices are made, because it
    holds for them alone. On the donor a coast-down tells the drag; its tyres are not kept.

    Parameters
    ----------
    catalog, offer, build
        What is known of the build; the offer as weighed.
    choices : mapping
        Group → option, as far as settled.

    Raises
    ------
    MeasurementError
        If a coast-down cannot be fitted.
    """
    vehicle = offer.vehicle
    complete = len(choices) == len(offer.groups)
    coast_down = build.measurements.coast_down
    if coast_down is not None and (complete or coast_down.vehicle_was == "donor"):
        vehicle = _coasted_down(vehicle, coast_down, offer, choices)
    measured = offer.of_vehicle(vehicle)
    if complete and build.measurements.trips:
        driven = _driven(catalog, measured, build, choices)
        if driven is not None:
            measured = offer.of_vehicle(driven)
    return measured


def as_weighed(offer: Offer, build: BuildInput) -> Offer:
    """Narrow the doubt about the mass where the donor was weighed."""
    donor, sigma_kg = build.donor, offer.vehicle.mass_sigma_kg
    if donor.front_axle_kg is None or donor.rear_axle_kg is None:
        return offer
    weighed_kg = math.hypot(DOUBT_OF_PARTS * sigma_kg, math.sqrt(2) * WEIGHBRIDGE_SIGMA_KG)
    narrowed = {"mass_sigma_kg": min(sigma_kg, weighed_kg)}
    return offer.of_vehicle(offer.vehicle.model_copy(update=narrowed))


def _coasted_down(
    vehicle: Vehicle, coast_down: CoastDown, offer: Offer, choices: Mapping[str, str]
) -> Vehicle:
    fit = coast_down_fit(coast_down)
    source = f"coast-down of {coast_down.measured_on.isoformat()}"
    if coast_down.vehicle_was == "donor":
        drag = _measured(fit.drag_area_m2, fit.drag_area_sigma_m2, 0.0, source)
        return vehicle.model_copy(update={"drag_area_m2": drag})
    # The options' effects are in what was measured and are added again later.
    in_drag, in_rolling, _, _ = sum_effects(offer.vectors_of(offer.options_of(choices)))
    measured = MeasuredRoadLoad(
        rolling_resistance=_measured(
            fit.rolling_resistance, fit.rolling_resistance_sigma, in_rolling, source
        ),
        drag_rolling_correlation=fit.correlation,
    )
    drag = _measured(fit.drag_area_m2, fit.drag_area_sigma_m2, in_drag, source)
    return vehicle.model_copy(update={"drag_area_m2": drag, "measured_road_load": measured})


def _measured(value: float, sigma: float, inside: float, source: str) -> UncertainValue:
    """State a measured value without what the options bring, its doubt in per cent of the whole."""
    if value <= inside:
        what = f"{value:.4g} was measured, and the choices alone bring {inside:.4g}"
        remedy = "Check the test's mass and runs, or the effects of the options in the catalog."
        raise MeasurementError([Fault("M024", "coast-down", what, remedy)])
    return UncertainValue(
        value=value - inside,
        sigma_percent=min(100 * sigma / value, 60.0),
        basis="measured",
        source=source,
    )


def _driven(
    catalog: Catalog, offer: Offer, build: BuildInput, choices: Mapping[str, str]
) -> Vehicle | None:
    """Narrow the consumption by trips; the doubt before is the mean one of the trips' cases."""
    cases = {case.id: case for case in catalog.driving_cases}
    ratios, sigmas = [], []
    for trip in build.measurements.trips:
        if trip.case not in cases:
            continue
        computed = _on_the_road(catalog, offer, build, choices, cases[trip.case])
        found = None if computed is None else _against(catalog, computed, trip, cases[trip.case])
        if found is not None:
            ratios.append(found[0])
            sigmas.append(found[1])
    if not ratios:
        return None
    prior_sigma = math.sqrt(math.fsum(sigma**2 for sigma in sigmas) / len(sigmas))
    factor: ConsumptionFactor = consumption_factor(ratios, prior_sigma=prior_sigma)
    vehicle = offer.vehicle
    load = vehicle.measured_road_load.model_copy(
        update={
            "consumption_factor": factor.factor,
            "doubt_left": (
                min(math.hypot(factor.sigma, COMMON_SIGMA) / prior_sigma, 1.0)
                if prior_sigma > 0
                else 1.0
            ),
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
