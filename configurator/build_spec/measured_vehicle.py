"""A vehicle as it was measured: weighed, coasted down, driven."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace
from functools import lru_cache

from configurator.build_spec.drive_state import sum_effects
from configurator.build_spec.driven_vehicle import as_driven
from configurator.build_spec.measured_words import coast_down_source
from configurator.build_spec.offer import Offer
from configurator.build_spec.sums import mass_sums
from configurator.build_spec.weight_doubt import WEIGHBRIDGE_SIGMA_KG
from configurator.catalog.models.build import BuildInput
from configurator.catalog.models.catalog import Catalog
from configurator.catalog.models.data import UncertainValue
from configurator.catalog.models.measurements import CoastDown
from configurator.catalog.models.vehicle import MeasuredRoadLoad, Vehicle
from configurator.errors import Fault, MeasurementError
from configurator.physics.air_density import air_density_kg_m3
from configurator.physics.coast_down import CoastDownFit, CoastDownRun, fit_coast_down
from configurator.units import KM_H_PER_M_S

FITS_KEPT = 32
"""Coast-downs whose fit is remembered; each pick asks for it again."""

DOUBT_OF_DAY = 0.03
"""What one day's wind and road leave in doubt of drag area and of rolling resistance, each as a
share of its value, whatever the runs' own scatter: a steady 2 m/s along the road moves both by
3 %, computed; gusts of 1 m/s move a mean of six runs as much. Common practice, no source."""

DOUBT_OF_PARTS = 0.5
"""Share of a computed mass's doubt that stays once the donor is weighed: that of the parts. Common
practice, no source."""

CAPACITY_SIGMA_PERCENT = 1.0
"""Standard deviation of a measured capacity where its record states none: of a battery cycler's
current over hours, and of where full and empty are. Common practice, no source."""


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


def was_measured(build: BuildInput) -> bool:
    """Tell whether anything measured, but for the donor's weights, may change the physics."""
    on_the_road = build.measurements.coast_down is not None or bool(build.measurements.trips)
    return on_the_road or _weighed_kg(build) is not None or _capacity(build) is not None


def _weighed_kg(build: BuildInput) -> float | None:
    return None if build.as_built is None else build.as_built.weighed_kg


def _capacity(build: BuildInput) -> UncertainValue | None:
    """State the measured capacity of the fitted battery [kWh]; None where nobody measured it."""
    built = build.as_built
    if built is None or built.pack_capacity_kwh is None:
        return None
    sigma_percent, source = built.pack_capacity_sigma_percent, "the record of its measurement"
    if sigma_percent is None:
        sigma_percent, source = CAPACITY_SIGMA_PERCENT, "common practice, no source"
    return UncertainValue(
        value=built.pack_capacity_kwh,
        sigma_percent=sigma_percent,
        basis="measured",
        source=f"measured on this very battery; its doubt: {source}",
    )


def as_measured(
    catalog: Catalog, offer: Offer, build: BuildInput, choices: Mapping[str, str]
) -> Offer:
    """Put what was measured in place of what the catalog assumes.

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
        If a coast-down cannot be fitted, or a trip is too far from what was computed for it.
    """
    vehicle = offer.vehicle
    complete = len(choices) == len(offer.groups)
    coast_down = build.measurements.coast_down
    if coast_down is not None and (complete or coast_down.vehicle_was == "donor"):
        vehicle = _coasted_down(vehicle, coast_down, offer, choices)
    weighed_kg = _weighed_kg(build)
    if complete and weighed_kg is not None:
        computed_kg = mass_sums(offer, build).kerb_g.of(choices) / 1000
        vehicle = _finished_weighed(vehicle, weighed_kg - computed_kg)
    if complete:
        vehicle = vehicle.model_copy(update={"measured_capacity_kwh": _capacity(build)})
    measured = offer.of_vehicle(vehicle)
    if complete and build.measurements.trips:
        driven = as_driven(catalog, measured, build, choices)
        if driven is not None:
            measured = offer.of_vehicle(driven)
    return measured


def as_weighed(offer: Offer, build: BuildInput) -> Offer:
    """Narrow the doubt about the mass where the donor was weighed."""
    sigma_kg = offer.vehicle.mass_sigma_kg
    if not build.donor.axles_were_weighed:
        return offer
    weighed_kg = math.hypot(DOUBT_OF_PARTS * sigma_kg, math.sqrt(2) * WEIGHBRIDGE_SIGMA_KG)
    narrowed = {"mass_sigma_kg": min(sigma_kg, weighed_kg)}
    return offer.of_vehicle(offer.vehicle.model_copy(update=narrowed))


def _finished_weighed(vehicle: Vehicle, heavier_kg: float) -> Vehicle:
    """Let the mass that drives be the weighed one; the ledger stays what was computed."""
    weighed = {
        "heavier_kg": heavier_kg,
        "weighed_sigma_kg": math.sqrt(2) * WEIGHBRIDGE_SIGMA_KG,
    }
    load = vehicle.measured_road_load.model_copy(update=weighed)
    return vehicle.model_copy(update={"measured_road_load": load})


def _coasted_down(
    vehicle: Vehicle, coast_down: CoastDown, offer: Offer, choices: Mapping[str, str]
) -> Vehicle:
    fit = coast_down_fit(coast_down)
    source = coast_down_source(coast_down.measured_on)
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
        raise MeasurementError([Fault("M024", "Coast-down", what, remedy)])
    return UncertainValue(
        value=value - inside,
        sigma_percent=min(100 * sigma / value, 60.0),
        basis="measured",
        source=source,
    )
