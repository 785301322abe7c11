"""FASTSim as an independent judge of the road load: its files, its runs, and the same in our words.

Its vehicle files are listed when the tests run and only numbered, by their order. Their thermal
parts are held at 22 °C: the day and the cabin are at 22 °C, so that its cabin takes nothing, and
the battery is given so much heat capacity that its losses do not warm it.
"""

from __future__ import annotations

from collections.abc import Sequence
from copy import deepcopy
from dataclasses import dataclass, replace
from functools import cache
from typing import Any

import fastsim
import numpy as np

from configurator.physics.convention import REFERENCE, Convention, EfficiencyMap
from configurator.physics.road_vehicle import RoadVehicle

WARM_K = 295.15
NEVER_WARMS_J_PER_K = 1e15

File = dict[str, Any]


@dataclass(frozen=True)
class Run:
    """What FASTSim says of a vehicle on a trace."""

    distance_m: float
    terminal_j: float
    cell_j: float
    slower_s: int
    """Seconds at whose end the vehicle is slower than asked."""


@cache
def _files() -> tuple[File, ...]:
    files = [
        fastsim.Vehicle.from_resource(name).to_dict()
        for name in sorted(fastsim.Vehicle.list_resources())
    ]
    return tuple(file for file in files if "BEV" in file["pt_type"])


def as_they_come() -> tuple[File, ...]:
    """Give a copy of each bundled file of a battery-electric vehicle."""
    return deepcopy(_files())


def electric_files() -> tuple[File, ...]:
    """Give them with batteries that stay at 22 °C."""
    files = as_they_come()
    for file in files:
        thermal = file["pt_type"]["BEV"]["res"]["thrml"]
        if thermal != "None":
            thermal["RESLumpedThermal"]["heat_capacitance_joules_per_kelvin"] = NEVER_WARMS_J_PER_K
    return files


def simulation(
    file: File,
    speed_m_s: Sequence[float],
    grade: Sequence[float] = (),
    *,
    may_lag: bool = False,
    stops_early: bool = False,
    keeps_history: bool = True,
) -> fastsim.SimDrive:
    """Prepare a file to be driven along a trace of one sample a second.

    Left to itself its way to an achieved speed stops early; here it is told to go on until nothing
    changes.
    """
    settings = fastsim.SimParams.default().to_dict()
    settings["trace_miss_opts"] = "Allow" if may_lag else "Error"
    if not stops_early:
        settings.update(ach_speed_max_iter=100, ach_speed_tol=1e-12)
    cycle = {
        "time_seconds": [float(second) for second in range(len(speed_m_s))],
        "speed_meters_per_second": list(speed_m_s),
        "grade": list(grade) or [0.0] * len(speed_m_s),
        "temp_amb_air_kelvin": [WARM_K] * len(speed_m_s),
    }
    vehicle = fastsim.Vehicle.from_dict(file)
    if not keeps_history:
        vehicle.set_save_interval(None)
    return fastsim.SimDrive(
        vehicle,
        fastsim.Cycle.from_dict(cycle),
        fastsim.SimParams.from_dict(settings),
    )


def run(
    file: File,
    speed_m_s: Sequence[float],
    grade: Sequence[float] = (),
    *,
    may_lag: bool = False,
    stops_early: bool = False,
) -> Run:
    """Let FASTSim drive a file along a trace."""
    drive = simulation(file, speed_m_s, grade, may_lag=may_lag, stops_early=stops_early)
    drive.run()
    vehicle = drive.to_dict()["veh"]
    battery = vehicle["pt_type"]["BEV"]["res"]["state"]
    achieved = np.array(vehicle["history"]["speed_ach_meters_per_second"])
    return Run(
        distance_m=vehicle["state"]["dist_meters"],
        terminal_j=battery["energy_out_electrical_joules"],
        cell_j=battery["energy_out_chemical_joules"],
        slower_s=int((np.array(speed_m_s) - achieved > 1e-9).sum()),
    )


