"""What widens the band of a range most, and what would narrow it."""

from __future__ import annotations

from configurator.build_spec.drive_facts import Surroundings
from configurator.build_spec.drive_state import DriveState
from configurator.build_spec.driving_inputs import rolling_of
from configurator.build_spec.stated_input import BandCause, StatedInput
from configurator.catalog.models.component import Motor, Pack, Tyre
from configurator.catalog.models.data import Basis, Source, UncertainValue
from configurator.physics.range_band import variance_shares
from configurator.physics.road_vehicle import RoadVehicle, Trip

TOLD = 3
"""Inputs named for each band."""

NARROWED_BY = {
    "mass": "weigh the finished vehicle",
    "drag area": "a coast-down test on a calm day",
    "rolling resistance": "a coast-down test on a calm day",
    "drive efficiency": "measured trips",
    "recovery": "measured trips in town",
    "no-load loss": "measuring the power of the turning drive on stands",
    "auxiliaries": "measuring the current of the 12 V circuits",
    "heat loss": "measuring the heater's energy on a cold day",
    "usable energy": "measuring this pack from full to empty",
}
"""What a workshop could do about each doubt."""


def band_causes(
    around: Surroundings, state: DriveState, vehicle: RoadVehicle, trip: Trip
) -> tuple[BandCause, ...]:
    """Name the inputs that widen a range band most, the greatest share of its variance first.

    Parameters
    ----------
    around, state
        What is fitted; it says where the inputs come from.
    vehicle : RoadVehicle
        The inputs with their doubts.
    trip : Trip
        What is driven.

    Returns
    -------
    tuple of BandCause
        Three at most; none of an input that adds nothing.
    """
    shares = variance_shares([vehicle], trip)[0]
    stated = _stated(around, state, vehicle)
    widest = sorted(shares, key=lambda doubt: -shares[doubt])[:TOLD]
    return tuple(
        BandCause(
            input=stated[doubt],
            variance_percent=round(100 * shares[doubt], 1),
            narrowed_by=NARROWED_BY[doubt],
        )
        for doubt in widest
        if shares[doubt] > 0
    )


def _stated(
    around: Surroundings, state: DriveState, vehicle: RoadVehicle
) -> dict[str, StatedInput]:
    """State each input in doubt as it counts on the trip."""
    parts, model = around.parts(state), around.offer.vehicle
    motor, tyre, pack = parts.get("motor", Motor), parts.get("tyre", Tyre), parts.get("pack", Pack)
    rolling = None if tyre is None else rolling_of(model, tyre)
    of_motor = None if motor is None else motor.source
    rows = (
        ("mass", vehicle.mass_kg, "kg", vehicle.mass_sigma_kg, None, "the ledger of masses"),
        _row("drag area", vehicle.drag_area_m2, "m²", vehicle.drag_area_sigma_percent,
             model.drag_area_m2),
        _row("rolling resistance", vehicle.rolling_resistance, "",
             vehicle.rolling_resistance_sigma_percent, rolling),
        _row("drive efficiency", vehicle.drive_efficiency, "",
             vehicle.drive_efficiency_sigma_percent, None if motor is None else motor.efficiency),
        _row("recovery", vehicle.recovery_efficiency, "",
             vehicle.recovery_efficiency_sigma_percent,
             None if motor is None else motor.recovery_efficiency),
        _row("no-load loss", vehicle.no_load_loss_w, "W", vehicle.no_load_loss_sigma_percent,
             of_motor),
        _row("auxiliaries", vehicle.auxiliary_power_w, "W",
             vehicle.auxiliary_power_sigma_percent, model.auxiliary_power_w),
        _row("heat loss", vehicle.cabin_heat_loss_w_per_k, "W/K",
             vehicle.cabin_heat_loss_sigma_percent, model.cabin_heat_loss_w_per_k),
        _row("usable energy", vehicle.usable_energy_wh / 1000, "kWh",
             vehicle.usable_energy_sigma_percent, None if pack is None else pack.source),
    )  # fmt: skip
    return {
        doubt: StatedInput(
            id=doubt.replace(" ", "-"),
            label=doubt[0].upper() + doubt[1:],
            value=round(value, 6),
            unit=unit,
            sigma=round(sigma, 6),
            basis=basis or "catalog",
            source=source,
        )
        for doubt, value, unit, sigma, basis, source in rows
    }


def _row(
    doubt: str,
    value: float,
    unit: str,
    sigma_percent: float,
    stated: UncertainValue | Source | str | None,
) -> tuple[str, float, str, float, Basis | None, str]:
    basis = stated.basis if isinstance(stated, UncertainValue) else None
    source = stated.source if isinstance(stated, UncertainValue) else stated
    words = source.title if isinstance(source, Source) else source or "not stated"
    return doubt, value, unit, abs(value) * sigma_percent / 100, basis, words
