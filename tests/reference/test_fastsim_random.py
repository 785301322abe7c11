"""The road load in the reference convention against FASTSim, on invented vehicles and roads."""

# Source: FASTSim 3.1.0, run here.

from __future__ import annotations

import numpy as np
import pytest

from configurator.physics.achieved_speed import drive_trip
from configurator.physics.road_vehicle import Trip
from tests.reference.fastsim_runs import File, as_ours, electric_files, run

VEHICLES = 200
AT_ONCE = 20
SECONDS = 240
ROUNDING = 1e-9
MODELS = electric_files()


def invented_file(chance: np.random.Generator) -> File:
    """Draw a vehicle, heavy or light, strong enough for whatever road is drawn for it."""
    file = electric_files()[int(chance.integers(len(MODELS)))]
    chassis, powertrain = file["chassis"], file["pt_type"]["BEV"]
    battery, motor = powertrain["res"], powertrain["em"]
    file["mass_kilograms"] = chance.uniform(700, 3500)
    file["pwr_aux_base_watts"] = chance.uniform(50, 3000)
    chassis.update(
        glider_mass_kilograms=None,
        cargo_mass_kilograms=None,
        drag_coef=chance.uniform(0.2, 0.6),
        frontal_area_square_meters=chance.uniform(1.7, 4.2),
        wheel_rr_coef=chance.uniform(0.006, 0.02),
        wheel_radius_meters=chance.uniform(0.26, 0.4),
        wheel_inertia_kilogram_square_meters=chance.uniform(0.4, 1.5),
    )
    powertrain["transmission"]["eff_interp"] = chance.uniform(0.85, 0.99)
    motor["pwr_out_max_watts"] = chance.uniform(3e5, 6e5)
    points = motor["eff_interp_achieved"]
    efficiencies = np.array(points["data"]["values"]["data"]) * chance.uniform(0.8, 1.0)
    points["data"]["values"]["data"] = efficiencies.tolist()
    points["strategy"] = "Linear" if chance.random() < 0.5 else {"Step": "Lower"}
    battery["pwr_out_max_watts"] = 2e6
    battery["energy_capacity_joules"] = chance.uniform(1e8, 4e8)
    if "Constant" in battery["eff_interp"]:
        battery["eff_interp"] = {"Constant": chance.uniform(0.9, 1.0)}
    return file


def invented_road(chance: np.random.Generator) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Draw speeds from a standstill [m/s], and slopes up to 12 % either way, as tangents."""
    steps = np.abs(np.cumsum(np.clip(chance.normal(0, 0.9, SECONDS), -2, 2)))
    speed = np.minimum(np.convolve(steps, np.ones(4) / 4)[:SECONDS], 38.0)
    speed[0] = 0.0
    slope = np.convolve(chance.normal(0, 0.06, SECONDS), np.ones(9) / 9)[:SECONDS]
    return tuple(speed.tolist()), tuple(np.clip(slope, -0.12, 0.12).tolist())


@pytest.mark.parametrize("seed", range(VEHICLES // AT_ONCE))
def test_invented_vehicles_on_invented_roads_take_the_same(seed: int) -> None:
    chance = np.random.default_rng(seed)
    for _ in range(AT_ONCE):
        file, (speed, slope) = invented_file(chance), invented_road(chance)
        theirs = run(file, speed, slope)
        vehicle, convention = as_ours(file)
        percent = tuple(100 * tangent for tangent in slope)
        trip = Trip(speed_m_s=speed, temperature_c=22.0)
        ours = drive_trip(vehicle, trip, convention, slopes_percent=percent)
        assert 0 == ours.seconds_behind
        assert theirs.distance_m == pytest.approx(ours.distance_m, rel=1e-9)
        assert theirs.terminal_j == pytest.approx(ours.terminal_j, rel=ROUNDING)
        assert theirs.cell_j == pytest.approx(ours.cell_j, rel=ROUNDING)