def as_ours(file: File) -> tuple[RoadVehicle, Convention]:
    """Say the same vehicle in our words, with its maps in the reference convention."""
    powertrain, chassis = file["pt_type"]["BEV"], file["chassis"]
    battery, motor = powertrain["res"], powertrain["em"]
    transmission = powertrain["transmission"]["eff_interp"]
    motor_map = _motor_map(motor)
    wheels_kg = (
        chassis["num_wheels"]
        * chassis["wheel_inertia_kilogram_square_meters"]
        / chassis["wheel_radius_meters"] ** 2
    )
    vehicle = RoadVehicle(
        mass_kg=file["mass_kilograms"],
        drag_area_m2=chassis["drag_coef"] * chassis["frontal_area_square_meters"],
        rolling_resistance=chassis["wheel_rr_coef"],
        drive_efficiency=transmission,
        no_load_loss_w=0.0,
        recovery_efficiency=motor_map.efficiency[0] * transmission,
        recovery_share=1.0,
        recovery_grip=100.0,
        auxiliary_power_w=file["pwr_aux_base_watts"],
        converter_efficiency=1.0,
        cabin_heat_loss_w_per_k=0.0,
        heater_max_heat_w=0.0,
        heater_cop=(),
        usable_energy_wh=battery["energy_capacity_joules"] / 3600,
        resistance_ohm=0.0,
        nominal_voltage_v=400.0,
        peak_power_w=transmission * _motor_peak_w(file),
        rotating_mass_factor=1 + wheels_kg / file["mass_kilograms"],
        **NO_DOUBT,
    )
    maps = replace(REFERENCE, motor_map=motor_map, battery_map=_battery_map(battery))
    return vehicle, maps


NO_DOUBT = {
    "mass_sigma_kg": 0.0,
    "drag_area_sigma_percent": 0.0,
    "rolling_resistance_sigma_percent": 0.0,
    "drive_efficiency_sigma_percent": 0.0,
    "auxiliary_power_sigma_percent": 0.0,
    "cabin_heat_loss_sigma_percent": 0.0,
    "usable_energy_sigma_percent": 0.0,
}


def _motor_map(motor: File) -> EfficiencyMap:
    points = motor["eff_interp_achieved"]
    shares = points["data"]["grid"][0]["data"]
    return EfficiencyMap(
        power_w=tuple(share * motor["pwr_out_max_watts"] for share in shares),
        efficiency=tuple(points["data"]["values"]["data"]),
        stepped=points["strategy"] == {"Step": "Lower"},
    )


def _motor_peak_w(file: File) -> float:
    """Find the greatest power of the motor, also by what the battery can feed it."""
    battery, motor = file["pt_type"]["BEV"]["res"], file["pt_type"]["BEV"]["em"]
    fed_w = battery["pwr_out_max_watts"] - file["pwr_aux_base_watts"]
    points = motor["eff_interp_at_max_input"]
    share = fed_w / motor["pwr_out_max_watts"]
    shares = np.array(points["data"]["grid"][0]["data"])
    efficiencies = np.array(points["data"]["values"]["data"])
    if points["strategy"]["inner"] == "Linear":
        efficiency = 1 / np.interp(share, shares, 1 / efficiencies)
    else:
        efficiency = efficiencies[np.searchsorted(shares, share, side="right") - 1]
    return min(motor["pwr_out_max_watts"], float(fed_w * efficiency))


def _battery_map(battery: File) -> EfficiencyMap:
    points = battery["eff_interp"]
    if "Constant" in points:
        return EfficiencyMap(power_w=(0.0,), efficiency=(points["Constant"],))
    data = points["CRateTemperature"]["data"]
    rates, temperatures = (np.array(axis["data"]) for axis in data["grid"])
    values = np.array(data["values"]["data"]).reshape(data["values"]["dim"])
    warm = [float(np.interp(WARM_K - 273.15, temperatures, row)) for row in values]
    per_rate_w = battery["energy_capacity_joules"] / 3600
    return EfficiencyMap(power_w=tuple(rates * per_rate_w), efficiency=tuple(warm))
