"""What widens the band of a range most, and what would narrow it."""

from __future__ import annotations

from configurator.build_spec.derivations.range_inputs import inputs_in_doubt
from configurator.build_spec.drive_state import Parts
from configurator.build_spec.stated_input import BandCause, StatedInput
from configurator.catalog.models.build import Donor
from configurator.catalog.models.vehicle import Vehicle
from configurator.physics.range_band import variance_shares
from configurator.physics.road_vehicle import RoadVehicle, Trip

TOLD = 3
"""Inputs named for each band."""

STORED_DECIMALS = 6

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

MEASURED_ALREADY = "measuring it again, with a better instrument"
"""What is left to do about a doubt of what was measured on the finished vehicle."""


def band_causes(
    parts: Parts, stated: Vehicle, donor: Donor, vehicle: RoadVehicle, trip: Trip
) -> tuple[BandCause, ...]:
    """Name the inputs that widen a range band most, the greatest share of its variance first.

    Parameters
    ----------
    parts, stated, donor
        What is fitted, the vehicle and the donor; they say where the inputs come from.
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
    inputs = inputs_in_doubt(parts, stated, vehicle, donor)
    widest = sorted(shares, key=lambda doubt: -shares[doubt])[:TOLD]
    return tuple(
        BandCause(
            input=_named(inputs[doubt], doubt),
            variance_percent=round(100 * shares[doubt], 1),
            narrowed_by=_narrowed_by(inputs[doubt], doubt),
        )
        for doubt in widest
        if shares[doubt] > 0
    )


def _narrowed_by(stated: StatedInput, doubt: str) -> str:
    return MEASURED_ALREADY if stated.basis == "measured" else NARROWED_BY[doubt]


def _named(stated: StatedInput, doubt: str) -> StatedInput:
    """Name an input by the doubt alone, and round it as the Spec keeps it."""
    kept = {
        "label": doubt[0].upper() + doubt[1:],
        "value": round(stated.value, STORED_DECIMALS),
        "sigma": round(stated.sigma, STORED_DECIMALS),
    }
    return stated.model_copy(update=kept)
