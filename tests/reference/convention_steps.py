"""From our own convention to the reference's, one agreement at a time, on one file and road."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from typing import Any

from configurator.physics.achieved_speed import drive_trip
from configurator.physics.convention import OWN, Convention
from configurator.physics.drive_losses import drive_losses
from configurator.physics.road_vehicle import RoadVehicle, Trip
from tests.physics.road_vehicles import cycle_trip
from tests.reference.fastsim_runs import File, as_ours, electric_files, run

FILE_NUMBER = 4
CYCLE = "wltc-class-3b"
TRIP: Trip = replace(cycle_trip(CYCLE, 22.0), cabin_c=22.0)
SLOPES = tuple(3.0 * math.sin(2 * math.pi * s / 120) for s in range(len(TRIP.speed_m_s)))
"""Hills of 3 % up and down, two minutes each [%]."""

State = tuple[RoadVehicle, Convention]


@dataclass(frozen=True)
class Step:
    """One agreement that is changed to the reference's."""

    name: str
    change: Callable[[State, State], State]


def own_description(file: File) -> RoadVehicle:
    """Describe a file's vehicle as this tool would: losses by load, limits of recovery, a pack."""
    vehicle, reference = as_ours(file)
    motor = reference.motor_map
    assert motor is not None
    peak_w = motor.power_w[-1]
    by_load = {
        power / peak_w: efficiency
        for power, efficiency in zip(motor.power_w, motor.efficiency, strict=True)
        if power > 0
    }
    fit = drive_losses(peak_w, by_load)
    transmission = vehicle.drive_efficiency
    return replace(
        vehicle,
        drive_efficiency=fit.efficiency * transmission,
        no_load_loss_w=fit.no_load_w,
        load_loss_per_w=fit.per_w / transmission**2,
        recovery_efficiency=fit.efficiency * transmission,
        recovery_share=0.7,
        recovery_grip=0.6 * 0.61,
        recovery_full_from_m_s=12 / 3.6,
        converter_efficiency=0.9,
        resistance_ohm=0.1,
        nominal_voltage_v=350.0,
        rotating_mass_factor=1.03,
    )


def _of_vehicle(*names: str) -> Callable[[State, State], State]:
    def change(now: State, last: State) -> State:
        taken: dict[str, Any] = {name: getattr(last[0], name) for name in names}
        return replace(now[0], **taken), now[1]

    return change


def _of_convention(*names: str) -> Callable[[State, State], State]:
    def change(now: State, last: State) -> State:
        taken: dict[str, Any] = {name: getattr(last[1], name) for name in names}
        return now[0], replace(now[1], **taken)

    return change


def _motor_map(now: State, last: State) -> State:
    vehicle, _ = _of_vehicle("drive_efficiency", "no_load_loss_w", "load_loss_per_w")(now, last)
    return vehicle, replace(now[1], motor_map=last[1].motor_map)


def _battery_map(now: State, last: State) -> State:
    vehicle, _ = _of_vehicle("resistance_ohm", "nominal_voltage_v")(now, last)
    return vehicle, replace(now[1], battery_map=last[1].battery_map)


STEPS = (
    Step("Gravity", _of_convention("gravity_m_s2")),
    Step("Air density", _of_convention("air_density_kg_m3")),
    Step("Rotating parts", _of_vehicle("rotating_mass_factor")),
    Step("What a slope lifts", _of_convention("climbs_by_tangent")),
    Step("Where a slope is taken", _of_convention("slope_at_end")),
    Step("Where a distance is taken", _of_convention("distance_at_end")),
    Step("Auxiliaries", _of_vehicle("converter_efficiency")),
    Step("Losses of the drive", _motor_map),
    Step("Recovery: share of the axle", _of_vehicle("recovery_share")),
    Step("Recovery: grip", _of_vehicle("recovery_grip")),
    Step("Recovery: low speed", _of_vehicle("recovery_full_from_m_s")),
    Step("Recovery: efficiency", _of_vehicle("recovery_efficiency")),
    Step("Recovery: greatest power", _of_convention("recovery_within_peak")),
    Step("Battery", _battery_map),
    Step("Air while falling behind", _of_convention("late_air_density_kg_m3")),
)


def walk(file: File) -> Iterator[tuple[str, State]]:
    """Go from our own description and convention to the reference's, one step at a time."""
    now, last = (own_description(file), OWN), as_ours(file)
    yield "Own", now
    for step in STEPS:
        now = step.change(now, last)
        yield step.name, now


def wh_per_km(state: State) -> float:
    vehicle, convention = state
    driven = drive_trip(vehicle, TRIP, convention, slopes_percent=SLOPES)
    return driven.cell_j / 3.6 / driven.distance_m


def sizes_wh_per_km() -> dict[str, float]:
    """Tell by how much each step changes the consumption inside the cells, in the order taken."""
    walked = [(name, wh_per_km(state)) for name, state in walk(electric_files()[FILE_NUMBER - 1])]
    before = [0.0, *(figure for _, figure in walked)]
    return {name: figure - last for (name, figure), last in zip(walked, before, strict=False)}


def reference_wh_per_km() -> float:
    """Ask FASTSim itself."""
    grade = [slope / 100 for slope in SLOPES]
    theirs = run(electric_files()[FILE_NUMBER - 1], TRIP.speed_m_s, grade)
    return theirs.cell_j / 3.6 / theirs.distance_m
