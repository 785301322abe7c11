"""Driving cases that ask for more power than the drive can give."""

from __future__ import annotations

from collections.abc import Mapping

from configurator.build_spec.compiled import Compiled
from configurator.build_spec.driving_inputs import road_vehicle
from configurator.build_spec.fact_names import FACT_LABELS
from configurator.build_spec.range_facts import trip_of
from configurator.build_spec.spec import Finding
from configurator.catalog.models.workshop import DrivingCase
from configurator.physics.achieved_speed import DrivenTrip, drive_trip
from configurator.physics.road_load import share_not_followed
from configurator.physics.road_vehicle import RoadVehicle
from configurator.units import JOULES_PER_WATT_HOUR, KM_H_PER_M_S

WORTH_TELLING = 0.005
"""Share of the time below which a trace counts as followed."""


def cases_not_followed(compiled: Compiled, choices: Mapping[str, str]) -> list[Finding]:
    """Note each driving case whose trace a complete build cannot follow all the time.

    The range told is then on the safe side: what is missing is counted at the cost of the last
    watt the drive can give. Beside it stands what comes of driving as fast as the vehicle can.
    """
    book = compiled.book
    cycles = {cycle.id: cycle for cycle in compiled.catalog.cycles}
    findings = []
    for case in compiled.catalog.driving_cases:
        fact = book.drive_fact("range_mid_km", case.id)
        if fact is None:
            continue
        vehicle = road_vehicle(book.around, case, book.state(fact, choices))
        if vehicle is None:
            continue
        trip = trip_of(case, cycles)
        share = share_not_followed([vehicle], trip)[0]
        if share > WORTH_TELLING:
            findings.append(_finding(case, share, vehicle, drive_trip(vehicle, trip)))
    return findings


def _finding(case: DrivingCase, share: float, vehicle: RoadVehicle, driven: DrivenTrip) -> Finding:
    middle = FACT_LABELS["range_mid_km"].label.lower()
    return Finding(
        code="F009",
        severity="notes",
        subject=case.id,
        sentence=(
            f"{case.label}: for {share:.0%} of the time the drive cannot follow the speed asked "
            f"for; the {middle} is told on the safe side. Driven as fast as it can, the vehicle "
            f"{_as_driven(vehicle, driven)}."
        ),
        value=round(100 * share, 1),
        unit="%",
        source="computed from the speed trace and the drive's power",
        remedy="Read this range as that of a calmer journey, or choose a stronger drive.",
    )


def _as_driven(vehicle: RoadVehicle, driven: DrivenTrip) -> str:
    if driven.distance_m <= 0 or driven.cell_j <= 0:
        return "does not move"
    wh_per_km = driven.cell_j / JOULES_PER_WATT_HOUR / (driven.distance_m / 1000)
    range_km = vehicle.usable_energy_wh / wh_per_km
    return (
        f"is up to {driven.greatest_lag_m_s * KM_H_PER_M_S:.0f} km/h too slow, uses about "
        f"{wh_per_km:.0f} Wh/km and gets about {range_km:.0f} km far"
    )
